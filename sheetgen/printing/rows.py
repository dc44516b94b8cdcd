"""Setting one line: words, numbers, dates, ticks, blanks and rules on a common baseline.

Comes in: a `Line` and the area it stands in. Goes out: how far the line grows by wrapped words, and its
marks.
"""

from __future__ import annotations

from sheetgen.printing import fonts, pictures, tags
from sheetgen.printing.blocks import (
    Blank,
    Code,
    Date,
    Item,
    Line,
    Number,
    Rule,
    Run,
    Text,
    Tick,
    Track,
)
from sheetgen.printing.desk import Area, Desk
from sheetgen.printing.marks import Box, Hatch, Raster, Square, Stroke
from sheetgen.printing.picture import Picture
from sheetgen.printing.swatch import Swatch
from sheetgen.printing.vocabulary import leading
from sheetgen.printing.wrap import Setting, fitted, plain, wrapped
from sheetgen.records import record

GAP, SMALL_GAP, SMALL = 2.0, 1.2, 10.5
"""Least distance in millimetres between words and what stands to their right; of words up to 10.5 points."""
FRAME_WEIGHTS = {"next": 1.5, "stop": 0.8, "write": 0.5}
_FRAME_AIR, _HANG = 0.6, 2.5
# Places inside a date, in millimetres for each point of type size.
_DAY_AT_LARGE, _DAY_AT, _MONTH_GAP = 1.232, 1.156, 0.096
_MONTH_AT_LARGE, _MONTH_AT, _MONTH_WIDTH, _TWO_FIGURES = 0.91, 0.82, 0.652, 0.377
_CODE_BYTES = (14, 26, 42, 62, 84, 106, 122, 152, 180, 213, 251, 287, 331, 362, 412, 450, 504, 560, 624, 666)
_LEAST_MODULE = 0.4
_LARGE, _UNIT_GAP = 18.0, 0.078
_DESCENT_ROOM = 0.35


@record
class Row:
    """A line at its place: baseline and height in millimetres from the paper's upper edge."""

    line: Line
    area: Area
    baseline: float = 0.0
    height: float = 0.0

    @property
    def middle(self) -> float:
        """The middle of the capitals of the line's own size."""
        return self.baseline - fonts.cap_mm(self.line.size) / 2


def _size(item: Text | Date, line: Line) -> float:
    return line.size if item.size is None else item.size


def _bold(item: Text | Date, line: Line) -> bool:
    return (item.weight or line.weight) == "bold"


def _grey(item: Text | Date | Number, line: Line) -> bool:
    return (item.tone or line.tone) == "grey"


def _number_width(item: Number) -> float:
    return fonts.width_mm(item.value, item.size, bold=True)


def _left_edge(item: Item, line: Line, area: Area) -> float | None:
    """Where an item begins, as words to its left must know; None if nothing has to keep clear of it."""
    match item:
        case Text(align="left") | Date() | Tick() | Rule() | Swatch():
            return area.x(item.at)
        case Text():
            share = 1.0 if item.align == "right" else 0.5
            natural = wrapped(item.content, _size(item, line), _bold(item, line), 1e6).widest
            return area.x(item.at) - natural * share
        case Number():
            return area.x(item.at) - (_number_width(item) if item.align == "right" else 0.0)
        case Blank():
            return min(area.x(item.at), _expected_left(item, area))
        case Code():
            return area.x(item.at) - item.size
        case Picture():
            return _picture_left(item, area)
    return None


def _expected_left(item: Blank, area: Area) -> float:
    parts = item.expected.split("|") if item.expected else []
    widths = [fonts.width_mm(part, item.size) for part in parts]
    return area.x(item.expected_at) - max(widths) if widths else area.x(item.at)


def _room(item: Text, line: Line, area: Area) -> float:
    """The width in millimetres that a text may take."""
    if item.width is not None:
        return item.width
    at = area.x(item.at)
    if item.align != "left":
        limit = area.left if item.to is None else area.x(item.to)
        return abs(at - limit) if item.align == "right" else 2 * min(at - area.left, area.right - at)
    if item.to is not None:
        return area.x(item.to) - at
    edges = (_left_edge(other, line, area) for other in line.content if other is not item)
    gap = SMALL_GAP if _size(item, line) <= SMALL else GAP
    return min([edge - gap for edge in edges if edge is not None and edge > at + 0.01] + [area.right]) - at


def _set(item: Text, line: Line, area: Area, content: tuple[Run, ...] | None = None) -> Setting:
    runs = item.content if content is None else content
    size, bold, room = _size(item, line), _bold(item, line), _room(item, line, area)
    if item.shrink_to is not None and item.shrink_to < size:
        return fitted(runs, size, bold, room, item.shrink_to)
    return wrapped(runs, size, bold, room)


def growth(line: Line, area: Area) -> float:
    """How far wrapped words push the next baseline down, in millimetres."""
    texts = [item for item in line.content if isinstance(item, Text) and not item.rise]
    settings = [_set(item, line, area) for item in texts]
    return max([(len(setting.lines) - 1) * leading(setting.size) for setting in settings] + [0.0])


