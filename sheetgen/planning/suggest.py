"""Brew days for wishes: the days of each worked out, the best choice among them looked for.

Comes in: a `Season` and today.  Goes out: a `Suggestion` for every wish.  What the season has planned already
stays as it is: its vessels, and its days of brewing and bottling, are taken.  Every wish is looked at on each
day of a year that suits: one of one's own, at home for the first days.  Bottles are not looked at; planning
the season with what is suggested says where they run short.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.model.season import Season, SharedVessel, Wish
from sheetgen.planning import lanes
from sheetgen.planning.forward import Days, can_brew
from sheetgen.planning.outline import Outline, outline_of, own_life
from sheetgen.planning.season import plan_settled
from sheetgen.planning.season_days import Settled
from sheetgen.planning.season_runs import settle
from sheetgen.planning.season_search import Busy, Choice, Slot, Taken, Wanted, best_choice, listed
from sheetgen.problems import Problems
from sheetgen.records import record
from sheetgen.units import Litres

DAYS_AHEAD = 365


@record
class Suggestion:
    """A brew day for a wish (None: no day within a year), the shared vessel ("" for its own), and what comes
    of it; `late`: days after the one on which it should be ready.
    """

    wish: Wish
    brew_day: date | None
    vessel: str
    bottled: date | None
    ready: date | None
    late: int


@record
class Suggestions:
    """One for every wish, in the order of the file; `proven`: nothing better exists."""

    found: tuple[Suggestion, ...]
    proven: bool


def suggest(season: Season, today: date, problems: Problems) -> Suggestions | None:
    """Brew days for all wishes; None, and the stops, where what is planned already does not work."""
    found = Problems()
    settled = settle(season, today, found)
    if settled is None or plan_settled(season, settled, today, found) is None:
        problems.extend(found.of("stop"))
        return None
    names = [one.name for one in season.vessels]
    taken = _taken_days(season, settled)
    wishes = _wishes(season, today, taken)
    wanted = [one.wanted(place, names) for place, one in enumerate(wishes)]
    busy = [_busy(settled, name) for name in names] + [()] * len(wishes)
    days = None if season.two_on_a_day else frozenset(day.toordinal() for day in taken)
    answer = best_choice(wanted, Taken(tuple(busy), days))
    told = zip(wishes, answer.choices, strict=True)
    return Suggestions(tuple(one.told(choice, names) for one, choice in told), answer.proven)


@record
class _Dated:
    """A wish, and what dates it: wishes alike but for their codes share an outline, which works out every day
    once.  `places`: the shared vessels that would do, none for a wish with a vessel of its own.
    """

    wish: Wish
    outline: Outline
    places: tuple[str, ...]
    taken: frozenset[date]
    cleaning: int
    alike: int

    def slot(self, ordinal: int) -> Slot | None:
        """What a brew day would take; None if nothing comes of it."""
        days = self.days(ordinal)
        if days is None or days.bottled <= days.brewed:
            return None
        end = lanes.booked("", "", days, self.cleaning).busy_until
        return Slot(ordinal, days.bottled.toordinal(), end.toordinal(), self._late(days.ready))

    def days(self, ordinal: int) -> Days | None:
        """The days for a brew day, by the whole schedule."""
        return self.outline.days(date.fromordinal(ordinal), self.taken)

    def _late(self, ready: date) -> int:
        return max(0, (ready - self.wish.ready_by).days) if self.wish.ready_by else 0

    def starts(self) -> tuple[int, ...]:
        """Every day of the year ahead on which one can brew, whatever comes of it."""
        life, today = own_life(self.outline), self.outline.today
        ahead = (today + timedelta(days=number) for number in range(1, DAYS_AHEAD + 1))
        return tuple(day.toordinal() for day in ahead if day not in self.taken and can_brew(life, day))

    def wanted(self, place: int, names: Sequence[str]) -> Wanted:
        """The wish as the search sees it.  Rooms that change by dates may make a batch that is brewed later
        ready sooner; then all its days are worked out at once.
        """
        vessels = tuple(names.index(name) for name in self.places) or (len(names) + place,)
        starts, run = self.starts(), self.outline.forward.soonest()
        if run is None or self.outline.batch.room.changes:
            return listed([slot for slot in map(self.slot, starts) if slot], vessels)
        wanted = self.wish.ready_by
        booked = lanes.booked("", "", run, self.cleaning)
        return Wanted(
            starts,
            self.slot,
            vessels,
            (self.alike, self.wish.ready_by, vessels),
            (booked.busy_until - booked.brewed).days + 1,
            wanted.toordinal() - (run.ready - run.brewed).days if wanted else None,
        )

    def told(self, choice: Choice | None, names: Sequence[str]) -> Suggestion:
        """What is suggested for the wish."""
        days = self.days(choice.slot.start) if choice else None
        if choice is None or days is None:
            return Suggestion(self.wish, None, "", None, None, 0)
        vessel = names[choice.vessel] if choice.vessel < len(names) else ""
        return Suggestion(self.wish, days.brewed, vessel, days.bottled, days.ready, choice.slot.late)


def _wishes(season: Season, today: date, taken: frozenset[date]) -> list[_Dated]:
    """Every wish with its outline."""
    known: list[tuple[Batch, Outline]] = []
    found = []
    for wish in season.wishes:
        plain = replace(wish.batch, code="")
        alike = next((place for place, (batch, _) in enumerate(known) if batch == plain), len(known))
        if alike == len(known):
            known.append((plain, outline_of(wish.batch, today)))
        outline = known[alike][1]
        places = tuple(_places(outline, season.vessels))
        found.append(_Dated(wish, outline, places, taken, season.cleaning, alike))
    return found


def as_batches(found: Sequence[Suggestion], vessels: Sequence[SharedVessel]) -> tuple[Batch, ...]:
    """The wishes that have a day, as batches of the season."""
    known = {one.name: one.litres for one in vessels}
    return tuple(_as_batch(one, known.get(one.vessel)) for one in found if one.brew_day)


def _as_batch(one: Suggestion, litres: Litres | None) -> Batch:
    batch = replace(one.wish.batch, brew_day=one.brew_day or one.wish.batch.brew_day)
    if litres is None:
        return batch
    gear = replace(batch.equipment, vessel_name=one.vessel, vessel=litres)
    return replace(batch, equipment=gear)


def _taken_days(season: Season, settled: Settled) -> frozenset[date]:
    """Days on which the planned batches are brewed or bottled."""
    if season.two_on_a_day:
        return frozenset()
    return frozenset(day for found in settled.days for day in (found.brewed, found.bottled))


def _places(outline: Outline, vessels: Sequence[SharedVessel]) -> list[str]:
    """The shared vessels that would do, the smallest first; none for a batch with a vessel of its own."""
    lane = lanes.lane_of(outline, vessels)
    if lane is None:
        return [one.name for one in lanes.fitting(outline, vessels)]
    return [one.name for one in vessels if one.name == lane]


def _busy(settled: Settled, name: str) -> Busy:
    spans = [(one.brewed, one.busy_until) for one in settled.bookings if one.vessel == name]
    return tuple((first.toordinal(), last.toordinal()) for first, last in sorted(spans))
