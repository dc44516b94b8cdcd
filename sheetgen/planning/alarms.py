"""When the phone reminds of a day, so that nothing rings in quiet hours.

Comes in: the batch's `Alarms`.  Goes out: the time of the day before at which to ring, or None.
"""

from __future__ import annotations

from datetime import time

from sheetgen.model.reminders import Alarms

DAY_MINUTES = 24 * 60
STEP = 15
"""Alarms that give way to quiet hours ring at a full quarter of an hour."""


def _minutes(at: time) -> int:
    return 60 * at.hour + at.minute


def is_quiet(minute: int, quiet: tuple[time, time]) -> bool:
    """Whether a minute of the day lies in quiet hours: the first counts, the last does not."""
    begins, ends = _minutes(quiet[0]), _minutes(quiet[1])
    if begins < ends:
        return begins <= minute < ends
    return minute >= begins or minute < ends


def ring_at(alarms: Alarms) -> time | None:
    """The time on the day before: the one that was asked for, else the last quarter of an hour before it that
    is not quiet, else the first one after it.  None when nothing shall ring, or the whole day is quiet.
    """
    if alarms.at is None or alarms.quiet is None:
        return alarms.at
    asked, quiet = _minutes(alarms.at), alarms.quiet
    free = [minute for minute in range(DAY_MINUTES) if not is_quiet(minute, quiet)]
    before = [minute for minute in free if minute <= asked and (minute == asked or minute % STEP == 0)]
    after = min((minute for minute in free if minute > asked), default=max(free, default=None))
    found = max(before, default=after)
    return None if found is None else time(found // 60, found % 60)