def place(line: Line, area: Area, baseline: float, height: float, desk: Desk) -> None:
    """Put a line's marks at its baseline; `height` is what the row takes without wrapped words."""
    row = Row(line, area, baseline, height)
    if desk.tag and desk.tag[-1].role == "LI":
        _place_entry(row, desk)
    else:
        for item in line.content:
            _place(item, row, desk)
    if line.frame != "none":
        _frame(row, desk)


def _place_entry(row: Row, desk: Desk) -> None:
    """Put a row of a list: boxes are the marks of its entries, the rest is what they say."""
    body = desk.new("LBody")
    for item in row.line.content:
        if isinstance(item, Tick):
            with desk.within("Lbl", tags.ticked(item)):
                _place(item, row, desk)
        else:
            with desk.at(body):
                _place(item, row, desk)


def _place(item: Item, row: Row, desk: Desk) -> None:
    match item:
        case Text():
            _text(item, row, desk)
        case Number():
            _number(item, row, desk)
        case Date():
            _date(item, row, desk)
        case Tick():
            tick(item.state, row.area.x(item.at), row.middle - item.size / 2, item.size, desk)
        case Blank():
            _blank(item, row, desk)
        case Rule():
            _rule(item, row, desk)
        case Track():
            pictures.track(item, row.area, row.middle + item.height / 2, desk)
        case Code() | Picture() | Swatch():
            _show(item, row, desk)


def _show(item: Code | Picture | Swatch, row: Row, desk: Desk) -> None:
    match item:
        case Code():
            _code(item, row, desk)
        case Picture():
            _picture(item, row, desk)
        case Swatch():
            desk.put(item.box(row.area.x(item.at), row.middle))


def _picture_left(item: Picture, area: Area) -> float:
    share = {"left": 0.0, "center": 0.5, "right": 1.0}[item.align]
    return area.x(item.at) - share * item.width


def _picture(item: Picture, row: Row, desk: Desk) -> None:
    x, y = _picture_left(item, row.area), row.baseline - item.lift - item.height
    if item.file is None:
        return
    if x < row.area.left - _HANG or x + item.width > row.area.right + _HANG:
        found = f"the picture leaves the text's width: it is {item.width:.1f} mm wide"
        desk.problems.stop(found, item.span, "make it less high, or move it", desk.path)
    with desk.within("Figure", item.says):
        desk.put(Raster(x, y, item.width, item.height, item.file.data))


def code_modules(text: str) -> int:
    """Modules along one side of a code with medium error correction, at most; 0 if the text is too long."""
    length = len(text.encode("utf-8", "replace"))
    fitting = (version for version, bytes_held in enumerate(_CODE_BYTES, start=1) if length <= bytes_held)
    version = next(fitting, None)
    return 0 if version is None else 17 + 4 * version


def _code(item: Code, row: Row, desk: Desk) -> None:
    modules = code_modules(item.value)
    if not modules or item.size / modules < _LEAST_MODULE:
        found = f"the code's text is too long for {item.size:g} mm: a phone could not read it"
        desk.problems.stop(found, item.span, "shorten the text or make the code larger", desk.path)
        return
    x = row.area.x(item.at) - item.size
    with desk.within("Figure", item.value):
        desk.put(Square(x, row.middle - item.size / 2 - item.lift, item.size, item.value))


def _frame(row: Row, desk: Desk) -> None:
    top = row.middle - (row.height - _FRAME_AIR) / 2
    height = row.height - _FRAME_AIR + growth(row.line, row.area)
    left, right = row.area.left - _HANG, row.area.right + _HANG
    desk.put(Box(left, top, right - left, height, FRAME_WEIGHTS[row.line.frame]))


def _checked(item: Text, setting: Setting, desk: Desk) -> None:
    words = plain(item.content)
    if not setting.fits:
        desk.too_wide(item, words, setting.widest, setting.room)
    elif item.lines and len(setting.lines) > item.lines:
        natural = wrapped(item.content, setting.size, item.weight == "bold", 1e6).widest
        desk.too_wide(item, words, natural, setting.room * item.lines)


def _text(item: Text, row: Row, desk: Desk) -> None:
    setting = _set(item, row.line, row.area, desk.numbered(item.content))
    _checked(item, setting, desk)
    step, x, y = leading(setting.size), row.area.x(item.at), row.baseline - item.lift
    if item.rise and len(setting.lines) > 1:
        block = (len(setting.lines) - 1) * step + fonts.cap_mm(setting.size)
        y = row.middle - block / 2 + fonts.cap_mm(setting.size)
    share = {"left": 0.0, "center": 0.5, "right": 1.0}[item.align]
    for index in range(len(setting.lines)):
        width = setting.width(index)
        left, baseline = x - share * width, y + index * step
        if item.clear:
            _clear(left, baseline, width, setting.size, desk)
        desk.setting(setting, index, left, baseline, _grey(item, row.line))
        if item.strike:
            height = baseline - setting.size * 0.09
            desk.put(Stroke(((left - 0.3, height), (left + width + 0.3, height)), 0.7))


