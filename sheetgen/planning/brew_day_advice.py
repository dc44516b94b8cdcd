"""Which other brew day is named, where the one in the file does not do.

Comes in: `Facts`.  Goes out: advice, or none.  Beside an event it never names a day that would miss it: there
is one last brew day, wherever it is printed.  For a batch of a season it names none that another is in the
way of.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sheetgen.planning.facts import Facts
from sheetgen.planning.forward import Forward
from sheetgen.planning.ways_to_a_day import brew_day_that_works
from sheetgen.problems import Said, said


def next_brew_day(facts: Facts) -> Said | str:
    """The next day of one's own from which everything works; the last one for an event, where that comes
    first; nothing if there is none.
    """
    found = _brew_day_that_works(facts)
    last = min((event.brew_by for event in facts.events if event.brew_by), default=None)
    if last is not None and (found is None or found > last):
        works = facts.in_season is None or facts.in_season(last) is not None
        return said("fix.event-brew-by", brew=last) if works else ""
    return said("fix.brew-day", on=found) if found else ""


def brew_day_to_bottle_in_time(facts: Facts, most: int | None) -> Said | str:
    """Another brew day that bottles within `most` days (None: those that are tolerable) and misses no event;
    nothing if there is none.
    """
    found = _brew_day_that_works(facts, most)
    last = min((event.brew_by for event in facts.events if event.brew_by), default=found)
    good = found is not None and last is not None and facts.batch.brew_day != found <= last
    return said("fix.brew-day", on=found) if found and good else ""


def _brew_day_that_works(facts: Facts, most: int | None = None) -> date | None:
    """The first that bottles within `most` days, in the season too, if the batch is one of a season."""
    batch = facts.batch if facts.in_season is None else replace(facts.batch, taken=frozenset())
    return brew_day_that_works(Forward(batch, facts.today, facts.found), most, facts.in_season)
