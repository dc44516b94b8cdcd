"""Rows under one another: how high blocks are, where they stand, and which page they come to.

Comes in: sheets of blocks and a paper. Goes out: pages of marks, and problems for what does not fit; no PDF
library is needed, so a check can find everything that drawing would.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import replace
from itertools import count

from sheetgen.printing import fonts, pictures, rows, tables, tags
from sheetgen.printing.blocks import (
    Block,
    Cells,
    Chart,
    Column,
    Columns,
    Frame,
    Group,
    Lanes,
    Line,
    Run,
    Sheet,
    Space,
    Text,
    Track,
)
from sheetgen.printing.desk import Area, Desk, elastic
from sheetgen.printing.edge import Edge
from sheetgen.printing.marks import Box, Page, Words, outside
from sheetgen.printing.paper import Paper
from sheetgen.printing.tags import Part, Tag
from sheetgen.problems import Problem, Problems
from sheetgen.records import record

A4_WIDTH, LEFT, RIGHT, PAPER_MARGIN, DEPTH = 210.0, 15.0, 195.0, 12.5, 1.5
LEAST_WIDTH = 205.0
_STEPS, _SLACK = 20, 0.005
Height = tuple[float, float | None, float | None]
"""A height in millimetres: as wished, the least and the most."""


@record
class Measured:
    """A block with all that its height depends on, found once: wrapped words, rows, and what it holds."""

    block: Block
    area: Area
    height: Height = (0.0, None, None)
    rows: int = 1
    more: float = 0.0
    inside: tuple[tuple[Measured, ...], ...] = ()

    def advance(self, stretch: float) -> float:
        """The height in millimetres that it takes at a stretch between -1 (least) and 1 (most)."""
        if self.inside:
            return max(together(part, stretch) for part in self.inside)
        return elastic(*self.height, stretch) * self.rows + self.more


def measured(blocks: Sequence[Block], area: Area) -> tuple[Measured, ...]:
    """Blocks under one another, measured in an area."""
    return tuple(_measured(block, area) for block in blocks)


def _measured(block: Block, area: Area) -> Measured:
    match block:
        case Line():
            return Measured(block, area, _height(block), more=rows.growth(block, area))
        case Space() | Chart():
            return Measured(block, area, _height(block))
        case Track():
            return Measured(block, area, _height(block), more=pictures.track_below(block))
        case Cells():
            height = (block.height, block.least, block.most)
            return Measured(block, area, height, rows=tables.row_count(block))
        case Columns():
            parts = tuple(measured(part.content, _column(part, area)) for part in block.content)
            return Measured(block, area, inside=parts)
        case Group() | Frame() | Lanes():
            return Measured(block, area, inside=(measured(block.content, area),))
    return Measured(block, area)


def _height(block: Line | Space | Chart | Track) -> Height:
    return block.h, block.least, block.most


def together(blocks: Sequence[Measured], stretch: float) -> float:
    """The height in millimetres of measured blocks under one another."""
    return sum(block.advance(stretch) for block in blocks)


def total(blocks: Sequence[Block], area: Area, stretch: float) -> float:
    """The same, of blocks that are measured for this one question."""
    return together(measured(blocks, area), stretch)


def _column(column: Column, area: Area) -> Area:
    return Area(area.x(column.at), area.x(column.to), area.shift)


def place(found: Measured, y: float, stretch: float, desk: Desk) -> float:
    """Put a block's marks from y down; returns the y after it."""
    block, area, after = found.block, found.area, y + found.advance(stretch)
    if isinstance(block, Lanes):
        pictures.backdrop(block, area, y, after, desk)
    for part in found.inside:
        place_all(part, y, stretch, desk)
    match block:
        case Line():
            height = elastic(*found.height, stretch)
            rows.place(block, area, y + height, height, desk)
        case Track():
            pictures.track(block, area, after - found.more, desk)
        case Chart():
            pictures.chart(block, area, y, after - y, desk)
        case Cells():
            tables.place(block, area, y, elastic(*found.height, stretch), desk)
        case Frame():
            x = area.x(block.at)
            desk.put(Box(x, y, area.x(block.to) - x, after - y, rows.FRAME_WEIGHTS[block.kind]))
        case Edge():
            desk.put(*block.marks(*desk.size))
    return after


