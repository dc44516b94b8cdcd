"""A table that a spreadsheet saved as text (CSV), as cells with their places.

Comes in: the bytes of the file, and which headings are known.  Goes out: a `Grid`, and problems as values.
Tolerated: commas, semicolons, tabs or bars between the cells, a byte order mark, UTF-8, UTF-16 or the older
Windows letters (that is said), quotation marks round a cell with line ends inside, empty rows anywhere.
Cells stay text: what looks like a formula is what somebody wrote, and nothing is ever worked out.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from sheetgen.nodes import Text
from sheetgen.nodes.decoding import FORBIDDEN, invisible_sign, piled_up
from sheetgen.problems import Problems, Span
from sheetgen.records import record

DELIMITERS = ",;\t|"
MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 5_000, 100, 2_000
_TOLD = re.compile(r"sep=([,;|\t])\s*\Z", re.IGNORECASE)
_SPACES = re.compile("[ \t\u00a0\u2007\u202f\u2009]+")
_NUMBER = re.compile(r"\d{1,4}\Z", re.ASCII)
_NAMES = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}

Row = tuple[Text, ...]


@record
class Grid:
    """The headings, and every row that is not empty: as many cells as there are headings, "" where nothing
    stands.
    """

    heading: Row
    rows: tuple[Row, ...]


def read_grid(data: bytes, name: str, is_known: Callable[[str], bool], problems: Problems) -> Grid | None:
    """The table in these bytes; None where there is none.  `is_known` says whether a heading means something:
    that is how the sign between the cells is found.
    """
    text = _decoded(data, name, problems)
    if text is None:
        return None
    lines = text.split("\n")
    told = _TOLD.match(lines[0])
    first = next((n for n, line in enumerate(lines) if n >= bool(told) and line.strip(" \t;,|")), None)
    if first is None:
        problems.stop("this table is empty", Span(name, 1, 1), "write the headings in its first row")
        return None
    sign = told.group(1) if told else _delimiter(lines[first], is_known)
    heading, *rows = _rows("\n".join(lines[first:]), sign, name, first + 1, problems)
    if len(rows) > MOST_ROWS or len(heading) > MOST_COLUMNS:
        problems.stop(
            f"this table has {len(rows)} rows and {len(heading)} columns: that is too much",
            Span(name, 1, 1),
            f"keep at most {MOST_ROWS} rows and {MOST_COLUMNS} columns",
        )
        return None
    return Grid(heading, tuple(_fitted(row, heading, sign, problems) for row in rows if _says(row)))


def _says(row: Row) -> bool:
    return any(cell.value for cell in row)


# Letters


def _decoded(data: bytes, name: str, problems: Problems) -> str | None:
    """The text with plain line ends; what is not UTF-8 is told."""
    here, text = Span(name, 1, 1), None
    if data[:2] == b"PK" or data[:4] == b"\xd0\xcf\x11\xe0":
        problems.stop("this is a spreadsheet's own file", here, "save it there as CSV, and name that file")
        return None
    try:
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            text = data.decode("utf-16")
            problems.note("this table is saved as UTF-16; it was read as that", here)
        else:
            text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = _older(data, here, problems)
    if text is not None and "\0" in text:
        problems.stop("this file is not text", here, "save the table as CSV in UTF-8")
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n") if text is not None else None


def _older(data: bytes, here: Span, problems: Problems) -> str | None:
    """The text in the letters that older Windows programs save in."""
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        problems.stop("these letters are not saved as UTF-8", here, "save the table as CSV in UTF-8")
        return None
    strange = next((word for word in re.findall(r"\w*[^\x00-\x7f]\w*", text) if word), "")
    problems.note(
        f"this table is not saved as UTF-8; its letters were read as older Windows ones, such as {strange}",
        here,
        "look whether names are right on the paper; or save the table as CSV in UTF-8",
    )
    return text


# Rows and cells


def _delimiter(line: str, is_known: Callable[[str], bool]) -> str:
    """The sign that makes the most known headings of the first row; of equals, the one with most cells."""

    def worth(sign: str) -> tuple[int, int]:
        cells = [cell.value for cell in next(_rows(line, sign, "", 1, Problems()), ())]
        return sum(map(is_known, cells)), len(cells)

    return max(DELIMITERS, key=worth)


def _rows(text: str, sign: str, name: str, line: int, problems: Problems) -> Iterator[Row]:
    """Every row; quotation marks at the start of a cell hold it together, doubled ones inside are one."""
    at, start, row = 0, 0, list[Text]()
    while at <= len(text):
        begun, column = line, at - start + 1
        value, end, quoted = _cell(text, at, sign)
        if quoted and end > len(text):
            problems.stop(
                "a quotation mark is opened here and not closed",
                Span(name, begun, column),
                'close it; a mark inside a cell is written twice: ""',
            )
        breaks = text.count("\n", at, min(end, len(text)))
        wide = (text.find("\n", at) if breaks else min(end, len(text))) - at
        row.append(_text(value, Span(name, begun, column, max(1, wide)), quoted, problems))
        if breaks:
            line, start = line + breaks, text.rfind("\n", at, end) + 1
        if end >= len(text) or text[end] == "\n":
            yield tuple(row)
            line, start, row = line + 1, end + 1, []
            if end >= len(text) - 1:
                return
        at = end + 1


def _cell(text: str, at: int, sign: str) -> tuple[str, int, bool]:
    """A cell's text, where it ends, and whether quotation marks held it."""
    if text[at : at + 1] != '"':
        end = min((found for found in (text.find(sign, at), text.find("\n", at)) if found >= 0), default=-1)
        end = len(text) if end < 0 else end
        return text[at:end], end, False
    parts, at = list[str](), at + 1
    while True:
        closed = text.find('"', at)
        if closed < 0:
            return "".join(parts) + text[at:], len(text) + 1, True
        parts.append(text[at:closed])
        if text[closed + 1 : closed + 2] != '"':
            rest, end, _ = _cell(text, closed + 1, sign) if closed + 1 < len(text) else ("", len(text), False)
            return "".join(parts) + rest, end, True
        parts.append('"')
        at = closed + 2


