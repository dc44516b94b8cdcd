"""The calendar of the timeline: weeks to write in, and lines for those in which there is little to do.

Comes in: a `Plan`, its scale of weeks and `Words`.  Goes out: rows page by page, and lines under them.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby

from sheetgen.planning.band import is_test
from sheetgen.planning.hot_days import sentence_of, spells_of
from sheetgen.planning.plan import Plan, Task
from sheetgen.printing.views.common import View, filled_on, frozen, runs
from sheetgen.printing.views.weeks import WEEK, Scale
from sheetgen.printing.words import Words
from sheetgen.problems import said

MOST_IN_CELL = 2
_DAY = timedelta(days=1)
_ROOM = {"a4": 177.5, "letter": 160.0}
_LOW, _QUIET, _LANE = 25.0, 8.0, 5.7
"""Heights in millimetres: of the calendar, of a row to write in at its least, of a quiet line, of a lane."""
_ENDS, _ENDS_GAP = 5.2, 2.2
"""Heights of a line under the calendar, and of the space above the first."""
_MOST_SPELLS = 6
_NOT_SHOWN = ("best-from", "best-before")
_LATE = ("squeeze", "early-bottle", "test-bottle", "move-to-cool", "drink-from")
_LISTED: tuple[tuple[str, ...], ...] = ((), _LATE, (*_LATE, "rack-", "test-", "taste-", "add-day-"))
"""What may stand in a line when the calendar would not fit its page: nothing, what is small, what is rare."""
_TESTS_SHOWN = 3
JOBS = ("degas", "stir", "strain", "rack", "warm", "cold")


def calendar(plan: Plan, scale: Scale, words: Words) -> tuple[tuple[tuple[View, ...], ...], tuple[str, ...]]:
    """The rows of every page, and the lines under the last of them."""
    ways = _LISTED if any(job_of(task) in JOBS for task in plan.tasks) else _LISTED[:2]
    tried = [tuple(_blocks(plan, scale, words, listed)) for listed in ways]
    if scale.weeks <= WEEK:
        tried.insert(0, tuple(_week(day, plan, scale, words) for day in scale.mondays()))
    ends = _ends(plan, words)
    under = _ENDS * len(ends) + _ENDS_GAP * bool(ends)
    room = _room(plan) - under
    pages = min((_pages(blocks, room, _ROOM["letter"] - under) for blocks in tried), key=len)
    return pages, ends


def job_of(task: Task) -> str:
    """The id of a job's kind: rack-2 is a rack."""
    return task.id.rpartition("-")[0]


def tests_of(plan: Plan) -> list[Task]:
    """The tests that have a lane each: the newest, or the page would have room for nothing else."""
    return [task for task in plan.tasks if is_test(task)][-_TESTS_SHOWN:]


def short_reason(task: Task, words: Words) -> str:
    """Why a task moved last, in few words where there are such."""
    because = task.moves[-1].because
    return words.say(said(f"{because.id}.short")) if words.has(f"{because.id}.short") else words.say(because)


def _room(plan: Plan) -> float:
    """The height for the calendar on the first page, in millimetres; every lane takes some of it."""
    lanes = sum(task.id == "dry-hop" for task in plan.tasks) + len(tests_of(plan))
    lanes += len({job_of(task) for task in plan.tasks} & {*JOBS}) + bool(plan.events)
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
    count = next(count for count in range(len(blocks), -1, -1) if _height(blocks[:count], _LOW) <= room)
    while count and blocks[count - 1]["quiet"]:
        count -= 1
    pages = blocks[:count], blocks[count:]
    return pages if _height(pages[1], _LOW) <= rest else (*pages, ())


def _blocks(plan: Plan, scale: Scale, words: Words, listed: tuple[str, ...]) -> Iterator[View]:
    """Runs of weeks: full ones to write in, empty ones in a line; a line too for every week in which there is
    nothing to do but tasks that are `listed`, by how their ids begin.
    """
    shown: dict[int, list[Task]] = {0: []}
    for task in plan.tasks:
        if task.id not in _NOT_SHOWN:
            shown.setdefault((task.when.expected - scale.first).days // WEEK, []).append(task)
    until = plan.task("bottle").when.latest if plan.task("bottle").state != "done" else None
    shown.setdefault((until - scale.first).days // WEEK if until else 0, [])

    def kind(week: int) -> str:
        if week == 0:
            return "cells"
        small = all(task.id.startswith(listed) for task in shown.get(week, ()))
        return "listed" if small and week in shown else "cells" if week in shown else "quiet"

    for found, numbers in groupby(range(scale.weeks), kind):
        weeks = list(numbers)
        days = [scale.first + timedelta(days=WEEK * week) for week in weeks]
        last = days[-1] + timedelta(days=WEEK - 1)
        if found == "cells":
            yield from (_week(day, plan, scale, words) for day in days)
        elif found == "listed":
            ends = until if until and days[0] <= until <= last else None
            yield _in_a_line(_listed([task for week in weeks for task in shown[week]], ends, words))
        else:
            yield _in_a_line(words.say(said("timeline.quiet", first=days[0], last=last, n=len(weeks))))


def _listed(tasks: list[Task], until: date | None, words: Words) -> str:
    """Days with their tasks in one line, and the last day to bottle."""
    texts = [
        (task.when.expected, words.say(said("timeline.listed", on=task.when.expected, task=task.id)))
        for task in tasks
    ]
    if until:
        note = f"{words.say('timeline.note.last-day')} {words.say('timeline.note.to-bottle')}"
        texts.append((until, f"{words.day(until)} {note}"))
    return " · ".join(dict.fromkeys(text for _day, text in sorted(texts, key=lambda one: one[0])))


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
            yield runs(words, said("timeline.was-short", was=short_day(task.moves[0].was, words)))
        elif task.state != "done" and words.has(f"timeline.note.{task.id}"):
            yield runs(words, said(f"timeline.note.{task.id}", celsius=plan.storing_c))
    if tasks:
        return
    moved = [task for task in plan.tasks if task.moves and task.moves[0].was == day]
    for task in moved[:1]:
        yield (frozen(text=words.task(task.id), bold=False, struck=True),)
        yield (frozen(text=short_reason(task, words), bold=False, struck=False),)
    yield from _standing(day, plan, words) if not moved else ()


def _standing(day: date, plan: Plan, words: Words) -> Iterator[tuple[View, ...]]:
    """Days away by name on their first day; the last day to bottle."""
    if any(first == day for first, _last in plan.away):
        yield (frozen(text=words.task("away"), bold=False, struck=False),)
    bottle = plan.task("bottle")
    if bottle.when.latest == day and bottle.state != "done":
        for name in ("last-day", "to-bottle"):
            yield runs(words, f"timeline.note.{name}")


def short_day(day: date, words: Words) -> str:
    """A day without its month: Thu 25."""
    parts = words.column_parts(day)
    return f"{parts['weekday']}\u00a0{parts['day']}"
