"""How much yeast, by volume, strength and the state of what is at hand.

Comes in: a `Batch`, its litres and its gravity.  Goes out: `YeastPlan`: grams, sachets, and what is usual for
such a batch.
"""

from __future__ import annotations

from sheetgen.brewing import rounding
from sheetgen.brewing import yeast as rules
from sheetgen.model import Batch
from sheetgen.planning.planner import pitched_on
from sheetgen.records import record

STRONGEST_SG = 1.130
"""What the formula goes up to; stronger batches take what it says there."""


OPENED_DAYS = 7
"""Days that what is left of an opened sachet keeps in the fridge, airtight (common practice, no source: some
makers say three).
"""


@record
class YeastPlan:
    """`grams` from so many `packs`, `whole` if none is left over; `low_g` and `high_g` are usual for yeast in
    this state.  `factor` times as much is needed as of fresh yeast, of which `fresh_packs` would do.
    `left_g`: what is left of an opened sachet and worth keeping.
    """

    packs: int
    grams: float
    whole: bool
    low_g: float
    high_g: float
    factor: float
    fresh_packs: int
    left_g: float


def days_past_its_date(batch: Batch) -> int:
    """Days from the date printed on the sachet to the day the yeast goes in; 0 if it is still good."""
    printed = batch.yeast.printed
    return max(0, (pitched_on(batch) - printed).days) if printed else 0


def is_too_old(batch: Batch) -> bool:
    """Whether nobody can say any more how much of it is alive."""
    return days_past_its_date(batch) > rules.LONGEST_EXPIRED_DAYS


def state_factor(batch: Batch) -> float:
    """By how much more yeast is needed; 1 for yeast that is too old, in whose place fresh yeast is bought."""
    if is_too_old(batch):
        return 1.0
    return rules.condition_factor(days_past_its_date(batch), batch.yeast.opened)


def yeast_plan(batch: Batch, litres: float, original: float) -> YeastPlan:
    """Yeast for `litres` of `original` gravity (SG): the upper end of the usual, in whole sachets if near.

    What is left of yeast that is not fresh any more is not kept a second time.
    """
    recipe, factor = batch.recipe.yeast, state_factor(batch)
    low, high = rules.grams(litres, min(original, STRONGEST_SG), recipe.kind)
    found = rules.sachets(high * factor, recipe.pack)
    grams = rounding.grams(found.grams)
    return YeastPlan(
        packs=found.open,
        grams=grams,
        whole=found.whole,
        low_g=rounding.grams(low * factor),
        high_g=rounding.grams(high * factor),
        factor=factor,
        fresh_packs=rules.sachets(high, recipe.pack).open,
        left_g=0.0 if found.whole or factor > 1 else max(0.0, round(found.open * recipe.pack - grams, 3)),
    )
