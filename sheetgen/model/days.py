"""Which days a person has for what: days of the week, every so manieth week, shifts.

Comes in: values that intake has read and checked.  Goes out: frozen records for planning.
"""

from __future__ import annotations

from datetime import date
from typing import Literal, get_args

from sheetgen.records import record

Work = Literal["brewing", "testing", "adding", "racking", "bottling", "looking"]
WORKS: tuple[Work, ...] = get_args(Work)
"""`adding`: hops, and whatever goes in on a given day.  `racking`: moving it to another vessel, straining.
`looking`: what takes a minute and needs only somebody at home.
"""


@record
class Weekly:
    """Days of the week, Monday 0; None is any.

    `every`: 2 is every second week, in blocks of seven days of which the first begins on `first`; before that
    there is none.
    """

    weekdays: frozenset[int] | None = None
    every: int = 1
    first: date | None = None

    def names(self, day: date) -> bool:
        """Whether its day of the week is one of them, whatever the week."""
        return self.weekdays is None or day.weekday() in self.weekdays

    def in_turn(self, day: date) -> bool:
        """Whether the week of this day is one of them."""
        if self.first is None:
            return True
        return day >= self.first and (day - self.first).days // 7 % self.every == 0

    def has(self, day: date) -> bool:
        """Whether the day is one of them."""
        return self.names(day) and self.in_turn(day)


@record
class Shifts:
    """A round of days at work and days off that begins on `first` and starts again when it is over.

    `off`: for each day of the round, whether it is free.  `last`: the last day that it says anything of.
    """

    first: date
    off: tuple[bool, ...]
    last: date | None = None

    def at_work(self, day: date) -> bool:
        """Whether the day is a working day."""
        if day < self.first or (self.last is not None and day > self.last):
            return False
        return not self.off[(day - self.first).days % len(self.off)]
