"""The days that a batch is brewed for, in the words that several sheets share.

Comes in: a `Plan` and one of its tasks.  Goes out: sentences.
"""

from __future__ import annotations

from sheetgen.planning.plan import EventPlan, Plan, Task
from sheetgen.problems import Said, said


def is_of_event(task: Task) -> bool:
    """Whether the task is an event, or puts bottles into the fridge for one."""
    return task.id.partition("-")[0] in ("event", "chill")


def event_of(task: Task, plan: Plan) -> EventPlan:
    """The event of such a task."""
    number = task.id.partition("-")[2]
    return plan.events[int(number) - 1 if number else 0]


def called(event: EventPlan) -> tuple[Said, ...]:
    """What the event is called: its name, or just what it is."""
    return (said("event.named", name=event.name) if event.name else said("event.unnamed"),)


def note_of(task: Task, plan: Plan) -> Said:
    """What stands beside the task: how many bottles, or whose day it is."""
    event = event_of(task, plan)
    if task.id.startswith("event"):
        return said("fridge.note.event", what=called(event))
    if event.bottles:
        return said("fridge.note.chill-n", n=event.bottles)
    return said("fridge.note.chill", day=task.day)


def more_of(task: Task, plan: Plan) -> Said:
    """The second line: for what; or how much time there is to spare, or when it is ready if that is late."""
    event = event_of(task, plan)
    if task.id.startswith("chill"):
        return said("fridge.for", what=called(event))
    if not event.met:
        return said("fridge.late", on=event.ready)
    if event.guests:
        return said("fridge.spare-guests", guests=event.guests, n=event.margin_days)
    return said("fridge.spare", n=event.margin_days)


def chilled(event: EventPlan) -> Said:
    """The sentence for a calendar: what goes into the fridge, for what, and when."""
    if event.bottles:
        return said("calendar.chill", n=event.bottles, what=called(event), on=event.on)
    return said("calendar.chill-all", what=called(event), on=event.on)
