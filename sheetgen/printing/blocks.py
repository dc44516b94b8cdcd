"""The tree that drawing knows: one frozen class per element of the layout vocabulary.

Comes in: nothing. Goes out: the block classes. Each field that a layout may write carries its kind and its
help as metadata, so that the markup reader, the reference and these classes can never disagree. Lengths are
millimetres, type sizes points, `x` places a column's name, millimetres from the left edge of A4 (other
papers shift them to keep the sheet centred), or a percentage of the text width.
"""

from __future__ import annotations

from dataclasses import field

from sheetgen.printing.attributes import ALIGNS, BARS, FRAMES, MARKS, TONES, WEIGHTS, of
from sheetgen.problems import Span
from sheetgen.records import named_record, record

PAGE, PAGES = "\ue000", "\ue001"
"""Stand for the page's number and the number of pages inside any text; drawing puts the numbers in."""


@named_record
class Block:
    """Any element; `span` is its place in the layout file."""

    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Run:
    """Words of one voice inside a text; None inherits from the text around."""

    words: str
    bold: bool | None = None
    strike: bool = False


# --- what stands in a line --------------------------------------------------------------------------------


@named_record
class Item(Block):
    """Something that stands in a line, on the line's baseline."""


@named_record
class Text(Item):
    """Words; they wrap into even lines inside their width, and the line grows."""

    at: float | str = of("x", "left", "left edge; right edge or middle if so aligned")
    to: float | str | None = of("x", None, "limit; default: the next item, or the edge")
    width: float | None = of("mm", None, "instead of `to`")
    size: float | None = of("size", None, "default: the line's")
    weight: str | None = of("choice", None, "default: the line's", *WEIGHTS)
    tone: str | None = of("choice", None, "default: the line's", *TONES)
    align: str = of("choice", "left", "which edge `at` is", *ALIGNS)
    strike: bool = of("yes-no", False, "struck through: what moved")
    lines: int = of("count", 0, "most lines allowed, 0 for any; more is a stop")
    rise: bool = of("yes-no", False, "several lines: centred on the row, which stays as is")
    lift: float = of("mm", 0.0, "raises the words above the baseline")
    shrink_to: float | None = of("size", None, "may shrink to this before it wraps or stops")
    clear: bool = of("yes-no", False, "white behind the words, over hatching")
    content: tuple[Run, ...] = ()


@named_record
class Number(Item):
    """A quantity: bold number, its unit after it, the other unit system small at the right edge."""

    at: float | str = of("x", "quantity", "right edge of the number; left if so aligned")
    value: str = of("words", "", "the number, as words")
    unit: str = of("words", "", "regular, after a thin gap")
    other: str = of("words", "", "the other unit system, small, flush right")
    other_at: float | str = of("x", "right", "right edge of `other`")
    size: float = of("size", 18.0, "of number and unit")
    unit_size: float | None = of("size", None, "default: as the number")
    tone: str | None = of("choice", None, "default: the line's", *TONES)
    align: str = of("choice", "right", "which edge of the number `at` is", "left", "right")


@named_record
class Date(Item):
    """A date in three fixed places: weekday left, day right-aligned, month left."""

    at: float | str = of("x", "dates", "left edge of the weekday")
    weekday: str = of("words", "", "short name of the weekday")
    day: str = of("words", "", "day of the month")
    month: str = of("words", "", "short name of the month")
    size: float | None = of("size", None, "default: the line's")
    weight: str | None = of("choice", None, "default: the line's", *WEIGHTS)
    tone: str | None = of("choice", None, "default: the line's", *TONES)
    day_at: float | None = of("mm", None, "right edge of the day, from `at`")
    month_first: bool = of("yes-no", False, "the month's place before the day's")
    clear: bool = of("yes-no", False, "white behind the words, over hatching")


@named_record
class Tick(Item):
    """A box to tick, centred on the capitals of the line's own size."""

    at: float | str = of("x", "ticks", "left edge of the box")
    state: str = of("choice", "open", "what the box shows", "open", "done", "away", "check")
    size: float = of("mm", 5.5, "side of the box")


@named_record
class Blank(Item):
    """A thin box to write in, with its unit inside at the right and the expected value grey beside it."""

    at: float | str = of("x", "numbers", "left edge")
    width: float = of("mm", 28.0, "of the box")
    height: float = of("mm", 9.5, "of the box; 0 fills the row, so that rows make a table")
    unit: str = of("words", "", "inside, at the right")
    expected: str = of("words", "", "grey, flush right at `expected-at`; a bar breaks it")
    expected_at: float | str = of("x", "right", "right edge of the expected value")
    value: str = of("words", "", "what was already written, grey inside")
    size: float = of("size", 10.5, "of unit and expected value")


