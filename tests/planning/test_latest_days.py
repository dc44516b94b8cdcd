"""The last day without worry, what an event asks, the first day that works, and what an absence costs."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.planning.plan import Plan

from .described import day, ids, plan_of, planned, six


def away(first: str, last: str, **more: Any) -> dict[str, Any]:
    return six(away=[f"2027-{first}..2027-{last}"], **more)


def latest(plan: Plan, task: str) -> date:
    found = plan.task(task).when.latest
    assert found is not None
    return found


# The last day without worry


def test_life_does_not_put_off_the_last_day_without_worry():
    """Day 14 is usual, day 28 the last: 3 April, though tests are on 6 and 9 April."""
    plan, problems = planned(away("03-13", "04-05"))
    assert plan is not None
    bottle = plan.task("bottle")
    assert (bottle.when.expected, bottle.when.latest) == (day("4-9"), day("4-9"))
    assert bottle.reasons is not None
    assert bottle.reasons.due_by == day("4-3")
    [warning] = [each for each in problems.of("warn") if each.message.id == "warn.past-worry"]
    assert warning.message.values["due"] == day("4-3")
    assert "warn.late-bottling" not in ids(problems, "warn")


def test_a_day_too_late_is_named_and_not_a_day_sooner():
    in_time, late = (
        away("03-13", "03-30"),
        away("03-13", "03-31"),
    )  # tests on 31 March and 3 April; a day later
    assert "warn.past-worry" not in ids(planned(in_time)[1], "warn")
    assert "warn.past-worry" in ids(planned(late)[1], "warn")


def test_the_brew_day_that_is_named_bottles_without_worry():
    _, problems = planned(away("03-13", "04-05"))
    [warning] = [each for each in problems.of("warn") if each.message.id == "warn.past-worry"]
    on = warning.fix.values["on"]
    assert isinstance(on, date)
    assert "warn.past-worry" not in ids(planned(away("03-13", "04-05", brew_day=on.isoformat()))[1], "warn")


def test_two_weeks_after_the_usual_day_where_that_is_later_than_four_weeks():
    """Looks by eye alone: days 21 and 24; the room of 24 C has 28 days."""
    batch = six(
        room={"fermenting": "24 C", "warm-place": "24 C", "storing": "15 C"},
        equipment={"hydrometer": "none"},
        bottles="30 x 500 ml pet",
        carbonation="2.2 volumes",
    )
    plan = plan_of({**batch, "my-days": ["sat"]})
    assert plan.task("bottle").day == 28
    assert latest(plan, "bottle") == day("3-6") + timedelta(days=24 + 14)


# Events


def test_an_event_bounds_the_last_days_of_all_before_it():
    """Chilled on 12 April after 14 days in the warm: bottled by 29 March, and read the last time by then."""
    free, bound = plan_of(six()), plan_of(six(event={"date": "2027-04-14", "name": "supper"}))
    assert latest(free, "bottle") == day("4-3")
    assert bound.task("chill").when.expected == day("4-12")
    assert [latest(bound, name) for name in ("test-1", "test-2", "bottle", "drink-from")] == [
        day("3-27"),
        day("3-29"),
        day("3-29"),
        day("4-12"),
    ]


def test_a_distant_event_bounds_nothing_and_a_missed_one_neither():
    free = plan_of(six())
    distant = plan_of(six(event={"date": "2027-06-12", "name": "supper"}))
    brewed = {"brewed": "2027-03-06"}
    missed = plan_of(six(event={"date": "2027-03-28", "name": "supper"}, actual=brewed), day("3-8"))
    for plan in (distant, missed):
        assert [latest(plan, name) for name in ("test-1", "bottle")] == [
            latest(free, name) for name in ("test-1", "bottle")
        ]


@pytest.mark.parametrize(("first", "last"), [("03-13", "04-24"), ("03-05", "03-08"), ("03-07", "05-06")])
def test_there_is_one_last_brew_day_for_an_event(first: str, last: str):
    _, problems = planned(away(first, last, event={"date": "2027-06-12", "name": "supper"}))
    fixes = [
        each.fix for each in (*problems.of("warn"), *problems.of("stop"), *problems.of("note")) if each.fix
    ]
    by = {fix.values["brew"] for fix in fixes if "brew" in fix.values}
    next_days = {fix.values["on"] for fix in fixes if fix.id == "fix.brew-day"}
    assert len(by) <= 1
    assert all(on <= last_day for on in next_days for last_day in by)  # type: ignore[operator]


# The first day that works


def test_no_day_of_an_absence_is_printed_as_possible():
    plan = plan_of(away("03-13", "04-24", **{"my-days": ["sat", "sun"]}))
    one, two, bottle = (plan.task(name) for name in ("test-1", "test-2", "bottle"))
    assert (one.when.earliest, one.first_day) == (day("3-13"), day("4-25"))
    assert (two.first_day, bottle.first_day) == (day("5-1"), day("5-1"))  # two days later it is a Tuesday


@settings(max_examples=60, deadline=None)
@given(
    first=st.integers(1, 60),
    length=st.integers(0, 30),
    days=st.sets(st.sampled_from(["mon", "tue", "wed", "thu", "fri", "sat", "sun"]), min_size=1),
)
def test_the_first_day_lies_between_the_earliest_and_the_expected_one(
    first: int, length: int, days: set[str]
):
    begin = day("3-6") + timedelta(days=first)
    gone = f"{begin}..{begin + timedelta(days=length)}"
    plan = planned(six(away=[gone], **{"my-days": sorted(days)}))[0]
    for task in plan.tasks if plan else ():
        assert task.when.earliest <= task.first_day <= task.when.expected, task.id
        if task.kind and task.may_move:
            assert not begin <= task.first_day <= begin + timedelta(days=length), task.id


# What it costs


def test_an_absence_costs_all_that_it_costs():
    """Without it the tests were on 17 and 20 March; with it on 1 and 4 May."""
    plan = plan_of(away("03-13", "04-30"))
    [move] = plan.task("test-1").moves
    assert move.cost is not None
    assert move.cost.values["days"] == 45
