"""What a phone is told: when its alarms ring, and the earlier plan whose days it still shows.

Comes in: values that intake has checked.  Goes out: frozen records, which `sheetgen.model` names too.
"""

from __future__ import annotations

from datetime import date, time

from sheetgen.records import record


@record
class Alarms:
    """When the phone reminds of a day: at a time of the day before, `at` None for never.

    `quiet`: from and to a time of day in which nothing may ring; it may run over midnight.
    """

    at: time | None = time(18, 0)
    quiet: tuple[time, time] | None = None


@record
class OldTask:
    """A task of an earlier plan: its id, its day then, and what it was."""

    id: str
    on: date
    hands_on: bool
    done: bool


@record
class OldPlan:
    """An earlier plan of the same batch, as far as a calendar needs it."""

    code: str
    printed: date
    tasks: tuple[OldTask, ...]


@record
class OldPlans:
    """What an earlier file held: one plan, or those of the season of that name."""

    plans: tuple[OldPlan, ...]
    season: str = ""
