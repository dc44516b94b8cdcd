"""Vessels over a season: which batch is in which, until when, and the first day on which one is free.

Comes in: outlines of batches with their days, and the vessels.  Goes out: bookings.  Nothing here is moved:
where two batches need one vessel, that is a finding, and the way out is named.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from sheetgen.model.season import SharedVessel
from sheetgen.planning.forward import Days, can_brew
from sheetgen.planning.life import HORIZON_DAYS
from sheetgen.planning.outline import Outline, own_life
from sheetgen.planning.season_plan import Booking

MOST_TRIES = 20_000
"""So many steps the search for vessels may take; after that the first that is free is taken."""
_DAY = timedelta(days=1)


def booked(code: str, vessel: str, days: Days, cleaning: int) -> Booking:
    """A vessel's time with a batch: bottling, the day after it, and the days for cleaning."""
    return Booking(code, vessel, days.brewed, days.bottled, days.bottled + timedelta(days=1 + cleaning))


def lane_of(outline: Outline, vessels: Sequence[SharedVessel]) -> str | None:
    """The name of the batch's vessel; its code for one that only it has; None if any shared one will do."""
    gear = outline.batch.equipment
    if gear.vessel_name:
        return gear.vessel_name
    return outline.batch.code if gear.vessel is not None or not vessels else None


def fitting(outline: Outline, vessels: Sequence[SharedVessel]) -> list[SharedVessel]:
    """The vessels with room for the batch and its foam, the smallest first; the largest, if none has."""
    found = sorted((one for one in vessels if outline.fits(float(one.litres))), key=lambda one: one.litres)
    return found or [max(vessels, key=lambda one: one.litres)]


def assigned(
    outlines: Sequence[Outline],
    days: Sequence[Days],
    vessels: Sequence[SharedVessel],
    cleaning: int,
    most: int = MOST_TRIES,
) -> list[str]:
    """A lane for every batch.

    Those that may take any vessel are shared out by trying, the earliest first and the smallest vessel
    first, until no two overlap; if that cannot be done, each takes the first that is free, or else fits.
    """
    lanes = [lane_of(one, vessels) for one in outlines]
    open_ones = sorted((i for i, lane in enumerate(lanes) if lane is None), key=lambda i: (days[i].brewed, i))
    bookings = {
        i: booked(outlines[i].batch.code, lane, days[i], cleaning) for i, lane in enumerate(lanes) if lane
    }
    choices = [[one.name for one in fitting(outlines[i], vessels)] for i in open_ones]
    wanted = [booked(outlines[i].batch.code, "", days[i], cleaning) for i in open_ones]
    search = _Sharing(wanted, choices, most)
    found = search.run(list(bookings.values()))
    for i, lane in zip(open_ones, found, strict=True):
        lanes[i] = lane
    return [lane or "" for lane in lanes]


class _Sharing:
    """Vessels for batches by trying, with a bound on the steps."""

    def __init__(self, wanted: Sequence[Booking], choices: Sequence[Sequence[str]], most: int) -> None:
        self.wanted, self.choices, self.most, self.steps = wanted, choices, most, 0

    def run(self, bookings: list[Booking]) -> list[str]:
        """A vessel's name for each."""
        found = self._from(0, bookings)
        return found if found is not None else self._first_free(bookings)

    def _from(self, index: int, bookings: list[Booking]) -> list[str] | None:
        if index == len(self.wanted):
            return []
        for name in self.choices[index]:
            self.steps += 1
            one = _in(self.wanted[index], name)
            if self.steps > self.most or any(clash(one, other) for other in bookings):
                continue
            rest = self._from(index + 1, [*bookings, one])
            if rest is not None:
                return [name, *rest]
        return None

    def _first_free(self, bookings: list[Booking]) -> list[str]:
        names = []
        for wanted, choices in zip(self.wanted, self.choices, strict=True):
            free = [n for n in choices if not any(clash(_in(wanted, n), other) for other in bookings)]
            names.append((free or list(choices))[0])
            bookings = [*bookings, _in(wanted, names[-1])]
        return names


def _in(booking: Booking, vessel: str) -> Booking:
    return Booking(booking.code, vessel, booking.brewed, booking.bottled, booking.busy_until)


def clash(one: Booking, other: Booking) -> bool:
    """Whether both need one vessel on one day."""
    return one.vessel == other.vessel and one.overlaps(other)


def clashes(bookings: Sequence[Booking], begun: frozenset[int] = frozenset()) -> tuple[tuple[int, int], ...]:
    """Batches whose vessel is taken, as their places, each with the one in its way; the earlier brewed keep
    it, and before them those that have `begun`.

    A batch that has to leave is in nobody's way: so its place is no reason for another to leave.
    """
    order = sorted(range(len(bookings)), key=lambda i: (i not in begun, bookings[i].brewed, i))
    kept: list[int] = []
    found = []
    for place in order:
        in_its_way = [i for i in kept if clash(bookings[place], bookings[i])]
        if in_its_way:
            found.append((place, max(in_its_way, key=lambda i: bookings[i].busy_until)))
        if not in_its_way or place in begun:
            kept.append(place)
    return tuple(found)


def first_free_day(
    outline: Outline, lane: Sequence[Booking], taken: frozenset[date], wanted: date, cleaning: int
) -> date | None:
    """The first day from `wanted` on for brewing the batch so that it is alone in its lane; None if no day
    within a year will do.  `taken` are days on which something else is brewed or bottled.
    """
    life, day = own_life(outline), max(wanted, outline.today)
    last = day + timedelta(days=HORIZON_DAYS)
    while day <= last:
        found = outline.days(day, taken) if day not in taken and can_brew(life, day) else None
        if found is None:
            day += _DAY
            continue
        mine = booked("", "", found, cleaning)
        in_the_way = [one.busy_until for one in lane if one.overlaps(mine)]
        if not in_the_way:
            return day
        day = max(*in_the_way, day) + _DAY
    return None
