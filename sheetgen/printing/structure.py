"""The structure of a PDF for people who hear it: marks bracketed by the element that they belong to.

Comes in: a canvas, and the tag of each mark as it is drawn. Goes out: operators round the marks, and the tree
of elements in the catalogue, as the PDF standard (ISO 32000-1, 14.7 and 14.8) has them.  The library draws
untagged pages only; what is written here are three operators on the page and three kinds of dictionaries.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from sheetgen.printing.tags import Part, Tag

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_DECORATION = "/Artifact BMC"


@dataclass
class _Element:
    """One element of the tree: what it is, and in reading order its elements and pieces (page, number)."""

    part: Part
    inside: list[_Element | tuple[int, int]] = field(default_factory=list)
    known: dict[Part, _Element] = field(default_factory=dict)


class Structure:
    """Brackets the marks of a document and remembers their tree."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas: Any = canvas
        self._root = _Element(Part("Document", 0))
        self._pages: list[Any] = []
        self._pieces: list[list[_Element]] = [[]]
        self._open: Tag | None = None

    def begin(self, tag: Tag) -> None:
        """What is drawn from now on belongs to that element; () is decoration."""
        if tag == self._open:
            return
        self.end()
        self._open = tag
        code = self._canvas._code  # noqa: SLF001  # the library has no name for an operator of its own
        if not tag:
            code.append(_DECORATION)
            return
        element, pieces = self._element(tag), self._pieces[-1]
        element.inside.append((len(self._pages), len(pieces)))
        code.append(f"/{tag[-1].role} <</MCID {len(pieces)}>> BDC")
        pieces.append(element)

    def end(self) -> None:
        """Close the bracket that is open."""
        if self._open is not None:
            self._canvas._code.append("EMC")  # noqa: SLF001
            self._open = None

    def end_page(self) -> None:
        """Close the page's last bracket, before the library finishes the page."""
        self.end()

    def mark_page(self) -> None:
        """Number the page that the library has just finished, so that its pieces are found."""
        page = self._canvas._doc.Pages.pages[-1]  # noqa: SLF001
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = len(self._pages), "/S"
        self._pages.append(page)
        self._pieces.append([])

    def _element(self, tag: Tag) -> _Element:
        """The element at the end of a way, made where it is not there yet."""
        element = self._root
        for part in tag:
            if part not in element.known:
                element.known[part] = _Element(part)
                element.inside.append(element.known[part])
            element = element.known[part]
        return element

    def finish(self, title: str) -> None:
        """Write the tree and say in the catalogue that the document has one."""
        from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFString

        document = self._canvas._doc  # noqa: SLF001
        root = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        held = document.Reference(root)
        references: dict[int, Any] = {}

        def written(element: _Element, parent: Any) -> Any:
            entry = PDFDictionary({"S": PDFName(element.part.role), "P": parent})
            reference = references[id(element)] = document.Reference(entry)
            if element.part.says:
                entry.dict["Alt"] = PDFString(element.part.says)
            pages = [item[0] for item in element.inside if isinstance(item, tuple)]
            if pages:  # the page of its pieces stands once, those pieces are then mere numbers
                entry.dict["Pg"] = document.Reference(self._pages[pages[0]])
            kids = [self._kid(item, written, reference, pages[:1]) for item in element.inside]
            entry.dict["K"] = kids[0] if len(kids) == 1 else PDFArray(kids)
            return reference

        self._root.part = Part("Document", 0, title)
        root.dict["K"] = PDFArray([written(self._root, held)])
        numbers: list[Any] = []
        for number, pieces in enumerate(self._pieces[: len(self._pages)]):
            ways = PDFArray([references[id(element)] for element in pieces])
            numbers += [number, document.Reference(ways)]
        root.dict["ParentTree"] = document.Reference(PDFDictionary({"Nums": PDFArray(numbers)}))
        root.dict["ParentTreeNextKey"] = len(self._pages)
        self._canvas.setCatalogEntry("StructTreeRoot", root)
        self._canvas.setCatalogEntry("MarkInfo", PDFDictionary({"Marked": "true"}))

    def _kid(self, item: _Element | tuple[int, int], written: Any, parent: Any, home: list[int]) -> Any:
        """An element's reference, or a piece: a number on the element's own page, else with its page."""
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName

        if isinstance(item, _Element):
            return written(item, parent)
        page, number = item
        if [page] == home:
            return number
        reference = self._canvas._doc.Reference(self._pages[page])  # noqa: SLF001
        return PDFDictionary({"Type": PDFName("MCR"), "Pg": reference, "MCID": number})
