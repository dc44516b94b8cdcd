"""What a batch is brewed for, and its brew day, which an event may leave to be planned.

Comes in: the form of a batch file.  Goes out: `model.Event`s, the earliest first; the brew day, and whether
it is still open.  What is not said of a guest's drinks is an assumption.
"""

from __future__ import annotations

from datetime import date, time
from typing import Any

from sheetgen.intake import mending
from sheetgen.intake.forms import Desk, Form
from sheetgen.model import Event, Serving
from sheetgen.problems import Span, said
from sheetgen.records import record
from sheetgen.units import Millilitres

USUAL = Serving(2, Millilitres(330.0))
"""What a guest is taken to drink (common practice, no source)."""
_WHEN = ("brewed", "pitched")


@record
class BrewDay:
    """The brew day and the time of its start; `is_open`: an event is to decide it."""

    day: date
    start: time | None
    is_open: bool = False


def check_days(form: Form) -> None:
    """A batch needs a brew day, or an event to plan it back from; a stop where it has neither."""
    if form.said("brew-day") or "brew-day" in form.meant:
        return
    place, actual = form.place, form.values.get("actual")
    if not (form.said("event") or "event" in form.meant):
        first = Span(place.span.file, place.span.line, place.span.column)
        place.on(first).stop(
            "brew-day: is missing: the day, with a time if the sheet is to show a clock",
            "write brew-day: 2027-03-06 10:00, or an event: to plan it back from",
            mending.added(form.node, "brew-day", "2027-03-06 10:00") if form.node else (),
        )
    elif isinstance(actual, Form) and actual.nodes and not any(actual.said(key) for key in _WHEN):
        form.place_of("actual").stop(
            "what happened is told, but not when it was brewed", "write under actual: brewed: 2027-03-06"
        )


def read_events(form: Form, desk: Desk) -> tuple[Event, ...]:
    """The events, the earliest first."""
    found = [_event(inside, desk) for inside in form.lists("event") if "date" in inside.values]
    return tuple(sorted(found, key=lambda event: event.on))


def _event(form: Form, desk: Desk) -> Event:
    guests, each = form.get("guests"), form.get("drinks-each")
    if each is not None and guests is None:
        form.place_of("drinks-each").warn(
            "drinks-each: is only used with guests:", "write guests: 18, or delete it"
        )
    if guests is not None and each is None:
        each = USUAL
        if not form.said("drinks-each"):
            desk.assume("event.drinks-each", said("assume.drinks-each", n=each.drinks, ml=float(each.ml)))
    return Event(form.get("date"), form.get("name"), guests, each if guests is not None else None)


def brew_day_of(form: Form, events: tuple[Event, ...]) -> BrewDay:
    """The brew day: as it is written, as it happened, or open until it is planned."""
    if "brew-day" in form.values:
        day, start = form.values["brew-day"]
        return BrewDay(day, start)
    actual: Any = form.values.get("actual")
    happened = [actual.get(key) for key in _WHEN if actual.get(key)] if isinstance(actual, Form) else []
    return BrewDay(happened[0], None) if happened else BrewDay(events[0].on, None, True)


def decide_the_volume(form: Form, events: tuple[Event, ...]) -> bool:
    """Whether the guests decide how much is brewed: the file names some, and no volume."""
    return not form.said("volume") and any(event.guests for event in events)
