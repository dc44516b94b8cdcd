"""How much the guests of an event ask for: drinks to bottles, bottles to a volume.

Comes in: a `Batch`.  Goes out: the number of bottles that its volume is solved back from, and the bottles
that are taken where the file names none.  Beside what is drunk, bottles are kept back: one to spare, and
those that are opened as tests.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from sheetgen.model import Assumption, Batch, Bottles, Event
from sheetgen.planning.bottling import spares
from sheetgen.planning.plan import BottlePlan
from sheetgen.problems import said
from sheetgen.records import record
from sheetgen.units import Millilitres

SPARE_BOTTLES = 1
TEST_BOTTLES = 2
"""One a week after filling, and an early one if the gate is passed with care only."""
WEAKEST = "one-way glass"
BOTTLE_ML = (250.0, 1000.0)
"""A drink of such a size is its own bottle; others are poured from bottles of half a litre."""
USUAL_ML = 500.0
LEAST_L, MOST_L = 1.0, 95.0
"""What is brewed for guests: a batch is at most 100 L, and some of it is lost."""


@record
class Wanted:
    """What the guests drink and what is kept back, in bottles of `ml`."""

    count: int
    ml: Millilitres
    kept: int


def kept_back(batch: Batch) -> int:
    """Bottles that no guest gets: a spare one, and the test bottles of a drink with gas."""
    return SPARE_BOTTLES + (TEST_BOTTLES if batch.recipe.drink.primed else 0)


def drinks_ml(events: Sequence[Event]) -> float:
    """What all guests of all events drink."""
    return sum(event.ml for event in events)


def assumed_ml(events: Sequence[Event]) -> Millilitres:
    """The size of bottle that suits the drinks: the most poured of those that are a bottle's size."""
    served = [event for event in events if event.each]
    most = max(served, key=lambda event: event.ml, default=None)
    one = most.each.ml if most and most.each else USUAL_ML
    return Millilitres(one if BOTTLE_ML[0] <= one <= BOTTLE_ML[1] else USUAL_ML)


def wanted(batch: Batch) -> Wanted:
    """Bottles for the guests, counted in the smallest size at hand; what is kept back, in the largest."""
    sizes = [row.ml for row in batch.bottles] or [assumed_ml(batch.events)]
    ml, kept = min(sizes), kept_back(batch)
    spilled = len(set(sizes)) - 1  # of several sizes, a part of one may be left over
    held = drinks_ml(batch.events) + kept * max(sizes)
    return Wanted(math.ceil(round(held / ml, 6)) + spilled, ml, kept)


def too_much(batch: Batch) -> bool:
    """Whether no batch is large enough for the guests."""
    need = wanted(batch)
    return need.count * need.ml > 1000 * MOST_L


def with_volume(batch: Batch) -> tuple[Batch, tuple[Assumption, ...]]:
    """The batch with the number of bottles that its guests ask for, where the file says no volume; and with
    bottles for them, where it names none.
    """
    if batch.litres is not None or batch.bottle_goal is not None:
        return batch, ()
    need = wanted(batch)
    count = min(max(need.count, math.ceil(1000 * LEAST_L / need.ml)), int(1000 * MOST_L / need.ml))
    rows, taken = _bottles(batch, need.ml, count)
    guests = sum(event.guests or 0 for event in batch.events)
    told = said("assume.event-guests", guests=guests, n=max(0, count - need.kept), kept=need.kept)
    found = replace(batch, bottle_goal=(count, need.ml), bottles=rows)
    return found, (Assumption("event.guests", told), *taken)


def _bottles(batch: Batch, ml: Millilitres, count: int) -> tuple[tuple[Bottles, ...], tuple[Assumption, ...]]:
    """The bottles at hand, or as many of the weakest common kind as are wanted and spare."""
    if batch.bottles:
        return batch.bottles, ()
    kind = next(kind for kind in batch.containers if kind.id == WEAKEST)
    row = Bottles(ml, kind, count + spares(count))
    return (row,), (
        Assumption("bottles", said("assume.event-bottles", n=row.count, ml=float(ml), kind=kind.id)),
    )


def bottles_for(ml: float, plan: BottlePlan) -> int:
    """How many of the filled bottles hold so much, taken in the order in which they are filled."""
    count, left = 0, ml
    for row in plan.rows:
        taken = min(row.fill, max(0, math.ceil(round(left / row.ml, 6))))
        count, left = count + taken, left - taken * row.ml
    return count if left <= 0 else count + math.ceil(round(left / plan.rows[-1].ml, 6)) if plan.rows else 0
