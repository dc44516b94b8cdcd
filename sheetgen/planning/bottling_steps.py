"""Bottling day, one action a step.

Comes in: the bottle plan and the sugar.  Goes out: steps for the bottling sheet.  No step here stands before
the gate: the sheet prints the gate first, and a failed gate prints none of this.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sheetgen.planning.cleaning_steps import bottle_washing_steps
from sheetgen.planning.dosing import odd_measure
from sheetgen.planning.plan import (
    Amount,
    BottlePlan,
    BottleRow,
    Carbonation,
    Cleaning,
    OddBottle,
    Step,
    Syrup,
)
from sheetgen.problems import Said, said

LEAST_REST_ML = 50.0
"""Less than a mouthful is not spoken of."""


def _sugar_steps(gas: Carbonation, bottles: BottlePlan, fine_scales: bool) -> list[Step]:
    if gas.dosing == "in-bulk":
        note = said("bottle-step.syrup.note", water=gas.syrup_water_ml)
        return [
            Step(said("bottle-step.syrup"), "group.sugar", Amount(gas.total_g, "g"), note, "hot-syrup"),
            Step(said("bottle-step.rack"), "group.sugar"),
        ]
    if gas.syrup is not None:
        return [_boil_syrup(gas.syrup), *_each("bottle-step.syringe", bottles, "bottle-step.sugar.note")]
    if gas.piece_g:
        return _each("bottle-step.pieces", bottles, "bottle-step.pieces.note")
    if gas.dosing == "teaspoons":
        return _each("bottle-step.sugar", bottles, "bottle-step.sugar.spoons")
    weighed = "bottle-step.sugar.note" if fine_scales else "bottle-step.sugar.ten"
    return _each("bottle-step.sugar", bottles, weighed)


_BUT_ODD = {
    "bottle-step.sugar": "bottle-step.sugar-but",
    "bottle-step.pieces": "bottle-step.pieces-but",
    "bottle-step.syringe": "bottle-step.syringe-but",
}
_ODD_DOSE = {
    "syrup": "bottle-step.rest-plastic.syrup",
    "pieces": "bottle-step.rest-plastic.pieces",
    "spoons": "bottle-step.rest-plastic.spoons",
}
"""What is said instead if there is an odd bottle, and of its own dose."""


def _each(sentence: str, bottles: BottlePlan, note: str) -> list[Step]:
    """The full dose for the bottles that get full, and for no other: spares and the odd one are excepted."""
    if not bottles.filled:
        return []
    if bottles.odd is None:
        dosed = said(sentence, n=bottles.filled)
    else:
        dosed = said(_BUT_ODD[sentence], n=bottles.filled, number=bottles.odd.number)
    return [Step(dosed, "group.sugar", note=said(note))]


def _boil_syrup(syrup: Syrup) -> Step:
    """Syrup that was topped up when it was cold, so that boiling does not make it stronger."""
    note = said("bottle-step.syringe-syrup.note", water=syrup.water_ml, makes=syrup.makes_ml)
    sugar = Amount(syrup.sugar_g, "g")
    return Step(said("bottle-step.syringe-syrup"), "group.sugar", sugar, note, "cold-syrup")


def _fill_step(row: BottleRow) -> Step:
    first, last = row.numbers
    sentence = "bottle-step.fill" if last > first else "bottle-step.fill-one"
    return Step(said(sentence, ml=row.ml, kind=row.kind, first=first, last=last), "group.fill")


def _rest_steps(bottles: BottlePlan, gas: Carbonation | None, fine_scales: bool) -> list[Step]:
    """What becomes of the drink that fills no bottle."""
    if bottles.unhoused_l:
        note = said("bottle-step.rest-waits.note")
        return [Step(said("bottle-step.rest-waits", litres=bottles.unhoused_l), "group.fill", note=note)]
    odd = bottles.odd
    if odd is None:
        flat = said("bottle-step.rest-flat", left=bottles.last_ml)
        return [Step(flat, "group.fill")] if bottles.last_ml >= LEAST_REST_ML else []
    dose = _odd_dose(odd, gas, fine_scales) if gas else None
    values = {"number": odd.number, "left": odd.ml, "ml": odd.bottle_ml}
    return [Step(said("bottle-step.rest-plastic", **values), "group.fill", note=dose)]


def _odd_dose(odd: OddBottle, gas: Carbonation, fine_scales: bool) -> Said:
    """Its sugar, in what this batch is dosed with."""
    if gas.dosing == "in-bulk" or not odd.grams:
        return said("bottle-step.rest-plastic.mixed" if gas.total_g > 0 else "bottle-step.rest-plastic.none")
    measured = odd_measure(gas, odd.grams)
    if measured is None:
        return said("bottle-step.rest-plastic.none")
    name, amount = measured
    if name == "grams":
        sentence = "bottle-step.rest-plastic.note" if fine_scales else "bottle-step.rest-plastic.ten"
        return said(sentence, grams=amount, ten=round(amount * 10, 6))
    return said(_ODD_DOSE[name], amount=amount)


def bottling_steps(
    bottles: BottlePlan,
    gas: Carbonation | None,
    clean: tuple[Cleaning, ...],
    warm: tuple[float, date],
    fine_scales: bool = True,
    hot: Said | None = None,
) -> tuple[Step, ...]:
    """Clean, sugar, fill in order, close, put `warm`: at so many C until that day; `hot`: heat to come."""
    count = sum(row.need for row in bottles.rows)
    steps = [
        Step(said("bottle-step.look"), "group.bottles", caution="bottle-glass"),
        *bottle_washing_steps(clean, count, _closed_with(bottles)),
        *(_sugar_steps(gas, bottles, fine_scales) if gas and gas.total_g > 0 else []),
        *(_fill_step(row) for row in bottles.rows if row.fill),
        *_rest_steps(bottles, gas, fine_scales),
    ]
    *closing, last = _closing_steps(bottles, gas, warm)
    return (*steps, *closing, replace(last, note=hot))


def _closed_with(bottles: BottlePlan) -> str:
    """What closes the bottles: caps are what is usual."""
    if not bottles.corks:
        return "caps"
    return "both" if bottles.crown_caps else "corks"


def _closing_steps(bottles: BottlePlan, gas: Carbonation | None, warm: tuple[float, date]) -> list[Step]:
    """How full, how closed, and where to: in the warm for its gas, a still drink to where it is kept."""
    filled = [row for row in bottles.rows if row.fill]
    heads = []
    if any(row.glass and not (row.kind == "wine" and bottles.corks) for row in filled):
        heads.append("bottle-step.headspace-glass")
    heads += ["bottle-step.headspace-cork"] if bottles.corks else []
    heads += ["bottle-step.headspace-pet"] if any(row.kind == "pet" for row in filled) else []
    close = "bottle-step.close" if bottles.corks else "bottle-step.cap"
    steps = [Step(said(sentence), "group.fill") for sentence in (*heads, close)]
    if gas is not None:
        return [*steps, Step(said("bottle-step.warm", celsius=warm[0], on=warm[1]), "group.fill")]
    keep = "bottle-step.lay-down" if bottles.corks else "bottle-step.keep"
    return [*steps, Step(said(keep, celsius=warm[0]), "group.fill")]
