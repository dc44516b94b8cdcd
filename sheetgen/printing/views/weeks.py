"""The weeks that the timeline shows, and where a day stands in them.

Comes in: a `Plan` and `Words`.  Goes out: `Scale`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sheetgen.planning.plan import Plan
from sheetgen.printing.words import Words
from sheetgen.records import record

WEEK = 7
_DAY = timedelta(days=1)


@record
class Scale:
    """The weeks of the picture, from a first to a last day, and where a day stands in them, 0 to 1."""

    first: date
    last: date

    def at(self, day: date) -> float:
        """Where a day begins."""
        share = (day - self.first).days / ((self.last - self.first).days + 1)
        return round(min(1.0, max(0.0, share)), 4)

    def middle(self, day: date) -> float:
        """Where the middle of a day stands."""
        return round((self.at(day) + self.at(day + _DAY)) / 2, 4)

    @property
    def weeks(self) -> int:
        """How many weeks it is long."""
        return ((self.last - self.first).days + 1) // WEEK

    def mondays(self) -> Iterator[date]:
        """The first day of every week."""
        yield from (self.first + timedelta(days=WEEK * number) for number in range(self.weeks))


def scale_of(plan: Plan, words: Words) -> Scale:
    """Whole weeks from brew day to the first day of drinking, or to the last event, as the language begins
    its weeks.
    """
    brewed = plan.task("brew").when.expected
    ends = [task.when.expected for task in plan.tasks] if plan.safety else [plan.labels.not_before]
    drunk = max([*ends, *(event.on for event in plan.events)])
    first = brewed - timedelta(days=(brewed.weekday() - words.customs.first_weekday) % WEEK)
    weeks = (drunk - first).days // WEEK + 1
    return Scale(first, first + timedelta(days=WEEK * weeks - 1))
