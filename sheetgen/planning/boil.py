"""The boil: how strong the wort in the pot is, and the bitterness that the hops give in it.

Comes in: a `Batch`, its `Scaled` amounts and the water in the pot.  Goes out: gravities of the pot, IBU.
"""

from __future__ import annotations

from sheetgen.brewing import bitterness
from sheetgen.model import Batch, Ingredient
from sheetgen.planning.additions import quantity_of
from sheetgen.planning.kitchen import POT_STAGES, boiled_off, load_of
from sheetgen.planning.plan import Use
from sheetgen.planning.scaling import Scaled
from sheetgen.records import record

LEAST_END_L = 0.05
"""A pot that has boiled all but dry: a rule stops it, the formulas go no further."""
MOST_SG, MOST_ALPHA, MOST_MINUTES = 1.130, 25.0, 120.0
"""What the formulas go up to."""


@record
class Boil:
    """The boiling pot: litres of water at both ends of its minutes, and what goes in when."""

    start_l: float
    end_l: float
    minutes: float
    parts: tuple[bitterness.PotPart, ...]

    def mean_sg(self, minutes: float) -> float:
        """Mean gravity over the last `minutes`."""
        last = min(self.minutes, minutes)
        return bitterness.mean_pot_sg(self.parts, self.start_l, self.end_l, self.minutes, last)


def _pairs(scaled: Scaled) -> list[tuple[Ingredient, Use]]:
    return list(zip(scaled.ingredients, scaled.uses, strict=True))


def _pot_part(part: Ingredient, use: Use, boil: float) -> bitterness.PotPart:
    kilograms = quantity_of(part.item, use.amount)
    left = min(boil, part.when.minutes) if part.when.stage == "boil" else boil
    return bitterness.PotPart(kilograms * part.item.points, kilograms * part.item.litres_each, left)


def boil_of(batch: Batch, scaled: Scaled, hot_l: float) -> Boil | None:
    """The boil that begins with so many litres of water, less what the grain took out; None without one."""
    minutes = batch.recipe.boil_minutes
    if not minutes or hot_l <= 0:
        return None
    steam = boiled_off(batch)
    end = max(LEAST_END_L, hot_l - load_of(batch, scaled).kept_litres - steam)
    parts = tuple(
        _pot_part(part, use, minutes)
        for part, use in _pairs(scaled)
        if part.when.stage in POT_STAGES and part.item.role not in ("hops", "juice")
    )
    return Boil(end + steam, end, minutes, parts)


def mean_pot_gravity(batch: Batch, scaled: Scaled, hot_l: float) -> float | None:
    """Mean gravity of the pot over the whole boil; None without one."""
    boil = boil_of(batch, scaled, hot_l)
    return boil.mean_sg(boil.minutes) if boil else None


def bitterness_ibu(batch: Batch, scaled: Scaled, hot_l: float) -> float | None:
    """Estimated bitterness, only when every boiled hop states its alpha acid and the recipe is boiled.

    Each addition meets the mean gravity of the pot over its own minutes: late extract thins the wort that the
    early hops boil in.  Hops off the heat count nothing; the height of the kitchen is left out, as practice
    does.
    """
    boil = boil_of(batch, scaled, hot_l)
    pairs = [
        (part, use) for part, use in _pairs(scaled) if part.item.role == "hops" and part.when.stage == "boil"
    ]
    if not pairs or boil is None or any(part.alpha_percent is None for part, _ in pairs):
        return None
    return sum(
        bitterness.ibu(
            use.amount,
            min(MOST_ALPHA, part.alpha_percent or 0.0),
            min(MOST_MINUTES, boil.minutes, part.when.minutes),
            scaled.litres,
            min(MOST_SG, boil.mean_sg(part.when.minutes)),
        )
        for part, use in pairs
    )
