"""Cleaner and sanitiser: how much to mix for what has to be wet, and a dose that can be measured.

In: litres, bottles, a product's dose for a litre. Out: litres, doses. Common practice, no source, throughout;
the label of the product in hand always wins.
"""

from itertools import count

from .ranges import require
from .rounding import as_decimal, down_to, up_to

SMALL_GEAR_L = 2.0
LEAST_VESSEL_L, VESSEL_SHARE = 2.0, 0.1
LEAST_BOTTLES_L, EACH_BOTTLE_L = 3.0, 0.06
HALF_LITRE = 0.5
LEAST_STRENGTH, MOST_STRENGTH = 0.95, 1.03

Steps = tuple[tuple[float, float], ...]
"""(below this dose, measured in this step), the smallest first; the last step holds above."""


def vessel_litres(holds: float) -> float:
    """Litres to swirl round a vessel that `holds` so many litres: a tenth, at least 2 L.

    Range: 0.1 to 1000 L. Common practice, no source.
    """
    require("vessel", holds, 0.1, 1000.0, "L")
    return max(LEAST_VESSEL_L, VESSEL_SHARE * holds)


def bottles_litres(bottles: int) -> float:
    """Litres that go from bottle to bottle: 60 ml for each, at least 3 L; none for none.

    Range: 0 to 1e6 bottles. Common practice, no source.
    """
    require("bottles", bottles, 0, 1_000_000)
    return max(LEAST_BOTTLES_L, EACH_BOTTLE_L * bottles) if bottles else 0.0


def brew_day_litres(vessel_l: float) -> float:
    """Litres for a vessel of so many litres and a bowl of small gear, up to the next half litre.

    Gives the 4 to 5 L that are usual for batches of 5 to 20 L. Range as `vessel_litres`. Common practice, no
    source.
    """
    return up_to(vessel_litres(vessel_l) + SMALL_GEAR_L, HALF_LITRE)


def bottling_day_litres(bottles: int, vessel_l: float = 0.0) -> float:
    """Litres for so many bottles and a bowl of small gear, up to the next half litre.

    A bottling vessel of `vessel_l` litres is swirled first, and what it held goes on into the bottles. Gives
    the 5 to 8 L that are usual for batches of 5 to 20 L. Range as `bottles_litres` and `vessel_litres`.
    Common practice, no source.
    """
    vessel = vessel_litres(vessel_l) if vessel_l else 0.0
    return up_to(max(bottles_litres(bottles), vessel) + SMALL_GEAR_L, HALF_LITRE)


def step_of(dose: float, steps: Steps) -> float:
    """The step in which a dose of this size is measured (both in one unit).

    Range as `rounding.as_decimal`. Source: definition.
    """
    exact = as_decimal(dose)
    return next((step for below, step in steps if exact < as_decimal(below)), steps[-1][1])


def measured_mix(
    rate: float, litres: float, steps: Steps, least: float = LEAST_STRENGTH
) -> tuple[float, float]:
    """A dose that can be measured, and the litres of water for it: (dose, litres).

    `rate` is the label's dose for a litre; `litres` the least water wanted. The dose is rounded down to its
    step; where that falls under `least` of the label's strength, up, if that is at most 3 % over it; where
    neither holds, half litres of water are added until one does. Range: rate 0.01 to 1000, litres 0.5 to
    2000, least 0.5 to 1. Common practice, no source.
    """
    require("dose for a litre", rate, 0.01, 1000.0)
    require("water", litres, 0.5, 2000.0, "L")
    require("least strength", least, 0.5, 1.0)
    for water in count(litres, HALF_LITRE):  # the dose grows and its last step does not: it ends
        exact = rate * water
        step = step_of(exact, steps)
        lower, upper = down_to(exact, step), up_to(exact, step)
        if as_decimal(lower) >= as_decimal(least * exact):
            return lower, water
        if as_decimal(upper) <= as_decimal(MOST_STRENGTH * exact):
            return upper, water
    raise AssertionError("never reached")
