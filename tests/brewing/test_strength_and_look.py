"""Alcohol, bitterness, colour."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import alcohol, bitterness, colour

originals = st.floats(1.020, 1.110)


@given(originals, st.floats(0.1, 0.85))
def test_the_three_rules_agree_roughly(original: float, attenuation: float) -> None:
    """Balling lies up to 8 % above the duty table; the quick rule lies near both."""
    final = 1 + (original - 1) * (1 - attenuation)
    if (original - final) * 1000 > 100.7:
        return
    balling = alcohol.percent_by_volume(original, final)
    assert balling == pytest.approx(alcohol.duty_percent(original, final), rel=0.10, abs=0.06)
    assert balling == pytest.approx(alcohol.quick_percent(original, final), rel=0.09, abs=0.05)


@given(originals, st.floats(0.990, 1.019))
def test_lower_final_is_stronger(original: float, final: float) -> None:
    assert alcohol.percent_by_volume(original, final) > alcohol.percent_by_volume(original, final + 0.001)


def test_nothing_fermented_is_no_alcohol() -> None:
    assert alcohol.percent_by_volume(1.050, 1.050) == 0.0
    assert alcohol.duty_percent(1.050, 1.050) == 0.0
    assert alcohol.percent_from_priming(0) == 0.0


def test_priming_adds_about_a_third_of_a_per_cent() -> None:
    """6 g/L: 6 / 2.0665 = 2.90 g of alcohol, 3.68 ml in a litre."""
    assert alcohol.percent_from_priming(6.0) == pytest.approx(0.368, abs=0.001)
    assert alcohol.percent_from_priming(6.0, "dextrose") == pytest.approx(0.368 * 0.8636, abs=0.001)


@pytest.mark.parametrize(("country", "units"), [("UK", 2.5), ("US", 1.41), ("AU", 1.97), ("NZ", 1.97)])
def test_units_in_half_a_litre_of_five_per_cent(country: str, units: float) -> None:
    assert alcohol.drink_units(0.5, 5.0, country) == pytest.approx(units, abs=0.005)


@given(st.floats(0.01, 119), st.floats(1.0, 1.11))
def test_longer_and_thinner_boils_take_more_from_hops(minutes: float, sg: float) -> None:
    used = bitterness.utilisation(sg, minutes)
    assert 0 <= used < 0.4
    assert bitterness.utilisation(sg, minutes + 1) > used
    assert bitterness.utilisation(sg + 0.01, minutes) < used


def test_colour_of_a_malt() -> None:
    """1 lb of 10 degrees Lovibond in 1 US gallon is 10 MCU, 7.24 SRM, 14.3 EBC."""
    mcu = colour.mcu(0.45359237, 10, 3.785411784)
    assert mcu == pytest.approx(10)
    assert colour.ebc(colour.srm(mcu)) == pytest.approx(14.25, abs=0.02)


@given(st.floats(0, 159))
def test_more_malt_is_darker(mcu: float) -> None:
    assert colour.srm(mcu + 1) > colour.srm(mcu)
