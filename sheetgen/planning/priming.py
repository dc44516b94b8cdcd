"""Gas, sugar and pressure: the dose for each real bottle, and whether the weakest one stands it.

Comes in: a `Batch`, litres at bottling.  Goes out: `Carbonation`, or None for a still drink.  Practice
decides the dose (4.0 g of table sugar per litre and volume, from the gas left at the warmest temperature
since fermentation ended); theory decides the refusal (full yield of the printed grams, on top of the gas left
at the coolest).
"""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.brewing import carbonation, rounding
from sheetgen.model import Batch, Bottles, Container
from sheetgen.planning.plan import Carbonation, Dose, Pressure, Rung

EASY_TARGET = 2.4
"""A drink's own target above this falls to it when one-way glass is in the mix (cautious judgement, no
source).
"""
CARE_TARGET = 2.2
"""The most for returnable glass when the gate passed only with care (cautious judgement, no source)."""
TEASPOON_G = rounding.TEASPOON_GRAMS
SPOON_HEAPED = 1.2
"""A spoon may hold 20 % more than a level one."""
SYRUP_ML_PER_G, SYRUP_MOST_ML = 10.0, 300.0
PRESSURE_AT = (4.0, 20.0, 30.0, 40.0)
RUNGS_BELOW, RUNGS_ABOVE = 4, 2


def weakest_of(bottles: Sequence[Bottles]) -> Container | None:
    """The kind with the lowest limit among those that may be primed at all."""
    limited = [row.kind for row in bottles if row.kind.refuse is not None]
    return min(limited, key=lambda kind: (kind.refuse or 0.0, kind.warn or 0.0, kind.id), default=None)


def target_volumes(batch: Batch) -> float:
    """The gas that is wanted: the file's, else the recipe's or the drink's, eased for one-way glass."""
    if batch.carbonation is not None:
        return float(batch.carbonation)
    wanted = float(batch.recipe.carbonation or batch.recipe.drink.target)
    if any(row.kind.id == "one-way glass" for row in batch.bottles):
        return min(wanted, EASY_TARGET)
    return wanted


def warmest_celsius(batch: Batch) -> float:
    """The warmest temperature since fermentation ended: the file's, else the cooler end of the fermenting
    room.
    """
    return float(batch.actual.warmest if batch.actual.warmest is not None else batch.room.fermenting[0])


def coolest_celsius(batch: Batch) -> float:
    """The coolest plausible temperature since fermentation ended; it leaves the most gas in the beer."""
    return min(warmest_celsius(batch), float(batch.room.fermenting[0]))


def spoon_grams(quarters: float) -> float:
    """Grams in so many level teaspoons of table sugar."""
    return quarters * TEASPOON_G


def is_above(volumes: float, limit: float) -> bool:
    """Whether the gas is above a container's limit, compared in whole thousandths of a volume; at it is not
    above.
    """
    return round(volumes * 1000) > round(limit * 1000)


def _teaspoons(batch: Batch, exact: float, litres: float, residual: float, limit: float) -> float | None:
    """Level teaspoons; beside a weight they are left out where a heaped spoon would be too much."""
    if batch.sugar != "table sugar":
        return None
    spoons = rounding.teaspoons(exact, TEASPOON_G)
    if spoons <= 0:
        return None
    if batch.dosing == "teaspoons":
        return spoons
    heaped = carbonation.volumes_from_sugar(spoon_grams(spoons) * SPOON_HEAPED / litres, batch.sugar, "upper")
    return None if is_above(residual + heaped, limit) else spoons


def _most_grams(batch: Batch, row: Bottles, printed: float, exact: float, spoons: float | None) -> float:
    """The most sugar that a bottle may get: as printed; mixed in bulk the exact share; spooned into glass 20
    % more.
    """
    if batch.dosing == "in-bulk":
        return exact
    if batch.dosing == "weight" or spoons is None:
        return printed
    return spoon_grams(spoons) * (SPOON_HEAPED if row.kind.glass else 1.0)


def dose(batch: Batch, row: Bottles, grams_per_litre: float, residual: float) -> Dose:
    """The sugar for one bottle of this size and kind."""
    litres = row.ml / 1000
    exact = grams_per_litre * litres
    printed = rounding.dose_grams(exact)
    limit = float(row.kind.refuse if row.kind.refuse is not None else 0.0)
    spoons = _teaspoons(batch, exact, litres, residual, limit)
    most = _most_grams(batch, row, printed, exact, spoons)
    upper = residual + carbonation.volumes_from_sugar(most / litres, batch.sugar, "upper")
    return Dose(row.ml, row.kind.id, row.count, printed, exact, spoons, upper)


def ladder(grams_per_litre: float, litres: float) -> tuple[Rung, ...]:
    """Sugar for the whole vessel, by the litres that are really in it; grams rounded down."""
    step = rounding.ladder_step(litres)
    middle = rounding.nearest_to(litres, step)
    rungs = [middle + step * offset for offset in range(-RUNGS_BELOW, RUNGS_ABOVE + 1)]
    return tuple(
        Rung(round(rung, 2), rounding.down_to(grams_per_litre * rung, 1.0)) for rung in rungs if rung > 0
    )


def pressures(volumes: float) -> tuple[Pressure, ...]:
    """Gauge pressure of the fullest bottle at fridge, room, warm and hot, with sealed-in air as the upper
    bound.
    """
    return tuple(
        Pressure(
            celsius,
            carbonation.gauge_bar(volumes, celsius),
            carbonation.gauge_bar(volumes, celsius, with_air=True),
        )
        for celsius in PRESSURE_AT
    )


def priming(batch: Batch, litres: float, with_care: bool = False) -> Carbonation | None:
    """The whole sum; None for a drink without gas or without a single bottle that may be primed."""
    weakest = weakest_of(batch.bottles)
    if not batch.recipe.drink.primed or weakest is None:
        return None
    target = target_volumes(batch)
    if with_care:
        target = min(target, CARE_TARGET)
    residual = carbonation.residual_volumes(warmest_celsius(batch))
    most_residual = carbonation.residual_volumes(coolest_celsius(batch))
    per_litre = carbonation.sugar_g_per_litre(target, residual, batch.sugar)
    sizes = tuple(dose(batch, row, per_litre, most_residual) for row in batch.bottles)
    highest = max(size.volumes_upper for size in sizes)
    total = rounding.down_to(per_litre * litres, 1.0)
    return Carbonation(
        target_volumes=target,
        warmest_c=warmest_celsius(batch),
        residual_volumes=residual,
        sugar=batch.sugar,
        dosing=batch.dosing,
        g_per_litre=per_litre,
        total_g=total,
        syrup_water_ml=min(SYRUP_MOST_ML, rounding.millilitres(total * SYRUP_ML_PER_G)),
        limit_volumes=float(weakest.refuse or 0.0),
        warn_volumes=float(weakest.warn or 0.0),
        weakest=weakest.id,
        highest_volumes=highest,
        pressures=pressures(highest),
        sizes=sizes,
        ladder=ladder(per_litre, litres),
        one_point_volumes=carbonation.volumes_from_points(1),
    )
