"""Ways out when a bottle would get too much gas, or pieces of sugar do not fit it: worked out, never canned.

Comes in: a `Batch`, the rows of bottles in question, the gas that is wanted.  Goes out: targets that pass,
kinds of bottle that would hold it, sizes that pieces suit.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from sheetgen.model import Batch, Bottles
from sheetgen.planning.plan import Carbonation, Dose
from sheetgen.planning.priming import dose, sum_for
from sheetgen.units import Millilitres

TENTHS = range(61)
"""The targets that are looked at: 0 to 6 volumes."""
USUAL_SIZES = (250, 330, 355, 375, 440, 500, 568, 650, 700, 750, 1000, 1500, 2000)
"""Sizes of bottle that are often met with, in ml (common practice, no source)."""
MOST_NAMED = 3
PIECES_WEAK = 0.20
"""Pieces that fall short by more than this do not fit a bottle (cautious judgement, no source)."""


def doses_at(batch: Batch, rows: Iterable[Bottles], target: float) -> Iterator[Dose]:
    """The doses of these bottles for another target, one after another."""
    found = sum_for(batch, target)
    return (dose(batch, row, found) for row in rows)


def _highest(passes: Callable[[float], bool]) -> float | None:
    """The highest tenth that passes, where every one below it passes too; None if none does."""
    first_wrong = bisect_left(TENTHS, True, key=lambda tenth: not passes(tenth / 10))
    return (first_wrong - 1) / 10 if first_wrong else None


def highest_target(batch: Batch, rows: Sequence[Bottles]) -> float | None:
    """The highest target, in tenths of a volume, that none of the rows refuses."""
    return _highest(lambda target: all(one.verdict != "refuse" for one in doses_at(batch, rows, target)))


def calm_target(batch: Batch, rows: Sequence[Bottles]) -> float | None:
    """The highest target, in tenths of a volume, that none of the rows warns of."""
    return _highest(lambda target: all(one.verdict == "fine" for one in doses_at(batch, rows, target)))


def kinds_that_hold(batch: Batch, row: Bottles, target: float) -> tuple[str, ...]:
    """Kinds of bottle of this size that would hold the wish, three at most: calm ones first, then the
    weaker.
    """
    rows = [replace(row, kind=kind) for kind in batch.containers]
    found = [
        (one.verdict == "warn", one.limit_volumes or 0.0, one.kind)
        for one in doses_at(batch, rows, target)
        if one.verdict != "refuse"
    ]
    return tuple(name for _, _, name in sorted(found)[:MOST_NAMED])


def pieces_fit(dose: Dose) -> bool:
    """Whether whole pieces come near enough to the dose."""
    if dose.pieces_each is None or dose.grams_exact <= 0:
        return True
    return dose.pieces_each > 0 and dose.given_g >= dose.grams_exact * (1 - PIECES_WEAK) - 1e-9


def target_for_pieces(batch: Batch, rows: Sequence[Bottles], gas: Carbonation) -> float | None:
    """The target nearest to the wish, in tenths, at which pieces fit all rows and none refuses; None if
    there is none.
    """
    for tenth in sorted(TENTHS, key=lambda tenth: (abs(tenth / 10 - gas.target_volumes), tenth)):
        doses = doses_at(batch, rows, tenth / 10)
        if all(one.verdict != "refuse" and one.given_g > 0 and pieces_fit(one) for one in doses):
            return tenth / 10
    return None


def sizes_for_pieces(batch: Batch, row: Bottles, target: float) -> tuple[int, ...]:
    """The usual sizes that pieces suit at this target, in a bottle of this kind; three at most, the nearest
    first.
    """
    rows = [replace(row, ml=Millilitres(ml)) for ml in USUAL_SIZES]
    fitting = [round(one.ml) for one in doses_at(batch, rows, target) if pieces_fit(one)]
    return tuple(sorted(sorted(fitting, key=lambda ml: abs(ml - row.ml))[:MOST_NAMED]))
