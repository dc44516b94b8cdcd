"""Pages of marks to the drawing operators of PDF, written straight as text: the one fast way of drawing.

Comes in: a page. Goes out: `Inked`, its operators, compressed, and what they need: which characters of which
face, which pictures, and the tag of every bracketed piece.  It depends on nothing but the page, so that it
may be put into several files.  `tests/printing/slow_pen.py` draws the same marks one call after the other
with a library; a test holds both against each other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cache, lru_cache
from itertools import pairwise
from typing import Any
from zlib import compress, crc32

from sheetgen.printing.marks import (
    Area,
    Box,
    Disc,
    Hatch,
    MarkOnPage,
    Page,
    Point,
    Raster,
    Square,
    Stroke,
    Words,
    tag_of,
)
from sheetgen.printing.tags import Tag
from sheetgen.records import record

POINTS_PER_MM = 72 / 25.4
BLACK, WHITE, GREY, PALE = (0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (0.4, 0.4, 0.4), (0.93, 0.93, 0.93)
WATER = (20 / 255, 66 / 255, 84 / 255)
DOTS = (0.5, 1.7)
HATCH_WEIGHT = 0.5
_FILLS = {"white": WHITE, "water": WATER, "pale": PALE}
_TOUCHING = 0.2
_ROUND = 0.5523
"""How far the handles of a quarter of a circle reach, as a share of its radius."""
_DECORATION = "/Artifact BMC"
_FIRM = "\xa0"


@record
class Inked:
    """A page drawn: size in millimetres, operators (compressed), the characters of the regular and the bold
    face, pictures by name, and the tag of each bracketed piece.
    """

    width: float
    height: float
    content: bytes
    characters: tuple[str, str]
    pictures: tuple[tuple[str, bytes], ...] = ()
    pieces: tuple[Tag, ...] = ()
    bookmark: str = ""


def inked(page: Page, tagged: bool = True) -> Inked:
    """A page's drawing; without tags nothing in it is bracketed."""
    pen = _Pen(page.height * POINTS_PER_MM)
    if tagged:
        for mark in spaced(page.marks):
            pen.begin(tag_of(mark))
            _DRAWN[type(mark)](pen, mark)
        pen.end()
    else:
        for mark in page.marks:
            _DRAWN[type(mark)](pen, mark)
    content = compress("\n".join(pen.out).encode("ascii"))
    held = tuple("".join(sorted(set().union(*texts))) for texts in pen.texts)
    pictures, pieces = tuple(pen.pictures.items()), tuple(pen.pieces)
    return Inked(page.width, page.height, content, (held[0], held[1]), pictures, pieces, page.bookmark)


class _Pen:
    """The operators of a page as they grow, and the state of the page that they have brought about."""

    def __init__(self, top: float) -> None:
        self.out: list[str] = []
        self.top = top
        self.texts: tuple[list[str], list[str]] = ([], [])
        self.pictures: dict[str, bytes] = {}
        self.pieces: list[Tag] = []
        self._open: Tag | None = None
        self._voice: tuple[bool, float] | None = None
        self._fill, self._edge, self._weight = BLACK, BLACK, 1.0

    def begin(self, tag: Tag) -> None:
        """What is drawn from now on belongs to that element; () is decoration."""
        if tag == self._open:
            return
        self.end()
        self._open = tag
        if tag:
            self.out.append(f"/{tag[-1].role} <</MCID {len(self.pieces)}>> BDC")
            self.pieces.append(tag)
        else:
            self.out.append(_DECORATION)

    def end(self) -> None:
        """Close the bracket that is open."""
        if self._open is not None:
            self.out.append("EMC")
            self._open = None

    def at(self, x: float, y: float) -> str:
        """A place on the page, in points from its lower left corner."""
        return f"{x * POINTS_PER_MM:.2f} {self.top - y * POINTS_PER_MM:.2f}"

    def voice(self, bold: bool, size: float) -> str:
        """The operator for a face at a size, where it is not at hand already."""
        if self._voice == (bold, size):
            return ""
        self._voice = (bold, size)
        return f"/F{int(bold)} {size:g} Tf "

    def fill(self, colour: tuple[float, float, float]) -> None:
        """Fill with that colour from now on."""
        if colour != self._fill:
            self._fill = colour
            self.out.append(_colour(colour, "rg", "g"))

    def edge(self, weight: float, colour: tuple[float, float, float] = BLACK) -> None:
        """Draw lines of that weight and colour from now on."""
        if colour != self._edge:
            self._edge = colour
            self.out.append(_colour(colour, "RG", "G"))
        if weight != self._weight:
            self._weight = weight
            self.out.append(f"{weight:g} w")

    def path(self, points: Sequence[Point]) -> str:
        """A way from point to point."""
        first, *others = (self.at(*point) for point in points)
        return " ".join([f"{first} m", *(f"{other} l" for other in others)])

    def rectangle(self, x: float, y: float, width: float, height: float) -> str:
        """A rectangle from its upper left corner and its size."""
        size = f"{width * POINTS_PER_MM:.2f} {height * POINTS_PER_MM:.2f}"
        return f"{self.at(x, y + height)} {size} re"


