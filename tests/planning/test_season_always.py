"""What always holds of a season: nothing is booked twice, vessels are shared out if they can be, the first
free day is the first, and no bottle is in two places.  Days and bottles are counted one by one here.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from itertools import product
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model import Batch
from sheetgen.model.season import Season, SharedVessel
from sheetgen.planning import lanes
from sheetgen.planning.cellar import Cellar, Filled
from sheetgen.planning.outline import Outline, outline_of
from sheetgen.planning.season_days import Settled
from sheetgen.planning.season_plan import Booking
from sheetgen.planning.season_runs import settle
from sheetgen.problems import Problems
from sheetgen.units import Litres

from .described import read, six

TODAY = date(2028, 1, 15)
DAYS = timedelta
SIZES = (11.0, 16.0, 30.0)


@cache
def a_batch(recipe: str, litres: int) -> Batch:
    tree = six(recipe=recipe, volume=f"{litres} L", **{"brew-day": "2028-02-05"})
    batch, problems = read(tree, TODAY)
    assert batch is not None, [str(one.message) for one in problems]
    return batch


RECIPES = st.sampled_from(["towrope-mild", "copper-lane-amber", "lantern-shed-winter", "ferry-steps-wheat"])
ABSENCES = st.lists(st.integers(0, 90), max_size=2).map(
    lambda starts: tuple((TODAY + DAYS(start), TODAY + DAYS(start + 6)) for start in sorted(starts))
)
MINE = st.none() | st.frozensets(st.integers(0, 6), min_size=1, max_size=3)


@st.composite
def seasons(draw: st.DrawFn, most: int = 4) -> Season:
    sizes = draw(st.lists(st.sampled_from(SIZES), min_size=1, max_size=3))
    vessels = tuple(SharedVessel(f"v{n}", Litres(size)) for n, size in enumerate(sizes))
    mine, away = draw(MINE), draw(ABSENCES)
    batches = []
    for number in range(draw(st.integers(1, most))):
        batch = a_batch(draw(RECIPES), draw(st.sampled_from([8, 12])))
        name = draw(st.sampled_from(["", "", *(one.name for one in vessels)]))
        own = next((one.litres for one in vessels if one.name == name), None)
        gear = replace(batch.equipment, vessel_name=name, vessel=own)
        day = TODAY + DAYS(draw(st.integers(1, 80)))
        batches.append(
            replace(batch, code=f"2{number}", brew_day=day, my_days=mine, away=away, equipment=gear)
        )
    return Season(
        "s", tuple(batches), (), vessels, None, None, None, 0.0, None, draw(st.integers(0, 2)),
        draw(st.booleans()), "A4", "en-GB", "metric",
    )  # fmt: skip


def settled(season: Season) -> Settled:
    found = settle(season, TODAY, Problems())
    assert found is not None
    return found


def busy_days(one: Booking) -> list[date]:
    return [one.brewed + DAYS(n) for n in range((one.busy_until - one.brewed).days + 1)]


def booked_twice(bookings: list[Booking]) -> bool:
    days = Counter((one.vessel, day) for one in bookings for day in busy_days(one))
    return any(count > 1 for count in days.values())


@settings(max_examples=60)
@given(seasons())
def test_nobody_does_two_things_on_one_day(season: Season):
    found = settled(season)
    work = Counter(day.bottled for day in found.days)
    if not season.two_on_a_day:
        assert max(work.values()) == 1
        assert not set(work) & {day.brewed for day in found.days}


@settings(max_examples=60)
@given(seasons())
def test_bottling_only_gives_way_later(season: Season):
    for one, days in zip(season.batches, settled(season).days, strict=True):
        alone = outline_of(one, TODAY).days()
        assert alone is not None
        assert days.brewed == alone.brewed
        assert days.bottled >= alone.bottled


@settings(max_examples=60)
@given(seasons())
def test_vessels_are_shared_out_if_they_can_be(season: Season):
    """Every way of sharing them out is tried."""
    found = settled(season)
    choices = []
    for one, outline in zip(season.batches, found.outlines, strict=True):
        name = one.equipment.vessel_name
        roomy = [vessel.name for vessel in season.vessels if outline.fits(float(vessel.litres))]
        largest = max(season.vessels, key=lambda vessel: vessel.litres).name
        choices.append([name] if name else roomy or [largest])
    ways = (
        [replace_vessel(one, name) for one, name in zip(found.bookings, names, strict=True)]
        for names in product(*choices)
    )
    can_be = any(not booked_twice(way) for way in ways)
    assert booked_twice(list(found.bookings)) is not can_be
    assert bool(lanes.clashes(found.bookings)) is not can_be


def replace_vessel(one: Booking, name: str) -> Booking:
    return Booking(one.code, name, one.brewed, one.bottled, one.busy_until)


@settings(max_examples=30)
@given(seasons(most=3))
def test_the_first_free_day_is_the_first(season: Season):
    found = settled(season)
    outline, others = found.outlines[0], list(found.bookings[1:])
    lane = [replace_vessel(one, "v") for one in others]
    wanted = season.batches[0].brew_day
    told = lanes.first_free_day(outline, lane, frozenset(), wanted, season.cleaning)
    assert told == next((day for day in year_from(wanted) if suits(outline, lane, day, season)), None)


def year_from(day: date) -> list[date]:
    return [day + DAYS(n) for n in range(120)]


def suits(outline: Outline, lane: list[Booking], day: date, season: Season) -> bool:
    batch = outline.batch
    home = all(not first <= day + DAYS(n) <= last for n in range(4) for first, last in batch.away)
    mine = batch.my_days is None or day.weekday() in batch.my_days
    days = outline.days(day)
    if not (home and mine and days):
        return False
    until = days.bottled + DAYS(1 + season.cleaning)
    return not booked_twice([*distinct(lane), Booking("", "v", days.brewed, days.bottled, until)])


def distinct(lane: list[Booking]) -> list[Booking]:
    """The lane's bookings without what they share among themselves: only the new one is asked about."""
    days = sorted({day for one in lane for day in busy_days(one)})
    return [Booking("", "v", day, day, day) for day in days]


