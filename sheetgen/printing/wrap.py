"""Breaking words into even lines.

Comes in: runs of words with their voices, a size in points, a width in millimetres. Goes out: lines of
pieces, each piece one voice, with widths. Lines break at ordinary spaces and forced breaks only, so a
number keeps its unit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from sheetgen.printing import fonts
from sheetgen.printing.blocks import Run
from sheetgen.records import record

BREAK = "\n"
_STEP = 0.5


class Piece(NamedTuple):
    """Words of one voice in one line."""

    text: str
    bold: bool
    strike: bool

    def longer(self, text: str) -> Piece:
        """The same voice with more words."""
        return Piece(self.text + text, self.bold, self.strike)


@record
class Setting:
    """Words broken into lines at a size in points; `room` is the width in millimetres they were given."""

    lines: tuple[tuple[Piece, ...], ...]
    size: float
    room: float

    def width(self, index: int) -> float:
        """Width of one line in millimetres."""
        return sum(fonts.width_mm(piece.text, self.size, piece.bold) for piece in self.lines[index])

    @property
    def widest(self) -> float:
        """Width of the widest line in millimetres."""
        return max((self.width(index) for index in range(len(self.lines))), default=0.0)

    @property
    def fits(self) -> bool:
        """Whether every line stays inside the room."""
        return self.widest <= self.room + 0.01


Word = tuple[Piece, ...]


def _split(runs: Sequence[Run], bold: bool) -> Iterator[Piece | None]:
    """Pieces between spaces; None where a space stands."""
    for run in runs:
        voice = bold if run.bold is None else run.bold
        parts = run.words.replace(BREAK, f" {BREAK} ").split(" ")
        for index, part in enumerate(parts):
            if index:
                yield None
            if part:
                yield Piece(part, voice, run.strike)


def _words(runs: Sequence[Run], bold: bool) -> list[Word]:
    words: list[Word] = []
    current: list[Piece] = []
    for piece in _split(runs, bold):
        if piece is not None:
            current.append(piece)
        elif current:
            words.append(tuple(current))
            current = []
    return [*words, tuple(current)] if current else words


def _width(word: Word, size: float) -> float:
    return sum(fonts.width_mm(piece.text, size, piece.bold) for piece in word)


def _gap(word: Word, size: float) -> float:
    return fonts.width_mm(" ", size, word[-1].bold)


def _is_break(word: Word) -> bool:
    return word[0].text == BREAK


def _fill(words: Sequence[Word], size: float, room: float) -> list[list[Word]]:
    """Greedy lines: as many words in each as the room holds, at least one."""
    lines: list[list[Word]] = [[]]
    used = 0.0
    for word in words:
        if _is_break(word):
            lines.append([])
            continue
        needed = _width(word, size)
        after = used + _gap(lines[-1][-1], size) + needed if lines[-1] else needed
        if lines[-1] and after > room + 0.01:
            lines.append([])
            after = needed
        lines[-1].append(word)
        used = after
    return lines


def _even(words: Sequence[Word], size: float, room: float) -> list[list[Word]]:
    """The same number of lines as greedy filling, in the narrowest room that still holds them."""
    lines = _fill(words, size, room)
    if len(lines) == 1:
        return lines
    low, high = max(_width(word, size) for word in words), room
    for _ in range(12):
        middle = (low + high) / 2
        low, high = (low, middle) if len(_fill(words, size, middle)) <= len(lines) else (middle, high)
    return _fill(words, size, high)


def _joined(line: Sequence[Word]) -> tuple[Piece, ...]:
    """One line's words with spaces between, neighbours of one voice in one piece."""
    pieces: list[Piece] = []
    for index, word in enumerate(line):
        if index:
            pieces[-1] = pieces[-1].longer(" ")
        for piece in word:
            if pieces and (pieces[-1].bold, pieces[-1].strike) == (piece.bold, piece.strike):
                pieces[-1] = pieces[-1].longer(piece.text)
            else:
                pieces.append(piece)
    return tuple(pieces)


@lru_cache(maxsize=5_000)
def wrapped(runs: tuple[Run, ...], size: float, bold: bool, room: float) -> Setting:
    """Words in even lines within the room in millimetres; a word longer than the room stays whole."""
    words = _words(runs, bold)
    return Setting(tuple(_joined(line) for line in _even(words, size, room)), size, room)


@lru_cache(maxsize=5_000)
def fitted(runs: tuple[Run, ...], size: float, bold: bool, room: float, floor: float) -> Setting:
    """Words on one line, at the largest size from `size` down to `floor` points that fits; at the floor they
    wrap.
    """
    at = size
    setting = wrapped(runs, at, bold, room)
    while at > floor and (len(setting.lines) > 1 or not setting.fits):
        at = max(floor, at - _STEP)
        setting = wrapped(runs, at, bold, room)
    return setting


def plain(runs: Sequence[Run]) -> str:
    """The bare words, for messages."""
    return " ".join("".join(run.words for run in runs).split())
