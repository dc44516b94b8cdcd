"""What a column of a table, or a key of a person in a class, stands for.

Comes in: a heading such as "Room (C)", "away" or "room.fermenting".  Goes out: the path of keys in a batch,
and the unit that the heading gives to bare numbers under it.  Capitals, spaces, hyphens and dots in their
places do not matter; a key inside another may stand alone where nothing else has its name ("pot").
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from sheetgen import nodes
from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.fields import Field
from sheetgen.intake.forms import key_meant
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import nearest
from sheetgen.records import record

NAME, START, SHARED, GONE = "name", "start", "shared-vessel", "gone"
OWN = (NAME, START, SHARED, GONE)
"""Keys that only a person in a class has."""
_INSIDE = ("room", "water", "equipment", "labels")
_NOT_A_PERSONS = ("format",)
_SAME = {"person": NAME, "brewer": NAME, "participant": NAME, "who": NAME, "time": START, "starttime": START}
_WITH_UNIT = re.compile(r"(.+?)\s*(?:[(\[]\s*([^)\]]{1,12}?)\s*[)\]]|\s(°\s?[CF]))\s*\Z")
_BARE = re.compile(r"[+-]?\d+(?:[.,]\d+)?(?:\s*(?:-|–)\s*\d+(?:[.,]\d+)?)?\Z", re.ASCII)
_PARTS = re.compile(r"\s*[;\n]\s*")
_BOTTLES = re.compile(r"\s*(?:[;\n+]|,(?=\s*\d+\s*[x×*]))\s*")
_REPLACED = ("bottles", "event", "my-days", "shifts", "volume")


@record
class Column:
    """What stands under a heading: the path of keys, and the unit of bare numbers, "" for none."""

    path: tuple[str, ...]
    unit: str = ""


def column_of(heading: str) -> Column | None:
    """What a heading stands for; None if it is not known."""
    found = _WITH_UNIT.match(heading)
    for name, unit in ((heading, ""), *(((found[1], found[2] or found[3]),) if found else ())):
        path = path_of(name)
        if path:
            return Column(path, unit.replace("°", "").strip())
    return None


def path_of(name: str) -> tuple[str, ...]:
    """The path of keys that a name stands for; () if it is not known."""
    parts = [_bare(part) for part in re.split(r"\s*[.>/]\s*", name.strip()[:60])]
    known = _known()
    return known.get(".".join(parts), ())


def nearest_name(name: str) -> str:
    """The nearest name to a heading that is not known; "" if there is none."""
    names = {".".join(path): path for path in _known().values()}
    shown = _WITH_UNIT.match(name)
    plain = (shown[1] if shown else name).strip()
    near = key_meant(plain, tuple(names)) or key_meant(plain, tuple(path[-1] for path in names.values()))
    return near or nearest(plain, names)


def meant_by(name: str) -> str:
    """What to say to a heading that is not known: the nearest one; "" if there is none."""
    near = nearest_name(name)
    return f'did you mean "{near}"?' if near else ""


def _bare(name: str) -> str:
    return re.sub(r"[\s_-]+", "", name.lower())


def names_of_columns() -> Mapping[str, tuple[str, ...]]:
    """Every name that a column or a key of a person may have, bare, with its path of keys in a batch."""
    return _known()


@cache
def _known() -> Mapping[str, tuple[str, ...]]:
    """Every name of a column, without spaces and hyphens, with its path."""
    found: dict[str, tuple[str, ...]] = {}
    for parent in _INSIDE:
        for field in _inside(parent):
            found[_bare(field.key)] = (parent, field.key)
    for field in BATCH.fields:
        for inner in _inside(field.key):
            found[f"{_bare(field.key)}.{_bare(inner.key)}"] = (field.key, inner.key)
    found |= {_bare(field.key): (field.key,) for field in BATCH.fields if field.key not in _NOT_A_PERSONS}
    found |= {_bare(key): (key,) for key in OWN} | {name: (key,) for name, key in _SAME.items()}
    return found | {"code": ("batch",), "date": ("brew-day",), "day": ("brew-day",)}


def _inside(key: str) -> tuple[Field, ...]:
    field = BATCH[key]
    return field.table.fields if field.table and not field.many and key != "bottles" else ()


# Values


def value_of(cell: Text, column: Column) -> Node:
    """The value of a cell: with the heading's unit, as a list where it has several parts, as names with
    values where it is written so.
    """
    value = cell.value
    if value[:1] in "{[" and value[-1:] in "}]":
        tree, found = nodes.load(value.encode(), cell.span.file)
        if tree is not None and not found:
            return _at(tree, cell)
    if column.unit and _BARE.match(value):
        value = f"{value} {column.unit}"
    parts = (_BOTTLES if column.path[-1] == "bottles" else _PARTS).split(value)
    if len(parts) > 1:
        return Items(tuple(_part(part, value, cell) for part in parts if part), cell.span)
    return Text(value, cell.span, cell.quoted)


def _part(part: str, value: str, cell: Text) -> Text:
    """One of several values in a cell, at its own place where that is known."""
    at = value.find(part)
    if cell.quoted or value != cell.value or len(value) != cell.span.length or value.count(part) != 1:
        return Text(part, cell.span, True)
    return Text(part, replace(cell.span, column=cell.span.column + at, length=len(part)), True)


def _at(node: Node, cell: Text) -> Node:
    """The tree as if all of it stood at the cell."""
    if isinstance(node, Text):
        return Text(node.value, cell.span, node.quoted)
    if isinstance(node, Items):
        return Items(tuple(_at(item, cell) for item in node.items), cell.span)
    entries = tuple(Entry(Text(one.key.value, cell.span), _at(one.value, cell)) for one in node.entries)
    return Entries(entries, cell.span)


def placed(path: tuple[str, ...], value: Node) -> Node:
    """The value under its keys."""
    for key in reversed(path):
        value = Entries((Entry(Text(key, value.span), value),), value.span)
    return value


def laid_over(base: Node, own: Node) -> Node:
    """What all have with what one has of their own: names are joined, but bottles, days and the like are
    wholly one's own; a room for everything is the fermenting room of who has another warm place.
    """
    if not isinstance(base, Entries) or not isinstance(own, Entries):
        return own
    kept = tuple(_widened(entry, own) for entry in base.entries if not _is_replaced(entry, own))
    return nodes.overlay(replace_entries(base, kept), own)


def replace_entries(node: Entries, entries: tuple[Entry, ...]) -> Entries:
    """The same names with values, others in their place."""
    return Entries(entries, node.span)


def _is_replaced(entry: Entry, own: Entries) -> bool:
    return entry.key.value in _REPLACED and own.get(entry.key.value) is not None


def _widened(entry: Entry, own: Entries) -> Entry:
    if (
        entry.key.value != "room"
        or not isinstance(own.get("room"), Entries)
        or isinstance(entry.value, Entries)
    ):
        return entry
    return Entry(entry.key, placed(("fermenting",), entry.value))
