"""What went into the fermenter after brew day, and what an amount brings along.

Comes in: a `Batch`.  Goes out: kilograms and litres, as the pantry counts points and volume.
"""

from __future__ import annotations

from sheetgen.model import Batch, PantryItem

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


def added_litres(batch: Batch) -> float:
    """Litres that late additions brought along."""
    brought = sum(quantity_of(item, amount) * item.litres_each for item, amount in added_amounts(batch))
    return min(MOST_LITRES, brought)
