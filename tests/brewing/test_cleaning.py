"""Litres by the work, and doses that can be measured and are never weak."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import cleaning

SYRINGE = ((15.0, 0.5), (60.0, 1.0), (1000.0, 5.0), (1e9, 10.0))
SPOONS = ((30.0, 2.5), (60.0, 7.5), (1e9, 5.0))


@pytest.mark.parametrize(("holds", "litres"), [(5, 2), (20, 2), (25, 2.5), (80, 8)])
def test_a_vessel_is_swirled_with_a_tenth_of_it(holds: float, litres: float) -> None:
    assert cleaning.vessel_litres(holds) == litres


@pytest.mark.parametrize(("bottles", "litres"), [(0, 0), (1, 3), (50, 3), (60, 3.6), (200, 12)])
def test_bottles_share_what_goes_from_one_to_the_next(bottles: int, litres: float) -> None:
    assert cleaning.bottles_litres(bottles) == pytest.approx(litres)


@pytest.mark.parametrize(("vessel", "litres"), [(8, 4), (12, 4), (15, 4), (25, 4.5), (30, 5), (80, 10)])
def test_litres_on_brew_day(vessel: float, litres: float) -> None:
    """A bowl of 2 L more, up to half litres."""
    assert cleaning.brew_day_litres(vessel) == litres


@pytest.mark.parametrize(
    ("bottles", "vessel", "litres"),
    [(10, 0, 5), (40, 0, 5), (61, 0, 6), (200, 0, 14), (40, 25, 5), (40, 40, 6), (0, 0, 2), (200, 80, 14)],
)
def test_litres_on_bottling_day(bottles: int, vessel: float, litres: float) -> None:
    """What a bottling vessel was swirled with goes on into the bottles."""
    assert cleaning.bottling_day_litres(bottles, vessel) == litres


@pytest.mark.parametrize(
    ("rate", "litres", "dose", "water"),
    [
        (1.5, 4, 6, 4),
        (1.5, 5.5, 8, 5.5),  # 8.25 down to 8: 97 %
        (0.7, 4, 3, 4.5),  # 2.8 would be 2.5: 89 %, and 3 is 107 %; 3.15 in 4.5 L is 3: 95.2 %
        (0.7, 5, 3.5, 5),
        (4, 14, 56, 14),
        (0.05, 4, 0.5, 10),  # half a millilitre is the least that a syringe measures
    ],
)
def test_a_dose_for_a_syringe(rate: float, litres: float, dose: float, water: float) -> None:
    assert cleaning.measured_mix(rate, litres, SYRINGE) == (dose, water)


@pytest.mark.parametrize(
    ("rate", "litres", "dose", "water"), [(1.5, 4, 7.5, 5), (1.5, 6, 10, 6.5), (4, 4.5, 17.5, 4.5)]
)
def test_a_dose_for_spoons(rate: float, litres: float, dose: float, water: float) -> None:
    assert cleaning.measured_mix(rate, litres, SPOONS) == (dose, water)


@given(
    rate=st.floats(0.05, 100),
    halves=st.integers(4, 120),
    steps=st.sampled_from([SYRINGE, SPOONS]),
    least=st.sampled_from([0.95, 0.965]),
)
def test_it_is_never_weak_never_strong_and_never_too_little(
    rate: float, halves: int, steps: cleaning.Steps, least: float
) -> None:
    dose, water = cleaning.measured_mix(rate, halves / 2, steps, least)
    assert least - 1e-6 <= dose / (rate * water) <= 1.03 + 1e-6
    assert water >= halves / 2
    assert (water * 2).is_integer()
    count = dose / cleaning.step_of(rate * water, steps)
    assert count == pytest.approx(round(count))


@given(st.floats(0.1, 1000), st.floats(0.1, 1000))
def test_a_larger_vessel_never_takes_less(one: float, other: float) -> None:
    small, large = sorted((one, other))
    assert cleaning.brew_day_litres(small) <= cleaning.brew_day_litres(large)


def test_what_cannot_be_is_refused() -> None:
    for call in (
        lambda: cleaning.vessel_litres(0),
        lambda: cleaning.bottles_litres(-1),
        lambda: cleaning.measured_mix(0, 4, SYRINGE),
        lambda: cleaning.measured_mix(1, 0, SYRINGE),
        lambda: cleaning.measured_mix(1, 4, SYRINGE, 0.1),
    ):
        with pytest.raises(ValueError, match=r"outside|range"):
            call()
