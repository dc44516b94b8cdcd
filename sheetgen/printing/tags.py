"""What a mark is to somebody who hears the page instead of seeing it: paragraph, heading, row of a list.

Comes in: blocks. Goes out: tags, paths from the document down to the element that a mark belongs to, such as
document, section, list, row, words.  A mark without a tag is decoration: rules, frames, hatching, the foot.
"""

from __future__ import annotations

from sheetgen.printing.blocks import Block, Cell, Chart, Line, Space, Text, Tick, Track
from sheetgen.records import record


@record
class Part:
    """One element of the structure: its standard name in PDF, its number, what is said in its place."""

    role: str
    number: int
    says: str = ""


Tag = tuple[Part, ...]
"""The way down to an element; () is decoration."""
TICKED, UNTICKED = "\N{BALLOT BOX WITH CHECK}", "\N{BALLOT BOX}"


def is_listed(block: Block) -> bool:
    """Whether a row begins an entry of a list: it has a box to tick."""
    return isinstance(block, Line) and any(isinstance(item, Tick) for item in block.content)


def goes_on(block: Block) -> bool:
    """Whether a row goes on with the entry above it."""
    return isinstance(block, Line) and not is_heading(block)


def ticked(item: Tick) -> str:
    """What is said in place of a box."""
    return TICKED if item.state in ("done", "check") else UNTICKED


def is_heading(block: Block) -> bool:
    """Whether a row is a heading: nothing but texts, all of them in bold weight."""
    if not isinstance(block, Line) or not block.content:
        return False
    return all(
        isinstance(item, Text) and item.content and (item.weight or block.weight) == "bold"
        for item in block.content
    )


def of_cell(cell: Cell) -> str:
    """A cell's part of its table: a heading if all its rows are."""
    rows = [block for block in cell.content if not isinstance(block, Space)]
    return "TH" if rows and all(is_heading(row) for row in rows) else "TD"


def role(block: Block) -> str:
    """The element that a row or a picture becomes where no list holds it; "" for what holds others."""
    if isinstance(block, Track | Chart):
        return "P"
    return ("H2" if is_heading(block) else "P") if isinstance(block, Line) else ""
