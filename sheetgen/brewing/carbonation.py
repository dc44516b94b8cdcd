"""Carbon dioxide in beer: what is there already, what sugar adds, what pressure it makes.

In: degrees Celsius, volumes of gas per volume of drink, g/L of sugar, points of gravity. Out: volumes, g/L,
bar. One volume is 1.977 g/L: the real gas at 0 C and one atmosphere; books that reckon otherwise differ by
up to 8 %.

Doses and safety use different yields. A dose is reckoned with the practice of 4.0 g/L of table sugar per
volume; what is compared with a container's limit is the full theoretical yield.
"""

from dataclasses import dataclass
from math import exp, log
from types import MappingProxyType
from typing import Literal

from .heat import STANDARD_ATMOSPHERE_BAR, water_vapour_bar
from .ranges import require

GRAMS_PER_VOLUME = 1.977
"""CO2 in one volume, g/L at 0 C and 1 atm: reference equation of state of the real gas."""

TABLE_SUGAR_PER_VOLUME = 4.0
"""Table sugar for one volume in practice, g/L: M. Hibberd, A Primer on Priming (1995)."""

VOLUMES_PER_POINT = 0.55
"""Gas from one point (0.001 SG) still unfermented: 2.1 g/L of real extract at full yield, derived."""

AIR_BAR_AT_20_C = 1.0
FITTED_TO_CELSIUS = 40.0
"""Top of the solubility's fit; 40 to 45 C is the same curve prolonged, and is to be marked so where
printed.
"""
HIGHEST_CELSIUS = 45.0

_CO2_GRAMS_PER_MOLE = 44.0095
_WEISS = (-58.0931, 90.5069, 22.2940)

Bound = Literal["practice", "upper"]


@dataclass(frozen=True, slots=True)
class SugarYield:
    """Grams of CO2 from one gram of a sugar fermented out: the `usual` figure for doses, the `highest`
    for limits.
    """

    usual: float
    highest: float


_SUCROSE = 0.51429

SUGARS = MappingProxyType(
    {
        "table sugar": SugarYield(_SUCROSE, _SUCROSE),  # stoichiometry of C12H22O11
        "dextrose": SugarYield(0.44416, 0.44416),  # stoichiometry of the monohydrate, as sold
        "dextrose anhydrous": SugarYield(0.48857, 0.48857),  # stoichiometry of C6H12O6
        "brown sugar": SugarYield(0.96 * _SUCROSE, 0.97 * _SUCROSE),  # from memory: 97 % sugars
        "honey": SugarYield(_SUCROSE / 1.3, 0.80 * _SUCROSE),  # common practice; upper figure from memory
        "dry malt extract": SugarYield(_SUCROSE / 1.4, 0.75 * _SUCROSE),  # the same; varies
    }
)
"""Priming sugars by name."""


def sugar_named(sugar: str) -> SugarYield:
    """The yields (g CO2 per g) of a priming sugar.

    Range: the names in `SUGARS`, which a ValueError lists. Source: see `SUGARS`.
    """
    if sugar not in SUGARS:
        raise ValueError(f"sugar {sugar!r} is not one of {', '.join(SUGARS)}")
    return SUGARS[sugar]


def moles_per_litre_atm(celsius: float) -> float:
    """Solubility of CO2 in water, mol/(L atm), at `celsius`; range 0 to 45 C, of which 40 to 45 is
    extrapolated.

    Source: Weiss, Marine Chemistry 2 (1974) 203-215, salinity 0.
    """
    kelvin = require("temperature", celsius, 0.0, HIGHEST_CELSIUS, "C") + 273.15
    a1, a2, a3 = _WEISS
    return exp(a1 + a2 * 100.0 / kelvin + a3 * log(kelvin / 100.0))


