"""Small doses: sulphite, nutrient, and what is usual of a helper.

In: grams, litres, original gravity (SG). Out: milligrams, factors, a verdict.
"""

from .ranges import require
from .rounding import as_decimal

# Standard atomic weights, abridged: IUPAC 2021.
POTASSIUM, SODIUM, SULPHUR, OXYGEN = 39.098, 22.990, 32.06, 15.999
_SALTS = {"potassium": POTASSIUM, "sodium": SODIUM}
DECLARED_ABOVE_MG = 10.0
WEAK_SG, STRONG_SG = 1.050, 1.100
STRONG_FACTOR = 2.0
FAR = 2.0


def sulphite_mg(grams: float, salt: str = "potassium") -> float:
    """Milligrams of sulphur dioxide that `grams` of pure metabisulphite set free.

    `salt` is "potassium" (K2S2O5, 57.6 % by weight) or "sodium" (Na2S2O5, 67.4 %): each gives two SO2.
    Range: 0 to 10,000 g. Source: stoichiometry with the standard atomic weights of IUPAC 2021.
    """
    require("metabisulphite", grams, 0.0, 10_000.0, "g")
    if salt not in _SALTS:
        raise ValueError(f"salt {salt!r} is not one of {', '.join(_SALTS)}")
    dioxide = SULPHUR + 2 * OXYGEN
    whole = 2 * _SALTS[salt] + 2 * SULPHUR + 5 * OXYGEN
    return 1000 * grams * 2 * dioxide / whole


def must_be_declared(mg_per_litre: float) -> bool:
    """Whether so much sulphur dioxide (mg/L) has to be named on a label: above 10 mg/L, not at it.

    Compared in whole thousandths. Range: 0 to 1e6 mg/L. Source: Regulation (EU) 1169/2011, Annex II (12).
    """
    require("sulphites", mg_per_litre, 0.0, 1e6, "mg/L")
    return round(mg_per_litre * 1000) > round(DECLARED_ABOVE_MG * 1000)


def nutrient_factor(original: float) -> float:
    """How much more nutrient must of `original` gravity (SG) wants than one of 1.050: up to twice, at 1.100.

    Of juice and honey, which feed yeast poorly; malt brings its own. Range: 1.000 to 1.130 SG. Common
    practice, no source.
    """
    require("original gravity", original, 1.0, 1.130, "SG")
    share = (original - WEAK_SG) / (STRONG_SG - WEAK_SG)
    return 1.0 + (STRONG_FACTOR - 1.0) * min(max(share, 0.0), 1.0)


def is_far_from_usual(amount: float, low: float, high: float) -> bool:
    """Whether `amount` is under half of `low` or over twice `high` (all in one unit).

    Range: 0 to 1e9, `low` not above `high`. Common practice, no source.
    """
    for name, value in (("amount", amount), ("low", low), ("high", high)):
        require(name, value, 0.0, 1e9)
    if low > high:
        raise ValueError(f"the usual range {low:g} to {high:g} is upside down")
    return not as_decimal(low / FAR) <= as_decimal(amount) <= as_decimal(high * FAR)
