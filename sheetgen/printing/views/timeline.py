"""The timeline: the whole batch as a picture, lane by lane, and a calendar to write in.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/timeline.layout.
Weeks with something to do have cells; a run of weeks without is one line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.planning.plan import Plan, Task
from sheetgen.printing import fonts
from sheetgen.printing.views.common import View, day_of, filled_on, frozen, page, runs
from sheetgen.printing.views.events import called, event_of
from sheetgen.printing.views.timeline_calendar import (
    JOBS,
    calendar,
    job_of,
    short_day,
    short_reason,
    tests_of,
)
from sheetgen.printing.views.weeks import WEEK, Scale, scale_of
from sheetgen.printing.words import Words
from sheetgen.problems import said

_LEFT, _WIDTH = 60.0, 135.0
_NAMED_WEEKS = 8
_NOTE_PT, _NOTE_GAP = 10.5, 2.0
_NAME_PT, _NAME_MM = 12.0, 17.5
_DAY = timedelta(days=1)


def timeline(plan: Plan, words: Words) -> View:
    """What the timeline shows."""
    scale = scale_of(plan, words)
    lanes = tuple(_lanes(plan, scale, words))
    pages, ends = calendar(plan, scale, words)
    return frozen(
        page=page(plan, words, "timeline", (scale.first, scale.last)),
        subtitle=runs(words, said(_subtitle(plan), n=scale.weeks)),
        heads=_heads(scale, words),
        grid=tuple(scale.at(day) for day in scale.mondays()),
        away=tuple(frozen(start=start, end=end) for start, end in _away(plan, scale)),
        lanes=lanes,
        name_size=_name_size(lanes),
        legend=frozen(**{name.replace("-", "_"): words.say(f"timeline.sign.{name}") for name in _SIGNS}),
        sample=short_day(plan.printed, words),
        weekdays=tuple(words.customs.weekdays[(words.customs.first_weekday + n) % WEEK] for n in range(WEEK)),
        pages=pages,
        ends=ends,
    )


_SIGNS = ("expected", "may-be", "away", "date", "next", "done", "moved")


def _subtitle(plan: Plan) -> str:
    return "timeline.subtitle" if plan.task("bottle").state == "done" else "timeline.subtitle-gate"


def _heads(scale: Scale, words: Words) -> tuple[View, ...]:
    """The first day of weeks over the picture, as many as find room."""
    step = -(-scale.weeks // _NAMED_WEEKS)
    named = [(scale.at(day), words.day(day, "day-month")) for day in list(scale.mondays())[::step]]
    return tuple(
        frozen(at=at, text=text)
        for at, text in named
        if _WIDTH * at + fonts.width_mm(text, _NOTE_PT) <= _WIDTH
    )


def _away(plan: Plan, scale: Scale) -> Iterator[tuple[float, float]]:
    for first, last in plan.away:
        start, end = scale.at(first), scale.at(last + _DAY)
        if start < end:
            yield start, end


# --- lanes


def _lanes(plan: Plan, scale: Scale, words: Words) -> Iterator[View]:
    """One lane one name: brewing, fermenting, hops, tests, bottling, fizz, drinking."""
    brew, filled, tests = plan.task("brew"), filled_on(plan), tests_of(plan)
    yield _task_lane(brew, scale, words, bars=())
    solid = _bar("solid", scale, brew.when.expected, filled)
    lane = _lane(words.say("timeline.ferment"), None, (solid,), "", words)
    yield frozen(**{**lane, "done": plan.task("bottle").state == "done"})
    for task in plan.tasks:
        if task.id == "dry-hop":
            yield _hops(task, plan, scale, words)
        elif task.id.endswith("-1") and job_of(task) in JOBS:
            yield _job_lane(job_of(task), plan, scale, words)
        elif task in tests or task.id == "bottle":
            yield _task_lane(task, scale, words, _task_bars(task, plan, scale))
    if plan.has("move-to-cool"):
        yield _fizz(plan, scale, words)
    drink = plan.task("drink-from") if plan.has("drink-from") else None
    if drink:
        after = _bar("solid", scale, drink.when.expected, scale.last + _DAY)
        yield _task_lane(drink, scale, words, (after,))
    if plan.events:
        yield _event_lane(plan, scale, words)


def _event_lane(plan: Plan, scale: Scale, words: Words) -> View:
    """All events; by name the next, or the last where all are over."""
    tasks = [task for task in plan.tasks if task.id.startswith("event")]
    shown = next((task for task in tasks if task.state != "done"), tasks[-1])
    note = words.say(said("timeline.event", what=called(event_of(shown, plan))))
    lane = _lane(words.task(shown.id), shown, (), note, words, scale.middle(shown.when.expected))
    return frozen(**{**lane, "marks": tuple(scale.middle(task.when.expected) for task in tasks)})


def _job_lane(job: str, plan: Plan, scale: Scale, words: Words) -> View:
    """All days of one job; the lane's date is that of the next one."""
    tasks = [task for task in plan.tasks if job_of(task) == job]
    shown = next((task for task in tasks if task.state != "done"), tasks[-1])
    lane = _lane(words.task(shown.id), replace(shown, moves=()), (), "", words)
    return frozen(**{**lane, "marks": tuple(scale.middle(task.when.expected) for task in tasks)})


