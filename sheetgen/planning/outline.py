"""The days of a batch without the rest of its plan: when its vessel is free again, when it can be drunk.

Comes in: a `Batch` and today.  Goes out: an `Outline` that dates it for any brew day: a two hundredth of the
work of a whole plan, by the same schedule.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sheetgen.model import Batch
from sheetgen.planning.forward import NOTHING_TAKEN, Days, Forward
from sheetgen.planning.life import Life, NoDay
from sheetgen.planning.planner import has_begun
from sheetgen.planning.scaling import scale
from sheetgen.planning.strength import vessel_full
from sheetgen.records import record


@record
class Outline:
    """What dates a batch of a season, its litres and how full a vessel may be (a share)."""

    forward: Forward
    litres: float
    full: float

    @property
    def batch(self) -> Batch:
        """The batch as it is planned."""
        return self.forward.batch

    @property
    def today(self) -> date:
        """The day on which it is planned."""
        return self.forward.today

    def brewed_on(self, day: date) -> Outline:
        """The same with another brew day."""
        batch = replace(self.batch, brew_day=day)
        return replace(self, forward=Forward(batch, self.today, self.forward.strength))

    @property
    def begun(self) -> bool:
        """Whether its brew day lies behind it."""
        return has_begun(self.batch) or self.batch.brew_day < self.today

    @property
    def filled(self) -> bool:
        """Whether it is in bottles."""
        return self.batch.actual.bottled is not None

    def days(self, brew_day: date | None = None, taken: frozenset[date] = NOTHING_TAKEN) -> Days | None:
        """Its days for a brew day, with days on which nothing can be bottled; None if no day within a year
        works.
        """
        return self.forward.from_day(brew_day or self.batch.brew_day, taken)

    def hindrance(self) -> NoDay | None:
        """What no day within a year works for, if there is such a thing."""
        try:
            self.forward.run(self.batch)
        except NoDay as found:
            return found
        return None

    def fits(self, litres: float) -> bool:
        """Whether a vessel of so many litres leaves room for foam."""
        return self.litres <= self.full * litres + 1e-9


def outline_of(batch: Batch, today: date) -> Outline:
    """The outline of a batch."""
    forward = Forward(batch, today)
    return Outline(forward, scale(forward.batch).planned_l, vessel_full(forward.batch, forward.strength))


def own_life(outline: Outline) -> Life:
    """The days of the one who brews."""
    return outline.forward.life
