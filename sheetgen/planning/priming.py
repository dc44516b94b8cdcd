"""Gas, sugar and pressure: the dose for each real bottle, and whether the weakest one stands it.

Comes in: a `Batch`, litres at bottling.  Goes out: `Carbonation`, or None for a still drink.  Practice
decides the dose (4.0 g of table sugar per litre and volume, from the gas left at the warmest temperature
since fermentation ended); theory decides the refusal (full yield of the printed grams, on top of the gas left
at the coolest).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetgen.brewing import carbonation, rounding
from sheetgen.model import Batch, Bottles, Container
from sheetgen.planning.dosing import Given, given, spoon_span, syrup, teaspoons
from sheetgen.planning.ladder import ladder
from sheetgen.planning.plan import Carbonation, Dose
from sheetgen.planning.pressure import is_above, pressures, verdict_of, what_ifs
from sheetgen.planning.work import rest_celsius
from sheetgen.records import record

EASY_TARGET = 2.4
"""A drink's own target above this falls to it when one-way glass is in the mix (cautious judgement, no
source).
"""
CARE_TARGET = 2.2
"""The most for returnable glass when the gate passed only with care (cautious judgement, no source)."""
SYRUP_ML_PER_G, SYRUP_MOST_ML = 10.0, 300.0
"""Water to boil the sugar of a whole batch in (common practice, no source).

It thins the gas by 6 % where 300 ml meet 5 L, by 3 % in 11 L.  No sugar is added for it: an eighth of a
litre and more boils away, nobody knows how much, and a dose that rests on water which is gone is too strong;
doses lean to less.  What it comes to stands in `Dose.volumes_practice`.
"""
LEAST_LITRES = 0.1


@record
class Sum:
    """What every bottle shares: the gas wanted, the gas left (at the warmest for the dose, at the coolest for
    the limit), sugar in g/L, and the water that syrup brings into the vessel, in ml/L.
    """

    target: float
    residual: float
    most_residual: float
    grams_per_litre: float
    water: float = 0.0


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
    room, or of the warmer place in which the drink stood at the end.  Days in the cold change nothing: gas
    that has gone does not come back.
    """
    if batch.actual.warmest is not None:
        return float(batch.actual.warmest)
    return max(float(batch.room.fermenting[0]), rest_celsius(batch) or 0.0)


def coolest_celsius(batch: Batch) -> float:
    """The coolest plausible temperature since fermentation ended; it leaves the most gas in the beer."""
    return min(warmest_celsius(batch), float(batch.room.fermenting[0]))


def sum_for(batch: Batch, target: float) -> Sum:
    """The shared part of the sum for so many volumes."""
    residual = carbonation.residual_volumes(warmest_celsius(batch))
    most = carbonation.residual_volumes(coolest_celsius(batch))
    return Sum(target, residual, most, carbonation.sugar_g_per_litre(target, residual, batch.sugar))


def _spoons_beside(batch: Batch, row: Bottles, exact: float, most_residual: float) -> float | None:
    """Level teaspoons; beside another way they are left out where a heaped spoon would be too much."""
    spoons = teaspoons(batch, exact)
    if spoons is None or batch.dosing == "teaspoons":
        return spoons
    heaped = spoon_span(0.0, most_residual, spoons, row.ml / 1000)[1]
    return None if is_above(heaped, float(row.kind.refuse or 0.0)) else spoons


def _usual(batch: Batch, row: Bottles, gives: Given, found: Sum) -> float:
    """The gas that a dose usually makes.  Syrup takes the place of drink, which brings less gas of its own;
    in bulk its water thins the sugar too.
    """
    added = carbonation.volumes_from_sugar(gives.grams * 1000 / row.ml, batch.sugar)
    if batch.dosing == "in-bulk":
        return (found.residual + added) / (1 + found.water / 1000)
    return found.residual * (1 - (gives.syrup_ml or 0.0) / row.ml) + added


def dose(batch: Batch, row: Bottles, found: Sum) -> Dose:
    """The sugar for one bottle of this size and kind, and what it makes."""
    litres = row.ml / 1000
    exact = found.grams_per_litre * litres
    gives = given(batch, row, exact)
    spoons = _spoons_beside(batch, row, exact, found.most_residual)
    span = spoon_span(found.residual, found.most_residual, spoons, litres) if spoons else (None, None)
    upper = found.most_residual + carbonation.volumes_from_sugar(gives.most / litres, batch.sugar, "upper")
    return Dose(
        ml=row.ml,
        kind=row.kind.id,
        count=row.count,
        grams_each=rounding.dose_grams(exact),
        grams_exact=exact,
        teaspoons_each=spoons,
        volumes_upper=upper,
        given_g=gives.grams,
        volumes_practice=_usual(batch, row, gives, found),
        warn_volumes=None if row.kind.warn is None else float(row.kind.warn),
        limit_volumes=None if row.kind.refuse is None else float(row.kind.refuse),
        verdict=verdict_of(upper, row.kind),
        teaspoons_low_volumes=span[0],
        teaspoons_high_volumes=span[1],
        syrup_ml=gives.syrup_ml,
        pieces_each=gives.pieces,
    )


def priming_to(batch: Batch, litres: float, target: float) -> Carbonation | None:
    """The whole sum for so many volumes; None for a drink without gas or without a single bottle that may be
    primed.
    """
    weakest = weakest_of(batch.bottles)
    if not batch.recipe.drink.primed or weakest is None:
        return None
    found = sum_for(batch, target)
    total = rounding.bulk_sugar_grams(found.grams_per_litre * litres)
    water = min(SYRUP_MOST_ML, rounding.millilitres(total * SYRUP_ML_PER_G))
    found = replace(found, water=water / max(litres, LEAST_LITRES))
    sizes = tuple(dose(batch, row, found) for row in batch.bottles)
    highest = max(size.volumes_upper for size in sizes)
    return Carbonation(
        target_volumes=target,
        warmest_c=warmest_celsius(batch),
        residual_volumes=found.residual,
        sugar=batch.sugar,
        dosing=batch.dosing,
        g_per_litre=found.grams_per_litre,
        total_g=total,
        syrup_water_ml=water,
        limit_volumes=float(weakest.refuse or 0.0),
        warn_volumes=float(weakest.warn or 0.0),
        weakest=weakest.id,
        highest_volumes=highest,
        pressures=pressures(highest),
        sizes=sizes,
        ladder=ladder(found.grams_per_litre, litres, batch.units),
        one_point_volumes=carbonation.volumes_from_points(1),
        syrup=syrup(batch, found.grams_per_litre, litres, sizes),
        piece_g=float(batch.piece) if batch.dosing == "pieces" and batch.piece else None,
        what_ifs=what_ifs(batch.bottles, sizes, found.most_residual, coolest_celsius(batch)),
    )


def priming(batch: Batch, litres: float, with_care: bool = False) -> Carbonation | None:
    """The sum for the target of this batch, which a careful pass holds down."""
    target = target_volumes(batch)
    return priming_to(batch, litres, min(target, CARE_TARGET) if with_care else target)
