"""The dates from the first look at a bottle to best before.

Comes in: a `Planner` and its bottling task.  Goes out: tasks.  All are counted from the day of filling.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from sheetgen.brewing import rounding
from sheetgen.model import Batch, Keeping
from sheetgen.planning.plan import Task, When
from sheetgen.planning.planner import Pace, Planner, task_of
from sheetgen.problems import Said, said

SQUEEZE_DAYS, TEST_BOTTLE_DAYS = 4, 7


def _after(plan: Planner, bottle: Task, task_id: str, days: int, why: Said, hands_on: bool) -> Task:
    """A task so many days after filling; its range is bottling's, shifted."""
    wait = timedelta(days=days)
    earliest, latest = bottle.when.earliest + wait, bottle.when.latest
    expected, moves = (
        plan.life.next_day(bottle.when.expected + wait, "looking")
        if hands_on
        else (bottle.when.expected + wait, ())
    )
    latest = None if latest is None else max(expected, latest + wait)
    task = task_of(plan, task_id, When(earliest, expected, latest, (why,)), hands_on, moves)
    filled = plan.batch.actual.bottled is not None
    return replace(task, state="done" if filled and expected < plan.today else "to-do")


def keeping_of(batch: Batch) -> Keeping:
    """How the drink keeps: the recipe's class, else the drink's."""
    return batch.recipe.keeping or batch.recipe.drink.keeping


def best_days(batch: Batch, pace: Pace, keeping: Keeping) -> tuple[int, int, int]:
    """Days from filling to best from, best until and best before.  Warm storage halves the last, a cold one
    adds half; plastic bottles end it after four months (common practice, no source).
    """
    storing = float(batch.room.storing)
    factor = 0.5 if storing >= 25 else 1.5 if storing <= 8 else 1.0
    months = keeping.months * factor
    if any(row.kind.id == "pet" for row in batch.bottles):
        months = min(months, 4.0)
    before = round(months * 30.4)
    start = max(pace.wait, round(keeping.from_weeks * 7))
    before = max(before, start)
    return start, min(before, max(start, round(keeping.peak_weeks[1] * 7))), before


def first_look(plan: Planner, bottle: Task, with_care: bool) -> list[Task]:
    """Day four: press the plastic bottle; without one, after a pass with care, open a glass one."""
    if any(row.kind.id == "pet" for row in plan.batch.bottles):
        return [_after(plan, bottle, "squeeze", SQUEEZE_DAYS, said("why.squeeze"), True)]
    if with_care:
        return [_after(plan, bottle, "early-bottle", SQUEEZE_DAYS, said("why.early-bottle"), True)]
    return []


def bottle_tasks(plan: Planner, bottle: Task, keeping: Keeping, with_care: bool) -> list[Task]:
    """From the first look at a bottle to best before."""
    pace, primed = plan.pace, plan.batch.recipe.drink.primed
    fizz = rounding.waiting_days(pace.fizz)
    start, _, before = best_days(plan.batch, pace, keeping)
    warm = float(plan.batch.room.warm_place)
    in_between = [
        *first_look(plan, bottle, with_care),
        _after(plan, bottle, "test-bottle", TEST_BOTTLE_DAYS, said("why.test-bottle"), True),
        _after(plan, bottle, "move-to-cool", fizz, said("why.move-to-cool", days=fizz, celsius=warm), True),
    ]
    return [
        *(in_between if primed else []),
        _after(plan, bottle, "drink-from", pace.wait, said("why.drink-from", days=pace.wait), False),
        _after(plan, bottle, "best-from", start, said("why.best-from"), False),
        _after(plan, bottle, "best-before", before, said("why.best-before"), False),
    ]
