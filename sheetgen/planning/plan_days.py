"""Why a day stands where it stands.

Comes in: nothing.  Goes out: `Reasons`, a part of `plan.Task`, and `Tempo`, a part of `plan.Plan`.
"""

from __future__ import annotations

from datetime import date

from sheetgen.problems import Said
from sheetgen.records import record


@record
class Reason:
    """What decided one of a task's days: it was counted from another task's day of the same name, so many
    days on (back, if under 0).  `counted_from` "start" is day 0.
    """

    day: date
    counted_from: str
    days: int
    because: Said


@record
class Reasons:
    """What decided the earliest, the expected and the latest day; no latest, no reason for one.

    `expected` explains the day that was wanted; how it moved from there, the task's moves say.  `due_by`: the
    last day without worry, where the expected one lies behind it; the latest is the expected one then.
    """

    earliest: Reason
    expected: Reason
    latest: Reason | None
    due_by: date | None = None


@record
class Tempo:
    """How room and strength change the days: the room's factor for fermenting, days that strength adds to
    fermenting and to the bottles, days of fizz in the warm place (0 for a still drink), days between two
    readings.
    """

    ferment_factor: float
    strength_ferment_days: float
    strength_bottle_days: float
    fizz_days: float
    gap_days: int
