"""The ways out for batches whose vessel is taken: the first brew day that works, a vessel that is free.

Comes in: a season's settled days, and the batches that have to leave their place.  Goes out: a `Way` for
each.  They are worked out one after another, on a season without those that leave: each holds when all that
is named before it is done, by day or by vessel.  A day is named after the whole season was laid out with it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model.season import Season
from sheetgen.planning import lanes
from sheetgen.planning.forward import Days, can_brew
from sheetgen.planning.life import HORIZON_DAYS
from sheetgen.planning.outline import Outline, own_life
from sheetgen.planning.season_days import Settled, arranged
from sheetgen.planning.season_plan import Booking
from sheetgen.records import record

MOST_LAID_OUT = 150
"""So many times the season is laid out anew to prove a day; after that its vessel alone is looked at."""
_MOST_TRIES = 1000
_DAY = timedelta(days=1)


@record
class Way:
    """The first brew day that works (None: no day within a year), and another vessel that is free on the day
    wanted ("": there is none).
    """

    on: date | None
    vessel: str


def ways_out(season: Season, settled: Settled, leaving: Sequence[int]) -> dict[int, Way]:
    """A way for every batch that leaves, by its place."""
    search = _Ways(season, settled, leaving)
    return {place: search.way(place) for place in leaving}


class _Ways:
    """The season without those that leave, and with them again as each finds a place."""

    def __init__(self, season: Season, settled: Settled, leaving: Sequence[int]) -> None:
        self.season, self.settled, self.laid_out = season, settled, 0
        self.staying = [one for i, one in enumerate(settled.outlines) if i not in leaving]
        kept = arranged(season, self.staying)
        self.days: tuple[Days, ...] = kept.days if kept else ()
        self.bookings: tuple[Booking, ...] = kept.bookings if kept else ()
        self.offered: list[tuple[Days, Booking]] = []
        self.told = self._clashes(self.bookings)

    def way(self, place: int) -> Way:
        """The way out of one batch; what it may take is taken for the next."""
        outline, booking = self.settled.outlines[place], self.settled.bookings[place]
        vessel = self._other_vessel(outline, booking)
        on = self._day(outline, booking)
        if vessel:
            self.offered.append((self.settled.days[place], replace(booking, vessel=vessel)))
        return Way(on, vessel)

    def _other_vessel(self, outline: Outline, mine: Booking) -> str:
        fitting = (one.name for one in self.season.vessels if outline.fits(float(one.litres)))
        return next((name for name in fitting if self._is_free(replace(mine, vessel=name))), "")

    def _is_free(self, mine: Booking) -> bool:
        return not any(lanes.clash(mine, other) for other in self._taken())

    def _taken(self) -> tuple[Booking, ...]:
        return (*self.bookings, *(booking for _, booking in self.offered))

    def _day(self, outline: Outline, mine: Booking) -> date | None:
        """The first day on which the batch may be brewed and everything else stays possible."""
        life, busy = own_life(outline), self._busy()
        day = max(mine.brewed, outline.today)
        last = day + timedelta(days=HORIZON_DAYS)
        while day <= last:
            found = outline.days(day, busy) if day not in busy and can_brew(life, day) else None
            if found is not None and self._takes_in(outline, mine, found):
                return day
            day = max(day, self._full_until(outline, mine, found)) + _DAY
        return None

    def _busy(self) -> frozenset[date]:
        """Days on which something is brewed or bottled."""
        if self.season.two_on_a_day:
            return frozenset()
        days = (*self.days, *(days for days, _ in self.offered))
        return frozenset(day for one in days for day in (one.brewed, one.bottled))

    def _full_until(self, outline: Outline, mine: Booking, days: Days | None) -> date:
        """The last day on which all vessels for the batch are in use; the first of all days if one is free,
        or if others may yet be moved out of one of several.
        """
        names = self._names(outline, mine)
        if days is None or (len(names) > 1 and self.laid_out < MOST_LAID_OUT):
            return date.min
        ends = []
        for name in names:
            wanted = lanes.booked("", name, days, self.season.cleaning)
            busy = [one.busy_until for one in self._taken() if lanes.clash(wanted, one)]
            ends.append(max(busy, default=date.min))
        return min(ends)

    def _names(self, outline: Outline, mine: Booking) -> list[str]:
        """The vessels that the batch may take."""
        if lanes.lane_of(outline, self.season.vessels) is not None:
            return [mine.vessel]
        return [one.name for one in lanes.fitting(outline, self.season.vessels)]

    def _takes_in(self, outline: Outline, mine: Booking, days: Days) -> bool:
        """Whether the season works with the batch on these days; if so, it stays there."""
        names = self._names(outline, mine)
        own = (lanes.booked(outline.batch.code, name, days, self.season.cleaning) for name in names)
        free = next((one for one in own if self._is_free(one)), None)
        moved = outline.brewed_on(days.brewed)
        if self.laid_out >= MOST_LAID_OUT or (free is None and len(names) == 1):
            return free is not None and self._take(moved, (*self.days, days), (*self.bookings, free))
        self.laid_out += 1
        whole = arranged(self.season, [*self.staying, moved], _MOST_TRIES)
        if whole is None or self._clashes(whole.bookings) != self.told:
            return False
        offers = [booking for _, booking in self.offered]
        if any(lanes.clash(one, offer) for offer in offers for one in whole.bookings):
            return False
        return self._take(moved, whole.days, whole.bookings)

    def _clashes(self, bookings: Sequence[Booking]) -> tuple[tuple[int, int], ...]:
        begun = frozenset(i for i, one in enumerate(self.staying) if one.begun)
        return lanes.clashes(bookings, begun)

    def _take(self, moved: Outline, days: tuple[Days, ...], bookings: tuple[Booking, ...]) -> bool:
        self.staying.append(moved)
        self.days, self.bookings = days, bookings
        return True
