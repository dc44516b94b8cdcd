"""The part of the plan that says how the gravity is expected to fall.

Comes in: what `sheetgen.planning.band` worked out.  Goes out: records that `Plan` is made of.  Gravities as
SG, days since the yeast went in.
"""

from __future__ import annotations

from sheetgen.planning.plan_amounts import GravityRange
from sheetgen.records import record


@record
class Band:
    """The gravity that is expected on a day, and between what it may lie."""

    day: int
    low: float
    expected: float
    high: float


@record
class Fermentation:
    """How fast this batch ferments beside the usual (`vigour` 1), and between what that may lie; where it is
    expected to end and where to be now (None before the yeast is in and after bottling), by what was read so
    far; and how many readings that rests on.  No date and no gate rests on it.
    """

    vigour: float
    vigour_low: float
    vigour_high: float
    finish: GravityRange
    expected_now: GravityRange | None
    readings_used: int
