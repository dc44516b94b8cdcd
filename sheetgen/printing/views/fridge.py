"""The fridge sheet: the next thing to do, huge; then the dates; the gate in one line.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/fridge.layout.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from sheetgen.planning.keeping import PLASTIC
from sheetgen.planning.plan import Plan, Task
from sheetgen.printing import fonts
from sheetgen.printing.views.common import View, capital, day_of, filled_on, frozen, heat_of, page, runs
from sheetgen.printing.views.events import is_of_event, more_of, note_of
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said
from sheetgen.records import record

MOST_ROWS = 9
HERO_MM = 165.0
HERO_PT = 66.0
NOTE_MM = 60.0
NOTE_PT = 13.5
FAR_DAYS = 300
_NOT_ROWS = ("best-from", "best-before")
_NOTED = ("look", "bottle", "squeeze", "early-bottle", "test-bottle", "try", "drink-from", "move-to-cool")
_AGAIN = ("degas-", "stir-", "add-day-")
_NUMBER = re.compile(r"-[0-9]+h?$")


@record
class _Row:
    """A row before it is worded: a task, or days away; what is done many `times` stands once."""

    on: date
    task: Task | None = None
    until: date | None = None
    times: int = 1


def fridge(plan: Plan, words: Words) -> View:
    """What the fridge sheet shows."""
    upcoming = next((task for task in plan.tasks if task.state == "next"), None)
    now = upcoming.when.expected if upcoming else plan.labels.best_from
    return frozen(
        page=page(plan, words, "fridge", (now - timedelta(days=1), now + timedelta(days=1))),
        hero=_hero(plan, words, upcoming),
        rows=tuple(_row(row, plan, words) for row in chosen_rows(plan)),
        gate=_gate(plan, words),
    )


def kind_of(task: Task) -> str:
    """The task's kind: look-24h is a look, test-2 a test, add-day-3 an add-day."""
    return _NUMBER.sub("", task.id)


def _hero(plan: Plan, words: Words, task: Task | None) -> View:
    """The next thing to do; when nothing is left, the day until which it tastes best."""
    if task is None:
        day, action, says = plan.labels.best_to, "fridge.finished", said("fridge.finished-says")
    else:
        day, action, says = task.when.expected, "", _task_says(task, plan)
    clock = task.clock or (plan.start if task.id == "brew" else None) if task else None
    gravity = task is not None and kind_of(task) == "test"
    final = plan.quantities.final_gravity
    return frozen(
        label=words.say(said("fridge.next-at", at=clock) if clock else "fridge.next"),
        date=capital(_hero_date(words, day)),
        action=words.say(action) if action else words.task(task.id if task else ""),
        says=words.say(says),
        blank=gravity,
        expected=words.say("fridge.expected") if gravity else "",
        range=words.say(said("fridge.gravity-range", low=final.low, high=final.high)) if gravity else "",
    )


def _task_says(task: Task, plan: Plan) -> Said:
    return said(f"fridge.say.{kind_of(task)}", celsius=plan.storing_c)


def _hero_date(words: Words, day: date) -> str:
    """The date with its month in full if that fits the paper at full size, else short."""
    long = words.day(day, "long-date")
    return long if fonts.width_mm(long, HERO_PT, bold=True) <= HERO_MM else words.day(day)


def chosen_rows(plan: Plan) -> list[_Row]:
    """At most nine rows in order of days: what is least needed on the door goes first."""
    tasks = [task for task in plan.tasks if task.id not in _NOT_ROWS]
    rows = _rows(_last_looks(tasks), _AGAIN)
    if sum(row.task is not None and not _is(row, "look") for row in rows) > MOST_ROWS:
        rows = _rows(_last_looks(tasks), (*_AGAIN, "rack-"))
    last = max(row.on for row in rows)
    now = max([plan.printed, *(row.on for row in rows if _done(row))])
    rows += [_Row(first, None, until) for first, until in plan.away if first <= last and until >= now]
    rows.sort(key=lambda row: (row.on, row.task is None))
    for expendable in _EXPENDABLE:
        for row in [row for row in rows if expendable(row)]:
            if len(rows) > MOST_ROWS:
                rows.remove(row)
    return rows


def _rows(tasks: list[Task], often: tuple[str, ...]) -> list[_Row]:
    """A row for each task; what is done `often` (stirring, additions) stands once, until its last day."""
    again: dict[str, list[Task]] = {}
    for task in tasks:
        if task.id.startswith(often) and task.state != "done":
            again.setdefault(kind_of(task), []).append(task)
    hidden = {task.id for group in again.values() for task in group[1:]}
    shown = {group[0].id: group for group in again.values()}
    rows = []
    for task in tasks:
        group = shown.get(task.id, [task])
        until = group[-1].when.expected if len(group) > 1 else None
        if task.id not in hidden:
            rows.append(_Row(task.when.expected, task, until, len(group)))
    return rows


def _last_looks(tasks: list[Task]) -> list[Task]:
    """All tasks but of the looks only one: the next to do, else the last."""
    looks = [task for task in tasks if kind_of(task) == "look"]
    open_looks = [task for task in looks if task.state != "done"]
    tomorrow = [task for task in open_looks if task.state == "next" or task.id == "look-24h"]
    kept = (tomorrow or open_looks or looks[-1:])[:1]
    return [task for task in tasks if task not in looks or task in kept]


def _is(row: _Row, *kinds: str) -> bool:
    return row.task is not None and kind_of(row.task) in kinds and row.task.state != "next"


