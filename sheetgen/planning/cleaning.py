"""Cleaner and sanitiser for both days, by what has to be wet.

Comes in: a `Batch`, its vessel and the bottles to prepare.  Goes out: a `Cleaning` for each mix, and the
cautions that belong to its product.
"""

from __future__ import annotations

from typing import Literal

from sheetgen.brewing import cleaning as rules
from sheetgen.model import Batch, Sanitiser
from sheetgen.planning.plan import Cleaning, CleaningPart, Sanitising

MOST_BOTTLES = 10_000
"""More than any batch has, and what the formulas go up to."""
QUICK_MINUTES = 5.0
"""A cleaner that needs no longer goes along with washing up; a longer one is a step of its own."""
_OUNCE_G = 28.349523125
_SPOONS = ((30.0, 2.5), (60.0, 7.5), (1e9, 5.0))
"""Half teaspoons, half tablespoons, fluid ounces: what is measured and printed in US and UK units."""
_SPOON_STRENGTH = 0.965
"""A US spoon is 1.4 % smaller than ours of 5 ml, and still gives 95 %."""
_STEPS: dict[str, rules.Steps] = {
    "ml": ((15.0, 0.5), (60.0, 1.0), (1000.0, 5.0), (1e9, 10.0)),
    "g": ((10.0, 0.1), (100.0, 1.0), (1000.0, 5.0), (1e9, 10.0)),
    "piece": ((1e9, 1.0),),
}
_OUNCES = ((_OUNCE_G, _OUNCE_G / 20), (1e9, _OUNCE_G / 10))


def brew_cleaning(batch: Batch, vessel_l: float) -> tuple[Cleaning, ...]:
    """What to mix on brew day: for the vessel, and for a bowl of small gear."""
    parts = (
        CleaningPart("vessel", rules.vessel_litres(vessel_l)),
        CleaningPart("small-gear", rules.SMALL_GEAR_L),
    )
    return _both(batch, "brew", rules.brew_day_litres(vessel_l), parts)


def bottling_cleaning(batch: Batch, vessel_l: float, bottles: int) -> tuple[Cleaning, ...]:
    """What to mix on bottling day: from bottle to bottle, and for a bowl of small gear.

    With sugar in bulk, a second vessel is swirled first, and what it held goes on; if it was not said, it is
    taken to be as large as the first, of `vessel_l` litres.
    """
    count = min(bottles, MOST_BOTTLES)
    second = batch.equipment.bottling_vessel
    holds = (vessel_l if second is None else float(second)) if batch.dosing == "in-bulk" else 0.0
    parts = [CleaningPart("bottling-vessel", rules.vessel_litres(holds))] if holds else []
    parts += [CleaningPart("bottles", rules.bottles_litres(count))] if count else []
    parts += [CleaningPart("small-gear", rules.SMALL_GEAR_L)]
    return _both(batch, "bottling", rules.bottling_day_litres(count, holds), tuple(parts))


def _both(
    batch: Batch, day: Literal["brew", "bottling"], litres: float, parts: tuple[CleaningPart, ...]
) -> tuple[Cleaning, ...]:
    """First what cleans, then what sanitises."""
    gear = batch.equipment
    return (
        _mix(batch, gear.cleaner, day, "clean", litres, parts),
        _mix(batch, gear.sanitiser, day, "sanitise", litres, parts),
    )


def _mix(
    batch: Batch,
    product: Sanitiser,
    day: Literal["brew", "bottling"],
    what: Literal["clean", "sanitise"],
    litres: float,
    parts: tuple[CleaningPart, ...],
) -> Cleaning:
    steps, least = _measured_in(batch, product)
    dose, water = rules.measured_mix(product.dose, litres, steps, least)
    return Cleaning(
        day=day,
        what=what,
        product=product.id,
        litres=water,
        dose=round(dose, 6),
        dose_unit=product.dose_unit,
        minutes=product.minutes,
        rinse=product.rinse,
        water="warm" if product.warm else "cold",
        soaks=product.minutes[1] > QUICK_MINUTES,
        parts=parts,
        caution=product.family,
    )


def _measured_in(batch: Batch, product: Sanitiser) -> tuple[rules.Steps, float]:
    """The steps in which a dose is measured and printed, and the least share of the label's strength."""
    if batch.units != "metric" and product.dose_unit == "ml":
        return _SPOONS, _SPOON_STRENGTH
    if batch.units != "metric" and product.dose_unit == "g":
        return _OUNCES, rules.LEAST_STRENGTH
    steps = _STEPS[product.dose_unit]
    scales = float(batch.equipment.scales) if product.dose_unit == "g" else 0.0
    return tuple((below, max(step, scales)) for below, step in steps), rules.LEAST_STRENGTH


def sanitising_of(rows: tuple[Cleaning, ...]) -> Sanitising:
    """The sanitiser of both days in one."""
    brew, bottling = (
        next(row for row in rows if row.what == "sanitise" and row.day == day) for day in ("brew", "bottling")
    )
    return Sanitising(
        brew.product,
        brew.litres,
        brew.dose,
        bottling.litres,
        bottling.dose,
        brew.dose_unit,
        brew.minutes,
        brew.rinse,
    )


def cautions_of(rows: tuple[Cleaning, ...]) -> tuple[str, ...]:
    """The cautions of what is used, each once; a cleaner that needs no time of its own brings none."""
    names = [row.caution for row in rows if row.caution and (row.what == "sanitise" or row.soaks)]
    return tuple(dict.fromkeys(names))
