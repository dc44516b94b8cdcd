"""How strong: original gravity, the expected finish, the ceiling, alcohol and colour.

Comes in: a `Batch` and its `Scaled` amounts.  Goes out: `Strength`.  The range that the gate works with
rests on the lower of the calculated and the measured original gravity, so a high reading never raises the
ceiling.  A reading that is far off (see `LAYERED`) is not believed: malt was weighed, and wort that is not
mixed reads low at the top; a warning says what else it may mean.  The reading of brew day is held against
what was in the fermenter on brew day; what goes in later comes on top.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from sheetgen.brewing import alcohol, colour, gravity, rounding
from sheetgen.model import Batch, PantryItem
from sheetgen.planning.additions import MOST_LITRES, added_amounts, is_later, quantity_of
from sheetgen.planning.drink_limits import dry_range
from sheetgen.planning.plan import DrinkUnits, Gate, GravityRange
from sheetgen.planning.scaling import Scaled
from sheetgen.records import record

STRONG_SG, STRONG_FULL = 1.060, 0.75
"""From where on wort counts as strong (common practice, no source)."""
MOST_POINTS = 129.99
"""Wort above 1.130 is beyond the formulas: it is reckoned as 1.130, and a rule stops it."""
MOST_DUTY = 0.1007
"""The duty table's last line: gravity lost, as SG."""
LAYERED = 0.006
"""A measured original gravity this far from the calculated one speaks of wort that was not mixed (common
practice, no source): the calculated one is kept.
"""
UNIT_NAMES = {"UK": "unit", **dict.fromkeys(("US", "AU", "NZ", "FR", "DE"), "standard drink")}

Amounts = list[tuple[PantryItem, float]]


@record
class Strength:
    """Gravities of the batch: calculated; the one believed; lowest and highest that the extract's spread
    allows; the corrected reading of brew day, if any; the expected finish and the ceiling.

    `brewed` is what was calculated for brew day, before anything that goes in later: the reading is held
    against it.
    """

    calculated: float
    original: float
    low: float
    high: float
    measured: float | None
    finish: GravityRange
    ceiling: float
    brewed: float

    @property
    def strongest(self) -> float:
        """The higher of the calculated and the believed gravity: what days and waits are reckoned with."""
        return max(self.calculated, self.original)

    @property
    def first(self) -> float:
        """The gravity believed on brew day, before anything that goes in later."""
        return self.brewed if self.measured is None or self.layered else self.measured

    @property
    def layered(self) -> bool:
        """Whether the reading on brew day cannot be right."""
        return self.measured is not None and not believable(self.measured, self.brewed)


def believable(measured: float, calculated: float) -> bool:
    """Whether a reading of brew day is near enough to what was weighed."""
    return abs(measured - calculated) <= LAYERED + 1e-9


def vessel_full(batch: Batch, found: Strength) -> float:
    """How full a vessel may be without a warning: strong wort foams as high as wheat does."""
    full = batch.recipe.drink.vessel_full
    return min(full, STRONG_FULL) if found.calculated > STRONG_SG + 1e-9 else full


def brewed_amounts(scaled: Scaled) -> Amounts:
    """What is in the fermenter on brew day, by pantry item."""
    pairs = zip(scaled.ingredients, scaled.uses, strict=True)
    return [(part.item, use.amount) for part, use in pairs if not is_later(part)]


def later_amounts(batch: Batch, scaled: Scaled) -> Amounts:
    """What goes in after brew day: on a day of the recipe, or because somebody added it."""
    pairs = zip(scaled.ingredients, scaled.uses, strict=True)
    of_recipe = [(part.item, use.amount) for part, use in pairs if is_later(part)]
    return of_recipe + added_amounts(batch)


def _attenuation(batch: Batch, item: PantryItem) -> tuple[float, float]:
    """With the recipe's yeast, if it states a range of its own."""
    stated = batch.recipe.yeast.attenuation
    return gravity.attenuation_with_yeast(item.attenuation, stated) if stated else item.attenuation