def _colour(colour: tuple[float, float, float], many: str, one: str) -> str:
    """The operator for a colour: grey has one number."""
    red, green, blue = colour
    return f"{red:.3g} {one}" if red == green == blue else f"{red:.4g} {green:.4g} {blue:.4g} {many}"


def _words(pen: _Pen, mark: Words) -> None:
    pen.fill(GREY if mark.grey else BLACK)
    text = mark.text.replace(_FIRM, " ")  # who copies or searches the words means an ordinary space
    pen.texts[mark.bold].append(text)
    code = text.encode("utf-16-be", "replace").hex()
    pen.out.append(f"BT {pen.voice(mark.bold, mark.size)}{pen.at(mark.x, mark.y)} Td <{code}> Tj ET")


def _stroke(pen: _Pen, mark: Stroke) -> None:
    pen.edge(mark.weight, WHITE if mark.white else GREY if mark.grey else BLACK)
    drawn = f"{pen.path(mark.points)} S"
    pen.out.append(f"[{DOTS[0]:g} {DOTS[1]:g}] 0 d {drawn} [] 0 d" if mark.dots else drawn)


def _box(pen: _Pen, mark: Box) -> None:
    if mark.fill:
        pen.fill(fill_of(mark.fill))
    if mark.weight > 0:
        pen.edge(mark.weight)
    shape = _rounded(pen, mark) if mark.radius else pen.rectangle(mark.x, mark.y, mark.width, mark.height)
    pen.out.append(f"{shape} {_PAINTED[mark.weight > 0, bool(mark.fill)]}")


_PAINTED = {(True, True): "B", (True, False): "S", (False, True): "f", (False, False): "n"}


def _rounded(pen: _Pen, mark: Box) -> str:
    """A rectangle with round corners, clockwise from the end of its upper left one."""
    left, top, right, bottom = mark.x, mark.y, mark.x + mark.width, mark.y + mark.height
    radius = mark.radius
    corners = (
        ((right - radius, top), (right, top), (right, top + radius)),
        ((right, bottom - radius), (right, bottom), (right - radius, bottom)),
        ((left + radius, bottom), (left, bottom), (left, bottom - radius)),
        ((left, top + radius), (left, top), (left + radius, top)),
    )
    steps = [f"{pen.at(left + radius, top)} m"]
    for start, corner, end in corners:
        steps += [f"{pen.at(*start)} l", _bend(pen, start, corner, end)]
    return " ".join([*steps, "h"])


def _bend(pen: _Pen, start: Point, corner: Point, end: Point) -> str:
    """A quarter of a circle that leaves towards the corner and arrives from there."""
    handles = (
        (point[0] + _ROUND * (corner[0] - point[0]), point[1] + _ROUND * (corner[1] - point[1]))
        for point in (start, end)
    )
    return " ".join([*(pen.at(*handle) for handle in handles), pen.at(*end), "c"])


def _hatch(pen: _Pen, mark: Hatch) -> None:
    """Lines up to the right through the rectangle, cut at its edges by arithmetic, not by clipping."""
    pen.edge(HATCH_WEIGHT)
    lines = [pen.path(line) for line in hatching(mark)]
    pen.out.append(" ".join([*lines, "S"]) if lines else "n")


