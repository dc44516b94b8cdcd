"""The part of the plan that says how it is bottled: gas, sugar, bottles.

Comes in: what the other modules of planning worked out.  Goes out: records that `Plan` is made of; see
`sheetgen.planning.plan` for their units.
"""

from __future__ import annotations

from typing import Literal

from sheetgen.records import record

Verdict = Literal["fine", "warn", "refuse"]


@record
class Pressure:
    """Gauge pressure in a closed bottle at a temperature, without and with the air that was sealed in."""

    celsius: float
    gauge_bar: float
    with_air_bar: float


@record
class Dose:
    """The sugar for one size of bottle: printed grams (0.1, rounded down), the exact figure, level teaspoons
    (quarters; None where a spoon would be unsafe), and the gas it makes at full yield.

    `syrup_ml` and `pieces_each` are set for those ways of dosing; `given_g` is the sugar that the chosen way
    really gives, `volumes_practice` the gas that this usually makes.  `warn_volumes` and `limit_volumes` are
    those of the bottle (None: not made for pressure), `verdict` what full yield says to them.
    `teaspoons_low_volumes` and `_high_` are what a fifth less or more on each spoon makes.
    """

    ml: float
    kind: str
    count: int
    grams_each: float
    grams_exact: float
    teaspoons_each: float | None
    volumes_upper: float
    given_g: float = 0.0
    volumes_practice: float = 0.0
    warn_volumes: float | None = None
    limit_volumes: float | None = None
    verdict: Verdict = "fine"
    teaspoons_low_volumes: float | None = None
    teaspoons_high_volumes: float | None = None
    syrup_ml: float | None = None
    pieces_each: int | None = None


@record
class Syrup:
    """Syrup to dose with a syringe: boil `sugar_g` in `water_ml`, top it up to `makes_ml` when it is cold;
    one dose of `spare_ml` is left.
    """

    grams_per_ml: float
    sugar_g: float
    water_ml: float
    makes_ml: float
    spare_ml: float


@record
class WhatIf:
    """What one thing that is not as planned does to the tightest bottle: volumes and bar it adds, the gas
    that results, and what the bottle says to it.
    """

    id: str
    volumes_added: float
    bar_added_20: float
    bar_added_30: float
    volumes: float
    bar_20: float
    bar_30: float
    kind: str
    limit_volumes: float
    verdict: Verdict


@record
class Rung:
    """One line of the ladder: sugar for so many litres in the bottling vessel."""

    litres: float
    grams: float


@record
class Carbonation:
    """Gas and sugar: what is wanted, what is left, the dose for each size, and the limits of the bottles."""

    target_volumes: float
    warmest_c: float
    residual_volumes: float
    sugar: str
    dosing: str
    g_per_litre: float
    total_g: float
    syrup_water_ml: float
    limit_volumes: float
    warn_volumes: float
    weakest: str
    highest_volumes: float
    pressures: tuple[Pressure, ...]
    sizes: tuple[Dose, ...]
    ladder: tuple[Rung, ...]
    one_point_volumes: float
    syrup: Syrup | None = None
    piece_g: float | None = None
    what_ifs: tuple[WhatIf, ...] = ()


@record
class BottleRow:
    """One size and kind: in hand, to prepare (with spares), to fill, missing.  `numbers` are the first and
    last bottle number of the row in fill order, (0, 0) if none is filled.
    """

    ml: float
    kind: str
    have: int
    need: int
    fill: int
    short: int
    numbers: tuple[int, int]
    glass: bool
    what_for: str


@record
class OddBottle:
    """The last plastic bottle, part filled: `ml` go into one of `bottle_ml`, with sugar (g, rounded down) for
    what is in it; 0 if the sugar is in the drink already.  `number` follows the full bottles'.
    """

    ml: float
    bottle_ml: float
    kind: str
    grams: float
    number: int


@record
class Way:
    """One way to hold what has no bottle: so many more of a size and kind.  `at_hand`: such bottles are
    listed in the batch; else a common size.
    """

    ml: float
    kind: str
    count: int
    at_hand: bool


@record
class BottlePlan:
    """All rows of bottles, with what has to be prepared, capped and labelled.

    `prepare_l`: litres that bottles are prepared for, more than will probably be filled.  `last_ml`: left
    beside the full bottles and those that are missing, `more_needed` of the last row's size.  `more_ways`:
    what would hold all that has no bottle, the row that is short first.
    """

    rows: tuple[BottleRow, ...]
    filled: int
    spares: int
    crown_caps: int
    labels: int
    last_ml: float
    unhoused_l: float
    more_needed: int
    test_bottle: int
    fill_by: str = "in-order"
    prepare_l: float = 0.0
    odd: OddBottle | None = None
    more_ways: tuple[Way, ...] = ()
    corks: int = 0

    @property
    def numbered(self) -> int:
        """How many bottles have a number: the full ones, and the odd one after them."""
        return self.filled + (self.odd is not None)
