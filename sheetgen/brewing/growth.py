"""A published growth model of fermentation, integrated: hours against sugar left.

In: degrees Celsius, fractions of sugar, hours. Out: hours, fractions. Lager yeast at 4 to 16 C; above that it
is extrapolated and stays monotone and plausible. The equations are those of Gee & Ramirez, J. Inst. Brew. 100
(1994) 321-329.
"""

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from math import exp, log
from typing import NamedTuple

from .ranges import require

# Arrhenius: constant = exp(a - kcal per mole / (0.001987 K)); Gee & Ramirez (1994), hours and mol/m3.
_CONSTANTS = {
    "VG": (35.77, 22.6), "VM": (16.4, 11.3), "VN": (10.59, 7.16),
    "KG": (-121.3, -68.6), "KM": (-19.15, -14.4), "KN": (-26.78, -19.9),
    "KiG": (23.33, 10.2), "KiM": (55.61, 26.3),
}  # fmt: skip
_GAS_CONSTANT = 0.001987
_GLUCOSE, _MALTOSE, _MALTOTRIOSE, _YEAST = 70.0, 220.0, 40.0, 125.0
_GROWTH = (0.134, 0.268, 0.402)
_MASS = (180.156, 342.297, 504.437)
_SUGAR = _MASS[0] * _GLUCOSE + _MASS[1] * _MALTOSE + _MASS[2] * _MALTOTRIOSE
_MOST_YEAST = _YEAST + _GROWTH[0] * _GLUCOSE + _GROWTH[1] * _MALTOSE + _GROWTH[2] * _MALTOTRIOSE
LEAST_FRACTION = 1e-4
_LAST_DECAY = -log(LEAST_FRACTION) + 0.01
# A step of -ln(sugar left), shorter while glucose runs out, which happens suddenly: each takes half of it.
_STEP, _SHARE_OF_GLUCOSE, _GLUCOSE_GONE = 0.1, 0.5, 0.001

Slopes = tuple[float, float, float]


def rate_constant(name: str, celsius: float) -> float:
    """One constant of the growth model (VG, VM, VN in 1/h; KG, KM, KN, KiG, KiM in mol/m3) at `celsius`.

    Range 4 to 30 C, above 16 extrapolated. Source: Gee & Ramirez, J. Inst. Brew. 100 (1994) 321-329.
    """
    if name not in _CONSTANTS:
        raise ValueError(f"constant {name!r} is not one of {', '.join(_CONSTANTS)}")
    kelvin = require("temperature", celsius, 4.0, 30.0, "C") + 273.15
    a, activation = _CONSTANTS[name]
    return exp(a - activation / (_GAS_CONSTANT * kelvin))


def _slopes(glucose: float, maltose: float, sugar: float, constants: Sequence[float]) -> Slopes:
    """How glucose, maltose and hours change per unit of -ln(sugar left); `sugar` is the mass left, g/m3.

    With the sugar's own logarithm as the clock each step uses the same share of what is left, so that some
    hundred steps serve every temperature. Yeast follows from the sugar used; maltotriose from the total.
    """
    vg, vm, vn, kg, km, kn, kig, kim = constants
    glucose, maltose = max(glucose, 0.0), max(maltose, 0.0)
    maltotriose = max((sugar - _MASS[0] * glucose - _MASS[1] * maltose) / _MASS[2], 0.0)
    held_back = kig / (kig + glucose)
    use_g = vg * glucose / (kg + glucose)
    use_m = vm * maltose / (km + maltose) * held_back
    use_n = vn * maltotriose / (kn + maltotriose) * held_back * kim / (kim + maltose)
    share = sugar / (_MASS[0] * use_g + _MASS[1] * use_m + _MASS[2] * use_n)
    yeast = _MOST_YEAST - _GROWTH[0] * glucose - _GROWTH[1] * maltose - _GROWTH[2] * maltotriose
    return -use_g * share, -use_m * share, share / yeast


