"""Rooms that change by dates, cut down to what holds for one batch.

Comes in: a `Batch` whose room may have dates.  Goes out: the same batch with the range of the fermenting room
while it ferments, the places of its bottles from the day they are filled, and the days on which a rise in
warmth wakes the yeast.  Every cut is on the cautious side: the coolest day of a window decides a wait.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.brewing import rounding
from sheetgen.model import Batch, Room, Warmth
from sheetgen.planning.drink_limits import gap_days
from sheetgen.planning.planner import Pace, fizz_of, pace_of, pitched_on
from sheetgen.units import Celsius

RISE_C = 2.0
"""A rise of the room by so much wakes the yeast, as a warm-up does (cautious judgement, no source)."""


def _air(spells: tuple[Warmth, ...], first: date, last: date) -> list[Warmth]:
    """What holds on any day from the first to the last."""
    ends = [*(one.on for one in spells[1:]), date.max]
    return [one for one, end in zip(spells, ends, strict=True) if one.on <= last and end > first]


def _range(spells: list[Warmth]) -> tuple[Celsius, Celsius]:
    return min(one.low for one in spells), max(one.high for one in spells)


def _emptied(batch: Batch, original: float, pitched: date) -> date:
    """The day on which the fermenting room is no longer needed: the usual one for bottling at its coolest."""
    if batch.actual.bottled:
        return max(pitched, batch.actual.bottled.on)
    coolest = _range(_air(batch.room.bucket, pitched, date.max))
    pace = pace_of(replace(batch, room=replace(batch.room, fermenting=coolest)), original)
    return pitched + timedelta(days=pace.usual(float(batch.recipe.drink.days.get("bottle", 0.0))))


def cut_to_the_batch(batch: Batch, original: float) -> Batch:
    """The batch with the fermenting room as a range over its own days; without dates, the batch itself."""
    if not batch.room.bucket:
        return batch
    pitched = pitched_on(batch)
    held = _air(batch.room.bucket, pitched, _emptied(batch, original, pitched))
    return replace(batch, room=replace(batch.room, fermenting=_range(held)))


def filled_on(batch: Batch, filled: date) -> Batch:
    """The batch with its bottles in the warm place from that day, and in the store when the fizz is done."""
    room = replace(batch.room, filled=filled, warm_place=batch.room.warm_place_on(filled))
    moved = filled + timedelta(days=rounding.waiting_days(fizz_of(room)))
    return replace(batch, room=replace(room, storing=room.storing_on(moved)))


def rises(room: Room, pitched: date) -> list[tuple[date, float]]:
    """Days after pitching on which the fermenting room is 2 C warmer than at its coolest, and to what."""
    held = _air(room.bucket, pitched, date.max) if room.bucket else []
    found = []
    for place, spell in enumerate(held[1:], 1):
        before, coolest = held[place - 1], _range(held[:place])[0]
        warmer = spell.low > before.low or spell.high > before.high
        if warmer and max(spell.low - coolest, spell.high - max(coolest, before.high)) >= RISE_C:
            found.append((spell.on, float(spell.low)))
    return found


def settled_day(batch: Batch, pace: Pace, pitched: date, first: int, rest: int) -> int | None:
    """The day number on which the yeast has settled after the last rise before bottling, None without one.

    `first`: the usual day of the first reading, `rest`: days from a rise to it.  A reading that moves takes
    bottling with it, which may bring the next rise into reach.
    """
    bottle = max(pace.usual(float(batch.recipe.drink.days.get("bottle", 0.0))), first + gap_days(batch))
    found = None
    for on, _celsius in rises(batch.room, pitched):
        risen = (on - pitched).days
        if risen <= bottle:
            found = risen + rest
            bottle = max(bottle, found + gap_days(batch))
    return found


def steady_since(room: Room, pitched: date, celsius: float) -> int | None:
    """Day number from which the fermenting room is at least so warm and stays so, None if it does not."""
    if room.fermenting[0] >= celsius:
        return 0
    found = None
    for spell in _air(room.bucket, pitched, date.max) if room.bucket else ():
        found = (found or max(0, (spell.on - pitched).days)) if spell.low >= celsius else None
    return found


def warmest_stays(room: Room, filled: date, moved: date, until: date) -> Iterator[tuple[date, date, float]]:
    """What the bottles meet, from which day up to which: the warm place until they are moved, then the store.
    Places that never change are left out: they were chosen.
    """
    for spells, first, last in ((room.shelf, filled, moved), (room.store, moved, until)):
        held = _air(spells, first, last) if spells else []
        ends = [*(one.on for one in held[1:]), last]
        for one, end in zip(held, ends[: len(held)], strict=True):
            yield max(first, one.on), end, float(one.high)


def store_spells(room: Room, filled: date | None = None) -> list[tuple[int, float]]:
    """The store from the day of filling, which the room knows: from which day after it how warm."""
    filled = filled or room.filled
    if not room.store or filled is None:
        return [(0, float(room.storing))]
    return [(max(0, (one.on - filled).days), float(one.high)) for one in _air(room.store, filled, date.max)]


def coldest_shelf(room: Room, filled: date, moved: date) -> float:
    """The warm place at its coldest while the bottles stand there."""
    return float(_range(_air(room.shelf, filled, moved))[0]) if room.shelf else float(room.warm_place)
