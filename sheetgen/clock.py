"""Today's date, where this program is run.  The only module that knows it; everything else is told."""

from __future__ import annotations

import os
from datetime import UTC, date, datetime

FIXED = "SOURCE_DATE_EPOCH"
"""Seconds since 1970 that stand for now, so that the same input gives the same bytes on any day.

Source: the specification of that name at reproducible-builds.org, revision 1.1."""
_LAST = 7_289_654_399
"""The end of 2200, in those seconds: further than any batch is planned."""


class ClockError(ValueError):
    """The environment names a moment that is none; its text is a sentence."""


def today() -> date:
    """The date on the wall, in the local time zone; that of `SOURCE_DATE_EPOCH`, in UTC, where it is set.

    Raises `ClockError` where that is not a number of seconds up to the year 2200."""
    fixed = os.environ.get(FIXED, "")
    if not fixed:
        return datetime.now().astimezone().date()
    if not (fixed.isascii() and fixed.isdigit() and len(fixed) <= len(str(_LAST)) and int(fixed) <= _LAST):
        raise ClockError(f'{FIXED} is "{fixed[:40]}", not a number of seconds since 1970; unset it')
    return datetime.fromtimestamp(int(fixed), UTC).date()


def zone() -> str:
    """The name of the zone that days are counted in, "" if there is none."""
    return f"UTC, by {FIXED}" if os.environ.get(FIXED) else datetime.now().astimezone().tzname() or ""
