"""One batch run forward from many brew days: what planning back from an event asks, day after day.

Comes in: a `Batch` and today.  Goes out: `Forward`: for a brew day the day of bottling and the first day of
drinking, as the schedule itself has them.  What does not depend on the brew day is worked out once.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import islice

from sheetgen.model import Batch
from sheetgen.planning.life import HOME_DAYS, HORIZON_DAYS, Life, NoDay, at_leisure, life_of
from sheetgen.planning.looking import gate_of
from sheetgen.planning.plan import Task
from sheetgen.planning.planner import Pace, pace_of, pitched_on
from sheetgen.planning.rooms import cut_to_the_batch, filled_on
from sheetgen.planning.scaling import scale
from sheetgen.planning.schedule import schedule
from sheetgen.planning.sound import sound
from sheetgen.planning.strength import Strength, strength
from sheetgen.records import record

FURTHEST_DAYS = 2 * HORIZON_DAYS
"""So many days back from the first that might do are brew days looked for."""
FIRST_TRIED = 3
"""So many brew days are tried one by one: in most lives one of them is it."""
MOST_STARTS = 20
"""So many first brew days are tried, where no day within a year works for what comes after."""


@record
class Run:
    """One run: the brew day, the expected bottling, the days from there to drinking."""

    brewed: date
    bottled: date
    wait: int

    @property
    def ready(self) -> date:
        """The first day of drinking, as the label has it: the day of filling and the wait."""
        return self.bottled + timedelta(days=self.wait)


def can_brew(life: Life, day: date) -> bool:
    """Whether a brew day may be planned there: one's own day, and somebody at home for the first three."""
    return life.is_home(day, HOME_DAYS) and life.is_mine(day, "brewing")


class Forward:
    """The schedule as a function of the brew day; every day is run once."""

    def __init__(self, batch: Batch, today: date) -> None:
        self.batch = sound(batch, batch.brew_day)
        self.today = today
        self.life = life_of(batch)
        self.strength: Strength = strength(self.batch, scale(self.batch))
        self._known: dict[date, Run | None] = {}

    def from_day(self, day: date) -> Run | None:
        """The run from a brew day; None if no day within a year works for one of its tasks."""
        if day not in self._known:
            self._known[day] = self._run(self.batch, day)
        return self._known[day]

    def least_lead(self) -> int:
        """Days from brewing to drinking for somebody with every day free: no life makes them fewer."""
        run = self._run(at_leisure(self.batch), self.today)
        return (run.ready - run.brewed).days if run else 0

    def _run(self, batch: Batch, day: date) -> Run | None:
        dated = cut_to_the_batch(replace(batch, brew_day=day), self.strength.strongest)
        try:
            tasks, pace = self._schedule(dated)
        except NoDay:
            return None
        bottled = next(task for task in tasks if task.id == "bottle").when.expected
        if dated.room.shelf:
            pace = pace_of(filled_on(dated, bottled), self.strength.strongest)
        return Run(day, bottled, pace.wait)

    def _schedule(self, batch: Batch) -> tuple[tuple[Task, ...], Pace]:
        gate = gate_of(batch, self.strength, self.today)
        return schedule(batch, self.strength.strongest, gate, self.today)

    def last_brew_day(self, target: date) -> Run | None:
        """The run from the latest brew day, not before today, whose drink is ready on `target` or earlier.

        A later brew day never makes a drink ready sooner, since tasks only wait for days that work; so what
        is not found among the first is found by halving.
        """
        last = target - timedelta(days=self.least_lead())
        tried = (last - timedelta(days=back) for back in range(FURTHEST_DAYS))
        days = [day for day in tried if day >= self.today and can_brew(self.life, day)]
        for day in days[:FIRST_TRIED]:
            if self._meets(day, target):
                return self.from_day(day)
        return self._first_of(days, target)

    def _meets(self, day: date, target: date, unknown: bool = False) -> bool:
        run = self.from_day(day)
        return unknown if run is None else run.ready <= target

    def _first_of(self, days: Sequence[date], target: date) -> Run | None:
        """The first of these days, the latest first, that is in time: all after it are, unless a year without
        any day for it lies in between.
        """
        place = bisect_left(days, True, key=lambda day: self._meets(day, target, unknown=True))
        if place < len(days) and self.from_day(days[place]) is None:
            place = bisect_left(days, True, lo=place, key=lambda day: self._meets(day, target))
        return self.from_day(days[place]) if place < len(days) else None

    def first_brew_day(self) -> Run | None:
        """The run from the first day, today or later, on which this may be brewed; None within a year."""
        days = (self.today + timedelta(days=number) for number in range(HORIZON_DAYS))
        good = islice((day for day in days if can_brew(self.life, day)), MOST_STARTS)
        return next((run for day in good if (run := self.from_day(day))), None)


def in_its_rooms(batch: Batch, today: date) -> Batch:
    """The batch with rooms that change cut down to its own days; without dates the batch itself.

    Raises NoDay when no day within a year works for one of its tasks.
    """
    if not batch.room.changes:
        return batch
    original = Forward(batch, today).strength.strongest
    cut = cut_to_the_batch(batch, original)
    whole = sound(cut, pitched_on(cut))
    tasks, _pace = schedule(whole, original, gate_of(whole, strength(whole, scale(whole)), today), today)
    return filled_on(cut, next(task for task in tasks if task.id == "bottle").when.expected)
