"""One batch run forward, again and again: from other brew days, in another life, with days that others take.

Comes in: a `Batch` and today.  Goes out: `Forward`: the day of bottling and the first day of drinking, as the
schedule itself has them.  Events, seasons, brew days that are offered, and the fewest changes all ask it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import islice

from sheetgen.model import Batch
from sheetgen.planning.life import HOME_DAYS, HORIZON_DAYS, Life, NoDay, at_leisure, life_of
from sheetgen.planning.looking import gate_of
from sheetgen.planning.planner import pace_of, pitched_on
from sheetgen.planning.rooms import cut_to_the_batch, filled_on
from sheetgen.planning.scaling import scale
from sheetgen.planning.schedule import expected_dates
from sheetgen.planning.sound import sound
from sheetgen.planning.strength import Strength, strength
from sheetgen.records import record

FURTHEST_DAYS = 2 * HORIZON_DAYS
"""So many days back from the first that might do are brew days looked for."""
FIRST_TRIED = 3
"""So many brew days are tried one by one: in most lives one of them is it."""
MOST_STARTS = 20
"""So many first brew days are tried, where no day within a year works for what comes after."""


NOTHING_TAKEN: frozenset[date] = frozenset()


@record
class Days:
    """One run: the brew day, the expected bottling, and the first day of drinking as the label has it, the
    day of filling and the wait.
    """

    brewed: date
    bottled: date
    ready: date


Runs = Callable[[date], Days | None]
"""What comes of a brew day; None if nothing does."""


def can_brew(life: Life, day: date) -> bool:
    """Whether a brew day may be planned there: one's own day, and somebody at home for the first three."""
    return life.is_home(day, HOME_DAYS) and life.is_mine(day, "brewing")


class Forward:
    """The schedule as a function of the brew day, of the days that others take, and of the life."""

    def __init__(self, batch: Batch, today: date, found: Strength | None = None) -> None:
        self.batch = sound(batch, pitched_on(batch))
        self.today = today
        self.life = life_of(batch)
        self.strength: Strength = found or strength(self.batch, scale(self.batch))
        self._known: dict[tuple[date, frozenset[date]], Days | None] = {}

    @property
    def strongest(self) -> float:
        """The gravity that the schedule rests on."""
        return self.strength.strongest

    def from_day(self, day: date, taken: frozenset[date] = NOTHING_TAKEN) -> Days | None:
        """The days for a brew day, with days on which nothing can be bottled; None if no day within a year
        works for one of its tasks.  Every question is worked out once.
        """
        asked = (day, taken or self.batch.taken)
        if asked not in self._known:
            self._known[asked] = self.of(replace(self.batch, brew_day=day, taken=asked[1]))
        return self._known[asked]

    def of(self, batch: Batch) -> Days | None:
        """The days of this batch in another life; None if no day within a year works."""
        try:
            return self.run(batch)
        except NoDay:
            return None

    def run(self, batch: Batch) -> Days:
        """The days of this batch; raises NoDay when no day within a year works for one of its tasks."""
        dated, filled = cut_to_the_batch(batch, self.strongest), batch.actual.bottled
        gate = gate_of(dated, self.strength, self.today, filled.on if filled else None)
        dates, pace = expected_dates(dated, self.strongest, gate, self.today)
        bottled = dates["bottle"]
        if dated.room.shelf:
            pace = pace_of(filled_on(dated, bottled), self.strongest)
        return Days(dates["brew"], bottled, bottled + timedelta(days=pace.wait))

    def soonest(self) -> Days | None:
        """The run of somebody with every day free: no life makes the days from its brew day fewer."""
        return self.of(replace(at_leisure(self.batch), brew_day=self.today))

    def least_lead(self) -> int:
        """Days from brewing to drinking for somebody with every day free."""
        run = self.soonest()
        return (run.ready - run.brewed).days if run else 0

    def last_brew_day(self, target: date) -> Days | None:
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

    def _first_of(self, days: Sequence[date], target: date) -> Days | None:
        """The first of these days, the latest first, that is in time: all after it are, unless a year without
        any day for it lies in between.
        """
        place = bisect_left(days, True, key=lambda day: self._meets(day, target, unknown=True))
        if place < len(days) and self.from_day(days[place]) is None:
            place = bisect_left(days, True, lo=place, key=lambda day: self._meets(day, target))
        return self.from_day(days[place]) if place < len(days) else None

    def first_brew_day(self) -> Days | None:
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
    cut = cut_to_the_batch(batch, Forward(batch, today).strongest)
    forward = Forward(cut, today)
    return filled_on(cut, forward.run(forward.batch).bottled)
