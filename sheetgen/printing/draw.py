"""Pages of marks to a PDF.

Comes in: pages and what is said about the document. Goes out: the bytes, the same for the same input in
every process, with embedded faces, language, title, bookmarks, page labels and, if wanted, one attached
file.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator, Sequence
from dataclasses import field, replace
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from sheetgen.printing import flow, fonts, labels
from sheetgen.printing.blocks import Sheet, Sticker
from sheetgen.printing.labels import Feed
from sheetgen.printing.marks import (
    Area,
    Box,
    Disc,
    Hatch,
    MarkOnPage,
    Page,
    Raster,
    Square,
    Stroke,
    Words,
    tag_of,
)
from sheetgen.printing.paper import Paper
from sheetgen.printing.stock import Stock
from sheetgen.printing.structure import Structure
from sheetgen.problems import Problems
from sheetgen.records import record

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS_PER_MM = 72 / 25.4
BLACK, WHITE, GREY, PALE = (0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (0.4, 0.4, 0.4), (0.93, 0.93, 0.93)
WATER = (20 / 255, 66 / 255, 84 / 255)
_FILLS = {"white": WHITE, "water": WATER, "pale": PALE}
_DOTS = (0.5, 1.7)
_TOUCHING = 0.2


@record
class Info:
    """What a PDF says about itself: title, language such as en-GB, subject, the day it was made, an attached
    file.
    """

    title: str
    language: str
    subject: str
    created: date
    attachment: tuple[str, bytes] | None = None


@record
class Document:
    """A PDF's bytes, the pages it was drawn from, and problems; without bytes if a problem stopped it."""

    pdf: bytes
    pages: tuple[Page, ...]
    problems: Problems = field(default_factory=Problems)


def sheets_pdf(sheets: Sequence[Sheet], paper: Paper, info: Info) -> Document:
    """The PDF of some sheets on a paper."""
    made, problems = flow.pages(sheets, paper)
    return _document(made, problems, info)


def labels_pdf(
    stickers: Sequence[Sticker], stock: Stock, paper: Paper, info: Info, feed: Feed | None = None
) -> Document:
    """The PDF of some labels on a stock; `feed` says where to start and how to correct the printer."""
    made, problems = labels.pages(stickers, stock, paper, feed or Feed())
    return _document(made, problems, info)


def _document(made: tuple[Page, ...], problems: Problems, info: Info) -> Document:
    trouble = fonts.trouble()
    if trouble is not None:
        problems.add(trouble)
    return Document(b"" if problems.stopped else pdf(made, info), made, problems)


def pdf(pages: Sequence[Page], info: Info) -> bytes:
    """The bytes of a PDF of these pages."""
    book = Book(info)
    for page in pages:
        book.add(page)
    return book.close()


class Book:
    """A PDF that grows page by page; of a page that was added only its drawing is kept, compressed."""

    def __init__(self, info: Info, tagged: bool = True) -> None:
        self._info, self._out, self.count = info, io.BytesIO(), 0
        self._canvas = _canvas(self._out, info)
        self._structure = Structure(self._canvas) if tagged else None

    def add(self, page: Page, chapter: str = "", level: int = 0) -> None:
        """A page; with `chapter` a bookmark above its own, which then stands at `level` 1."""
        if chapter:
            key = f"chapter-{self.count}"
            self._canvas.bookmarkPage(key)
            self._canvas.addOutlineEntry(chapter, key, level=0, closed=True)
        _page(self._canvas, page, self.count, self._structure, level)
        self.count += 1

    def close(self) -> bytes:
        """The bytes."""
        if self._structure is not None:
            self._structure.finish(self._info.title)
        if self._info.attachment is not None:
            _attach(self._canvas, *self._info.attachment)
        self._canvas.save()
        return self._out.getvalue()


def _canvas(out: io.BytesIO, info: Info) -> Canvas:
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0
    fonts.register()
    canvas = Canvas(
        out,
        invariant=1,
        initialFontName=fonts.REGULAR,  # type: ignore[arg-type]  # a name; the stubs want a number
        lang=info.language,
        pdfVersion=(1, 7),
        pageCompression=1,
    )
    _describe(canvas, info)
    for key, value in (("PrintScaling", "None"), ("DisplayDocTitle", "true")):
        canvas.setViewerPreference(key, value)
    canvas.addPageLabel(0, style="ARABIC", start=1)
    canvas.showOutline()
    return canvas


def _describe(canvas: Canvas, info: Info) -> None:
    """Title and dates; the file's identity comes from its content and its day only, never from the clock."""
    canvas.setTitle(info.title)
    canvas.setAuthor("")
    canvas.setSubject(info.subject)
    canvas.setCreator("sheetgen")
    canvas.setProducer("sheetgen")
    stamp = info.created.strftime("D:%Y%m%d000000+00'00'")
    canvas.setDateFormatter(lambda *_: stamp)
    _inner(canvas).signature = hashlib.md5(stamp.encode(), usedforsecurity=False)


def _inner(canvas: Canvas) -> Any:
    """The library's document; it has no public name for the seed of the identity or for attached files."""
    return canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001