def _text(value: str, span: Span, quoted: bool, problems: Problems) -> Text:
    """A cell with single spaces, in whole characters, without what nobody sees."""
    if value.isascii() and value.isprintable():
        return Text(_SPACES.sub(" ", value).strip(), span, quoted)
    tidy = "\n".join(_SPACES.sub(" ", part).strip() for part in value.split("\n")).strip()
    hidden = FORBIDDEN.search(tidy.replace("\n", " "))
    if hidden:
        problems.stop(invisible_sign(hidden.group()), span, "type the text again without it")
        tidy = FORBIDDEN.sub(" ", tidy)
    if piled_up(tidy):
        problems.stop("too many marks stand on one letter here", span, "take them away")
        return Text("", span, quoted)
    return Text(unicodedata.normalize("NFC", tidy), span, quoted)


def _fitted(row: Row, heading: Row, sign: str, problems: Problems) -> Row:
    """The row with a cell for every heading, each knowing the heading that it stands under."""
    over = [cell for cell in row[len(heading) :] if cell.value]
    if over:
        problems.stop(
            f"this row has {len(row)} cells, and there are {len(heading)} headings",
            over[0].span,
            _joined(row, sign),
        )
    end = row[-1].span
    missing = Text("", replace(end, column=end.column + end.length, length=1))
    cells = [*row[: len(heading)], *[missing] * (len(heading) - len(row))]
    for cell in cells:
        if len(cell.value) > LONGEST_CELL:
            problems.stop("this cell is too long", cell.span, f"write at most {LONGEST_CELL} characters")
    return tuple(_under(cell, head) for cell, head in zip(cells, heading, strict=True))


def _under(cell: Text, head: Text) -> Text:
    value = cell.value if len(cell.value) <= LONGEST_CELL else ""
    return Text(value, replace(cell.span, cell=head.value), cell.quoted)


def _joined(row: Row, sign: str) -> str:
    """What to do with a row that is too long: two numbers side by side may be one with a decimal comma."""
    for one, other in pairwise(row):
        if sign == "," and _NUMBER.match(one.value) and re.match(r"\d", other.value):
            whole = f"{one.value},{other.value}"
            return f'if it is one number, put it in quotation marks: "{whole}"; or save with semicolons'
    return f"the cells are separated by {_NAMES[sign]}; put what has one inside in quotation marks"
