"""Rules of readings that contradict the calculation or one another: one function each, named as a sentence.

Comes in: `Facts`.  Goes out: findings, each with what every possible cause would mean.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sheetgen.brewing import gravity
from sheetgen.planning import disagreement
from sheetgen.planning.band import at, course_of, days_of_more
from sheetgen.planning.facts import Facts, finding, key_of
from sheetgen.planning.plan import GateReading
from sheetgen.planning.planner import pitched_on
from sheetgen.planning.work import was_cold
from sheetgen.problems import Problem, Said, SaidValue, said

OFF = 10
"""Ten-thousandths by which a reading may lie beyond what is possible: what a hydrometer is good for."""
SLOW = 30
"""Ten-thousandths above the band from where on a reading is worth a word (cautious judgement, no source)."""


def _is_above(sg: float, limit: float, by: int) -> bool:
    return gravity.ten_thousandths(sg) - gravity.ten_thousandths(limit) > by


def _about(facts: Facts, reading: GateReading, message: Said) -> Problem:
    """A finding about this reading, where the file wrote it."""
    return finding(facts, "warn", message, key_of(facts, reading))


def a_gravity_that_is_not_the_recipes_is_explained(facts: Facts) -> Iterator[Problem]:
    """The reading of brew day: believed when it is near, not believed when it is far off."""
    found = facts.found
    if found.measured is None or not disagreement.is_off(found.measured, found.brewed):
        return
    values: dict[str, SaidValue] = {"measured": found.measured, "calculated": found.brewed}
    causes = disagreement.causes_on_brew_day(facts)
    sentence = "warn.layered" if found.layered else "warn.og-differs"
    yield finding(facts, "warn", said(sentence, causes=causes, **values), "actual.og")


def a_reading_above_the_original_gravity_is_explained(facts: Facts) -> Iterator[Problem]:
    """Nothing ferments upwards."""
    original = highest_so_far(facts)
    for reading in dict.fromkeys(facts.gate.readings):
        if _is_beyond_original(facts, reading):
            causes = disagreement.causes_of_high(facts, reading)
            values: dict[str, SaidValue] = {"on": reading.on, "sg": reading.corrected, "original": original}
            yield _about(facts, reading, said("warn.reading-high", causes=causes, **values))


def a_reading_in_the_cold_is_explained(facts: Facts) -> Iterator[Problem]:
    """Yeast stands still there, finished or not."""
    for reading in dict.fromkeys(facts.gate.readings):
        if was_cold(facts.batch, reading.on) and not facts.batch.actual.bottled:
            problem = _about(facts, reading, said("warn.reading-cold", on=reading.on))
            yield replace(problem, fix=said("fix.reading-cold"))


def highest_so_far(facts: Facts) -> float:
    """The highest gravity that the batch ever has: what goes in later may thin it or make it stronger."""
    return max(facts.found.original, facts.found.first)


def _is_beyond_original(facts: Facts, reading: GateReading) -> bool:
    """Whether it is said of this reading that it is above the original gravity; then no more is said of how
    high it is.
    """
    return _is_above(reading.corrected, highest_so_far(facts), OFF) and not _fed_later(facts, reading)


def _fed_later(facts: Facts, reading: GateReading) -> bool:
    """Whether water that went in later thinned the gravity that the reading is held against."""
    return any(entry.on >= reading.on for entry in facts.batch.actual.added)


def a_reading_below_all_sugar_gone_is_explained(facts: Facts) -> Iterator[Problem]:
    """Alcohol is light, but not so light."""
    lowest = disagreement.lowest(facts)
    for reading in dict.fromkeys(facts.gate.readings):
        if _is_above(lowest, reading.corrected, OFF):
            causes = disagreement.causes_of_low(facts, reading)
            values: dict[str, SaidValue] = {"on": reading.on, "sg": reading.corrected, "lowest": lowest}
            yield _about(facts, reading, said("warn.reading-low", causes=causes, **values))


def a_reading_that_rose_is_explained(facts: Facts) -> Iterator[Problem]:
    """Bubbles, warmth, or sugar that nobody wrote down."""
    for before, reading in disagreement.rises(facts.batch, facts.gate.readings):
        if _is_beyond_original(facts, reading):
            continue
        causes = disagreement.causes_of_rise(facts, before.corrected, reading)
        values: dict[str, SaidValue] = {"on": reading.on, "sg": reading.corrected, "before": before.corrected}
        yield _about(facts, reading, said("warn.reading-rose", causes=causes, **values))


def a_skin_that_was_seen_is_explained(facts: Facts) -> Iterator[Problem]:
    """It goes on slowly, so the gate asks for two weeks between readings; mould is thrown away."""
    if facts.batch.actual.skin_seen and facts.batch.actual.bottled is None:
        message = said("warn.skin", days=facts.gate.gap_days)
        yield finding(facts, "warn", message, "actual.seen", said("fix.skin"))


def readings_of_one_day_that_differ_are_named(facts: Facts) -> Iterator[Problem]:
    """They have no order, and one of them is wrong; until it is found the worse one decides."""
    for lowest, highest in disagreement.of_one_day(facts.gate.readings):
        values: dict[str, SaidValue] = {"on": highest.on, "low": lowest.corrected, "high": highest.corrected}
        problem = _about(facts, highest, said("warn.readings-differ", **values))
        yield replace(problem, fix=said("fix.readings-differ"))


def a_reading_far_above_its_day_is_explained(facts: Facts) -> Iterator[Problem]:
    """The newest that counts, held against what was expected before anything was read."""
    counted = [reading for reading in facts.gate.readings if reading.counts]
    if not counted or facts.gate.state in ("pass", "pass-with-care"):
        return
    reading = counted[-1]
    if _is_beyond_original(facts, reading):
        return
    day = (reading.on - pitched_on(facts.batch)).days
    more = days_of_more(facts.batch, facts.tasks)
    expected = at(course_of(facts.batch, facts.found, fed_on=more[0] if more else 0), day)
    if _is_above(reading.corrected, expected.high, SLOW):
        causes = disagreement.causes_of_slow(facts, reading, expected.expected)
        values: dict[str, SaidValue] = {"on": reading.on, "sg": reading.corrected, "high": expected.high}
        yield _about(facts, reading, said("warn.reading-slow", causes=causes, **values))
