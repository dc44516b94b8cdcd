"""The sugar on the bottling sheet: the dose for each size, and the ladder for the whole vessel.

Comes in: a `Plan` and `Words`.  Goes out: what layouts/documents/bottling.layout shows under its heading, and
how high that stands.
"""

from __future__ import annotations

from sheetgen.planning.plan import Carbonation, Dose, Plan, Rung
from sheetgen.printing.measures import TEASPOON_ML, rounded_up
from sheetgen.printing.views.common import View, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import Said, SaidValue, said

_SMALL_PT, _NARROW_MM = 10.5, 135.0
_SUGAR_MM, _SMALL_MM, _OTHER_MM, _BULK_MM, _SPOONS_MM = 39.9, 5.2, 4.6, 5.1, 5.8
"""Heights at their least, as bottling.layout has them."""
_SUGAR_G_PER_ML = 0.852
"""A level spoon of table sugar: 4.26 g in 5 ml."""
_WEAK = 0.9
_PRESSURES = 4
PRESSURE_MM = 5.2
_LITRES = {"metric": 1.0, "us": 0.946352946, "uk": 0.56826125}


def sugar_height(gas: Carbonation, words: Words) -> float:
    """Of the doses and the ladder, without the lines that wrap."""
    height = _SUGAR_MM + (_OTHER_MM if words.units != "metric" else 0)
    height += _BULK_MM if gas.dosing == "in-bulk" else 0
    height += PRESSURE_MM if _near_limit(gas, words) else 0
    return height + (_SPOONS_MM if gas.dosing == "teaspoons" else 0)


def _near_limit(gas: Carbonation, words: Words) -> str:
    """The bottle that is nearest to its limit, where one is to be warned of."""
    near = [dose for dose in gas.sizes if dose.verdict == "warn" and dose.limit_volumes]
    if not near:
        return ""
    dose = min(near, key=lambda one: (one.limit_volumes or 0.0) - one.volumes_upper)
    values: dict[str, SaidValue] = {"ml": dose.ml, "kind": dose.kind, "volumes": dose.volumes_upper}
    return words.say(said("bottling.near-limit", warn=dose.warn_volumes or 0.0, **values))


def pressure(gas: Carbonation | None, words: Words) -> str:
    """The pressure of the fullest bottle with the air that was sealed in: the most that it can be."""
    if gas is None or gas.total_g <= 0 or len(gas.pressures) != _PRESSURES:
        return ""
    fridge, room, warm, hot = (one.with_air_bar for one in gas.pressures)
    return words.say(said("bottling.pressure", fridge=fridge, room=room, warm=warm, hot=hot))


def sugar(plan: Plan, words: Words, with_pressure: bool = True) -> View | None:
    """Sugar for each size of bottle and for the whole vessel; the way this batch goes stands first."""
    gas = plan.carbonation
    if gas is None:
        return None
    bulk = gas.dosing == "in-bulk"
    doses = _sizes(gas)
    shown = {"title": words.say("bottling.sugar"), "bulk": bulk}
    if gas.total_g <= 0:
        return frozen(**shown, pressure="", none=words.say("bottling.sugar-none"))
    return frozen(
        **shown,
        none="",
        spoons_first=gas.dosing == "teaspoons",
        gas=words.say(said("bottling.gas", sugar=gas.sugar, target=gas.target_volumes)),
        each=words.say(_EACH.get(gas.dosing, "bottling.each")),
        teaspoons=words.say(_BESIDE.get(gas.dosing, "bottling.teaspoons")) if _has_beside(gas) else "",
        sizes=tuple(_dose(dose, doses, plan, words) for dose in doses),
        vessel=words.say(f"bottling.vessel-{words.units}"),
        makes=words.say("bottling.makes") if gas.dosing == "teaspoons" else "",
        there=words.say(_there(bulk, words)),
        rungs=tuple(_rung(rung, index, plan, words) for index, rung in enumerate(gas.ladder)),
        small=_small(gas, doses, words),
        near=_near_limit(gas, words),
        pressure=pressure(gas, words) if with_pressure else "",
    )


def _sizes(gas: Carbonation) -> list[Dose]:
    """One dose for each size: kinds of one size share it, and have spoons only if all of them may."""
    found: dict[float, Dose] = {}
    for dose in gas.sizes:
        known = found.get(dose.ml)
        if known is None or dose.teaspoons_each is None:
            found[dose.ml] = dose
    return [found[ml] for ml in sorted(found)]


def _column(index: int, count: int, widest: float) -> float:
    """The left edge of a column among so many between the words and the right edge."""
    return round(60 + index * min(widest, 135 / count), 3)