def _area(pen: _Pen, mark: Area) -> None:
    pen.fill(PALE)
    pen.out.append(f"{pen.path(mark.points)} h f")


def _disc(pen: _Pen, mark: Disc) -> None:
    pen.edge(mark.weight)
    x, y, radius = mark.x, mark.y, mark.radius
    ways = ((1, 0), (0, 1), (-1, 0), (0, -1), (1, 0))
    points = [(x + across * radius, y + down * radius) for across, down in ways]
    bends = (
        _bend(pen, start, (start[0] + end[0] - x, start[1] + end[1] - y), end)
        for start, end in pairwise(points)
    )
    pen.out.append(" ".join([f"{pen.at(*points[0])} m", *bends, "h S"]))


def _square(pen: _Pen, mark: Square) -> None:
    pen.fill(BLACK)
    rows = modules(mark.text)
    step = mark.size / len(rows)
    for row, cells in enumerate(rows):
        for start, end in _runs(cells):
            shape = pen.rectangle(mark.x + start * step, mark.y + row * step, (end - start) * step, step)
            pen.out.append(f"{shape} f")


def _raster(pen: _Pen, mark: Raster) -> None:
    name = f"I{crc32(mark.data):08x}"
    pen.pictures[name] = mark.data
    size = f"{mark.width * POINTS_PER_MM:.2f} 0 0 {mark.height * POINTS_PER_MM:.2f}"
    pen.out.append(f"q {size} {pen.at(mark.x, mark.y + mark.height)} cm /{name} Do Q")


_DRAWN: dict[type, Callable[[_Pen, Any], None]] = {
    Words: _words,
    Stroke: _stroke,
    Box: _box,
    Hatch: _hatch,
    Area: _area,
    Disc: _disc,
    Square: _square,
    Raster: _raster,
}


def spaced(marks: Sequence[MarkOnPage]) -> Iterator[MarkOnPage]:
    """The marks, with a space after words that others of the same element follow: who hears them needs it."""
    last: Words | None = None
    for mark in marks:
        if isinstance(mark, Words):
            if last:
                yield replace(last, text=f"{last.text} ") if _apart(last, mark) else last
            last = mark
        else:
            if last:
                yield last
            last = None
            yield mark
    if last:
        yield last


def _apart(first: Words, second: Words) -> bool:
    """Whether words of one element stand apart, so that nothing but their place tells them from one word."""
    if not first.tag or first.tag != second.tag or first.text.endswith((" ", "\xa0")):
        return False
    return first.y != second.y or abs(second.x - first.x - first.width) > _TOUCHING


@cache
def fill_of(name: str) -> tuple[float, float, float]:
    """Red, green and blue from 0 to 1, of a named fill or of #rrggbb."""
    if not name.startswith("#"):
        return _FILLS[name]
    red, green, blue = (int(name[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return red, green, blue


def hatching(mark: Hatch) -> list[tuple[Point, Point]]:
    """The strokes of a hatched rectangle, each cut at its edges, in millimetres."""
    width, height = mark.width, mark.height
    strokes = []
    offset = mark.spacing
    while offset < width + height:
        start = (max(0.0, offset - height), min(height, offset))
        end = (min(width, offset), max(0.0, offset - width))
        strokes.append(((mark.x + start[0], mark.y + start[1]), (mark.x + end[0], mark.y + end[1])))
        offset += mark.spacing
    return strokes


@lru_cache(maxsize=100)
def modules(text: str) -> tuple[tuple[bool, ...], ...]:
    """The dark and light modules of a square code with medium error correction, in UTF-8."""
    from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(text)
    code.make()
    return tuple(tuple(bool(cell) for cell in row) for row in code.modules)


def _runs(cells: Sequence[bool]) -> list[tuple[int, int]]:
    """Start and end of every run of dark modules."""
    runs: list[tuple[int, int]] = []
    for index, dark in enumerate(cells):
        if dark and runs and runs[-1][1] == index:
            runs[-1] = (runs[-1][0], index + 1)
        elif dark:
            runs.append((index, index + 1))
    return runs
