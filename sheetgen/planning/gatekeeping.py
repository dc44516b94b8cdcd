"""The gate, for this batch: readings corrected, judged, and explained.

Comes in: a `Batch`, its gravity range and today.  Goes out: `Gate`.  The judgement itself is the pure
function `sheetgen.brewing.gate.judge`; this module turns dates into days and its reasons into sentences.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from functools import partial

from sheetgen.brewing import gate, gravity, readings_ahead
from sheetgen.model import Batch, Reading
from sheetgen.planning.drink_limits import gap_days
from sheetgen.planning.plan import Gate, GateReading
from sheetgen.planning.planner import hops_pending, pace_of, pitched_on
from sheetgen.planning.rooms import rises, steady_since
from sheetgen.planning.strength import Strength
from sheetgen.planning.work import was_cold, work_of
from sheetgen.problems import Said, said

AFTER_SWIRLING = 3
"""A stuck batch is warmed and swirled, and read again this many days later (common practice, no source)."""
WARM_UP_C = 2.0
"""A warm-up by this much wakes the yeast (cautious judgement, no source)."""
ROUSING = ("degas", "stir")
"""Work that wakes the yeast, whether the drink asks for it or not."""
STEADY_C = 20.0
FINISH_TEST_MARGIN = 0.001
FINISH_TEST_MOST = 0.5
"""A finish test that leaves more than this share of the points is not believed (cautious judgement, no
source).
"""
LOWEST_SG, HIGHEST_SG = 0.970, 1.180
"""The gate's own limits: no drink reads beyond them, only a slip of the pen."""
ABOUT_SG = (-0.001, -0.0005, 0.0, 0.0005)
"""What the gate still takes for the same number."""
CAREFUL = ("between", "below-range")
"""Reasons to wait that become reasons to pass with care: each state has its own sentence."""
STRIP = (10.0, 15.0, 20.0, 25.0, 30.0)
"""Temperatures of the correction strip on the bottling sheet, in C."""


def sampled_at(batch: Batch, reading: Reading) -> float:
    """The temperature of a sample; the room's on that day, at its cooler end, if none was noted."""
    return float(reading.celsius if reading.celsius is not None else batch.room.fermenting_on(reading.on)[0])


def corrected(batch: Batch, reading: Reading) -> float:
    """A reading corrected for the instrument and the sample's temperature (the room's, if none was noted),
    held to what the gate knows.
    """
    instrument = batch.equipment.hydrometer
    celsius = sampled_at(batch, reading)
    found = gravity.corrected_reading(reading.sg, celsius, instrument.calibrated, instrument.in_water)
    return min(HIGHEST_SG, max(LOWEST_SG, found))


def _warmed(batch: Batch, until: date) -> list[tuple[date, float]]:
    """Warm-ups that count: to at least 2 C over the room; and those of the room itself so far."""
    least = float(batch.room.fermenting[0]) + WARM_UP_C
    own = [(on, float(to)) for on, to in batch.actual.warmed if to >= least]
    return own + [(on, to) for on, to in rises(batch.room, pitched_on(batch)) if on <= until]


def steadied_since(batch: Batch) -> int | None:
    """Day number from which the drink has stood at 20 C or more, None if it has not."""
    pitched = pitched_on(batch)
    by_room = steady_since(batch.room, pitched, STEADY_C)
    if by_room == 0:
        return 0
    days = [(on - pitched).days for on, to in batch.actual.warmed if to >= STEADY_C]
    return min(days if by_room is None else [*days, by_room], default=None)


def woken_on(batch: Batch, original: float, today: date) -> list[date]:
    """Days on which something fed or woke the yeast, planned ones among them; dry hops that are still to come
    do so today at the earliest.
    """
    actual = batch.actual
    days = [entry.on for entry in actual.added] + [on for on, _ in _warmed(batch, today)]
    days += [actual.dry_hopped] if actual.dry_hopped else []
    days += [today] if hops_pending(batch) else []
    days += [on for what, on in actual.done if what in ROUSING]
    days += [one.when.expected for one in work_of(batch, pace_of(batch, original)) if one.feeds]
    return sorted(days)


def woken_days(batch: Batch, original: float, today: date, until: date | None) -> list[int]:
    """Those days counted from pitching, up to `until` (all, if None): what went in later wakes no gate."""
    pitched, days = pitched_on(batch), woken_on(batch, original, until or today)
    return [(on - pitched).days for on in days if until is None or on <= until]


def correction_strip(batch: Batch) -> tuple[tuple[float, float], ...]:
    """What to add to a reading, in thousandths, by the sample's temperature (at 1.010 SG, to half a
    thousandth).
    """
    instrument = batch.equipment.hydrometer
    rows = []
    for celsius in STRIP:
        change = gravity.corrected_reading(1.010, celsius, instrument.calibrated, instrument.in_water) - 1.010
        rows.append((celsius, round(change * 2000) / 2))
    return tuple(rows)


