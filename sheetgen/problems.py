"""What is wrong, unusual or assumed, and where it was said.

Comes in: nothing of ours.  Goes out: `Span` (a place in a file), `Said` (a sentence by its id, worded later
in the
reader's language), `Problem` (stop, warn or note) and `Problems`, the list that every stage adds to.
Problems are values: nothing here raises, prints or exits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from types import MappingProxyType
from typing import Literal

Level = Literal["stop", "warn", "note"]
LEVELS: tuple[Level, ...] = ("stop", "warn", "note")
SaidValue = str | int | float | date | datetime | tuple["Said", ...]
"""What fills a blank; a tuple holds sentences that are said one after the other."""


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A run of characters in a file: line and column count from 1; `cell` names a table's column, if it is
    one.
    """

    file: str
    line: int
    column: int
    length: int = 1
    cell: str = ""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Said:
    """A sentence that is not worded yet: the id of its pattern in a language file, and the values for its
    blanks.
    """

    id: str
    values: Mapping[str, SaidValue] = field(default_factory=lambda: MappingProxyType({}))

    def __hash__(self) -> int:
        return hash((self.id, tuple(sorted((key, str(value)) for key, value in self.values.items()))))

    def __reduce__(self) -> tuple[object, ...]:
        """How it goes to another process: its values cannot, as they stand, since nobody may change them."""
        return _said_again, (self.id, dict(self.values))


def _said_again(sentence_id: str, values: dict[str, SaidValue]) -> Said:
    return Said(sentence_id, MappingProxyType(values))


def said(sentence_id: str, **values: SaidValue) -> Said:
    """A `Said` from keyword values."""
    return Said(sentence_id, MappingProxyType(values))


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What would mend a finding: `text` in place of what stands at `span` (of no length: put in there).

    `sure`: it is what was meant, only written otherwise.  Of several, or where `sure` is not said, a person
    has to choose.
    """

    span: Span
    text: str
    sure: bool = False


@dataclass(frozen=True)
class Problem:
    """One finding.

    `message` says what was found and what was expected; `fix` says what to type or do.  Either is plain
    English
    (what concerns the writing of a file) or a `Said` (what may also stand on paper).  `path` is the
    breadcrumb by the
    things' own names, outermost first, such as ("batch 27A", "bottles").  `suggestions`: what `fix` says,
    for programs.
    """

    level: Level
    message: str | Said
    span: Span | None = None
    fix: str | Said = ""
    path: tuple[str, ...] = ()
    suggestions: tuple[Suggestion, ...] = field(default=(), compare=False)


def _place(problem: Problem) -> tuple[str, int, int, int]:
    span = problem.span or Span("", 0, 0)
    return (span.file, span.line, span.column, LEVELS.index(problem.level))


class Problems:
    """The growing list of findings of one run; stages add to it and go on."""

    def __init__(self, found: Iterable[Problem] = ()) -> None:
        self._found: dict[Problem, None] = dict.fromkeys(found)

    def add(self, problem: Problem) -> None:
        """Keep a finding, once."""
        self._found.setdefault(problem)

    def extend(self, found: Iterable[Problem]) -> None:
        """Keep several findings."""
        for problem in found:
            self.add(problem)

    def stop(
        self,
        message: str | Said,
        span: Span | None = None,
        fix: str | Said = "",
        path: tuple[str, ...] = (),
        suggestions: tuple[Suggestion, ...] = (),
    ) -> None:
        """Unsafe or impossible: nothing is written."""
        self.add(Problem("stop", message, span, fix, path, suggestions))

    def warn(
        self, message: str | Said, span: Span | None = None, fix: str | Said = "", path: tuple[str, ...] = ()
    ) -> None:
        """Unusual: printed on the sheet and on the screen."""
        self.add(Problem("warn", message, span, fix, path))

    def note(
        self, message: str | Said, span: Span | None = None, fix: str | Said = "", path: tuple[str, ...] = ()
    ) -> None:
        """Assumed or merely worth knowing."""
        self.add(Problem("note", message, span, fix, path))

    @property
    def stopped(self) -> bool:
        """Whether any finding forbids writing."""
        return any(problem.level == "stop" for problem in self._found)

    def in_order(self) -> list[Problem]:
        """By file, line and column; findings without a place come first."""
        return sorted(self._found, key=_place)

    def of(self, level: Level) -> list[Problem]:
        """The findings of one level, in order."""
        return [problem for problem in self.in_order() if problem.level == level]

    def __iter__(self) -> Iterator[Problem]:
        return iter(self.in_order())

    def __len__(self) -> int:
        return len(self._found)


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word that looks most like the one that was written, or "" when nothing is near."""
    import difflib

    near = difflib.get_close_matches(word[:60].lower(), list(known), n=1, cutoff=0.6)
    return near[0] if near else ""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A suggestion such as `did you mean "volume"?`, or "" when nothing is near."""
    near = nearest(word, known)
    return f'did you mean "{near}"?' if near else ""
