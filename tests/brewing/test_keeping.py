"""How long a drink keeps: no jumps, warmer is never longer, every day uses up its share."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing.keeping import PLASTIC_DAYS, kept_days, store_factor

STORES = st.floats(-20, 50)
DAYS = st.floats(1, 1500)


@pytest.mark.parametrize(
    ("celsius", "factor"),
    [
        (4, 1.5),
        (8, 1.5),
        (10, 1.25),
        (12, 1),
        (16, 1),
        (20, 1),
        (22.5, 0.75),
        (25, 0.5),
        (35, 0.25),
        (50, 0.25),
    ],
)
def test_the_steps_of_practice_with_straight_lines_between(celsius: float, factor: float):
    assert store_factor(celsius) == pytest.approx(factor)


@given(STORES)
def test_a_tenth_of_a_degree_is_never_a_jump(celsius: float):
    assert 0 <= store_factor(celsius) - store_factor(celsius + 0.1) < 0.013


@given(DAYS, st.floats(5, 40))
def test_in_an_even_store_it_is_the_factor(days: float, celsius: float):
    assert kept_days(days, lambda _day: celsius) == pytest.approx(days * store_factor(celsius))


@given(DAYS, st.lists(STORES, min_size=1, max_size=9), st.integers(0, 8), st.floats(0, 10))
def test_a_warmer_day_never_makes_it_keep_longer(days: float, store: list[float], at: int, warmer: float):
    def usual(day: int) -> float:
        return store[day % len(store)]

    def warm(day: int) -> float:
        return usual(day) + (warmer if day == at else 0)

    assert kept_days(days, warm) <= kept_days(days, usual) + 1e-6


@given(DAYS, STORES)
def test_thin_plastic_keeps_two_to_four_months_at_most(days: float, celsius: float):
    found = kept_days(days, lambda _day: celsius, plastic=True)
    assert found <= PLASTIC_DAYS
    assert found <= kept_days(days, lambda _day: celsius) + 1e-6


def test_three_hot_weeks_cost_what_they_used_up():
    """21 days at 25 C use up 42; of 182.4 days 140.4 are left, at one a day."""
    assert kept_days(182.4, lambda day: 25.0 if day < 21 else 18.0) == pytest.approx(161.4)


@pytest.mark.parametrize("wrong", [float("nan"), -60.0, 61.0, 1e9])
def test_no_store_is_so_warm(wrong: float):
    with pytest.raises(ValueError, match="store"):
        store_factor(wrong)