def _page(canvas: Canvas, page: Page, number: int, structure: Structure | None, level: int = 0) -> None:
    canvas.setPageSize((page.width * POINTS_PER_MM, page.height * POINTS_PER_MM))
    if page.bookmark:
        key = f"page-{number}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(page.bookmark, key, level=level)
    pen = _Pen(canvas, page.height)
    if structure is None:
        for mark in page.marks:
            pen.draw(mark)
        canvas.showPage()
        return
    for mark in spaced(page.marks):
        structure.begin(tag_of(mark))
        pen.draw(mark)
    structure.end_page()
    canvas.showPage()
    structure.mark_page()


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


class _Pen:
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
        return x * POINTS_PER_MM, (self._height - y) * POINTS_PER_MM

    def _words(self, mark: Words) -> None:
        self._canvas.setFont(fonts.BOLD if mark.bold else fonts.REGULAR, mark.size)
        self._canvas.setFillColorRGB(*(GREY if mark.grey else BLACK))
        self._canvas.drawString(*self._at(mark.x, mark.y), mark.text)

    def _ink(self, weight: float, white: bool = False, grey: bool = False) -> None:
        self._canvas.setLineWidth(weight)
        self._canvas.setStrokeColorRGB(*(WHITE if white else GREY if grey else BLACK))

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
            self._canvas.setDash(*_DOTS)
        self._path(mark.points, stroke=1, fill=0)
        if mark.dots:
            self._canvas.setDash()

    def _box(self, mark: Box) -> None:
        self._ink(mark.weight)
        if mark.fill:
            self._canvas.setFillColorRGB(*_fill(mark.fill))
        x, y = self._at(mark.x, mark.y + mark.height)
        size = (mark.width * POINTS_PER_MM, mark.height * POINTS_PER_MM)
        shown = {"stroke": int(mark.weight > 0), "fill": int(bool(mark.fill))}
        if mark.radius:
            self._canvas.roundRect(x, y, *size, mark.radius * POINTS_PER_MM, **shown)
        else:
            self._canvas.rect(x, y, *size, **shown)

    def _hatch(self, mark: Hatch) -> None:
        """Lines up to the right through the rectangle, cut at its edges by arithmetic, not by clipping."""
        self._ink(0.5)
        lines = [(*self._at(*a), *self._at(*b)) for a, b in hatching(mark)]
        self._canvas.lines(lines)

    def _area(self, mark: Area) -> None:
        self._canvas.setFillColorRGB(*PALE)
        self._path(mark.points, stroke=0, fill=1)

    def _disc(self, mark: Disc) -> None:
        self._ink(mark.weight)
        self._canvas.circle(*self._at(mark.x, mark.y), mark.radius * POINTS_PER_MM)

    def _raster(self, mark: Raster) -> None:
        from reportlab.lib.utils import ImageReader

        size = (mark.width * POINTS_PER_MM, mark.height * POINTS_PER_MM)
        picture: Any = ImageReader(io.BytesIO(mark.data))
        self._canvas.drawImage(picture, *self._at(mark.x, mark.y + mark.height), *size)

    def _square(self, mark: Square) -> None:
        self._canvas.setFillColorRGB(*BLACK)
        rows = _modules(mark.text)
        step = mark.size / len(rows)
        for row, cells in enumerate(rows):
            for start, end in _runs(cells):
                x, y = self._at(mark.x + start * step, mark.y + (row + 1) * step)
                width, height = (end - start) * step * POINTS_PER_MM, step * POINTS_PER_MM
                self._canvas.rect(x, y, width, height, stroke=0, fill=1)


def _fill(name: str) -> tuple[float, float, float]:
    """Red, green and blue from 0 to 1, of a named fill or of #rrggbb."""
    if not name.startswith("#"):
        return _FILLS[name]
    red, green, blue = (int(name[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return red, green, blue


def hatching(mark: Hatch) -> list[tuple[tuple[float, float], tuple[float, float]]]:
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
def _modules(text: str) -> tuple[tuple[bool, ...], ...]:
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


def _attach(canvas: Canvas, name: str, data: bytes) -> None:
    """Put a file inside the PDF, compressed, as the document's source."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString, PDFZCompress

    document = _inner(canvas)
    stream = PDFStream(
        PDFDictionary({"Type": PDFName("EmbeddedFile"), "Subtype": "/application#2Fyaml"}), data
    )
    stream.filters = [PDFZCompress]
    held = document.Reference(stream)
    entry = {
        "Type": PDFName("Filespec"),
        "F": PDFString(name),
        "UF": PDFString(name),
        "AFRelationship": PDFName("Source"),
        "EF": PDFDictionary({"F": held, "UF": held}),
    }
    file = document.Reference(PDFDictionary(entry))
    names = PDFDictionary({"Names": PDFArray([PDFString(name), file])})
    canvas.setCatalogEntry("AF", PDFArray([file]))
    canvas.setCatalogEntry("Names", PDFDictionary({"EmbeddedFiles": names}))
