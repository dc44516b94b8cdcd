"""Days on which somebody can do something: weekdays, extra days, times away.

Comes in: a `Batch`.  Goes out: `Life`, which finds the next day that works.  Tasks only ever move later.
"""

from __future__ import annotations

from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.planning.plan import Move
from sheetgen.problems import Said, said
from sheetgen.records import record

HORIZON_DAYS = 366


class NoDay(ValueError):  # noqa: N818 - it is a finding, and reads as one
    """No day within a year works; `args[0]` is the day from which we looked."""


@record
class Life:
    """When somebody is at home, and which of those days are for hands-on work."""

    my_days: frozenset[int] | None
    extra_days: frozenset[date]
    away: tuple[tuple[date, date], ...]

    def away_until(self, day: date) -> date | None:
        """The last day of the absence that covers `day`, or None."""
        return max((last for first, last in self.away if first <= day <= last), default=None)

    def is_mine(self, day: date) -> bool:
        """Whether `day` is one of the weekdays or extra days for hands-on work."""
        return self.my_days is None or day.weekday() in self.my_days or day in self.extra_days

    def works(self, day: date, hands_on: bool) -> bool:
        """Whether the day can be used: at home, and one's own day if it is hands-on work."""
        return self.away_until(day) is None and (not hands_on or self.is_mine(day))

    def _hinders(self, day: date) -> Said:
        until = self.away_until(day)
        return said("move.away", until=until) if until else said("move.not-my-day", on=day)

    def next_day(self, wanted: date, hands_on: bool = True) -> tuple[date, tuple[Move, ...]]:
        """The first day from `wanted` on that works, and the move if that is not `wanted` itself.

        Raises NoDay when none works within a year.
        """
        day = wanted
        while not self.works(day, hands_on):
            day += timedelta(days=1)
            if (day - wanted).days > HORIZON_DAYS:
                raise NoDay(wanted)
        return day, () if day == wanted else (Move(wanted, self._hinders(wanted)),)


def life_of(batch: Batch) -> Life:
    """The batch's own days."""
    return Life(batch.my_days, batch.extra_days, batch.away)
