"""The dates from the first look at a bottle to best before.

Comes in: a `Planner`.  Goes out: steps and links.  All are counted from the day of filling.
"""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.brewing import rounding
from sheetgen.planning.graph import Link, Step
from sheetgen.planning.keeping import Way, best_days, in_plastic_alone
from sheetgen.planning.planner import Planner
from sheetgen.planning.tasting import WAIT_FOR_GAS, following
from sheetgen.problems import Said, said

SQUEEZE_DAYS, TEST_BOTTLE_DAYS = 4, 7
"""Days after filling (common practice, no source)."""


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


def filling_links(plan: Planner, steps: Sequence[Step], way: Way) -> list[Link]:
    """So many days after the bottles are filled, whenever that is: a wall, the usual day and the latest in
    one.
    """
    pace, warm = plan.pace, float(plan.batch.room.warm_place)
    fizzed = "why.move-to-cool-dates" if plan.batch.room.shelf else "why.move-to-cool"
    fizz, wait = rounding.waiting_days(pace.fizz), pace.wait
    start, _, before = best_days(plan.batch, pace, way, in_plastic_alone(plan.batch))
    days: dict[str, tuple[int, Said]] = {
        "squeeze": (SQUEEZE_DAYS, said("why.squeeze")),
        "early-bottle": (SQUEEZE_DAYS, said("why.early-bottle")),
        "test-bottle": (TEST_BOTTLE_DAYS, said("why.test-bottle")),
        "move-to-cool": (fizz, said(fizzed, days=fizz, celsius=warm)),
        "drink-from": (wait, said("why.drink-from", days=wait)),
        "best-from": (start, said("why.best-from")),
        "best-before": (before, said("why.best-before")),
    }
    held = [(step.id, *days[step.id]) for step in steps if step.id in days]
    late = WAIT_FOR_GAS if following(plan.batch, pace) else ()
    return [Link("bottle", name, why, gap, most=None if name in late else gap) for name, gap, why in held]
