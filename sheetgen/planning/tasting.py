"""Bottles that were tried: what each says of the others, and the days that follow.

Comes in: a `Batch`, its pace, or its steps.  Goes out: `Tasting`s, steps and links.  A bottle that foams over
is a matter of safety (`sheetgen.planning.safety`); a flat one asks for warmth and time, never for sugar.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.brewing import rounding
from sheetgen.model import Batch, Tasted
from sheetgen.planning.graph import START, Link, Step
from sheetgen.planning.plan import Tasting
from sheetgen.planning.planner import Pace, Planner
from sheetgen.problems import said

MORE_DAYS, LITTLE_DAYS = 14, 7
"""A flat bottle asks for two more weeks in the warm, one with little gas for one (common practice)."""
CALM_AFTER = 2
"""So many calm bottles, on days of their own, after one that foamed over (cautious judgement, no source)."""
WARM = (20.0, 22.0)
TRIED = ("early-bottle", "test-bottle")
WAIT_FOR_GAS = ("move-to-cool", "drink-from", "best-from")


def lively_on(batch: Batch) -> date | None:
    """The day of the last bottle that foamed over, unless two later ones, on days of their own, were calm."""
    days = [one.on for one in batch.actual.tasted if one.gas == "lively"]
    if not days:
        return None
    calm = {one.on for one in batch.actual.tasted if one.on > days[-1]}
    return None if len(calm) >= CALM_AFTER else days[-1]


def tastings(batch: Batch, pace: Pace) -> tuple[Tasting, ...]:
    """What was tried, and what each bottle says."""
    found: list[Tasting] = []
    for one in batch.actual.tasted:
        found.append(_tasting(one, batch, pace, found))
    return tuple(found)


def _tasting(one: Tasted, batch: Batch, pace: Pace, before: Sequence[Tasting]) -> Tasting:
    advice, next_on = _advice(one, batch, pace, before)
    values = {"on": next_on} if next_on else {}
    if advice in ("taste.flat", "taste.flat-early", "taste.little"):
        says = said(advice, low=WARM[0], high=WARM[1], **values)
    else:
        says = said(advice, **values)
    return Tasting(one.on, one.gas, one.note, says, next_on)


def _advice(one: Tasted, batch: Batch, pace: Pace, before: Sequence[Tasting]) -> tuple[str, date | None]:
    """The id of the sentence, and the day of the next bottle to try, if there is to be one."""
    if one.gas == "lively":
        return "taste.lively", None
    if not batch.recipe.drink.primed:
        return "taste.still", None
    if one.gas == "right":
        return "taste.right", None
    bottled = batch.actual.bottled
    ready = bottled.on + timedelta(days=rounding.waiting_days(pace.fizz)) if bottled else one.on
    if one.on < ready:
        return f"taste.{one.gas}-early", ready
    if one.gas == "little":
        return "taste.little", one.on + timedelta(days=LITTLE_DAYS)
    if any(was.says.id == "taste.flat" for was in before):
        return "taste.flat-still", None
    return "taste.flat", one.on + timedelta(days=MORE_DAYS)


def following(batch: Batch, pace: Pace) -> date | None:
    """The day of the next bottle to try, because the last one had too little gas."""
    tried = tastings(batch, pace)
    return tried[-1].next_on if tried and batch.actual.bottled else None


def with_tried(plan: Planner, steps: Sequence[Step]) -> list[Step]:
    """The steps after filling with the bottles that were tried, each on its day, and the next one to try."""
    if not plan.batch.actual.bottled:
        return list(steps)
    days = sorted({one.on for one in plan.batch.actual.tasted})
    planned = [step.id for step in steps if step.id in TRIED]
    on = dict(zip(planned, days, strict=False))
    own = [replace(step, on=plan.number(on[step.id])) if step.id in on else step for step in steps]
    more = [_again(number, plan.number(day)) for number, day in enumerate(days[len(planned) :], start=2)]
    if following(plan.batch, plan.pace) and len(on) == len(planned):
        more.append(_again(2 + len(more), None))
    place = next((n for n, step in enumerate(own) if step.id in WAIT_FOR_GAS), len(own))
    return [*own[:place], *more, *own[place:]]


def _again(number: int, on: int | None) -> Step:
    return Step(f"try-{number}", "looking", True, ("home", "bottles"), True, on)


def tried_links(plan: Planner, steps: Sequence[Step]) -> list[Link]:
    """The next bottle is tried when its day has come, and what waits for gas waits for it."""
    nxt = next((step.id for step in steps if step.id.startswith("try-") and step.on is None), None)
    on = following(plan.batch, plan.pace)
    if nxt is None or on is None:
        return []
    why = said("why.try", on=plan.batch.actual.tasted[-1].on)
    waiting = [step.id for step in steps if step.id in WAIT_FOR_GAS]
    return [Link(START, nxt, why, plan.number(on)), *(Link(nxt, name, why, 0) for name in waiting)]
