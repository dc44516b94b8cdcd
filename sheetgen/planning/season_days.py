"""The days and vessels of a season's batches, as they give way to one another.

Comes in: a `Season`, and outlines of batches that share what it says.  Goes out: `Settled`.  Brew days stay
where the file puts them; bottling days give way, later only, so that nobody brews and bottles, or bottles
twice, on one day.  Then vessels are shared out.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sheetgen.model.season import Season
from sheetgen.planning import lanes
from sheetgen.planning.forward import Days
from sheetgen.planning.outline import Outline
from sheetgen.planning.season_plan import Booking
from sheetgen.records import record


@record
class Settled:
    """Every batch of the season with its days and its vessel, in the order of the file.

    `taken`: for each the days that made its bottling give way.
    """

    outlines: tuple[Outline, ...]
    days: tuple[Days, ...]
    taken: tuple[frozenset[date], ...]
    bookings: tuple[Booking, ...]


def arranged(season: Season, outlines: Sequence[Outline], most: int = lanes.MOST_TRIES) -> Settled | None:
    """Days and vessels of these batches by the season's rules; None where one of them finds no day.  `most`
    bounds the search for vessels.
    """
    alone = [one.days() for one in outlines]
    if any(found is None for found in alone):
        return None
    wanted = [found for found in alone if found]
    days, taken = _one_thing_a_day(season, outlines, wanted)
    names = lanes.assigned(outlines, days, season.vessels, season.cleaning, most)
    bookings = tuple(
        lanes.booked(one.batch.code, name, found, season.cleaning)
        for one, name, found in zip(outlines, names, days, strict=True)
    )
    return Settled(tuple(outlines), tuple(days), tuple(taken), bookings)


def _one_thing_a_day(
    season: Season, outlines: Sequence[Outline], alone: Sequence[Days]
) -> tuple[list[Days], list[frozenset[date]]]:
    """Days on which nobody brews and bottles, or bottles twice; who would bottle first keeps the day."""
    days, taken = list(alone), [frozenset[date]() for _ in alone]
    if season.two_on_a_day:
        return days, taken
    order = sorted(range(len(days)), key=lambda i: (not outlines[i].filled, days[i].bottled, i))
    busy = {found.brewed for found in alone}
    for i in order:
        if not outlines[i].filled and days[i].bottled in busy:
            moved = outlines[i].days(taken=frozenset(busy))
            days[i], taken[i] = _given_way(days[i], moved or days[i], busy)
        busy.add(days[i].bottled)
    return days, taken


def _given_way(was: Days, now: Days, busy: set[date]) -> tuple[Days, frozenset[date]]:
    return now, frozenset(day for day in busy if was.bottled <= day <= now.bottled)
