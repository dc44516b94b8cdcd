"""Facts that cannot all be true, or should not be: what each would mean, and what to do now.

Comes in: `Facts`.  Goes out: warnings, one function for each kind of contradiction, named as a sentence.
Nothing here stops: what has happened is explained.  What is dangerous besides is on the safety sheet.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.planner import has_dry_hops, pitched_on
from sheetgen.planning.tasting import lively_on
from sheetgen.planning.waits import HOPS_EARLIEST
from sheetgen.problems import Problem, said

LONGEST_WITHOUT_YEAST = 2
"""From so many days without yeast on, wort at room temperature is thrown away (cautious judgement)."""


def yeast_goes_into_wort_that_is_there(facts: Facts) -> Iterator[Problem]:
    """The days are counted from the later of the two: the careful side."""
    brewed, pitched = facts.batch.actual.brewed, facts.batch.actual.pitched
    if pitched and brewed and pitched < brewed:
        message = said("warn.pitched-before", pitched=pitched, brewed=brewed)
        yield finding(facts, "warn", message, "actual.pitched", said("fix.dates"))


def wort_without_yeast_spoils(facts: Facts) -> Iterator[Problem]:
    """And closed up in the warm it can be poisonous."""
    brewed, pitched = facts.batch.actual.brewed, facts.batch.actual.pitched
    if pitched and brewed and (pitched - brewed).days >= LONGEST_WITHOUT_YEAST:
        message = said("warn.pitched-late", days=(pitched - brewed).days)
        yield finding(facts, "warn", message, "actual.pitched", said("fix.pitched-late"))


def bottles_are_filled_after_brewing(facts: Facts) -> Iterator[Problem]:
    """One of the two days is a slip; until it is found the bottles count as filled too early."""
    bottled, began = facts.batch.actual.bottled, pitched_on(facts.batch)
    if bottled is not None and bottled.on < began:
        message = said("warn.bottled-before", on=bottled.on, began=began)
        yield finding(facts, "warn", message, "actual.bottled", said("fix.bottled-before"))


def hops_go_in_between_foam_and_filling(facts: Facts) -> Iterator[Problem]:
    """Before the yeast they do nothing, in the foam they block the airlock, after filling they cannot."""
    on, bottled, began = (
        facts.batch.actual.dry_hopped,
        facts.batch.actual.bottled,
        pitched_on(facts.batch),
    )
    if on is None:
        return
    if on < began:
        message, fix = said("warn.hops-before", on=on, began=began), said("fix.dates")
    elif bottled is not None and on > bottled.on:
        message, fix = said("warn.hops-after", on=on, bottled=bottled.on), said("fix.dates")
    elif (on - began).days < HOPS_EARLIEST:
        message, fix = said("warn.hops-foam", days=(on - began).days), said("fix.hops-foam")
    elif not has_dry_hops(facts.batch):
        message, fix = said("warn.hops-none", on=on), said("fix.hops-none")
    else:
        return
    yield finding(facts, "warn", message, "actual.dry-hopped", fix)


def the_gate_does_not_look_into_bottles(facts: Facts) -> Iterator[Problem]:
    """A reading from a bottle says something, but not whether it should have been filled."""
    bottled = facts.batch.actual.bottled
    if bottled is None:
        return
    for index, reading in enumerate(facts.batch.actual.readings):
        if reading.on > bottled.on:
            message = said("warn.reading-after", on=reading.on, bottled=bottled.on)
            yield finding(facts, "warn", message, f"actual.readings.{index}", said("fix.reading-after"))


def bottles_are_tried_after_filling(facts: Facts) -> Iterator[Problem]:
    """A bottle that was tried was filled before."""
    bottled = facts.batch.actual.bottled
    for index, one in enumerate(facts.batch.actual.tasted):
        key = f"actual.tasted.{index}"
        if bottled is None:
            yield finding(facts, "warn", said("warn.tasted-none", on=one.on), key, said("fix.tasted-none"))
        elif one.on < bottled.on:
            message = said("warn.tasted-before", on=one.on, bottled=bottled.on)
            yield finding(facts, "warn", message, key, said("fix.dates"))


def what_is_added_goes_in_before_filling(facts: Facts) -> Iterator[Problem]:
    """On filling day it may be the sugar for the bottles, which is reckoned by itself and would count twice;
    later it can only have gone into bottles.
    """
    bottled = facts.batch.actual.bottled
    for index, entry in enumerate(facts.batch.actual.added):
        key, feeds = f"actual.added.{index}", entry.what is None or entry.what.points > 0
        if bottled is not None and entry.on > bottled.on:
            message = said("warn.added-after", name=entry.name, on=entry.on, bottled=bottled.on)
            yield finding(facts, "warn", message, key, said("fix.added-after"))
        elif bottled is not None and entry.on == bottled.on and feeds:
            message = said("warn.added-filling", name=entry.name, on=entry.on)
            yield finding(facts, "warn", message, key, said("fix.added-filling"))


def a_bottle_that_foamed_over_is_named(facts: Facts) -> Iterator[Problem]:
    """What is in the others is the same: the safety sheet says what to do."""
    on = lively_on(facts.batch)
    if on is not None:
        days = [one.on for one in facts.batch.actual.tasted]
        message = said("warn.tasted-lively", on=on)
        yield finding(facts, "warn", message, f"actual.tasted.{days.index(on)}", said("fix.tasted-lively"))