def volumes_per_atm(celsius: float) -> float:
    """Volumes of CO2 dissolved at `celsius` per atmosphere of CO2 (Bunsen coefficient, real gas).

    Range and source as `moles_per_litre_atm`.
    """
    return moles_per_litre_atm(celsius) * _CO2_GRAMS_PER_MOLE / GRAMS_PER_VOLUME


def residual_volumes(celsius: float) -> float:
    """Volumes of CO2 left in fermented drink whose warmest temperature since fermentation ended was
    `celsius`.

    One atmosphere of wet CO2 over it, water vapour taken off; altitude, which lowers it, is left out: the
    safe side. Range 0 to 45 C, of which 40 to 45 is extrapolated. Source: Weiss (1974); IAPWS-IF97 for the
    vapour.
    """
    dry = 1.0 - water_vapour_bar(celsius) / STANDARD_ATMOSPHERE_BAR
    return volumes_per_atm(celsius) * dry


def sugar_g_per_litre(volumes: float, residual: float, sugar: str = "table sugar") -> float:
    """Priming sugar (g/L) that lifts `residual` volumes to `volumes`; 0 when the residual is already as
    high.

    Practice: 4.0 g/L of table sugar per volume, other sugars by their yield. Range: 0 to 6 volumes,
    residual 0 to 2. Source: M. Hibberd, A Primer on Priming (1995); stoichiometry.
    """
    require("wanted gas", volumes, 0.0, 6.0, "volumes")
    require("residual gas", residual, 0.0, 2.0, "volumes")
    missing = max(volumes - residual, 0.0)
    return missing * TABLE_SUGAR_PER_VOLUME * _SUCROSE / sugar_named(sugar).usual


def volumes_from_sugar(g_per_litre: float, sugar: str = "table sugar", bound: Bound = "practice") -> float:
    """Volumes of CO2 that `g_per_litre` (g/L) of a sugar add, the residual gas not counted.

    bound "practice": 4.0 g/L of table sugar a volume, the inverse of `sugar_g_per_litre`. bound "upper":
    full theoretical yield and the sugar's highest figure, for comparing with a container's limit. Range 0
    to 200 g/L. Source: Hibberd (1995); stoichiometry, 0.51429 g per g of sucrose and 1.977 g/L per volume.
    """
    require("sugar", g_per_litre, 0.0, 200.0, "g/L")
    yields = sugar_named(sugar)
    if bound == "practice":
        return g_per_litre * yields.usual / _SUCROSE / TABLE_SUGAR_PER_VOLUME
    if bound == "upper":
        return g_per_litre * yields.highest / GRAMS_PER_VOLUME
    raise ValueError(f"bound {bound!r} is not one of practice, upper")


def volumes_from_points(points: float) -> float:
    """Volumes of CO2 still to come from `points` (0.001 SG, apparent) left unfermented, 0.55 each.

    Range 0 to 130 points. Source: derived from stoichiometry; Balling's balance gives 0.49, the safer is
    used.
    """
    return VOLUMES_PER_POINT * require("points", points, 0.0, 130.0)


def gauge_bar(volumes: float, celsius: float, with_air: bool = False) -> float:
    """Pressure above the outer air (bar) in a closed bottle holding `volumes` of CO2 at `celsius`, at rest.

    All the gas is in the drink, none in a headspace: the highest the pressure can be. `with_air` adds the air
    sealed in, 1.0 bar at 20 C and in proportion to the absolute temperature. Below the solubility at one
    atmosphere the result is negative. Range: 0 to 10 volumes, 0 to 45 C, of which 40 to 45 is extrapolated.
    Source: Henry's law with Weiss (1974); the share of air is common practice, no source.
    """
    require("gas", volumes, 0.0, 10.0, "volumes")
    gas = volumes / volumes_per_atm(celsius) * STANDARD_ATMOSPHERE_BAR
    air = AIR_BAR_AT_20_C * (celsius + 273.15) / 293.15 if with_air else 0.0
    return gas + water_vapour_bar(celsius) + air - STANDARD_ATMOSPHERE_BAR