def _dose(dose: Dose, doses: list[Dose], plan: Plan, words: Words) -> View:
    filled: dict[float, int] = {}
    for row in plan.bottles.rows:
        filled[row.ml] = filled.get(row.ml, 0) + row.fill
    main = max(doses, key=lambda one: filled.get(one.ml, 0))
    grams, unit = _measured(dose, words)
    return frozen(
        at=_column(doses.index(dose), len(doses), 40.0),
        size=words.measure(dose.ml, "bottle"),
        grams=grams,
        unit=unit,
        spoons=_beside(dose, words),
        makes=_span_of_spoons(dose, words),
        main=dose is main,
    )


_EACH = {"in-bulk": "bottling.each-or", "syrup": "bottling.each-syrup"}
_BESIDE = {"syrup": "bottling.syrup-grams", "pieces": "bottling.makes"}
"""What stands before the doses, and before the row under them, for ways of their own."""


def _there(bulk: bool, words: Words) -> str:
    """The id of what stands before the ladder; ounces are said there, a column has no room for them."""
    return f"bottling.there{'' if bulk else '-or'}{'' if words.units == 'metric' else '-ounces'}"


def _span_of_spoons(dose: Dose, words: Words) -> str:
    """The gas between a scant and a full spoon."""
    if dose.teaspoons_low_volumes is None or dose.teaspoons_high_volumes is None:
        return ""
    low = words.number(dose.teaspoons_low_volumes, 1)
    return words.say(said("bottling.span", low=low, high=dose.teaspoons_high_volumes))


def _measured(dose: Dose, words: Words) -> tuple[str, str]:
    """The dose as the hand measures it: syrup in ml, pieces, or grams; figures and unit."""
    if dose.syrup_ml is not None:
        return words.measured(dose.syrup_ml, "exact-ml")
    if dose.pieces_each is not None:
        return str(dose.pieces_each), words.say(said("bottling.piece", count=dose.pieces_each))
    return words.measured(dose.grams_each, "dose")


def _has_beside(gas: Carbonation) -> bool:
    return gas.dosing in _BESIDE or any(dose.teaspoons_each for dose in gas.sizes)


def _beside(dose: Dose, words: Words) -> str:
    """The row under the doses: what the same is in spoons, the sugar in syrup, the gas that pieces make."""
    if dose.syrup_ml is not None:
        return words.say(said("bottling.syrup-gram", grams=dose.given_g))
    if dose.pieces_each is not None:
        return words.say(said("bottling.piece-makes", gas=dose.volumes_practice))
    return words.say(said("bottling.spoon", count=dose.teaspoons_each)) if dose.teaspoons_each else ""


def _rung(rung: Rung, index: int, plan: Plan, words: Words) -> View:
    """One step of the ladder, in the vessel's measure rounded up: the safe side."""
    gas = plan.carbonation
    ladder = gas.ladder if gas else ()
    nearest = min(ladder, key=lambda one: abs(one.litres - plan.quantities.bottling_l))
    volume = rounded_up(rung.litres / _LITRES[words.units], 0.05)
    value, unit = words.measured(rung.grams, "bulk-sugar")
    other = words.measure(rung.grams, "bulk-sugar", "metric") if words.units != "metric" else ""
    return frozen(
        at=_column(index, len(ladder), 135 / 7),
        volume=words.number(volume, 2),
        grams=value,
        unit=unit if words.units == "metric" else "",
        other=other,
        main=rung is nearest,
    )


def _small(gas: Carbonation, doses: list[Dose], words: Words) -> str:
    weak = [words.say(one) for one in (_weak_dose(gas, dose) for dose in doses) if one]
    return " ".join([words.say("bottling.smaller"), words.say("bottling.volume"), *weak[:1]])


def _weak_dose(gas: Carbonation, dose: Dose) -> Said | None:
    """What a dose makes, where its measure falls more than a tenth short."""
    if dose.syrup_ml is None:
        return None if gas.dosing == "teaspoons" else _weak_spoon(gas, dose)
    if dose.given_g >= _WEAK * dose.grams_exact:
        return None
    return said("bottling.weak-syrup", dose=dose.syrup_ml, ml=dose.ml, gas=dose.volumes_practice)


def _weak_spoon(gas: Carbonation, dose: Dose) -> Said | None:
    """What a spoon makes, where it falls more than a tenth short."""
    if not dose.teaspoons_each or not dose.grams_exact:
        return None
    share = dose.teaspoons_each * TEASPOON_ML["metric"] * _SUGAR_G_PER_ML / dose.grams_exact
    if share >= _WEAK:
        return None
    volumes = gas.residual_volumes + (gas.target_volumes - gas.residual_volumes) * share
    return said("bottling.weak-spoon", count=dose.teaspoons_each, ml=dose.ml, gas=volumes)
