"""Pages to a PDF.

Comes in: pages and what is said about the document. Goes out: the bytes, the same for the same input in
every process, with embedded faces, language, title, bookmarks, page labels and, if wanted, one attached
file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field
from datetime import date

from sheetgen.printing import faces, flow, fonts, labels, picture
from sheetgen.printing.blocks import Sheet, Sticker
from sheetgen.printing.ink import POINTS_PER_MM, Inked, inked
from sheetgen.printing.labels import Feed
from sheetgen.printing.marks import Page
from sheetgen.printing.paper import Paper
from sheetgen.printing.pdf_file import PdfFile, text
from sheetgen.printing.stock import Stock
from sheetgen.printing.structure import Structure
from sheetgen.problems import Problems
from sheetgen.records import record

_NON_SYMBOLIC = 32
_UPRIGHT_STEM = {fonts.REGULAR: 80, fonts.BOLD: 140}
_RISE, _FALL = 1069, -293


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


def pdf(pages: Sequence[Page | Inked], info: Info) -> bytes:
    """The bytes of a PDF of these pages."""
    book = Book(info)
    for page in pages:
        book.add(page)
    return book.close()


class Book:
    """A PDF that grows page by page; of a page that was added only its drawing is kept, compressed.

    A page that comes again, the same object, is drawn once and shown as often as it comes.
    """

    def __init__(self, info: Info, tagged: bool = True) -> None:
        self._info, self._file, self._tagged = info, PdfFile(), tagged
        self._pages: list[int] = []
        self._tree, self._resources = self._file.new(), self._file.new()
        self._characters: tuple[set[str], set[str]] = (set(), set())
        self._pictures: dict[str, int] = {}
        self._bookmarks: list[tuple[int, str, int]] = []
        self._structure = Structure(self._file) if tagged else None
        self._last: tuple[Page | Inked | None, Inked | None, int] = (None, None, 0)

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    def add(self, page: Page | Inked, chapter: str = "", level: int = 0) -> None:
        """A page; with `chapter` a bookmark above its own, which then stands at `level` 1."""
        drawn, content = self._drawn(page)
        number = self._file.new()
        size = f"{drawn.width * POINTS_PER_MM:.4f} {drawn.height * POINTS_PER_MM:.4f}"
        where = f"/Parent {self._tree} 0 R/MediaBox[0 0 {size}]/Resources {self._resources} 0 R"
        marked = self._structure.page(number, drawn.pieces) if self._structure else ""
        self._file.put(number, f"<</Type/Page{where}/Contents {content} 0 R{marked}>>")
        if chapter:
            self._bookmarks.append((0, chapter, number))
        if drawn.bookmark:
            self._bookmarks.append((level, drawn.bookmark, number))
        self._pages.append(number)

    def _drawn(self, page: Page | Inked) -> tuple[Inked, int]:
        """A page's drawing, and the number of its operators in the file."""
        known, drawn, content = self._last
        if page is known and drawn is not None:
            return drawn, content
        drawn = inked(page, self._tagged) if isinstance(page, Page) else page
        for held, used in zip(self._characters, drawn.characters, strict=True):
            held.update(used)
        for name, data in drawn.pictures:
            if name not in self._pictures:
                self._pictures[name] = _picture(self._file, data)
        content = self._file.stream(drawn.content, packed=True)
        self._last = (page, drawn, content)
        return drawn, content

    def close(self) -> bytes:
        """The bytes."""
        file, info = self._file, self._info
        file.put(self._resources, f"<<{self._faces()}{self._shown()}>>")
        kids = " ".join(f"{number} 0 R" for number in self._pages)
        file.put(self._tree, f"<</Type/Pages/Count {len(self._pages)}/Kids[{kids}]>>")
        entries = [
            f"/Type/Catalog/Pages {self._tree} 0 R/Lang {text(info.language)}",
            "/ViewerPreferences<</PrintScaling/None/DisplayDocTitle true>>/PageMode/UseOutlines",
            "/PageLabels<</Nums[0<</S/D/St 1>>]>>",
            _outline(file, self._bookmarks),
            self._structure.finish(info.title) if self._structure else "",
            _attached(file, *info.attachment) if info.attachment else "",
        ]
        root = file.add(f"<<{''.join(entries)}>>")
        stamp = info.created.strftime("D:%Y%m%d000000+00'00'")
        about = f"/Title {text(info.title)}/Author ()/Subject {text(info.subject)}/Creator (sheetgen)"
        dates = f"/CreationDate ({stamp})/ModDate ({stamp})"
        return file.finish(root, file.add(f"<<{about}/Producer (sheetgen){dates}>>"), stamp)

    def _faces(self) -> str:
        used = zip((fonts.REGULAR, fonts.BOLD), self._characters, strict=True)
        held = [
            f"/F{number} {_face(self._file, name, ''.join(sorted(characters)))} 0 R"
            for number, (name, characters) in enumerate(used)
            if characters
        ]
        return f"/Font<<{''.join(held)}>>"

    def _shown(self) -> str:
        held = "".join(f"/{name} {number} 0 R" for name, number in self._pictures.items())
        return f"/XObject<<{held}>>" if held else ""


