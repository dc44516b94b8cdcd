"""One batch of a season on other brew days: what comes of each when the whole season is laid out with it.

Comes in: a season and outlines of its batches.  Goes out: for each batch a function of the brew day, for
those who name another one: so no day is named on which the vessel is full, or somebody brews or bottles
already.  A batch that has to leave its day is on the day named for it when the next one asks.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import cached_property

from sheetgen.model.season import Season
from sheetgen.planning import lanes
from sheetgen.planning.forward import Days, Runs
from sheetgen.planning.outline import Outline, outline_of
from sheetgen.planning.season_days import Settled, arranged
from sheetgen.planning.season_plan import Booking
from sheetgen.planning.ways_to_a_day import no_day
from sheetgen.problems import Problem, Problems, Said

MOST_LAID_OUT = 60
"""So many brew days of one batch are tried by laying the season out; after that none is named."""
MOST_IN_ALL = 300
"""So many of all batches together."""
MOST_RUNS = 3000
"""So many brew days of all batches together are dated at all."""
_MOST_TRIES = 1000
_OTHER_DAY = ("fix.brew-day", "fix.no-day-brew")


def settle(season: Season, today: date, problems: Problems) -> Settled | None:
    """Days and vessels of all batches; None (and a stop) where no day within a year works."""
    outlines = tuple(outline_of(batch, today) for batch in season.batches)
    moves = Moves(season, outlines)
    for place, one in enumerate(outlines):
        hindrance = one.hindrance()
        if hindrance is not None:
            found = no_day(one.batch, today, hindrance, moves.runs(place))
            moves.follow(place, found)
            problems.add(found)
    return arranged(season, outlines)


class Moves:
    """The batches of a season as things stand, and those that are told to move on their new days."""

    def __init__(self, season: Season, outlines: Sequence[Outline]) -> None:
        self.season, self.outlines, self.laid_out, self.dated = season, list(outlines), 0, 0

    def runs(self, place: int) -> Runs:
        """What comes of a brew day for the batch at that place; None if the season does not work with it."""
        return _OtherDays(self, place).days

    def follow(self, place: int, found: Problem) -> None:
        """If the finding stops the batch at that place and names another day, it is brewed then, for all that
        ask from now on.
        """
        fix = found.fix if isinstance(found.fix, Said) and found.level == "stop" else None
        on = fix.values.get("on") if fix and fix.id in _OTHER_DAY else None
        if isinstance(on, date):
            self.outlines[place] = self.outlines[place].brewed_on(on)

    def date(self, outline: Outline, day: date) -> Days | None:
        """A batch's own days for a brew day; None if there are none, or too many were asked for."""
        self.dated += 1
        return outline.days(day) if self.dated <= MOST_RUNS else None

    def lay_out(self, outlines: Sequence[Outline]) -> Settled | None:
        """The season with these batches; None if it cannot be laid out, or that was tried too often."""
        self.laid_out += 1
        if self.laid_out > MOST_IN_ALL:
            return None
        return arranged(self.season, outlines, _MOST_TRIES)


class _OtherDays:
    """Other brew days for one batch."""

    def __init__(self, moves: Moves, place: int) -> None:
        self.moves, self.laid_out = moves, 0
        self.mine = moves.outlines[place]
        dated = [(number, one) for number, one in enumerate(moves.outlines) if one.days() is not None]
        self.before = [one for number, one in dated if number < place]
        self.after = [one for number, one in dated if number > place]

    @cached_property
    def kept(self) -> Settled | None:
        """The season without the batch."""
        return self.moves.lay_out([*self.before, *self.after])

    def days(self, day: date) -> Days | None:
        """The batch's days in the season, if it is brewed on `day` and everything else stays possible."""
        if self.kept is None or day in self.work_days or self._is_full(day, day):
            return None
        alone = self.moves.date(self.mine, day)
        if alone is None or self._is_full(
            day, alone.bottled + timedelta(days=1 + self.moves.season.cleaning)
        ):
            return None
        self.laid_out += 1
        if self.laid_out > MOST_LAID_OUT:
            return None
        whole = self.moves.lay_out([*self.before, self.mine.brewed_on(day), *self.after])
        if whole is None or _clashes(whole) != _clashes(self.kept):
            return None
        return whole.days[len(self.before)]

    @cached_property
    def work_days(self) -> frozenset[date]:
        """Days on which something else is brewed or bottled."""
        if self.kept is None or self.moves.season.two_on_a_day:
            return frozenset()
        return frozenset(day for one in self.kept.days for day in (one.brewed, one.bottled))

    @cached_property
    def fixed(self) -> list[list[Booking]]:
        """For every vessel that the batch may take, the bookings of batches that no other would do for."""
        pairs = zip(self.kept.outlines, self.kept.bookings, strict=True) if self.kept else ()
        held = [booking for one, booking in pairs if len(self._names(one)) == 1]
        return [[one for one in held if one.vessel == name] for name in self._names(self.mine)]

    def _is_full(self, first: date, last: date) -> bool:
        """Whether every vessel for the batch holds, between these days, one that cannot leave it."""
        return all(any(one.brewed <= last and first <= one.busy_until for one in held) for held in self.fixed)

    def _names(self, outline: Outline) -> list[str]:
        """The vessels that a batch may take."""
        vessels = self.moves.season.vessels
        lane = lanes.lane_of(outline, vessels)
        return [lane] if lane is not None else [one.name for one in lanes.fitting(outline, vessels)]


def _clashes(found: Settled) -> set[tuple[str, str]]:
    """The batches whose vessel is taken, each with the one in its way."""
    begun = frozenset(place for place, one in enumerate(found.outlines) if one.begun)
    pairs = lanes.clashes(found.bookings, begun)
    return {(found.bookings[one].code, found.bookings[other].code) for one, other in pairs}
