"""The dates of a batch for a phone: hands-on days only, each with the numbers that the day needs.

Comes in: a `Plan` and `Words`.  Goes out: `Event`s for the calendar file. An event keeps its identity
through every reprint and re-plan (batch code, recipe, task), so a newer file moves the old entries.  What is
done stays in, on the day it really happened and without an alarm: left out, the phone would keep the day
that was only planned.  When glass was sealed too early, every day still to come says so and nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from sheetgen.planning.plan import PASSED, Plan, Task
from sheetgen.printing.calendar_file import Event
from sheetgen.printing.views.common import dated
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

_MINUTES = 60
_JOBS = ("degas", "stir", "strain", "rack")


def calendar_name(plan: Plan, words: Words) -> str:
    """What the calendar is called on a phone."""
    return words.say(said("calendar.name", code=plan.code, name=plan.name))


def events(plan: Plan, words: Words) -> tuple[Event, ...]:
    """One event for each hands-on task, in the order of the plan."""
    words = dated(plan, words)
    return tuple(_event(task, plan, words) for task in plan.tasks if task.hands_on)


def _event(task: Task, plan: Plan, words: Words) -> Event:
    key = f"{plan.code}/{plan.recipe}/{task.id}"
    done = task.state == "done"
    if plan.safety and not done:
        title, lines = said("calendar.safety-title", code=plan.code), [said("calendar.safety")]
    else:
        title, lines = (
            said("calendar.title", code=plan.code, task=task.id),
            [*_lines(task, plan, words)],
        )
    description = "\n".join(words.say(line) for line in lines)
    return Event(key, task.when.expected, None, words.say(title), description, alarm=not done)


def _lines(task: Task, plan: Plan, words: Words) -> Iterator[Said]:
    """The sentences of one day; a day that is over needs none about when."""
    further = _test if _FURTHER_TEST.fullmatch(task.id) else _nothing
    yield from _ABOUT.get(task.id, further)(plan)
    yield from _work(task, plan, words)
    if task.state == "done":
        return
    for move in task.moves[-1:]:
        yield said("calendar.moved", was=move.was, why=words.say(move.because))
    if task.id != "brew":
        yield _range(task)


def _range(task: Task) -> Said:
    when = task.when
    if when.latest is None:
        return said("calendar.from", earliest=when.earliest)
    return said("calendar.between", earliest=when.earliest, latest=when.latest)


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


_FURTHER_TEST = re.compile(r"(?:test|taste)-[0-9]+")
_ABOUT: dict[str, Callable[[Plan], Iterator[Said]]] = {
    "brew": _brew,
    "dry-hop": _hops,
    "test-1": _test,
    "test-2": _test,
    "bottle": _bottle,
    "test-bottle": _test_bottle,
    "move-to-cool": _cool,
}
