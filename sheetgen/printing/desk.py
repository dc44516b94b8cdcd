"""What everybody who places marks shares: the area that x places refer to, the growing marks, the problems.

Comes in: blocks' x places. Goes out: millimetres from the left edge of the paper, marks, problems with
their place.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from itertools import count

from sheetgen.printing import fonts
from sheetgen.printing.blocks import PAGE, PAGES, Block, Run
from sheetgen.printing.marks import MarkOnPage, Stroke, Words, tagged
from sheetgen.printing.tags import Part, Tag
from sheetgen.printing.vocabulary import COLUMNS
from sheetgen.printing.wrap import Setting
from sheetgen.problems import Problems
from sheetgen.records import record

X = float | str


@record
class Area:
    """A strip of the page: its edges in millimetres from the paper's left edge, and what is added to x
    places.
    """

    left: float
    right: float
    shift: float = 0.0

    def x(self, place: X) -> float:
        """Millimetres from the paper's left edge of an x place of a layout."""
        if isinstance(place, float | int):
            return place + self.shift
        if place.endswith("%"):
            return self.left + (self.right - self.left) * float(place[:-1]) / 100
        edges = {"left": self.left, "right": self.right, "middle": (self.left + self.right) / 2}
        return edges[place] if place in edges else COLUMNS[place] + self.shift


@dataclass
class Desk:
    """Marks of the page at hand and problems of the whole; `path` names the sheet or the label.

    `tag` is the element that is being set, () for decoration; `parts` counts the elements of all pages;
    `size` is the paper's, in millimetres.
    """

    problems: Problems
    path: tuple[str, ...] = ()
    page: int = 0
    pages: int = 0
    marks: list[MarkOnPage] = field(default_factory=list)
    tag: Tag = ()
    parts: Iterator[int] = field(default_factory=count)
    size: tuple[float, float] = (0.0, 0.0)

    def put(self, *marks: MarkOnPage) -> None:
        """Draw these, in this order, as what is being set."""
        self.marks.extend(tagged(mark, self.tag) for mark in marks)

    @contextmanager
    def within(self, role: str, says: str = "") -> Iterator[None]:
        """What is put meanwhile belongs to a new element, inside the one at hand; decoration stays that."""
        with self.at((*self.tag, Part(role, next(self.parts), says)) if self.tag else ()):
            yield

    @contextmanager
    def at(self, tag: Tag) -> Iterator[None]:
        """What is put meanwhile belongs to that element."""
        held, self.tag = self.tag, tag
        yield
        self.tag = held

    def new(self, role: str) -> Tag:
        """A new element inside the one at hand; decoration stays that."""
        return (*self.tag, Part(role, next(self.parts))) if self.tag else ()

    def numbered(self, runs: tuple[Run, ...]) -> tuple[Run, ...]:
        """The runs with the page's number and the number of pages in place."""
        if not any(PAGE in run.words or PAGES in run.words for run in runs):
            return runs
        numbers = {PAGE: str(self.page), PAGES: str(self.pages)}
        return tuple(replace(run, words=_replaced(run.words, numbers)) for run in runs)

    def words(
        self, x: float, y: float, text: str, size: float, bold: bool = False, grey: bool = False
    ) -> float:
        """One run of words from x at a baseline; returns its right edge in millimetres."""
        mark = Words(x, y, text, size, bold, grey, self.tag)
        self.marks.append(mark)
        return x + mark.width

    def right_words(
        self, x: float, y: float, text: str, size: float, bold: bool = False, grey: bool = False
    ) -> None:
        """One run of words that ends at x."""
        self.words(x - fonts.width_mm(text, size, bold), y, text, size, bold, grey)

    def setting(self, setting: Setting, index: int, x: float, y: float, grey: bool) -> None:
        """One line of a setting from x at a baseline."""
        for piece in setting.lines[index]:
            end = self.words(x, y, piece.text, setting.size, piece.bold, grey)
            if piece.strike:
                height = y - setting.size * 0.09
                self.put(Stroke(((x - 0.3, height), (end + 0.3, height)), 0.7))
            x = end

    def too_wide(self, block: Block, text: str, needed: float, room: float) -> None:
        """A stop: these words do not fit."""
        found = f'"{text}" does not fit: it is {needed:.1f} mm wide and {room:.1f} mm are free'
        self.problems.stop(
            found, block.span, "shorten the words, or give them more room in the layout", self.path
        )


def _replaced(words: str, numbers: dict[str, str]) -> str:
    for sign, number in numbers.items():
        words = words.replace(sign, number)
    return words


def elastic(ideal: float, least: float | None, most: float | None, stretch: float) -> float:
    """A height between `least` (stretch -1), `ideal` (0) and `most` (1), in millimetres."""
    limit = (least if stretch < 0 else most) if stretch else ideal
    return ideal if limit is None else ideal + abs(stretch) * (limit - ideal)
