"""The days of a batch without the rest of its plan: when its vessel is free again, when it can be drunk.

Comes in: a `Batch` and today.  Goes out: an `Outline` that dates it for any brew day: a two hundredth of the
work of a whole plan, by the same schedule.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.planning.life import Life, NoDay, life_of
from sheetgen.planning.looking import gate_of
from sheetgen.planning.plan import Gate
from sheetgen.planning.planner import has_begun, pitched_on
from sheetgen.planning.scaling import scale
from sheetgen.planning.schedule import schedule
from sheetgen.planning.sound import sound
from sheetgen.planning.strength import strength, vessel_full
from sheetgen.records import record

NOTHING_TAKEN: frozenset[date] = frozenset()


@record
class Days:
    """The days that others of a season have to know."""

    brewed: date
    bottled: date
    ready: date


@record
class Outline:
    """What dates a batch: its strength, its gate, its litres and how full a vessel may be (a share)."""

    batch: Batch
    today: date
    strongest: float
    gate: Gate
    litres: float
    full: float

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
        batch = replace(self.batch, brew_day=brew_day or self.batch.brew_day, taken=taken)
        try:
            return self._run(batch)
        except NoDay:
            return None

    def hindrance(self) -> NoDay | None:
        """What no day within a year works for, if there is such a thing."""
        try:
            self._run(self.batch)
        except NoDay as found:
            return found
        return None

    def _run(self, batch: Batch) -> Days:
        tasks, pace = schedule(batch, self.strongest, self.gate, self.today)
        found = {task.id: task.when.expected for task in tasks if task.id in ("brew", "bottle")}
        return Days(found["brew"], found["bottle"], found["bottle"] + timedelta(days=pace.wait))

    def fits(self, litres: float) -> bool:
        """Whether a vessel of so many litres leaves room for foam."""
        return self.litres <= self.full * litres + 1e-9


def outline_of(batch: Batch, today: date) -> Outline:
    """The outline of a batch."""
    heard = sound(batch, pitched_on(batch))
    scaled = scale(heard)
    found = strength(heard, scaled)
    bottled = heard.actual.bottled
    gate = gate_of(heard, found, today, bottled.on if bottled else None)
    return Outline(heard, today, found.strongest, gate, scaled.planned_l, vessel_full(heard, found))


def own_life(outline: Outline) -> Life:
    """The days of the one who brews."""
    return life_of(outline.batch)
