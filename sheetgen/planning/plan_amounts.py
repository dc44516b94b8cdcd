"""The part of the plan that says how much: ingredients, water, strength.

Comes in: what the other modules of planning worked out.  Goes out: records that `Plan` is made of; see
`sheetgen.planning.plan` for their units.
"""

from __future__ import annotations

from typing import Literal

from sheetgen.model import KeptHow, WholePacks
from sheetgen.planning.plan_water import WaterPlan
from sheetgen.records import record


@record
class GravityRange:
    """Where the drink is expected to end, in SG."""

    low: float
    expected: float
    high: float


@record
class DrinkUnits:
    """How many of a country's drink units ("unit", "standard drink") so many millilitres count for."""

    country: str
    name: str
    ml: float
    units: float


@record
class Use:
    """One ingredient of this batch: what to use, in `unit`, and how many packs to buy with what is left.

    `pack` is the size if there is only one; `pack_mix` has (packs, size) for each size that is bought.  What
    is used at several times is bought together: see `Purchase`.
    """

    id: str
    name: str
    amount: float
    unit: str
    stage: str
    minutes: float
    day: int
    packs: int | None
    pack: float | None
    left: float
    role: str
    pack_mix: tuple[tuple[int, float], ...] = ()


@record
class Purchase:
    """One thing to buy, for all its uses: `amount` is used, `bought` is what the packs hold, `left` the rest.
    Sold loose, `packs` is None and nothing is left.  `sizes`: of the packs that there are.  `keeps_days` and
    `keeps_how` (cold, dry, frozen) say how long an opened pack keeps, None if the pantry does not know.
    """

    id: str
    name: str
    role: str
    unit: str
    amount: float
    packs: int | None
    pack_mix: tuple[tuple[int, float], ...]
    bought: float
    left: float
    keeps_days: int | None
    keeps_how: KeptHow | None
    sizes: tuple[float, ...] = ()


@record
class PackChoice:
    """What one way of treating packs ("exact", "volume-follows", "strength-follows") comes to: litres in the
    fermenter, strength, what is bought, what is left of that which carries gravity, and how many bottles it
    fills.  `stopped_by`: why it cannot be: "litres" (no batch of a possible size, or more goes in
    than the batch has litres), "vessel" (too full),
    "strength" (too strong), or None.
    """

    way: WholePacks
    chosen: bool
    litres: float
    original_gravity: float
    percent_by_volume: float
    packs: int
    left_g: float
    left_ml: float
    bottles: int
    stopped_by: Literal["litres", "vessel", "strength"] | None
    purchases: tuple[Purchase, ...]


@record
class PackFill:
    """What so many whole packs would fill: `litres` in the fermenter, and bottles of the size asked for.
    `pack_mix` has (packs, size), of everything that carries gravity.
    """

    packs: int
    litres: float
    bottles: int
    pack_mix: tuple[tuple[int, float], ...]


@record
class Quantities:
    """How much, how strong, how dark, how bitter: the numbers of the batch.

    `litres` and `original_gravity` are of all that goes in; `mark_l` and `brewed_gravity` of what is in the
    vessel on brew day: a reading of that day is held against the latter.

    `percent_by_volume` counts the priming sugar, the duty table's and the quick rule's do not; all rest on
    the gravity `percent_final`, which is "expected" or "measured".
    """

    litres: float
    original_gravity: float
    original_low: float
    original_high: float
    final_gravity: GravityRange
    ceiling_gravity: float
    percent_by_volume: float
    percent_duty: float
    percent_quick: float
    percent_from_priming: float
    percent_final: float
    percent_final_is: str
    drink_units: tuple[DrinkUnits, ...]
    bitterness_ibu: float | None
    colour_ebc: float | None
    swatch: str
    ingredients: tuple[Use, ...]
    water: WaterPlan
    yeast_packs: int
    yeast_grams: float
    yeast_pack_g: float
    yeast_name: str
    loss_l: float
    bottling_l: float
    measured_original: float | None
    yeast_low_g: float = 0.0
    yeast_high_g: float = 0.0
    yeast_factor: float = 1.0
    sulphites_mg_per_litre: float = 0.0
    asked_l: float = 0.0
    mark_l: float = 0.0
    brewed_gravity: float = 0.0
    yeast_left_g: float = 0.0
    purchases: tuple[Purchase, ...] = ()
    pack_choices: tuple[PackChoice, ...] = ()
    pack_fills: tuple[PackFill, ...] = ()
