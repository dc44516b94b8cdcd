"""Pack sizes: what an ingredient is sold in, in a recipe or for all of a batch.

Comes in: the node at `pack:` of an ingredient (a size, or a list of sizes), or at `packs:` of a batch (names
with sizes).  Goes out: sizes in grams, millilitres or pieces, largest first; or the recipe with the batch's
sizes in place of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from sheetgen.intake import mending, pantry
from sheetgen.intake.forms import Form, Place, shown
from sheetgen.model import AmountUnit, Ingredient, PantryItem, Recipe
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import did_you_mean, nearest
from sheetgen.units import Misread

Sizes = tuple[float, ...]

MOST_SIZES = 4
SMALLEST, LARGEST = 0.1, 100_000.0
"""Grams or ml of one pack: from a sachet of saffron to a drum."""


def read_sizes(node: Node, place: Place, item: PantryItem) -> Sizes:
    """The sizes that stand at `node`, in the unit of that ingredient; what cannot be read is told."""
    parts = node.items if isinstance(node, Items) else (node,)
    if not 1 <= len(parts) <= MOST_SIZES:
        place.stop(f"{len(parts)} pack sizes of one thing", f"write 1 to {MOST_SIZES} sizes")
        return ()
    found = [
        _size(part, place.at(str(at), part) if isinstance(node, Items) else place, item)
        for at, part in enumerate(parts)
    ]
    return tuple(sorted({size for size in found if size is not None}, reverse=True))


def _size(node: Node, place: Place, item: PantryItem) -> float | None:
    how, example = pantry.HOW_MEASURED[item.unit]
    if not isinstance(node, Text):
        place.stop(f"found {shown(node)}; expected a pack size", f"write {example}, or a list of sizes")
        return None
    found: tuple[float, AmountUnit] | Misread = pantry.read_amount(node.value)
    if isinstance(found, Misread):
        place.refuse(found, node, example)
    elif found[1] != item.unit:
        ways = mending.instead(node, [example])
        place.stop(f"{item.id} is measured {how}; found {shown(node)}", f"write {example}, for example", ways)
    elif not SMALLEST <= found[0] <= LARGEST:
        place.stop(f"a pack of {node.value[:40]} is not possible here", f"write {example}, for example")
    else:
        return float(found[0])
    return None


def with_packs(recipe: Recipe | None, form: Form) -> Recipe | None:
    """The recipe, sold in the sizes that the batch states: by what the recipe calls a thing, or else by its
    name in the pantry.  A name of the pantry that the recipe does not use changes nothing,
    and a note says so.
    """
    node = form.values.get("packs")
    if node is None:
        return recipe
    if not isinstance(node, Entries):
        found = f"found {shown(node)}; expected names with their sizes"
        ways = mending.instead(node, ["{hops: 50 g}"])
        form.place_of("packs").stop(found, "write packs: {hops: 50 g}", ways)
        return recipe
    parts = recipe.ingredients if recipe else ()
    sizes = dict(_read_entry(entry, form.place_of("packs"), parts) for entry in node.entries)
    if recipe is None:
        return None
    return replace(recipe, ingredients=tuple(_sold(part, sizes) for part in parts))


def _tidy(name: str) -> str:
    return " ".join(name.lower().split())


def _sold(part: Ingredient, sizes: Mapping[str, Sizes]) -> Ingredient:
    found = sizes.get(_tidy(part.name)) or sizes.get(part.item.id)
    return replace(part, packs=found) if found else part


def _read_entry(entry: Entry, place: Place, parts: tuple[Ingredient, ...]) -> tuple[str, Sizes]:
    """The name that the sizes are for, as the recipe calls it or as the pantry does; with them."""
    name = entry.key.value
    inside = place.at(name[:40], entry.value)
    called = next((part for part in parts if _tidy(part.name) == _tidy(name)), None)
    item: Any = called.item if called else pantry.ingredients(place.desk.beside).find(name)
    if item is None:
        _unknown(entry.key, inside.on(entry.key.span), parts)
        return "", ()
    if parts and called is None and all(part.item.id != item.id for part in parts):
        inside.on(entry.key.span).note(f"{item.id} is not in this recipe: its pack size changes nothing")
    return (_tidy(name) if called else item.id), read_sizes(entry.value, inside, item)


def _unknown(key: Text, place: Place, parts: tuple[Ingredient, ...]) -> None:
    name = key.value
    own = tuple(dict.fromkeys(part.name for part in parts))
    shelf = pantry.ingredients(place.desk.beside).names()
    fix = did_you_mean(name, own) or did_you_mean(name, shelf) or f"write one of: {', '.join(own or shelf)}"
    near = nearest(name, own) or nearest(name, shelf)
    message = f'neither the recipe nor the pantry has "{name[:60]}"'
    place.stop(message, fix, mending.key_instead(key, near))
