"""What the gate asks of this drink: days between readings, and where a drink that ferments out may end.

Comes in: a `Batch`.  Goes out: days, and gravities.  The ingredients decide (honey is slow, a still drink is
closed for years); a drink's file may ask for more, never for less.
"""

from __future__ import annotations

from sheetgen.brewing import fermentation, gravity
from sheetgen.model import Batch, Ingredient

MEAD_SHARE = 0.5
"""From this share of its points on, honey makes a mead (our own line, no source)."""
COLDEST_C, WARMEST_C = 4.0, 40.0


def _points(part: Ingredient) -> float:
    return part.amount * part.item.points if part.item.unit in ("g", "ml") else 0.0


def is_mead(batch: Batch) -> bool:
    """Whether half of what ferments, or more, is honey."""
    parts = batch.recipe.ingredients
    honey = sum(_points(part) for part in parts if part.item.role == "honey")
    return honey > 0 and honey >= MEAD_SHARE * sum(_points(part) for part in parts)


def gap_days(batch: Batch) -> int:
    """Least days between two readings that may be compared."""
    room = min(WARMEST_C, max(COLDEST_C, float(batch.room.fermenting[0])))
    drink, skin = batch.recipe.drink, batch.actual.skin_seen
    gaps = [drink.gate.gap, fermentation.gap_days(room, "mead" if is_mead(batch) else "ordinary", skin)]
    gaps += [] if drink.primed else [fermentation.gap_days(room, "still", skin)]
    return max(gaps)


def dry_range(batch: Batch) -> gravity.FinalRange:
    """Where a drink that ferments out ends, in SG; its high is its ceiling too."""
    drink = batch.recipe.drink
    usual = gravity.fully_fermented_range(mead=is_mead(batch), still=not drink.primed)
    high = min(usual.high, float(drink.gate.high or usual.high))
    low = min(high, float(drink.gate.low or usual.low))
    return gravity.FinalRange(low, min(high, max(low, usual.expected)), high)
