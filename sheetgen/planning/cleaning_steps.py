"""Washing and sanitising as steps: first the dirt, then what is left on clean gear.

Comes in: the mixes of one day.  Goes out: steps for the brew sheet and for the bottling sheet.
"""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.planning.plan import Amount, Cleaning, Step
from sheetgen.problems import Said, said

LEAST_MINUTES, SETTING_UP_MINUTES = 10.0, 5.0


_WASHED = {
    "caps": "bottle-step.sanitise",
    "corks": "bottle-step.sanitise-corks",
    "both": "bottle-step.sanitise-corks-caps",
}
_SOAKED = {
    "caps": "bottle-step.sanitise-clean",
    "corks": "bottle-step.sanitise-clean-corks",
    "both": "bottle-step.sanitise-clean-corks-caps",
}


def _dose(row: Cleaning) -> Amount:
    return Amount(row.dose, "ml" if row.dose_unit == "ml" else "g" if row.dose_unit == "g" else "piece")


def _mixed(sentence: str, row: Cleaning) -> Said:
    return said(
        sentence, product=row.product, litres=row.litres, water=row.water, minutes=float(row.minutes[1])
    )


def gear_steps(rows: Iterable[Cleaning]) -> list[Step]:
    """All the gear: a soak if the cleaner wants one, then the sanitiser, whose label wins."""
    clean, sanitise = rows
    steps = [_soak_step(clean)] if clean.soaks else []
    sentence = "step.sanitise.note" if clean.soaks else "step.sanitise.washed"
    high = float(sanitise.minutes[1])
    note = said(sentence, litres=sanitise.litres, minutes=high)
    minutes = max(LEAST_MINUTES, SETTING_UP_MINUTES + high)
    mix = said("step.sanitise", product=sanitise.product)
    return [*steps, Step(mix, "group.clean", _dose(sanitise), note, sanitise.caution, minutes=minutes)]


def _soak_step(row: Cleaning) -> Step:
    high = float(row.minutes[1])
    note = said("step.soak-gear.note", litres=row.litres, water=row.water, minutes=high)
    sentence = said("step.soak-gear", product=row.product)
    return Step(sentence, "group.clean", _dose(row), note, row.caution, minutes=SETTING_UP_MINUTES + high)


def bottle_washing_steps(rows: Iterable[Cleaning], count: int, closed: str = "caps") -> list[Step]:
    """So many bottles: a soak if the cleaner wants one, then the sanitiser, for corks or caps as well.

    `closed`: "caps", "corks" or "both".
    """
    clean, sanitise = rows
    group, steps = "group.bottles", []
    if clean.soaks:
        note = _mixed("bottle-step.soak.note", clean)
        steps.append(Step(said("bottle-step.soak", n=count), group, _dose(clean), note, clean.caution))
    sentence = said((_SOAKED if clean.soaks else _WASHED)[closed], n=count)
    note = _mixed("bottle-step.sanitise.rinsed" if sanitise.rinse else "bottle-step.sanitise.note", sanitise)
    return [*steps, Step(sentence, group, _dose(sanitise), note, sanitise.caution)]
