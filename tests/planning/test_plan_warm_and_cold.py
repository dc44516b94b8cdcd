"""A lager's warm end before the readings, and days in the cold after them."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.planning.plan import Plan
from sheetgen.planning.waits import HOPS_BEFORE_TEST

from .described import plan_of, planned, six

BREWED = date(2027, 3, 6)
LAGER = six(recipe="ferry-steps-lager", volume="12 L", room="15-17 C", bottles="26 x 500 ml returnable glass")


def ids_of(plan: Plan) -> list[str]:
    return [task.id for task in plan.tasks]


def day(plan: Plan, task: str) -> date:
    return plan.task(task).when.expected


def cold(days: int, **more: Any) -> dict[str, Any]:
    return {**LAGER, "cold-days": str(days), **more}


def read(*days: int, sg: str = "1.010", **more: Any) -> dict[str, Any]:
    """What happened, with the same reading on these days."""
    on = [(BREWED + timedelta(days=number)).isoformat() for number in days]
    return {"readings": [{"on": each, "sg": f"{sg} at 20 C"} for each in on], **more}


def on(number: int) -> str:
    return (BREWED + timedelta(days=number)).isoformat()


# The warm end


@pytest.mark.parametrize(
    ("room", "warm"), [("15-17 C", True), ("17-19 C", True), ("18 C", False), ("21 C", False)]
)
def test_only_a_room_under_18_asks_for_a_warmer_place(room: str, warm: bool):
    assert ("warm-1" in ids_of(plan_of({**LAGER, "room": room}))) is warm


def test_it_stands_warmer_three_days_before_the_first_reading_in_every_column():
    plan = plan_of(LAGER)
    warm, test = plan.task("warm-1").when, plan.task("test-1").when
    rest = timedelta(days=HOPS_BEFORE_TEST)
    assert warm.earliest + rest <= test.earliest
    assert warm.expected + rest <= test.expected
    assert warm.latest
    assert test.latest
    assert warm.latest + rest <= test.latest


def test_when_nobody_is_home_for_it_the_readings_wait_with_it():
    plan = plan_of({**LAGER, "away": [f"{on(10)}..{on(30)}"]})
    assert day(plan, "warm-1") == BREWED + timedelta(days=31)
    assert day(plan, "test-1") >= day(plan, "warm-1") + timedelta(days=3)


def test_a_reading_soon_after_it_does_not_count():
    today = BREWED + timedelta(days=30)
    warmed = {"warmed": [{"on": on(16), "to": "19 C"}]}
    early = plan_of({**LAGER, "actual": read(17, 18, 20, **warmed)}, today).gate
    assert [one.counts for one in early.readings] == [False, False, True]


@pytest.mark.parametrize(
    "said",
    [{"warmed": [{"on": on(12), "to": "19 C"}]}, {"done": [{"on": on(12), "what": "warm"}]}],
)
def test_both_ways_of_saying_that_it_was_done(said: dict[str, Any]):
    plan = plan_of({**LAGER, "actual": {"brewed": on(0), **said}}, BREWED + timedelta(days=13))
    task = plan.task("warm-1")
    assert (task.state, task.when.expected) == ("done", BREWED + timedelta(days=12))


def test_the_sugar_rests_on_the_warmer_place_and_the_limit_on_the_room():
    said = {"brewed": on(0), "warmest-since": "15 C"}
    cool, own = plan_of(LAGER), plan_of({**LAGER, "actual": said}, BREWED)
    assert cool.carbonation
    assert own.carbonation
    assert (cool.carbonation.warmest_c, own.carbonation.warmest_c) == (18.0, 15.0)
    assert cool.carbonation.total_g > own.carbonation.total_g


# Days in the cold


def test_nobody_is_asked_for_cold_days_who_did_not_wish_for_them():
    assert "cold-1" not in ids_of(plan_of(LAGER))
    assert "cold-1" not in ids_of(plan_of(cold(0)))


def test_the_cold_comes_after_the_last_reading_and_bottling_waits_in_every_column():
    plan, without = plan_of(cold(3)), plan_of(LAGER)
    stood, filled, last = (plan.task(name).when for name in ("cold-1", "bottle", "test-2"))
    days = timedelta(days=3)
    assert stood.earliest >= last.earliest
    assert stood.expected >= last.expected
    assert filled.earliest >= stood.earliest + days
    assert filled.expected >= stood.expected + days
    assert filled.earliest == without.task("bottle").when.earliest + days


def test_the_sugar_is_the_same_with_days_in_the_cold():
    assert plan_of(cold(7)).carbonation == plan_of(LAGER).carbonation


def test_a_gate_that_waits_keeps_it_out_of_the_cold():
    today = BREWED + timedelta(days=27)
    actual = read(20, warmed=[{"on": on(14), "to": "19 C"}])
    actual["readings"].append({"on": on(24), "sg": "1.007 at 20 C"})
    plan = plan_of(cold(3, actual=actual), today)
    assert plan.gate.state == "wait"
    assert day(plan, "test-3") <= day(plan, "cold-1")


def test_readings_in_the_cold_do_not_count_and_say_so():
    """Two that agree show nothing there: the yeast stands still, finished or not."""
    today = BREWED + timedelta(days=40)
    stood = {"done": [{"on": on(20), "what": "cold"}]}
    plan, problems = planned(cold(3, actual=read(24, 30, **stood)), today)
    assert plan
    assert plan.gate.state == "not-yet"
    assert [one.counts for one in plan.gate.readings] == [False, False]
    assert "warn.reading-cold" in {getattr(problem.message, "id", "") for problem in problems}


def test_the_reading_of_the_day_on_which_it_went_into_the_cold_counts():
    stood = {"done": [{"on": on(30), "what": "cold"}]}
    plan = plan_of(cold(3, actual=read(24, 30, **stood)), BREWED + timedelta(days=31))
    assert plan.gate.state == "pass"
    assert day(plan, "bottle") == BREWED + timedelta(days=33)


def test_stood_warm_again_readings_count_three_days_later():
    later = {"done": [{"on": on(20), "what": "cold"}], "warmed": [{"on": on(25), "to": "19 C"}]}
    plan = plan_of(cold(3, actual=read(24, 27, 28, 32, **later)), BREWED + timedelta(days=33))
    assert [one.counts for one in plan.gate.readings] == [False, False, True, True]
    assert plan.gate.state == "pass"


def test_bottles_that_are_full_need_the_cold_no_more():
    actual = read(24, 30, bottled={"on": on(31), "litres": "11"})
    assert "cold-1" not in ids_of(plan_of(cold(3, actual=actual), BREWED + timedelta(days=32)))


@given(
    st.integers(0, 7),
    st.integers(14, 24),
    st.lists(st.tuples(st.integers(4, 60), st.integers(0, 12)), max_size=3),
    st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_walls_hold_for_every_room_and_life(
    days: int, room: int, away: list[tuple[int, int]], weekends: bool
):
    spans = [f"{on(first)}..{on(first + more)}" for first, more in away]
    life = {**({"away": spans} if spans else {}), **({"my-days": ["sat", "sun"]} if weekends else {})}
    plan = plan_of({**LAGER, "room": f"{room} C", "cold-days": str(days), **life})
    order = [name for name in ("warm-1", "test-1", "test-2", "cold-1", "bottle") if plan.has(name)]
    gaps = {"warm-1": 3, "test-1": plan.gate.gap_days, "cold-1": days}
    for before, after in itertools.pairwise(order):
        gap = timedelta(days=gaps.get(before, 0))
        assert day(plan, after) >= day(plan, before) + gap, (before, after)
        assert plan.task(after).when.earliest >= plan.task(before).when.earliest + gap
    for task in plan.tasks:
        assert task.when.earliest <= task.when.expected
        assert task.when.latest is None or task.when.expected <= task.when.latest
