"""The dates from the first look at a bottle to best before.

Comes in: a `Planner`.  Goes out: steps and links.  All are counted from the day of filling.
"""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.brewing import rounding
from sheetgen.model import Batch, Keeping
from sheetgen.planning.graph import Link, Step
from sheetgen.planning.planner import Pace, Planner
from sheetgen.problems import Said, said

SQUEEZE_DAYS, TEST_BOTTLE_DAYS = 4, 7


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


def _look(task_id: str) -> Step:
    """A minute's work, for which somebody at home is enough."""
    return Step(task_id, "looking", True, ("home", "bottles"))


def _milestone(task_id: str) -> Step:
    """A day on which something may begin; nobody has to do anything."""
    return Step(task_id, "", False, (), False)


def _first_look(plan: Planner, with_care: bool) -> list[Step]:
    """Day four: press the plastic bottle; without one, after a pass with care, open a glass one."""
    if any(row.kind.id == "pet" for row in plan.batch.bottles):
        return [_look("squeeze")]
    return [_look("early-bottle")] if with_care else []


def filling_steps(plan: Planner, with_care: bool) -> list[Step]:
    """From the first look at a bottle to best before."""
    in_between = [*_first_look(plan, with_care), _look("test-bottle"), _look("move-to-cool")]
    milestones = [_milestone(name) for name in ("drink-from", "best-from", "best-before")]
    return [*(in_between if plan.batch.recipe.drink.primed else []), *milestones]


def filling_links(plan: Planner, steps: Sequence[Step], keeping: Keeping) -> list[Link]:
    """So many days after the bottles are filled, whenever that is: a wall, the usual day and the latest in
    one.
    """
    pace, warm = plan.pace, float(plan.batch.room.warm_place)
    fizz, wait = rounding.waiting_days(pace.fizz), pace.wait
    start, _, before = best_days(plan.batch, pace, keeping)
    days: dict[str, tuple[int, Said]] = {
        "squeeze": (SQUEEZE_DAYS, said("why.squeeze")),
        "early-bottle": (SQUEEZE_DAYS, said("why.early-bottle")),
        "test-bottle": (TEST_BOTTLE_DAYS, said("why.test-bottle")),
        "move-to-cool": (fizz, said("why.move-to-cool", days=fizz, celsius=warm)),
        "drink-from": (wait, said("why.drink-from", days=wait)),
        "best-from": (start, said("why.best-from")),
        "best-before": (before, said("why.best-before")),
    }
    held = [(step.id, *days[step.id]) for step in steps if step.id in days]
    return [Link("bottle", name, why, gap, most=gap) for name, gap, why in held]
