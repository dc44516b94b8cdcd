"""What the plan says of the days that a batch is brewed for.

Comes in: what `backwards` worked out.  Goes out: records of the plan.  Nothing in here is formatted.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

from sheetgen.records import record

BrewDayIs = Literal["given", "spare-try", "last-safe", "too-late"]
"""Where the brew day comes from: the file; the event, with time for a second try; the event, without; or the
event, and it cannot be met.
"""


@record
class EventPlan:
    """One event, and whether the drink is ready for it.

    `ready`: from when on it may be drunk, as the labels have it.  `chill`: the day on which bottles go into
    the fridge for it, None if they are not ready by then.  `margin_days`: days between the two; below 0 it
    comes too late.  `met`: whether it is in time and cold.
    `brew_by`: the last brew day that meets it, None if there is none any more, or it is brewed.
    `spare_try_by`: the last one that leaves time to taste it, fail, and brew once more.
    `last_test`: the last day for the test that passes, with bottling on the same day.
    `bottles`: how many go into the fridge, 0 if no guests are named; `drinks_ml` what they hold for them.
    """

    on: date
    name: str
    guests: int | None
    drinks_ml: float
    bottles: int
    ready: date
    chill: date | None
    margin_days: int
    met: bool
    brew_by: date | None
    spare_try_by: date | None
    last_test: date | None
