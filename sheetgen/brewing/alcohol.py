"""Strength: alcohol by volume from gravities, from priming sugar, and drink units.

In: gravities as SG 20/20, sugar in g/L, volumes in litres. Out: per cent by volume at 20 C, or a number of
units.
"""

from .carbonation import SUGARS, sugar_named
from .gravity import HIGHEST_SG, LOWEST_SG, plato_of, points_of, sg_of
from .heat import water_kg_per_litre
from .ranges import require
from .rounding import as_decimal

ETHANOL_KG_PER_LITRE = 0.78924
BALLING_EXTRACT_PER_ALCOHOL = 2.0665
_BALLING_GAS_AND_YEAST = 1.0665
_REAL_FROM_ORIGINAL = 0.1808
_REAL_FROM_APPARENT = 0.8192

# Upper end of each band in tenths of a degree of gravity lost, and its factor in thousandths.
_DUTY_BANDS = (
    (69, 125), (104, 126), (172, 127), (261, 128), (360, 129), (465, 130),
    (571, 131), (679, 132), (788, 133), (897, 134), (1007, 135),
)  # fmt: skip

_GRAMS_PER_UNIT = {
    "UK": 10.0 * ETHANOL_KG_PER_LITRE,
    "US": 14.0,
    **dict.fromkeys(("AU", "NZ", "FR", "DE"), 10.0),
}


def _require_gravities(original: float, final: float) -> None:
    require("original gravity", original, 1.0, HIGHEST_SG, "SG")
    require("final gravity", final, LOWEST_SG, original, "SG")


def percent_by_volume(original: float, final: float) -> float:
    """Alcohol in per cent by volume at 20 C from original and final gravity (SG 20/20), priming sugar left
    out.

    Balling's balance (2.0665 g extract give 1 g alcohol, 0.9565 g gas, 0.11 g yeast) with Tabarie's real
    extract (0.1808 of the original and 0.8192 of the apparent extract). Range: original 1.000 to 1.130,
    final 0.980 to original. Source: Balling; Tabarie; ethanol 789.24 kg/m3 at 20 C (OIML R22).
    """
    _require_gravities(original, final)
    extract = plato_of(original)
    real = _REAL_FROM_ORIGINAL * extract + _REAL_FROM_APPARENT * plato_of(final)
    by_weight = (
        100.0 * (extract - real) / (100.0 * BALLING_EXTRACT_PER_ALCOHOL - _BALLING_GAS_AND_YEAST * extract)
    )
    return max(by_weight * final * water_kg_per_litre(20.0) / ETHANOL_KG_PER_LITRE, 0.0)


def lowest_final(original: float) -> float:
    """The lowest gravity (SG) that a drink of this original gravity can reach: no extract is left in it.

    Range: original 1.000 to 1.130; the answer is held to 0.980. Source: Tabarie's real extract set to zero.
    """
    require("original gravity", original, 1.0, HIGHEST_SG, "SG")
    apparent = -plato_of(original) * _REAL_FROM_ORIGINAL / _REAL_FROM_APPARENT
    return sg_of(max(apparent, plato_of(LOWEST_SG)))


def duty_percent(original: float, final: float) -> float:
    """Alcohol in per cent by volume: degrees of gravity lost (SG in, to 0.1 degree) times a factor from a
    table.

    Range: original 1.000 to 1.130, final 0.980 to original, at most 100.7 degrees lost. Source: HMRC Excise
    Notice 226, table of factors.
    """
    _require_gravities(original, final)
    tenths = round(as_decimal(points_of(original) - points_of(final)) * 10)
    for highest, thousandths in _DUTY_BANDS:
        if tenths <= highest:
            return tenths * thousandths / 10000
    raise ValueError(f"gravity lost {tenths / 10:g} is outside 0 to 100.7 degrees")


def quick_percent(original: float, final: float) -> float:
    """Alcohol in per cent by volume by the quick rule (original - final) x 131.25, gravities in SG.

    Range: original 1.000 to 1.130, final 0.980 to original. Common practice, no source.
    """
    _require_gravities(original, final)
    return (original - final) * 131.25


def percent_from_priming(g_per_litre: float, sugar: str = "table sugar") -> float:
    """Alcohol in per cent by volume that priming sugar (g/L) adds once it has fermented.

    Sugars other than table sugar count by their yield of gas. Range 0 to 50 g/L; sugars as in
    `carbonation.SUGARS`. Source: Balling's balance, 1 g of alcohol from 2.0665 g.
    """
    require("sugar", g_per_litre, 0.0, 50.0, "g/L")
    as_table_sugar = g_per_litre * sugar_named(sugar).usual / SUGARS["table sugar"].usual
    return as_table_sugar / BALLING_EXTRACT_PER_ALCOHOL / (10.0 * ETHANOL_KG_PER_LITRE)


def drink_units(litres: float, percent: float, country: str) -> float:
    """Drink units in `litres` of a drink of `percent` by volume, counted as `country` does: UK, US, AU, NZ,
    FR or DE.

    UK: one unit is 10 ml of ethanol; US: 14 g; AU, NZ and FR: 10 g; DE: 10 g, the lower end of 10 to 12 g,
    which counts more. Range: 0 to 1000 L, 0 to 25 %.
    Source: definitions of the countries' health authorities, from memory; ethanol 789.24 g/L (OIML R22).
    """
    require("volume", litres, 0.0, 1000.0, "L")
    require("strength", percent, 0.0, 25.0, "% by volume")
    if country not in _GRAMS_PER_UNIT:
        raise ValueError(f"country {country!r} is not one of {', '.join(_GRAMS_PER_UNIT)}")
    return litres * percent * 10.0 * ETHANOL_KG_PER_LITRE / _GRAMS_PER_UNIT[country]
