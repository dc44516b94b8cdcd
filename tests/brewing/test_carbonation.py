"""Gas, sugar, pressure."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import carbonation
from sheetgen.brewing.rounding import TEASPOON_GRAMS

sugars = st.sampled_from(sorted(carbonation.SUGARS))
temperatures = st.floats(0, 45)


def test_two_and_a_half_level_teaspoons_in_a_litre() -> None:
    """Beer at 22 C, 5 ml spoons of 4.26 g: 3.40 to 3.60 volumes by full yield."""
    added = carbonation.volumes_from_sugar(2.5 * TEASPOON_GRAMS, bound="upper")
    assert 3.40 <= added + carbonation.residual_volumes(22.0) <= 3.60


@pytest.mark.parametrize(
    ("volumes", "celsius", "with_air", "bar"),
    [(2.5, 20, False, 1.92), (4.0, 40, False, 6.7), (4.0, 40, True, 7.8), (2.4, 4, False, 0.6)],
)
def test_pressures(volumes: float, celsius: float, with_air: bool, bar: float) -> None:
    assert carbonation.gauge_bar(volumes, celsius, with_air) == pytest.approx(bar, abs=0.06)


def test_sealed_in_air_is_one_bar_at_20_c_and_grows_with_warmth() -> None:
    for celsius, bar in ((20, 1.0), (40, 1.0682), (0, 0.9318)):
        plain, with_air = (carbonation.gauge_bar(2.5, celsius, air) for air in (False, True))
        assert with_air - plain == pytest.approx(bar, abs=1e-4)


@pytest.mark.parametrize(
    ("sugar", "times"), [("honey", 1.3), ("dry malt extract", 1.4), ("dextrose", 1.1579)]
)
def test_other_sugars_need_more(sugar: str, times: float) -> None:
    table, other = (carbonation.sugar_g_per_litre(2.4, 0.9, name) for name in ("table sugar", sugar))
    assert other / table == pytest.approx(times, abs=1e-4)


def test_priming_at_20_c() -> None:
    """2.4 volumes with our own residual of 0.850: 6.20 g/L; 500 ml takes 3.1 g."""
    dose = carbonation.sugar_g_per_litre(2.4, carbonation.residual_volumes(20.0))
    assert dose == pytest.approx(6.20, abs=0.005)


def test_target_under_the_residual_needs_no_sugar() -> None:
    assert carbonation.sugar_g_per_litre(0.8, 0.85) == 0.0
    assert carbonation.sugar_g_per_litre(0.85, 0.85) == 0.0


@given(st.floats(0, 6), st.floats(0, 2), sugars)
def test_practice_is_the_inverse_of_the_dose(target: float, residual: float, sugar: str) -> None:
    dose = carbonation.sugar_g_per_litre(target, residual, sugar)
    added = carbonation.volumes_from_sugar(dose, sugar)
    assert added == pytest.approx(max(target - residual, 0), abs=1e-9)


@given(st.floats(0, 100), sugars)
def test_safety_never_reckons_with_less_than_practice(grams: float, sugar: str) -> None:
    assert carbonation.volumes_from_sugar(grams, sugar, "upper") >= carbonation.volumes_from_sugar(
        grams, sugar
    )


@given(st.floats(0, 40), st.floats(0.01, 10), sugars, temperatures)
def test_more_sugar_is_never_less_pressure(grams: float, more: float, sugar: str, celsius: float) -> None:
    less_gas, more_gas = (
        0.5 + carbonation.volumes_from_sugar(amount, sugar) / 10 for amount in (grams, grams + more)
    )
    assert carbonation.gauge_bar(more_gas, celsius) >= carbonation.gauge_bar(less_gas, celsius)


@given(st.floats(0.5, 6), st.floats(0, 44), st.booleans())
def test_warmer_is_more_pressure(volumes: float, celsius: float, with_air: bool) -> None:
    cool, warm = (carbonation.gauge_bar(volumes, t, with_air) for t in (celsius, celsius + 1))
    assert warm > cool


@given(st.floats(0, 44))
def test_warmer_holds_less_gas(celsius: float) -> None:
    assert carbonation.residual_volumes(celsius + 1) < carbonation.residual_volumes(celsius)


@given(temperatures)
def test_residual_gas_makes_no_pressure(celsius: float) -> None:
    """Drink in balance with wet gas at one atmosphere stands at no gauge pressure."""
    assert carbonation.gauge_bar(carbonation.residual_volumes(celsius), celsius) == pytest.approx(0, abs=1e-9)


def test_one_point_left() -> None:
    assert carbonation.volumes_from_points(1.0) == 0.55
    assert carbonation.volumes_from_points(5.9) == pytest.approx(3.2, abs=0.05)


def test_altitude_is_left_out_and_extrapolation_is_marked() -> None:
    assert carbonation.FITTED_TO_CELSIUS == 40.0
    assert carbonation.HIGHEST_CELSIUS == 45.0
