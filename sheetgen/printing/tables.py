"""Cells to write in: calendars, tables of readings, strips of numbers.

Comes in: `Cells` and the area they stand in. Goes out: marks.
"""

from __future__ import annotations

from dataclasses import replace

from sheetgen.printing import fonts, pictures, rows, tags
from sheetgen.printing.blocks import Cell, Cells, Line, Ribbon, Space, Text
from sheetgen.printing.desk import Area, Desk
from sheetgen.printing.marks import Box, Hatch

_INSET, _RIBBON, _RIBBON_ABOVE, _RIBBON_END = 1.5, 2.4, 2.0, 1.2
_HATCH_LEFT, _HATCH_HEIGHT, _TICK = 9.0, 6.5, 4.4


def _cells(cells: Cells) -> list[Cell]:
    return [item for item in cells.content if isinstance(item, Cell)]


def row_count(cells: Cells) -> int:
    """How many rows the cells fill."""
    return -(-len(_cells(cells)) // _column_count(cells))


def _column_count(cells: Cells) -> int:
    return int(cells.columns[0]) if len(cells.columns) == 1 else len(cells.columns)


def _edges(cells: Cells, area: Area) -> list[float]:
    """The x of every column's left edge, and of the last one's right edge."""
    left, right = area.x(cells.at), area.x(cells.to)
    if len(cells.columns) == 1:
        count = _column_count(cells)
        return [left + (right - left) * index / count for index in range(count + 1)]
    edges = [left]
    for width in cells.columns:
        edges.append(edges[-1] + width)
    return edges


def place(cells: Cells, area: Area, top: float, height: float, desk: Desk) -> None:
    """Put the cells row by row, then what runs through and round them."""
    edges, count = _edges(cells, area), _column_count(cells)
    framed, table, row_tag = [], desk.new("Table"), desk.tag
    for index, cell in enumerate(_cells(cells)):
        row, column = divmod(index, count)
        box = Box(edges[column], top + row * height, edges[column + 1] - edges[column], height, 0.5)
        if not column:
            with desk.at(table):
                row_tag = desk.new("TR")
        with desk.at(row_tag), desk.within(tags.of_cell(cell)):
            _cell(cell, box, area, desk)
        framed += [Box(box.x, box.y, box.width, box.height, 1.5)] if cell.frame else []
    for ribbon in (item for item in cells.content if isinstance(item, Ribbon)):
        _ribbon(ribbon, edges, top + ribbon.row * height, desk)
    desk.put(*framed)


def _cell(cell: Cell, box: Box, area: Area, desk: Desk) -> None:
    desk.put(box)
    if cell.hatch:
        left = min(max(_HATCH_LEFT, _first_words(cell) + 2 * _INSET), box.width)
        desk.put(Hatch(box.x + left, box.y, box.width - left, min(_HATCH_HEIGHT, box.height)))
    if cell.tick:
        rows.tick("check", box.x + box.width - _TICK - 1.6, box.y + 1.4, _TICK, desk)
    inset = min(_INSET, box.width * 0.07)
    inner, y = Area(box.x + inset, box.x + box.width - inset, area.shift), box.y
    for block in cell.content:
        y += block.h if isinstance(block, Line | Space) else 0.0
        if isinstance(block, Line):
            rows.place(_toned(block, cell), inner, y, block.h, desk)
            y += rows.growth(block, inner)
    if y > box.y + box.height:
        over = y - box.y - box.height
        found = f"the words in a cell are {over:.1f} mm too high"
        desk.problems.stop(found, cell.span, "shorten the words, or make the cells higher", desk.path)


def _first_words(cell: Cell) -> float:
    """Width in millimetres of the words of a cell's first line."""
    line = next((block for block in cell.content if isinstance(block, Line)), None)
    texts = [item for item in line.content if isinstance(item, Text)] if line else []
    return sum(
        fonts.width_mm(run.words, text.size or line.size, bold=(text.weight or line.weight) == "bold")
        for text in texts
        for run in text.content
        if line
    )


def _toned(line: Line, cell: Cell) -> Line:
    return replace(line, tone="grey") if cell.tone == "grey" else line


def _ribbon(ribbon: Ribbon, edges: list[float], lower: float, desk: Desk) -> None:
    count = len(edges) - 1
    start, end = max(0.0, ribbon.start), min(float(count), ribbon.end)
    if end <= start:
        return

    def across(place: float) -> float:
        column = min(int(place), count - 1)
        return edges[column] + (place - column) * (edges[column + 1] - edges[column])

    x, upper = across(start) + _RIBBON_END, lower - _RIBBON_ABOVE - _RIBBON
    desk.put(*pictures.bar(ribbon.kind, x, upper, across(end) - _RIBBON_END - x, _RIBBON))
