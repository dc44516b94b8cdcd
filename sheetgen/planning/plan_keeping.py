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
class HotStay:
    """Heat that the bottles will meet: from which day, how warm, and the day by which they are moved; the
    gauge pressure in the fullest bottle there, and with sealed-in air, None for a still drink.  `begins`: it
    is not hot before it; else it is only warmer than the days before.
    """

    on: date
    celsius: float
    move_by: date
    gauge_bar: float | None
    with_air_bar: float | None
    begins: bool = True


@record
class KeepingPlan:
    """How it keeps: its class in our tables, and the share of the way to a stronger or a hoppier class;
    `bottles` in the order of the file; `tastings` pairs weeks after filling with days; `hot`: heat to come.
    """

    name: str
    stronger: float
    hoppier: float
    store_factor: float
    best_from: date
    bottles: tuple[Kept, ...]
    tastings: tuple[tuple[int, date], ...]
    hot: tuple[HotStay, ...] = ()
