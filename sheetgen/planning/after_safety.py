"""What is ahead of a batch whose bottles are dangerous: the safety sheet's own days, and nothing else.

Comes in: its tasks as they would be, why it is dangerous, and today.  Goes out: what has happened and the
days of the safety sheet, counted from today; and what is off: a phone that has those days is told so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.planning.graph import START
from sheetgen.planning.plan import Reason, Reasons, Task, When
from sheetgen.planning.planner import pitched_on
from sheetgen.planning.tasting import TRIED
from sheetgen.problems import said

SAFETY_DAYS = (
    ("safety-cool", 0, said("why.safety-cool")),
    ("safety-move", 1, said("why.safety-move")),
    ("safety-open", 2, said("why.safety-open")),
)
"""Cool the place now, carry the box to a fridge after 24 hours, open after one more day (cautious judgement,
no source).
"""

TESTS = ("test-1", "test-2")
"""What was planned of these and never taken may still stand on a phone."""


def with_safety(
    tasks: Sequence[Task], batch: Batch, today: date
) -> tuple[tuple[Task, ...], tuple[Task, ...]]:
    """What happened with the days of the safety sheet, and what is off."""
    happened = [task for task in tasks if _happened(task, batch)]
    names = {task.id for task in tasks}
    off = [task for task in tasks if task not in happened and task.hands_on]
    by_readings = not any(task.id.startswith("taste-") for task in tasks)
    filled = next(task for task in tasks if task.id == "bottle")
    off += [replace(filled, id=name, state="to-do") for name in TESTS if by_readings and name not in names]
    return (*happened, *_ahead(pitched_on(batch), today)), tuple(off)


def _happened(task: Task, batch: Batch) -> bool:
    """Whether it was done: until the bottles were filled what counts as done, later only what was written."""
    on, bottled = task.when.expected, batch.actual.bottled
    if task.state != "done" or bottled is None or task.id == "brew":
        return task.state == "done"
    tried = task.id.startswith((*TRIED, "try-")) and on in {one.on for one in batch.actual.tasted}
    return tried or on <= bottled.on


def _ahead(pitched: date, today: date) -> Iterator[Task]:
    for name, days, why in SAFETY_DAYS:
        day = today + timedelta(days=days)
        reason = Reason(day, START, (day - pitched).days, why)
        yield Task(
            name,
            reason.days,
            When(day, day, day, (reason.because,)),
            True,
            "to-do" if days else "next",
            kind="looking",
            needs=("home", "bottles"),
            may_move=False,
            reasons=Reasons(reason, reason, reason),
        )
