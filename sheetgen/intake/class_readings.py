"""What was read since: a table of names, days, gravities and temperatures, laid over everybody's batch.

Comes in: tables beside a class, or named on the command line, and its people.  Goes out: the people with
their `actual`; what is wrong with a row is that person's, a row of nobody is told by itself.  Every value is
read by the same readers as in a batch file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from sheetgen import catalogue
from sheetgen.intake import spreadsheet
from sheetgen.intake.classes import Person
from sheetgen.intake.columns import laid_over, placed
from sheetgen.intake.kinds import yes_no
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import Problem, Problems, did_you_mean
from sheetgen.records import record
from sheetgen.units import Misread

_DATE, _SG, _WARMTH = "date", "gravity", "temperature"
_ONCE = ("brewed", "pitched", "dry-hopped")
_COLUMNS: Mapping[str, str] = MappingProxyType(
    {
        **{
            one: one
            for one in ("name", "code", _DATE, _SG, _WARMTH, *_ONCE, "bottled", "warmed", "og", "litres")
        },
        **dict.fromkeys(("person", "brewer", "who", "participant"), "name"),
        **dict.fromkeys(("on", "day"), _DATE),
        **dict.fromkeys(("sg", "reading", "hydrometer"), _SG),
        **dict.fromkeys(("temp", "sample", "celsius"), _WARMTH),
        "batch": "code",
        "originalgravity": "og",
        "dryhopped": "dry-hopped",
    }
)
_UNIT = re.compile(r"(.+?)\s*(?:[(\[]\s*([^)\]]{1,12}?)\s*[)\]]|\s(°\s?[CF]))\s*\Z")
_BARE = re.compile(r"\d+(?:[.,]\d+)?\Z", re.ASCII)

_Cells = Mapping[str, Text]


@record
class Read:
    """The people with what was read, and the problems of rows that are nobody's, or not of this class."""

    people: tuple[Person, ...]
    problems: Problems


def with_readings(people: Sequence[Person], tables: Sequence[Path]) -> Read:
    """Everybody with the facts of all tables, one after the other."""
    problems = Problems()
    facts: dict[str, list[Node]] = {}
    wrong: dict[str, list[Problem]] = {}
    for path in tables:
        for cells in _rows(path, problems):
            person = _person(cells, people, problems)
            if person:
                found, told = _facts(cells, person)
                facts.setdefault(person.code, []).extend(found)
                wrong.setdefault(person.code, []).extend(told)
    done = tuple(_with_facts(one, facts.get(one.code, []), wrong.get(one.code, [])) for one in people)
    return Read(done, problems)


# Rows


def _rows(path: Path, problems: Problems) -> Iterator[_Cells]:
    """The cells of each row by what their columns are; units of the heading go to bare numbers."""
    data, found = catalogue.read_bytes(path)
    problems.extend(found)
    if data is None:
        return
    grid = spreadsheet.read_grid(data, path.name, lambda name: bool(_column(name)[0]), problems)
    if grid is None:
        return
    columns = [_column(head.value) for head in grid.heading]
    kinds = [kind for kind, _ in columns]
    for at, head in enumerate(grid.heading):
        if not kinds[at] and any(row[at].value for row in grid.rows):
            fix = (
                did_you_mean(head.value, tuple(_COLUMNS))
                or f"known are: {', '.join(dict.fromkeys(_COLUMNS.values()))}"
            )
            problems.stop(f'"{head.value[:40]}" is not known as a column of readings', head.span, fix)
        elif kinds[at] and kinds.index(kinds[at]) != at:
            problems.stop(f"there are two columns for {kinds[at]}", head.span, "keep one of the two")
    if "name" not in kinds and "code" not in kinds:
        problems.stop("no column says who it is", grid.heading[0].span, "write name in the first row")
        return
    for row in grid.rows:
        cells = {kind: _united(cell, unit) for (kind, unit), cell in zip(columns, row, strict=True) if kind}
        yield {kind: cell for kind, cell in cells.items() if cell.value}


def _column(heading: str) -> tuple[str, str]:
    """What a heading stands for, "" if it is not known, and the unit that it gives."""
    found = _UNIT.match(heading)
    for name, unit in ((heading, ""), *(((found[1], found[2] or found[3]),) if found else ())):
        bare = re.sub(r"[\s_-]+", "", name.lower())
        kind = _COLUMNS.get(bare) or next(
            (one for one in _COLUMNS.values() if one.replace("-", "") == bare), ""
        )
        if kind:
            return kind, unit.replace("°", "").strip()
    return "", ""


def _united(cell: Text, unit: str) -> Text:
    return replace(cell, value=f"{cell.value} {unit}") if unit and _BARE.match(cell.value) else cell


