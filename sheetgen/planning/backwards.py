"""Backwards from an event: the last brew day that meets it, and the one with time for a second try.

Comes in: a `Batch` with events, and today.  Goes out: `Settled`, the batch with its brew day and volume; and
an `EventPlan` for each event.  There is no sum of constants: the schedule itself is run forward from brew
days, the latest first, until the drink may be drunk, and has stood cold, in time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Assumption, Batch, Event, Work
from sheetgen.planning.event_days import chill_day
from sheetgen.planning.forward import Days, Forward, Runs
from sheetgen.planning.guests import bottles_for, with_volume
from sheetgen.planning.life import HORIZON_DAYS, Life, life_of
from sheetgen.planning.plan import BottlePlan, Task
from sheetgen.planning.plan_events import BrewDayIs, EventPlan
from sheetgen.planning.planner import Pace, has_begun
from sheetgen.problems import said
from sheetgen.records import record


@record
class Limits:
    """What one event asks: the day on which bottles go into the fridge, and the last brew days for it."""

    chill: date
    brew_by: Days | None
    spare_try: Days | None


@record
class Settled:
    """The batch with what the file left to its events, what was assumed for that, and each event's limits;
    `counted_back`: its volume comes from its guests; `in_season`: what comes of another brew day for a
    batch of a season.
    """

    batch: Batch
    day_is: BrewDayIs = "given"
    assumptions: tuple[Assumption, ...] = ()
    limits: tuple[Limits, ...] = ()
    counted_back: bool = False
    in_season: Runs | None = None


def limits_of(forward: Forward, event: Event) -> Limits:
    """The last brew day for the event; and the last for a batch that is tasted, fails, and is brewed again:
    the same question, with the last brew day in the event's place.
    """
    chill = chill_day(forward.life, event.on)
    brew_by = forward.last_brew_day(chill)
    again = forward.last_brew_day(chill_day(forward.life, brew_by.brewed)) if brew_by else None
    return Limits(chill, brew_by, again)


def settle(batch: Batch, today: date) -> Settled:
    """The volume that the guests ask for, then the brew day that the first event asks for."""
    sized, assumed = with_volume(batch)
    found = Settled(replace(sized, day_open=False), assumptions=assumed, counted_back=sized is not batch)
    begun = has_begun(sized) or (sized.brew_day < today and not sized.day_open)
    if begun or not sized.events:
        return found
    forward = Forward(sized, today)
    limits = tuple(limits_of(forward, event) for event in sized.events)
    if not sized.day_open:
        return replace(found, limits=limits)
    run, day_is = _chosen(limits[0], forward)
    dated = replace(found.batch, brew_day=run.brewed if run else today)
    assumption = Assumption("brew-day", said(f"assume.brew-day-{day_is}", on=dated.brew_day))
    return replace(found, batch=dated, day_is=day_is, assumptions=(*assumed, assumption), limits=limits)


def _chosen(first: Limits, forward: Forward) -> tuple[Days | None, BrewDayIs]:
    """The brew day with time for a second try, else the last safe one, else the first that there is."""
    if first.spare_try:
        return first.spare_try, "spare-try"
    if first.brew_by:
        return first.brew_by, "last-safe"
    return forward.first_brew_day(), "too-late"


# What the plan says of each event


def last_test(life: Life, chill: date, wait: int, since: date) -> date | None:
    """The last day, not before `since`, for a test that lets it be filled in time: on that day or, if it is
    none for bottling, on the next that is.
    """
    bottling = _last(life, chill - timedelta(days=wait), since, "bottling")
    return _last(life, bottling, since, "testing") if bottling else None


def _last(life: Life, day: date, since: date, work: Work) -> date | None:
    """The last day until `day` that works, if it is not before `since`."""
    days = (day - timedelta(days=back) for back in range(max(0, min(HORIZON_DAYS, (day - since).days + 1))))
    return next((each for each in days if life.works(each, work)), None)


def event_plans(
    settled: Settled, pace: Pace, tasks: Sequence[Task], bottles: BottlePlan
) -> tuple[EventPlan, ...]:
    """What the plan says of each event, with its brew day as it is."""
    batch, life = settled.batch, life_of(settled.batch)
    bottle = next(task for task in tasks if task.id == "bottle")
    found = []
    for number, event in enumerate(batch.events):
        limits = settled.limits[number] if settled.limits else Limits(chill_day(life, event.on), None, None)
        found.append(_event_plan(event, limits, life, bottle, pace, bottles))
    return tuple(found)


def _event_plan(
    event: Event, limits: Limits, life: Life, bottle: Task, pace: Pace, bottles: BottlePlan
) -> EventPlan:
    ready = bottle.when.expected + timedelta(days=pace.wait)
    margin = (limits.chill - ready).days
    last = last_test(life, limits.chill, pace.wait, bottle.when.earliest)
    return EventPlan(
        on=event.on,
        name=event.name,
        guests=event.guests,
        drinks_ml=event.ml,
        bottles=bottles_for(event.ml, bottles) if event.ml else 0,
        ready=ready,
        chill=limits.chill if margin >= 0 else None,
        margin_days=margin,
        met=margin >= 0,
        brew_by=limits.brew_by.brewed if limits.brew_by else None,
        spare_try_by=limits.spare_try.brewed if limits.spare_try else None,
        last_test=None if bottle.state == "done" else last,
    )
