"""How fast: the model's shape, the practice table's knots."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.brewing import fermentation

whole_degrees = st.integers(4, 30)


@given(st.integers(4, 29), st.floats(0.0002, 0.999))
def test_warmer_is_never_slower(celsius: int, left: float) -> None:
    assert fermentation.hours_until(left, celsius + 1) <= fermentation.hours_until(left, celsius)


@given(whole_degrees, st.floats(0.0002, 0.99))
def test_fraction_and_back(celsius: int, left: float) -> None:
    hours = fermentation.hours_until(left, celsius)
    assert fermentation.fraction_left(celsius, hours) == pytest.approx(left, rel=1e-6)


@given(whole_degrees, st.floats(0, 3000), st.floats(0, 100))
def test_gravity_only_falls(celsius: int, hours: float, more: float) -> None:
    early = fermentation.gravity_curve(1.050, 1.010, celsius, hours)
    late = fermentation.gravity_curve(1.050, 1.010, celsius, hours + more)
    assert 1.010 <= late <= early + 1e-12 <= 1.050 + 2e-12


def test_curve_of_many_hours() -> None:
    curve = fermentation.gravity_curve(1.050, 1.010, 20, [0, 24, 72, 2000])
    assert curve[0] == pytest.approx(1.050)
    assert curve[-1] == 1.010
    assert list(curve) == sorted(curve, reverse=True)
    assert curve[1] == fermentation.gravity_curve(1.050, 1.010, 20, 24)


@settings(max_examples=30)
@given(whole_degrees, st.floats(7, 40))
def test_the_band_keeps_to_the_schedule(celsius: int, first_test: float) -> None:
    """At every temperature 99 % is gone on the day of the first test, however fast the model runs."""
    gravity = fermentation.gravity_on_day(1.050, 1.010, celsius, first_test, first_test)
    assert gravity == pytest.approx(1.0104, abs=1e-6)
    assert fermentation.gravity_on_day(1.050, 1.010, celsius, 0, first_test) == pytest.approx(1.050)


def test_both_slopes() -> None:
    """The model's time to 95 % has a Q10 of 4.0 from 15 to 25 C, one rate constant 1.94, the table about
    2.
    """
    slow, fast = (fermentation.hours_until(0.05, celsius) for celsius in (15, 25))
    assert (slow, fast) == pytest.approx((238, 59), abs=1)
    table = fermentation.ferment_factor(15) / fermentation.ferment_factor(25)
    assert table == pytest.approx(2.1, abs=0.1)


def test_a_new_temperature_is_worked_out_in_one_go() -> None:
    """Some 3 ms; the best of several against a wide limit, so that no busy machine fails it."""
    times = []
    for step in range(12):
        start = time.perf_counter()
        fermentation.hours_until(0.5, 17.001 + step * 0.013)
        times.append(time.perf_counter() - start)
    assert min(times) < 0.5


FACTORS = [
    (14.0, 1.8), (14.5, 1.7), (15.5, 1.525), (16.5, 1.35), (18.5, 1.1), (20.0, 1.0), (21.0, 1.0), (22.0, 1.0),
    (23.0, 0.9), (24.0, 0.8), (27.5, 0.7), (29.9, 0.7), (30.0, 0.7),
]  # fmt: skip
FIZZ = [
    (14.0, 41), (14.5, 38), (16.5, 26), (18.5, 18), (19.25, 16), (20.0, 14), (22.0, 14), (24.0, 10.5),
    (27.5, 8.5), (30.0, 8.5),
]  # fmt: skip
STRENGTH = [
    (1.000, 0, 0), (1.048, 0, 0), (1.055, 0, 0), (1.0575, 2, 3.5), (1.060, 4, 7), (1.073, 8, 28),
    (1.085, 14, 56), (1.100, 21, 112), (1.130, 21, 112),
]  # fmt: skip


@pytest.mark.parametrize(("celsius", "factor"), FACTORS)
def test_ferment_factor(celsius: float, factor: float) -> None:
    assert fermentation.ferment_factor(celsius) == pytest.approx(factor)


@pytest.mark.parametrize(("celsius", "days"), FIZZ)
def test_fizz_days(celsius: float, days: float) -> None:
    assert fermentation.fizz_days(celsius) == pytest.approx(days)


@pytest.mark.parametrize(("original", "ferment", "bottle"), STRENGTH)
def test_strength_days(original: float, ferment: float, bottle: float) -> None:
    assert fermentation.strength_days(original) == pytest.approx((ferment, bottle))


def test_a_yeast_with_a_wider_range() -> None:
    assert fermentation.ferment_factor(12, coldest=10) == pytest.approx(2.2)
    assert fermentation.fizz_days(12, coldest=10) == pytest.approx(53)
    assert fermentation.ferment_factor(35, warmest=38) == 0.7
    with pytest.raises(ValueError, match="outside"):
        fermentation.ferment_factor(9, coldest=10)


@given(st.floats(14, 29.9), st.floats(0, 0.1))
def test_no_jumps_and_never_slower_when_warmer(celsius: float, more: float) -> None:
    for table, largest in ((fermentation.ferment_factor, 0.025), (fermentation.fizz_days, 0.61)):
        drop = table(celsius) - table(celsius + more)
        assert -1e-9 <= drop <= largest


@pytest.mark.parametrize(
    ("room", "kind", "skin", "days"),
    [
        (21, "ordinary", False, 2), (20, "ordinary", False, 2), (19.9, "ordinary", False, 3),
        (16, "ordinary", False, 3), (15.9, "ordinary", False, 4), (14, "ordinary", False, 4),
        (20, "mead", False, 7), (14, "mead", False, 7), (20, "still", False, 28), (20, "ordinary", True, 14),
        (20, "mead", True, 14), (20, "still", True, 28),
    ],
)  # fmt: skip
def test_gap_days(room: float, kind: fermentation.GapKind, skin: bool, days: int) -> None:
    assert fermentation.gap_days(room, kind, skin) == days
