"""Which bottles are filled, what is prepared for them, the odd last one, and what is short.

Comes in: litres that reach the bottles, the bottles at hand, and how they are to be chosen.  Goes out:
`BottlePlan`.  Only whole bottles are filled: a part-filled bottle with a full dose of sugar would be too
strong.  What is left beside them goes into a part-filled plastic bottle with sugar for what is in it and the
air pressed out; glass is never part filled, and less than a third of a bottle is drunk flat.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

from sheetgen.brewing import rounding
from sheetgen.model import Bottled, Bottles, FillBy
from sheetgen.planning import bottle_choice
from sheetgen.planning.dosing import odd_measure
from sheetgen.planning.plan import BottlePlan, BottleRow, Carbonation, OddBottle, Way
from sheetgen.problems import Said, SaidValue, said
from sheetgen.records import record

SPARE_SHARE, SPARE_MOST = 0.05, 2
CAP_SHARE = 0.10
EXTRA_LABELS = 2
WORTH_A_BOTTLE = 3
"""The odd plastic bottle must be a third full at least, or it cannot be pressed down to what is in it; less
than a third of the smallest bottle is not worth one at all (common practice, no source).
"""
WORTH_A_SEARCH_ML = 500.0
"""From half a litre on, or a smallest bottle full, more bottles are looked for (common practice, no
source)."""
ENOUGH = ("fix.few-bottles-1", "fix.few-bottles-2", "fix.few-bottles-3")
ENOUGH_AND_SPARE = ("fix.few-bottles-1-spare", "fix.few-bottles-2-spare", "fix.few-bottles-3-spare")
"""The sentences that name one way, two or three; and the same with the spare bottles that are short too."""
COMMON_ML = (330.0, 500.0, 750.0, 1000.0, 1500.0)
"""Sizes of plastic bottles that are found everywhere."""


@record
class _Rest:
    """What is left beside the full bottles (ml), who can take it, and how many more would.

    `lacking`: the row that is short, None if nothing is; `odd`: the row with a free plastic bottle for it.
    """

    ml: int
    lacking: int | None = None
    more: int = 0
    odd: int | None = None


def full_bottles(litres: float, bottles: Sequence[Bottles], by: FillBy = "in-order") -> tuple[list[int], int]:
    """How many of each row are filled, and the whole millilitres that are left."""
    ml = math.floor(round(litres * 1000, 3))
    sizes, counts = [float(row.ml) for row in bottles], [row.count for row in bottles]
    filled = bottle_choice.in_order(ml, sizes, counts)
    left = bottle_choice.left_over(ml, sizes, filled)
    if by == "least-over" and len(bottles) > 1:
        other = bottle_choice.least_over(ml, sizes, counts)
        other_left = bottle_choice.left_over(ml, sizes, other)
        if other_left <= left:
            return other, other_left
    return filled, left


def spares(filled: int) -> int:
    """One or two more to prepare: 5 % of what is filled."""
    return min(SPARE_MOST, max(1, math.ceil(SPARE_SHARE * filled)))


def more_needed(left_ml: float, bottles: Sequence[Bottles]) -> int:
    """How many more of the last size the rest would fill; 0 if less than one bottle is left."""
    return int(left_ml // bottles[-1].ml) if bottles else 0


def _suits(left: int, ml: float) -> bool:
    """Whether what is left fits a plastic bottle of this size, and fills a third of it."""
    return left <= ml <= left * WORTH_A_BOTTLE


def _rest(left: int, bottles: Sequence[Bottles], filled: Sequence[int]) -> _Rest:
    """Where what is left can go: into a free plastic bottle, into more bottles, or nowhere."""
    free = [row.count > number for row, number in zip(bottles, filled, strict=True)]
    smallest = min((row.ml for row in bottles), default=0.0)
    if not bottles or left * WORTH_A_BOTTLE < smallest:
        return _Rest(left)
    plastic = [
        i for i, row in enumerate(bottles) if free[i] and row.kind.id == "pet" and _suits(left, row.ml)
    ]
    if plastic:
        return _Rest(left, odd=min(plastic, key=lambda i: bottles[i].ml))
    lacking = max((i for i in range(len(bottles)) if not free[i]), default=None)
    if lacking is None or left < min(smallest, WORTH_A_SEARCH_ML):
        return _Rest(left)
    return _Rest(left, lacking, math.ceil(round(left / bottles[lacking].ml, 6)))


def _ways(rest: _Rest, bottles: Sequence[Bottles], filled: Sequence[int], primed: bool) -> tuple[Way, ...]:
    """So many more of the row that is short, of the others that ran out, or of a common size of plastic."""
    if rest.lacking is None:
        return ()
    ran_out = [row for row, number in zip(bottles, filled, strict=True) if row.count <= number]
    rows = [bottles[rest.lacking], *ran_out]
    found = {(float(row.ml), row.kind.id): True for row in rows if not primed or row.kind.refuse is not None}
    for size in COMMON_ML if primed else ():
        found.setdefault((size, "pet"), False)
    return tuple(
        Way(size, kind, math.ceil(round(rest.ml / size, 6)), mine) for (size, kind), mine in found.items()
    )


def spares_missing(plan: BottlePlan) -> int:
    """How many of the bottles that are short are spare ones, beside those that would hold the drink."""
    return max(0, sum(row.short for row in plan.rows) - plan.more_ways[0].count) if plan.more_ways else 0


def enough_bottles(ways: Sequence[Way], by: date, spare: int = 0) -> Said:
    """What would hold what has no bottle: more of the size that is short, another size at hand, and the
    fewest bottles; and how many of the short ones are to spare."""
    first, others = ways[0], [way for way in ways[1:] if way.count < ways[0].count]
    named = [first, *[way for way in others if way.at_hand][:1]]
    fewest = min(others, key=lambda way: (way.count, way.ml), default=first)
    named += [] if fewest in named else [fewest]
    values: dict[str, SaidValue] = {"on": by}
    for index, way in enumerate(named, 1):
        values |= {f"n{index}": way.count, f"ml{index}": way.ml, f"kind{index}": way.kind}
    if spare:
        return said(ENOUGH_AND_SPARE[len(named) - 1], spare=spare, **values)
    return said(ENOUGH[len(named) - 1], **values)


def _prepared(bottles: Sequence[Bottles], filled: Sequence[int], rest: _Rest, extra_ml: int) -> list[int]:
    """How many of each row may get full if less is lost than planned, without spares."""
    if rest.lacking is not None:
        return [n + (rest.more if i == rest.lacking else 0) for i, n in enumerate(filled)]
    free = [row.count - n for row, n in zip(bottles, filled, strict=True)]
    further = bottle_choice.in_order(rest.ml + extra_ml, [float(row.ml) for row in bottles], free)
    return [n + max(more, i == rest.odd) for i, (n, more) in enumerate(zip(filled, further, strict=True))]


def _spare_rows(bottles: Sequence[Bottles], prepared: Sequence[int], count: int) -> list[int]:
    """The spare ones of each row: of the size filled last, else of any that is free, else missing."""
    last = max((i for i, number in enumerate(prepared) if number), default=len(bottles) - 1)
    spare = [0] * len(bottles)
    for i in sorted(range(len(bottles)), key=lambda i: (i != last, i)):
        spare[i] = max(0, min(count - sum(spare), bottles[i].count - prepared[i]))
    if bottles:
        spare[last] += count - sum(spare)
    return spare


def _row(row: Bottles, fill: int, need: int, first: int) -> BottleRow:
    numbers = (first, first + fill - 1) if fill else (0, 0)
    short = max(0, need - row.count)
    return BottleRow(row.ml, row.kind.id, row.count, need, fill, short, numbers, row.kind.glass, row.what_for)


def _rows(bottles: Sequence[Bottles], filled: Sequence[int], needs: Sequence[int]) -> tuple[BottleRow, ...]:
    firsts = [1 + sum(filled[:i]) for i in range(len(filled))]
    return tuple(_row(*each) for each in zip(bottles, filled, needs, firsts, strict=True))


def _caps(rows: Sequence[BottleRow], bottles: Sequence[Bottles], rest: _Rest, cap: str = "crown") -> int:
    """A tenth more than bottles with such a cap get full, and at least one for each that is prepared."""
    mine = [i for i, row in enumerate(bottles) if row.kind.cap == cap]
    filled = sum(rows[i].fill + (rest.more if i == rest.lacking else 0) for i in mine)
    return max(math.ceil(round(filled * (1 + CAP_SHARE), 6)), sum(rows[i].need for i in mine))


def _odd(rest: _Rest, bottles: Sequence[Bottles], filled: int, gas: Carbonation | None) -> OddBottle | None:
    if rest.odd is None or gas is None:
        return None
    row = bottles[rest.odd]
    return OddBottle(float(rest.ml), row.ml, row.kind.id, _odd_grams(rest, gas), filled + 1)


def _odd_grams(rest: _Rest, gas: Carbonation) -> float:
    each = 0.0 if gas.dosing == "in-bulk" else gas.g_per_litre * rest.ml / 1000
    return rounding.dose_grams(each)


def _can_dose(rest: _Rest, gas: Carbonation | None) -> bool:
    """Whether the drink gets gas in the bottle, and the way of dosing has a measure for so little."""
    if gas is None:
        return False
    return gas.total_g <= 0 or odd_measure(gas, _odd_grams(rest, gas)) is not None or gas.dosing == "in-bulk"


def _test_bottle(rows: Sequence[BottleRow], odd: OddBottle | None) -> int:
    """The bottle that is opened first: the odd one, else the first of plastic, else the last."""
    plastic = [row for row in rows if row.fill and row.kind == "pet"]
    if odd or plastic:
        return odd.number if odd else plastic[0].numbers[0]
    return max((row.numbers[1] for row in rows), default=0)


def bottle_plan(
    litres: float,
    bottles: Sequence[Bottles],
    bottled: Bottled | None,
    by: FillBy = "in-order",
    extra_l: float = 0.0,
    gas: Carbonation | None = None,
) -> BottlePlan:
    """The plan for so many litres; with `bottled`, what was really filled.

    Bottles are prepared for `extra_l` more: what counts as lost, but may still run out of the tap; and 5 %
    to spare (common practice, no source).
    """
    counted = bottled.counts if bottled is not None else None
    filled, left = full_bottles(litres, bottles, by) if counted is None else (list(counted), 0)
    rest = _rest(left, bottles, filled)
    if rest.odd is not None and not _can_dose(rest, gas):
        rest = _Rest(left)
    extra_ml = round(extra_l * 1000) if bottled is None else 0
    prepared = _prepared(bottles, filled, rest, extra_ml)
    spare = _spare_rows(bottles, prepared, spares(sum(prepared)) if counted is None else 0)
    rows = _rows(bottles, filled, [number + more for number, more in zip(prepared, spare, strict=True)])
    odd = _odd(rest, bottles, sum(filled), gas)
    more = 0 if odd else more_needed(left, bottles)
    return BottlePlan(
        rows=rows,
        filled=sum(filled),
        spares=sum(spare),
        crown_caps=_caps(rows, bottles, rest),
        labels=sum(filled) + (odd is not None) + (EXTRA_LABELS if bottled is None else 0),
        last_ml=round(left - more * (bottles[-1].ml if bottles else 0), 3),
        unhoused_l=0.0 if rest.lacking is None else rounding.down_to(left / 1000, 0.1),
        more_needed=more,
        test_bottle=_test_bottle(rows, odd),
        fill_by=by,
        prepare_l=round(litres + extra_ml / 1000, 6),
        odd=odd,
        more_ways=_ways(rest, bottles, filled, primed=gas is not None),
        corks=_caps(rows, bottles, rest, "cork"),
    )