@lru_cache(maxsize=256)
def _course(celsius: float) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]:
    """Values of -ln(sugar left), the hours at which they are reached, and hours per unit there: classical
    Runge-Kutta steps, 0.1 long or as long as half of the glucose lasts.
    """
    constants = tuple(rate_constant(name, celsius) for name in _CONSTANTS)
    glucose, maltose, sugar, decay, hour = _GLUCOSE, _MALTOSE, _SUGAR, 0.0, 0.0
    decays, hours, paces = [0.0], [0.0], []
    while True:
        k1 = _slopes(glucose, maltose, sugar, constants)
        paces.append(k1[2])
        if decay >= _LAST_DECAY:
            return tuple(decays), tuple(hours), tuple(paces)
        step = min(_STEP, _SHARE_OF_GLUCOSE * glucose / -k1[0]) if glucose > 0 else _STEP
        half, middle, later = step / 2, sugar * exp(-step / 2), sugar * exp(-step)
        k2 = _slopes(glucose + half * k1[0], maltose + half * k1[1], middle, constants)
        k3 = _slopes(glucose + half * k2[0], maltose + half * k2[1], middle, constants)
        k4 = _slopes(glucose + step * k3[0], maltose + step * k3[1], later, constants)
        by = [step * (a + 2 * (b + c) + d) / 6 for a, b, c, d in zip(k1, k2, k3, k4, strict=True)]
        glucose, maltose, hour = glucose + by[0], max(0.0, maltose + by[1]), hour + by[2]
        glucose = glucose if glucose > _GLUCOSE_GONE else 0.0
        decay, sugar = decay + step, later
        decays.append(decay)
        hours.append(hour)


class _Stretch(NamedTuple):
    """From one step to the next: the first decay and the length; hours and hours per unit at both ends."""

    begins: float
    step: float
    first: float
    last: float
    first_pace: float
    last_pace: float

    def hours(self, share: float) -> float:
        """Hours at a share of the way: the cubic through both ends and their slopes."""
        left = 1.0 - share
        ends = left * left * (1 + 2 * share) * self.first + share * share * (3 - 2 * share) * self.last
        return ends + share * left * self.step * (left * self.first_pace - share * self.last_pace)

    def slope(self, share: float) -> float:
        """How fast the hours grow with the share."""
        left, ends = 1.0 - share, self.last - self.first
        paces = left * (1 - 3 * share) * self.first_pace + share * (3 * share - 2) * self.last_pace
        return 6 * share * left * ends + self.step * paces

    def share(self, hours: float) -> float:
        """The inverse: Newton's steps, kept within their bounds."""
        low, high, share = 0.0, 1.0, (hours - self.first) / (self.last - self.first)
        for _ in range(40):
            off, slope = self.hours(share) - hours, self.slope(share)
            if abs(off) <= 1e-10 * hours:
                break
            low, high = (low, share) if off > 0 else (share, high)
            guess = share - off / slope if slope > 0 else low
            share = guess if low < guess < high else (low + high) / 2
        return share


def _stretch(values: Sequence[float], value: float, celsius: float) -> _Stretch:
    """The stretch in which `values` (the decays or the hours of the course) reach `value`."""
    decays, hours, paces = _course(celsius)
    at = min(max(bisect_left(values, value), 1), len(values) - 1)
    step = decays[at] - decays[at - 1]
    return _Stretch(decays[at - 1], step, hours[at - 1], hours[at], paces[at - 1], paces[at])


def hours_at_decay(decay: float, celsius: float) -> float:
    """Hours from pitching until -ln(sugar left) reaches `decay`, at `celsius`.

    Range: decay 0 to 9.21 (a ten-thousandth left), 4 to 30 C, above 16 extrapolated. Source: Gee & Ramirez,
    J. Inst. Brew. 100 (1994) 321-329, starting from glucose 70, maltose 220, maltotriose 40, yeast 125
    mol/m3.
    """
    require("decay", decay, 0.0, _LAST_DECAY)
    stretch = _stretch(_course(celsius)[0], decay, celsius)
    return stretch.hours((decay - stretch.begins) / stretch.step)


def decay_at_hours(hours: float, celsius: float) -> float:
    """-ln(sugar left) after `hours` at `celsius`, at most 9.22; the inverse of `hours_at_decay`.

    Range: 0 h and more, 4 to 30 C. Source: as `hours_at_decay`.
    """
    require("time", hours, 0.0, 1e6, "h")
    decays, times, _ = _course(celsius)
    if hours >= times[-1]:
        return decays[-1]
    stretch = _stretch(times, hours, celsius)
    return stretch.begins + stretch.share(hours) * stretch.step
