"""Labels on a stock: each one set once, then moved to its places on the sheets.

Comes in: stickers, a stock and its paper, and how the printer is fed. Goes out: pages of marks, and a stop
naming the label and the words for everything that does not fit. Places are true to the stock in
millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import hypot

from sheetgen.printing import flow
from sheetgen.printing.blocks import Sticker
from sheetgen.printing.desk import Area, Desk
from sheetgen.printing.marks import Area as Filled
from sheetgen.printing.marks import Box, Disc, Hatch, MarkOnPage, Page, Raster, Stroke, Words, tag_of, tagged
from sheetgen.printing.paper import Paper
from sheetgen.printing.stock import SAFE_MARGIN, Stock
from sheetgen.printing.tags import Part
from sheetgen.problems import Problem, Problems
from sheetgen.records import record

ROUND_MARGIN = 1.5
_WASTE, _BAR, _TEXT_LEFT, _HAIR, _CUT, _DEPTH, _SLACK = 8.0, 100.0, 15.0, 0.25, 5.0, 0.6, 0.005


Slot = tuple[MarkOnPage, ...]
"""The marks of one label."""


@record
class Feed:
    """How the printer is fed: first free label from 1, shift in millimetres, stretch as a factor both ways.

    `ruler` is said beside the bar of 100 mm, `advice` at the right ("print at actual size").
    """

    start_at: int = 1
    shift: tuple[float, float] = (0.0, 0.0)
    stretch: tuple[float, float] = (1.0, 1.0)
    ruler: str = "100 mm"
    advice: str = ""
    bookmark: str = ""


@record
class Run:
    """Labels one after the other, before they are put on sheets, and which sheets those are."""

    slots: tuple[Slot, ...]
    stock: Stock
    paper: Paper
    feed: Feed


def inner_size(stock: Stock, margin: float) -> tuple[float, float]:
    """Width and height in millimetres inside the margins of a label; of a disc, those of its middle strip."""
    return stock.width - 2 * margin, stock.height - 2 * margin


def pages(
    stickers: Sequence[Sticker], stock: Stock, paper: Paper, feed: Feed
) -> tuple[tuple[Page, ...], Problems]:
    """All sheets of labels, from the first free label on."""
    problems = Problems()
    if stock.edge_to_edge:
        problems.add(near_the_edge(stock))
    if not 1 <= feed.start_at <= stock.count:
        problems.stop(f"the first free label must be from 1 to {stock.count}, not {feed.start_at}")
        return (), problems
    return sheets(slots(stickers, stock, problems), stock, paper, feed), problems


def near_the_edge(stock: Stock) -> Problem:
    """What home printers do to labels that reach the paper's edge."""
    lost = f"{stock.title}: labels reach the paper's edge; most home printers cut off 3 to 5 mm there"
    return Problem("warn", lost)


def slots(stickers: Sequence[Sticker], stock: Stock, problems: Problems) -> list[Slot]:
    """The marks of every label, one after the other, each measured from its own upper left corner."""
    return [marks for sticker in stickers for marks in _copies(sticker, stock, problems)]


def sheets(made: Sequence[Slot], stock: Stock, paper: Paper, feed: Feed) -> tuple[Page, ...]:
    """Labels on their sheets, from the first free one on."""
    used: list[Slot] = [()] * (feed.start_at - 1)
    every = [*used, *made]
    firsts = range(0, len(every), stock.count)
    return tuple(sheet(every[first : first + stock.count], stock, paper, feed, first) for first in firsts)


def _copies(sticker: Sticker, stock: Stock, problems: Problems) -> Iterator[tuple[MarkOnPage, ...]]:
    marks = label_marks(sticker, stock, problems)
    return (marks for _ in range(sticker.copies))


def label_marks(sticker: Sticker, stock: Stock, problems: Problems) -> tuple[MarkOnPage, ...]:
    """The marks of one label, measured from its own upper left corner."""
    margin = max(sticker.margin, ROUND_MARGIN if stock.round else SAFE_MARGIN)
    width, room = inner_size(stock, margin)
    room -= _DEPTH
    area, desk = Area(margin, margin + width, margin), Desk(problems, (sticker.name,), tag=(Part("Sect", 0),))
    body = flow.measured(sticker.content, area)
    needed = flow.together(body, -1)
    if needed > room + _SLACK:
        found = f"{sticker.name}: its rows are {needed - room:.1f} mm too high for a label of {stock.title}"
        problems.stop(
            found, sticker.span, "choose a larger stock, or fewer rows for this one", (sticker.name,)
        )
    stretch = flow.solve(lambda share: flow.together(body, share), room)
    spare = room - flow.together(body, stretch)
    flow.place_all(body, margin + (spare / 2 if sticker.place == "middle" else 0), stretch, desk)
    if sticker.hole:
        desk.put(Disc(margin + sticker.hole / 2, stock.height / 2, sticker.hole / 2, _HAIR))
    made = Page(stock.width, stock.height, tuple(desk.marks))
    flow.check_characters(made, sticker, problems, (sticker.name,))
    if stock.round:
        _check_disc(made, sticker, problems)
    elif needed <= room + _SLACK:
        flow.check_margin(made, SAFE_MARGIN, sticker, problems, (sticker.name,))
    return made.marks


