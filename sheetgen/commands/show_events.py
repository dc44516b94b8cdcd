"""The days that a batch is brewed for, in the terminal: a table for `show`.

Comes in: a plan and `Words`.  Goes out: rows of text.
"""

from __future__ import annotations

from datetime import date

from sheetgen.commands.show_strength import Row, plain
from sheetgen.planning.plan import EventPlan, Plan
from sheetgen.printing.words import Words

_HEAD = ("", "on", "ready", "to spare", "brew by", "for a second try", "last test", "into the fridge")


def event_rows(plan: Plan, words: Words) -> list[Row]:
    """Each event with its margin, and the last days that still meet it."""
    return [_HEAD, *(_row(event, words) for event in plan.events)] if plan.events else []


def _row(event: EventPlan, words: Words) -> Row:
    days = (event.brew_by, event.spare_try_by, event.last_test)
    spare = plain(words.measure(event.margin_days, "days")) if event.met else "too late"
    cold = _date(event.chill, words)
    if event.bottles and event.chill:
        cold = f"{event.bottles} on {cold}"
    first = (event.name or "the event", _date(event.on, words), _date(event.ready, words), spare)
    return (*first, *(_date(day, words) for day in days), cold)


def _date(day: date | None, words: Words) -> str:
    return plain(words.day(day)) if day else "–"
