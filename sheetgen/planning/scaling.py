"""How much of everything: the recipe scaled to this batch, in the amounts that are printed.

Comes in: a `Batch`.  Goes out: `Scaled`: the litres in the fermenter, what is lost on the way to the bottles,
and each ingredient's amount rounded as it is printed; every later sum starts from these rounded amounts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from sheetgen.brewing import losses, rounding
from sheetgen.model import Batch, Ingredient
from sheetgen.planning.additions import MOST_LITRES, added_litres, later_litres
from sheetgen.planning.packs import cover, left_over, number_of, total
from sheetgen.planning.plan import Purchase, Use
from sheetgen.planning.whole_packs import Chosen, choose, sizes_of, sold_together
from sheetgen.records import record

PLANNED_READINGS = 3
"""Brew day and two tests; every further reading takes its sample too."""
MOST_HOPS_G = 10_000.0
"""What the formula of losses goes up to."""
LEAST_BATCH_L, MOST_BATCH_L = 1.0, 100.0
"""What a batch may be; whole packs that would make less or more are not taken."""
LEAST_MARK_L = 0.1
"""What is reckoned with at the least on brew day; a rule stops a batch that has so little by then."""
SPICE_ABOVE_DOUBLE = 0.8
"""Spices are scaled to four fifths when a recipe is more than doubled (common practice, no source)."""


@record
class Scaled:
    """`planned_l` is what the recipe is scaled to, with all that goes in; `mark_l` what the vessel is filled
    to on brew day, less by what the recipe brings later (`later_l`); `brewed_l` what was in it that day
    (measured, if it was); `litres` what is in it in the end, with all that goes in later, planned or not;
    `asked_l` what the file asks for, which whole packs may change.
    """

    planned_l: float
    brewed_l: float
    litres: float
    loss_l: float
    uses: tuple[Use, ...]
    ingredients: tuple[Ingredient, ...]
    asked_l: float
    purchases: tuple[Purchase, ...]
    mark_l: float
    later_l: float

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


def extra_litres(batch: Batch, litres: float) -> float:
    """Litres of the loss that may yet come out of the tap: bottles are prepared for them."""
    return losses.extra_litres(min(MOST_HOPS_G, dry_hop_grams_per_litre(batch) * litres))


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


def most_bottles(batch: Batch, millilitres: float) -> int:
    """How many bottles of one size the largest batch fills."""
    ready = MOST_BATCH_L - loss_litres(batch, MOST_BATCH_L, PLANNED_READINGS)
    return max(0, math.floor(round(ready * 1000 / millilitres, 6)))


def asked_litres(batch: Batch) -> float:
    """The volume that the file asks for."""
    if batch.litres is not None:
        return float(batch.litres)
    if batch.bottle_goal is None:
        raise ValueError("a batch states litres or a number of bottles")
    count, millilitres = batch.bottle_goal
    return litres_for_bottles(batch, count, millilitres)


def _amount(part: Ingredient, factor: float) -> float:
    """The amount as it is printed.  What is whole packs but for the rounding is whole packs."""
    if part.item.role == "spice" and factor > 2:
        factor = max(2.0, factor * SPICE_ABOVE_DOUBLE)
    exact = part.amount * factor
    if part.item.unit == "piece":
        return _pieces(part, exact)
    printed = rounding.millilitres if part.item.unit == "ml" else rounding.grams
    whole = (max(1, round(exact / size)) * size for size in part.packs)
    return next((each for each in whole if printed(each) == printed(exact)), printed(exact))


def _pieces(part: Ingredient, exact: float) -> float:
    """Whole pieces, a part of one counting as one; of sulphite the nearest number, and at least one."""
    whole = round(exact, 6)
    if part.item.sulphite_mg:
        return max(1.0, float(math.floor(whole + 0.5))) if whole > 0 else 0.0
    return float(math.ceil(whole))


def _use(part: Ingredient, amount: float) -> Use:
    mix, when, sizes = cover(amount, part.packs), part.when, part.packs
    return Use(
        part.item.id,
        part.name,
        amount,
        part.item.unit,
        when.stage,
        when.minutes,
        when.day,
        number_of(mix) if sizes else None,
        sizes[0] if len(sizes) == 1 else None,
        left_over(mix, amount),
        part.item.role,
        mix,
    )


def purchases(parts: Sequence[Ingredient], uses: Sequence[Use]) -> tuple[Purchase, ...]:
    """What to buy: one line for a thing that goes in at several times, in whole packs for the sum."""
    return tuple(_purchase(parts, uses, lines) for lines in sold_together(parts))


def _purchase(parts: Sequence[Ingredient], uses: Sequence[Use], lines: tuple[int, ...]) -> Purchase:
    use, keeps, sizes = uses[lines[0]], parts[lines[0]].item.keeps, sizes_of(parts, lines)
    amount = round(sum(uses[line].amount for line in lines), 6)
    mix = cover(amount, sizes)
    return Purchase(
        use.id,
        use.name,
        use.role,
        use.unit,
        amount,
        number_of(mix) if sizes else None,
        mix,
        total(mix) if sizes else amount,
        left_over(mix, amount),
        keeps.days if keeps else None,
        keeps.how if keeps else None,
        tuple(sizes),
    )


def _whole(batch: Batch, asked: float) -> Chosen | None:
    """The whole packs that the file wishes for, if they make a batch at all."""
    if batch.whole_packs == "exact":
        return None
    follows = batch.whole_packs == "volume-follows"
    chosen = choose(batch, asked, follows)
    return chosen if chosen and (not follows or is_a_batch(asked * chosen.ratio, asked)) else None


def volume_can_follow(batch: Batch, asked: float) -> bool:
    """Whether whole packs make a batch of a possible size; also if there are none to be whole."""
    chosen = choose(batch, asked, volume_follows=True)
    return chosen is None or is_a_batch(asked * chosen.ratio, asked)


def is_a_batch(litres: float, asked: float) -> bool:
    """Whether so many litres are what a batch may be, or no more than was asked."""
    return LEAST_BATCH_L <= round(litres, 2) <= max(MOST_BATCH_L, asked)


def is_over_the_most(litres: float) -> bool:
    """Whether so many litres are more than a batch may be, to the nearest hundredth."""
    return round(litres, 2) > MOST_BATCH_L


def scale(batch: Batch) -> Scaled:
    """The recipe for this batch."""
    asked = asked_litres(batch)
    chosen, planned = _whole(batch, asked), asked
    if chosen and batch.whole_packs == "volume-follows":
        planned = round(asked * chosen.ratio, 2)
    parts, factor = batch.recipe.ingredients, planned / batch.recipe.litres
    whole = chosen.amounts() if chosen else {}
    uses = tuple(
        _use(part, whole[line] if line in whole else _amount(part, factor)) for line, part in enumerate(parts)
    )
    later = later_litres((part, use.amount) for part, use in zip(parts, uses, strict=True))
    mark = max(min(LEAST_MARK_L, planned), planned - later)
    brewed = float(batch.actual.litres) if batch.actual.litres is not None else mark
    litres = min(MOST_LITRES, brewed + later + added_litres(batch))
    lost = loss_litres(batch, litres, readings_count(batch))
    return Scaled(planned, brewed, litres, lost, uses, parts, asked, purchases(parts, uses), mark, later)
