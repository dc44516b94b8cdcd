"""The band's shape on the schedule's clock, and what readings say of rate and finish."""

from __future__ import annotations

from math import exp, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.brewing import alcohol, fermentation, growth, vigour

rooms = st.integers(8, 34)
originals = st.floats(1.030, 1.110)
days = st.floats(0, 40)


def first_test(room: float) -> float:
    """11 days at 20 to 22 C, by the practice table."""
    return 11 * fermentation.ferment_factor(room, 8.0, 40.0)


def on_day(room: float, day: float, rate: float = 1.0, original: float = 1.050) -> float:
    final = 1 + (original - 1) * 0.25
    return fermentation.gravity_on_day(original, final, room, day, first_test(room), rate)


@given(rooms, st.floats(0, 4), originals, days)
def test_a_warmer_room_is_never_slower(room: int, more: float, original: float, day: float) -> None:
    assert on_day(min(35, room + more), day, 1, original) <= on_day(room, day, 1, original) + 1e-9


@given(rooms, originals, days, st.floats(0.5, 1.5), st.floats(0, 0.4))
def test_livelier_yeast_is_never_slower(
    room: int, original: float, day: float, rate: float, more: float
) -> None:
    assert on_day(room, day, rate + more, original) <= on_day(room, day, rate, original) + 1e-9


@given(rooms, st.floats(0.7, 1.3))
def test_livelier_yeast_is_earlier_in_proportion(room: int, rate: float) -> None:
    left = fermentation.sugar_left_on_day(room, first_test(room) / rate, first_test(room), rate)
    assert left == pytest.approx(0.01, rel=1e-6)


def test_where_the_table_is_flat_the_shape_stands_still() -> None:
    shapes = [fermentation.shape_celsius(room) for room in (2, 12, 20, 21, 22, 23, 24, 27.5, 29, 33)]
    assert shapes == [4, 12, 20, 20, 20, 22, 24, 27.5, 27.5, 27.5]


@given(st.integers(4, 30), st.floats(0, 9.2), st.floats(0, 0.02))
def test_hours_grow_with_what_is_gone_and_back(celsius: int, decay: float, more: float) -> None:
    hours = growth.hours_at_decay(decay, celsius)
    assert growth.hours_at_decay(decay + more, celsius) >= hours
    assert growth.decay_at_hours(hours, celsius) == pytest.approx(decay, abs=1e-7)


# What readings say


def course(final: float = 1.012, spread: float = 0.001) -> vigour.Course:
    return vigour.Course(1.048, final, spread, 20.0, 11.0)


def read(day: float, rate: float = 1.0, final: float = 1.012) -> tuple[float, float]:
    """A reading of a batch with that rate and finish."""
    return day, fermentation.gravity_on_day(1.048, final, 20.0, day, 11.0, rate)


def test_no_reading_says_nothing() -> None:
    assert vigour.learned(course(), []) == vigour.Learned(1.0, 0.15, 1.012, 0.001)


@given(st.lists(st.floats(1, 20), min_size=1, max_size=6))
def test_readings_as_expected_leave_it_centred(at: list[float]) -> None:
    found = vigour.learned(course(), [read(day) for day in at])
    assert found.vigour == pytest.approx(1.0, abs=0.03)
    assert found.final == pytest.approx(1.012, abs=0.0002)
    assert found.spread <= 0.15
    assert found.final_spread <= 0.001


@pytest.mark.parametrize("rate", [0.75, 0.9, 1.1, 1.25])
def test_early_readings_tell_the_rate(rate: float) -> None:
    found = vigour.learned(course(), [read(day, rate) for day in (2, 3, 4, 5)])
    assert found.vigour == pytest.approx(rate, abs=0.06)
    assert found.spread < 0.08
    assert abs(log(found.vigour)) <= abs(log(rate)) + 0.01


@pytest.mark.parametrize("final", [1.0105, 1.0115, 1.0130])
def test_late_readings_tell_the_finish(final: float) -> None:
    """Two of 0.001 against a spread of 0.001: two thirds of the way, and 1 / sqrt(3) of the spread."""
    found = vigour.learned(course(), [read(day, 1.0, final) for day in (16, 19)])
    assert found.final - 1.012 == pytest.approx((final - 1.012) * 2 / 3, abs=1e-4)
    assert found.final_spread == pytest.approx(0.001 / 3**0.5, rel=0.03)


def test_by_hand_one_reading_on_the_grid() -> None:
    """The rate with which the reading fits best, pulled towards 1 by what was known before."""
    day, sg = read(3, 1.2)
    found = vigour.learned(course(spread=1e-6), [(day, sg)])
    weights, total, mean = {}, 0.0, 0.0
    left = fermentation.sugar_left_on_day(20, day, 11)
    variance = 0.001**2 + (0.1 * left * 0.036) ** 2
    for step in range(-300, 301):
        rate = exp(0.15 * step / 100)
        off = sg - fermentation.gravity_on_day(1.048, 1.012, 20.0, day, 11.0, rate)
        weights[rate] = exp(-((step / 100) ** 2) / 2 - off * off / variance / 2)
        total, mean = total + weights[rate], mean + weights[rate] * log(rate)
    assert found.vigour == pytest.approx(exp(mean / total), abs=0.005)


@settings(max_examples=200)
@given(
    st.lists(st.tuples(st.floats(1, 20), st.floats(-0.004, 0.004)), min_size=1, max_size=4),
    st.floats(0, 0.003),
)
def test_a_higher_reading_never_lowers_both(readings: list[tuple[float, float]], more: float) -> None:
    """What stands higher is slower, or ends higher."""
    taken = [(day, read(day)[1] + off) for day, off in readings]
    before = vigour.learned(course(), taken)
    after = vigour.learned(course(), [(day, sg + more) for day, sg in taken])
    assert after.vigour <= before.vigour + 1e-6 or after.final >= before.final - 1e-6


def test_only_the_newest_dozen_counts() -> None:
    many = [read(day / 4) for day in range(4, 90)]
    assert vigour.learned(course(), many) == vigour.learned(course(), many[-12:])


# The lowest that a drink can end


def test_no_drink_ends_lower_than_all_its_sugar_gone() -> None:
    """12 degrees Plato: 12 x 0.1808 / 0.8192 = 2.65 under nothing, 0.9897."""
    assert alcohol.lowest_final(1.0484) == pytest.approx(0.9897, abs=0.0002)
    assert alcohol.lowest_final(1.130) == 0.980
    assert alcohol.lowest_final(1.0) == pytest.approx(1.0, abs=1e-4)