def place_all(blocks: Sequence[Measured], y: float, stretch: float, desk: Desk) -> float:
    """Put blocks under one another from y down; returns the y after the last."""
    entries: Tag = ()  # the list at hand
    entry: Tag = ()  # and its last entry
    for found in blocks:
        if tags.is_listed(found.block):
            entries = entries or desk.new("L")
            with desk.at(entries):
                entry = desk.new("LI")
        elif not tags.goes_on(found.block):
            entries, entry = (), ()
        with desk.at(entry) if entry else _element(found.block, desk):
            y = place(found, y, stretch, desk)
    return y


def _element(block: Block, desk: Desk) -> AbstractContextManager[None]:
    role = tags.role(block)
    return desk.within(role) if role else nullcontext()


def solve(height: Callable[[float], float], room: float) -> float:
    """The stretch between -1 and 1 at which a height fills the room, or comes nearest to it."""
    if height(0.0) <= room:
        low, high = 0.0, 1.0
    else:
        low, high = -1.0, 0.0
    if height(high) <= room:
        return high
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if height(middle) <= room else (low, middle)
    return low


@record
class _Leaf:
    """What one page of a sheet will hold."""

    sheet: Sheet
    body: tuple[Measured, ...]
    first: bool
    room: float
    tag: Tag = ()


def sheet_area(paper: Paper) -> Area:
    """The strip between the text edges of a sheet, centred on papers of other widths than A4."""
    shift = (paper.width - A4_WIDTH) / 2
    return Area(LEFT + shift, RIGHT + shift, shift)


def _head(sheet: Sheet, first: bool) -> tuple[Block, ...]:
    rows_of_head = sheet.head.content if sheet.head else ()
    if first or not sheet.continued:
        return rows_of_head
    again = Line(h=6.0, size=10.5, content=(Text(content=(Run(sheet.continued),)),), span=sheet.span)
    return (*rows_of_head, again)


def _room(sheet: Sheet, paper: Paper, first: bool) -> float:
    """Height in millimetres between head and foot."""
    area = sheet_area(paper)
    head = total(_head(sheet, first), area, 0)
    foot = total(sheet.foot.content, area, 0) + sheet.gap if sheet.foot else DEPTH
    return paper.height - sheet.top - head - foot - sheet.bottom


def _parts(sheet: Sheet, paper: Paper, problems: Problems) -> list[_Leaf]:
    """The pages of one sheet."""
    room = _room(sheet, paper, first=True)
    body = measured(sheet.content, sheet_area(paper))
    over = together(body, -1) - room
    if over > _SLACK and sheet.overflow != "never":
        return _broken(sheet, body, paper, problems)
    if over > _SLACK:
        problems.add(_too_long(sheet, paper, over))
    return [_Leaf(sheet, body, True, room)]


def _too_long(sheet: Sheet, paper: Paper, over: float) -> Problem:
    found = f'the sheet "{sheet.title}" is {over:.1f} mm too long for one page of {paper.title}'
    fix = "it must not run on to a second page: shorten its words or print it with fewer rows"
    return Problem("stop", found, sheet.span, fix, (sheet.title,))


def _opened(body: Sequence[Measured], room: float) -> tuple[Measured, ...]:
    """The same blocks, where a group that no page holds is taken apart between its entries."""
    found: list[Measured] = []
    for part in body:
        found += _entries(part) if isinstance(part.block, Group) and part.advance(-1) > room else [part]
    return tuple(found)


def _entries(group: Measured) -> list[Measured]:
    """What a group holds, in pieces that stay whole: an entry with its rows, a heading with what follows."""
    pieces: list[list[Measured]] = [[]]
    for part in group.inside[0]:
        headed = pieces[-1] and all(_leads(one.block) for one in pieces[-1])
        if not headed and (tags.is_listed(part.block) or not tags.goes_on(part.block)):
            pieces.append([])
        pieces[-1].append(part)
    return [Measured(group.block, group.area, inside=(tuple(piece),)) for piece in pieces if piece]


def _leads(block: Block) -> bool:
    """Whether a block belongs to what is below it."""
    return isinstance(block, Space) or tags.is_heading(block)


_TIGHTER = (0.0, -0.5, -1.0)
"""How tightly a sheet of several pages is tried to be broken: as drawn, then down to the least heights."""


