"""The dates of a batch for a phone: hands-on days only, each with the numbers that the day needs.

Comes in: a `Plan`, `Words` and perhaps an earlier plan.  Goes out: `Event`s for the calendar file. An event
keeps its identity through every reprint and re-plan (batch code and task), so a newer file moves the old
entries.  What is done stays in, on the day it really happened and without an alarm: left out, the phone would
keep the day that was only planned.  Readings that were taken are no events: the phone is no log. What the
earlier plan had and this one has not goes out as cancelled.  Small jobs of many days (degassing, stirring)
are one event from the first day to the last.  When glass was sealed too early, the days of the safety sheet
are all there is, and every other day that was still to come goes out as cancelled.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterator, Sequence
from dataclasses import replace
from datetime import time, timedelta

from sheetgen.model import OldPlan, OldTask
from sheetgen.planning.hot_days import sentence_of
from sheetgen.planning.plan import PASSED, Plan, Task
from sheetgen.printing.calendar_file import Event, sequence_of
from sheetgen.printing.views.common import dated, heat_of
from sheetgen.printing.views.events import chilled, event_of, is_of_event
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

_MINUTES = 60
_JOBS = ("degas", "stir", "strain", "rack", "warm", "cold")
MOST_NAMED = 6
_MANY_DAYS = ("degas", "stir")
_IS_TEST = re.compile(r"(?:test|taste)-[0-9]+")


def calendar_name(plan: Plan, words: Words) -> str:
    """What the calendar is called on a phone."""
    return words.say(said("calendar.name", code=plan.code, name=plan.name))


def joint_name(plans: Sequence[Plan], words: Words) -> str:
    """What a calendar of several batches is called: by their codes, or by some of very many."""
    codes = ", ".join(plan.code for plan in plans[:MOST_NAMED])
    more = len(plans) - MOST_NAMED
    return words.say(said("calendar.many", names=codes, n=more)) if more > 0 else codes


def events(plan: Plan, words: Words, old: OldPlan | None = None) -> tuple[Event, ...]:
    """The hands-on days in the order of the plan, then what is off since the `old` plan."""
    words = dated(plan, words)
    shown = [task for task in plan.tasks if _is_shown(task.id, task.hands_on, task.state == "done")]
    groups: dict[str, list[Task]] = {}
    for task in shown:
        groups.setdefault(_name(task.id), []).append(task)
    found = [_event(name, tasks, plan, words) for name, tasks in groups.items()]
    off = {_name(task.id): task for task in plan.off if _name(task.id) not in groups}
    found += [_called_off(name, task, plan, words) for name, task in off.items()]
    if old:
        found = _later(found, old)
    return (*found, *(_cancelled(old, {*groups, *off}, plan, words) if old else ()))


def _later(found: Sequence[Event], old: OldPlan) -> list[Event]:
    """What moved, or is off now, is a later revision than it was, even if both were printed on one day."""
    before: dict[str, OldTask] = {}
    for task in old.tasks:
        before.setdefault(f"{old.code}/{_name(task.id)}", task)
    least = sequence_of(old.printed) + 1
    return [
        one if _as_before(one, before.get(one.uid_key)) else replace(one, sequence=least) for one in found
    ]


def _as_before(event: Event, task: OldTask | None) -> bool:
    return task is not None and event.on == task.on and not event.cancelled


def gone(old: OldPlan, words: Words) -> tuple[Event, ...]:
    """The days of a batch that is off as a whole: what was still to come is cancelled, each once."""
    first: dict[str, OldTask] = {}
    for task in old.tasks:
        if _is_shown(task.id, task.hands_on, task.done) and not task.done:
            first.setdefault(_name(task.id), task)
    return tuple(_off(old, name, task, "off", words) for name, task in first.items())


def _is_shown(task_id: str, hands_on: bool, done: bool) -> bool:
    """Whether a task is an event: hands-on, and no reading that was taken."""
    return hands_on and not (done and _IS_TEST.fullmatch(task_id))


def _name(task_id: str) -> str:
    """What an event is called for ever: its task's id; the job's where many days are one event."""
    kind = task_id.rpartition("-")[0]
    return kind if kind in _MANY_DAYS else task_id


def _key(plan: Plan, name: str) -> str:
    return f"{plan.code}/{name}"


def _called_off(name: str, task: Task, plan: Plan, words: Words) -> Event:
    """A day that the safety sheet puts an end to: on a phone that has it, it is off."""
    title = words.say(said("calendar.off-title", code=plan.code, task=task.id))
    says = words.say("calendar.safety")
    return Event(_key(plan, name), task.when.expected, None, title, says, False, cancelled=True)


def _cancelled(old: OldPlan, kept: Container[str], plan: Plan, words: Words) -> Iterator[Event]:
    """What the earlier plan had and this one has not, each once, with a later SEQUENCE than it had then."""
    lost: dict[str, OldTask] = {}
    for task in old.tasks:
        if _is_shown(task.id, task.hands_on, task.done) and _name(task.id) not in kept:
            lost.setdefault(_name(task.id), task)
    taken = {task.id for task in plan.tasks if task.state == "done"}
    for name, task in lost.items():
        yield _off(old, name, task, "done" if task.id in taken else "off", words)


def _off(old: OldPlan, name: str, task: OldTask, how: str, words: Words) -> Event:
    """A cancelled event, with a later SEQUENCE than it had."""
    title = words.say(said(f"calendar.{how}-title", code=old.code, task=task.id))
    says, key = words.say(f"calendar.{how}"), f"{old.code}/{name}"
    later = sequence_of(old.printed) + 1
    return Event(key, task.on, None, title, says, False, cancelled=True, sequence=later)


def _event(name: str, tasks: Sequence[Task], plan: Plan, words: Words) -> Event:
    """One event of one task, or of a small job of several days."""
    first, last = tasks[0], tasks[-1]
    done = all(task.state == "done" for task in tasks)
    if plan.safety and not done:
        title, lines = "calendar.safety-title", [said("calendar.safety"), *_safe_step(first, words)]
    else:
        title, lines = "calendar.title", [*_lines(first, plan, words)]
        if last is not first:
            days = ", ".join(words.day(task.when.expected) for task in tasks)
            lines = [*lines[:1], said("calendar.days", days=days)]
    return Event(
        _key(plan, name),
        first.when.expected,
        last.when.expected,
        words.say(said(title, code=plan.code, task=first.id)),
        "\n".join(words.say(line) for line in lines),
        alarm=first.state != "done" and plan.alarm_at is not None and not _is_now(first, plan),
        before=_before_midnight(plan.alarm_at),
        language=plan.language,
    )


def _safe_step(task: Task, words: Words) -> list[Said]:
    """What the safety sheet asks for on that day."""
    step = said(f"fridge.say.{task.id}")
    return [step] if task.id.startswith("safety-") and words.has(step.id) else []


def _is_now(task: Task, plan: Plan) -> bool:
    """Whether the evening before is over: no phone rings for what is to do at once."""
    return plan.safety is not None and task.when.expected <= plan.printed


def _before_midnight(at: time | None) -> timedelta:
    """How long before the end of its day a time is."""
    return timedelta(days=1) - (timedelta(hours=at.hour, minutes=at.minute) if at else timedelta(0))


def _lines(task: Task, plan: Plan, words: Words) -> Iterator[Said]:
    """The sentences of one day; a day that is over needs none about when."""
    further = _test if _IS_TEST.fullmatch(task.id) else _nothing
    yield from _ABOUT.get(task.id, further)(plan)
    yield from _work(task, plan, words)
    if is_of_event(task):
        yield chilled(event_of(task, plan))
        return
    if task.id.startswith("heat-"):
        yield sentence_of(heat_of(task, plan))
        return
    if task.state == "done":
        return
    for move in task.moves[-1:]:
        yield said("calendar.moved", was=move.was, why=words.say(move.because))
    if task.id != "brew":
        yield _range(task)


def _range(task: Task) -> Said:
    when = task.when
    if when.latest is None:
        return said("calendar.from", earliest=task.first_day)
    return said("calendar.between", earliest=task.first_day, latest=when.latest)


def _nothing(_plan: Plan) -> Iterator[Said]:
    yield from ()


def _brew(plan: Plan) -> Iterator[Said]:
    if plan.start:
        yield said("calendar.start", start=plan.start)
    hours = max(0.5, round(plan.brew_minutes / _MINUTES * 2) / 2)
    yield said(
        "calendar.brew", litres=plan.quantities.litres, vessel=plan.vessel_name or "bucket", hours=hours
    )


def _work(task: Task, plan: Plan, words: Words) -> Iterator[Said]:
    """A job of the drink in a sentence, and what goes in that day."""
    kind, _, number = task.id.rpartition("-")
    stage = {"add-day": "day", "rack": "rack"}.get(kind)
    for use in plan.quantities.ingredients:
        if use.stage == stage and str(use.day) == number:
            yield said(f"calendar.add-{use.unit}", amount=use.amount, name=use.name)
    if kind in _JOBS and words.has(f"fridge.say.{kind}"):
        yield said(f"fridge.say.{kind}")


def _hops(plan: Plan) -> Iterator[Said]:
    for use in plan.quantities.ingredients:
        if use.stage == "dry-hop":
            yield said("calendar.hops", grams=use.amount, name=use.name)


def _test(plan: Plan) -> Iterator[Said]:
    if plan.gate.by_looks:
        yield said("calendar.looks", days=plan.gate.gap_days)
        return
    yield said("calendar.test", days=plan.gate.gap_days, high=plan.gate.high)
    yield said("calendar.ceiling", ceiling=plan.gate.ceiling)


def _bottle(plan: Plan) -> Iterator[Said]:
    """The gate stands before the sugar; a gate that is failed leaves the sugar out."""
    if plan.safety is not None:
        yield said("calendar.safety")
        return
    if plan.gate.state == "stuck" or not plan.labels.allowed:
        yield said("calendar.gate-stuck")
        return
    if plan.gate.state in PASSED:
        yield said("calendar.gate-passed")
    elif plan.gate.by_looks:
        yield said("calendar.looks-first", days=plan.gate.gap_days)
    else:
        yield said("calendar.gate-first", days=plan.gate.gap_days, high=plan.gate.high)
    if plan.gate.pet_only:
        yield said("calendar.pet-only")
    yield from _sugar(plan)


def _sugar(plan: Plan) -> Iterator[Said]:
    gas = plan.carbonation
    if gas is None:
        return
    if gas.dosing == "in-bulk":
        yield said("calendar.sugar-bulk", grams=gas.total_g, sugar=gas.sugar)
        return
    filled = {(row.ml, row.kind): row.fill for row in plan.bottles.rows}
    for dose in gas.sizes:
        count = filled.get((dose.ml, dose.kind), dose.count)
        if count:
            yield said("calendar.sugar", ml=dose.ml, grams=dose.grams_each, sugar=gas.sugar, count=count)


def _test_bottle(plan: Plan) -> Iterator[Said]:
    if plan.bottles.test_bottle:
        yield said("calendar.test-bottle", number=plan.bottles.test_bottle)


def _cool(plan: Plan) -> Iterator[Said]:
    yield said("calendar.cool", celsius=plan.storing_c)


_ABOUT: dict[str, Callable[[Plan], Iterator[Said]]] = {
    "brew": _brew,
    "dry-hop": _hops,
    "test-1": _test,
    "test-2": _test,
    "bottle": _bottle,
    "test-bottle": _test_bottle,
    "move-to-cool": _cool,
}
