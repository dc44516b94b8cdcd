"""What every date is worked out from: the batch's pace, its day 0, and the next day that works.

Comes in: a `Batch`, its gravities and today.  Goes out: `Pace` and `Planner`.
"""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta

from sheetgen.brewing import fermentation, rounding
from sheetgen.model import Batch, Room
from sheetgen.planning.drink_limits import gap_days
from sheetgen.planning.life import Life
from sheetgen.planning.plan_days import Tempo
from sheetgen.records import record

LEAST_WAIT_DAYS = 10
"""Bottles are never opened for drinking before this many days (common practice, no source)."""

LATER_FILLED_DAYS = 14
"""Bottles may be filled so much later than planned, and the wait on their labels is still long enough."""


@record
class Pace:
    """How long this batch takes: the room's factor for fermenting, days for strength, days of fizz in the
    warm place (0 for a still drink), the wait from filling to drinking, and the days between tests.

    `over`: the day from which it only clears: warmth, cold and strength change nothing after it.
    `least_wait`: least days from filling to drinking.
    """

    factor: float
    strength_ferment: float
    strength_bottle: float
    fizz: float
    gap: int
    over: float = math.inf
    least_wait: int = LEAST_WAIT_DAYS

    def usual(self, days: float) -> int:
        """A usual time from its base days, rounded up."""
        return rounding.waiting_days(self._paced(days, self.factor))

    def least(self, days: float) -> int:
        """A wall from its base days: warmth never shortens it, cold and strength lengthen it."""
        return rounding.waiting_days(self._paced(days, max(1.0, self.factor)))

    def _paced(self, days: float, factor: float) -> float:
        return (min(days, self.over) + self.strength_ferment) * factor + max(0.0, days - self.over)

    @property
    def tempo(self) -> Tempo:
        """The same, for the plan."""
        return Tempo(self.factor, self.strength_ferment, self.strength_bottle, self.fizz, self.gap)

    @property
    def wait(self) -> int:
        """Days from filling to the earliest drinking."""
        slow = max(1.0, self.fizz / fermentation.fizz_days(20.0))
        return rounding.waiting_days(max(float(self.least_wait), self.fizz) + self.strength_bottle * slow)


def coldest_known(batch: Batch) -> float:
    """The coolest room, in C, whose days are known for this yeast."""
    return max(8.0, min(14.0, float(batch.recipe.yeast.celsius[0])))


def warmest_known(batch: Batch) -> float:
    """The warmest room, in C, whose days are known for this yeast."""
    return min(40.0, max(30.0, float(batch.recipe.yeast.celsius[1])))


def fizz_of(room: Room) -> float:
    """Days of fizz in the warm place.  In one that changes it is the longest of all fillings in the two weeks
    after the day that is planned: a label is not too early if the bottles are filled late.
    """
    filled = room.filled
    if filled is None or not room.shelf:
        return fermentation.fizz_days(_shelf(float(room.warm_place)))

    def days_from(late: int) -> float:
        first = filled + timedelta(days=late)
        return fermentation.fizz_days_by_day(
            lambda day: _shelf(float(room.warm_place_on(first + timedelta(days=day))))
        )

    return max(days_from(late) for late in range(LATER_FILLED_DAYS + 1))


def _shelf(celsius: float) -> float:
    """A place that bottles may stand in."""
    return min(30.0, max(14.0, celsius))


def pace_of(batch: Batch, original: float) -> Pace:
    """The pace from room, yeast and strength.  The cooler end of the room decides; rooms are checked
    before.
    """
    coldest, warmest = coldest_known(batch), warmest_known(batch)
    room = min(warmest, max(coldest, float(batch.room.fermenting[0])))
    ferment, bottle = fermentation.strength_days(original)
    factor = fermentation.ferment_factor(room, coldest, warmest)
    drink, gap = batch.recipe.drink, gap_days(batch)
    over = drink.days.get("ferment-over", math.inf)
    wait = max(LEAST_WAIT_DAYS, drink.wait_days)
    if not drink.primed:  # nothing has to rise in the bottle: strength only asks for age
        return Pace(factor, ferment, 0.0, 0.0, gap, over, max(wait, rounding.waiting_days(bottle)))
    return Pace(factor, ferment, bottle, fizz_of(batch.room), gap, over, wait)


@record
class Planner:
    """The batch, its pace and life, and the two days that everything hangs on: pitching and today."""

    batch: Batch
    pace: Pace
    life: Life
    pitched: date
    today: date
    pitching: datetime | None = None

    def day(self, number: int) -> date:
        """The date of a day number."""
        return self.pitched + timedelta(days=number)

    def number(self, on: date) -> int:
        """The day number of a date."""
        return (on - self.pitched).days

    def base(self, name: str, usual: float = 0.0) -> float:
        """Base days of the drink; the usual ones where it has none of its own."""
        return float(self.batch.recipe.drink.days.get(name, usual))

    @property
    def begun(self) -> bool:
        """Whether brew day is behind us."""
        return has_begun(self.batch) or self.pitched < self.today


def pitched_on(batch: Batch) -> date:
    """Day 0: the day the yeast went in, and never before there was anything for it to go into."""
    brewed, pitched = batch.actual.brewed or batch.brew_day, batch.actual.pitched
    return max(pitched, batch.actual.brewed or pitched) if pitched else brewed


def has_begun(batch: Batch) -> bool:
    """Whether anything that was entered shows that brew day is over."""
    actual = batch.actual
    later = (actual.brewed, actual.pitched, actual.original_gravity, actual.dry_hopped, actual.bottled)
    lists = (actual.readings, actual.added, actual.warmed, actual.done, actual.looks, actual.tasted)
    return any(fact is not None for fact in later) or any(lists)


def has_dry_hops(batch: Batch) -> bool:
    """Whether hops go into the fermenter."""
    return any(part.when.stage == "dry-hop" for part in batch.recipe.ingredients)


def hops_pending(batch: Batch) -> bool:
    """Whether the recipe's dry hops are not in yet, as far as the file says."""
    return has_dry_hops(batch) and batch.actual.dry_hopped is None and batch.actual.bottled is None
