"""The timeline of `show`: the whole batch in letters, one lane a line, weeks across.

Comes in: a `Plan`, `Words`, the width of the terminal, and whether it can show more than ASCII.  Goes out:
lines. Bars are what is expected, thin lines what may be, signs are days, and days away are hatched in every
lane.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from sheetgen import report
from sheetgen.planning.plan import Plan, Task
from sheetgen.printing.views.common import filled_on
from sheetgen.printing.views.weeks import Scale, scale_of
from sheetgen.printing.words import Words
from sheetgen.records import record

NARROWEST, USUAL, WIDEST = 60, 80, 160
WEEK = 7
_INDENT, _GAP = 2, 2
_STEPS = (1, 7 / 5, 7 / 4, 7 / 3, 7 / 2, 7)
"""Days in a column: so many that a week has whole columns."""
_NOT_LANES = ("best-from", "best-before")
_DAY = timedelta(days=1)


@record
class Signs:
    """The letters of the picture."""

    to_do: str
    next: str
    done: str
    expected: str
    may_be: str
    away: str
    week: str


FINE = Signs("●", "◆", "✓", "━", "─", "░", "╷")
PLAIN = Signs("o", ">", "x", "=", "-", ":", "|")
"""For a terminal that shows ASCII alone."""


@record
class Look:
    """How it is drawn: columns in all, and with which letters."""

    width: int = USUAL
    signs: Signs = FINE


def look_of_terminal() -> Look:
    """The terminal's width (80 columns if it is none), and letters that it can show."""
    columns = shutil.get_terminal_size((USUAL, 24)).columns
    return Look(min(WIDEST, max(NARROWEST, columns)), FINE if _can_show() else PLAIN)


def _can_show() -> bool:
    letters = f"{FINE.to_do}{FINE.next}{FINE.done}{FINE.expected}{FINE.may_be}{FINE.away}{FINE.week}"
    try:
        letters.encode(getattr(sys.stdout, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


@record
class _Lane:
    """One line: its name, its spans with their letters (the later above the earlier), and its days."""

    name: str
    spans: tuple[tuple[date, date, str], ...] = ()
    days: tuple[tuple[date, str], ...] = ()


def timeline(plan: Plan, words: Words, look: Look) -> Iterator[str]:
    """The picture, without a heading; what would be wider than the terminal is cut, and says until when."""
    scale, lanes = scale_of(plan, words), [*_lanes(plan, words, look.signs)]
    named = max(report.width_of(lane.name) for lane in lanes)
    room = look.width - _INDENT - named - _GAP
    step = next((step for step in _STEPS if scale.weeks * WEEK / step <= room), None)
    shown = scale if step else Scale(scale.first, scale.first + timedelta(days=room * WEEK - 1))
    grid = _Grid(shown, step or float(WEEK), look.signs)
    margin = " " * (_INDENT + named + _GAP)
    yield margin + grid.heads(words)
    yield margin + grid.ticks()
    for lane in lanes:
        name = lane.name + " " * (named - report.width_of(lane.name) + _GAP)
        yield f"{' ' * _INDENT}{name}{grid.drawn(lane, plan.away)}".rstrip()
    yield from (margin + line for line in _legend(look.signs, bool(plan.away), room))
    if step is None:
        yield f"{margin}and on to {words.day(scale.last, 'full-date')}".replace("\u00a0", " ")


def _legend(signs: Signs, away: bool, room: int) -> Iterator[str]:
    """What the letters mean, in as many lines as it needs."""
    meant = [(signs.to_do, "to do"), (signs.next, "next"), (signs.done, "done")]
    meant += [(signs.expected * 2, "expected"), (signs.may_be * 2, "may be")]
    meant += [(signs.away * 2, "away")] if away else []
    line = ""
    for letters, text in meant:
        longer = f"{line}  {letters} {text}".lstrip()
        if line and len(longer) > room:
            yield line
            longer = f"{letters} {text}"
        line = longer
    yield line


@record
class _Grid:
    """Columns: the weeks that are shown, and how many days a column stands for."""

    scale: Scale
    step: float
    signs: Signs

    @property
    def columns(self) -> int:
        """How many columns the picture has."""
        return round(self.scale.weeks * WEEK / self.step)

    def at(self, day: date) -> int:
        """The column of a day; days beyond the picture stand beyond it."""
        return int(((day - self.scale.first).days + 1e-9) // self.step)

    def _starts(self) -> Iterator[tuple[int, date]]:
        for week in self.scale.mondays():
            yield self.at(week), week

    def heads(self, words: Words) -> str:
        """The first days of weeks, as many as find room."""
        line = ""
        for column, week in self._starts():
            text = words.day(week, "day-month").replace("\u00a0", " ")
            if (not line or len(line) < column) and column + len(text) <= self.columns:
                line = f"{line:<{column}}{text}"
        return line

    def ticks(self) -> str:
        """A tick at the start of every week."""
        starts = {column for column, _week in self._starts()}
        return "".join(
            self.signs.week if column in starts else " " for column in range(self.columns)
        ).rstrip()

    def drawn(self, lane: _Lane, away: Iterable[tuple[date, date]]) -> str:
        """The lane: spans over the days away, days over both."""
        cells = [" "] * self.columns
        for first, last in away:
            self._fill(cells, first, last, self.signs.away)
        for first, last, letter in lane.spans:
            self._fill(cells, first, last, letter)
        for day, letter in lane.days:
            self._fill(cells, day, day, letter)
        return "".join(cells)

    def _fill(self, cells: list[str], first: date, last: date, letter: str) -> None:
        start, end = max(0, self.at(first)), min(self.columns - 1, self.at(last))
        cells[start : end + 1] = letter * max(0, end + 1 - start)


def _lanes(plan: Plan, words: Words, signs: Signs) -> Iterator[_Lane]:
    """Fermenting, each hands-on task (those of one name in one lane), fizz, and drinking."""
    brew, filled, not_before = plan.task("brew").when.expected, filled_on(plan), plan.labels.not_before
    groups: dict[str, list[Task]] = {}
    for task in plan.tasks:
        if task.id not in (*_NOT_LANES, "drink-from"):
            groups.setdefault(words.task(task.id), []).append(task)
    for name, tasks in groups.items():
        yield _tasks(name, tasks, filled, signs)
        if tasks[0].id == "brew":
            yield _Lane(words.say("timeline.ferment"), ((brew, filled - _DAY, signs.expected),))
    if plan.has("move-to-cool"):
        ready = plan.task("move-to-cool").when.expected
        spans = ((ready, not_before - _DAY, signs.may_be), (filled, ready - _DAY, signs.expected))
        yield _Lane(words.say("timeline.fizz"), spans)
    if plan.safety is not None:
        return
    end = scale_of(plan, words).last
    mark = ((not_before, signs.to_do),)
    yield _Lane(words.task("drink-from"), ((not_before, end, signs.expected),), mark)


def _tasks(name: str, tasks: list[Task], filled: date, signs: Signs) -> _Lane:
    """A lane of tasks: from the earliest to the latest day, and the day itself."""
    ahead = [task for task in tasks if task.state != "done" and task.first_day != task.when.latest]
    spans = [
        (task.first_day, task.when.latest or max(task.when.expected, filled), signs.may_be)
        for task in ahead
        if len(ahead) == 1  # where a job has many days, they say enough
    ]
    letters = {"done": signs.done, "next": signs.next}
    days = [(task.when.expected, letters.get(task.state, signs.to_do)) for task in tasks]
    return _Lane(name, tuple(spans), tuple(days))
