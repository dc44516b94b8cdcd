"""Colour of beer from the colour of its malt: malt colour units, SRM and EBC. An estimate.

In: kilograms, degrees Lovibond, litres. Out: MCU, SRM, EBC, and how it looks on a screen or on paper.
"""

from math import exp

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


# --- how it looks: light through a glass, seen by the standard observer

GLASS_CENTIMETRES = 5.0
"""A glass held up to the light (own choice)."""
_ABSORBED = ((0.02465, 17.591), (0.97535, 82.122))
"""The mean spectrum of beer, relative to 430 nm: shares that fade over so many nanometres."""
_OBSERVER = (
    ((1.056, 599.8, 37.9, 31.0), (0.362, 442.0, 16.0, 26.7), (-0.065, 501.1, 20.4, 26.2)),
    ((0.821, 568.8, 46.9, 40.5), (0.286, 530.9, 16.3, 31.1)),
    ((1.217, 437.0, 11.8, 36.0), (0.681, 459.0, 26.0, 13.8)),
)
"""The CIE 1931 observer as sums of lobes: height, middle, width below and above it in nanometres."""
_DAYLIGHT_FROM, _DAYLIGHT_STEP = 380, 20
_DAYLIGHT = (
    *(50.0, 82.8, 93.4, 104.9, 117.8, 115.9, 109.4, 104.8, 104.4, 100.0, 95.8, 90.0),
    *(87.7, 83.7, 80.2, 78.3, 71.6, 61.6, 75.1, 46.4, 63.4),
)
"""CIE daylight D65, every 20 nm from 380 to 780 nm."""
_SCREEN = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570))
_SCREEN_WHITE = (0.9505, 1.0, 1.0890)


def _lobes(nanometres: float, lobes: tuple[tuple[float, float, float, float], ...]) -> float:
    return sum(
        height * exp(-0.5 * ((nanometres - middle) / (below if nanometres < middle else above)) ** 2)
        for height, middle, below, above in lobes
    )


def transmitted(srm: float, nanometres: float, centimetres: float = GLASS_CENTIMETRES) -> float:
    """The share (0 to 1) of light of a wavelength (nm) that passes `centimetres` of beer of `srm`.

    Range: 0 to 100 SRM, 380 to 780 nm, 0.1 to 20 cm. Source: A. J. deLange, the mean spectrum of many beers,
    in Brewing Materials and Processes (2016), its numbers from memory; at 430 nm the definition of SRM.
    """
    require("colour", srm, 0.0, 100.0, "SRM")
    require("wavelength", nanometres, 380.0, 780.0, "nm")
    require("depth", centimetres, 0.1, 20.0, "cm")
    relative = sum(share * exp(-(nanometres - 430.0) / fading) for share, fading in _ABSORBED)
    shown: float = 10.0 ** (-srm / 12.7 * relative * centimetres)
    return shown


def _screen_value(linear: float) -> int:
    """One of red, green and blue, 0 to 255, from its share of light (IEC 61966-2-1)."""
    share = min(1.0, max(0.0, linear))
    curved = 12.92 * share if share <= 0.0031308 else 1.055 * share ** (1 / 2.4) - 0.055
    return round(255 * curved)


def red_green_blue(srm: float, centimetres: float = GLASS_CENTIMETRES) -> tuple[int, int, int]:
    """How beer of `srm` looks in daylight: red, green and blue of sRGB, each 0 to 255.

    Range: 0 to 100 SRM, 0.1 to 20 cm. Sources: `transmitted`; the observer by C. Wyman, P.-P. Sloan and
    P. Shirley, Journal of Computer Graphics Techniques 2 (2013); D65 of the CIE from memory; sRGB of
    IEC 61966-2-1. No beer looks quite so on paper.
    """
    seen, white = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for place, power in enumerate(_DAYLIGHT):
        nanometres = float(_DAYLIGHT_FROM + place * _DAYLIGHT_STEP)
        passed = transmitted(srm, nanometres, centimetres)
        for number, lobes in enumerate(_OBSERVER):
            light = power * _lobes(nanometres, lobes)
            seen[number] += light * passed
            white[number] += light
    parts = [each / all_of_it * of for each, all_of_it, of in zip(seen, white, _SCREEN_WHITE, strict=True)]
    red, green, blue = (sum(a * b for a, b in zip(row, parts, strict=True)) for row in _SCREEN)
    return _screen_value(red), _screen_value(green), _screen_value(blue)
