"""Where a batch stands: the bucket, the warm place for full bottles, and the store; each may change by dates.

Comes in: values that intake has read and checked.  Goes out: `Room`, with the air of each place on a day.
"""

from __future__ import annotations

from bisect import bisect_right
from datetime import date

from sheetgen.records import record
from sheetgen.units import Celsius

Range = tuple[Celsius, Celsius]


@record
class Warmth:
    """From this day on the air of a place is between `low` and `high`, until the next one says otherwise."""

    on: date
    low: Celsius
    high: Celsius


def _on(spells: tuple[Warmth, ...], day: date) -> Warmth:
    """The spell that holds on a day; the first of them holds before it too."""
    return spells[max(0, bisect_right(spells, day, key=lambda one: one.on) - 1)]


@record
class Room:
    """Where the batch stands.  The fermenting room is a range: the lower end decides times, the higher
    warnings.

    `bucket`, `shelf` and `store`: fermenting room, warm place and store by dates, in order, empty where they
    never change; what is said of them above then holds for this batch's days alone.  `filled`: the day from
    which bottles stand there, None while it is not known.
    """

    fermenting: Range
    warm_place: Celsius
    storing: Celsius
    bucket: tuple[Warmth, ...] = ()
    shelf: tuple[Warmth, ...] = ()
    store: tuple[Warmth, ...] = ()
    filled: date | None = None

    @property
    def changes(self) -> bool:
        """Whether any of the places is described by dates."""
        return bool(self.bucket or self.shelf or self.store)

    def fermenting_on(self, day: date) -> Range:
        """The fermenting room on a day."""
        found = _on(self.bucket, day) if self.bucket else None
        return (found.low, found.high) if found else self.fermenting

    def warm_place_on(self, day: date) -> Celsius:
        """The warm place on a day, at its cooler end: the side on which fizz takes longer."""
        return _on(self.shelf, day).low if self.shelf else self.warm_place

    def storing_on(self, day: date) -> Celsius:
        """The store on a day, at its warmer end: the side on which a drink keeps less long."""
        return _on(self.store, day).high if self.store else self.storing
