"""What waiting costs: how long a batch may wait for its bottles, and what each moved day does to the drink.

Comes in: a `Batch`, its gravity, its gate and its tasks.  Goes out: the same tasks, every move with its cost:
how much sooner the drink would be ready without what put it off: the whole absence, or that one day of
work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from sheetgen.model import Batch
from sheetgen.planning.life import NoDay, Span, at_leisure, joined, life_of, with_free_day
from sheetgen.planning.plan import Gate, Task
from sheetgen.planning.planner import pace_of
from sheetgen.planning.schedule import expected_dates
from sheetgen.problems import Said, said

TOLERABLE, TOLERABLE_UP_TO_C = 1.5, 22.0
"""Half as long again may the beer wait for bottles, in a room up to this warm (common practice, no
source).
"""


def tolerable_day(batch: Batch, original: float) -> int:
    """The number of the last day on which bottling is no worry: four weeks, half as long again in a cool
    room; longer where it is cold or the wort is strong.
    """
    longer = TOLERABLE if batch.room.fermenting[1] <= TOLERABLE_UP_TO_C else 1.0
    return pace_of(batch, original).least(batch.recipe.drink.days["bottle-latest"] * longer)


Cause = Span | date
"""What put a task off: a whole absence, or a single day."""


def with_costs(
    tasks: Sequence[Task], batch: Batch, original: float, gate: Gate, today: date
) -> tuple[Task, ...]:
    """The tasks, every move with what it costs.  `original`, `gate` and `today` as the schedule had them."""
    days = {move.was for task in tasks for move in task.moves}
    if not days:
        return tuple(tasks)
    life = life_of(batch)
    drinking = next(task.when.expected for task in tasks if task.id == "drink-from")

    def ready(free: Batch, from_day: date) -> date | None:
        """When one could drink in that life, or, where the day is over, if it were still to come."""
        try:
            return expected_dates(free, original, gate, min(from_day, today))[0]["drink-from"]
        except NoDay:
            return None

    saved = dict.fromkeys(days, 0)
    if ready(at_leisure(batch), min(days)) != drinking:  # otherwise no day less could bring it forward
        causes: dict[date, Cause] = {was: life.absence(was) or was for was in sorted(days, reverse=True)}
        first = {cause: was for was, cause in causes.items()}  # of each cause the earliest day
        known = {cause: ready(_without(batch, cause), was) for cause, was in first.items()}
        saved = {was: (drinking - (known[cause] or drinking)).days for was, cause in causes.items()}
    bottle = next(task for task in tasks if task.id == "bottle")
    late = bottle.state != "done" and bottle.reasons is not None and bottle.reasons.due_by is not None
    return tuple(_costed(task, saved, late) for task in tasks)


def _without(batch: Batch, cause: Cause) -> Batch:
    """The same life without what put a task off: at home all the time of an absence, or free on a day."""
    if isinstance(cause, date):
        return with_free_day(batch, cause)
    return replace(batch, away=tuple(span for span in joined(batch.away) if span != cause))


def _costed(task: Task, saved: dict[date, int], late: bool) -> Task:
    moves = tuple(replace(move, cost=_cost(saved[move.was], late)) for move in task.moves)
    return replace(task, moves=moves) if moves else task


def _cost(days: int, late: bool) -> Said:
    """How much later one drinks for it; `late`: more than it waits without worry."""
    if days <= 0:
        return said("cost.nothing")
    return said("cost.late" if late else "cost.days", days=days)
