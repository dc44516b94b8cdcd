"""Bitterness of hops boiled in wort: Tinseth's utilisation and the estimate built on it.

In: grams, per cent alpha acid, minutes at the boil, litres of finished wort, gravity of the boil as SG; for
the gravity of the pot, litre-degrees, litres and minutes left. Out: a fraction, IBU (mg/L), SG. All are
estimates; no boil, no claim. Boiling is taken to be at sea level: what a cooler boil at a height takes off is
left out, as practice does, so a kitchen at 3000 m gets less than is printed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log

from .ranges import require


@dataclass(frozen=True, slots=True)
class PotPart:
    """What goes into the boiling pot: litre-degrees (300: a kilogram of syrup), the litres it adds, and the
    minutes of boiling that are left when it goes in.
    """

    points: float
    litres: float
    minutes_left: float


def utilisation(boil_sg: float, minutes: float) -> float:
    """Fraction of the alpha acid that `minutes` of boiling in wort of `boil_sg` (SG of the pot) bring into
    the beer.

    Range: 1.000 to 1.130 SG, 0 to 120 min; the published table covers 1.030 to 1.120 SG, thinner liquid is
    the same curve prolonged. Source: Tinseth's formula, as its table is printed in Palmer, How to Brew.
    """
    require("gravity of the boil", boil_sg, 1.0, 1.130, "SG")
    require("boiling time", minutes, 0.0, 120.0, "min")
    thickness: float = 1.65 * 0.000125 ** (boil_sg - 1.0)
    return thickness * (1.0 - exp(-0.04 * minutes)) / 4.15


def ibu(grams: float, alpha_percent: float, minutes: float, litres: float, boil_sg: float) -> float:
    """Bitterness (IBU, mg/L) from `grams` of hops of `alpha_percent` boiled `minutes`, in `litres` of
    finished wort.

    Range: 0 to 10 000 g, 0 to 25 %, 0.1 to 1000 L, and as `utilisation`. Source: Tinseth.
    """
    require("hops", grams, 0.0, 10_000.0, "g")
    require("alpha acid", alpha_percent, 0.0, 25.0, "%")
    require("volume", litres, 0.1, 1000.0, "L")
    return utilisation(boil_sg, minutes) * grams * alpha_percent * 10.0 / litres


def mean_pot_sg(
    parts: Sequence[PotPart], start_litres: float, end_litres: float, boil_minutes: float, minutes: float
) -> float:
    """Mean gravity (SG) of the pot over the last `minutes` of a boil of `boil_minutes`.

    Water alone is `start_litres` when it begins to boil and `end_litres` at the end; steam leaves evenly.
    Each part counts from the moment it is in, so extract that goes in late does not count before, and what
    goes in off the heat is not among `parts`. Range: over 0 to 1000 L, the end not above the start, 0 to
    240 min, 0 < `minutes` <= `boil_minutes`. Source: derived, points over volume averaged over time.
    """
    require("boil", boil_minutes, 1e-6, 240.0, "min")
    require("minutes", minutes, 1e-6, boil_minutes, "min")
    require("water at the start", start_litres, 1e-6, 1000.0, "L")
    require("water at the end", end_litres, 1e-6, start_litres, "L")
    inner = {part.minutes_left for part in parts if 0.0 < part.minutes_left < minutes}
    total = 0.0
    for before, after in pairwise(sorted({0.0, minutes, *inner}, reverse=True)):
        there = [part for part in parts if part.minutes_left >= before]
        held = sum(part.litres for part in there)
        first, last = (
            end_litres + (start_litres - end_litres) * left / boil_minutes + held for left in (before, after)
        )
        points = sum(part.points for part in there)
        total += points / _logarithmic_mean(first, last) * (before - after)
    return 1.0 + total / minutes / 1000.0


def _logarithmic_mean(first: float, last: float) -> float:
    """The volume that gives the mean of 1/volume while it falls evenly from `first` to `last`."""
    if first - last < 1e-6 * first:
        return (first + last) / 2
    return (first - last) / log(first / last)
