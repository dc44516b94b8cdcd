"""The ways of dosing: what a hand really gives to one bottle, by weight, spoon, syringe, piece, or in bulk.

Comes in: the exact dose of a bottle.  Goes out: `Given`.  Every way rounds down, or is at most 5 % over.
"""

from __future__ import annotations

import math

from sheetgen.brewing import carbonation, rounding
from sheetgen.model import Batch, Bottles
from sheetgen.planning.plan import Amount, BottlePlan, Carbonation, Dose, Syrup
from sheetgen.records import record

TEASPOON_G = rounding.TEASPOON_GRAMS
SPOON_HEAPED, SPOON_SCANT = 1.2, 0.8
"""A spoon may hold 20 % more or less than a level one (common practice, no source)."""
SYRUP_G_PER_ML = 0.5
"""Strong enough for small doses, thin enough for a syringe; stays clear in the cold (common practice, no
source).
"""
WATER_FOR_SYRUP = 1.2
"""Millilitres of water to boil a gram of sugar in: with the sugar's own 0.62 ml it stays under the mark even
if nothing boils off, so that it is always topped up and never too strong (derived).
"""
SPARE_PIECES = 2
SPARE_SHARE = 0.10
"""So much more sugar is bought than the bottles need: some is spilled, and the litres may be more (common
practice, no source).
"""


@record
class Given:
    """What one bottle gets by the batch's way: the likely grams, the most that it may get, and in what it is
    counted.
    """

    grams: float
    most: float
    teaspoons: float | None = None
    syrup_ml: float | None = None
    pieces: int | None = None


def spoon_grams(spoons: float) -> float:
    """Grams in so many level teaspoons of table sugar."""
    return spoons * TEASPOON_G


def teaspoons(batch: Batch, exact: float) -> float | None:
    """Level teaspoons for a dose in grams; None where a quarter is too much or a spoon is not weighed."""
    if batch.sugar != "table sugar" or batch.dosing in ("syrup", "pieces"):
        return None
    return rounding.teaspoons(exact, TEASPOON_G) or None


def given(batch: Batch, row: Bottles, exact: float) -> Given:
    """The dose of a bottle by the batch's way; a spoon into glass may be heaped, in bulk no bottle gets more
    than its share.
    """
    printed, spoons = rounding.dose_grams(exact), teaspoons(batch, exact)
    if batch.dosing == "in-bulk":
        return Given(exact, exact, spoons)
    if batch.dosing == "syrup":
        ml = rounding.syringe_millilitres(exact / SYRUP_G_PER_ML)
        return Given(ml * SYRUP_G_PER_ML, ml * SYRUP_G_PER_ML, syrup_ml=ml)
    if batch.dosing == "pieces" and batch.piece:
        number = rounding.whole_pieces(exact, batch.piece)
        return Given(number * batch.piece, number * batch.piece, pieces=number)
    if batch.dosing == "teaspoons" and spoons is not None:
        grams = spoon_grams(spoons)
        return Given(grams, grams * (SPOON_HEAPED if row.kind.glass else 1.0), spoons)
    return Given(printed, printed, spoons)


def odd_measure(gas: Carbonation, grams: float) -> tuple[str, float] | None:
    """The odd bottle's sugar in what the batch is dosed with, rounded down: a word for it, and how much.

    None where the way of dosing has no measure that small: then that drink is not bottled.
    """
    if gas.syrup is not None:
        name, amount = "syrup", rounding.syringe_millilitres(grams / gas.syrup.grams_per_ml)
    elif gas.piece_g:
        name, amount = "pieces", float(math.floor(round(grams / gas.piece_g, 6)))
    elif gas.dosing == "teaspoons":
        name, amount = "spoons", rounding.down_to(grams / TEASPOON_G, 0.25)
    else:
        name, amount = "grams", grams
    return (name, amount) if amount > 0 else None


def syrup(batch: Batch, grams_per_litre: float, litres: float, doses: tuple[Dose, ...]) -> Syrup | None:
    """Syrup for all the drink and one dose to spare, in whole 10 ml; None for another way of dosing."""
    if batch.dosing != "syrup" or grams_per_litre <= 0:
        return None
    spare = max((dose.syrup_ml or 0.0 for dose in doses), default=0.0)
    makes = rounding.up_to(grams_per_litre * litres / SYRUP_G_PER_ML + spare, 10.0)
    sugar = makes * SYRUP_G_PER_ML
    return Syrup(SYRUP_G_PER_ML, sugar, rounding.down_to(sugar * WATER_FOR_SYRUP, 5.0), makes, spare)


def sugar_to_buy(gas: Carbonation, bottles: BottlePlan) -> Amount:
    """What the bottles need and a tenth more, in grams or, dosed by the piece, in pieces: two at least."""
    if gas.piece_g:
        each = {(dose.ml, dose.kind): dose.pieces_each or 0 for dose in gas.sizes}
        number = sum(row.fill * each.get((row.ml, row.kind), 0) for row in bottles.rows)
        return Amount(float(number + max(SPARE_PIECES, math.ceil(number * SPARE_SHARE))), "piece")
    grams = gas.syrup.sugar_g if gas.syrup else gas.total_g
    if gas.dosing == "teaspoons":
        grams *= 1 + rounding.LARGEST_EXCESS
    return Amount(rounding.up_to(grams * (1 + SPARE_SHARE), 5.0), "g")


def spoon_span(residual: float, most_residual: float, spoons: float, litres: float) -> tuple[float, float]:
    """The gas that level spoons may make, lowest and highest: a fifth less by practice, a fifth more by full
    yield.
    """
    grams = spoon_grams(spoons) / litres
    low = residual + carbonation.volumes_from_sugar(grams * SPOON_SCANT)
    return low, most_residual + carbonation.volumes_from_sugar(grams * SPOON_HEAPED, bound="upper")