def _broken(sheet: Sheet, body: Sequence[Measured], paper: Paper, problems: Problems) -> list[_Leaf]:
    """The fewest pages, as loose as may be, so that no lonely line begins a page of its own."""
    body = _opened(body, _room(sheet, paper, first=False))
    for part in body:
        over = part.advance(-1) - _room(sheet, paper, first=part is body[0])
        if over > 0:
            problems.add(_too_long(sheet, paper, over))
    return min((_split(sheet, body, paper, share) for share in _TIGHTER), key=len)


def _split(sheet: Sheet, body: Sequence[Measured], paper: Paper, share: float) -> list[_Leaf]:
    """Pages broken between the outermost blocks at that stretch; white space at a break is dropped."""
    leaves, page, used = list[_Leaf](), list[Measured](), 0.0
    room = _room(sheet, paper, first=True)
    for part in body:
        needed = part.advance(share)
        if page and used + needed > room:
            leaves.append(_Leaf(sheet, tuple(page), not leaves, room))
            room, page, used = _room(sheet, paper, first=False), [], 0.0
        if not page and isinstance(part.block, Space) and leaves:
            continue
        page, used = [*page, part], used + needed
    return [*leaves, _Leaf(sheet, tuple(page), not leaves, room)]


def _page(leaf: _Leaf, paper: Paper, desk: Desk) -> Page:
    sheet, area = leaf.sheet, sheet_area(paper)
    top = _place_head(leaf, area, desk)
    stretch = solve(lambda share: together(leaf.body, share), leaf.room)
    with desk.at(leaf.tag):
        place_all(leaf.body, top, stretch, desk)
    if sheet.foot:
        foot = measured(sheet.foot.content, area)
        place_all(foot, paper.height - sheet.bottom - together(foot, 0), 0, desk)
    return Page(paper.width, paper.height, tuple(desk.marks), sheet.title if leaf.first else "")


def _place_head(leaf: _Leaf, area: Area, desk: Desk) -> float:
    """Put the head; its first row is the sheet's heading, and on further pages it is decoration."""
    head, y = measured(_head(leaf.sheet, leaf.first), area), leaf.sheet.top
    if not leaf.first or not head:
        return place_all(head, y, 0, desk)
    with desk.at(leaf.tag):
        with desk.within("H1"):
            y = place(head[0], y, 0, desk)
        return place_all(head[1:], y, 0, desk)


def pages(sheets: Sequence[Sheet], paper: Paper) -> tuple[tuple[Page, ...], Problems]:
    """All pages of some sheets on one paper, numbered through, and problems for what does not fit."""
    problems = Problems()
    if paper.width < LEAST_WIDTH:
        found = f"{paper.title} is {paper.width:g} mm wide; sheets need at least {LEAST_WIDTH:g} mm"
        problems.stop(found, fix="print on A4 or Letter")
        return (), problems
    leaves = [
        replace(leaf, tag=(Part("Sect", index),))
        for index, sheet in enumerate(sheets)
        for leaf in _parts(sheet, paper, problems)
    ]
    made, parts = [], count(len(sheets))
    for number, leaf in enumerate(leaves, start=1):
        size = (paper.width, paper.height)
        desk = Desk(problems, (leaf.sheet.title,), number, len(leaves), parts=parts, size=size)
        made.append(_page(leaf, paper, desk))
        check_characters(made[-1], leaf.sheet, problems, desk.path)
        if together(leaf.body, -1) <= leaf.room + _SLACK:  # else the stop is already said
            check_margin(made[-1], PAPER_MARGIN, leaf.sheet, problems, desk.path)
    return tuple(made), problems


def check_margin(page: Page, margin: float, block: Block, problems: Problems, path: tuple[str, ...]) -> None:
    """A stop for words nearer to the edge of a page or a label than its margin in millimetres."""
    for words in outside(page, margin):
        found = f'"{words.text}" reaches into the margin of {margin:g} mm'
        problems.stop(found, block.span, "shorten the words, or move them in the layout", path)


def check_characters(page: Page, block: Block, problems: Problems, path: tuple[str, ...] = ()) -> None:
    """A stop for every text with a character that no bundled face has."""
    for mark in page.marks:
        unknown = fonts.missing(mark.text) if isinstance(mark, Words) else []
        if unknown:
            named = ", ".join(f"{character!r} (U+{ord(character):04X})" for character in unknown)
            found = f'"{getattr(mark, "text", "")}" holds a character that cannot be printed: {named}'
            problems.stop(found, block.span, "write it with other characters", path)
