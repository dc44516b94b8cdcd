"""What the steps of one brew day speak of, and the ways of saying an amount.

Comes in: a `Batch` and what was worked out for it.  Goes out: `BrewDay`, single steps.
"""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.brewing import rounding
from sheetgen.model import Batch
from sheetgen.planning.plan import Amount, Cleaning, Step, Use, WaterPlan
from sheetgen.planning.scaling import Scaled
from sheetgen.planning.strength import Strength
from sheetgen.planning.yeast_plan import YeastPlan
from sheetgen.problems import said
from sheetgen.records import record


@record
class BrewDay:
    """Everything that the steps of one brew day speak of."""

    batch: Batch
    scaled: Scaled
    water: WaterPlan
    found: Strength
    yeast: YeastPlan
    cleaning: tuple[Cleaning, ...]

    @property
    def boiled(self) -> bool:
        """Whether wort is boiled."""
        return bool(self.batch.recipe.boil_minutes)

    @property
    def more_comes(self) -> bool:
        """Whether what goes in on a later day raises the level by as much as a litre's printed tenth."""
        return rounding.litres(self.scaled.later_l) > 0

    def uses(self, *stages: str, roles: Iterable[str] = ()) -> list[Use]:
        """What goes in at these stages, in the recipe's order; only these roles, if any are named."""
        wanted = tuple(roles)
        return [use for use in self.scaled.uses if use.stage in stages and (not wanted or use.role in wanted)]


def amount_of(use: Use) -> Amount:
    """A use's number as printed: juices of a litre and more in litres."""
    if use.unit == "ml" and use.amount >= 1000:
        return Amount(use.amount / 1000, "L")
    return Amount(use.amount, "g" if use.unit == "g" else "ml" if use.unit == "ml" else "piece")


def stir_in(use: Use, group: str) -> Step:
    """Stir an ingredient in; sticky ones scald."""
    liquid = use.role in ("extract", "honey") and "liquid" in use.id
    sentence = "step.stir-in-liquid" if liquid else "step.stir-in"
    return Step(
        said(sentence, name=use.name),
        group,
        amount_of(use),
        caution="hot-wort" if liquid else None,
        minutes=5.0,
    )
