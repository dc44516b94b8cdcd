"""How many bottles of each kind were filled: `bottles:` under `bottled:`.

Comes in: the node there, and the rows of bottles that the batch lists.  Goes out: counts by row, and rows
that nobody had listed.
"""

from __future__ import annotations

from sheetgen import units
from sheetgen.intake import mending
from sheetgen.intake.bottles import (
    MOST_ROWS,
    TIMES,
    SizeAndKind,
    kind_of,
    parts_of,
    plain_words,
    read_size_and_kind,
)
from sheetgen.intake.forms import Place, shown
from sheetgen.model import Bottles
from sheetgen.nodes import Entry, Node, Text
from sheetgen.units import Misread

Filled = tuple[tuple[int, ...] | None, tuple[Bottles, ...]]
"""How many of each row were filled, None if that cannot be told; and rows that nobody had listed."""


def read_filled(node: Node, rows: tuple[Bottles, ...], place: Place) -> Filled:
    """How many of each row were filled; a key that fits no row is a row of its own if its kind is known, and
    else told, as is one that fits two.
    """
    counts, more = [0] * len(rows), list[Bottles]()
    good = bool(rows)
    for index, (part, entry) in enumerate(parts_of(node)):
        inside = place.at(str(index), part, str(index + 1))
        found = _filled_part(part, entry, inside)
        known = (*rows, *more)
        new = _unlisted(*found, known, inside) if found and rows and len(known) < MOST_ROWS else None
        if new is not None:
            more.append(new)
            counts.append(new.count)
            continue
        named = part if entry is not None else None
        chosen = _fitting(found[0], known, inside, named) if found and rows else None
        if found is None or chosen is None:
            good = False
        else:
            _spread(found[1], chosen, known, counts)
    return (tuple(counts) if good else None), tuple(more)


def _unlisted(found: SizeAndKind, count: int, rows: tuple[Bottles, ...], place: Place) -> Bottles | None:
    """What was filled although it was never listed: it happened, so it is taken as it is written."""
    kind = kind_of(found.words, place) if found.words else None
    if kind is None or not count or any(abs(row.ml - found.ml) < 0.5 and row.kind == kind for row in rows):
        return None
    name = f"{_size_of(found.ml)} {kind.id}"
    place.warn(
        f"no {name} stands at bottles:, yet {count} were filled; they are taken as filled",
        f"add {count} x {name} to bottles:, or correct what was filled",
    )
    return Bottles(found.ml, kind, count)


def _filled_part(part: Node, entry: Entry | None, place: Place) -> tuple[SizeAndKind, int] | None:
    if entry is not None and isinstance(part, Text):
        size, number = (
            read_size_and_kind(part.value),
            entry.value.value if isinstance(entry.value, Text) else "",
        )
    elif isinstance(part, Text) and (times := TIMES.match(part.value)):
        size, number = read_size_and_kind(times.group(2)), times.group(1)
    else:
        place.stop(f"found {shown(part)}; expected how many of which size", "write {500 ml: 10}")
        return None
    count = units.count(number)
    if isinstance(size, Misread):
        place.stop(size.message, size.fix, mending.instead(part, size.ways) if entry is not None else ())
    if isinstance(count, Misread):
        where = entry.value if entry is not None else part
        place.on(where.span).stop(
            count.message, count.fix, mending.instead(where, count.ways, count.sure) if entry else ()
        )
    return None if isinstance(size, Misread) or isinstance(count, Misread) else (size, count)


def _fitting(
    found: SizeAndKind, rows: tuple[Bottles, ...], place: Place, place_node: Node | None
) -> list[int] | None:
    """The rows of the one kind and size that is meant."""
    kind = kind_of(found.words, place)
    fits = [i for i, row in enumerate(rows) if abs(row.ml - found.ml) < 0.5 and kind in (None, row.kind)]
    names = [_name_of(rows[i]) for i in fits]
    if not fits:
        listed = ", ".join(_name_of(row) for row in rows)
        size = f"{_size_of(found.ml)} {plain_words(found.words)}".strip()
        ways = mending.instead(place_node, [_name_of(row) for row in rows]) if place_node else ()
        place.stop(f"no {size} stands at bottles:", f"listed there are: {listed}", ways)
        return None
    if len(set(names)) > 1:
        place.stop(f"this fits two kinds: {' and '.join(dict.fromkeys(names))}", f"write {names[0]}")
        return None
    return fits


def _name_of(row: Bottles) -> str:
    return f"{_size_of(row.ml)} {row.kind.id}"


def _size_of(ml: float) -> str:
    return f"{ml / 1000:g} L" if ml >= 1000 else f"{ml:g} ml"


def _spread(count: int, chosen: list[int], rows: tuple[Bottles, ...], counts: list[int]) -> None:
    """Fill rows of one kind in their order; what is over goes to the last."""
    for index in chosen[:-1]:
        taken = min(count, max(0, rows[index].count - counts[index]))
        counts[index] += taken
        count -= taken
    counts[chosen[-1]] += count
