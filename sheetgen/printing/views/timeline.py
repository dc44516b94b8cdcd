"""The timeline: the whole batch as a picture, lane by lane, and a calendar to write in.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/timeline.layout.
Weeks with something to do have cells; a run of weeks without is one line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import groupby

from sheetgen.planning.band import is_test
from sheetgen.planning.hot_days import sentence_of, spells_of
from sheetgen.planning.plan import Plan, Task
from sheetgen.printing import fonts
from sheetgen.printing.views.common import View, day_of, filled_on, frozen, page, runs
from sheetgen.printing.views.events import called, event_of
from sheetgen.printing.views.weeks import WEEK, Scale, scale_of
from sheetgen.printing.words import Words
from sheetgen.problems import said

MOST_IN_CELL = 2
_LEFT, _WIDTH = 60.0, 135.0
_NAMED_WEEKS = 8
_NOTE_PT, _NOTE_GAP = 10.5, 2.0
_NAME_PT, _NAME_MM = 12.0, 17.5
_DAY = timedelta(days=1)
_ROOM = {"a4": 167.5, "letter": 150.0}
_LOW, _FAIR, _HIGH, _QUIET, _LANE = 20.2, 22.4, 24.0, 8.0, 5.7
"""Heights in millimetres: of the calendar, of a row at its least, fair and at ease, a quiet line, a lane."""
_ENDS, _ENDS_GAP = 5.2, 2.2
"""Heights of a line under the calendar, and of the space above the first."""
_MOST_SPELLS = 6
_NOT_SHOWN = ("best-from", "best-before")
_LATE = ("squeeze", "early-bottle", "test-bottle", "move-to-cool", "drink-from")
_LISTED: tuple[tuple[str, ...], ...] = ((), _LATE, (*_LATE, "rack-", "test-", "taste-", "add-day-"))
"""What may stand in a line when the calendar would not fit its page: nothing, what is small, what is rare."""
_TESTS_SHOWN = 3
_JOBS = ("degas", "stir", "strain", "rack", "warm", "cold")


def timeline(plan: Plan, words: Words) -> View:
    """What the timeline shows."""
    scale = scale_of(plan, words)
    lanes = tuple(_lanes(plan, scale, words))
    ways = _LISTED if any(_job_of(task) in _JOBS for task in plan.tasks) else _LISTED[:2]
    tried = [tuple(_blocks(plan, scale, words, listed)) for listed in ways]
    ends = _ends(plan, words)
    under = _ENDS * len(ends) + _ENDS_GAP * bool(ends)
    room = _room(plan) - under
    blocks = next((one for one in tried if _height(one, _LOW) <= room), tried[0])
    pages = _pages(blocks, room, _ROOM["letter"] - under)
    return frozen(
        page=page(plan, words, "timeline", (scale.first, scale.last)),
        subtitle=runs(words, said(_subtitle(plan), n=scale.weeks)),
        heads=_heads(scale, words),
        grid=tuple(scale.at(day) for day in scale.mondays()),
        away=tuple(frozen(start=start, end=end) for start, end in _away(plan, scale)),
        lanes=lanes,
        name_size=_name_size(lanes),
        legend=frozen(**{name.replace("-", "_"): words.say(f"timeline.sign.{name}") for name in _SIGNS}),
        sample=_short(plan.printed, words),
        weekdays=tuple(words.customs.weekdays[(words.customs.first_weekday + n) % WEEK] for n in range(WEEK)),
        pages=pages,
        ends=ends,
        compact=len(pages) == 1 and _height(blocks, _FAIR) > room,
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
    brew, filled, tests = plan.task("brew"), filled_on(plan), _tests(plan)
    yield _task_lane(brew, scale, words, bars=())
    solid = _bar("solid", scale, brew.when.expected, filled)
    lane = _lane(words.say("timeline.ferment"), None, (solid,), "", words)
    yield frozen(**{**lane, "done": plan.task("bottle").state == "done"})
    for task in plan.tasks:
        if task.id == "dry-hop":
            yield _hops(task, plan, scale, words)
        elif task.id.endswith("-1") and _job_of(task) in _JOBS:
            yield _job_lane(_job_of(task), plan, scale, words)
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


def _job_of(task: Task) -> str:
    return task.id.rpartition("-")[0]


def _job_lane(job: str, plan: Plan, scale: Scale, words: Words) -> View:
    """All days of one job; the lane's date is that of the next one."""
    tasks = [task for task in plan.tasks if _job_of(task) == job]
    shown = next((task for task in tasks if task.state != "done"), tasks[-1])
    lane = _lane(words.task(shown.id), replace(shown, moves=()), (), "", words)
    return frozen(**{**lane, "marks": tuple(scale.middle(task.when.expected) for task in tasks)})


