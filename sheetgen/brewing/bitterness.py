"""Bitterness of hops boiled in wort: Tinseth's utilisation and the estimate built on it.

In: grams, per cent alpha acid, minutes at the boil, litres of finished wort, gravity of the boil as SG.
Out: a fraction, and IBU (mg/L). Both are estimates; no boil, no claim.
"""

from math import exp

from .ranges import require


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
