"""How much dry yeast, and how many sachets.

In: litres, original gravity (SG), grams in a sachet. Out: grams, sachets. Common practice, no source,
throughout.
"""

from dataclasses import dataclass
from math import ceil
from typing import Literal

from .ranges import require
from .rounding import as_decimal, nearest_to

Kind = Literal["ale", "lager", "wine"]

STRONG_SG = 1.060
NEAR_ENOUGH = 0.25
EXPIRED_FACTOR = 1.5
OPENED_FACTOR = 2.0
LONGEST_EXPIRED_DAYS = 365

# Grams per litre, (low, high): up to STRONG_SG, and above it.
_GRAMS_PER_LITRE = {
    "ale": ((0.5, 0.8), (1.0, 1.0)),
    "lager": ((0.8, 1.6), (1.6, 1.6)),
    "wine": ((0.2, 0.4), (0.4, 0.5)),
}


@dataclass(frozen=True, slots=True)
class Sachets:
    """How many sachets to `open`, and how many `grams` of them to use; `whole` if nothing is left over."""

    open: int
    grams: float
    whole: bool


def grams(litres: float, original: float, kind: Kind = "ale") -> tuple[float, float]:
    """Dry yeast in grams, (low, high), for `litres` of `original` gravity (SG).

    Ale 0.5 to 0.8 g/L up to 1.060 and 1.0 above; lager 0.8 to 1.6, and the upper figure above 1.060; "wine"
    (cider, mead, country wine) 0.2 to 0.4, above 1.060 0.4 to 0.5. Range: 0.5 to 1000 L, 1.000 to 1.130 SG.
    Common practice, no source.
    """
    require("volume", litres, 0.5, 1000.0, "L")
    require("original gravity", original, 1.0, 1.130, "SG")
    if kind not in _GRAMS_PER_LITRE:
        raise ValueError(f"kind {kind!r} is not one of {', '.join(_GRAMS_PER_LITRE)}")
    low, high = _GRAMS_PER_LITRE[kind][as_decimal(original) > as_decimal(STRONG_SG)]
    return low * litres, high * litres


def condition_factor(expired_days: int = 0, opened: bool = False) -> float:
    """By how much more yeast is needed: 1.5 if the date has passed by at most a year, times 2 if it was
    open.

    Range: `expired_days` up to 365, days since the printed date, 0 or less if it is still good. ValueError
    after a year: buy fresh yeast. Common practice, no source.
    """
    require("days since the printed date", expired_days, -10_000, LONGEST_EXPIRED_DAYS, "days")
    return (EXPIRED_FACTOR if expired_days > 0 else 1.0) * (OPENED_FACTOR if opened else 1.0)


def sachets(grams_wanted: float, sachet_grams: float) -> Sachets:
    """Whole sachets if a whole number of them is within 25 % of `grams_wanted` (g), else the weighed
    amount.

    `sachet_grams` is the content of one (g). Range: 0.1 to 5000 g wanted, 0.5 to 1000 g each. Common
    practice, no source.
    """
    require("yeast", grams_wanted, 0.1, 5000.0, "g")
    require("sachet", sachet_grams, 0.5, 1000.0, "g")
    nearest = max(int(nearest_to(grams_wanted / sachet_grams, 1.0)), 1)
    off = abs(as_decimal(nearest * sachet_grams - grams_wanted))
    if off <= as_decimal(NEAR_ENOUGH * grams_wanted):
        return Sachets(nearest, nearest * sachet_grams, whole=True)
    return Sachets(ceil(as_decimal(grams_wanted / sachet_grams)), grams_wanted, whole=False)
