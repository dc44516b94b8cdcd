"""The days of an event that others have to keep: when its bottles go into the fridge, what it asks of them.

Comes in: a `Life` and a day, or a `Planner`.  Goes out: days, and links of the graph.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sheetgen.planning.graph import START, Link
from sheetgen.planning.life import HORIZON_DAYS, Life
from sheetgen.planning.planner import Planner
from sheetgen.problems import said

CHILL_DAYS = 2
"""Bottles stand cold for so long before they are opened (common practice, no source)."""


def last_home_day(life: Life, day: date) -> date:
    """The last day until `day` on which somebody is at home to put bottles into a fridge; `day` itself where
    there is none within a year.
    """
    days = (day - timedelta(days=back) for back in range(HORIZON_DAYS))
    return next((each for each in days if life.works(each, "looking")), day)


def chill_day(life: Life, on: date) -> date:
    """When bottles go into the fridge for an event: two days before it, or earlier if nobody is at home."""
    return last_home_day(life, on - timedelta(days=CHILL_DAYS))


def event_links(plan: Planner) -> Iterator[Link]:
    """Each event to come wants the drink ready when its bottles go into the fridge: so the last days of all
    that drinking waits for end there.
    """
    for event in plan.batch.events:
        if event.on >= plan.today:
            chill = chill_day(plan.life, event.on)
            why = said("why.event-ready", ready=chill, on=event.on)
            yield Link(START, "drink-from", why, most=plan.number(chill))
