"""The people of a class as rows: from a table, or from a list in the class file.

Comes in: the path of a table, or the node of a list.  Goes out: `Row`s in their order, each with what is
wrong with it; what is wrong with a table's headings goes to the class's own problems.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from sheetgen import catalogue
from sheetgen.intake import mending, spreadsheet
from sheetgen.intake.class_tables import PERSON
from sheetgen.intake.columns import (
    NAME,
    OWN,
    SHARED,
    START,
    Column,
    column_of,
    laid_over,
    nearest_name,
    path_of,
    placed,
    value_of,
)
from sheetgen.intake.fields import Field
from sheetgen.intake.forms import Place, shown
from sheetgen.intake.kinds import KINDS, code
from sheetgen.intake.layers import with_key, without
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import Problem, Span
from sheetgen.records import record
from sheetgen.units import Misread


@record
class Row:
    """One person as written: what the table says of their batch (`own`), and what only a person has."""

    name: str
    span: Span
    own: Entries
    code: str = ""
    start: Text | None = None
    shared_vessel: str = ""
    gone: bool = False
    wrong: tuple[Problem, ...] = ()


def from_table(path: Path, ignored: Iterable[str], place: Place) -> Iterator[Row]:
    """Everybody in a table that a spreadsheet saved."""
    problems = place.desk.problems
    data, found = catalogue.read_bytes(path)
    problems.extend(found)
    if data is None:
        return
    grid = spreadsheet.read_grid(data, path.name, lambda name: column_of(name) is not None, problems)
    if grid is None:
        return
    columns = _columns(grid, {one.casefold() for one in ignored}, place)
    if not any(one and one.path == (NAME,) for one in columns):
        place.on(grid.heading[0].span).stop('no column is called "name"', "write name in the first row")
        return
    for row in grid.rows:
        cells = [(one, cell) for one, cell in zip(columns, row, strict=True) if one and cell.value]
        yield _row([(one.path, value_of(cell, one)) for one, cell in cells], row[0].span)


def _columns(grid: spreadsheet.Grid, ignored: set[str], place: Place) -> list[Column | None]:
    """What each heading stands for; what is not known, said twice or missing is told."""
    found: list[Column | None] = []
    for at, head in enumerate(grid.heading):
        one = None if head.value.casefold() in ignored else column_of(head.value)
        if one and any(other and other.path == one.path for other in found):
            place.on(head.span).stop(f"there are two columns for {'.'.join(one.path)}", "keep one of the two")
        if one is None and head.value.casefold() not in ignored and any(row[at].value for row in grid.rows):
            _unknown(head, place)
        found.append(one)
    return found


def _unknown(head: Text, place: Place) -> None:
    """A column with cells under it that mean nothing to us: no cell is passed over in silence."""
    if not head.value:
        place.on(head.span).stop(
            "this column has no heading", "write one in the first row, or empty the column"
        )
        return
    near = nearest_name(head.value)
    guess = f'did you mean "{near}"?' if near else ""
    aside = f"write ignore: [{head.value[:40]}] in the class file if it is not for us"
    ways = mending.instead(head, [near] if near else [])
    place.on(head.span).stop(
        f'"{head.value[:40]}" is not known as a column', f"{guess} Or {aside}" if guess else aside, ways
    )


def from_list(node: Items, place: Place) -> Iterator[Row]:
    """Everybody in a list of the class file: names, or names with values."""
    for part in node.items:
        if isinstance(part, Text):
            yield _row([((NAME,), part)], part.span)
        elif isinstance(part, Entries):
            yield _written_out(part)
        else:
            place.on(part.span).stop(f"found {shown(part)}; expected a person", "write {name: Imke}")


def _written_out(part: Entries) -> Row:
    """A person in the class file; keys as in a table, and as in a batch."""
    cells, wrong = list[tuple[tuple[str, ...], Node]](), list[Problem]()
    for one in part.entries:
        path = path_of(one.key.value)
        if path:
            cells.append((path, one.value))
        else:
            message = f'"{one.key.value[:40]}" is not a key of person'
            near = nearest_name(one.key.value)
            fix = (
                f'did you mean "{near}"?'
                if near
                else f"a person has {', '.join(OWN)}, and all keys of a batch"
            )
            wrong.append(Problem("stop", message, one.key.span, fix, (), mending.key_instead(one.key, near)))
    return _row(cells, part.span, wrong)


def _row(cells: Sequence[tuple[tuple[str, ...], Node]], span: Span, wrong: Sequence[Problem] = ()) -> Row:
    """The person of these cells."""
    found, told = dict[str, Any](), [*wrong]
    own = Entries((), span)
    for path, value in cells:
        if len(path) == 1 and path[0] in (*OWN, "batch"):
            read = _own_value(path[0], value)
            if isinstance(read, Problem):
                told.append(read)
            else:
                found[path[0]] = (read, value.span)
        else:
            joined = laid_over(own, placed(path, value))
            own = joined if isinstance(joined, Entries) else own
    name, at = found.get(NAME, ("", span))
    if not name and not told:
        told.append(Problem("stop", "nobody's name stands in this row", span, "write it, or empty the row"))
    crumb = name or "no name"
    return Row(
        name=name,
        span=at,
        own=Entries(own.entries, span),
        code=found["batch"][0] if "batch" in found else "",
        start=Text(f"{found[START][0]:%H:%M}", found[START][1], True) if START in found else None,
        shared_vessel=found[SHARED][0] if SHARED in found else "",
        gone="gone" in found and found["gone"][0],
        wrong=tuple(replace(one, path=(crumb, *one.path)) for one in told),
    )


def _own_value(key: str, node: Node) -> Any:
    """The value of a key that only a person has, or its problem."""
    field: Field | None = PERSON.field(key)
    reader = KINDS[field.kind].reader if field else code
    if not isinstance(node, Text):
        return Problem(
            "stop", f"found {shown(node)}; expected one value", node.span, f"write {key}: …", (key,)
        )
    value = reader(node.value)
    if isinstance(value, Misread):
        fix = value.fix or (f"write {key}: {field.example}" if field else "")
        ways = mending.instead(node, value.ways or ([field.example] if field else []), value.sure)
        return Problem("stop", value.message, node.span, fix, (key,), ways)
    return value


# What a person's own keys do to the batch


def started(tree: Node, row: Row) -> tuple[Node, tuple[Problem, ...]]:
    """The batch with its time of day."""
    if row.start is None:
        return tree, ()
    day = tree.get("brew-day") if isinstance(tree, Entries) else None
    if not isinstance(day, Text):
        lost = "there is a time, and no brew-day that it belongs to"
        return tree, (Problem("stop", lost, row.start.span, "write brew-day: 2027-03-06", (row.name, START)),)
    whole = f"{day.value.split(' ')[0].split('T')[0]} {row.start.value}"
    return with_key(tree, "brew-day", Text(whole, day.span, True)), ()


def in_shared_vessel(tree: Node, row: Row) -> tuple[Node, tuple[Problem, ...]]:
    """The batch in the vessel that it shares: of the volume that everybody's has, or the person's own."""
    if not row.shared_vessel or not isinstance(tree, Entries):
        return tree, ()
    gear = tree.get("equipment")
    vessel = gear.get("vessel") if isinstance(gear, Entries) else None
    name = Entry(Text("name", row.span), Text(row.shared_vessel, row.span, True))
    if vessel is None or not isinstance(gear, Entries):
        lost = f"how much {row.shared_vessel} holds is not said"
        return tree, (Problem("stop", lost, row.span, "write a column vessel with 15 L", (row.name, SHARED)),)
    holds = vessel if isinstance(vessel, Entries) else placed(("holds",), vessel)
    bare = without(holds, ("name",)) if isinstance(holds, Entries) else Entries((), row.span)
    named = Entries((name, *bare.entries), row.span)
    return with_key(tree, "equipment", with_key(gear, "vessel", named)), ()