def _clear(x: float, baseline: float, width: float, size: float, desk: Desk) -> None:
    top = baseline - fonts.cap_mm(size) - 0.7
    desk.put(Box(x - 0.6, top, width + 1.2, baseline + 1.2 - top, 0, "white"))


def _number(item: Number, row: Row, desk: Desk) -> None:
    grey, x = _grey(item, row.line), row.area.x(item.at)
    left = x - (_number_width(item) if item.align == "right" else 0.0)
    end = desk.words(left, row.baseline, item.value, item.size, bold=not grey, grey=grey)
    size = item.size if item.unit_size is None else item.unit_size
    if item.unit:
        end = desk.words(end + _UNIT_GAP * size, row.baseline, item.unit, size, grey=grey)
    if item.other:
        _other(item, row, end, grey, desk)


def _other(item: Number, row: Row, end: float, grey: bool, desk: Desk) -> None:
    """The other unit system, small at the right edge; a stop if it would touch the number's unit."""
    right = row.area.x(item.other_at)
    room, width = right - end - SMALL_GAP, fonts.width_mm(item.other, SMALL)
    if width > room:
        desk.too_wide(item, item.other, width, room)
    desk.right_words(right, row.baseline, item.other, SMALL, grey=grey)


def _date(item: Date, row: Row, desk: Desk) -> None:
    size, bold, grey = _size(item, row.line), _bold(item, row.line), _grey(item, row.line)
    x, (day, month) = row.area.x(item.at), _date_places(item, size, bold)
    day_left = day - fonts.width_mm(item.day, size, bold)
    room = min(day_left, month) - 0.035 * size
    weekday = fonts.width_mm(item.weekday, size, bold)
    if weekday > room:
        desk.too_wide(item, item.weekday, weekday, room)
    end = max(day, month + fonts.width_mm(item.month, size, bold))
    if item.clear:
        _clear(x, row.baseline, end, size, desk)
    for place, words in ((0.0, item.weekday), (day_left, item.day), (month, item.month)):
        desk.words(x + place, row.baseline, words, size, bold, grey)


def _date_places(item: Date, size: float, bold: bool) -> tuple[float, float]:
    """Right edge of the day and left edge of the month, in millimetres from the weekday's left edge."""
    large = size >= _LARGE
    if item.month_first:
        month = (_MONTH_AT_LARGE if large else _MONTH_AT) * size
        name = max(_MONTH_WIDTH * size, fonts.width_mm(item.month, size, bold))
        return month + name + (_MONTH_GAP + _TWO_FIGURES) * size, month
    usual = (_DAY_AT_LARGE if large else _DAY_AT) * size
    day = usual if item.day_at is None else item.day_at
    return day, day + _MONTH_GAP * size


def tick(state: str, x: float, y: float, size: float, desk: Desk) -> None:
    """A tick box of a size in millimetres, its upper left corner at x and y; state `check` draws no box."""
    edge = 0.5 if state == "away" else 0.8
    if state != "check":
        desk.put(Box(x + 0.15, y, size, size, edge))
    if state == "away":
        desk.put(Hatch(x + 0.15, y, size, size))
    if state in ("done", "check"):
        points = ((0.24, 0.52), (0.42, 0.72), (0.80, 0.24))
        desk.put(Stroke(tuple((x + 0.15 + a * size, y + b * size) for a, b in points), 1.6))


def _blank(item: Blank, row: Row, desk: Desk) -> None:
    height = item.height or row.height
    x, top = row.area.x(item.at), row.middle - height / 2
    desk.put(Box(x, top, item.width, height, 0.6 if item.height else 0.5))
    grey, cap = row.line.tone == "grey", fonts.cap_mm(item.size)
    base = row.middle + cap / 2 if item.height else row.baseline
    if item.unit:
        desk.right_words(x + item.width - 1.5, base, item.unit, item.size, grey=grey)
    if item.value:
        desk.words(x + 2, row.baseline, item.value, row.line.size, grey=True)
    if item.expected:
        _expected(item, row, desk)


def _expected(item: Blank, row: Row, desk: Desk) -> None:
    parts = item.expected.split("|")
    step, right = leading(item.size) - 0.4, row.area.x(item.expected_at)
    first = row.middle - (len(parts) - 1) * step / 2 + fonts.cap_mm(item.size) / 2
    for index, part in enumerate(parts):
        desk.right_words(right, first + index * step, part, item.size, grey=True)


def _rule(item: Rule, row: Row, desk: Desk) -> None:
    y = row.baseline + item.drop
    desk.put(Stroke(((row.area.x(item.at), y), (row.area.x(item.to), y)), item.weight, dots=item.dots))