def _hops(task: Task, plan: Plan, scale: Scale, words: Words) -> View:
    """Hops are in until they are lifted out, or until bottling."""
    out = plan.task("lift-hops").when.expected if plan.has("lift-hops") else filled_on(plan)
    bar = _bar("solid", scale, task.when.expected, out)
    return _lane(words.say("timeline.hops"), task, (bar,), "", words)


def _task_bars(task: Task, plan: Plan, scale: Scale) -> tuple[View, ...]:
    """From the earliest to the latest day; where any later day is fine, up to the day of bottling."""
    when = task.when
    if task.state == "done" or task.first_day == when.latest:
        return ()
    last = when.latest or max(when.expected, filled_on(plan))
    return (_bar("outline", scale, task.first_day, last + _DAY),)


def _bar(kind: str, scale: Scale, start: date, end: date) -> View:
    return frozen(kind=kind, start=scale.at(start), end=scale.at(end))


def _fizz(plan: Plan, scale: Scale, words: Words) -> View:
    """Fizz is expected until the bottles move to the cool, and may take until drinking begins."""
    filled, ready = filled_on(plan), plan.task("move-to-cool").when.expected
    bars = [_bar("solid", scale, filled, ready)]
    if plan.labels.not_before > ready:
        bars.append(_bar("outline", scale, ready, plan.labels.not_before))
    return _lane(words.say("timeline.fizz"), plan.task("move-to-cool"), tuple(bars), "", words)


def _name_size(lanes: tuple[View, ...]) -> float:
    """The largest size in which all names of lanes end before the dates."""
    widest = max(fonts.width_mm(str(lane["name"]), _NAME_PT, bold=True) for lane in lanes)
    return _NAME_PT if widest <= _NAME_MM else math.floor(2 * _NAME_PT * _NAME_MM / widest) / 2


def _task_lane(task: Task, scale: Scale, words: Words, bars: tuple[View, ...]) -> View:
    note = ""
    if task.id == "bottle" and task.state != "done" and task.when.latest:
        note = words.say(said("timeline.until", on=task.when.latest))
    return _lane(words.task(task.id), task, bars, note, words, scale.middle(task.when.expected))


def _lane(
    name: str, task: Task | None, bars: tuple[View, ...], note: str, words: Words, mark: float | None = None
) -> View:
    says, at, align = _placed(_notes(task, note, words), bars, mark)
    return frozen(
        name=name,
        date=day_of(words, task.when.expected) if task else None,
        bars=tuple(bar for bar in bars if bar["start"] != bar["end"]),
        marks=() if mark is None else (mark,),
        note=says,
        note_at=at,
        note_align=align,
        done=task is not None and task.state == "done",
        next=task is not None and task.state == "next",
    )


def _notes(task: Task | None, note: str, words: Words) -> Iterator[tuple[View, ...]]:
    """What a lane may say, the fullest first."""
    if task and task.moves:
        was = task.moves[0].was
        yield runs(words, said("timeline.was", was=was, why=short_reason(task, words)))
        yield runs(words, said("timeline.was-short", was=short_day(was, words)))
    elif note:
        yield (frozen(text=note, bold=False, struck=False),)


def _placed(
    notes: Iterator[tuple[View, ...]], bars: tuple[View, ...], mark: float | None
) -> tuple[tuple[View, ...], float, str]:
    """The first note that finds room beside the bars, and where it stands; none if none does."""
    for says in notes:
        place = _beside(bars, mark, sum(fonts.width_mm(str(run["text"]), _NOTE_PT) for run in says))
        if place:
            return says, *place
    return (), _LEFT, "left"


def _beside(bars: tuple[View, ...], mark: float | None, width: float) -> tuple[float, str] | None:
    """Where a note stands: after the bars and the mark if it finds room there, else before them; None if it
    finds room nowhere, as in a batch that waited for months (its date and the calendar say the same).
    """
    places = [float(str(bar[end])) for bar in bars for end in ("start", "end")] + ([mark] if mark else [])
    right = _LEFT + _WIDTH * max(places, default=0.0) + _NOTE_GAP
    left = _LEFT + _WIDTH * min(places, default=1.0) - _NOTE_GAP
    if right + width <= _LEFT + _WIDTH:
        return round(right, 2), "left"
    return (round(left, 2), "right") if left - width > _LEFT + _NOTE_GAP / 2 else None
