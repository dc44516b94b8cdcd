"""Which other brew day is named, where the one in the file does not do.

Comes in: `Facts`.  Goes out: advice, or none.  Beside an event it never names a day that would miss it: there
is one last brew day, wherever it is printed.
"""

from __future__ import annotations

from sheetgen.planning.facts import Facts
from sheetgen.planning.forward import Forward
from sheetgen.planning.ways_to_a_day import brew_day_that_works
from sheetgen.problems import Said, said


def next_brew_day(facts: Facts) -> Said | str:
    """The next day of one's own from which everything works; the last one for an event, where that comes
    first; nothing if there is none.
    """
    found = brew_day_that_works(Forward(facts.batch, facts.today, facts.found))
    last = min((event.brew_by for event in facts.events if event.brew_by), default=None)
    if last is not None and (found is None or found > last):
        return said("fix.event-brew-by", brew=last)
    return said("fix.brew-day", on=found) if found else ""


def brew_day_to_bottle_in_time(facts: Facts, most: int | None) -> Said | str:
    """Another brew day that bottles within `most` days (None: those that are tolerable) and misses no event;
    nothing if there is none.
    """
    found = brew_day_that_works(Forward(facts.batch, facts.today, facts.found), most)
    last = min((event.brew_by for event in facts.events if event.brew_by), default=found)
    good = found is not None and last is not None and facts.batch.brew_day != found <= last
    return said("fix.brew-day", on=found) if found and good else ""
