"""Rules of what was measured, and of what it was measured with: one small function each, named as a sentence.

Comes in: `Facts`.  Goes out: findings.  They stand beside the rules in `sheetgen.planning.rules`.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.brewing import carbonation
from sheetgen.brewing.gate import PASS_DAYS
from sheetgen.planning.band import is_test
from sheetgen.planning.disagreement import lowest as lowest_of
from sheetgen.planning.facts import Facts, finding, key_of
from sheetgen.planning.plan import PASSED
from sheetgen.planning.planner import hops_pending, pace_of, pitched_on
from sheetgen.planning.sound import CALIBRATED_C, IN_WATER_SG, holds, readable
from sheetgen.problems import Problem, said

FINE_SCALES_G = 0.1
UNEXPLAINED_L = 0.5


def an_instrument_beyond_the_tables_is_refused(facts: Facts) -> Iterator[Problem]:
    """Nothing that it shows can be corrected."""
    instrument = facts.batch.equipment.hydrometer
    if not holds(CALIBRATED_C, instrument.calibrated):
        message = said("stop.hydrometer-celsius", celsius=float(instrument.calibrated))
        fix = said("fix.hydrometer-celsius")
        yield finding(facts, "stop", message, "equipment.hydrometer.calibrated", fix)
    if not holds(IN_WATER_SG, instrument.in_water):
        message = said("stop.hydrometer-broken", sg=float(instrument.in_water))
        yield finding(facts, "stop", message, "equipment.hydrometer.in-water", said("fix.hydrometer-broken"))


def readings_that_cannot_be_corrected_are_left_out(facts: Facts) -> Iterator[Problem]:
    """Too hot, too cold, or off the scale."""
    actual = facts.batch.actual
    taken = [("actual.og", actual.original_gravity, actual.original_celsius)]
    taken += [("actual.finish-test", actual.finish_test, actual.finish_celsius)]
    taken += [(f"actual.readings.{n}", one.sg, one.celsius) for n, one in enumerate(actual.readings)]
    for key, sg, celsius in taken:
        if sg is not None and not readable(sg, celsius):
            message = said("warn.reading-out", sg=float(sg))
            yield finding(facts, "warn", message, key, said("fix.reading-out"))


def readings_from_before_the_yeast_are_left_out(facts: Facts) -> Iterator[Problem]:
    """They say nothing of how fermentation goes."""
    pitched = pitched_on(facts.batch)
    for index, reading in enumerate(facts.batch.actual.readings):
        if reading.on < pitched:
            message = said("warn.reading-early", on=reading.on)
            yield finding(facts, "warn", message, f"actual.readings.{index}", said("fix.reading-early"))


def a_reading_without_a_temperature_takes_the_rooms(facts: Facts) -> Iterator[Problem]:
    """A guess that the sheet must show."""
    for index, reading in enumerate(facts.batch.actual.readings):
        if reading.celsius is None:
            celsius = float(facts.batch.room.fermenting[0])
            message = said("warn.reading-celsius", on=reading.on, celsius=celsius)
            yield finding(facts, "warn", message, f"actual.readings.{index}")


def a_careful_pass_says_what_it_could_become(facts: Facts) -> Iterator[Problem]:
    """Should the steady beer go on to the low end after all, this is the gas in the bottles; from below the
    range it goes on, if at all, until nothing is left to ferment.
    """
    gas, gate = facts.gas, facts.gate
    if gas is None or gate.state != "pass-with-care" or not gate.readings:
        return
    ended, key = gate.readings[-1].corrected, key_of(facts, gate.readings[-1])
    below = ended < gate.low
    lowest = lowest_of(facts) if below else gate.low
    volumes = gas.highest_volumes + carbonation.volumes_from_points(max(0.0, (ended - lowest) * 1000))
    if below:
        message = said("warn.with-care-below", volumes=volumes, low=gate.low, lowest=min(ended, lowest))
        yield finding(facts, "warn", message, key, said("fix.with-care-below"))
        return
    yield finding(facts, "warn", said("warn.with-care", volumes=volumes, low=gate.low), key)


def bottles_closed_before_their_wall_are_named(facts: Facts) -> Iterator[Problem]:
    """Day 10, or later in the cold or for strong wort: two equal readings may be a pause.  Without a pass no
    bottle is to be opened at all: the safety sheet says so.
    """
    bottled = facts.batch.actual.bottled
    if bottled is None or facts.gate.state not in PASSED:
        return
    days = facts.batch.recipe.drink.days["bottle-earliest"]
    wall = pace_of(facts.batch, facts.found.strongest).least(days)
    number = (bottled.on - pitched_on(facts.batch)).days
    if number < wall:
        yield finding(facts, "warn", said("warn.bottled-early", days=number, wall=wall), "actual.bottled")


def what_was_bottled_should_add_up(facts: Facts) -> Iterator[Problem]:
    """Bottles and litres tell of one another."""
    bottled = facts.batch.actual.bottled
    if bottled is None or bottled.litres is None or bottled.counts is None:
        return
    held = sum(count * row.ml for count, row in zip(bottled.counts, facts.batch.bottles, strict=True)) / 1000
    if abs(held - bottled.litres) > UNEXPLAINED_L + 1e-9:
        values = {"held": held, "litres": float(bottled.litres)}
        fix = said("fix.bottled-sum" if held > bottled.litres else "fix.bottled-sum-less")
        yield finding(facts, "warn", said("warn.bottled-sum", **values), "actual.bottled", fix)


def no_more_is_bottled_than_there_was(facts: Facts) -> Iterator[Problem]:
    """By litres, or by what the bottles hold; half a litre may be priming syrup and a rough mark."""
    bottled, batch_l = facts.batch.actual.bottled, facts.scaled.litres
    if bottled is None:
        return
    rows = zip(bottled.counts or (), facts.batch.bottles, strict=False)
    litres = max(float(bottled.litres or 0.0), sum(count * row.ml for count, row in rows) / 1000)
    if litres > batch_l + UNEXPLAINED_L + 1e-9:
        message = said("warn.bottled-more", litres=litres, batch=batch_l)
        yield finding(facts, "warn", message, "actual.bottled", said("fix.bottled-more"))


def no_more_bottles_are_filled_than_there_are(facts: Facts) -> Iterator[Problem]:
    """Each row by itself."""
    bottled = facts.batch.actual.bottled
    for count, row in zip((bottled.counts or ()) if bottled else (), facts.batch.bottles, strict=False):
        if count > row.count:
            message = said("warn.bottled-beyond", n=count, ml=float(row.ml), have=row.count)
            yield finding(facts, "warn", message, "actual.bottled", said("fix.bottled-beyond"))


def readings_before_the_dry_hops_do_not_count(facts: Facts) -> Iterator[Problem]:
    """Hops wake the yeast; the gate waits until the file says that they are in."""
    if facts.batch.actual.readings and hops_pending(facts.batch):
        yield finding(facts, "warn", said("warn.hops-pending"), "actual.readings", said("fix.hops-pending"))


def a_pass_lapses_after_two_weeks(facts: Facts) -> Iterator[Problem]:
    """The last reading must not be older than that on bottling day."""
    bottle = facts.task("bottle").when.expected
    last = max(task.when.expected for task in facts.tasks if is_test(task))
    if (bottle - last).days > PASS_DAYS:
        message = said("warn.pass-lapses", on=bottle, days=(bottle - last).days)
        yield finding(facts, "warn", message, "away", said("fix.pass-lapses"))


def coarse_scales_weigh_ten_doses_together(facts: Facts) -> Iterator[Problem]:
    """A dose of 3 g on scales that show whole grams may be a fifth off."""
    scales, gas = float(facts.batch.equipment.scales), facts.gas
    if gas is None or gas.dosing != "weight" or gas.g_per_litre <= 0 or scales <= FINE_SCALES_G + 1e-9:
        return
    for size in gas.sizes:
        ten = said("fix.coarse-scales", grams=10 * size.grams_each, ml=size.ml)
        yield finding(facts, "note", said("note.coarse-scales", step=scales), "equipment.scales", ten)


def a_bottling_vessel_holds_the_batch(facts: Facts) -> Iterator[Problem]:
    """Else the sugar in it would be too much for what it holds."""
    holds_l, litres = facts.batch.equipment.bottling_vessel, facts.scaled.bottling_l
    if holds_l is not None and litres > holds_l:
        message = said("warn.bottling-vessel", litres=litres, vessel=float(holds_l))
        yield finding(facts, "warn", message, "equipment.bottling-vessel", said("fix.bottling-vessel"))
