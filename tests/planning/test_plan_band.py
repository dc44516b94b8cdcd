"""The gravity band: where the hydrometer should stand each day, and what readings make of it."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.planning.band import MOST_DAYS
from sheetgen.planning.plan import Band, Plan

from .described import FEBRUARY, day, plan_of, six

BREWED = {"brewed": "2027-03-06"}


def with_readings(*readings: tuple[int, float], today: str = "3-26", **more: Any) -> Plan:
    rows = [{"on": f"2027-03-{6 + number:02}", "sg": f"{sg:.4f} at 20 C"} for number, sg in sorted(readings)]
    return plan_of(six(**more, actual={**BREWED, "readings": rows}), day(today))


def row(plan: Plan, number: int) -> Band:
    return plan.gravity_band[number]


def test_one_row_a_day_from_pitching_to_bottling():
    plan = plan_of(six())
    assert [band.day for band in plan.gravity_band] == list(range(plan.task("bottle").day + 1))
    first = row(plan, 0)
    original = pytest.approx(plan.quantities.original_gravity, abs=1e-9)
    assert (first.low, first.expected, first.high) == (original, original, original)


def test_it_agrees_with_the_dates():
    """At 20 C 99 % is gone on day 11, the usual day of test 1; 42.5 points, of which 30.6 fall."""
    plan = plan_of(six())
    final = plan.quantities.final_gravity
    assert plan.task("test-1").day == 11
    fall = plan.quantities.original_gravity - final.expected
    assert row(plan, 11).expected == pytest.approx(final.expected + 0.01 * fall, abs=1e-6)


@settings(max_examples=25)
@given(st.integers(14, 29), st.integers(0, 3))
def test_low_expected_high_and_only_downwards(room: int, wider: int):
    plan = plan_of(six(room=f"{room}-{min(29, room + wider)} C"))
    for band in plan.gravity_band:
        assert band.low <= band.expected <= band.high
    for before, after in zip(plan.gravity_band, plan.gravity_band[1:], strict=False):
        assert after.low <= before.low
        assert after.expected <= before.expected
        assert after.high <= before.high
    last = plan.gravity_band[-1]
    assert last.low >= plan.quantities.final_gravity.low - 1e-9


@settings(max_examples=15)
@given(st.integers(14, 28))
def test_a_warmer_room_is_never_slower(room: int):
    cool, warm = plan_of(six(room=f"{room} C")), plan_of(six(room=f"{room + 1} C"))
    for one, other in zip(cool.gravity_band, warm.gravity_band, strict=False):
        assert other.expected <= one.expected + 1e-9
        assert other.high <= one.high + 1e-9


def test_nothing_is_expected_before_the_yeast_or_after_bottling():
    assert plan_of(six()).fermentation.expected_now is None
    now = with_readings((3, 1.030), today="3-10").fermentation.expected_now
    assert now is not None
    assert now.low < now.expected < now.high
    done = {**BREWED, "bottled": {"on": "2027-03-25"}}
    assert plan_of(six(actual=done), day("3-26")).fermentation.expected_now is None


def test_readings_as_expected_narrow_it_and_leave_it_where_it_is():
    before = plan_of(six(actual=BREWED), day("3-26"))
    found = with_readings(*((number, row(before, number).expected) for number in (3, 5, 12)))
    assert found.fermentation.vigour == pytest.approx(1.0, abs=0.03)
    assert found.fermentation.readings_used == 3
    for number in (2, 4, 8):
        was, now = row(before, number), row(found, number)
        assert now.expected == pytest.approx(was.expected, abs=0.0006)
        assert now.high - now.low < 0.8 * (was.high - was.low)
    finish, usual = found.fermentation.finish, before.fermentation.finish
    assert usual.low <= finish.low <= finish.high <= usual.high
    assert finish.high - finish.low < usual.high - usual.low


def test_a_slow_batch_is_expected_later():
    before = plan_of(six(actual=BREWED), day("3-26"))
    found = with_readings((3, row(before, 3).expected + 0.004), (4, row(before, 4).expected + 0.004))
    assert found.fermentation.vigour < 0.9
    assert row(found, 6).expected > row(before, 6).expected + 0.001


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(st.integers(1, 6), st.floats(1.000, 1.044)),
        min_size=1, max_size=4, unique_by=lambda pair: pair[0],
    )
)  # fmt: skip
def test_early_readings_move_no_date_and_no_gate(readings: list[tuple[int, float]]):
    """Whatever they say of the rate: the gate counts from day 7 on, and dates rest on the table."""
    usual = with_readings(*((number, 1.030) for number, _ in readings))
    found = with_readings(*readings)
    assert found.tasks == usual.tasks
    assert (found.gate.state, found.gate.next_date, found.gate.ceiling, found.gate.high) == (
        usual.gate.state,
        usual.gate.next_date,
        usual.gate.ceiling,
        usual.gate.high,
    )
    assert found.labels.not_before == usual.labels.not_before


def test_what_was_read_before_sugar_went_in_says_nothing_of_the_rate():
    rows = [{"on": "2027-03-09", "sg": "1.025 at 20 C"}]
    added = [{"on": "2027-03-10", "what": "sugar", "amount": "200 g"}]
    plan = plan_of(six(actual={**BREWED, "readings": rows, "added": added}), day("3-11"))
    assert (plan.fermentation.readings_used, plan.fermentation.vigour) == (0, 1.0)


@pytest.mark.parametrize("sg", [0.985, 1.050])
def test_an_impossible_reading_says_nothing_of_the_rate(sg: float):
    assert with_readings((3, sg)).fermentation.readings_used == 0


@pytest.mark.parametrize(
    ("recipe", "room"),
    [("plot-eleven-cider", "16 C"), ("towrope-mild", "27 C"), ("lantern-shed-stout", "15 C")],
)
def test_every_drink_has_one(recipe: str, room: str):
    plan = plan_of(six(recipe=recipe, volume="10 L", room={"fermenting": room, "warm-place": "20 C"}))
    assert len(plan.gravity_band) > 10
    assert plan.fermentation.finish == plan.quantities.final_gravity


def test_it_is_not_drawn_for_ever():
    rows = [{"on": "2031-03-09", "sg": "1.012 at 20 C"}]
    plan = plan_of(six(actual={**BREWED, "readings": rows}), FEBRUARY.replace(year=2032))
    assert len(plan.gravity_band) == MOST_DAYS + 1
