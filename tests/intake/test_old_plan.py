"""An earlier plan read back: ours, somebody else's, damaged, or made to hurt."""

from __future__ import annotations

import contextlib
import json
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.intake.old_plan import MOST_BYTES, NotAPlan, old_plans, read_old_plans

PLAN = {
    "format": "sheetgen-plan",
    "version": 1,
    "printed": "2027-02-20",
    "batch": {"code": "27A"},
    "tasks": [{"id": "test-1", "expected": "2027-03-17", "hands_on": True, "state": "to-do"}],
}


def data(**changes: object) -> bytes:
    return json.dumps({**PLAN, **changes}).encode()


def task(**changes: object) -> list[object]:
    return [{**PLAN["tasks"][0], **changes}]  # type: ignore[index]


def test_a_plan_of_ours_gives_its_days():
    (found,) = old_plans(data()).plans
    assert (found.code, found.printed) == ("27A", date(2027, 2, 20))
    assert [(one.id, one.on, one.hands_on, one.done) for one in found.tasks] == [
        ("test-1", date(2027, 3, 17), True, False)
    ]


SEASON = {
    "format": "sheetgen-plan",
    "version": 1,
    "season": {"name": "2027"},
    "batches": [PLAN, {**PLAN, "batch": {"code": "27B"}}],
}


def of_season(**changes: object) -> bytes:
    return json.dumps({**SEASON, **changes}).encode()


def test_a_plan_of_a_season_gives_those_of_its_batches():
    found = old_plans(of_season())
    assert found.season == "2027"
    assert [one.code for one in found.plans] == ["27A", "27B"]


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        (of_season(batches=[PLAN, PLAN]), "damaged"),
        (of_season(batches=[1]), "damaged"),
        (of_season(batches={}), "damaged"),
        (of_season(batches=[{**PLAN, "batch": {"code": f"2{n:02}"}} for n in range(61)]), "damaged"),
        (of_season(season={"name": "../x"}), "damaged"),
        (of_season(season=None), "damaged"),
        (b"", "damaged"),
        (b"\xff\xfe", "damaged"),
        (b"[" * 100_000, "damaged"),
        (b'{"format": ' + b"9" * 5000 + b"}", "damaged"),
        (b"[]", "not a plan of this program"),
        (b'{"format": "another"}', "not a plan of this program"),
        (data(version=2), "another version"),
        (b'{"format": "sheetgen-plan", "version": 1, "problems": []}', "stopped"),
        (data(tasks={}), "damaged"),
        (data(tasks=[1]), "damaged"),
        (data(tasks=task(id="../x")), "damaged"),
        (data(tasks=task(id="x" * 41)), "damaged"),
        (data(tasks=task(id="a\r\nEND:VEVENT")), "damaged"),
        (data(tasks=task(expected="2027-02-30")), "damaged"),
        (data(tasks=task(expected=20270317)), "damaged"),
        (data(tasks=[*task(), *task()]), "damaged"),
        (data(tasks=task() * 1001), "more than 1000"),
        (data(batch={"code": "27\n"}), "damaged"),
        (data(batch=None), "damaged"),
        (data(printed=None), "damaged"),
        (data(printed="9999-12-31"), "damaged"),
        (b" " * (MOST_BYTES + 1), "larger than 16 MiB"),
    ],
)
def test_anything_else_is_a_sentence(wrong: bytes, why: str):
    with pytest.raises(NotAPlan, match=why):
        old_plans(wrong)


@given(st.binary(max_size=300))
def test_no_bytes_raise_anything_else(noise: bytes):
    with pytest.raises(NotAPlan):
        old_plans(noise)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@given(st.sampled_from(["season", "batches", "version"]), JSON)
def test_nor_any_value_in_that_of_a_season(key: str, value: object):
    with contextlib.suppress(NotAPlan):
        old_plans(of_season(**{key: value}))


@given(st.sampled_from(["printed", "batch", "tasks", "version"]), JSON)
def test_no_value_in_it_raises_anything_else(key: str, value: object):
    with contextlib.suppress(NotAPlan):
        old_plans(data(**{key: value}))


def test_a_file_that_cannot_be_read_is_a_sentence(tmp_path: Path):
    with pytest.raises(NotAPlan, match="cannot be read"):
        read_old_plans(tmp_path)