# Bottles


SIZE = (500.0, "returnable glass")
FILLINGS = st.lists(
    st.tuples(st.integers(0, 60), st.integers(0, 20), st.integers(10, 30), st.integers(40, 200)),
    min_size=1,
    max_size=5,
)


@settings(max_examples=150)
@given(FILLINGS, st.integers(0, 20), st.booleans())
def test_bottles_are_free_full_or_gone(fillings: list[tuple[int, int, int, int]], pace: int, again: bool):
    batches = [
        Filled(
            f"b{n}",
            TODAY + DAYS(on),
            ((SIZE, count),),
            TODAY + DAYS(on + wait),
            TODAY,
            TODAY + DAYS(on + keeps),
        )
        for n, (on, count, wait, keeps) in enumerate(sorted(fillings))
    ]
    cellar = Cellar({SIZE: 100}, float(pace), frozenset({SIZE[1]} if again else ()))
    for one in batches:
        cellar.fill(one)
    cellar.go_on_to(TODAY + DAYS(120))
    drunk = drunk_by_hand(batches, pace, 120)
    filled = sum(count for one in batches for _, count in one.sizes)
    assert cellar.free[SIZE] == 100 - filled + (drunk if again else 0)


def drunk_by_hand(batches: list[Filled], pace: int, days: int) -> int:
    """How many bottles are drunk before a day: day after day, so many a week while there is anything."""
    left: dict[str, Any] = {}
    thirst, drunk = 0, 0
    for n in range(days):
        today = TODAY + DAYS(n)
        left |= {one.code: one.sizes[0][1] for one in batches if one.on == today}
        ready = [one for one in batches if left.get(one.code) and one.drink_from <= today]
        thirst = thirst + pace if ready else 0
        while thirst >= 7 and ready:
            thirst -= 7
            first = min(ready, key=lambda one: (one.best_before, one.code))
            left[first.code] -= 1
            drunk += 1
            ready = [one for one in ready if left[one.code]]
    return drunk
