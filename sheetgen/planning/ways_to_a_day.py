"""Ways out of a life that leaves no day: another brew day, or the fewest things to change.

Comes in: a `Batch`, what its schedule rests on, and today.  Goes out: the first brew day whose whole schedule
works, and the smallest sets of keys of the file without which it would.  Both are found by running the
schedule forward, so they hold whatever its rules are; both are bounded.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations

from sheetgen.model import Batch
from sheetgen.planning.forward import Forward, Runs, can_brew
from sheetgen.planning.life import HORIZON_DAYS, NoDay
from sheetgen.planning.planner import has_begun
from sheetgen.planning.waiting import tolerable_day
from sheetgen.problems import Problem, said

OBSTACLES = ("away", "shifts", "my-days")
"""The keys of the file that take days, in the order in which they are named."""


def no_day(batch: Batch, today: date, found: NoDay, in_season: Runs | None = None) -> Problem:
    """The stop of a batch whose life leaves no day for some work: what it is, and the ways out."""
    wanted, work = found.args
    one = Forward(batch, today)
    until = wanted + timedelta(days=HORIZON_DAYS)
    message = said("stop.no-day", on=wanted, until=until, work=work)
    changes = fewest_changes(one)
    ways, brew = "|".join("-".join(keys) for keys in changes), brew_day_that_works(one, in_season=in_season)
    fix = said("fix.no-day-brew", ways=ways, on=brew) if brew else said("fix.no-day", ways=ways)
    span = next((batch.where[key] for key in OBSTACLES if key in batch.where), None)
    return Problem("stop", message, span, fix, (f"batch {batch.code}",))


def brew_day_that_works(one: Forward, most: int | None = None, in_season: Runs | None = None) -> date | None:
    """The first brew day from the one in the file on, on which one can brew, with somebody at
    home for the first days, that leaves a day for everything and bottles within `most` days (None: those that
    are tolerable); failing that, the first that leaves a day for everything.  None within a year, or when it
    was brewed, or is taken to be.  `in_season`: what comes of a brew day for a batch of a season, which gives
    way to its other batches; None: the batch is alone.
    """
    if has_begun(one.batch) or one.batch.brew_day < one.today:
        return None
    patience = timedelta(days=tolerable_day(one.batch, one.strongest) if most is None else most)
    possible, least = None, one.batch.brew_day
    for day in _brew_days(one):
        if day < least:
            continue  # a later brew day never bottles sooner, so this one would wait too long as well
        run = in_season(day) if in_season else one.from_day(day)
        if run is None:
            continue
        if run.bottled - patience <= day:
            return day
        least = least if in_season else run.bottled - patience
        possible = possible or day
    return possible


def _brew_days(one: Forward) -> Iterator[date]:
    """The days on which one can brew and stay at home."""
    life, first = one.life, one.batch.brew_day
    for offset in range(HORIZON_DAYS + 1):
        day = first + timedelta(days=offset)
        if can_brew(life, day):
            yield day


def without(batch: Batch, keys: tuple[str, ...]) -> Batch:
    """The batch as if these keys were not in the file."""
    if "away" in keys:
        batch = replace(batch, away=())
    if "shifts" in keys:
        batch = replace(batch, shifts=())
    if "my-days" in keys:
        batch = replace(batch, my_days=None, work_days=())
    return batch


def fewest_changes(one: Forward) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of keys without any of which there would be a day for everything."""
    for size in range(1, len(OBSTACLES) + 1):
        found = [
            keys for keys in combinations(OBSTACLES, size) if one.of(without(one.batch, keys)) is not None
        ]
        if found:
            return tuple(found)
    return ()
