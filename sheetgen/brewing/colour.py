"""Colour of beer from the colour of its malt: malt colour units, SRM and EBC. An estimate.

In: kilograms, degrees Lovibond, litres. Out: MCU, SRM, EBC.
"""

from .ranges import require

LARGEST_MCU = 160.0
_POUNDS_PER_US_GALLON = 3.785411784 / 0.45359237
_EBC_PER_SRM = 25.0 / 12.7


def mcu(kilograms: float, lovibond: float, litres: float) -> float:
    """Malt colour units (pounds x degrees Lovibond per US gallon) of `kilograms` of one malt in `litres`.

    Range: 0 to 1000 kg, 0 to 700 degrees Lovibond, 0.1 to 1000 L. Add up all malts before asking for the
    colour. Source: definition.
    """
    require("malt", kilograms, 0.0, 1000.0, "kg")
    require("malt colour", lovibond, 0.0, 700.0, "degrees Lovibond")
    require("volume", litres, 0.1, 1000.0, "L")
    return _POUNDS_PER_US_GALLON * kilograms * lovibond / litres


def srm(mcu: float) -> float:
    """Beer colour in SRM from malt colour units (MCU, pounds x degrees Lovibond per US gallon, all malts
    together).

    Range 0 to 160 MCU, that is up to about 48 SRM: darker beer is simply black. Source: D. A. Morey,
    BrewingTechniques (letter).
    """
    colour: float = 1.4922 * require("malt colour units", mcu, 0.0, LARGEST_MCU, "MCU") ** 0.6859
    return colour


def ebc(srm: float) -> float:
    """Beer colour in EBC from SRM; range 0 to 100 SRM. Source: both scales' definitions, 25 / 12.7."""
    return _EBC_PER_SRM * require("colour", srm, 0.0, 100.0, "SRM")
