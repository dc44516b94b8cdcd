"""The coach's roster: week by week who does what on which day, with a box to tick for each of them.

Comes in: a `ClassPlan` and `Words`.  Goes out: the view of layouts/documents/roster.layout.  Weeks that are
behind everybody are left out; who was away is nobody's business here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.planning.class_plan import Chore, ClassPlan, Standing
from sheetgen.printing import fonts
from sheetgen.printing.views.class_pages import called, fitted, head, short_day
from sheetgen.printing.views.common import View, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import said

ACROSS = 3
"""So many names stand side by side."""
_WEEK = timedelta(days=7)
_NAME, _TOLD_SIZE = 35.5, 8.0
_NOT_HERE = ("look-", "squeeze", "move-to-cool", "chill", "event")
_GATED = re.compile(r"(?:test|taste)-[0-9]+|bottle")
_TOLD = ("unsafe", "stuck", "may-bottle", "measure-again", "wait")
_Doing = tuple[Standing, Chore]


def roster(found: ClassPlan, words: Words) -> View:
    """What the roster shows."""
    words = replace(words, home_year=found.printed.year)
    return frozen(
        page=head(found, words, "roster"),
        weeks=tuple(_weeks(found, words)),
        phones=frozen(title=words.say("roster.phones"), rows=_pairs(found)),
    )


def _pairs(found: ClassPlan) -> tuple[tuple[str, ...], ...]:
    """Everybody, two in a row, each to have a number written beside."""
    names = tuple(fitted(called(one), 46.0) for one in found.people)
    return tuple(names[at : at + 2] for at in range(0, len(names), 2))


def _weeks(found: ClassPlan, words: Words) -> Iterator[View]:
    held: dict[date, list[_Doing]] = {}
    for one in found.people:
        for chore in one.chores:
            if not chore.id.startswith(_NOT_HERE):
                held.setdefault(_monday(chore.on, words), []).append((one, chore))
    for monday, doing in sorted(held.items()):
        if not all(chore.done for _, chore in doing):
            yield frozen(title=words.say(said("roster.week", on=monday)), rows=tuple(_rows(doing, words)))


def _monday(day: date, words: Words) -> date:
    """The first day of its week, as the language has it."""
    return day - timedelta(days=(day.weekday() - words.customs.first_weekday) % 7)


def _rows(doing: Sequence[_Doing], words: Words) -> Iterator[View]:
    """One thing to do on one day after the other, with everybody who does it, some in a row."""
    held: dict[tuple[date, str], list[_Doing]] = {}
    for one, chore in sorted(doing, key=lambda each: (each[1].on, _rank(each[1]), each[0].code)):
        held.setdefault((chore.on, words.task(chore.id)), []).append((one, chore))
    last = None
    for (on, task), people in held.items():
        for first in range(0, len(people), ACROSS):
            yield frozen(
                day=short_day(on, words) if on != last else "",
                task=task if first == 0 else "",
                people=tuple(_person(*each, words) for each in people[first : first + ACROSS]),
            )
            last = on


def _rank(chore: Chore) -> tuple[int, str]:
    """Brewing first, and bottling after the reading that allows it."""
    return ({"brew": 0, "bottle": 2}.get(chore.id, 1), chore.id)


def _person(one: Standing, chore: Chore, words: Words) -> View:
    """A name; where a test or bottling waits, also how the gate stands; for brewing the time."""
    told = ""
    if _GATED.fullmatch(chore.id) and not chore.done and one.stand in _TOLD:
        told = words.say(f"stand.short.{one.stand}")
    elif chore.clock is not None:
        told = words.clock(chore.clock)
    text = fitted(called(one), _NAME - (fonts.width_mm(told, _TOLD_SIZE, bold=True) + 1.5 if told else 0))
    return frozen(text=text, told=told, done=chore.done)
