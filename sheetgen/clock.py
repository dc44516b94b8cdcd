"""Today's date, where this program is run.  The only module that knows it; everything else is told."""

from __future__ import annotations

from datetime import date, datetime


def today() -> date:
    """The date on the wall, in the local time zone."""
    return datetime.now().astimezone().date()
