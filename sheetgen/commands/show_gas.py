"""Gas, sugar and pressure in the terminal: tables for `show`.

Comes in: a plan's `Carbonation` and `Words`.  Goes out: rows of text.
"""

from __future__ import annotations

from sheetgen.planning.plan import Carbonation, Dose, WhatIf
from sheetgen.planning.pressure import COOLER_C
from sheetgen.printing.words import Words

Row = tuple[str, ...]
_WHAT_IFS = {
    "one-point-unfinished": "one point (0.001) is still to ferment",
    "ten-percent-more-sugar": "a tenth more sugar",
    "three-degrees-cooler": "the drink was {degrees} cooler all the time",
    "three-degrees-warmer": "the drink was {degrees} warmer all the time",
    "four-points-lower": "four points are still to ferment",
    "four-points-higher": "it ended four points higher, and is done",
}
_VERDICTS = {"fine": "", "warn": "a risk", "refuse": "too much"}


def sugar_rows(gas: Carbonation | None, words: Words) -> list[Row]:
    """The dose of each size, what it makes at most, and the limit of its bottle."""
    if gas is None:
        return [("none: a still drink",)]
    rows: list[Row] = [("", "", "", "gas at most", "limit", "")]
    rows += [_dose(dose, gas.dosing == "in-bulk", words) for dose in gas.sizes]
    if gas.piece_g:
        return [*rows, ("a piece", _plain(f"{words.measure(gas.piece_g, 'dose')} of {gas.sugar}"))]
    return [*rows, ("together", _plain(_total(gas, words)))]


def pressure_rows(gas: Carbonation | None, words: Words) -> list[Row]:
    """Gauge pressure of the fullest bottle at four temperatures, and with the air that was sealed in."""
    if gas is None:
        return []
    heads = [words.measure(one.celsius, "temperature") for one in gas.pressures]
    alone = [words.measure(max(0.0, one.gauge_bar), "bar") for one in gas.pressures]  # flat: no less than air
    air = [words.measure(one.with_air_bar, "bar") for one in gas.pressures]
    lines = (["", *heads], ["in the bottle", *alone], ["with sealed-in air", *air])
    return [tuple(map(_plain, line)) for line in lines]


def what_if_rows(gas: Carbonation | None, words: Words) -> list[Row]:
    """What one thing that goes otherwise does to the bottle that is nearest to its limit."""
    if gas is None or not gas.what_ifs:
        return []
    warm = (_plain(f"at {words.measure(celsius, 'temperature')}") for celsius in (20.0, 30.0))
    heads = ("", "adds", *warm, "makes", f"limit of {gas.what_ifs[0].kind}", "")
    return [heads, *(_what_if(one, words) for one in gas.what_ifs)]


def _what_if(one: WhatIf, words: Words) -> Row:
    cells = (
        words.measure(one.volumes_added, "gas"),
        words.measure(max(0.0, one.bar_added_20), "bar"),
        words.measure(max(0.0, one.bar_added_30), "bar"),
        words.measure(one.volumes, "most-gas"),
        words.measure(one.limit_volumes, "volumes"),
        _VERDICTS[one.verdict],
    )
    name = _WHAT_IFS[one.id].format(degrees=words.measure(COOLER_C, "cooler"))
    return (_plain(name), *map(_plain, cells))


def _dose(dose: Dose, in_bulk: bool, words: Words) -> Row:
    """A row for one size; sugar that is in the vessel is not to be put into the bottles as well."""
    spoons = words.measure(dose.teaspoons_each, "teaspoons") if dose.teaspoons_each and not in_bulk else ""
    limit = words.measure(dose.limit_volumes, "volumes") if dose.limit_volumes else "none"
    cells = (
        f"{words.measure(dose.ml, 'bottle')} {dose.kind}",
        "none: it is in the vessel" if in_bulk else f"{_measured(dose, words)} each",
        spoons,
        words.measure(dose.volumes_upper, "most-gas"),
        limit,
        _VERDICTS[dose.verdict],
    )
    return tuple(map(_plain, cells))


def _measured(dose: Dose, words: Words) -> str:
    """The dose as the hand measures it."""
    if dose.syrup_ml is not None:
        return f"{words.measure(dose.syrup_ml, 'exact-ml')} of syrup"
    if dose.pieces_each is not None:
        return f"{dose.pieces_each} {'piece' if dose.pieces_each == 1 else 'pieces'}"
    return words.measure(dose.grams_each, "dose")


def _total(gas: Carbonation, words: Words) -> str:
    if gas.syrup is not None:
        sugar, makes = (
            words.measure(gas.syrup.sugar_g, "mass"),
            words.measure(gas.syrup.makes_ml, "exact-ml"),
        )
        return f"{sugar} of {gas.sugar} make {makes} of syrup, one dose to spare"
    return f"{words.measure(gas.total_g, 'bulk-sugar')} of {gas.sugar} in all"


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u202f", " ")
