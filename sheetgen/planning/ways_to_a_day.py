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
from sheetgen.planning.forward import can_brew
from sheetgen.planning.life import HORIZON_DAYS, NoDay, life_of
from sheetgen.planning.looking import gate_of
from sheetgen.planning.plan import Task
from sheetgen.planning.planner import has_begun, pitched_on
from sheetgen.planning.scaling import scale
from sheetgen.planning.schedule import schedule
from sheetgen.planning.sound import sound
from sheetgen.planning.strength import Strength, strength
from sheetgen.planning.waiting import tolerable_day
from sheetgen.problems import Problem, said
from sheetgen.records import record

OBSTACLES = ("away", "shifts", "my-days")
"""The keys of the file that take days, in the order in which they are named."""


@record
class Try:
    """What a schedule is run with."""

    batch: Batch
    found: Strength
    today: date

    def tasks(self) -> tuple[Task, ...] | None:
        """The tasks, or None when no day within a year works for one of them."""
        bottled = self.batch.actual.bottled
        try:  # the gate looks at the days of work too
            gate = gate_of(self.batch, self.found, self.today, bottled.on if bottled else None)
            return schedule(self.batch, self.found.strongest, gate, self.today)[0]
        except NoDay:
            return None


def trial_of(written: Batch, today: date) -> Try:
    """What the schedule of a batch is run with."""
    batch = sound(written, pitched_on(written))
    return Try(batch, strength(batch, scale(batch)), today)


def no_day(batch: Batch, today: date, found: NoDay) -> Problem:
    """The stop of a batch whose life leaves no day for some work: what it is, and the ways out."""
    wanted, work = found.args
    one = trial_of(batch, today)
    until = wanted + timedelta(days=HORIZON_DAYS)
    message = said("stop.no-day", on=wanted, until=until, work=work)
    changes = fewest_changes(one)
    ways, brew = "|".join("-".join(keys) for keys in changes), brew_day_that_works(one)
    fix = said("fix.no-day-brew", ways=ways, on=brew) if brew else said("fix.no-day", ways=ways)
    span = next((batch.where[key] for key in OBSTACLES if key in batch.where), None)
    return Problem("stop", message, span, fix, (f"batch {batch.code}",))


def brew_day_that_works(one: Try, most: int | None = None) -> date | None:
    """The first brew day from the one in the file on, on which one can brew, with somebody at
    home for the first days, that leaves a day for everything and bottles within `most` days (None: those that
    are tolerable); failing that, the first that leaves a day for everything.  None within a year, or when it
    was brewed, or is taken to be.
    """
    if has_begun(one.batch) or one.batch.brew_day < one.today:
        return None
    patience = timedelta(days=tolerable_day(one.batch, one.found.strongest) if most is None else most)
    possible, least = None, one.batch.brew_day
    for day in _brew_days(one):
        if day < least:
            continue  # a later brew day never bottles sooner, so this one would wait too long as well
        tasks = replace(one, batch=replace(one.batch, brew_day=day)).tasks()
        if tasks is None:
            continue
        least = next(task.when.expected for task in tasks if task.id == "bottle") - patience
        if least <= day:
            return day
        possible = possible or day
    return possible


def _brew_days(one: Try) -> Iterator[date]:
    """The days on which one can brew and stay at home."""
    life, first = life_of(one.batch), one.batch.brew_day
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


def fewest_changes(one: Try) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of keys without any of which there would be a day for everything."""
    for size in range(1, len(OBSTACLES) + 1):
        found = [
            keys
            for keys in combinations(OBSTACLES, size)
            if replace(one, batch=without(one.batch, keys)).tasks() is not None
        ]
        if found:
            return tuple(found)
    return ()