def _person(cells: _Cells, people: Sequence[Person], problems: Problems) -> Person | None:
    """Whose row it is: by the code, or by a name that only one has."""
    code, name = cells.get("code"), cells.get("name")
    if code is not None:
        found = [one for one in people if one.code == code.value.upper()]
    elif name is not None:
        found = [one for one in people if one.name.casefold() == " ".join(name.value.split()).casefold()]
    else:
        first = next(iter(cells.values()))
        problems.stop("this row does not say who it is", first.span, "write the name, or empty the row")
        return None
    who = code or name
    if len(found) != 1 and who:
        if found:
            codes = ", ".join(one.code for one in found)
            fix = f"add a column code, and write one of {codes}"
            problems.stop(f"{len(found)} people are called {who.value[:40]}", who.span, fix)
        else:
            known = [one.code if code else one.name for one in people]
            fix = (
                did_you_mean(who.value, [each.lower() for each in known])
                or f"there are {', '.join(known[:12])}"
            )
            problems.stop(f'nobody in this class is "{who.value[:40]}"', who.span, fix)
    return found[0] if len(found) == 1 else None


# What a row says happened


def _facts(cells: _Cells, person: Person) -> tuple[list[Node], list[Problem]]:
    """Parts of `actual`, each to be laid over the batch, and what is missing for them."""
    on = cells.get(_DATE)
    found, wrong = list[Node](), list[Problem]()
    for key, cell in cells.items():
        if key in ("name", "code", _DATE, _WARMTH, "litres"):
            continue
        node = _fact(key, cell, on, cells)
        if isinstance(node, Problem):
            wrong.append(replace(node, path=(person.name, key)))
        elif node is not None:
            found.append(placed(("actual", key if key != _SG else "readings"), node))
    if _WARMTH in cells and _SG not in cells and "og" not in cells:
        lost = "there is a temperature, and no reading that it belongs to"
        wrong.append(
            Problem("stop", lost, cells[_WARMTH].span, "write the gravity too", (person.name, _WARMTH))
        )
    if not found and not wrong:
        where = next(iter(cells.values())).span
        wrong.append(Problem("note", "nothing is said in this row", where, "", (person.name,)))
    return found, wrong


def _fact(key: str, cell: Text, on: Text | None, cells: _Cells) -> Node | Problem | None:
    """What one cell says, as it would stand in a batch file; None for a plain no."""
    if key == "og":
        return _at_warmth(cell, cells)
    if key in (*_ONCE, "bottled"):
        said = yes_no(cell.value)
        if said is False:
            return None
        day = cell if isinstance(said, Misread) else on
        if day is None:
            return _without_day(cell)
        return _bottled(day, cells) if key == "bottled" else Text(day.value, day.span, True)
    if on is None:
        return _without_day(cell)
    if key == "warmed":
        return Items((_entries(cell, on=on, to=cell),), cell.span)
    return Items((_entries(cell, on=on, sg=_at_warmth(cell, cells)),), cell.span)


def _without_day(cell: Text) -> Problem:
    return Problem("stop", "the day of it is missing", cell.span, "write it in the column date: 2027-03-17")


def _at_warmth(cell: Text, cells: _Cells) -> Text:
    warmth = cells.get(_WARMTH)
    return replace(cell, value=f"{cell.value} at {warmth.value}") if warmth else cell


def _bottled(day: Text, cells: _Cells) -> Node:
    litres = cells.get("litres")
    return _entries(day, on=day, **({"litres": litres} if litres else {}))


def _entries(at: Text, **values: Node) -> Entries:
    return Entries(tuple(Entry(Text(key, at.span), value) for key, value in values.items()), at.span)


# Over the batch


def _with_facts(person: Person, facts: Sequence[Node], wrong: Sequence[Problem]) -> Person:
    if not facts and not wrong:
        return person
    tree = person.tree
    for fact in facts:
        tree = laid_over(tree, _appended(tree, fact))
    return replace(person, tree=tree, wrong=(*person.wrong, *wrong))


def _appended(tree: Node, fact: Node) -> Node:
    """The fact; where it is a list, behind what the list has already, each line once."""
    actual = fact.get("actual") if isinstance(fact, Entries) else None
    if not isinstance(fact, Entries) or not isinstance(actual, Entries):
        return fact
    own = actual.entries[0]
    before = tree.get("actual") if isinstance(tree, Entries) else None
    held = before.get(own.key.value) if isinstance(before, Entries) else None
    if not isinstance(own.value, Items) or held is None:
        return fact
    parts = held.items if isinstance(held, Items) else (held,)
    known = {_plain(part) for part in parts}
    more = tuple(part for part in own.value.items if _plain(part) not in known)
    return placed(("actual", own.key.value), Items((*parts, *more), own.value.span))


def _plain(node: Node) -> str:
    """What a node says, without its places."""
    if isinstance(node, Text):
        return node.value
    if isinstance(node, Items):
        return f"[{', '.join(_plain(one) for one in node.items)}]"
    return f"{{{', '.join(f'{one.key.value}: {_plain(one.value)}' for one in node.entries)}}}"