def _face(file: PdfFile, name: str, characters: str) -> int:
    """A face with the characters that are used; the number of its entry."""
    cut = faces.subset(name, characters)
    data = file.stream(cut.file, f"/Length1 {len(cut.file)}")
    heights = f"/Ascent {_RISE}/Descent {_FALL}/CapHeight {fonts.CAP_HEIGHT * 1000:.0f}"
    box = f"/FontBBox[{' '.join(map(str, cut.box))}]/ItalicAngle 0/StemV {_UPRIGHT_STEM[name]}"
    flags = f"/Flags {_NON_SYMBOLIC}/FontFile2 {data} 0 R"
    about = file.add(f"<</Type/FontDescriptor/FontName/{cut.name}{heights}{box}{flags}>>")
    places = file.stream(cut.places)
    system = "/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>"
    widths = f"/DW 600/W[{faces.widths_entry(cut.widths)}]/CIDToGIDMap {places} 0 R"
    inner = f"/Type/Font/Subtype/CIDFontType2/BaseFont/{cut.name}{system}/FontDescriptor {about} 0 R{widths}"
    letters = file.stream(faces.to_unicode(cut.widths))
    kind = f"/Type/Font/Subtype/Type0/BaseFont/{cut.name}/Encoding/Identity-H"
    return file.add(f"<<{kind}/DescendantFonts[{file.add(f'<<{inner}>>')} 0 R]/ToUnicode {letters} 0 R>>")


def _picture(file: PdfFile, data: bytes) -> int:
    """A picture, which is grey or in colours; the number of its entry."""
    width, height, grey, pixels = picture.pixels(data)
    kind = f"/ColorSpace/{'DeviceGray' if grey else 'DeviceRGB'}/BitsPerComponent 8"
    return file.stream(pixels, f"/Type/XObject/Subtype/Image/Width {width}/Height {height}{kind}")


def _outline(file: PdfFile, bookmarks: Sequence[tuple[int, str, int]]) -> str:
    """The tree of bookmarks (level 0 or 1, title, page), those below others folded away; its entry."""
    if not bookmarks:
        return ""
    root, above = file.new(), 0
    inside: dict[int, list[tuple[int, str, int]]] = {root: []}
    for level, title, page in bookmarks:
        number = file.new()
        parent = above if level and above else root
        inside.setdefault(parent, []).append((number, title, page))
        above = number if parent == root else above
    for parent, items in inside.items():
        for index, (number, title, page) in enumerate(items):
            near = f"/Prev {items[index - 1][0]} 0 R" if index else ""
            near += f"/Next {items[index + 1][0]} 0 R" if index + 1 < len(items) else ""
            below = _ends(inside[number], -1) if number in inside else ""
            place = f"/Title {text(title)}/Parent {parent} 0 R/Dest[{page} 0 R/Fit]"
            file.put(number, f"<<{place}{near}{below}>>")
    file.put(root, f"<</Type/Outlines{_ends(inside[root], 1)}>>")
    return f"/Outlines {root} 0 R"


def _ends(items: Sequence[tuple[int, str, int]], sign: int) -> str:
    return f"/First {items[0][0]} 0 R/Last {items[-1][0]} 0 R/Count {sign * len(items)}"


def _attached(file: PdfFile, name: str, data: bytes) -> str:
    """A file inside the PDF, as the document's source; its entries in the catalogue."""
    held = file.stream(data, f"/Type/EmbeddedFile/Subtype/application#2Fyaml/Params<</Size {len(data)}>>")
    shown = text(name)
    about = f"/Type/Filespec/F {shown}/UF {shown}/AFRelationship/Source/EF<</F {held} 0 R/UF {held} 0 R>>"
    entry = file.add(f"<<{about}>>")
    return f"/AF[{entry} 0 R]/Names<</EmbeddedFiles<</Names[{shown} {entry} 0 R]>>>>"
