"""Specific gravity: degrees Plato, corrected readings, original and final gravity, the ceiling.

In: gravities as SG 20/20, temperatures in degrees Celsius, volumes in litres, contributions in litre-degrees
(points x litres). Out: SG, degrees Plato, points. One point is 0.001 SG.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from .heat import water_kg_per_litre
from .ranges import require
from .rounding import as_decimal, down_to

LOWEST_SG = 0.980
HIGHEST_SG = 1.130
_LINCOLN = (-616.868, 1111.14, -630.272, 135.997)

ORDINARY_YEAST = (0.72, 0.78)
"""Apparent attenuation (fractions) of the yeast that ranges are met with (common practice, no source)."""
LEAST_MALT_ATTENUATION, MOST_MALT_ATTENUATION = 0.40, 0.90

LARGEST_CEILING_MARGIN_POINTS = 2.0
CEILING_MARGIN_SHARE = 0.05


@dataclass(frozen=True, slots=True)
class Part:
    """What one ingredient gives: `points` in litre-degrees, and its apparent attenuation as two fractions.

    `points` is kilograms x litre-degrees per kilogram, or litres x points of a juice. Attenuation runs from 0
    (lactose) to 1.2 (simple sugar: alcohol is lighter than water). Typical pairs, common practice, no source:
    malt extract 0.68 and 0.76, steeped crystal malt 0.40 and 0.60, sugar and honey 1.00 and 1.20.
    """

    points: float
    attenuation_low: float
    attenuation_high: float

    def __post_init__(self) -> None:
        require("litre-degrees", self.points, 0.0, 1e7, "L x points")
        require("low attenuation", self.attenuation_low, 0.0, 1.2)
        require("high attenuation", self.attenuation_high, self.attenuation_low, 1.2)


@dataclass(frozen=True, slots=True)
class FinalRange:
    """Where a fermentation is expected to end, as SG: `low` <= `expected` <= `high`."""

    low: float
    expected: float
    high: float


def plato_of(sg: float) -> float:
    """Degrees Plato (g extract per 100 g) of a specific gravity 20/20.

    Range 0.980 to 1.130 SG; below 1.000 it is the apparent extract of a drink whose alcohol hides what is
    left. Source: Lincoln's cubic through the ASBC table 1 (0 to 30 degrees Plato); the stretch below 1.000
    is the same curve prolonged, common practice, no source.
    """
    require("specific gravity", sg, LOWEST_SG, HIGHEST_SG, "SG")
    constant, linear, square, cube = _LINCOLN
    return constant + sg * (linear + sg * (square + sg * cube))


def sg_of(plato: float) -> float:
    """Specific gravity 20/20 of a strength in degrees Plato; the inverse of `plato_of`.

    Range -5.26 to 30.15 degrees Plato (0.980 to 1.130 SG). Source: as `plato_of`, solved by Newton's method.
    """
    require("strength", plato, plato_of(LOWEST_SG), plato_of(HIGHEST_SG), "degrees Plato")
    _, linear, square, cube = _LINCOLN
    sg = 1.0 + plato / 258.6
    for _ in range(8):
        sg = min(max(sg, LOWEST_SG), HIGHEST_SG)
        sg -= (plato_of(sg) - plato) / (linear + sg * (2 * square + sg * 3 * cube))
    return sg


def points_of(sg: float) -> float:
    """Points (thousandths of SG above 1.000) of a specific gravity; range 0.900 to 1.200 SG. Source:
    definition.
    """
    return (require("specific gravity", sg, 0.900, 1.200, "SG") - 1.0) * 1000.0


def points_per_kilogram(grams_per_litre: float) -> float:
    """Litre-degrees that one kilogram of sucrose gives when dissolved to `grams_per_litre` (g/L, 20 C).

    Range 20 to 300 g/L; about 386 at the strength of ordinary wort. Source: derived from `sg_of`; the cubic's
    own error at zero extract, 0.00001 SG, is taken off. It still leaves half a unit of doubt at 20 g/L.
    """
    require("concentration", grams_per_litre, 20.0, 300.0, "g/L")
    water, zero, sg = water_kg_per_litre(20.0), sg_of(0.0), 1.0
    for _ in range(30):
        sg = sg_of(grams_per_litre / (10.0 * water * sg)) - zero + 1.0
    return points_of(sg) / grams_per_litre * 1000.0


def ten_thousandths(sg: float) -> int:
    """A specific gravity as a whole number of 0.0001 SG, the nearest one, halves upwards: 1.0125 gives 10125.

    Gravities are compared with limits only in this form, so that binary fractions never decide.
    Range 0.900 to 1.200 SG. Source: definition.
    """
    require("specific gravity", sg, 0.900, 1.200, "SG")
    return int((as_decimal(sg) * 10000 + Decimal("0.5")) // 1)


def corrected_reading(
    sg: float, celsius: float, calibration_celsius: float = 20.0, in_water: float = 1.0
) -> float:
    """Specific gravity that a hydrometer's reading `sg` of a sample at `celsius` stands for.

    `in_water` is what the same hydrometer shows in plain water at its own calibration temperature: that
    error is taken off first. Then the reading is multiplied by the ratio of water's densities at the
    calibration temperature and at the sample's (degrees Celsius). The glass's own growth, below 0.0003, is
    left out. Range: sg 0.970 to 1.170, sample 0 to 40 C, calibration 4 to 30 C, in_water 0.985 to 1.015; a
    hotter sample is cooled first. Source: derived from water's density (Kell 1975); agrees with the printed
    15 C table.
    """
    require("hydrometer reading", sg, 0.970, 1.170, "SG")
    require("sample temperature", celsius, 0.0, 40.0, "C")
    require("calibration temperature", calibration_celsius, 4.0, 30.0, "C")
    require("reading in plain water", in_water, 0.985, 1.015, "SG")
    shown = sg - (in_water - 1.0)
    return shown * water_kg_per_litre(calibration_celsius) / water_kg_per_litre(celsius)


def attenuation_with_yeast(usual: tuple[float, float], yeast: tuple[float, float]) -> tuple[float, float]:
    """Apparent attenuation (two fractions) of a malt part that a certain yeast works on.

    `usual` is the part's range with an ordinary yeast of 0.72 to 0.78; `yeast` is the range that another one
    states. Each end moves by the difference of the ends, kept within 0.40 and 0.90 (an end that lies beyond
    already stays). What holds no malt is not moved: nothing of lactose ferments, and all of a simple sugar
    (high end of 1 and more) with any yeast. Range: `usual` 0 to 1.2, `yeast` 0.40 to 0.90. Common practice,
    no source.
    """
    low, high = usual
    require("low attenuation", low, 0.0, 1.2)
    require("high attenuation", high, low, 1.2)
    require("low attenuation of the yeast", yeast[0], LEAST_MALT_ATTENUATION, MOST_MALT_ATTENUATION)
    require("high attenuation of the yeast", yeast[1], yeast[0], MOST_MALT_ATTENUATION)
    if high <= 0.0 or high >= 1.0:
        return usual
    moved = (_moved(end, new - old) for end, new, old in zip(usual, yeast, ORDINARY_YEAST, strict=True))
    first, second = moved
    return min(first, second), max(first, second)


def _moved(end: float, by: float) -> float:
    """An end of a range after the move; the limits hold back the move, they never add to it."""
    lowest, highest = min(LEAST_MALT_ATTENUATION, end), max(MOST_MALT_ATTENUATION, end)
    return min(highest, max(lowest, end + by))


def original(parts: Iterable[Part], litres: float) -> float:
    """Original gravity (SG) of everything that goes into `litres` of finished wort, must or juice.

    Range: 0.1 to 1000 L, and a result up to 1.130 SG. Source: definition of litre-degrees.
    """
    require("volume", litres, 0.1, 1000.0, "L")
    sg = 1.0 + sum(part.points for part in parts) / litres / 1000.0
    return require("original gravity", sg, 1.0, HIGHEST_SG, "SG")


def final_range(parts: Iterable[Part], litres: float) -> FinalRange:
    """Where the fermentation ends (SG): each part's points x (1 - attenuation), summed; expected is the
    middle.

    Range as `original`. Source: definition of apparent attenuation.
    """
    listed = tuple(parts)
    original(listed, litres)
    low = sum(part.points * (1.0 - part.attenuation_high) for part in listed)
    high = sum(part.points * (1.0 - part.attenuation_low) for part in listed)
    return _final_range(1.0 + low / litres / 1000.0, 1.0 + high / litres / 1000.0)


def _final_range(low: float, high: float) -> FinalRange:
    return FinalRange(low, (low + high) / 2.0, high)


def fully_fermented_range(mead: bool = False, still: bool = False) -> FinalRange:
    """Range (SG) for a drink whose sugar can ferment out completely: cider, ginger beer, mead, wine.

    low 0.988 (mead 0.985), expected 0.996, high 1.000 (still 0.998), and the ceiling is the same as high:
    nothing above it is ever bottled. Range: one answer each. Source: cautious judgement, common practice, no
    source; a sugar drink of 1.050 fermented out ends near 0.990.
    """
    return FinalRange(0.985 if mead else 0.988, 0.996, 0.998 if still else 1.000)


def ceiling(original_gravity: float, high: float) -> float:
    """The gravity (SG) above which nothing is bottled, rounded down to 0.001.

    `high` (SG, the top of the expected range) plus the smaller of 2 points and 5 % of the original points;
    for tiny beers rounding down may end below `high`, and the ceiling then holds. There is no floor. Range:
    original gravity 1.000 to 1.130, high 0.980 to original. Source: cautious judgement, common practice, no
    source.
    """
    require("original gravity", original_gravity, 1.0, HIGHEST_SG, "SG")
    require("top of the expected range", high, LOWEST_SG, original_gravity, "SG")
    share = CEILING_MARGIN_SHARE * points_of(original_gravity)
    margin = min(LARGEST_CEILING_MARGIN_POINTS, share)
    return down_to(high + margin / 1000.0, 0.001)
