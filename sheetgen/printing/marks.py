"""What stands on a page, placed: words, strokes, boxes, hatching, areas, discs and codes.

Comes in: nothing. Goes out: the mark classes and `Page`. All places are millimetres from the upper left
corner of the paper, y downwards; a word's y is its baseline; sizes and line weights are points.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field, replace

from sheetgen.printing import fonts
from sheetgen.printing.tags import Tag
from sheetgen.records import record

Point = tuple[float, float]


@record
class Words:
    """One run of words in one voice."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    grey: bool = False
    tag: Tag = field(default=(), compare=False, repr=False)

    @property
    def width(self) -> float:
        """Millimetres."""
        return fonts.width_mm(self.text, self.size, self.bold)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom in millimetres: from the top of the capitals to the depth of a g."""
        up, down = fonts.cap_mm(self.size), fonts.descent_mm(self.size)
        return (self.x, self.y - up, self.x + self.width, self.y + down)


@record
class Stroke:
    """A line through points."""

    points: tuple[Point, ...]
    weight: float
    dots: bool = False
    grey: bool = False
    white: bool = False
    tag: Tag = field(default=(), compare=False, repr=False)


@record
class Box:
    """A rectangle; weight 0 draws no edge; fill is "", "white", "water" (deep blue), "pale" (7 % grey), or
    a colour as #rrggbb.
    """

    x: float
    y: float
    width: float
    height: float
    weight: float = 0.6
    fill: str = ""
    radius: float = 0.0
    tag: Tag = field(default=(), compare=False, repr=False)


@record
class Hatch:
    """Lines of 45 degrees through a rectangle."""

    x: float
    y: float
    width: float
    height: float
    spacing: float = 1.3


@record
class Area:
    """A polygon filled with 7 % grey."""

    points: tuple[Point, ...]


@record
class Disc:
    """A circle's outline round its middle."""

    x: float
    y: float
    radius: float
    weight: float = 0.25


@record
class Square:
    """A square code with its text; x and y are the upper left corner."""

    x: float
    y: float
    size: float
    text: str
    tag: Tag = field(default=(), compare=False, repr=False)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom in millimetres, without the clear border."""
        return (self.x, self.y, self.x + self.size, self.y + self.size)


@record
class Raster:
    """A picture of somebody's own; x and y are the upper left corner, `data` a PNG or JPEG file."""

    x: float
    y: float
    width: float
    height: float
    data: bytes = field(repr=False)
    tag: Tag = field(default=(), compare=False, repr=False)


MarkOnPage = Words | Stroke | Box | Hatch | Area | Disc | Square | Raster
Tagged = Words | Stroke | Box | Square | Raster
"""Marks that may say something; the others are always decoration."""


def tag_of(mark: MarkOnPage) -> Tag:
    """The element that a mark belongs to, () for decoration."""
    return mark.tag if isinstance(mark, Tagged) else ()


def tagged(mark: MarkOnPage, tag: Tag) -> MarkOnPage:
    """The same mark as a part of that element; one that says nothing stays as it is."""
    spoken = Tagged if tag and tag[-1].says else Words | Square | Raster
    return replace(mark, tag=tag) if tag and isinstance(mark, spoken) else mark


@record
class Page:
    """One page: its paper in millimetres, its marks in drawing order, and its bookmark, if it opens a
    document.
    """

    width: float
    height: float
    marks: tuple[MarkOnPage, ...]
    bookmark: str = ""


def _meet(a: Words | Square, b: Words | Square, slack: float) -> bool:
    left, top, right, bottom = a.box
    left_b, top_b, right_b, bottom_b = b.box
    across = min(right, right_b) - max(left, left_b)
    down = min(bottom, bottom_b) - max(top, top_b)
    return across > slack and down > slack


def overlaps(marks: Iterable[MarkOnPage], slack: float = 0.1) -> list[tuple[str, str]]:
    """The texts of words and codes whose boxes share more than `slack` millimetres both ways, in pairs."""
    boxed = sorted((mark for mark in marks if isinstance(mark, Words | Square)), key=lambda mark: mark.box[1])
    found = []
    for index, first in enumerate(boxed):
        for second in boxed[index + 1 :]:
            if second.box[1] > first.box[3]:
                break
            if _meet(first, second, slack):
                found.append((first.text, second.text))
    return found


def outside(page: Page, margin: float) -> list[Words]:
    """Words that leave the page less its margin in millimetres."""
    limits = (margin - 0.01, margin - 0.01, page.width - margin + 0.01, page.height - margin + 0.01)
    return [mark for mark in page.marks if isinstance(mark, Words) and not _inside(mark.box, limits)]


def _inside(box: tuple[float, float, float, float], limits: tuple[float, float, float, float]) -> bool:
    inside_left = box[0] >= limits[0] and box[1] >= limits[1]
    return inside_left and box[2] <= limits[2] and box[3] <= limits[3]