def _tests(plan: Plan) -> list[Task]:
    """The tests that have a lane each: the newest, or the page would have room for nothing else."""
    return [task for task in plan.tasks if is_test(task)][-_TESTS_SHOWN:]


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
        yield runs(words, said("timeline.was", was=was, why=_short_reason(task, words)))
        yield runs(words, said("timeline.was-short", was=_short(was, words)))
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


def _short_reason(task: Task, words: Words) -> str:
    because = task.moves[-1].because
    return words.say(said(f"{because.id}.short")) if words.has(f"{because.id}.short") else words.say(because)


# --- calendar


def _room(plan: Plan) -> float:
    """The height for the calendar on the first page, in millimetres; every lane takes some of it."""
    lanes = sum(task.id == "dry-hop" for task in plan.tasks) + len(_tests(plan))
    lanes += len({_job_of(task) for task in plan.tasks} & {*_JOBS}) + bool(plan.events)
    return _ROOM.get(plan.paper.lower(), min(_ROOM.values())) - _LANE * max(0, lanes - 2)


def _height(blocks: tuple[View, ...], row: float) -> float:
    return sum(_QUIET if block["quiet"] else row for block in blocks)


def _ends(plan: Plan, words: Words) -> tuple[str, ...]:
    """What stands under the calendar: every spell of heat to come, and the days to taste."""
    kept, lines = plan.keeping, []
    if kept is None or plan.safety is not None:
        return ()
    lines += [words.say(sentence_of(hot)) for hot in spells_of(kept.hot)[:_MOST_SPELLS]]
    days = [words.day(on) for _weeks, on in kept.tastings if on >= plan.printed]
    lines += [words.say(said("timeline.taste", days=" · ".join(days)))] if days else []
    return tuple(lines)


def _pages(blocks: tuple[View, ...], room: float, rest: float) -> tuple[tuple[View, ...], ...]:
    """The calendar's rows page by page: one page if it holds all, else a first page and the rest; and one
    more for what stands under them, where the `rest` of a page would not hold it.
    """
    if _height(blocks, _LOW) <= room:
        return (blocks,)
    count = next(count for count in range(len(blocks), -1, -1) if _height(blocks[:count], _HIGH) <= room)
    while count and blocks[count - 1]["quiet"]:
        count -= 1
    pages = blocks[:count], blocks[count:]
    return pages if _height(pages[1], _LOW) <= rest else (*pages, ())


