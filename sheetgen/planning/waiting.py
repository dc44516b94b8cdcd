"""What waiting costs: how long a batch may wait for its bottles, and what each moved day does to the drink.

Comes in: a `Batch`, its gravity, its gate and its tasks.  Goes out: the same tasks, every move with its cost:
how much sooner the drink would be ready if that one day were free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from sheetgen.model import Batch
from sheetgen.planning.life import NoDay, with_free_day
from sheetgen.planning.plan import Gate, Task
from sheetgen.planning.planner import pace_of
from sheetgen.planning.schedule import schedule
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


def with_costs(
    tasks: Sequence[Task], batch: Batch, original: float, gate: Gate, today: date
) -> tuple[Task, ...]:
    """The tasks, every move with what it costs.  `original`, `gate` and `today` as the schedule had them."""
    if not any(task.moves for task in tasks):
        return tuple(tasks)
    ready: dict[date, date | None] = {}
    for was in {move.was for task in tasks for move in task.moves}:
        ready[was] = _ready_if_free(was, batch, original, gate, today)
    bottle = next(task for task in tasks if task.id == "bottle")
    late = bottle.state != "done" and bottle.day > tolerable_day(batch, original)
    return tuple(_costed(task, ready, _ready(tasks), late) for task in tasks)


def _ready(tasks: Sequence[Task]) -> date:
    return next(task.when.expected for task in tasks if task.id == "drink-from")


def _ready_if_free(was: date, batch: Batch, original: float, gate: Gate, today: date) -> date | None:
    """When one could drink if that day were free, or, where it is over, if it were still to come."""
    try:
        return _ready(schedule(with_free_day(batch, was), original, gate, min(was, today))[0])
    except NoDay:
        return None


def _costed(task: Task, ready: dict[date, date | None], drinking: date, late: bool) -> Task:
    moves = tuple(replace(move, cost=_cost(ready[move.was], drinking, late)) for move in task.moves)
    return replace(task, moves=moves) if moves else task


def _cost(sooner: date | None, drinking: date, late: bool) -> Said:
    """How much later one drinks than with that day free; `late`: more than it waits without worry."""
    days = 0 if sooner is None else (drinking - sooner).days
    if days <= 0:
        return said("cost.nothing")
    return said("cost.late" if late else "cost.days", days=days)
