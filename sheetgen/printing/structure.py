"""The structure of a PDF for people who hear it: the tree of the elements that bracketed pieces belong to.

Comes in: page by page the tag of each piece, as it was drawn. Goes out: the tree in the catalogue, as the PDF
standard (ISO 32000-1, 14.7 and 14.8) has it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from sheetgen.printing.pdf_file import PdfFile, text
from sheetgen.printing.tags import Part, Tag


@dataclass
class _Element:
    """One element of the tree: what it is, its number in the file, and in reading order its elements and
    pieces (page, number).
    """

    part: Part
    number: int
    inside: list[_Element | tuple[int, int]] = field(default_factory=list)
    known: dict[Part, _Element] = field(default_factory=dict)


class Structure:
    """Remembers the tree of a document."""

    def __init__(self, file: PdfFile) -> None:
        self._file, self._root, self._top = file, file.new(), _Element(Part("Document", 0), file.new())
        self._pages: list[str] = []

    def page(self, number: int, pieces: Sequence[Tag]) -> str:
        """The pieces of a page, by the page's number in the file; what the page says of them."""
        place, ways = len(self._pages), []
        for index, tag in enumerate(pieces):
            element = self._element(tag)
            element.inside.append((number, index))
            ways.append(f"{element.number} 0 R")
        self._pages.append(" ".join(ways))
        return f"/StructParents {place}/Tabs/S"

    def _element(self, tag: Tag) -> _Element:
        """The element at the end of a way, made where it is not there yet."""
        element = self._top
        for part in tag:
            found = element.known.get(part)
            if found is None:
                found = element.known[part] = _Element(part, self._file.new())
                element.inside.append(found)
            element = found
        return element

    def finish(self, title: str) -> str:
        """Write the tree; what the catalogue says of it."""
        self._write(self._top, self._root, title)
        ways = " ".join(f"{place} [{elements}]" for place, elements in enumerate(self._pages))
        tree = f"/ParentTree<</Nums[{ways}]>>/ParentTreeNextKey {len(self._pages)}"
        self._file.put(self._root, f"<</Type/StructTreeRoot/K[{self._top.number} 0 R]{tree}>>")
        return f"/StructTreeRoot {self._root} 0 R/MarkInfo<</Marked true>>"

    def _write(self, element: _Element, parent: int, says: str) -> None:
        home = next((item[0] for item in element.inside if isinstance(item, tuple)), 0)
        kids = []
        for item in element.inside:
            if isinstance(item, _Element):
                self._write(item, element.number, item.part.says)
                kids.append(f"{item.number} 0 R")
            else:
                kids.append(_piece(*item, home))
        inside = kids[0] if len(kids) == 1 else f"[{' '.join(kids)}]"
        said = f"/Alt {text(says)}" if says else ""
        page = f"/Pg {home} 0 R" if home else ""
        self._file.put(element.number, f"<</S/{element.part.role}/P {parent} 0 R{page}{said}/K {inside}>>")


def _piece(page: int, number: int, home: int) -> str:
    """A piece: a number on the element's own page, else with its page."""
    return str(number) if page == home else f"<</Type/MCR/Pg {page} 0 R/MCID {number}>>"
