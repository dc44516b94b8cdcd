"""A language: its sentences by id, its dates and numbers.

Comes in: what `languages` read from a file. Goes out: `Words`, whose `say` turns a `Said`, or the id of a
sentence without blanks, into words ready for paper.

A pattern's blanks are {name} or {name:kind}. Without a kind, text stays as it is, whole numbers are counts
and dates are short. {n:bottle|bottles} chooses by the number n and prints the word only. *words* are bold,
~words~ are struck through. Kinds of numbers (value in base units): litres, mass, bulk-sugar, dose, ml,
bottle, temperature, near-temperature (with decimals), degrees and cooler (differences), millimetres, sg, bar,
percent, volumes, gas, most-gas (rounded up), teaspoons, min,
minutes, hours, days, weeks, months, number. Kinds of days: date (Sat 12 Dec), long-date, full-date (with
the year), day-month, day-month-year, month-year, weekday; of times: clock. A blank may be filled once and for
all: {25:temperature} is 25 or 77 degrees, as the units have it. A kind ending in "-id", such as
{kind:container-id}, says the word "container.<value>". Without such a word, and for {name:ingredient}, the
value is a name: one of ours is said as the language's `names` have it, what people name themselves stays as
they wrote it. {why:sentence} says the sentence of
that id, {causes:sentences} several sentences with values of their own. A kind with + at its end, such as
{kinds:container-id+}, takes several with | between them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from functools import lru_cache
from typing import NamedTuple

from sheetgen.printing import measures
from sheetgen.printing.plurals import Rule, form_of
from sheetgen.problems import Said, SaidValue
from sheetgen.records import record

THIN = "\u202f"
FIRM = "\u00a0"
MANY = "+"
"""After a kind: the value is several of them, with | between."""
DATE_KINDS = ("date", "long-date", "full-date", "day-month", "day-month-year", "month-year", "weekday")
DATE_PARTS = ("weekday", "weekday-long", "day", "month", "month-long", "year")
CLOCK_PARTS = ("hour", "hour-12", "minute", "half")
_WITH_YEAR = {"date": "full-date", "long-date": "full-date", "day-month": "day-month-year"}
_BLANK = re.compile(r"\{([a-z_][a-z0-9_]*|[0-9]+(?:\.[0-9]+)?)(?::([^{}]*))?\}|([*~])")
_WORDED = ("minutes", "hours", "duration", "days", "weeks", "months", "volumes")
_NUMBERED = re.compile(r"-[0-9]+$")
_ANY = re.compile(r"[{}]")


class WordsError(LookupError):
    """A sentence that the language lacks, or a blank that nobody filled: a fault of ours, found by tests."""


class Run(NamedTuple):
    """Words of one voice: "" regular, "*" bold, "~" struck through."""

    text: str
    voice: str


class Quantity(NamedTuple):
    """A number ready for its column: bold figures, unit, and the same in the other system ("" if none)."""

    value: str
    unit: str
    other: str


class Blank(NamedTuple):
    """A blank of a pattern."""

    name: str
    kind: str


Part = tuple[str, Blank | str]
"""A voice, and what is said in it: a blank or plain words."""


@lru_cache(maxsize=4096)
def parts_of(pattern: str) -> tuple[Part, ...]:
    """A pattern taken apart, in order, each part with its voice."""
    found: list[Part] = []
    voice, end = "", 0
    for match in _BLANK.finditer(pattern):
        if match.start() > end:
            found.append((voice, pattern[end : match.start()]))
        end = match.end()
        if match[3]:
            voice = "" if voice == match[3] else match[3]
        else:
            found.append((voice, Blank(match[1], match[2] or "")))
    if end < len(pattern):
        found.append((voice, pattern[end:]))
    return tuple(found)


def faults_of(pattern: str) -> Iterator[str]:
    """What is wrong with a pattern: broken braces, kinds that do not exist, a voice that is not closed."""
    for _voice, part in parts_of(pattern):
        if isinstance(part, Blank):
            if not is_kind(part.kind):
                yield f'"{part.kind}" is not a kind of blank'
        elif _ANY.search(part):
            yield "a blank is written {name} or {name:kind}"
    for sign in "*~":
        if pattern.count(sign) % 2:
            yield f"{sign} opens but does not close"


def is_kind(kind: str) -> bool:
    """Whether a blank may be of that kind."""
    kind = kind.removesuffix(MANY)
    known = ("", "clock", "ingredient", "sentence", "sentences", *DATE_KINDS)
    return kind in known or kind in measures.KINDS or kind.endswith("-id") or "|" in kind


@record
class Customs:
    """How a language writes days, times and numbers, and what it expects of paper and units.

    `day_numbers`: the form of the first day of a month, and of the others, such as "{n}.".
    """

    weekdays: tuple[str, ...]
    weekdays_long: tuple[str, ...]
    months: tuple[str, ...]
    months_long: tuple[str, ...]
    day_numbers: tuple[str, ...]
    dates: Mapping[str, str]
    first_weekday: int
    month_first: bool
    clock: str
    halves_of_day: tuple[str, ...]
    decimal_mark: str
    plurals: tuple[Rule, ...]
    unit_names: Mapping[str, str]
    paper: str
    units: str
    drink_units: str


@record
class Words:
    """A language in one system of units ("metric", "us" or "uk").

    `home_year`: days of another year are shown with it; 0: no day is, but where its form has the year.
    `names`: what is called so in our recipes and tables, and how this language calls it.
    """

    language: str
    name: str
    customs: Customs
    table: Mapping[str, str]
    cautions: Mapping[str, Mapping[str, str]]
    units: str
    names: Mapping[str, str]
    home_year: int = 0

    def has(self, sentence_id: str) -> bool:
        """Whether the language has a sentence of that id."""
        return sentence_id in self.table

    def say(self, what: Said | str) -> str:
        """The sentence in words, without its voices; WordsError for an unknown id or an unfilled blank."""
        return "".join(run.text for run in self.runs(what))

    def runs(self, what: Said | str) -> tuple[Run, ...]:
        """The sentence in words, cut where the voice changes."""
        wanted = Said(what) if isinstance(what, str) else what
        pattern = self.table.get(wanted.id)
        if pattern is None:
            raise WordsError(f"{self.language} has no sentence {wanted.id}")
        return _joined([Run(self._part(part, wanted), voice) for voice, part in parts_of(pattern)])

    def _part(self, part: Blank | str, what: Said) -> str:
        if isinstance(part, str):
            return part
        value = float(part.name) if part.name[0].isdigit() else what.values.get(part.name)
        if value is None:
            raise WordsError(f"{what.id} needs a value for {part.name}")
        try:
            return self.value(value, part.kind)
        except (TypeError, ValueError, AttributeError) as fault:
            raise WordsError(f"{what.id}: {part.name} is not a {part.kind or 'value'}: {fault}") from fault

    def value(self, value: SaidValue, kind: str = "") -> str:
        """One value as a blank of that kind shows it."""
        if kind.endswith(MANY):
            return self._listed(str(value).split("|"), kind.removesuffix(MANY))
        if isinstance(value, tuple):
            return " ".join(self.say(each) for each in value)
        if "|" in kind:
            return self.choice(float(str(value)), kind)
        if isinstance(value, date) and kind != "clock":
            return self.day(value, kind or "date")
        if isinstance(value, datetime):
            return self.clock(value)
        if kind in measures.KINDS:
            return self.measure(float(str(value)), kind)
        return self._text(value, kind)

    def _listed(self, values: list[str], kind: str) -> str:
        """Several values of a kind: one, another or a third."""
        *first, last = (self.value(value, kind) for value in values)
        return self.say(Said("list.or", {"first": ", ".join(first), "last": last})) if first else last

    def _text(self, value: SaidValue, kind: str) -> str:
        if kind == "sentence":
            return self.say(str(value))
        if kind.endswith("-id") or kind == "ingredient":
            word = self._nearest(f"{kind.removesuffix('-id')}.{value}")
            return self.say(word) if word in self.table else self.named(str(value))
        if kind:
            raise ValueError(repr(value))
        return str(value) if isinstance(value, str) else self.measure(float(str(value)), "number")

    def _nearest(self, sentence_id: str) -> str:
        """The id, or the id without the number at its end: add-day-3 is worded like every add-day."""
        stem = _NUMBERED.sub("", sentence_id)
        return stem if sentence_id not in self.table and stem in self.table else sentence_id

    def choice(self, number: float, forms: str) -> str:
        """One of the forms "one|many" by a number; the last, where it asks for one that is not given."""
        given = forms.split("|")
        return given[min(form_of(number, self.customs.plurals), len(given) - 1)]

    def named(self, name: str) -> str:
        """A name of ours in this language; any other name as it is."""
        return self.names.get(name, name)

    def task(self, task_id: str) -> str:
        """The name of a thing to do."""
        return self.say(self._nearest(f"task.{task_id}"))

    def number(self, value: float, decimals: int = 2) -> str:
        """A bare number in this language, without false zeros."""
        return measures.figures(value, decimals).replace(".", self.customs.decimal_mark)

    def measure(self, value: float, kind: str, system: str = "") -> str:
        """A number of that kind with its unit, held together by a thin space."""
        figures, unit = self.measured(value, kind, system)
        gap = FIRM if kind in _WORDED else THIN
        return f"{figures}{gap}{unit}" if unit else figures

    def measured(self, value: float, kind: str, system: str = "") -> tuple[str, str]:
        """Figures and unit of a number of that kind, apart."""
        figures, unit = measures.KINDS[kind](value, system or self.units)
        name = self.customs.unit_names.get(unit, unit)
        figures, number = figures.replace(".", self.customs.decimal_mark), _number_in(figures, value)
        return figures, self.choice(number, name) if "|" in name else name

    def quantity(self, value: float, kind: str) -> Quantity:
        """A number for its column, in both systems where they differ."""
        figures, unit = self.measured(value, kind)
        other = self.measure(value, kind, measures.OTHER[self.units])
        same = other in {f"{figures}{THIN}{unit}", figures}
        return Quantity(figures, unit, "" if same else other)

    def day(self, day: date, form: str = "date", *, column: bool = False) -> str:
        """A day in one of the forms of `DATE_KINDS`, or as columns have it; it does not break."""
        if form == "weekday":
            return self.customs.weekdays_long[day.weekday()]
        if self.home_year and day.year != self.home_year:
            form = _WITH_YEAR.get(form, form)
        parts = self.date_parts(day) | (self.column_parts(day) if column else {})
        return self.customs.dates[form].format_map(parts).replace(" ", FIRM)

    def date_parts(self, day: date) -> dict[str, str]:
        """What a date is made of: weekday, day, month, year, and the long names."""
        customs = self.customs
        weekday, month, number = (
            day.weekday(),
            day.month - 1,
            customs.day_numbers[day.day > 1].format(n=day.day),
        )
        names = (customs.weekdays[weekday], customs.weekdays_long[weekday], number)
        parts = (*names, customs.months[month], customs.months_long[month], str(day.year))
        return dict(zip(DATE_PARTS, parts, strict=True))

    def column_parts(self, day: date) -> dict[str, str]:
        """Weekday, day and month for columns: no point after what is cut short, every day numbered alike."""
        parts = self.date_parts(day)
        number = self.customs.day_numbers[-1].format(n=day.day)
        return {"weekday": parts["weekday"].rstrip("."), "day": number, "month": parts["month"].rstrip(".")}

    def clock(self, moment: datetime) -> str:
        """A time of day; it does not break."""
        half = self.customs.halves_of_day[moment.hour // 12]
        parts = (str(moment.hour), str((moment.hour - 1) % 12 + 1), f"{moment.minute:02}", half)
        return self.customs.clock.format_map(dict(zip(CLOCK_PARTS, parts, strict=True))).replace(" ", THIN)


def _number_in(figures: str, value: float) -> float:
    """The number that is printed, by which its unit's form is chosen; the value where it has fractions."""
    try:
        return float(figures)
    except ValueError:
        return value


def _joined(runs: list[Run]) -> tuple[Run, ...]:
    """Neighbours of the same voice as one run; empty ones gone, no second point after a word cut short."""
    found: list[Run] = []
    for text, voice in runs:
        more = text.removeprefix(".") if found and found[-1].text.endswith(".") else text
        if found and found[-1].voice == voice:
            found[-1] = Run(found[-1].text + more, voice)
        elif more:
            found.append(Run(more, voice))
    return tuple(found)
