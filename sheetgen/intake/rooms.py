"""Where the batch stands: a temperature, a range, or fermenting, warm-place and storing; each by dates too.

Comes in: the form of a batch.  Goes out: `model.Room`, with the assumptions that fill its gaps.  By dates is
`[19 C, {from: 2027-05-01, at: 33 C}]`: what holds first, then from which day what holds instead.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import pairwise

from sheetgen.intake.batch_tables import ROOM, SPELL
from sheetgen.intake.forms import Desk, Form, Place, read_form
from sheetgen.intake.kinds import KINDS
from sheetgen.model import Room, Warmth
from sheetgen.model.room import Range
from sheetgen.nodes import Entries, Items, Node, Text
from sheetgen.problems import said
from sheetgen.records import record
from sheetgen.units import Celsius, Misread

ROOM_DEFAULT = (Celsius(18.0), Celsius(18.0))
MOST_SPELLS = 12
_KINDS = {"fermenting": "room-range", "warm-place": "room", "storing": "room"}
_EXAMPLES = {"fermenting": "15-20 C", "warm-place": "21 C", "storing": "12 C"}
_SINGLE = "19 C"
_BY_DATES = "write [19 C, {from: 2027-05-01, at: 33 C}]: first what holds now, then the dates in order"


@record
class PlaceSaid:
    """What was said of one place: what holds first, None if nothing does, and then by dates."""

    first: Range | None = None
    later: tuple[Warmth, ...] = ()


@record
class RoomSaid:
    """What was said of the room; None of a place that is not named."""

    fermenting: PlaceSaid | None = None
    warm_place: PlaceSaid | None = None
    storing: PlaceSaid | None = None


def read_room(form: Form) -> RoomSaid:
    """One temperature, range or list by dates for everything, or a map of them."""
    node, place = form.values.get("room"), form.place_of("room")
    if node is None:
        return RoomSaid()
    if not isinstance(node, Entries) or node.get("from") is not None:
        place.desk.where["room.fermenting"] = node.span
        return RoomSaid(_read_place(node, place, "fermenting", "room"))
    inside = read_form(node, ROOM, place)
    return RoomSaid(*(_named(inside, key) for key in _KINDS))


def _named(form: Form, key: str) -> PlaceSaid | None:
    node = form.values.get(key)
    return None if node is None else _read_place(node, form.place_of(key), key, key)


def _read_place(node: Node, place: Place, kind: str, key: str) -> PlaceSaid:
    """A single value, or a list by dates."""
    if isinstance(node, Text):
        return PlaceSaid(_read_air(node, place, kind, key))
    parts = node.items if isinstance(node, Items) else (node,)
    if len(parts) > MOST_SPELLS:
        place.stop(f"{len(parts)} entries at {key}: are too many", f"write at most {MOST_SPELLS}")
        return PlaceSaid()
    first, dated = None, parts
    if parts and isinstance(parts[0], Text):
        first, dated = _read_air(parts[0], place.on(parts[0].span), "fermenting", key), parts[1:]
    later = [_read_spell(part, place.at(str(index), part, str(index))) for index, part in enumerate(dated, 1)]
    found = tuple(one for one in later if one)
    if not dated or any(one.on >= other.on for one, other in pairwise(found)):
        place.stop(f"the dates at {key}: are missing, or not in their order", _BY_DATES)
        return PlaceSaid(first)
    return PlaceSaid(first, found)


def _read_air(node: Text, place: Place, kind: str, key: str) -> Range | None:
    value = KINDS[_KINDS[kind]].reader(node.value)
    if isinstance(value, Misread):
        place.refuse(value, node, _SINGLE, f"write {key}: {_EXAMPLES[kind]}")
        return None
    low, high = value if isinstance(value, tuple) else (value, value)
    return Celsius(low), Celsius(high)


def _read_spell(node: Node, place: Place) -> Warmth | None:
    if not isinstance(node, Entries):
        place.stop("only the first temperature stands without its date", _BY_DATES)
        return None
    inside = read_form(node, SPELL, place)
    on, air = inside.values.get("from"), inside.values.get("at")
    return Warmth(on, *air) if on and air else None


def room_of(found: RoomSaid, desk: Desk) -> Room:
    """The room; what was not said is taken from the fermenting room, on its cautious side."""
    bucket = found.fermenting or PlaceSaid()
    low, high = bucket.first or ROOM_DEFAULT
    if bucket.first is None:
        desk.assume("room.fermenting", said("assume.room", celsius=low))
    shelf = found.warm_place or replace(bucket, first=None)
    warm, _ = shelf.first or (low, low)
    if shelf.first is None:
        desk.assume("room.warm-place", said("assume.warm-place", celsius=warm))
    store = found.storing or replace(bucket, first=None)
    _, storing = store.first or (high, high)
    if store.first is None:
        desk.assume("room.storing", said("assume.storing", celsius=storing))
    return Room(
        (low, high),
        warm,
        storing,
        bucket=_spells((low, high), bucket),
        shelf=_spells((warm, warm), shelf),
        store=_spells((storing, storing), store),
    )


def _spells(first: Range, found: PlaceSaid) -> tuple[Warmth, ...]:
    """What holds first and what holds from each day on; nothing where that never changes."""
    return (Warmth(date.min, *first), *found.later) if found.later else ()