def _share(amounts: Amounts) -> float:
    """How much of it to reckon with: all, unless even half of the most litres could not take it up."""
    points = sum(quantity_of(item, amount) * item.points for item, amount in amounts)
    return min(1.0, MOST_POINTS * MOST_LITRES / 2 / points) if points else 1.0


def gravity_parts(batch: Batch, amounts: Amounts, share: float = 1.0) -> list[gravity.Part]:
    """What brings sugar, so much of it."""
    return [
        gravity.Part(quantity_of(item, amount) * item.points * share, *_attenuation(batch, item))
        for item, amount in amounts
        if item.points > 0
    ]


def _reckoned_litres(parts: Iterable[gravity.Part], litres: float) -> float:
    """The litres to reckon with: more than there are, where the wort would be beyond the formulas."""
    return min(MOST_LITRES, max(litres, sum(part.points for part in parts) / MOST_POINTS))


def _gravity_of(parts: Sequence[gravity.Part], litres: float) -> float:
    return gravity.original(parts, _reckoned_litres(parts, litres))


def _times(parts: Iterable[gravity.Part], share: float) -> list[gravity.Part]:
    return [replace(part, points=part.points * share) for part in parts]


def measured_original(batch: Batch) -> float | None:
    """The reading on brew day, corrected for instrument and temperature."""
    actual, instrument = batch.actual, batch.equipment.hydrometer
    if actual.original_gravity is None:
        return None
    celsius = actual.original_celsius if actual.original_celsius is not None else batch.room.fermenting[0]
    read = gravity.corrected_reading(
        actual.original_gravity, celsius, instrument.calibrated, instrument.in_water
    )
    return max(1.0, read)


def _finish(batch: Batch, parts: list[gravity.Part], litres: float) -> gravity.FinalRange:
    if batch.recipe.drink.ferments_out:
        return dry_range(batch)
    return gravity.final_range(parts, _reckoned_litres(parts, litres))


def points_range(amounts: Amounts, litres: float) -> tuple[float, float]:
    """Lowest and highest original gravity that the ingredients' own spread allows."""
    low = sum(quantity_of(item, amount) * item.points_range[0] for item, amount in amounts)
    high = sum(quantity_of(item, amount) * item.points_range[1] for item, amount in amounts)
    return 1 + low / litres / 1000, 1 + high / litres / 1000


def _limits(batch: Batch, finish: gravity.FinalRange, careful: float) -> tuple[GravityRange, float]:
    """The range and the ceiling.

    The top of the range is a limit: after the ceiling was worked out from it, it is rounded down to the 0.001
    that paper shows, so that a pencil and the gate agree.
    """
    low, expected, high = (round(value, 6) for value in (finish.low, finish.expected, finish.high))
    if batch.recipe.drink.ferments_out:
        return GravityRange(low, expected, high), finish.high
    top = rounding.ceiling_sg(high)
    return GravityRange(min(low, top), min(expected, top), top), gravity.ceiling(careful, min(high, careful))


def strength(batch: Batch, scaled: Scaled) -> Strength:
    """Gravity at the start and at the end, from ingredients, volume and the reading on brew day."""
    first, then = brewed_amounts(scaled), later_amounts(batch, scaled)
    early, later = (gravity_parts(batch, amounts, _share([*first, *then])) for amounts in (first, then))
    brewed = _gravity_of(early, scaled.brewed_l)
    calculated = _gravity_of([*early, *later], scaled.litres)
    measured = measured_original(batch)
    share = 1.0
    if measured is not None and brewed > 1 and believable(measured, brewed):
        share = (measured - 1) / (brewed - 1)
    careful = [*_times(early, _careful_share(measured, brewed)), *later]
    finish = _finish(batch, careful, scaled.litres)
    span, ceiling = _limits(batch, finish, _gravity_of(careful, scaled.litres))
    low, high = points_range([*first, *then], _reckoned_litres([*early, *later], scaled.litres))
    return Strength(
        calculated=calculated,
        original=_gravity_of([*_times(early, share), *later], scaled.litres),
        low=low,
        high=high,
        measured=measured,
        finish=span,
        ceiling=ceiling,
        brewed=brewed,
    )


