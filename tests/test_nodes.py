"""What people type into a file, and what is made of it."""

from __future__ import annotations

from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from sheetgen import nodes
from sheetgen.nodes import Entries, Items, Node, Text, load, overlay, reading
from sheetgen.problems import Span


@pytest.fixture(params=["CBaseLoader", "BaseLoader"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Either parser of the library: the fast one, and the one that is always there."""
    if not hasattr(yaml, request.param):
        pytest.skip("the library was built without its fast parser")
    monkeypatch.setattr(reading, "_LOADER", getattr(yaml, request.param))
    return str(request.param)


def tree(text: str) -> Node:
    node, problems = load(text.encode(), "f")
    assert node is not None
    assert not problems
    return node


def plain(node: Node | None) -> Any:
    """The tree as plain lists and dictionaries of text."""
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    if isinstance(node, Entries):
        return {entry.key.value: plain(entry.value) for entry in node.entries}
    return node.value if node else None


# What is read


def test_every_value_stays_the_text_that_was_written(parser: str) -> None:
    text = "a: no\nb: 12:30\nc: 1e3\nd: 2027-03-06\ne: 08\nf: ~\ng: 1_000\nh: 0x1F\ni:\nj: <<\n"
    assert plain(tree(text)) == {
        "a": "no",
        "b": "12:30",
        "c": "1e3",
        "d": "2027-03-06",
        "e": "08",
        "f": "~",
        "g": "1_000",
        "h": "0x1F",
        "i": "",
        "j": "<<",
    }


def test_names_lists_and_values_know_their_places(parser: str) -> None:
    node = tree("batch: 27A\nbottles:\n  - {size: 1 L, count: 6}\n")
    assert isinstance(node, Entries)
    assert node.names() == ["batch", "bottles"]
    assert node.get("batch") == Text("27A", Span("f", 1, 8, 3))
    assert node.get("brewer") is None
    bottles = node.get("bottles")
    assert isinstance(bottles, Items)
    first = bottles.items[0]
    assert isinstance(first, Entries)
    assert first.span == Span("f", 3, 5, 21)
    size = first.entry("size")
    assert size is not None
    assert (size.key.span, size.value.span) == (Span("f", 3, 6, 4), Span("f", 3, 12, 3))


def test_quotation_marks_are_remembered(parser: str) -> None:
    assert tree("a: ''\n").get("a") == Text("", Span("f", 1, 4, 2), quoted=True)  # type: ignore[union-attr]
    assert tree("a:\n").get("a") == Text("", Span("f", 1, 3, 1), quoted=False)  # type: ignore[union-attr]


def test_a_text_of_several_lines(parser: str) -> None:
    assert plain(tree("a: |\n  one #1\n  two\nb: x\n")) == {"a": "one #1\ntwo\n", "b": "x"}


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system(ending: str, parser: str) -> None:
    node = tree(f"a: 1{ending}b: 2{ending}")
    assert node.get("b") == Text("2", Span("f", 2, 4, 1))  # type: ignore[union-attr]


def test_a_byte_order_mark_is_passed_over(parser: str) -> None:
    node, problems = load(b"\xef\xbb\xbfa: 1\n", "f")
    assert plain(node) == {"a": "1"}
    assert not problems


def test_accents_are_composed(parser: str) -> None:
    assert plain(tree("cafe\u0301: Jo\u0308rg\n")) == {"café": "Jörg"}


SIMPLE = st.from_regex(r"[a-z0-9][a-z0-9 .%/-]{0,10}[a-z0-9]", fullmatch=True)


@given(
    st.recursive(
        SIMPLE, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(SIMPLE, inner, max_size=4)
    )
)
def test_what_the_library_writes_reads_back(value: Any) -> None:
    text = yaml.safe_dump({"a": value}, default_style='"', allow_unicode=True)
    node, problems = load(text.encode(), "f")
    assert plain(node) == {"a": value}
    assert not problems


# One file laid over another


def test_an_overlay_replaces_or_extends_and_keeps_the_places() -> None:
    base = load(b"room: {fermenting: 19 C, storing: 12 C}\ndays: [sat, sun]\nvolume: 12 L\n", "base")[0]
    top = load(b"room: {storing: 10 C}\ndays: [wed]\nbrewer: Ann\n", "top")[0]
    assert base is not None
    assert top is not None
    both = overlay(base, top)
    assert plain(both) == {
        "room": {"fermenting": "19 C", "storing": "10 C"},
        "days": ["wed"],
        "volume": "12 L",
        "brewer": "Ann",
    }
    assert isinstance(both, Entries)
    room = both.get("room")
    assert isinstance(room, Entries)
    assert [entry.value.span.file for entry in room.entries] == ["base", "top"]


def test_an_overlay_of_another_shape_replaces() -> None:
    base, top = tree("room: {storing: 12 C}\n"), tree("room: 19 C\n")
    assert plain(overlay(base, top)) == {"room": "19 C"}
    assert plain(overlay(top, base)) == {"room": {"storing": "12 C"}}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("recipe: x\nvolume: 12 L\nbatch: 27A\n", "batch"),
        ("drink: ale\nrecipe-name: x\n", "recipe"),
        ("batch: {volume: 12 L}\nclass: spring\n", "class"),
        ("stock: {}\nseason: 2027\n", "season"),
        ("drink: ale\n", "drink"),
        ("paper: A4\nstock: a4-2x7\n", "stock"),
        ("language: en-GB\n", "language"),
        ("language: en-GB\nbatch: 27A\n", "batch"),
        ("recipe: x\n", None),
        ("- batch\n", None),
    ],
)
def test_the_kind_of_a_file_does_not_depend_on_the_order(text: str, kind: str | None) -> None:
    assert nodes.kind_of(tree(text)) == kind
