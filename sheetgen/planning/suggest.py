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
from sheetgen.planning.season import plan_season
from sheetgen.planning.season_days import Settled, settle
from sheetgen.planning.season_search import Busy, Choice, Slot, Taken, Wanted, best_choice
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
    planned = plan_season(season, today, found)
    settled = settle(season, today, found) if planned else None
    if settled is None:
        problems.extend(found.of("stop"))
        return None
    taken = _taken_days(season, settled)
    names = [one.name for one in season.vessels]
    outlines = [outline_of(wish.batch, today) for wish in season.wishes]
    places = [_places(one, season.vessels) for one in outlines]
    own = [place + len(names) for place, vessels in enumerate(places) if not vessels]
    dated = [_days(outline, taken) for outline in outlines]
    wanted = [
        Wanted(
            tuple(_slot(one, wish, season.cleaning) for one in dated[place]),
            tuple(names.index(name) for name in vessels) if vessels else (len(names) + place,),
        )
        for place, (wish, vessels) in enumerate(zip(season.wishes, places, strict=True))
    ]
    busy = [_busy(settled, name) for name in names]
    busy += [()] * (max(own, default=len(names) - 1) + 1 - len(names))
    days = None if season.two_on_a_day else frozenset(day.toordinal() for day in taken)
    answer = best_choice(wanted, Taken(tuple(busy), days))
    told = zip(season.wishes, answer.choices, dated, strict=True)
    return Suggestions(tuple(_told(*one, names) for one in told), answer.proven)


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


def _days(outline: Outline, taken: frozenset[date]) -> list[Days]:
    """Every day of the year ahead on which the wish could be brewed, with what comes of it."""
    life, found = own_life(outline), []
    for ahead in range(1, DAYS_AHEAD + 1):
        day = outline.today + timedelta(days=ahead)
        days = outline.days(day, taken) if day not in taken and can_brew(life, day) else None
        if days is not None and days.bottled > day:
            found.append(days)
    return found


def _slot(days: Days, wish: Wish, cleaning: int) -> Slot:
    late = max(0, (days.ready - wish.ready_by).days) if wish.ready_by else 0
    end = lanes.booked("", "", days, cleaning).busy_until
    return Slot(days.brewed.toordinal(), days.bottled.toordinal(), end.toordinal(), late)


def _busy(settled: Settled, name: str) -> Busy:
    spans = [(one.brewed, one.busy_until) for one in settled.bookings if one.vessel == name]
    return tuple((first.toordinal(), last.toordinal()) for first, last in sorted(spans))


def _told(wish: Wish, choice: Choice | None, dated: Sequence[Days], names: Sequence[str]) -> Suggestion:
    if choice is None:
        return Suggestion(wish, None, "", None, None, 0)
    days = next(one for one in dated if one.brewed.toordinal() == choice.slot.start)
    vessel = names[choice.vessel] if choice.vessel < len(names) else ""
    return Suggestion(wish, days.brewed, vessel, days.bottled, days.ready, choice.slot.late)
