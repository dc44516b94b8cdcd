"""What follows from the gate's answer: dates from the newest reading, and one sentence for each state.

The base is 12 L of 1.7 kg extract, pitched on 20 January: 1.0425, expected to end between 1.010 and 1.013.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.problems import Said

from .described import ids, plan_of, planned, six

TODAY = date(2027, 2, 20)
PET = "24 x 500 ml pet"


def taken(*rows: tuple[str, str], bottles: str = PET) -> dict[str, Any]:
    """Readings by day of February, such as ("05", "1.002")."""
    readings = [{"on": f"2027-02-{on}", "sg": f"{sg} at 20 C"} for on, sg in rows]
    actual = {"brewed": "2027-01-20", "readings": readings}
    return six(brew_day="2027-01-20", bottles=bottles, actual=actual)


LOW = taken(("01", "1.002"), ("05", "1.002"), ("14", "1.002"))
BETWEEN = taken(("01", "1.015"), ("05", "1.015"), ("08", "1.015"), bottles="24 x 500 ml returnable glass")


def the(tree: dict[str, Any], name: str) -> dict[str, Any]:
    """The values of the one warning of that id."""
    said = [one.message for one in planned(tree, TODAY)[1].of("warn")]
    (found,) = [one for one in said if isinstance(one, Said) and one.id == name]
    return dict(found.values)


# Dates


def test_every_reading_that_counts_is_a_test_that_was_done():
    plan = plan_of(LOW, TODAY)
    tests = [(task.id, task.when.expected.day, task.state) for task in plan.tasks if task.id[-1:].isdigit()]
    assert tests == [("test-1", 1, "done"), ("test-2", 5, "done"), ("test-3", 14, "done")]


def test_a_pass_is_as_old_as_its_newest_reading():
    problems = planned(LOW, TODAY)[1]
    assert "warn.pass-lapses" not in ids(problems, "warn")  # six days old, though the second is fifteen


@pytest.mark.parametrize(("tree", "today"), [(BETWEEN, 8), (LOW, 14)])
def test_bottling_is_not_before_the_reading_that_made_the_pass(tree: dict[str, Any], today: int):
    plan = plan_of(tree, date(2027, 2, today))
    assert plan.gate.state == "pass-with-care"
    assert plan.task("bottle").when.earliest == date(2027, 2, today)


def test_tests_that_were_taken_stay_when_the_bottles_are_filled():
    actual = {**LOW["actual"], "bottled": {"on": "2027-02-15"}}
    plan = plan_of({**LOW, "actual": actual}, TODAY)
    assert plan.task("test-3").state == "done"


@settings(max_examples=40, deadline=None)
@given(late=st.integers(0, 80), count=st.integers(0, 4))
def test_nothing_that_is_still_to_do_lies_before_today(late: int, count: int):
    rows = [(f"{day:02}", "1.012") for day in (1, 5, 9, 13)[:count]]
    today = date(2027, 2, 13) + timedelta(days=late)
    plan = plan_of(taken(*rows), today)
    for task in plan.tasks:
        assert task.state == "done" or today <= task.when.earliest <= task.when.expected, task


# Sentences


@pytest.mark.parametrize(
    ("tree", "today", "reason"),
    [
        (BETWEEN, 5, "gate.between"),
        (BETWEEN, 8, "gate.between-care"),
        (LOW, 5, "gate.below-range"),
        (LOW, 14, "gate.below-range-care"),
    ],
)
def test_waiting_and_passing_have_a_sentence_each(tree: dict[str, Any], today: int, reason: str):
    so_far = [one for one in tree["actual"]["readings"] if one["on"] <= f"2027-02-{today:02}"]
    gate = plan_of({**tree, "actual": {**tree["actual"], "readings": so_far}}, date(2027, 2, today)).gate
    assert (gate.state == "pass-with-care") == reason.endswith("-care")
    assert [said.id for said in gate.because] == [reason]


def test_from_below_the_range_all_that_is_left_could_go():
    """1.0425 is 10.57 P: -10.57 x 0.1808 / 0.8192 = -2.33 P, 0.991; 11 points of 0.55 volumes to come."""
    values, gas = the(LOW, "warn.with-care-below"), plan_of(LOW, TODAY).carbonation
    assert values["lowest"] == pytest.approx(0.991, abs=0.0005)
    assert values["volumes"] == pytest.approx(gas.highest_volumes + 11.0 * 0.55, abs=0.1)
    assert "warn.with-care" not in ids(planned(LOW, TODAY)[1], "warn")


def test_from_above_the_range_it_could_go_on_to_its_low_end():
    values, gas = the(BETWEEN, "warn.with-care"), plan_of(BETWEEN, TODAY).carbonation
    assert values["low"] == pytest.approx(1.0102, abs=0.0001)
    assert values["volumes"] == pytest.approx(gas.highest_volumes + 4.8 * 0.55, abs=0.05)


HIGH = "1.150"


@pytest.mark.parametrize(
    ("rows", "times"),
    [
        ([("01", HIGH), ("05", HIGH)], 2),
        ([("01", "1.012"), ("05", HIGH)], 1),  # nor is it said once more that it rose
        ([("05", HIGH), ("05", HIGH)], 1),
    ],
)
def test_a_reading_that_is_too_high_is_said_once(rows: list[tuple[str, str]], times: int):
    warned = list(planned(taken(*rows), TODAY)[1].of("warn"))
    about = [one.message.id for one in warned if isinstance(one.message, Said)]
    assert [name for name in about if name.startswith("warn.reading-")] == ["warn.reading-high"] * times
