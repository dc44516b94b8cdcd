"""Each formula answers at both ends of its range, and refuses a step beyond with the range in its message."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sheetgen.brewing import (
    alcohol,
    bitterness,
    carbonation,
    colour,
    fermentation,
    gravity,
    growth,
    heat,
    losses,
    rounding,
    yeast,
)

WATER = [heat.Part(1.0, 20.0)]
MALT = [gravity.Part(500.0, 0.68, 0.76)]

# A function of one number; the ends of its range; how far beyond is out.
ENDS: list[tuple[str, Callable[[float], object], float, float, float]] = [
    ("plato_of", gravity.plato_of, 0.980, 1.130, 0.001),
    ("sg_of", gravity.sg_of, -5.26, 30.15, 0.01),
    ("points_of", gravity.points_of, 0.900, 1.200, 0.001),
    ("points_per_kilogram", gravity.points_per_kilogram, 20, 300, 1),
    ("ten_thousandths", gravity.ten_thousandths, 0.900, 1.200, 0.001),
    ("reading", lambda x: gravity.corrected_reading(x, 20), 0.970, 1.170, 0.001),
    ("reading at", lambda x: gravity.corrected_reading(1.01, x), 0, 40, 0.1),
    ("calibration", lambda x: gravity.corrected_reading(1.01, 20, x), 4, 30, 0.1),
    ("in water", lambda x: gravity.corrected_reading(1.01, 20, 20, x), 0.985, 1.015, 0.001),
    ("ceiling", lambda x: gravity.ceiling(x, 0.990), 1.000, 1.130, 0.001),
    ("ceiling high", lambda x: gravity.ceiling(1.050, x), 0.980, 1.050, 0.001),
    ("litres", lambda x: gravity.original(MALT, x), 500 / 130, 1000, 0.1),
    ("original", lambda x: alcohol.percent_by_volume(x, 1.000), 1.000, 1.130, 0.001),
    ("final", lambda x: alcohol.percent_by_volume(1.050, x), 0.980, 1.050, 0.001),
    ("duty", lambda x: alcohol.duty_percent(1.100, x), 1.000, 1.100, 0.001),
    ("degrees lost", lambda x: alcohol.duty_percent(x, 1.000), 1.000, 1.1007, 0.0001),
    ("quick", lambda x: alcohol.quick_percent(1.050, x), 0.980, 1.050, 0.001),
    ("priming alcohol", alcohol.percent_from_priming, 0, 50, 0.1),
    ("drink", lambda x: alcohol.drink_units(x, 5, "UK"), 0, 1000, 1),
    ("drink strength", lambda x: alcohol.drink_units(1, x, "UK"), 0, 25, 0.1),
    ("boil", lambda x: bitterness.utilisation(x, 60), 1.000, 1.130, 0.001),
    ("minutes", lambda x: bitterness.utilisation(1.05, x), 0, 120, 1),
    ("hops", lambda x: bitterness.ibu(x, 5, 60, 20, 1.05), 0, 10_000, 1),
    ("alpha", lambda x: bitterness.ibu(20, x, 60, 20, 1.05), 0, 25, 0.1),
    ("mcu", colour.srm, 0, 160, 0.1),
    ("ebc", colour.ebc, 0, 100, 0.1),
    ("lovibond", lambda x: colour.mcu(1, x, 10), 0, 700, 1),
    ("solubility", carbonation.moles_per_litre_atm, 0, 45, 0.1),
    ("residual", carbonation.residual_volumes, 0, 45, 0.1),
    ("target", lambda x: carbonation.sugar_g_per_litre(x, 0.85), 0, 6, 0.1),
    ("residual gas", lambda x: carbonation.sugar_g_per_litre(2.4, x), 0, 2, 0.01),
    ("sugar", carbonation.volumes_from_sugar, 0, 200, 0.1),
    ("points left", carbonation.volumes_from_points, 0, 130, 0.1),
    ("gas", lambda x: carbonation.gauge_bar(x, 20), 0, 10, 0.1),
    ("warm bottle", lambda x: carbonation.gauge_bar(2.5, x), 0, 45, 0.1),
    ("density", heat.water_kg_per_litre, 0, 100, 0.1),
    ("heat", heat.kilojoules_per_kilogram, 0, 100, 0.1),
    ("vapour", heat.water_vapour_bar, 0, 100, 0.1),
    ("altitude", heat.boiling_celsius, -450, 5000, 1),
    ("part", lambda x: heat.Part(1, x), 0, 100, 0.1),
    ("target mix", lambda x: heat.celsius_for(WATER, [heat.Part(1, 0)], x), 10, 59.8, 0.5),
    ("ice", lambda x: heat.ice_kilograms(WATER, x), 0, 100, 0.1),
    ("cooling", lambda x: heat.hours_to_cool(x, 90, 30, 18), 0.5, 100, 0.1),
    ("model", lambda x: fermentation.hours_until(0.5, x), 4, 30, 0.1),
    ("sugar left", lambda x: fermentation.hours_until(x, 20), 0.0001, 1, 0.00005),
    ("room", fermentation.ferment_factor, 14, 30, 0.1),
    ("wide room", lambda x: fermentation.ferment_factor(x, 8, 40), 8, 40, 0.1),
    ("fizz", fermentation.fizz_days, 14, 30, 0.1),
    ("strength", fermentation.strength_days, 1.000, 1.130, 0.001),
    ("gap", fermentation.gap_days, 4, 40, 0.1),
    ("yeast", lambda x: yeast.grams(x, 1.05), 0.5, 1000, 0.1),
    ("yeast strength", lambda x: yeast.grams(10, x), 1.000, 1.130, 0.001),
    ("expired", yeast.condition_factor, -10_000, 365, 1),
    ("sachets", lambda x: yeast.sachets(x, 11.5), 0.1, 5000, 0.05),
    ("sediment", losses.sediment_litres, 0.5, 1000, 0.1),
    ("readings", losses.sample_litres, 0, 100, 1),
    ("dry hops", losses.dry_hop_litres, 0, 10_000, 1),
    ("rackings", lambda x: losses.racking_litres(10, int(x)), 0, 10, 1),
    ("teaspoons", rounding.teaspoons, 0, 1000, 1),
    ("ladder", rounding.ladder_step, 0, 1000, 1),
]


@pytest.mark.parametrize(
    ("function", "low", "high", "step"), [row[1:] for row in ENDS], ids=[r[0] for r in ENDS]
)
def test_ends(function: Callable[[float], object], low: float, high: float, step: float) -> None:
    for inside in (low, (low + high) / 2, high):
        function(inside)
    for outside in (low - step, high + step):
        with pytest.raises(ValueError, match=r"outside|cannot be reached"):
            function(outside)
    with pytest.raises((ValueError, TypeError)):
        function(float("nan"))


WORDS: list[tuple[Callable[[], object], str]] = [
    (lambda: carbonation.sugar_g_per_litre(2.4, 0.9, "cubes"), "table sugar, dextrose"),
    (lambda: carbonation.volumes_from_sugar(6, bound="theory"), "practice, upper"),  # type: ignore[arg-type]
    (lambda: alcohol.drink_units(1, 5, "XX"), "UK, US, AU, NZ"),
    (lambda: heat.Part(1, 20, "beer"), "water, malt syrup, dry solids"),
    (lambda: heat.hours_to_cool(5, 90, 30, 18, "snow"), "air, bath"),
    (lambda: yeast.grams(10, 1.05, "bread"), "ale, lager, wine"),  # type: ignore[arg-type]
    (lambda: fermentation.gap_days(20, "sour"), "ordinary, mead, still"),  # type: ignore[arg-type]
    (lambda: growth.rate_constant("VX", 15), "VG, VM, VN"),
]


@pytest.mark.parametrize(("call", "known"), WORDS, ids=[known for _, known in WORDS])
def test_unknown_words_name_the_known_ones(call: Callable[[], object], known: str) -> None:
    with pytest.raises(ValueError, match="is not one of") as error:
        call()
    assert known in str(error.value)


def test_message_names_value_range_and_unit() -> None:
    with pytest.raises(ValueError, match=r"room 13\.9 is outside 14 to 30 C"):
        fermentation.ferment_factor(13.9)


def test_a_mix_of_nothing() -> None:
    with pytest.raises(ValueError, match="mass 0"):
        heat.mixed_celsius([])


@pytest.mark.parametrize(("start", "target", "around"), [(90, 18, 18), (90, 10, 18), (18, 10, 18)])
def test_cooling_past_the_surroundings(start: float, target: float, around: float) -> None:
    with pytest.raises(ValueError, match="above its surroundings"):
        heat.hours_to_cool(10, start, target, around)
