"""Rooms that change by dates: what they do to fermenting, fizz and keeping, and what heat asks for."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.brewing.fermentation import fizz_days, fizz_days_by_day
from sheetgen.brewing.keeping import kept_days, kept_days_in_spells
from sheetgen.planning.as_json import as_json
from sheetgen.planning.plan import Plan

from .described import FEBRUARY, day, ids, plan_of, planned, six

BREW = date(2027, 3, 6)


def by_dates(first: float, *later: tuple[str | date, float]) -> list[Any]:
    """A place as it is written."""
    return [f"{first} C", *({"from": str(on), "at": f"{celsius} C"} for on, celsius in later)]


def places(fermenting: Any = "20 C", warm: Any = "20 C", storing: Any = "12 C") -> dict[str, Any]:
    """The shortest batch in these places."""
    return six(room={"fermenting": fermenting, "warm-place": warm, "storing": storing})


def on(plan: Plan, task: str) -> date:
    """The expected day of a task."""
    return plan.task(task).when.expected


HEAT = by_dates(12, ("2027-05-01", 33), ("2027-05-10", 20))


def test_dates_that_change_nothing_change_nothing():
    plain, same = plan_of(places()), plan_of(places(by_dates(20, ("2027-03-10", 20))))
    assert [(task.id, task.when) for task in plain.tasks] == [(task.id, task.when) for task in same.tasks]


def test_the_coolest_day_of_fermenting_decides_its_days():
    cools = plan_of(places(by_dates(20, ("2027-03-10", 16))))
    assert cools.room_c == (16.0, 20.0)
    assert on(cools, "test-1") == on(plan_of(places("16 C")), "test-1")


def test_what_the_room_is_after_bottling_is_of_no_matter():
    plan = plan_of(places(by_dates(20, ("2027-06-01", 33))))
    assert plan.room_c == (20.0, 20.0)
    assert on(plan, "bottle") == on(plan_of(places()), "bottle")


def test_heat_while_it_ferments_stops():
    _plan, problems = planned(places(by_dates(20, ("2027-03-10", 33))))
    assert ids(problems, "stop") == ["stop.room-hot"]


def test_a_rise_of_two_degrees_puts_the_first_reading_three_days_on():
    usual = on(plan_of(places("18 C")), "test-1")
    risen = on(plan_of(places(by_dates(18, (usual, 20)))), "test-1")
    assert risen == usual + timedelta(days=3)
    assert on(plan_of(places(by_dates(18, (usual, 19.5)))), "test-1") == usual


def test_a_rise_wakes_the_gate_once_it_has_come():
    readings = [{"on": "2027-03-18", "sg": "1.012 at 20 C"}, {"on": "2027-03-22", "sg": "1.012 at 20 C"}]
    told = {"brewed": "2027-03-06", "readings": readings}
    risen = {**places(by_dates(18, ("2027-03-21", 21))), "actual": told}
    assert plan_of({**places("18 C"), "actual": told}, day("3-22")).gate.state == "pass"
    assert plan_of(risen, day("3-22")).gate.state == "not-yet"


def test_fizz_goes_on_by_the_days_of_the_warm_place():
    cools, cold = by_dates(20, ("2027-04-10", 16)), "16 C"
    waits = [plan_of(places(warm=warm)).labels.wait_days for warm in ("20 C", cools, cold)]
    assert waits == sorted(waits)
    assert waits[0] < waits[1] < waits[2]


def test_bottles_that_are_filled_two_weeks_late_still_have_their_wait():
    plan = plan_of(places(warm=by_dates(20, ("2027-03-30", 16))))
    for filled, then in plan.labels.fill_choices:
        by_day = fizz_days_by_day(
            lambda number, first=filled: 20.0 if first + timedelta(days=number) < day("3-30") else 16.0
        )
        assert (then - filled).days >= by_day


def test_heat_shortens_the_keeping_and_asks_for_the_cool_before_it():
    plan, problems = planned(places(storing=HEAT))
    assert plan is not None
    assert plan.labels.best_before < plan_of(places()).labels.best_before
    (hot,) = plan.keeping.hot if plan.keeping else ()
    assert (hot.on, hot.celsius, hot.move_by) == (day("5-1"), 33.0, day("4-30"))
    assert plan.carbonation is not None
    assert hot.gauge_bar > next(one.gauge_bar for one in plan.carbonation.pressures if one.celsius == 30.0)
    assert "hot.fizzy" in ids(problems, "warn")
    assert not problems.stopped
    assert plan.bottling_steps[-1].note is not None
    assert as_json(plan, lambda one: one.id)["keeping"]["hot"][0]["move_by"] == "2027-04-30"


def test_who_is_away_before_the_heat_moves_the_bottles_before_that():
    plan = plan_of({**places(storing=HEAT), "away": ["2027-04-25..2027-05-03"]})
    assert plan.keeping is not None
    assert plan.keeping.hot[0].move_by == day("4-24")


def test_heat_that_is_over_is_not_warned_of():
    told = {"brewed": "2027-03-06", "bottled": {"on": "2027-03-20", "litres": "11"}}
    plan, problems = planned({**places(storing=HEAT), "actual": told}, day("5-10"))
    assert plan is not None
    assert not [name for name in ids(problems, "warn") if name.startswith("hot")]


def test_a_warm_place_that_turns_cold_is_warned_of():
    _plan, problems = planned(places(warm=by_dates(20, ("2027-03-30", 10))))
    assert "warn.warm-place-cools" in ids(problems, "warn")


SPELLS = st.lists(
    st.tuples(st.integers(1, 400), st.floats(-5, 60)), min_size=0, max_size=5, unique_by=lambda one: one[0]
).map(sorted)


@given(st.floats(0, 1500), st.floats(-5, 60), SPELLS, st.booleans())
def test_spells_come_to_the_same_as_counting_day_by_day(
    days: float, first: float, later: list[tuple[int, float]], plastic: bool
):
    spells = [(0, first), *later]

    def celsius(number: int) -> float:
        return next(air for start, air in reversed(spells) if start <= number)

    by_day = kept_days(days, celsius, plastic)
    assert kept_days_in_spells(days, spells, plastic) == pytest.approx(by_day, abs=1e-6)


@given(st.floats(0, 1500), st.floats(-5, 60), SPELLS, st.floats(0, 20), st.booleans())
def test_a_hotter_store_never_keeps_longer(
    days: float, first: float, later: list[tuple[int, float]], more: float, plastic: bool
):
    spells = [(0, first), *later]
    hotter = [(start, min(60.0, celsius + more)) for start, celsius in spells]
    assert kept_days_in_spells(days, hotter, plastic) <= kept_days_in_spells(days, spells, plastic) + 1e-6


@given(st.integers(140, 300))
def test_an_even_place_fizzes_as_ever(tenths: int):
    assert fizz_days_by_day(lambda _day: tenths / 10) == pytest.approx(fizz_days(tenths / 10), abs=1e-5)


STEPS = st.lists(
    st.tuples(st.integers(1, 60), st.integers(15, 28)), min_size=1, max_size=3, unique_by=lambda one: one[0]
).map(sorted)


@settings(max_examples=25)
@given(st.integers(15, 28), STEPS, st.integers(0, 5))
def test_a_cooler_fermentation_is_never_done_earlier(first: int, steps: list[tuple[int, int]], less: int):
    """The whole course cooler by so much, down to what the yeast can do."""

    def bottled(cooler: int) -> date:
        later = [(BREW + timedelta(days=number), celsius - cooler) for number, celsius in steps]
        return on(plan_of(places(by_dates(first - cooler, *later))), "bottle")

    cooler = min(less, first - 14, *(celsius - 14 for _number, celsius in steps))
    assert bottled(cooler) >= bottled(0)


@settings(max_examples=25)
@given(st.integers(0, 29), STEPS, st.integers(0, 10))
def test_a_hotter_store_is_never_best_before_later_and_moves_nothing_else(
    first: int, steps: list[tuple[int, int]], more: int
):
    def stored(hotter: int) -> Plan:
        later = [(BREW + timedelta(days=40 + number), celsius + hotter) for number, celsius in steps]
        return plan_of(places(storing=by_dates(first, *later)), FEBRUARY)

    usual, hot = stored(0), stored(more)
    assert hot.labels.best_before <= usual.labels.best_before
    assert hot.labels.not_before == usual.labels.not_before
    assert on(hot, "drink-from") == on(usual, "drink-from")