def _careful_share(measured: float | None, brewed: float) -> float:
    """What part of the calculated points the limits rest on: as many as were read, if those are fewer.

    A reading that is not believed lowers them as far as one that just is, so that the ceiling never rises
    while the reading falls.
    """
    if measured is None or brewed <= 1:
        return 1.0
    return min(1.0, max(measured - 1, brewed - 1 - LAYERED, 0.0) / (brewed - 1))


def measured_final(gate: Gate) -> float | None:
    """Where the drink ended, once the gate has passed it; None while that is only expected."""
    counted = [reading.corrected for reading in gate.readings if reading.counts]
    return counted[-1] if counted and gate.state in ("pass", "pass-with-care") else None


@record
class Alcohol:
    """Strength in % vol: by extract balance with the priming sugar, by the duty table and by the quick rule
    (both without it), priming's share; and the final gravity that they rest on.
    """

    balling: float
    duty: float
    quick: float
    from_priming: float
    final: float
    final_is: str


def alcohol_of(found: Strength, final: float, priming_g_per_litre: float, sugar: str) -> Alcohol:
    """The three rules side by side, for a drink that ends at `final`."""
    primed = alcohol.percent_from_priming(priming_g_per_litre, sugar) if priming_g_per_litre > 0 else 0.0
    ended = max(gravity.LOWEST_SG, min(found.original, final))
    balance = alcohol.percent_by_volume(found.original, ended)
    duty = alcohol.duty_percent(found.original, max(ended, found.original - MOST_DUTY))
    quick = alcohol.quick_percent(found.original, ended)
    return Alcohol(balance + primed, duty, quick, primed, ended, "expected")


def alcohol_at_the_end(found: Strength, gate: Gate, priming_g_per_litre: float, sugar: str) -> Alcohol:
    """From the last reading, once the gate has passed the drink; from the middle of the range before."""
    measured = measured_final(gate)
    final = found.finish.expected if measured is None else measured
    strong = alcohol_of(found, final, priming_g_per_litre, sugar)
    return replace(strong, final_is="expected" if measured is None else "measured")


def drink_units(percent: float, sizes: Iterable[float]) -> tuple[DrinkUnits, ...]:
    """What one bottle of each size (ml), and a litre, count for in each country that has such units."""
    counted = sorted({*sizes, 1000.0})
    return tuple(
        DrinkUnits(country, name, ml, alcohol.drink_units(ml / 1000, min(25.0, percent), country))
        for country, name in UNIT_NAMES.items()
        for ml in counted
    )


def colour_ebc(scaled: Scaled) -> float | None:
    """Estimated colour, only when the recipe states the colour of every extract and grain."""
    pairs = [
        (p, u)
        for p, u in zip(scaled.ingredients, scaled.uses, strict=True)
        if p.item.role in ("extract", "grain")
    ]
    if not pairs or any(part.colour_lovibond is None for part, _ in pairs):
        return None
    units = sum(
        colour.mcu(use.amount / 1000, min(700.0, part.colour_lovibond or 0.0), scaled.litres)
        for part, use in pairs
    )
    return colour.ebc(colour.srm(min(colour.LARGEST_MCU, units)))


def swatch(ebc: float | None) -> str:
    """How beer of that colour looks, as #rrggbb; nothing where the colour is not known."""
    if ebc is None:
        return ""
    red, green, blue = colour.red_green_blue(min(100.0, ebc / colour.ebc(1.0)))
    return f"#{red:02x}{green:02x}{blue:02x}"
