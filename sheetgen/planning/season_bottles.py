"""Bottles to buy for a season: what each batch lacks on its bottling day, if all before it had got theirs.

Comes in: plans of batches, and the stock.  Goes out: bottles to buy, batch by batch and size by size.  A
bottle that was bought for one batch comes back when it is drunk, like the others; a spare one that stayed
empty is there for the next.  So it is bought once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from sheetgen.model import Bottles
from sheetgen.planning.cellar import Cellar, Filled
from sheetgen.planning.plan import BottleRow, Plan
from sheetgen.planning.season_plan import Size

ToBuy = Mapping[tuple[str, Size], int]


def cellar_of(stock: Sequence[Bottles], pace: float) -> Cellar:
    """All bottles of a season before the first is filled; `pace` is bottles a week."""
    totals: dict[Size, int] = {}
    for row in stock:
        size = (float(row.ml), row.kind.id)
        totals[size] = totals.get(size, 0) + row.count
    return Cellar(totals, pace, frozenset(row.kind.id for row in stock if row.kind.again))


def filled(plan: Plan, with_bought: bool = False) -> Filled:
    """The plan's bottles, with the odd one; of dangerous ones nobody drinks.  `with_bought`: and those that
    will be filled once the bottles that are missing are there.
    """
    more = [_lacking(plan, row) if with_bought else 0 for row in plan.bottles.rows]
    sizes = [(_size(row), row.fill + extra) for row, extra in zip(plan.bottles.rows, more, strict=True)]
    odd = plan.bottles.odd
    sizes += [((odd.bottle_ml, odd.kind), 1)] if odd else []
    labels = plan.labels
    ready = date.max if plan.safety else labels.not_before
    bottled = plan.task("bottle").when.expected
    return Filled(plan.code, bottled, tuple(sizes), ready, labels.best_from, labels.best_before)


def to_buy(plans: Sequence[Plan], cellar: Cellar) -> ToBuy:
    """How many of the stock's sizes are bought for each batch that is still to be bottled."""
    bought: dict[tuple[str, Size], int] = {}
    for plan in sorted(plans, key=lambda plan: (plan.task("bottle").when.expected, plan.code)):
        done = plan.task("bottle").state == "done"
        cellar.go_on_to(plan.task("bottle").when.expected)
        for size, need in () if done else _needs(plan, cellar).items():
            free = cellar.free.get(size, 0)
            bought[plan.code, size] = max(0, need - free)
            cellar.free[size] = max(need, free)
        cellar.fill(filled(plan, with_bought=not done))
    return bought


def _needs(plan: Plan, cellar: Cellar) -> dict[Size, int]:
    """The bottles that are prepared, of sizes that the stock has."""
    needs: dict[Size, int] = {}
    for row in plan.bottles.rows:
        if _size(row) in cellar.totals:
            needs[_size(row)] = needs.get(_size(row), 0) + row.need
    return needs


def _size(row: BottleRow) -> Size:
    return (row.ml, row.kind)


def _lacking(plan: Plan, row: BottleRow) -> int:
    """How many more of the row get full, once they are there: whole ones, of what has no bottle now."""
    bottles = plan.bottles
    if not any((way.ml, way.kind) == _size(row) for way in bottles.more_ways[:1]):
        return 0
    left = bottles.last_ml + bottles.more_needed * bottles.rows[-1].ml
    return int(left // row.ml)
