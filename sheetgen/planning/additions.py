"""What goes into the fermenter after brew day, and what an amount brings along.

Comes in: a `Batch`, or the lines of its recipe.  Goes out: kilograms and litres, as the pantry counts points
and volume.
"""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.model import Batch, Ingredient, PantryItem

LATER_STAGES = ("day", "dry-hop", "rack")
"""What goes in at these comes after brew day."""
MOST_LITRES = 1000.0
"""What the formulas go up to; additions beyond it are reckoned as far as that."""


def quantity_of(item: PantryItem, amount: float) -> float:
    """Kilograms, or litres of a juice: what the pantry's points count by."""
    return amount / 1000 if item.unit in ("g", "ml") else 0.0


def added_amounts(batch: Batch) -> list[tuple[PantryItem, float]]:
    """What the file says went in besides the recipe, with its amount; what the pantry does not know is left
    out.
    """
    return [(entry.what, entry.amount) for entry in batch.actual.added if entry.what is not None]


def litres_of(item: PantryItem, amount: float) -> float:
    """Litres that an amount makes in the vessel."""
    return quantity_of(item, amount) * item.litres_each


def later_litres(amounts: Iterable[tuple[Ingredient, float]]) -> float:
    """Litres that the recipe brings after brew day, from each line and its amount in this batch."""
    brought = sum(litres_of(part.item, amount) for part, amount in amounts if is_later(part))
    return min(MOST_LITRES, brought)


def is_later(part: Ingredient) -> bool:
    """Whether a line of the recipe goes in after brew day."""
    return part.when.stage in LATER_STAGES


def added_litres(batch: Batch) -> float:
    """Litres that late additions brought along."""
    brought = sum(litres_of(item, amount) for item, amount in added_amounts(batch))
    return min(MOST_LITRES, brought)
