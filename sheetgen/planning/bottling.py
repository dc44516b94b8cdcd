"""Which bottles are filled, in the user's order, and what is short.

Comes in: litres that reach the bottles and the bottles at hand.  Goes out: `BottlePlan`.  Only whole bottles
are filled: a part-filled bottle with a full dose of sugar would be too strong, so the rest is drunk flat.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from sheetgen.brewing import rounding
from sheetgen.model import Bottled, Bottles
from sheetgen.planning.plan import BottlePlan, BottleRow

SPARE_SHARE, SPARE_MOST = 0.05, 2
CAP_SHARE = 0.10
EXTRA_LABELS = 2


def full_bottles(litres: float, bottles: Sequence[Bottles]) -> tuple[list[int], float]:
    """How many of each row are filled, in order, and the millilitres that are left."""
    left = math.floor(round(litres * 1000, 3))
    filled = []
    for row in bottles:
        number = min(row.count, int(left // row.ml))
        filled.append(number)
        left -= round(number * row.ml)
    return filled, float(left)


def spares(filled: int) -> int:
    """One or two more to prepare: 5 % of what is filled."""
    return min(SPARE_MOST, max(1, math.ceil(SPARE_SHARE * filled)))


def more_needed(left_ml: float, bottles: Sequence[Bottles]) -> int:
    """How many more of the last size would hold the rest; 0 if less than one bottle is left."""
    return int(left_ml // bottles[-1].ml) if bottles else 0


def _rows(bottles: Sequence[Bottles], filled: Sequence[int], more: int, spare: int) -> list[BottleRow]:
    last_used = max((index for index, number in enumerate(filled) if number), default=len(bottles) - 1)
    rows, first = [], 1
    for index, (row, number) in enumerate(zip(bottles, filled, strict=True)):
        need = number + (spare if index == last_used else 0) + (more if index == len(bottles) - 1 else 0)
        numbers = (first, first + number - 1) if number else (0, 0)
        short = max(0, need - row.count)
        rows.append(
            BottleRow(
                row.ml, row.kind.id, row.count, need, number, short, numbers, row.kind.glass, row.what_for
            )
        )
        first += number
    return rows


def _test_bottle(rows: Sequence[BottleRow]) -> int:
    plastic = [row for row in rows if row.fill and row.kind == "pet"]
    if plastic:
        return plastic[0].numbers[0]
    return max((row.numbers[1] for row in rows), default=0)


def bottle_plan(litres: float, bottles: Sequence[Bottles], bottled: Bottled | None) -> BottlePlan:
    """The plan for so many litres; with `bottled`, what was really filled."""
    filled, left = full_bottles(litres, bottles)
    more = more_needed(left, bottles)
    spare = spares(sum(filled) + more)
    if bottled is not None and bottled.counts is not None:
        filled, left, more, spare = list(bottled.counts), 0.0, 0, 0
    rows = _rows(bottles, filled, more, spare)
    crowns = sum(row.fill for row, had in zip(rows, bottles, strict=True) if had.kind.cap == "crown")
    crowns += more if bottles and bottles[-1].kind.cap == "crown" else 0
    return BottlePlan(
        rows=tuple(rows),
        filled=sum(filled),
        spares=spare,
        crown_caps=math.ceil(round(crowns * (1 + CAP_SHARE), 6)),
        labels=sum(filled) + (EXTRA_LABELS if bottled is None else 0),
        last_ml=round(left - more * (bottles[-1].ml if bottles else 0), 3),
        unhoused_l=rounding.down_to(left / 1000, 0.1) if more else 0.0,
        more_needed=more,
        test_bottle=_test_bottle(rows),
    )
