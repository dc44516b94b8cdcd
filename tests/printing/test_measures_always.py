"""A number on paper, read back by somebody with the other units: off by no more than its last digit says.

Every kind of number in metric, US and UK units.  A number to the nearest is off by at most half of its last
printed step; one that leans (a dose, bulk sugar, a pressure) by less than one, and only to its safe side.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.printing import measures

QUICK = settings(max_examples=150, deadline=None)
SYSTEMS = st.sampled_from(measures.SYSTEMS)
DUST = 1e-7

GALLON = {"US": 3.785411784, "UK": 4.54609}
FLUID_OUNCE = {"US": 29.5735295625, "UK": 28.4130625}
BASE = {
    "L": 1.0, "US gal": GALLON["US"], "UK gal": GALLON["UK"], "US qt": GALLON["US"] / 4,
    "UK pt": GALLON["UK"] / 8, "US fl oz": FLUID_OUNCE["US"] / 1000, "UK fl oz": FLUID_OUNCE["UK"] / 1000,
    "g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237, "ml": 0.001, "bar": 1.0, "psi": 0.0689475729,
    "mm": 1.0, "in": 25.4,
}  # fmt: skip
SPOON = {"US": 4.92892159375e-3, "UK": 5e-3, "metric": 5e-3}
QUARTERS = {"¼": 0.25, "½": 0.5, "¾": 0.75}
NUMBER = re.compile(r"(\d*\.?\d*)([¼½¾]?)")


def read_back(figures: str) -> float:
    """Figures as a person reads them: 1.5, 3½."""
    found = NUMBER.fullmatch(figures)
    assert found, figures
    assert figures, "nothing printed"
    return float(found[1] or 0) + QUARTERS.get(found[2], 0.0)


def last_step(figures: str) -> float:
    """The least that could have been printed more or less, by the digits that stand there."""
    if figures[-1] in QUARTERS:
        return 0.25
    return 10.0 ** -len(figures.partition(".")[2])


def in_base(found: measures.Measure, system: str) -> float:
    """The printed number in our base units: grams, litres, bar, C."""
    if " lb " in f" {found.figures}" or found.unit == "lb":
        pounds, _, ounces = found.figures.partition(" lb ")
        return float(pounds) * BASE["lb"] + (read_back(ounces) if ounces else 0.0) * BASE["oz"]
    value = read_back(found.figures)
    if found.unit.endswith("tbsp"):
        return value * 3 * SPOON[found.unit.split()[0]]
    if found.unit == "tsp":
        return value * SPOON["US" if system == "us" else "metric"]
    return value * BASE[found.unit]


# The steps that each kind of number is meant to have, in base units.


def step_of_litres(litres: float, system: str) -> float:
    if system == "metric":
        return 0.1 if litres < 10 else 0.25 if litres < 30 else 0.5
    gallon = GALLON[system.upper()]
    if litres < 0.25:
        return 0.1 * FLUID_OUNCE[system.upper()] / 1000
    if litres < gallon:
        return 0.1 * gallon / (4 if system == "us" else 8)
    return (0.1 if litres <= 10 * gallon else 0.25) * gallon


def step_of_mass(grams: float, system: str) -> float:
    ounces = grams / BASE["oz"]
    if system == "metric" or ounces < 0.01:
        return 0.1 if grams < 10 else 1 if grams < 100 else 5 if grams < 1000 else 10
    return (0.01 if ounces < 0.1 else 0.05 if ounces < 1 else 0.1 if ounces < 15.95 else 0.25) * BASE["oz"]


@QUICK
@given(st.floats(0.05, 100), SYSTEMS)
def test_litres(litres: float, system: str):
    found = in_base(measures.litres(litres, system), system)
    assert abs(found - litres) <= step_of_litres(litres, system) / 2 + DUST


@QUICK
@given(st.floats(0.1, 50_000), SYSTEMS)
def test_mass(grams: float, system: str):
    found = in_base(measures.mass(grams, system), system)
    assert abs(found - grams) <= step_of_mass(grams, system) / 2 + 1e-4


@QUICK
@given(st.floats(0.1, 2000), SYSTEMS)
def test_sugar_for_a_whole_batch_is_never_more(grams: float, system: str):
    found = in_base(measures.bulk_sugar(grams, system), system)
    assert grams - 1.5 <= found <= grams + 1e-4


@QUICK
@given(st.floats(0.1, 60), SYSTEMS)
def test_a_dose_is_in_grams_and_never_more(grams: float, system: str):
    found = measures.dose(grams, system)
    assert found.unit == "g"
    assert grams - 0.1 < read_back(found.figures) <= grams + DUST


@QUICK
@given(st.floats(0.0, 12), SYSTEMS)
def test_pressure_is_never_less(bar: float, system: str):
    found = in_base(measures.bar(bar, system), system)
    step = BASE["psi"] if system == "us" else 0.1
    assert bar - 1e-4 <= found < bar + step + 1e-4


@QUICK
@given(st.integers(-100, 1000).map(lambda tenths: tenths / 10), SYSTEMS)
def test_degrees(celsius: float, system: str):
    found = measures.temperature(celsius, system)
    value = float(found.figures)
    back = (value - 32) / 1.8 if found.unit == "°F" else value
    assert abs(back - celsius) <= (0.5 / 1.8 if found.unit == "°F" else 0.5) + DUST


@QUICK
@given(st.integers(9800, 11300).map(lambda count: count / 10_000))
def test_gravity(sg: float):
    found = measures.gravity(sg, "metric").figures
    assert len(found) == 5
    assert abs(float(found) - sg) <= 0.0005 + DUST


@QUICK
@given(st.floats(2, 1500), SYSTEMS)
def test_small_volumes(ml: float, system: str):
    """By spoons: half a tablespoon at most, and at most an eighth off from a tablespoon up."""
    found = in_base(measures.millilitres(ml, system), system) * 1000
    if system == "metric":
        step = 0.5 if ml < 15 else 1 if ml < 60 else 5 if ml < 1000 else 10
        assert abs(found - ml) <= step / 2 + 1e-4
    else:
        spoon = SPOON["US" if system == "us" else "UK"] * 1000
        assert abs(found - ml) <= max(spoon / 4, 0.09 * ml) + 1e-4


@QUICK
@given(st.floats(0.1, 1e15), SYSTEMS, st.sampled_from(sorted(measures.KINDS)))
def test_no_number_is_too_large_to_be_written(value: float, system: str, kind: str):
    """Absurd numbers stand in the sentences that refuse them."""
    figures, _unit = measures.KINDS[kind](value, system)
    assert figures


@QUICK
@given(st.floats(1, 50_000), SYSTEMS)
def test_no_more_digits_are_printed_than_are_meant(grams: float, system: str):
    """The last digit on paper is no finer than the step: 2.35 kg may stand for ten grams, never for one."""
    found = measures.mass(grams, system)
    if " lb " in found.figures or found.unit == "lb":
        return
    assert last_step(found.figures) * BASE[found.unit] >= step_of_mass(grams, system) / 5.1 - DUST


@pytest.mark.parametrize(
    ("litres", "system", "printed"),
    [
        (12.1, "metric", "12 L"),
        (12.13, "metric", "12.25 L"),
        (9.96, "metric", "10 L"),
        (30.2, "metric", "30 L"),
        (18.93, "us", "5 US gal"),
        (3.5, "us", "3.7 US qt"),
        (3.5, "uk", "6.2 UK pt"),
        (0.1, "us", "3.4 US fl oz"),
    ],
)
def test_litres_as_they_are_printed(litres: float, system: str, printed: str):
    assert " ".join(measures.litres(litres, system)) == printed


@QUICK
@given(st.lists(st.floats(0.5, 30), min_size=2, max_size=4), SYSTEMS)
def test_a_sum_of_litres_is_off_by_no_more_than_the_last_digits_of_its_parts(parts: list[float], system: str):
    printed = [in_base(measures.litres(part, system), system) for part in parts]
    slack = sum(step_of_litres(part, system) for part in [*parts, sum(parts)]) / 2
    total = in_base(measures.litres(sum(parts), system), system)
    assert abs(sum(printed) - total) <= slack + DUST
