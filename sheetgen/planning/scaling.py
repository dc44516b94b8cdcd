"""How much of everything: the recipe scaled to this batch, in the amounts that are printed.

Comes in: a `Batch`.  Goes out: `Scaled`: the litres in the fermenter, what is lost on the way to the bottles,
and each ingredient's amount rounded as it is printed; every later sum starts from these rounded amounts.
"""

from __future__ import annotations

import math

from sheetgen.brewing import losses, rounding
from sheetgen.model import Batch, Ingredient
from sheetgen.planning.additions import MOST_LITRES, added_litres
from sheetgen.planning.plan import Use
from sheetgen.records import record

PLANNED_READINGS = 3
"""Brew day and two tests; every further reading takes its sample too."""
MOST_HOPS_G = 10_000.0
"""What the formula of losses goes up to."""
SPICE_ABOVE_DOUBLE = 0.8
"""Spices are scaled to four fifths when a recipe is more than doubled (common practice, no source)."""


@record
class Scaled:
    """`planned_l` is what the recipe is scaled to; `brewed_l` what was in the fermenter on brew day
    (measured, if it was); `litres` what is in it now, with what was added since.
    """

    planned_l: float
    brewed_l: float
    litres: float
    loss_l: float
    uses: tuple[Use, ...]
    ingredients: tuple[Ingredient, ...]

    @property
    def bottling_l(self) -> float:
        """Litres that reach the bottles."""
        return max(0.0, self.litres - self.loss_l)


def dry_hop_grams_per_litre(batch: Batch) -> float:
    """Grams of hops a litre that soak up beer in the fermenter."""
    grams = sum(part.amount for part in batch.recipe.ingredients if part.when.stage == "dry-hop")
    return grams / batch.recipe.litres


def readings_count(batch: Batch) -> int:
    """Samples taken: brew day's and two tests, or as many as really were."""
    return max(PLANNED_READINGS, 1 + len(batch.actual.readings))


def loss_litres(batch: Batch, litres: float, readings: int) -> float:
    """Litres that stay behind: sediment, dead space, so many samples, what the hops soak up, and what each of
    the drink's jobs (racking, straining) leaves in the vessel.
    """
    hops = min(MOST_HOPS_G, dry_hop_grams_per_litre(batch) * litres)
    share = sum(job.loses * len(job.days) for job in batch.recipe.drink.jobs)
    return losses.loss_litres(litres, readings, hops) + losses.share_litres(litres, share)


def litres_for_bottles(batch: Batch, count: int, millilitres: float) -> float:
    """Litres in the fermenter that fill so many bottles, solved back through the losses; up to the next 0.1
    L.

    Only the planned readings count: what was brewed does not grow with what is measured later.
    """
    wanted = count * millilitres / 1000
    low, high = wanted, wanted * 2 + 5
    for _ in range(60):
        middle = (low + high) / 2
        if middle - loss_litres(batch, middle, PLANNED_READINGS) < wanted:
            low = middle
        else:
            high = middle
    return math.ceil(round(high * 10, 6)) / 10


def planned_litres(batch: Batch) -> float:
    """The volume that the recipe is scaled to."""
    if batch.litres is not None:
        return float(batch.litres)
    if batch.bottle_goal is None:
        raise ValueError("a batch states litres or a number of bottles")
    count, millilitres = batch.bottle_goal
    return litres_for_bottles(batch, count, millilitres)


def _amount(part: Ingredient, factor: float) -> float:
    if part.item.role == "spice" and factor > 2:
        factor = max(2.0, factor * SPICE_ABOVE_DOUBLE)
    exact = part.amount * factor
    if part.item.unit == "ml":
        return rounding.millilitres(exact)
    return rounding.grams(exact) if part.item.unit == "g" else float(math.ceil(round(exact, 6)))


def packs_to_buy(amount: float, pack: float | None) -> tuple[int | None, float]:
    """Whole packs that cover `amount`, and what is left of the last."""
    if pack is None or pack <= 0:
        return None, 0.0
    packs = math.ceil(round(amount / pack, 6))
    return packs, round(packs * pack - amount, 6)


def _use(part: Ingredient, factor: float) -> Use:
    amount = _amount(part, factor)
    packs, left = packs_to_buy(amount, part.pack)
    when = part.when
    return Use(
        part.item.id,
        part.name,
        amount,
        part.item.unit,
        when.stage,
        when.minutes,
        when.day,
        packs,
        part.pack,
        left,
        part.item.role,
    )


def scale(batch: Batch) -> Scaled:
    """The recipe for this batch."""
    planned = planned_litres(batch)
    brewed = float(batch.actual.litres) if batch.actual.litres is not None else planned
    litres = min(MOST_LITRES, brewed + added_litres(batch))
    factor = planned / batch.recipe.litres
    uses = tuple(_use(part, factor) for part in batch.recipe.ingredients)
    lost = loss_litres(batch, litres, readings_count(batch))
    return Scaled(planned, brewed, litres, lost, uses, batch.recipe.ingredients)
