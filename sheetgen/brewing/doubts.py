"""When a reading and a calculation disagree: what would have to be true for both to be right.

In: gravities as SG, litres, degrees Celsius. Out: litres, degrees Celsius, litre-degrees; None where no
kitchen explains it.
"""

from .gravity import corrected_reading, points_of
from .ranges import require

LITRES_OFF = 0.25
"""Nobody misreads a mark by more than a quarter (our own judgement, no source)."""
COLDEST_SAMPLE, WARMEST_SAMPLE = 0.0, 40.0
# Water is densest at 4 C: below it the correction turns back, by less than a hydrometer shows.
_DENSEST = 4.0


def litres_meant(calculated: float, measured: float, litres: float) -> float | None:
    """Litres that would be in the vessel if all that was weighed is in them and the reading is right.

    `calculated` (SG) is what it should be in `litres`. None if that is more than a quarter off. Range: both
    1.000 to 1.200 SG, 0.1 to 1000 L. Source: definition of litre-degrees.
    """
    require("calculated gravity", calculated, 1.0, 1.2, "SG")
    require("measured gravity", measured, 1.0, 1.2, "SG")
    require("volume", litres, 0.1, 1000.0, "L")
    if points_of(measured) <= 0.0:
        return None
    meant = litres * points_of(calculated) / points_of(measured)
    return meant if abs(meant / litres - 1.0) <= LITRES_OFF else None


def sample_celsius_meant(
    shown: float, right: float, calibration_celsius: float = 20.0, in_water: float = 1.0
) -> float | None:
    """Temperature (C) at which a hydrometer that showed `shown` would have stood in a drink of `right` (SG).

    None outside 0 to 40 C. Range: `shown` 0.970 to 1.170 SG, `right` 0.9 to 1.2, the instrument as in
    `gravity.corrected_reading`. Source: `gravity.corrected_reading`, solved by halving.
    """
    require("right gravity", right, 0.9, 1.2, "SG")

    def read(celsius: float) -> float:
        return corrected_reading(shown, celsius, calibration_celsius, in_water)

    if not read(_DENSEST) <= right <= read(WARMEST_SAMPLE):
        return None
    low, high = _DENSEST, WARMEST_SAMPLE
    for _ in range(30):
        middle = (low + high) / 2.0
        low, high = (middle, high) if read(middle) < right else (low, middle)
    return (low + high) / 2.0


def litre_degrees_missing(calculated: float, measured: float, litres: float) -> float:
    """Litre-degrees (points x litres) by which the reading falls short; less than 0 if it is above.

    Range: both 0.900 to 1.200 SG, 0.1 to 1000 L. Source: definition of litre-degrees.
    """
    require("volume", litres, 0.1, 1000.0, "L")
    return (points_of(calculated) - points_of(measured)) * litres
