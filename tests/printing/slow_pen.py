"""Marks drawn the slow way, one call of a library after the other: what fast drawing is held against."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from itertools import groupby
from typing import Any

from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from sheetgen.printing import fonts, ink
from sheetgen.printing.fonts import BOLD, REGULAR
from sheetgen.printing.marks import Area, Box, Disc, Hatch, MarkOnPage, Page, Raster, Square, Stroke, Words


@cache
def register() -> None:
    """Make the faces known to the library, once per process."""
    for name, file in fonts.FILES.items():
        registerFont(TTFont(name, str(fonts.folder() / file), asciiReadable=0))


def pdf(pages: Sequence[Page]) -> bytes:
    """The same pages as `draw.pdf` makes, without anything but what is seen on them."""
    register()
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1, initialFontName=REGULAR)
    for page in pages:
        canvas.setPageSize((page.width * ink.POINTS_PER_MM, page.height * ink.POINTS_PER_MM))
        pen = SlowPen(canvas, page.height)
        for mark in page.marks:
            pen.draw(mark)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def runs(cells: Sequence[bool]) -> list[tuple[int, int]]:
    """Start and end of every run of dark modules."""
    found = []
    for dark, group in groupby(range(len(cells)), cells.__getitem__):
        held = list(group)
        found += [(held[0], held[-1] + 1)] if dark else []
    return found


class SlowPen:
    """Draws marks on the page at hand."""

    def __init__(self, canvas: Canvas, height: float) -> None:
        self._canvas = canvas
        self._height = height
        canvas.setLineCap(0)
        canvas.setLineJoin(0)

    def draw(self, mark: MarkOnPage) -> None:
        """One mark, in its own colours."""
        match mark:
            case Words():
                self._words(mark)
            case Stroke():
                self._stroke(mark)
            case Box():
                self._box(mark)
            case Hatch():
                self._hatch(mark)
            case Area():
                self._area(mark)
            case Disc():
                self._disc(mark)
            case Square():
                self._square(mark)
            case Raster():
                self._raster(mark)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return x * ink.POINTS_PER_MM, (self._height - y) * ink.POINTS_PER_MM

    def _words(self, mark: Words) -> None:
        self._canvas.setFont(BOLD if mark.bold else REGULAR, mark.size)
        self._canvas.setFillColorRGB(*(ink.GREY if mark.grey else ink.BLACK))
        self._canvas.drawString(*self._at(mark.x, mark.y), mark.text)

    def _ink(self, weight: float, white: bool = False, grey: bool = False) -> None:
        self._canvas.setLineWidth(weight)
        self._canvas.setStrokeColorRGB(*(ink.WHITE if white else ink.GREY if grey else ink.BLACK))

    def _path(self, points: Sequence[tuple[float, float]], stroke: int, fill: int) -> None:
        path = self._canvas.beginPath()
        path.moveTo(*self._at(*points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(*point))
        if fill:
            path.close()
        self._canvas.drawPath(path, stroke=stroke, fill=fill)

    def _stroke(self, mark: Stroke) -> None:
        self._ink(mark.weight, mark.white, mark.grey)
        if mark.dots:
            self._canvas.setDash(*ink.DOTS)
        self._path(mark.points, stroke=1, fill=0)
        if mark.dots:
            self._canvas.setDash()

    def _box(self, mark: Box) -> None:
        self._ink(mark.weight)
        if mark.fill:
            self._canvas.setFillColorRGB(*ink.fill_of(mark.fill))
        x, y = self._at(mark.x, mark.y + mark.height)
        size = (mark.width * ink.POINTS_PER_MM, mark.height * ink.POINTS_PER_MM)
        shown = {"stroke": int(mark.weight > 0), "fill": int(bool(mark.fill))}
        if mark.radius:
            self._canvas.roundRect(x, y, *size, mark.radius * ink.POINTS_PER_MM, **shown)
        else:
            self._canvas.rect(x, y, *size, **shown)

    def _hatch(self, mark: Hatch) -> None:
        """Lines up to the right through the rectangle, cut at its edges by arithmetic, not by clipping."""
        self._ink(0.5)
        lines = [(*self._at(*a), *self._at(*b)) for a, b in ink.hatching(mark)]
        self._canvas.lines(lines)

    def _area(self, mark: Area) -> None:
        self._canvas.setFillColorRGB(*ink.PALE)
        self._path(mark.points, stroke=0, fill=1)

    def _disc(self, mark: Disc) -> None:
        self._ink(mark.weight)
        self._canvas.circle(*self._at(mark.x, mark.y), mark.radius * ink.POINTS_PER_MM)

    def _raster(self, mark: Raster) -> None:
        from reportlab.lib.utils import ImageReader

        size = (mark.width * ink.POINTS_PER_MM, mark.height * ink.POINTS_PER_MM)
        picture: Any = ImageReader(io.BytesIO(mark.data))
        self._canvas.drawImage(picture, *self._at(mark.x, mark.y + mark.height), *size)

    def _square(self, mark: Square) -> None:
        self._canvas.setFillColorRGB(*ink.BLACK)
        rows = ink.modules(mark.text)
        step = mark.size / len(rows)
        for row, cells in enumerate(rows):
            for start, end in runs(cells):
                x, y = self._at(mark.x + start * step, mark.y + (row + 1) * step)
                width, height = (end - start) * step * ink.POINTS_PER_MM, step * ink.POINTS_PER_MM
                self._canvas.rect(x, y, width, height, stroke=0, fill=1)
