"""A kind of drink, as its data file has it: its gate, its days, its work and its way of keeping.

Comes in: values that intake has checked.  Goes out: frozen records, which `sheetgen.model` names too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from sheetgen.records import record
from sheetgen.units import Celsius, Gravity, Volumes


@record
class Keeping:
    """How a class of drink keeps, cool and dark, counted from filling (quality, not safety).

    `percent`, `dry_hops` (g a litre): where a beer of another class keeps like this one.
    """

    id: str
    from_weeks: float
    peak_weeks: tuple[float, float]
    months: float
    percent: float | None = None
    dry_hops: float | None = None


@record
class DrinkGate:
    """What a drink's file says of its gate: days between two readings (0: nothing), the lowest usual reading
    and the highest with which it may be bottled (None: as the ingredients have it).
    """

    gap: int = 0
    low: Gravity | None = None
    high: Gravity | None = None


@record
class Job:
    """Work of a drink on given days that is no ingredient: degas, stir, strain, rack, stand it warmer.

    `days`: its usual days, one job on each.  `wakes`: it wakes the yeast, so no reading counts for three
    days.
    `loses`: the share of the batch that each leaves behind.  `quick`: somebody at home is enough.  `paced`:
    cold and strength put it off.  `apart`: least days between one and the next.  `may_wait`: days that it may
    be late, None for any.  `rest`: least days from the last of them to bottling.  `below`: it is only done in
    a room that is cooler, None in any.  `to`: how warm it then stands.
    """

    what: str
    days: tuple[int, ...]
    minutes: float = 10.0
    wakes: bool = False
    loses: float = 0.0
    quick: bool = False
    paced: bool = False
    apart: int = 0
    may_wait: int | None = None
    rest: int = 0
    below: Celsius | None = None
    to: tuple[Celsius, Celsius] | None = None


@record
class Drink:
    """A kind of drink, as data: its finish, its gate, its gas, its days, its work and its way of keeping.

    `ferments_out`: its sugar can ferment out completely, so the finish and the ceiling follow that rule.
    `days`: base days at 20-22 C and up to OG 1.055, by name: test-1-earliest, test-1, test-2-gap, bottle-
    earliest,
    bottle, bottle-latest, ferment-over, hops-earliest, hops-before-test-1, hops-before-bottling.
    `gravity`: what is usual before the yeast goes in.  `wait_days`: least days from filling to the first
    glass.  `cold_days`: days in the cold between the last reading and bottling, unless the batch says others.
    `smells`: what it may smell of while it works, for the trouble card.
    """

    id: str
    primed: bool
    ferments_out: bool
    target: Volumes
    pitch: tuple[Celsius, Celsius]
    vessel_full: float
    days: Mapping[str, float]
    keeping: Keeping
    cautions: tuple[str, ...] = ()
    gate: DrinkGate = field(default_factory=DrinkGate)
    gravity: tuple[Gravity, Gravity] | None = None
    wait_days: int = 0
    jobs: tuple[Job, ...] = ()
    cold_days: int = 0
    smells: tuple[str, ...] = ()
