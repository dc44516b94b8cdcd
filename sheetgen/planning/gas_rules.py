"""Rules of gas and sugar: what a bottle bears, and what a measure can do; each is named as a sentence.

Comes in: `Facts`.  Goes out: findings, with ways out that were worked out.  `sheetgen.planning.rules` says
when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.model import Bottles
from sheetgen.planning import ways_out
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.plan import Carbonation, Dose
from sheetgen.planning.pressure import is_above
from sheetgen.planning.sound import MOST_VOLUMES
from sheetgen.problems import Problem, Said, SaidValue, said
from sheetgen.records import record

ABOVE_THREE_VOLUMES = 3.0
BOTTLES_STAND_UNDER_C = 30.0
SEPARATOR = "|"
"""Between the parts of a value that is a list of names."""


def _doses(facts: Facts) -> list[tuple[Bottles, Dose]]:
    """The rows that may be primed at all, each with its dose."""
    if facts.gas is None:
        return []
    pairs = zip(facts.batch.bottles, facts.gas.sizes, strict=True)
    return [(row, dose) for row, dose in pairs if row.kind.refuse is not None]


def _primable(facts: Facts) -> list[Bottles]:
    return [row for row, _ in _doses(facts)]


def _key(facts: Facts) -> str:
    return "carbonation" if "carbonation" in facts.batch.where else "bottles"


def _wish(facts: Facts, gas: Carbonation) -> float:
    """The gas that the file asks for, even where no more can be reckoned with."""
    return max(gas.target_volumes, float(facts.batch.carbonation or 0.0))


def priming_above_a_bottles_limit_is_refused(facts: Facts) -> Iterator[Problem]:
    """By full yield of what is really given: from the warning on it warns, above the limit it stops."""
    gas, near = facts.gas, [pair for pair in _doses(facts) if pair[1].verdict != "fine"]
    targets = _targets(facts) if near else _Targets()
    for row, dose in near:
        if gas is None:
            continue
        values: dict[str, SaidValue] = {"ml": dose.ml, "kind": dose.kind, "volumes": dose.volumes_upper}
        if dose.verdict == "refuse":
            limit = {"limit": float(row.kind.refuse or 0.0), "target": _wish(facts, gas)}
            message = said("stop.too-much-gas", **limit, **values)
            if _wish(facts, gas) > MOST_VOLUMES:  # no sugar is reckoned for such a wish
                message = said("stop.gas-beyond", ml=dose.ml, kind=dose.kind, **limit)
            less = f"{targets.calm:g} volumes" if targets.calm and _key(facts) == "carbonation" else ""
            yield finding(facts, "stop", message, _key(facts), _way_out(facts, gas, row, targets), less)
        else:
            message = said("warn.much-gas", limit=float(row.kind.warn or 0.0), **values)
            yield finding(facts, "warn", message, _key(facts), _calmer(targets))
    yield from _rows_that_may_stay(facts)


@record
class _Targets:
    """What all bottles at hand let pass, what none of them warns of, and what whole pieces fit."""

    highest: float | None = None
    calm: float | None = None
    pieces: float | None = None


def _targets(facts: Facts) -> _Targets:
    rows = _primable(facts)
    if facts.gas is not None and facts.gas.piece_g:
        return _Targets(pieces=ways_out.target_for_pieces(facts.batch, rows, facts.gas))
    return _Targets(ways_out.highest_target(facts.batch, rows), ways_out.calm_target(facts.batch, rows))


def _way_out(facts: Facts, gas: Carbonation, row: Bottles, targets: _Targets) -> Said:
    """Less gas, or other bottles: the highest target that all bottles at hand pass, and kinds that would hold
    the wish.
    """
    if gas.piece_g:
        return _pieces_way_out(facts, row, gas, targets.pieces)
    highest, calm = targets.highest, targets.calm
    kinds = SEPARATOR.join(ways_out.kinds_that_hold(facts.batch, row, gas.target_volumes))
    if highest is None or calm is None:
        return said("fix.bottle-kind")
    if not kinds or _wish(facts, gas) > gas.target_volumes:
        return said("fix.less-gas", calm=calm, target=highest)
    return said("fix.too-much-gas", calm=calm, target=highest, kinds=kinds, wish=gas.target_volumes)


def _calmer(targets: _Targets) -> Said | str:
    """The highest target without a warning; nothing where none is."""
    return said("fix.calmer", calm=targets.calm) if targets.calm else ""


def _rows_that_may_stay(facts: Facts) -> Iterator[Problem]:
    """Where some bottles are refused, those that would hold the wish."""
    doses = [dose for _, dose in _doses(facts)]
    if facts.gas is None or all(dose.verdict != "refuse" for dose in doses):
        return
    for dose in doses:
        if dose.verdict != "refuse":
            message = said("note.may-stay", ml=dose.ml, kind=dose.kind, wish=facts.gas.target_volumes)
            yield finding(facts, "note", message, _key(facts))


def pieces_fit_their_bottles(facts: Facts) -> Iterator[Problem]:
    """Whole pieces, rounded down, may be a fifth short at most; else the bottle is refused."""
    gas, wrong = facts.gas, [pair for pair in _doses(facts) if not ways_out.pieces_fit(pair[1])]
    if gas is None or not wrong:
        return
    target = ways_out.target_for_pieces(facts.batch, _primable(facts), gas)
    for row, dose in wrong:
        name = "stop.pieces-short" if dose.pieces_each else "stop.piece-large"
        values: dict[str, SaidValue] = {"ml": dose.ml, "grams": float(gas.piece_g or 0.0)}
        if dose.pieces_each:
            values |= {"n": dose.pieces_each, "volumes": dose.volumes_practice, "target": gas.target_volumes}
        else:
            values["exact"] = dose.grams_exact
        yield finding(facts, "stop", said(name, **values), "dosing", _pieces_way_out(facts, row, gas, target))


def _pieces_way_out(facts: Facts, row: Bottles, gas: Carbonation, target: float | None) -> Said:
    """Another target at which pieces fit, sizes that they suit at this one, or the scales."""
    sizes = SEPARATOR.join(map(str, ways_out.sizes_for_pieces(facts.batch, row, gas.target_volumes)))
    if target is not None and sizes:
        return said("fix.pieces", target=target, sizes=sizes)
    if target is not None:
        return said("fix.pieces-target", target=target)
    return said("fix.pieces-sizes", sizes=sizes) if sizes else said("fix.spoon-sugar")


def a_heaped_spoon_must_not_be_too_much(facts: Facts) -> Iterator[Problem]:
    """Plastic is reckoned with level spoons; where heaped ones would pass its limit, it says so."""
    for row, dose in _doses(facts):
        high = dose.teaspoons_high_volumes
        if facts.batch.dosing != "teaspoons" or high is None or dose.verdict == "refuse":
            continue
        if is_above(high, float(row.kind.refuse or 0.0)):
            values: dict[str, SaidValue] = {
                "ml": dose.ml,
                "kind": dose.kind,
                "volumes": high,
                "limit": float(row.kind.refuse or 0.0),
            }
            yield finding(
                facts, "warn", said("warn.heaped-spoon", **values), "dosing", said("fix.heaped-spoon")
            )


def a_dose_may_be_smaller_than_a_quarter_of_a_spoon(facts: Facts) -> Iterator[Problem]:
    """Then the sheet gives grams for that bottle."""
    gas = facts.gas
    if gas is None or gas.dosing != "teaspoons" or gas.sugar != "table sugar" or gas.g_per_litre <= 0:
        return
    for _, dose in _doses(facts):
        if dose.teaspoons_each is None:
            yield finding(
                facts, "warn", said("warn.spoon-small", ml=dose.ml), "dosing", said("fix.spoon-small")
            )


def only_table_sugar_is_dosed_by_the_spoon(facts: Facts) -> Iterator[Problem]:
    """What a spoon of another sugar weighs is not known."""
    gas = facts.gas
    if gas is not None and gas.dosing == "teaspoons" and gas.sugar != "table sugar":
        message = said("warn.spoon-sugar", sugar=gas.sugar)
        yield finding(facts, "warn", message, "dosing", said("fix.spoon-sugar"))


def strong_gas_never_stands_warm(facts: Facts) -> Iterator[Problem]:
    """More than three volumes, or bottles that are kept in the heat."""
    gas, room = facts.gas, facts.batch.room
    if gas is None or _wish(facts, gas) > MOST_VOLUMES:
        return
    warmest = max(float(room.storing), float(room.warm_place))
    if gas.highest_volumes > ABOVE_THREE_VOLUMES or warmest > BOTTLES_STAND_UNDER_C:
        message = said("warn.never-above-30", volumes=gas.highest_volumes)
        key = "room.storing" if warmest > BOTTLES_STAND_UNDER_C else "carbonation"
        yield finding(facts, "warn", message, key)


def sugar_may_not_be_needed(facts: Facts) -> Iterator[Problem]:
    """The gas is there already."""
    gas = facts.gas
    if gas is not None and gas.g_per_litre <= 0:
        values = {"target": gas.target_volumes, "residual": gas.residual_volumes}
        yield finding(facts, "warn", said("warn.no-sugar", **values), "carbonation")
