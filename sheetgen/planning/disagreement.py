"""When a reading and the calculation disagree: what each cause would mean, in numbers.

Comes in: `Facts`.  Goes out: the causes that are possible, as sentences for the rules of readings.  Only what
could have happened in a kitchen is named; what is believed meanwhile is decided in
`sheetgen.planning.strength`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby, pairwise

from sheetgen.brewing import alcohol, doubts, gravity
from sheetgen.model import Batch, Ingredient
from sheetgen.planning.additions import is_later, quantity_of
from sheetgen.planning.facts import Facts
from sheetgen.planning.plan import GateReading
from sheetgen.planning.planner import pitched_on
from sheetgen.planning.sound import sound
from sheetgen.planning.strength import (
    alcohol_of,
    brewed_amounts,
    measured_final,
    points_range,
)
from sheetgen.problems import Said, said

WORTH_A_WORD = 20
"""Ten-thousandths: a reading 0.0020 off is not worth a word (common practice, no source)."""
A_PACK = 0.2
"""How near a difference must come to a whole pack to speak of one, as a share of it (our own judgement)."""
MOST_OF_IT = 0.5
"""Nobody weighs out half too little without seeing it (our own judgement)."""
EXACT_G = 1e-6
SUGAR_POINTS = 386.0
"""Litre-degrees in a kilogram of table sugar (derived from the density of sucrose solutions)."""
BY_SPREAD = 0.0005
A_RISE = 10
"""Ten-thousandths, as in the gate."""


def is_off(measured: float, calculated: float) -> bool:
    """Whether a reading of brew day differs enough from the recipe to say so."""
    return abs(gravity.ten_thousandths(measured) - gravity.ten_thousandths(calculated)) > WORTH_A_WORD


def causes_on_brew_day(facts: Facts) -> tuple[Said, ...]:
    """Why the reading of brew day is not what the recipe gives: spread, mixing, volume, warmth, weight."""
    batch, found = sound(facts.batch, pitched_on(facts.batch)), facts.found
    if found.measured is None:
        return ()
    litres, right, measured = facts.scaled.brewed_l, found.brewed, found.measured
    return (
        *_with_more(facts),
        *_spread(facts, measured),
        said("doubt.not-mixed", sg=right, percent=_percent_if(facts, found.calculated)),
        *_litres(right, measured, litres),
        *_warmth(batch, batch.actual.original_gravity, right),
        *_weight(facts, doubts.litre_degrees_missing(right, measured, litres)),
    )


def _with_more(facts: Facts) -> list[Said]:
    """What is compared is brew day's; what all of it together has is another number."""
    day, whole = facts.found.brewed, facts.found.calculated
    if gravity.ten_thousandths(day) == gravity.ten_thousandths(whole):
        return []
    return [said("doubt.brew-day", sg=day, whole=whole)]


def _spread(facts: Facts, measured: float) -> list[Said]:
    """Extract and juice are not always equally strong."""
    low, high = points_range(brewed_amounts(facts.scaled), facts.scaled.brewed_l)
    inside = low - BY_SPREAD <= measured <= high + BY_SPREAD
    return [said("doubt.spread", low=low, high=high)] if inside else []


def _percent_if(facts: Facts, original: float) -> float:
    """Strength if this were the original gravity."""
    found, gas = facts.found, facts.gas
    known = min(found.original, found.calculated)
    share = 1.0 if facts.batch.recipe.drink.ferments_out or known <= 1 else (original - 1) / (known - 1)
    ended = measured_final(facts.gate)
    final = 1 + (found.finish.expected - 1) * share if ended is None else ended
    return alcohol_of(
        replace(found, original=original), final, gas.g_per_litre if gas else 0.0, facts.batch.sugar
    ).balling


def _litres(right: float, measured: float, litres: float) -> list[Said]:
    meant = doubts.litres_meant(right, max(1.0, measured), litres)
    return [said("doubt.litres", litres=meant)] if meant else []


def _warmth(batch: Batch, shown: float | None, right: float) -> list[Said]:
    instrument = batch.equipment.hydrometer
    if shown is None:
        return []
    celsius = doubts.sample_celsius_meant(shown, right, instrument.calibrated, instrument.in_water)
    return [said("doubt.warmth", celsius=celsius)] if celsius is not None else []


