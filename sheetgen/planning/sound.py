"""The batch as the formulas can take it: what a rule stops is brought to the nearest that they know.

Comes in: a `Batch`.  Goes out: the same batch for reckoning with; rules judge the one that was written, so
nothing here hides a stop, and nothing here changes what no rule speaks of.  A reading that cannot be
corrected, or was taken before the yeast went in, is left out, and a rule says so.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sheetgen.model import Actual, Batch, Hydrometer, Reading
from sheetgen.units import Celsius, Gravity, Volumes

SAMPLE_C = (0.0, 40.0)
READABLE_SG = (0.970, 1.170)
CALIBRATED_C, IN_WATER_SG = (4.0, 30.0), (0.985, 1.015)
MOST_VOLUMES = 6.0
MOST_DAYS = 10_000

Span = tuple[float, float]


def within(value: float, span: Span) -> float:
    """The value, or the end of the span that is nearest."""
    return min(span[1], max(span[0], float(value)))


def holds(span: Span, value: float) -> bool:
    """Whether the value lies in the span, its ends included."""
    return span[0] <= value <= span[1]


def readable(sg: float | None, celsius: float | None) -> bool:
    """Whether a hydrometer's reading can be corrected; True if there is none."""
    if sg is None:
        return True
    return holds(READABLE_SG, sg) and (celsius is None or holds(SAMPLE_C, celsius))


def usable(reading: Reading, pitched: date) -> bool:
    """Whether the gate can look at a reading at all."""
    return 0 <= (reading.on - pitched).days <= MOST_DAYS and readable(reading.sg, reading.celsius)


def _hydrometer(instrument: Hydrometer) -> Hydrometer:
    return Hydrometer(
        Celsius(within(instrument.calibrated, CALIBRATED_C)),
        Gravity(within(instrument.in_water, IN_WATER_SG)),
    )


def _actual(actual: Actual, pitched: date) -> Actual:
    found = actual
    if not readable(actual.original_gravity, actual.original_celsius):
        found = replace(found, original_gravity=None, original_celsius=None)
    if not readable(actual.finish_test, actual.finish_celsius):
        found = replace(found, finish_test=None, finish_celsius=None)
    return replace(found, readings=tuple(one for one in actual.readings if usable(one, pitched)))


def sound(batch: Batch, pitched: date) -> Batch:
    """The batch to reckon with."""
    wanted, usual = batch.carbonation, batch.recipe.carbonation
    recipe = (
        batch.recipe
        if usual is None
        else replace(batch.recipe, carbonation=Volumes(min(MOST_VOLUMES, usual)))
    )
    return replace(
        batch,
        recipe=recipe,
        equipment=replace(batch.equipment, hydrometer=_hydrometer(batch.equipment.hydrometer)),
        carbonation=None if wanted is None else Volumes(min(MOST_VOLUMES, wanted)),
        actual=_actual(batch.actual, pitched),
    )
