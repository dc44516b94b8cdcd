"""How the drink keeps, as part of the plan: the days of each kind of bottle, and the days to taste.

Comes in: what `keeping` worked out.  Goes out: records, which `plan` names too.
"""

from __future__ import annotations

from datetime import date

from sheetgen.records import record


@record
class Kept:
    """One size and kind of bottle: its best days end on `best_to`; best before `best_before`; whether any is
    filled.
    """

    ml: float
    kind: str
    best_to: date
    best_before: date
    filled: bool = True


@record
class KeepingPlan:
    """How it keeps: its class in our tables, and the share of the way to a stronger or a hoppier class;
    `bottles` in the order of the file; `tastings` pairs weeks after filling with days.
    """

    name: str
    stronger: float
    hoppier: float
    store_factor: float
    best_from: date
    bottles: tuple[Kept, ...]
    tastings: tuple[tuple[int, date], ...]
