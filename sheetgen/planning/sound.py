"""The batch as the formulas can take it: values that no kitchen has brought to the nearest that they know.

Comes in: a `Batch`.  Goes out: the same batch for reckoning with; rules judge the one that was written, so
nothing here hides a stop.  A reading that cannot be corrected, or was taken before the yeast went in, is left
out.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sheetgen.model import Actual, Batch, Hydrometer, Reading, Room, Water
from sheetgen.units import Celsius, Grams, Gravity, Litres, Metres, Volumes

AIR_C, WATER_C, SAMPLE_C = (0.0, 45.0), (0.0, 60.0), (0.0, 40.0)
ALTITUDE_M = (0.0, 5000.0)
ICE_G = (0.0, 100_000.0)
READABLE_SG = (0.970, 1.170)
CALIBRATED_C, IN_WATER_SG = (4.0, 30.0), (0.985, 1.015)
MOST_VOLUMES = 6.0
MOST_DAYS = 10_000
LEAST_LITRES = 0.5

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


def _room(room: Room) -> Room:
    low, high = (Celsius(within(end, AIR_C)) for end in room.fermenting)
    return replace(room, fermenting=(low, high), warm_place=Celsius(within(room.warm_place, AIR_C)))


def _water(water: Water) -> Water:
    return replace(
        water,
        tap=Celsius(within(water.tap, WATER_C)),
        fridge=Celsius(within(water.fridge, WATER_C)),
        altitude=Metres(within(water.altitude, ALTITUDE_M)),
        ice=Grams(within(water.ice, ICE_G)),
    )


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
    if actual.litres is not None:
        found = replace(found, litres=Litres(max(LEAST_LITRES, actual.litres)))
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
        room=_room(batch.room),
        water=_water(batch.water),
        equipment=replace(batch.equipment, hydrometer=_hydrometer(batch.equipment.hydrometer)),
        carbonation=None if wanted is None else Volumes(min(MOST_VOLUMES, wanted)),
        actual=_actual(batch.actual, pitched),
    )
