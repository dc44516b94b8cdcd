"""The sulphite in a batch, and the allergens that follow.

Comes in: a `Batch` and its scaled amounts.  Goes out: milligrams a litre, and what a label must name.
"""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.brewing import doses
from sheetgen.model import Batch, PantryItem
from sheetgen.planning.scaling import Scaled

SULPHITES = "sulphites"
MOST_MG = 1e6
"""What the formula goes up to; it is no drink any more."""


def mg_per_litre(batch: Batch, scaled: Scaled) -> float:
    """Sulphur dioxide from everything that went in and goes in, all of it taken to stay in the drink."""
    each = {part.item.id: part.item.sulphite_mg for part in batch.recipe.ingredients}
    total = sum(use.amount * each.get(use.id, 0.0) for use in scaled.uses)
    total += sum(entry.amount * entry.what.sulphite_mg for entry in batch.actual.added if entry.what)
    return min(MOST_MG, total / scaled.litres)


def _items(batch: Batch) -> Iterable[PantryItem | None]:
    yield from (part.item for part in batch.recipe.ingredients)
    yield from (entry.what for entry in batch.actual.added)


def _named(item: PantryItem) -> set[str]:
    """What it must be declared for by itself: sulphite of a known amount is summed instead."""
    return set(item.allergens or ()) - ({SULPHITES} if item.sulphite_mg else set())


def allergens_of(batch: Batch, sulphites_mg: float) -> tuple[tuple[str, ...], bool]:
    """The allergens of everything that went in, and whether all of them are known."""
    items = list(_items(batch))
    known = all(item is not None and item.allergens is not None for item in items)
    named = {name for item in items if item is not None for name in _named(item)}
    if doses.must_be_declared(sulphites_mg):
        named.add(SULPHITES)
    return tuple(sorted(named)), known
