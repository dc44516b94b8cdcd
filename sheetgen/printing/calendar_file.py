"""The calendar file (RFC 5545), the same bytes for the same batch and day.

Comes in: a list of `Event`.  Goes out: the bytes of an .ics file: whole days, a stable UID for each event, a
SEQUENCE that rises with the day of printing, so that a file taken in twice replaces its events and doubles
none. Nothing is remembered between runs.  This is the only module that uses the icalendar library.

A file that holds what is on and what is off is METHOD:PUBLISH with STATUS:CANCELLED on what is off: METHOD is
said once for the whole file (RFC 5545, 3.7.2), and a published event may be cancelled (3.8.1.11; RFC 5546,
3.2.1).  A file in which everything is off, that of a batch which left a season, is METHOD:CANCEL (RFC 5546,
3.2.5 and 4.1.3).  There is no ORGANIZER: nobody is invited, and phones would offer to answer.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from sheetgen.records import record

if TYPE_CHECKING:
    from icalendar import Alarm, Calendar
    from icalendar import Event as CalendarEvent

PRODUCT = "-//sheetgen//batch calendar 1//EN"
_NAMES = uuid.uuid5(uuid.NAMESPACE_URL, "urn:sheetgen:calendar")
_FIRST_DAY = date(2020, 1, 1)
_NEW_LINES = re.compile("\r\n?|[\x0b\x0c\x85\u2028\u2029]")
_UNSEEN = re.compile("[\x00-\x09\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]+")


@record
class Event:
    """One entry: whole days from `on` to `last`, both included; `last` None is the one day.

    `uid_key` names the event for ever: the same key is the same event, however often it is printed or moved.
    `before`: how long before the midnight at which its first day begins the alarm rings.  `cancelled`: it is
    off; `sequence`: the least SEQUENCE it may have.  `language`: of its words, if not that of the file.
    """

    uid_key: str
    on: date
    last: date | None
    summary: str
    description: str
    alarm: bool
    before: timedelta = timedelta(hours=6)
    cancelled: bool = False
    sequence: int = 0
    language: str = ""


def uid_of(key: str) -> str:
    """The UID that belongs to a key, the same in every file and on every machine."""
    return f"{uuid.uuid5(_NAMES, key)}@sheetgen"


def sequence_of(today: date) -> int:
    """Days since the first of January 2020: a later printing counts as a later revision."""
    return max(0, (today - _FIRST_DAY).days)


def calendar_bytes(name: str, events: Iterable[Event], today: date, language: str) -> bytes:
    """The file: CRLF line ends, lines folded at 75 octets, events by day; `language` as in "en-GB".

    Days are whole ones, without a time zone: they mean the same day wherever the phone is.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    ordered = sorted(events, key=lambda one: (one.on, one.uid_key))
    off = bool(ordered) and all(event.cancelled for event in ordered)
    calendar.add("method", "CANCEL" if off else "PUBLISH")
    calendar.add("x-wr-calname", _line(name))
    for event in ordered:
        _add(calendar, event, today, language)
    return bytes(calendar.to_ical(sorted=False))


def _add(calendar: Calendar, event: Event, today: date, language: str) -> None:
    from icalendar import Event as CalendarEvent

    entry = CalendarEvent()
    entry.add("uid", uid_of(event.uid_key))
    entry.add("dtstamp", datetime(today.year, today.month, today.day, tzinfo=UTC))
    entry.add("sequence", max(sequence_of(today), event.sequence))
    _add_days(entry, event)
    entry.add("summary", _line(event.summary), parameters={"LANGUAGE": event.language or language})
    entry.add("description", _text(event.description), parameters={"LANGUAGE": event.language or language})
    entry.add("status", "CANCELLED" if event.cancelled else "CONFIRMED")
    entry.add("transp", "TRANSPARENT")
    if event.alarm and not event.cancelled:
        entry.add_component(_alarm(event))
    calendar.add_component(entry)


def _add_days(entry: CalendarEvent, event: Event) -> None:
    """Whole days; the end is the first day that no longer belongs to the event."""
    entry.add("dtstart", event.on)
    entry.add("dtend", max(event.on, event.last or event.on) + timedelta(days=1))


def _alarm(event: Event) -> Alarm:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", -event.before)
    alarm.add("description", _line(event.summary))
    return alarm


def _text(text: str) -> str:
    """The text with plain line ends and without characters that nobody sees."""
    return _UNSEEN.sub(" ", _NEW_LINES.sub("\n", text)).strip()


def _line(text: str) -> str:
    """The text on one line."""
    return " ".join(_text(text).split())