def _weight(facts: Facts, missing: float) -> list[Said]:
    """A pack forgotten or too many, if that fits; else so much of what brings most of the sugar.

    Nobody forgets a pack of which less than all goes in.
    """
    weighed = [
        (part, use.amount)
        for part, use in zip(facts.scaled.ingredients, facts.scaled.uses, strict=True)
        if not is_later(part) and part.item.unit == "g" and part.item.points > 0
    ]
    if not weighed:
        return []
    packs = [
        (part, pack)
        for part, amount in weighed
        for pack in part.packs
        if _fits(part, pack, missing) and (missing < 0 or pack <= amount + EXACT_G)
    ]
    if packs:
        part, pack = min(packs, key=lambda pair: abs(abs(missing) - _points_in(*pair)))
        name = "doubt.pack-missing" if missing > 0 else "doubt.pack-more"
        return [said(name, name=part.name, grams=pack)]
    part, amount = max(weighed, key=lambda pair: _points_in(*pair))
    grams = abs(missing) / part.item.points * 1000
    name = "doubt.less" if missing > 0 else "doubt.more"
    return [said(name, name=part.name, grams=grams)] if grams <= MOST_OF_IT * amount else []


def _points_in(part: Ingredient, amount: float) -> float:
    return quantity_of(part.item, amount) * part.item.points


def _fits(part: Ingredient, pack: float, missing: float) -> bool:
    """Whether what is missing, or too much, is about one pack."""
    whole = _points_in(part, pack)
    return whole > 0 and abs(abs(missing) / whole - 1) <= A_PACK


def lowest(facts: Facts) -> float:
    """The lowest gravity that a reading can show: all sugar gone."""
    return alcohol.lowest_final(min(gravity.HIGHEST_SG, facts.found.original))


def causes_of_low(facts: Facts, reading: GateReading) -> tuple[Said, ...]:
    """Why a reading is lower than all sugar gone."""
    return (*_sample(facts, reading, facts.found.finish.expected), said("doubt.instrument"))


def causes_of_high(facts: Facts, reading: GateReading) -> tuple[Said, ...]:
    """Why a reading is above the original gravity."""
    original = max(facts.found.original, facts.found.first)
    return (
        said("doubt.original", sg=reading.corrected),
        *_sample(facts, reading, original),
        *_sugar(facts, original, reading.corrected),
    )


def causes_of_rise(facts: Facts, before: float, reading: GateReading) -> tuple[Said, ...]:
    """Why a reading is higher than the one before."""
    return (
        said("doubt.bubbles"),
        *_sample(facts, reading, before),
        *_sugar(facts, before, reading.corrected),
    )


def causes_of_slow(facts: Facts, reading: GateReading, expected: float) -> tuple[Said, ...]:
    """Why a reading is well above what was expected by that day."""
    return (
        said("doubt.cold", celsius=float(facts.batch.room.fermenting[0])),
        said("doubt.stopped"),
        *_sample(facts, reading, expected),
    )


def _sample(facts: Facts, reading: GateReading, right: float) -> list[Said]:
    return _warmth(sound(facts.batch, pitched_on(facts.batch)), reading.sg, right)


def _sugar(facts: Facts, right: float, measured: float) -> list[Said]:
    points = -doubts.litre_degrees_missing(right, measured, facts.scaled.litres)
    return [said("doubt.sugar", grams=1000 * points / SUGAR_POINTS)]


def fed_between(batch: Batch, first: GateReading, second: GateReading) -> bool:
    """Whether something with sugar went in between two readings."""
    return any(first.on <= entry.on <= second.on for entry in batch.actual.added)


def rises(batch: Batch, readings: Iterable[GateReading]) -> list[tuple[GateReading, GateReading]]:
    """Neighbours of which the later reads more than 0.0010 higher, with nothing added in between; readings of
    one day have no order, so none of them is the later one.
    """
    return [
        (first, second)
        for first, second in pairwise(readings)
        if gravity.ten_thousandths(second.corrected) - gravity.ten_thousandths(first.corrected) > A_RISE
        and first.on < second.on
        and not fed_between(batch, first, second)
    ]


def of_one_day(readings: Iterable[GateReading]) -> list[tuple[GateReading, GateReading]]:
    """The lowest and the highest of each day whose readings lie more than 0.0010 apart."""
    days = groupby(readings, key=lambda reading: reading.on)
    found = [sorted(of_day, key=lambda reading: reading.corrected) for _on, of_day in days]
    return [
        (of_day[0], of_day[-1])
        for of_day in found
        if gravity.ten_thousandths(of_day[-1].corrected) - gravity.ten_thousandths(of_day[0].corrected)
        > A_RISE
    ]