def is_careful(kind: str, pet_only: bool) -> bool:
    """Whether a kind of bottle may be filled after a pass with care: plastic, or returnable glass."""
    return kind == "pet" or (kind == "returnable glass" and not pet_only)


def finish_test(batch: Batch, found: Strength) -> float | None:
    """Where a sample with fresh yeast in the warm ended, corrected; None if there was none, or if it left
    more than half of the sugar: then the yeast of the test was dead, and the test says nothing.
    """
    actual, instrument = batch.actual, batch.equipment.hydrometer
    if actual.finish_test is None:
        return None
    celsius = actual.finish_celsius if actual.finish_celsius is not None else instrument.calibrated
    ended = gravity.corrected_reading(actual.finish_test, celsius, instrument.calibrated, instrument.in_water)
    return ended if ended - 1 <= FINISH_TEST_MOST * (found.original - 1) else None


def limits(batch: Batch, found: Strength) -> tuple[float, float]:
    """High and ceiling; a finish test above the range moves both."""
    tested = finish_test(batch, found)
    if tested is None or tested <= found.finish.high:
        return found.finish.high, found.ceiling
    return float(tested), round(float(tested) + FINISH_TEST_MARGIN, 4)


def _reason(verdict: gate.Verdict, batch: Batch, found: Strength, days: int) -> Said:
    high, ceiling = limits(batch, found)
    tested = finish_test(batch, found)
    if verdict.state == "stuck" and tested is not None and tested <= found.finish.high:
        return said("gate.finish-fell", sg=tested)
    careful = verdict.state == "pass-with-care" and verdict.reason in CAREFUL
    name = f"gate.{verdict.reason}-care" if careful else f"gate.{verdict.reason}"
    return said(name, high=high, ceiling=ceiling, low=found.finish.low, days=days)


def _tests_ahead(
    verdict: gate.Verdict,
    ask: Callable[[Sequence[gate.Reading]], gate.Verdict],
    read: Sequence[gate.Reading],
    high: float,
) -> int:
    """The fewest readings to come: it may stay about where it was read, or fall to the top of the range."""
    if verdict.next_day is None or not any(verdict.counted):
        return 0 if verdict.next_day is None else 2
    about = (one.sg + step for one in read for step in ABOUT_SG)
    levels = {high, *(min(HIGHEST_SG, max(LOWEST_SG, sg)) for sg in about)}
    return readings_ahead.fewest_more(lambda more: ask([*read, *more]), levels) or 1


def judge(batch: Batch, found: Strength, today: date, until: date | None = None) -> Gate:
    """Where the batch stands, from the readings up to `until` (all, if None)."""
    pitched, days = pitched_on(batch), gap_days(batch)
    readings = sorted((r for r in batch.actual.readings if r.on <= (until or today)), key=lambda r: r.on)
    judged = [gate.Reading((reading.on - pitched).days, corrected(batch, reading)) for reading in readings]
    still = [was_cold(batch, reading.on) for reading in readings]
    ask = partial(
        gate.judge,
        low=found.finish.low,
        high=found.finish.high,
        ceiling=found.ceiling,
        gap_days=days,
        steadied_since=steadied_since(batch),
        finish_test_sg=finish_test(batch, found),
        woken_days=woken_days(batch, found.strongest, today, until),
        today_day=((until or today) - pitched).days,
    )
    warm = [one for one, cold in zip(judged, still, strict=True) if not cold]
    verdict = ask(warm)
    counted = iter(verdict.counted)
    rows = tuple(
        GateReading(
            reading.on,
            float(reading.sg),
            sampled_at(batch, reading),
            reading.celsius is None,
            one.sg,
            not cold and next(counted),
        )
        for reading, one, cold in zip(readings, judged, still, strict=True)
    )
    high, ceiling = limits(batch, found)
    next_date = pitched + timedelta(days=verdict.next_day) if verdict.next_day is not None else None
    if verdict.state == "stuck":
        next_date = max(next_date or today, today + timedelta(days=AFTER_SWIRLING))
    then = partial(ask, today_day=(next_date - pitched).days) if next_date else ask
    return Gate(
        state=verdict.state,
        because=(_reason(verdict, batch, found, days),),
        next_date=next_date,
        gap_days=days,
        low=found.finish.low,
        high=high,
        ceiling=ceiling,
        readings=rows,
        pet_only=verdict.pet_only,
        correction_strip=correction_strip(batch),
        tests_ahead=_tests_ahead(verdict, then, warm, high),
    )