def _check_disc(page: Page, sticker: Sticker, problems: Problems) -> None:
    """A stop for words that leave the disc."""
    radius = page.width / 2
    for mark in (mark for mark in page.marks if isinstance(mark, Words)):
        left, top, right, bottom = mark.x, mark.box[1], mark.x + mark.width, mark.y
        far = max(hypot(x - radius, y - radius) for x in (left, right) for y in (top, bottom))
        if far > radius - 0.8:
            found = f'{sticker.name}: "{mark.text}" leaves the disc by {far - radius + 0.8:.1f} mm'
            problems.stop(found, sticker.span, "use a smaller size or shorter words", (sticker.name,))


def sheet(slots: Sequence[Slot], stock: Stock, paper: Paper, feed: Feed, first: int) -> Page:
    """A sheet of labels, the first of them numbered `first`."""
    marks: list[MarkOnPage] = []
    for number, ((x, y), slot) in enumerate(zip(stock.corners(), slots, strict=False), start=first):
        marks += [_in_slot(moved(mark, x, y), number) for mark in slot]
        if stock.cut == "outline" and slot:
            marks.append(_outline(stock, x, y))
    if stock.cut == "marks":
        marks += _cut_marks(stock)
    marks += _ruler(stock, paper, feed)
    corrected = tuple(_corrected(mark, feed) for mark in marks)
    return Page(paper.width, paper.height, corrected, "" if first else feed.bookmark)


def _in_slot(mark: MarkOnPage, number: int) -> MarkOnPage:
    """A mark as a part of its own label, not of the one that was set for all copies."""
    tag = tag_of(mark)
    return tagged(mark, (Part("Sect", number), *tag[1:])) if tag else mark


def _outline(stock: Stock, x: float, y: float) -> MarkOnPage:
    if stock.round:
        return Disc(x + stock.width / 2, y + stock.height / 2, stock.width / 2, _HAIR)
    return Box(x, y, stock.width, stock.height, _HAIR, radius=stock.corner)


def _cut_marks(stock: Stock) -> list[MarkOnPage]:
    """Short lines outside the labels, where scissors or a guillotine go."""
    columns = [stock.left + index * stock.across for index in range(stock.columns)]
    rows = [stock.top + index * stock.down for index in range(stock.rows)]
    xs = sorted({round(edge, 3) for x in columns for edge in (x, x + stock.width)})
    ys = sorted({round(edge, 3) for y in rows for edge in (y, y + stock.height)})
    marks: list[MarkOnPage] = []
    for x in xs:
        marks += [_line(x, end, x, end + way * _CUT) for end, way in ((ys[0] - 1, -1), (ys[-1] + 1, 1))]
    for y in ys:
        marks += [_line(end, y, end + way * _CUT, y) for end, way in ((xs[0] - 1, -1), (xs[-1] + 1, 1))]
    return marks


def _line(x: float, y: float, x_end: float, y_end: float, weight: float = 0.5) -> Stroke:
    return Stroke(((x, y), (x_end, y_end)), weight)


def _waste(stock: Stock, paper: Paper) -> float | None:
    """The y of a bar of 100 mm in the margin above or below the labels; None if there is no room."""
    below = stock.top + (stock.rows - 1) * stock.down + stock.height
    extra = _CUT + 2 if stock.cut == "marks" else 0.0
    if stock.top - extra >= _WASTE + SAFE_MARGIN:
        return (stock.top - extra) - 4.0
    if paper.height - below - extra >= _WASTE + SAFE_MARGIN:
        return below + extra + 4.0
    return None


def _ruler(stock: Stock, paper: Paper, feed: Feed) -> list[MarkOnPage]:
    y = _waste(stock, paper)
    if y is None:
        return []
    left, right = _TEXT_LEFT, _TEXT_LEFT + _BAR
    desk = Desk(Problems())
    desk.put(_line(left, y, right, y, 0.8))
    desk.put(*(_line(x, y - 1.6, x, y + 1.6, 0.8) for x in (left, right)))
    desk.words(left + 2, y - 1.2, feed.ruler, 8.0)
    if feed.advice:
        desk.right_words(paper.width - _TEXT_LEFT, y, feed.advice, 8.0)
    return desk.marks


def moved(mark: MarkOnPage, x: float, y: float) -> MarkOnPage:
    """A mark moved by x and y millimetres."""
    if isinstance(mark, Stroke | Filled):
        return replace(mark, points=tuple((a + x, b + y) for a, b in mark.points))
    return replace(mark, x=mark.x + x, y=mark.y + y)


def _corrected(mark: MarkOnPage, feed: Feed) -> MarkOnPage:
    """A mark where this printer must be told to put it."""
    (across, down), (x, y) = feed.stretch, feed.shift
    if (across, down, x, y) == (1.0, 1.0, 0.0, 0.0):
        return mark
    if isinstance(mark, Stroke | Filled):
        return replace(mark, points=tuple((a * across + x, b * down + y) for a, b in mark.points))
    placed = replace(mark, x=mark.x * across + x, y=mark.y * down + y)
    if isinstance(placed, Box | Hatch | Raster):
        return replace(placed, width=placed.width * across, height=placed.height * down)
    return placed
