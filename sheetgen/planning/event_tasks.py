"""The days of an event in the list of tasks: bottles into the fridge, and the day itself.

Comes in: event plans and the batch's other tasks.  Goes out: all tasks, in the order of their days.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from sheetgen.planning.plan import Reason, Reasons, Task, When
from sheetgen.planning.plan_events import EventPlan
from sheetgen.problems import said


def numbered(name: str, number: int) -> str:
    """The id of a task of the first event (0), or of a later one: chill, chill-2."""
    return name if number == 0 else f"{name}-{number + 1}"


def event_tasks(events: Sequence[EventPlan], pitched: date, today: date) -> Iterator[Task]:
    """For each event the day itself and, if it is met, the day on which bottles go into the fridge."""
    for number, event in enumerate(events):
        name = numbered("event", number)
        day = Reason(event.on, "start", (event.on - pitched).days, said("why.event"))
        yield _task(name, day, "", pitched, today)
        if event.chill:
            cold = Reason(event.chill, name, (event.chill - event.on).days, said("why.chill", on=event.on))
            yield _task(numbered("chill", number), cold, "looking", pitched, today)


def _task(task_id: str, reason: Reason, kind: str, pitched: date, today: date) -> Task:
    """A task that stands on its day."""
    day = reason.day
    return Task(
        task_id,
        (day - pitched).days,
        When(day, day, day, (reason.because,)),
        bool(kind),
        "done" if day < today else "to-do",
        kind=kind,
        needs=("home", "bottles") if kind else (),
        may_move=False,
        reasons=Reasons(reason, reason, reason),
    )


def with_events(
    tasks: Sequence[Task], events: Sequence[EventPlan], pitched: date, today: date
) -> tuple[Task, ...]:
    """All tasks in order; the next to do is the first hands-on one of them all."""
    if not events:
        return tuple(tasks)
    return marked_anew([*tasks, *event_tasks(events, pitched, today)])


def marked_anew(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """The tasks in order of their days, the first hands-on one that is not done marked as the next."""
    mixed = sorted(tasks, key=lambda task: task.when.expected)
    first = next((task for task in mixed if task.hands_on and task.state != "done"), None)
    return tuple(_marked(task, task is first) for task in mixed)


def _marked(task: Task, is_next: bool) -> Task:
    if task.state == "done":
        return task
    return replace(task, state="next" if is_next else "to-do")