def _done(row: _Row) -> bool:
    return row.task is not None and row.task.state == "done"


_EXPENDABLE: tuple[Callable[[_Row], bool], ...] = (
    lambda row: _done(row) and _is(row, "look", "add-day", "dry-hop", "degas", "stir", "strain", "warm"),
    lambda row: _is(row, "look"),
    lambda row: _done(row) and not _is(row, "brew", "bottle"),
    lambda row: row.task is None,
    lambda row: _is(row, "move-to-cool"),
    lambda row: _is(row, "chill") and row.task is not None and row.task.id != "chill",
    _done,
    lambda row: _is(row, "squeeze", "add-day"),
    lambda row: _is(row, "degas", "stir"),
    lambda row: _is(row, "rack", "strain", "warm", "cold"),
    lambda row: _is(row, "chill"),
    lambda row: (
        not _is(row, "bottle", "drink-from", "event") and row.task is not None and row.task.state != "next"
    ),
)


def _row(row: _Row, plan: Plan, words: Words) -> View:
    task = row.task
    state = "away" if task is None else task.state
    notes = _notes(row, plan, words)
    return frozen(
        date=day_of(words, row.on),
        verb=words.task(task.id if task else "away"),
        lines=tuple(runs(words, line) for line in notes),
        roomy=all(_width(words, line) <= NOTE_MM for line in notes),
        tick={"done": "done", "away": "away"}.get(state, "open"),
        next=state == "next",
        done=state == "done",
        bold=state in {"next", "to-do"},
    )


def _width(words: Words, line: Said) -> float:
    return sum(fonts.width_mm(run.text, NOTE_PT, run.voice == "*") for run in words.runs(line))


def _notes(row: _Row, plan: Plan, words: Words) -> list[Said]:
    """One or two short lines: what moved and why, the day's number, how long it may wait."""
    if row.task is None:
        return [said("fridge.until", on=row.until or row.on)]
    task, about = row.task, _about(row.task, plan)
    if words.home_year and words.home_year != row.on.year:
        about = said("fridge.in-year", about=words.say(about), year=str(row.on.year))
    if task.state == "done":
        return [about]
    if row.until:
        about = said("fridge.times", about=words.say(about), n=row.times)
        return [about, said("fridge.until", on=row.until)]
    if task.moves:
        because = task.moves[-1].because
        short = Said(f"{because.id}.short", because.values)
        why = words.say(short if words.has(short.id) else because)
        return [said("fridge.was", was=task.moves[0].was, why=why), *_still(task, about)]
    return [about, *_more(task, plan)]


def _still(task: Task, about: Said) -> list[Said]:
    """The second line of what moved: how long it may wait, else its day."""
    if task.id == "bottle" and task.when.latest:
        return [said("fridge.wait", on=task.when.latest)]
    return [about]


def _more(task: Task, plan: Plan) -> list[Said]:
    if is_of_event(task):
        return [more_of(task, plan)]
    if task.id == "bottle" and task.when.latest:
        return [said("fridge.wait", on=task.when.latest)]
    if task.id == "drink-from":
        first, last = plan.labels.best_from, plan.labels.best_to
        brewed = plan.task("brew").when.expected
        far = "-year" if (last - brewed).days > FAR_DAYS else ""
        return [said(f"fridge.best{far}", from_day=first, to_day=last), *_plastic(plan)]
    return []


def _plastic(plan: Plan) -> list[Said]:
    """Until when plastic bottles are good, where others keep longer."""
    kept = plan.keeping.bottles if plan.keeping else ()
    days = [one.best_before for one in kept if one.filled and one.kind == PLASTIC]
    if not days or min(days) >= plan.labels.best_before:
        return []
    return [said("fridge.plastic", on=min(days))]


def _about(task: Task, plan: Plan) -> Said:
    """The day's number and what goes with it."""
    kind = kind_of(task)
    if is_of_event(task):
        return note_of(task, plan)
    if kind == "heat":
        heat = heat_of(task, plan)
        return said("fridge.note.heat", celsius=heat.celsius, on=heat.on)
    if kind == "brew" and plan.quantities.measured_original:
        return said("fridge.note.brewed", sg=plan.quantities.measured_original)
    if kind == "bottle" and task.state == "done":
        return said("fridge.note.bottled", day=task.day)
    if kind in _NOTED:
        return said(f"fridge.note.{kind}", day=task.day, celsius=plan.storing_c)
    return said("fridge.note.day", day=task.day)


def _gate(plan: Plan, words: Words) -> View:
    """The gate in one line, ending in its number."""
    bottled = plan.has("bottle") and plan.task("bottle").state == "done"
    gate = plan.gate
    if plan.safety is not None:
        return frozen(title=words.say("fridge.gate"), says=words.say("fridge.gate.unsafe"), number="")
    state = "bottled" if bottled else gate.state
    if gate.by_looks:
        looks = said(f"fridge.gate.{state}-looks", gap=gate.gap_days, on=gate.next_date or filled_on(plan))
        return frozen(title=words.say("fridge.gate"), says=words.say(looks), number="")
    limit = gate.ceiling if state in {"pass-with-care", "stuck"} else gate.high
    says = said(f"fridge.gate.{state}", gap=gate.gap_days, on=gate.next_date or filled_on(plan))
    return frozen(title=words.say("fridge.gate"), says=words.say(says), number=words.measure(limit, "sg"))
