"""A life and its days, worked out a second time: day after day, by looking, with nothing of ours imported.

The batch is `copper-lane-amber` at 20 C: test 1 from day 11, test 2 from 3 days later, bottling from day 14
and not before test 2; then a look after 7 days and another after 14.  Day 42 is the last one without worry.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta

YEAR, PASS = 366, 14


class Unsure(Exception):  # noqa: N818 - it is a verdict
    """The last reading would lapse before bottling; then it is read later, which is not worked out here."""


@dataclass(frozen=True)
class Days:
    """Days of the week (none named: any), every so manieth week from a day on."""

    weekdays: tuple[int, ...] = ()
    every: int = 1
    first: date | None = None

    def on(self, day: date) -> bool:
        if self.weekdays and day.weekday() not in self.weekdays:
            return False
        if self.first is None:
            return True
        begin, number = self.first, 0
        if day < begin:
            return False
        while begin + timedelta(days=7) <= day:
            begin, number = begin + timedelta(days=7), number + 1
        return number % self.every == 0


@dataclass(frozen=True)
class Person:
    """Who lives how: days by work, rounds of (first, "wwff", last), holidays, days away."""

    days: dict[str, Days] = field(default_factory=dict)
    rounds: tuple[tuple[date, str, date | None], ...] = ()
    holidays: frozenset[date] = frozenset()
    public: frozenset[date] = frozenset()
    away: tuple[tuple[date, date], ...] = ()

    def home(self, day: date) -> bool:
        return not any(first <= day <= last for first, last in self.away)

    def on_shift(self, day: date) -> bool:
        for first, letters, last in self.rounds:
            gone = day.toordinal() - first.toordinal()
            if gone >= 0 and (last is None or day <= last) and (letters * (gone + 1))[gone] == "w":
                return True
        return False

    def can(self, day: date, work: str) -> bool:
        if not self.home(day):
            return False
        if day in self.holidays:
            return True
        if work != "looking" and self.on_shift(day):
            return False
        return self.days.get(work, Days()).on(day) or day in self.public

    def without(self, keys: tuple[str, ...]) -> Person:
        return Person(
            {} if "my-days" in keys else self.days,
            () if "shifts" in keys else self.rounds,
            self.holidays,
            self.public,
            () if "away" in keys else self.away,
        )


def first(person: Person, wanted: date, work: str) -> date | None:
    """The first day of a year on which the work can be done."""
    for more in range(YEAR + 1):
        day = wanted + timedelta(days=more)
        if person.can(day, work):
            return day
    return None


def run(person: Person, brewed: date) -> dict[str, date] | None:
    """Test 1, test 2, bottling and the two looks; None if one of them finds no day."""
    found: dict[str, date] = {}
    for name, work, waits in (
        ("test-1", "testing", ((None, 11),)),
        ("test-2", "testing", (("test-1", 3),)),
        ("bottle", "bottling", ((None, 14), ("test-2", 0))),
        ("test-bottle", "looking", (("bottle", 7),)),
        ("move-to-cool", "looking", (("bottle", 14),)),
    ):
        starts = [(brewed if after is None else found[after]) + timedelta(days=n) for after, n in waits]
        day = first(person, max(starts), work)
        if day is None:
            return None
        found[name] = day
    if (found["bottle"] - found["test-2"]).days > PASS:
        raise Unsure
    return found


def brew_day(person: Person, since: date) -> date | None:
    """The first brew day that bottles by day 42; failing that, the first that works at all."""
    possible = None
    for more in range(YEAR + 1):
        day = since + timedelta(days=more)
        home = all(person.home(day + timedelta(days=n)) for n in range(4))
        if not home or not person.can(day, "brewing"):
            continue
        tasks = run(person, day)
        if tasks is not None and (tasks["bottle"] - day).days <= 42:
            return day
        possible = possible or (day if tasks else None)
    return possible


def fewest(person: Person, brewed: date) -> set[tuple[str, ...]]:
    """The smallest sets of keys without which there is a day for everything."""
    keys = ("away", "shifts", "my-days")
    sets = [tuple(key for n, key in enumerate(keys) if bits >> n & 1) for bits in range(8)]
    enough = [each for each in sets if run(person.without(each), brewed) is not None]
    return {each for each in enough if len(each) == min(map(len, enough))}
