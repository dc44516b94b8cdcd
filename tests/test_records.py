"""Records do what frozen dataclasses do."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, field, fields, replace

import pytest

from sheetgen.records import named_record, record


@record
class Point:
    x: int
    y: int = 0
    tags: list[str] = field(default_factory=list)
    place: str = field(default="", compare=False, repr=False)


@named_record
class Base:
    name: str = "none"


@named_record
class Derived(Base):
    size: float


def test_fields_are_given_in_order_or_by_name():
    assert Point(1, 2) == Point(x=1, y=2) == replace(Point(7, 2), x=1)
    assert [each.name for each in fields(Derived)] == ["name", "size"]
    assert Derived(size=1.0).name == "none"
    assert Point(1).tags is not Point(1).tags


def test_the_same_values_make_the_same_record_of_one_class_only():
    assert Point(1, place="here") == Point(1, place="there") != Point(2)
    assert Base(name="a") != Derived(name="a", size=1.0)
    assert len({Base(name="a"), Base(name="a"), Base()}) == 2
    assert repr(Point(1)) == "Point(x=1, y=0, tags=[])"


@pytest.mark.parametrize("given", [{}, {"z": 1}, {"x": 1, "z": 1}], ids=str)
def test_missing_and_unknown_values_are_refused(given: dict[str, int]):
    with pytest.raises(TypeError, match="Point lacks values, or does not know them"):
        Point(**given)


def test_too_many_values_are_refused():
    with pytest.raises(TypeError, match="too many"):
        Point(1, 2, [], "", 5)  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="too many"):
        Point(1, x=1)  # type: ignore[misc]
    with pytest.raises(TypeError, match="too many"):
        Derived("a", size=1.0)  # type: ignore[misc]


def test_a_record_cannot_be_changed():
    point = Point(1)
    with pytest.raises(FrozenInstanceError):
        point.x = 2  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        del point.x