@named_record
class Rule(Item):
    """A line to write on, or a thin line."""

    at: float | str = of("x", "left", "left end")
    to: float | str = of("x", "right", "right end")
    weight: float = of("number", 0.5, "thickness in points")
    drop: float = of("mm", 1.0, "below the baseline")
    dots: bool = of("yes-no", False, "a helper line of dots")


@named_record
class Code(Item):
    """A square code that any phone reads as plain text."""

    at: float | str = of("x", "right", "right edge of the code")
    size: float = of("mm", 22.0, "side, without the clear border")
    lift: float = of("mm", 0.0, "raises its middle above that of the capitals")
    value: str = of("words", "", "the text inside")


# --- pictures ---------------------------------------------------------------------------------------------


@named_record
class Bar(Block):
    """A range on the scale of its picture."""

    start: float = of("number", 0.0, "0 is the left end of the scale, 1 the right")
    end: float = of("number", 1.0, "as `start`; what is outside the scale is cut off")
    kind: str = of("choice", "solid", "solid expected, outline may be, hatch away", *BARS)


@named_record
class Mark(Block):
    """An upright mark at one place of the scale."""

    at: float = of("number", 0.0, "place on the scale")
    kind: str = of("choice", "date", "thick date; drop to its words; ticks of an axis; dots", *MARKS)


@named_record
class Label(Block):
    """Small words above or below the scale."""

    at: float = of("number", 0.0, "place on the scale")
    side: str = of("choice", "below", "of the bar", "above", "below")
    align: str = of("choice", "left", "which edge `at` is", *ALIGNS)
    size: float = of("size", 8.0, "of the words")
    weight: str = of("choice", "regular", "of the words", *WEIGHTS)
    content: tuple[Run, ...] = ()


@named_record
class Track(Item):
    """A picture along a scale; alone (the batch line, the gate's ruler) or inside a line of lanes."""

    at: float | str = of("x", 23.7, "left end of the scale")
    to: float | str = of("x", 193.2, "right end of the scale")
    h: float = of("mm", 6.0, "from the baseline above to the bar's lower edge")
    least: float | None = of("mm", None, "may shrink to this")
    most: float | None = of("mm", None, "may stretch to this")
    height: float = of("mm", 1.8, "of the bars")
    axis: bool = of("yes-no", False, "a thin line along the lower edge")
    drop: float = of("mm", 4.3, "from the bar's lower edge to the baseline of words below")
    content: tuple[Bar | Mark | Label, ...] = ()


# --- what stands under one another --------------------------------------------------------------------------


@named_record
class Flow(Block):
    """Anything that takes a height of the page."""


@named_record
class Line(Flow):
    """A row; `h` is the distance from the baseline (or edge) above to its own baseline."""

    h: float = of("mm", 6.0, "from the baseline above to this baseline")
    least: float | None = of("mm", None, "may shrink to this")
    most: float | None = of("mm", None, "may stretch to this")
    size: float = of("size", 13.5, "of its words; ticks stand on its capitals' middle")
    weight: str = of("choice", "regular", "of its words", *WEIGHTS)
    tone: str = of("choice", "black", "grey for what is done", *TONES)
    frame: str = of("choice", "none", "a frame round the row", "none", *FRAMES)
    content: tuple[Item, ...] = ()


@named_record
class Space(Flow):
    """White space."""

    h: float = of("mm", 5.0, "height")
    least: float | None = of("mm", None, "may shrink to this")
    most: float | None = of("mm", None, "may stretch to this")


@named_record
class Group(Flow):
    """Rows that stay on one page."""

    content: tuple[Block, ...] = ()


@named_record
class Frame(Flow):
    """A frame round rows: next 1.5 pt, stop and check 0.8 pt, write here 0.5 pt."""

    kind: str = of("choice", "stop", "next, stop and check, or write here", *FRAMES)
    at: float | str = of("x", 12.5, "left edge; hangs out so that words keep their column")
    to: float | str = of("x", 197.5, "right edge")
    content: tuple[Block, ...] = ()


@named_record
class Column(Block):
    """One of several flows side by side."""

    at: float | str = of("x", "left", "left edge; `left` means it inside the column")
    to: float | str = of("x", "right", "right edge; `right` means it inside the column")
    content: tuple[Block, ...] = ()


@named_record
class Columns(Flow):
    """Flows side by side; as high as the highest."""

    content: tuple[Column, ...] = ()


@named_record
class Lanes(Flow):
    """Rows over one common scale: bars and marks written here run behind all the rows."""

    at: float | str = of("x", 15.0, "left end of the scale")
    to: float | str = of("x", 195.0, "right end of the scale")
    content: tuple[Block, ...] = ()


