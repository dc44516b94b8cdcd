"""How long the drink keeps, by class, strength, dry hops, store and bottle, and when to taste it.

Comes in: a `Batch`, its pace, its strength and the day of filling.  Goes out: days from filling, and the
plan's `KeepingPlan`. All is common practice and quality, not safety; nothing jumps at the edge of a table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.brewing import alcohol, keeping
from sheetgen.model import Batch, Keeping
from sheetgen.planning.life import Life
from sheetgen.planning.plan import BottlePlan, Gate, KeepingPlan, Kept, LabelPlan, Reason, Reasons, Task
from sheetgen.planning.planner import Pace
from sheetgen.planning.rooms import store_spells
from sheetgen.records import record

MONTH_DAYS, WEEK = 30.4, 7
ORDINARY_PERCENT = 5.5
"""Up to here a beer keeps as its class does (common practice, no source)."""
ORDINARY_HOPS = 2.0
"""So many grams of dry hops a litre change nothing (common practice, no source)."""
STRONGEST_OG = 1.130
TASTING_WEEKS = (2, 4, 8, 12)
"""After filling (common practice, no source)."""
PLASTIC = "pet"


@record
class Way:
    """How the batch keeps: days from filling to good and to the end of the best, and how many it keeps in a
    cool cellar.
    """

    name: str
    start: float
    until: float
    days: float
    stronger: float = 0.0
    hoppier: float = 0.0


def _way(found: Keeping) -> Way:
    return Way(
        found.id,
        round(found.from_weeks * WEEK),
        round(found.peak_weeks[1] * WEEK),
        found.months * MONTH_DAYS,
    )


def _mixed(one: Way, other: Way, mix: Callable[[float, float], float]) -> Way:
    """A way whose days are mixed from those of both."""
    return replace(
        one,
        start=mix(one.start, other.start),
        until=mix(one.until, other.until),
        days=mix(one.days, other.days),
    )


def _between(one: Way, other: Way, share: float) -> Way:
    """A way that lies so far from the one to the other."""
    return _mixed(one, other, lambda this, that: this + share * (that - this))


def _longer(one: Way, other: Way) -> Way:
    return _mixed(one, other, max)


def percent_of(original: float, gate: Gate) -> float:
    """The strength that is expected, in per cent, from the original gravity and the range of the finish."""
    whole = min(STRONGEST_OG, max(1.0, original))
    final = min(whole, max(0.980, (gate.low + gate.high) / 2))
    return alcohol.percent_by_volume(whole, final)


def dry_hops_of(batch: Batch) -> float:
    """Grams of dry hops to a litre, as the recipe has it."""
    grams = sum(part.amount for part in batch.recipe.ingredients if part.when.stage == "dry-hop")
    return float(grams) / max(0.1, float(batch.recipe.litres))


def way_of(batch: Batch, percent: float) -> Way:
    """The recipe's own class if it has one; else the drink's, moved on by strength (beer keeps longer and
    wants more time) and then by dry hops (their scent fades).
    """
    if batch.recipe.keeping is not None:
        return _way(batch.recipe.keeping)
    drink = batch.recipe.drink
    way = _way(drink.keeping)
    if not drink.ferments_out:
        way = _stronger(way, [one for one in batch.keepings if one.percent], percent)
    return _hoppier(way, [one for one in batch.keepings if one.dry_hops], dry_hops_of(batch))


def _stronger(way: Way, steps: list[Keeping], percent: float) -> Way:
    """On the way from the class to those of strong drinks, by the per cent at which each of them holds."""
    at, found = ORDINARY_PERCENT, way
    for step in sorted(steps, key=lambda one: one.percent or 0.0):
        if percent <= at:
            break
        share = min(1.0, (percent - at) / max(0.1, (step.percent or 0.0) - at))
        found = _between(found, _longer(_way(step), found), share)
        at = max(at, step.percent or 0.0)
        way = replace(way, stronger=way.stronger + share)
    return replace(found, stronger=way.stronger)


def _hoppier(way: Way, classes: list[Keeping], grams: float) -> Way:
    """On the way to the class of drinks that live from their hops, by the grams at which it holds."""
    for one in classes[:1]:
        full = max(ORDINARY_HOPS + 0.1, one.dry_hops or 0.0)
        share = min(1.0, max(0.0, grams - ORDINARY_HOPS) / (full - ORDINARY_HOPS))
        faded = _way(one)
        shorter = replace(
            faded,
            start=min(faded.start, way.start),
            until=min(faded.until, way.until),
            days=min(faded.days, way.days),
        )
        way = replace(_between(way, shorter, share), hoppier=share)
    return way


def best_days(
    batch: Batch, pace: Pace, way: Way, plastic: bool, filled: date | None = None
) -> tuple[int, int, int]:
    """Days from filling to best from, best until and best before, in plastic or in glass; `filled` is the
    day of filling, if it is another than the batch's rooms are cut to.
    """
    kept = keeping.kept_days_in_spells(way.days, store_spells(batch.room, filled), plastic)
    start = max(pace.wait, round(way.start))
    before = max(start, round(kept))
    return start, min(before, max(start, round(way.until))), before


def in_plastic_alone(batch: Batch) -> bool:
    """Whether there are no bottles but plastic ones."""
    return all(row.kind.id == PLASTIC for row in batch.bottles)


def keeping_plan(
    batch: Batch, pace: Pace, percent: float, filled: date, life: Life, bottles: BottlePlan
) -> KeepingPlan:
    """How each kind of bottle keeps, and when to taste."""
    way = way_of(batch, percent)
    start = best_days(batch, pace, way, plastic=False)[0]
    odd = bottles.odd.kind if bottles.odd else None
    kept = []
    for row in bottles.rows:
        _start, until, before = best_days(batch, pace, way, row.kind == PLASTIC, filled)
        until_on, before_on = (filled + timedelta(days=days) for days in (until, before))
        kept.append(Kept(row.ml, row.kind, until_on, before_on, row.fill > 0 or row.kind == odd))
    last = max((one.best_before for one in kept if one.filled), default=filled)
    return KeepingPlan(
        name=way.name,
        stronger=way.stronger,
        hoppier=way.hoppier,
        store_factor=keeping.store_factor(float(batch.room.storing)),
        best_from=filled + timedelta(days=start),
        bottles=tuple(kept),
        tastings=tastings_of(filled, pace.wait, last, life),
    )


def tastings_of(filled: date, wait: int, last: date, life: Life) -> tuple[tuple[int, date], ...]:
    """Days at home on which to taste and write it down: two, four, eight and twelve weeks after filling, not
    before the first day of drinking nor after best before; each day once.
    """
    found: dict[date, int] = {}
    for weeks in TASTING_WEEKS:
        on, _moves = life.next_day(filled + timedelta(days=max(wait, weeks * WEEK)), False)
        if on <= last:
            found.setdefault(on, weeks)
    return tuple((weeks, on) for on, weeks in found.items())


def agreeing(tasks: tuple[Task, ...], labels: LabelPlan) -> tuple[Task, ...]:
    """The tasks with the best before of the labels: what is really filled may be of plastic alone."""
    return tuple(
        _moved(task, labels.best_before - task.when.expected) if task.id == "best-before" else task
        for task in tasks
    )


def _moved(task: Task, by: timedelta) -> Task:
    """The task so much later, or earlier, with what decided its days."""

    def reason(found: Reason) -> Reason:
        return replace(found, day=found.day + by, days=found.days + by.days)

    when, why = task.when, task.reasons
    latest = when.latest + by if when.latest else None
    reasons = why and Reasons(
        reason(why.earliest),
        reason(why.expected),
        reason(why.latest) if why.latest else None,
        why.due_by and why.due_by + by,
    )
    when = replace(when, earliest=when.earliest + by, expected=when.expected + by, latest=latest)
    free = task.first_free and task.first_free + by
    return replace(task, day=task.day + by.days, when=when, reasons=reasons, first_free=free)
