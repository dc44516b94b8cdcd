"""How strong: original gravity, the expected finish, the ceiling, alcohol, bitterness and colour.

Comes in: a `Batch` and its `Scaled` amounts.  Goes out: `Strength`.  The range that the gate works with
rests on the lower of the calculated and the measured original gravity, so a high reading never raises the
ceiling.  A reading that is far off (see `LAYERED`) is not believed: malt was weighed, and wort that is not
mixed reads low at the top; a warning asks whether more water went in, which `actual: litres` tells.
"""

from __future__ import annotations

from sheetgen.brewing import alcohol, bitterness, colour, gravity, rounding
from sheetgen.model import Added, Batch, PantryItem
from sheetgen.planning.drink_limits import dry_range
from sheetgen.planning.plan import GravityRange, WaterPlan
from sheetgen.planning.scaling import Scaled
from sheetgen.records import record

STRONG_SG, STRONG_FULL = 1.060, 0.75
"""From where on wort counts as strong (common practice, no source)."""
MOST_POINTS = 129.99
"""Wort above 1.130 is beyond the formulas: it is reckoned as 1.130, and a rule stops it."""
MOST_LITRES = 1000.0
"""What the formulas go up to; additions beyond it are reckoned as far as that."""
MOST_DUTY = 0.1007
"""The duty table's last line: gravity lost, as SG."""
LAYERED = 0.006
"""A measured original gravity this far from the calculated one speaks of wort that was not mixed (common
practice, no source): the calculated one is kept.
"""


@record
class Strength:
    """Gravities of the batch: calculated; the one believed; lowest and highest that the extract's spread
    allows; the corrected reading of brew day, if any; the expected finish and the ceiling.
    """

    calculated: float
    original: float
    low: float
    high: float
    measured: float | None
    finish: GravityRange
    ceiling: float

    @property
    def strongest(self) -> float:
        """The higher of the calculated and the believed gravity: what days and waits are reckoned with."""
        return max(self.calculated, self.original)

    @property
    def layered(self) -> bool:
        """Whether the reading on brew day cannot be right."""
        return self.measured is not None and abs(self.measured - self.calculated) > LAYERED + 1e-9


def vessel_full(batch: Batch, found: Strength) -> float:
    """How full a vessel may be without a warning: strong wort foams as high as wheat does."""
    full = batch.recipe.drink.vessel_full
    return min(full, STRONG_FULL) if found.calculated > STRONG_SG + 1e-9 else full


def quantity_of(item: PantryItem, amount: float) -> float:
    """Kilograms, or litres of a juice: what the pantry's points count by."""
    return amount / 1000 if item.unit in ("g", "ml") else 0.0


def _added(batch: Batch) -> list[Added]:
    return [entry for entry in batch.actual.added if entry.what is not None]


def gravity_parts(batch: Batch, scaled: Scaled) -> list[gravity.Part]:
    """What brings sugar: the recipe's ingredients, then what was added later."""
    pairs = [(part.item, use.amount) for part, use in zip(scaled.ingredients, scaled.uses, strict=True)]
    pairs += [(entry.what, entry.amount) for entry in _added(batch) if entry.what is not None]
    points = sum(quantity_of(item, amount) * item.points for item, amount in pairs)
    share = min(1.0, MOST_POINTS * MOST_LITRES / points) if points else 1.0
    return [
        gravity.Part(quantity_of(item, amount) * item.points * share, *item.attenuation)
        for item, amount in pairs
        if item.points > 0
    ]


def added_litres(batch: Batch) -> float:
    """Litres that late additions brought along."""
    return sum(
        quantity_of(entry.what, entry.amount) * entry.what.litres_each
        for entry in _added(batch)
        if entry.what
    )


def _scaled_range(finish: gravity.FinalRange, original: float, calculated: float) -> GravityRange:
    share = (original - 1) / (calculated - 1) if calculated > 1 else 1.0
    low, expected, high = (1 + (value - 1) * share for value in (finish.low, finish.expected, finish.high))
    return GravityRange(round(low, 6), round(expected, 6), round(high, 6))


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
    return gravity.final_range(parts, litres)


def _points_range(scaled: Scaled, litres: float) -> tuple[float, float]:
    pairs = [
        (part.item, quantity_of(part.item, use.amount))
        for part, use in zip(scaled.ingredients, scaled.uses, strict=True)
    ]
    low = sum(kilograms * item.points_range[0] for item, kilograms in pairs)
    high = sum(kilograms * item.points_range[1] for item, kilograms in pairs)
    return 1 + low / litres / 1000, 1 + high / litres / 1000


def strength(batch: Batch, scaled: Scaled) -> Strength:
    """Gravity at the start and at the end, from ingredients, volume and the reading on brew day.

    The top of the range is a limit: after the ceiling was worked out from it, it is rounded down to the 0.001
    that paper shows, so that a pencil and the gate agree.
    """
    parts = gravity_parts(batch, scaled)
    held = min(MOST_LITRES, scaled.litres + added_litres(batch))
    litres = max(held, sum(part.points for part in parts) / MOST_POINTS)
    calculated = gravity.original(parts, litres)
    low, high = _points_range(scaled, litres)
    measured = measured_original(batch)
    believable = measured is not None and abs(measured - calculated) <= LAYERED + 1e-9
    original = measured if believable and measured is not None else calculated
    careful = min(original, calculated)
    finish = _finish(batch, parts, litres)
    if batch.recipe.drink.ferments_out:
        span, ceiling = GravityRange(finish.low, finish.expected, finish.high), finish.high
    else:
        span = _scaled_range(finish, careful, calculated)
        ceiling = gravity.ceiling(careful, span.high)
        top = rounding.ceiling_sg(span.high)
        span = GravityRange(min(span.low, top), min(span.expected, top), top)
    return Strength(calculated, original, low, high, measured, span, ceiling)


def percent(found: Strength, priming_g_per_litre: float, sugar: str) -> tuple[float, float, float]:
    """Strength in % vol: by extract balance with the priming sugar, by the duty table, and priming's
    share.
    """
    from_priming = (
        alcohol.percent_from_priming(priming_g_per_litre, sugar) if priming_g_per_litre > 0 else 0.0
    )
    final = min(found.original, found.finish.expected)
    balance = alcohol.percent_by_volume(found.original, final)
    duty = alcohol.duty_percent(found.original, max(final, found.original - MOST_DUTY))
    return balance + from_priming, duty, from_priming


def bitterness_ibu(scaled: Scaled, water: WaterPlan) -> float | None:
    """Estimated bitterness, only when every boiled hop states its alpha acid and the recipe is boiled."""
    pairs = [
        (part, use)
        for part, use in zip(scaled.ingredients, scaled.uses, strict=True)
        if part.item.role == "hops" and part.when.stage == "boil"
    ]
    if not pairs or water.pot_gravity is None or any(part.alpha_percent is None for part, _ in pairs):
        return None
    boil_sg, litres = min(1.130, water.pot_gravity), scaled.litres
    return sum(
        bitterness.ibu(
            use.amount, min(25.0, part.alpha_percent or 0.0), min(120.0, part.when.minutes), litres, boil_sg
        )
        for part, use in pairs
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