def _blocks(plan: Plan, scale: Scale, words: Words, listed: tuple[str, ...]) -> Iterator[View]:
    """Runs of weeks: full ones to write in, empty ones in a line; a line too for every week in which there is
    nothing to do but tasks that are `listed`, by how their ids begin.
    """
    shown: dict[int, list[Task]] = {0: []}
    for task in plan.tasks if scale.weeks > WEEK else ():
        if task.id not in _NOT_SHOWN:
            shown.setdefault((task.when.expected - scale.first).days // WEEK, []).append(task)

    def kind(week: int) -> str:
        if scale.weeks <= WEEK or week == 0:
            return "cells"
        small = all(task.id.startswith(listed) for task in shown.get(week, ()))
        return "listed" if small and week in shown else "cells" if week in shown else "quiet"

    for found, numbers in groupby(range(scale.weeks), kind):
        weeks = list(numbers)
        days = [scale.first + timedelta(days=WEEK * week) for week in weeks]
        if found == "cells":
            yield from (_week(day, plan, scale, words) for day in days)
        elif found == "listed":
            yield _in_a_line(_listed([task for week in weeks for task in shown[week]], words))
        else:
            last = days[-1] + timedelta(days=WEEK - 1)
            yield _in_a_line(words.say(said("timeline.quiet", first=days[0], last=last, n=len(weeks))))


def _listed(tasks: list[Task], words: Words) -> str:
    """Days with their tasks in one line."""
    texts = [words.say(said("timeline.listed", on=task.when.expected, task=task.id)) for task in tasks]
    return " · ".join(dict.fromkeys(texts))


def _in_a_line(text: str) -> View:
    return frozen(quiet=text, cells=(), ribbons=())


def _week(first: date, plan: Plan, scale: Scale, words: Words) -> View:
    days = [first + timedelta(days=number) for number in range(WEEK)]
    return frozen(
        quiet="",
        cells=tuple(_cell(day, plan, scale, words) for day in days),
        ribbons=tuple(_ribbons(first, plan)),
    )


def _ribbons(first: date, plan: Plan) -> Iterator[View]:
    """Fermenting is a solid bar, waiting an outline: for the gate, then for the fizz."""
    bottle = plan.task("bottle")
    brewed, filled = plan.task("brew").when.expected, filled_on(plan)
    waiting = plan.labels.not_before if bottle.state == "done" else bottle.when.latest
    spans = [("solid", brewed, filled)]
    spans += [("outline", filled, waiting + _DAY)] if waiting else []
    for kind, start, end in spans:
        place = [(day - first).days for day in (start, end)]
        if place[0] < WEEK and place[1] > 0:
            yield frozen(kind=kind, start=max(0, place[0]), end=min(WEEK, place[1]))


def _cell(day: date, plan: Plan, scale: Scale, words: Words) -> View:
    tasks = [task for task in plan.tasks if task.when.expected == day and task.id not in _NOT_SHOWN]
    names_month = day.day == 1 or day == scale.first
    return frozen(
        number=words.day(day, "day-month") if names_month else str(day.day),
        bold=any(task.state != "done" for task in tasks),
        grey=all(task.state == "done" for task in tasks) and (bool(tasks) or day < plan.printed),
        done=bool(tasks) and all(task.state == "done" for task in tasks),
        next=any(task.state == "next" for task in tasks),
        away=any(first <= day <= last for first, last in plan.away),
        names=_names(tasks, words),
        lines=tuple(_lines(day, tasks, plan, words)),
    )


def _names(tasks: list[Task], words: Words) -> tuple[str, ...]:
    """What to do that day, each name once, looks last."""
    ordered = sorted(tasks, key=lambda task: task.id.startswith("look-"))
    names = list(dict.fromkeys(words.task(task.id) for task in ordered))
    return tuple(names[:MOST_IN_CELL])


def _lines(day: date, tasks: list[Task], plan: Plan, words: Words) -> Iterator[tuple[View, ...]]:
    """Small words under the names: where it stood, what goes with it, what moved away from here."""
    for task in tasks if len(tasks) == 1 else ():
        if task.moves:
            yield runs(words, said("timeline.was-short", was=_short(task.moves[0].was, words)))
        elif task.state != "done" and words.has(f"timeline.note.{task.id}"):
            yield runs(words, said(f"timeline.note.{task.id}", celsius=plan.storing_c))
    if tasks:
        return
    moved = [task for task in plan.tasks if task.moves and task.moves[0].was == day]
    for task in moved[:1]:
        yield (frozen(text=words.task(task.id), bold=False, struck=True),)
        yield (frozen(text=_short_reason(task, words), bold=False, struck=False),)
    yield from _standing(day, plan, words) if not moved else ()


def _standing(day: date, plan: Plan, words: Words) -> Iterator[tuple[View, ...]]:
    """Days away by name on their first day; the last day to bottle."""
    if any(first == day for first, _last in plan.away):
        yield (frozen(text=words.task("away"), bold=False, struck=False),)
    bottle = plan.task("bottle")
    if bottle.when.latest == day and bottle.state != "done":
        for name in ("last-day", "to-bottle"):
            yield runs(words, f"timeline.note.{name}")


def _short(day: date, words: Words) -> str:
    """A day without its month: Thu 25."""
    parts = words.column_parts(day)
    return f"{parts['weekday']}\u00a0{parts['day']}"
