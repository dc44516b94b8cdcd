"""The wall calendar of a season: a month a page, with what to do each day and how full the vessels are.

Comes in: a `SeasonPlan` and `Words`.  Goes out: the view of layouts/documents/wall.layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sheetgen.planning.plan import Plan, Task
from sheetgen.planning.season_plan import Booking, Lane, SeasonPlan
from sheetgen.printing.blocks import PAGE, PAGES
from sheetgen.printing.views.common import View, capital, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import said

WEEK = 7
MOST_MONTHS = 36
MOST_IN_CELL = 4
_WIDEST = 15
_DAY = timedelta(days=1)
_FIRST = ("brew", "bottle")
_LEFT_OUT = ("look-", "best-")


def wall(season: SeasonPlan, words: Words) -> View:
    """What the wall calendar shows."""
    return frozen(
        title=words.say(said("wall.title", name=season.name)),
        subtitle=words.say("wall.subtitle"),
        foot=foot(season, words, words.say(said("wall.title", name=season.name))),
        weekdays=tuple(words.customs.weekdays[(words.customs.first_weekday + n) % WEEK] for n in range(WEEK)),
        vessels=words.say("wall.vessels"),
        months=tuple(_month(first, season, words) for first in months_of(season)),
    )


def foot(season: SeasonPlan, words: Words, title: str) -> View:
    """The last line of a page."""
    paper_id = f"paper.{season.paper.lower()}"
    paper = words.say(paper_id) if words.has(paper_id) else season.paper
    return frozen(
        left=title,
        page=words.say(said("foot.page", page=PAGE, pages=PAGES)),
        right=words.say(said("wall.foot", printed=season.printed, paper=paper)),
    )


def months_of(season: SeasonPlan) -> Iterator[date]:
    """The first days of the months in which something is to be done: this one at least."""
    days = [task.when.expected for plan in season.batches for task in _shown(plan) if task.state != "done"]
    first = min([season.printed, *days]) if not days else max(season.printed, min(days))
    last = max(days, default=first)
    month = first.replace(day=1)
    for _ in range(MOST_MONTHS):
        if month > last.replace(day=1):
            return
        yield month
        month = _next_month(month)


def _next_month(month: date) -> date:
    return (month.replace(day=28) + timedelta(days=4)).replace(day=1)


def _shown(plan: Plan) -> list[Task]:
    """The tasks that the wall speaks of: what hands do, and the first day of drinking."""
    return [
        task
        for task in plan.tasks
        if (task.hands_on or task.id == "drink-from") and not task.id.startswith(_LEFT_OUT)
    ]


def _month(first: date, season: SeasonPlan, words: Words) -> View:
    last = _next_month(first) - _DAY
    start = first - timedelta(days=(first.weekday() - words.customs.first_weekday) % WEEK)
    weeks = ((last - start).days // WEEK) + 1
    days = [start + timedelta(days=n) for n in range(WEEK * weeks)]
    return frozen(
        name=capital(f"{words.customs.months_long[first.month - 1]} {first.year}"),
        cells=tuple(_cell(day, first, season, words) for day in days),
        lanes=tuple(_lane(lane, first, last) for lane in season.lanes if _in_month(lane, first, last)),
        days=tuple(
            frozen(at=_at(day, first, last), text=str(day.day))
            for day in days
            if first <= day <= last and day.weekday() == words.customs.first_weekday
        ),
    )


# Days


def _cell(day: date, month: date, season: SeasonPlan, words: Words) -> View:
    if day.month != month.month:
        return frozen(number="", events=(), away=False)
    events = tuple(_events(day, season, words))
    return frozen(
        number=str(day.day),
        events=events if len(events) <= MOST_IN_CELL else (*events[: MOST_IN_CELL - 1], _more(events, words)),
        away=any(first <= day <= last for plan in season.batches for first, last in plan.away),
    )


def _events(day: date, season: SeasonPlan, words: Words) -> Iterator[View]:
    """What is to be done that day: brewing, the reading before a bottling, bottling, then the rest; the same
    thing in several batches in one.
    """
    found: dict[tuple[int, str, bool], list[str]] = {}
    for plan in season.batches:
        for task in _shown(plan):
            if task.when.expected == day:
                key = (_rank(task, plan, day), words.task(task.id), task.state == "done")
                found.setdefault(key, []).append(plan.code)
    for (rank, name, done), codes in sorted(found.items(), key=lambda each: (each[0][0], each[1])):
        yield frozen(text=_event(codes, name), bold=rank in (0, 2) and not done, done=done)


def _rank(task: Task, plan: Plan, day: date) -> int:
    """What is done first on a day; nothing is bottled that was not read before."""
    if task.id in _FIRST:
        return 2 * _FIRST.index(task.id)
    return 1 if task.id.startswith("test-") and plan.task("bottle").when.expected == day else 3


def _event(codes: list[str], name: str) -> str:
    """Codes and what to do; of several codes the first, where they would be too wide for a cell."""
    mine = list(dict.fromkeys(codes))
    whole = f"{' '.join(mine)} {name}"
    return whole if len(mine) == 1 or len(whole) <= _WIDEST else f"{mine[0]} +{len(mine) - 1} {name}"


def _more(events: tuple[View, ...], words: Words) -> View:
    more = len(events) - MOST_IN_CELL + 1
    return frozen(text=words.say(said("wall.more", n=more)), bold=False, done=False)


# Vessels


def _in_month(lane: Lane, first: date, last: date) -> bool:
    return any(one.brewed <= last and first <= one.busy_until for one in lane.bookings)


def _at(day: date, first: date, last: date) -> float:
    """Where a day begins, 0 to 1."""
    return round(min(1.0, max(0.0, (day - first).days / ((last - first).days + 1))), 4)


def _lane(lane: Lane, first: date, last: date) -> View:
    here = [one for one in lane.bookings if one.brewed <= last and first <= one.busy_until]
    return frozen(
        name=lane.vessel if lane.shared or lane.vessel != here[0].code else "",
        codes=tuple(frozen(at=_at(one.brewed, first, last), text=one.code) for one in here),
        bars=tuple(bar for one in here for bar in _bars(one, first, last)),
    )


def _bars(one: Booking, first: date, last: date) -> Iterator[View]:
    """Solid while the batch is in it, an outline until it is clean."""
    for kind, start, end in (
        ("solid", one.brewed, one.bottled + _DAY),
        ("outline", one.bottled + _DAY, one.busy_until + _DAY),
    ):
        places = _at(start, first, last), _at(end, first, last)
        if places[0] < places[1]:
            yield frozen(kind=kind, start=places[0], end=places[1])