@named_record
class Cell(Block):
    """One cell: lines of words from its top left; hatching leaves its lower part free to write."""

    tone: str = of("choice", "black", "grey for what is done", *TONES)
    hatch: bool = of("yes-no", False, "away: hatched beside the number")
    frame: bool = of("yes-no", False, "1.5 pt: next")
    tick: bool = of("yes-no", False, "done")
    content: tuple[Flow, ...] = ()


@named_record
class Ribbon(Block):
    """A bar through the lower part of one row of cells."""

    row: int = of("count", 1, "from 1")
    start: float = of("number", 0.0, "in columns: 0 is the left edge, 1 after the first")
    end: float = of("number", 1.0, "as `start`")
    kind: str = of("choice", "solid", "as a bar's", "solid", "outline", "hatch")


@named_record
class Cells(Flow):
    """A table to write in: cells fill rows from left to right."""

    at: float | str = of("x", "left", "left edge")
    to: float | str = of("x", "right", "right edge")
    columns: tuple[float, ...] = of("widths", (7.0,), "a number of columns, or their widths")
    height: float = of("mm", 8.0, "of a row")
    least: float | None = of("mm", None, "a row may shrink to this")
    most: float | None = of("mm", None, "a row may stretch to this")
    content: tuple[Cell | Ribbon, ...] = ()


@named_record
class Curve(Block):
    """A line through points of the chart, or a filled area with its outline."""

    points: tuple[tuple[float, float], ...] = of("points", (), "x,y x,y ... from 0 to 1")
    fill: bool = of("yes-no", False, "closed and filled with 7 % grey: the expected band")
    weight: float = of("number", 0.6, "thickness in points")
    dots: bool = of("yes-no", False, "a helper line of dots")


@named_record
class Note(Block):
    """Words at a point of the chart."""

    x: float = of("number", 0.0, "0 left to 1 right; may lie outside")
    y: float = of("number", 0.0, "0 bottom to 1 top; may lie outside")
    right: float = of("mm", 0.0, "moves the words to the right")
    lift: float = of("mm", 0.0, "moves the words up")
    align: str = of("choice", "left", "which edge the point is", *ALIGNS)
    size: float = of("size", 10.5, "of the words")
    clear: bool = of("yes-no", False, "white behind the words")
    content: tuple[Run, ...] = ()


@named_record
class Patch(Block):
    """A rectangle of the chart: hatched for away, solid for the expected end."""

    left: float = of("number", 0.0, "0 to 1")
    right: float = of("number", 1.0, "0 to 1; may lie outside")
    bottom: float = of("number", 0.0, "0 to 1")
    top: float = of("number", 1.0, "0 to 1")
    kind: str = of("choice", "hatch", "as a bar's", *BARS)


@named_record
class Cross(Block):
    """A small drawn cross: a reading."""

    x: float = of("number", 0.0, "0 to 1")
    y: float = of("number", 0.0, "0 to 1")


@named_record
class Chart(Flow):
    """A picture with two scales for the pencil to go on with; everything in it is drawn in the order
    written.
    """

    at: float | str = of("x", 30.0, "left end of the scale")
    to: float | str = of("x", 191.0, "right end of the scale")
    h: float = of("mm", 65.0, "height")
    least: float | None = of("mm", None, "may shrink to this")
    most: float | None = of("mm", None, "may stretch to this")
    content: tuple[Curve | Note | Patch | Cross, ...] = ()


# --- pages and labels -------------------------------------------------------------------------------------


@named_record
class Head(Block):
    """Rows at the top of every page of a sheet."""

    content: tuple[Block, ...] = ()


@named_record
class Foot(Block):
    """Rows at the bottom of every page; the last baseline is the sheet's lower margin."""

    content: tuple[Block, ...] = ()


@named_record
class Sheet(Block):
    """A document: new page, its name among the bookmarks."""

    title: str = of("words", "", "name among the bookmarks")
    overflow: str = of("choice", "never", "never: one page or a stop", "never", "continue")
    continued: str = of("words", "", "printed under the head of a further page")
    top: float = of("mm", 15.0, "where the head begins, from the upper edge")
    bottom: float = of("mm", 13.2, "last baseline of the foot, from the lower edge")
    gap: float = of("mm", 7.0, "free above the foot")
    head: Head | None = None
    foot: Foot | None = None
    content: tuple[Block, ...] = ()


@named_record
class Sticker(Block):
    """One label; its rows flow from the inner upper edge, x runs from 0 to the inner width."""

    name: str = of("words", "", "how problems call it, such as `bottle 7`")
    margin: float = of("mm", 5.0, "free inside the edge, at least 3")
    place: str = of("choice", "top", "where the rows stand", "top", "middle")
    copies: int = of("count", 1, "how many of it")
    hole: float = of("mm", 0.0, "diameter of a hole to punch, at the left")
    content: tuple[Block, ...] = ()
