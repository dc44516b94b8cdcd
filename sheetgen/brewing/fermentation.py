"""How fast: a published growth model for the shape of a fermentation, and the practice table for its dates.

In: degrees Celsius, fractions of sugar, hours, SG. Out: hours, SG, factors, days. The model was fitted on
lager yeast at 4 to 16 C; above that it is extrapolated and stays monotone and plausible. It is used for
shape only: its time to 95 % falls fourfold from 15 to 25 C, the practice table's days twofold, and printed
dates keep to practice.
"""

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from math import exp, log
from typing import Literal, overload

from .ranges import require

COLDEST_ROOM = 14.0
WARMEST_ROOM = 30.0
FIRST_TEST_FRACTION = 0.01

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
_LEAST_FRACTION = 1e-4
# Steps of -ln(sugar left): small while glucose runs out, which happens suddenly.
_STEPS = (0.005,) * 100 + (0.04,) * 218

_FERMENT_FACTOR = (
    (14.0, 1.8), (14.5, 1.7), (16.5, 1.35), (18.5, 1.1), (20.0, 1.0), (22.0, 1.0), (24.0, 0.8), (27.5, 0.7),
    (30.0, 0.7),
)  # fmt: skip
_FIZZ_DAYS = (
    (14.0, 41.0), (14.5, 38.0), (16.5, 26.0), (18.5, 18.0), (20.0, 14.0), (22.0, 14.0), (24.0, 10.5),
    (27.5, 8.5), (30.0, 8.5),
)  # fmt: skip
_STRENGTH_FERMENT = ((1.055, 0.0), (1.060, 4.0), (1.073, 8.0), (1.085, 14.0), (1.100, 21.0))
_STRENGTH_BOTTLE = ((1.055, 0.0), (1.060, 7.0), (1.073, 28.0), (1.085, 56.0), (1.100, 112.0))

Knots = tuple[tuple[float, float], ...]
GapKind = Literal["ordinary", "mead", "still"]


def rate_constant(name: str, celsius: float) -> float:
    """One constant of the growth model (VG, VM, VN in 1/h; KG, KM, KN, KiG, KiM in mol/m3) at `celsius`.

    Range 4 to 30 C, above 16 extrapolated. Source: Gee & Ramirez, J. Inst. Brew. 100 (1994) 321-329.
    """
    if name not in _CONSTANTS:
        raise ValueError(f"constant {name!r} is not one of {', '.join(_CONSTANTS)}")
    kelvin = require("temperature", celsius, 4.0, 30.0, "C") + 273.15
    a, activation = _CONSTANTS[name]
    return exp(a - activation / (_GAS_CONSTANT * kelvin))


def _slopes(state: Sequence[float], sugar: float, constants: Sequence[float]) -> tuple[float, float, float]:
    """How glucose, maltose and hours change per unit of -ln(sugar left); `sugar` is the mass left, g/m3.

    With the sugar's own logarithm as the clock each step uses the same share of what is left, so that a few
    hundred equal steps serve every temperature. Yeast follows from the sugar used; maltotriose from the
    total.
    """
    vg, vm, vn, kg, km, kn, kig, kim = constants
    glucose, maltose = max(state[0], 0.0), max(state[1], 0.0)
    maltotriose = max((sugar - _MASS[0] * glucose - _MASS[1] * maltose) / _MASS[2], 0.0)
    held_back = kig / (kig + glucose)
    use_g = vg * glucose / (kg + glucose)
    use_m = vm * maltose / (km + maltose) * held_back
    use_n = vn * maltotriose / (kn + maltotriose) * held_back * kim / (kim + maltose)
    yeast = (
        _YEAST
        + _GROWTH[0] * (_GLUCOSE - glucose)
        + _GROWTH[1] * (_MALTOSE - maltose)
        + _GROWTH[2] * (_MALTOTRIOSE - maltotriose)
    )
    hours = sugar / (_MASS[0] * use_g + _MASS[1] * use_m + _MASS[2] * use_n) / yeast
    return -use_g * yeast * hours, -use_m * yeast * hours, hours


def _moved(state: Sequence[float], slopes: Sequence[float], step: float) -> tuple[float, ...]:
    return tuple(value + step * slope for value, slope in zip(state, slopes, strict=True))


@lru_cache(maxsize=256)
def _hours_by_decay(celsius: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Values of -ln(sugar left) and the hours at which they are reached: classical Runge-Kutta steps."""
    constants = tuple(rate_constant(name, celsius) for name in _CONSTANTS)
    state: tuple[float, ...] = (_GLUCOSE, _MALTOSE, 0.0)
    decays, hours = [0.0], [0.0]
    for step in _STEPS:
        state = _stepped(state, decays[-1], step, constants)
        decays.append(decays[-1] + step)
        hours.append(state[2])
    return tuple(decays), tuple(hours)


def _stepped(
    state: Sequence[float], decay: float, step: float, constants: Sequence[float]
) -> tuple[float, ...]:
    now, half, full = (_SUGAR * exp(-decay - part * step) for part in (0.0, 0.5, 1.0))
    k1 = _slopes(state, now, constants)
    k2 = _slopes(_moved(state, k1, step / 2), half, constants)
    k3 = _slopes(_moved(state, k2, step / 2), half, constants)
    k4 = _slopes(_moved(state, k3, step), full, constants)
    mean = [(a + 2 * b + 2 * c + d) / 6 for a, b, c, d in zip(k1, k2, k3, k4, strict=True)]
    return tuple(max(value, 0.0) for value in _moved(state, mean, step))


def _interpolated(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    after = min(max(bisect_left(xs, x), 1), len(xs) - 1)
    share = (x - xs[after - 1]) / (xs[after] - xs[after - 1])
    return ys[after - 1] + share * (ys[after] - ys[after - 1])


def hours_until(fraction_left: float, celsius: float) -> float:
    """Hours from pitching until this fraction of the **sugar** (by mass) is left, at `celsius`; model,
    unscaled.

    Range: fraction 0.0001 to 1; 4 to 30 C, above 16 C extrapolated. Source: the growth model of Gee &
    Ramirez, J. Inst. Brew. 100 (1994) 321-329, starting from glucose 70, maltose 220, maltotriose 40, yeast
    125 mol/m3.
    """
    require("fraction of sugar left", fraction_left, _LEAST_FRACTION, 1.0)
    decays, hours = _hours_by_decay(celsius)
    return _interpolated(decays, hours, -log(fraction_left))


def fraction_left(celsius: float, hours: float) -> float:
    """Fraction of the sugar (by mass) left after `hours` at `celsius`; the inverse of `hours_until`.

    0 once less than a ten-thousandth is left. Range: 0 h and more, 4 to 30 C. Source: as `hours_until`.
    """
    require("time", hours, 0.0, 1e6, "h")
    decays, times = _hours_by_decay(celsius)
    left = exp(-_interpolated(times, decays, min(hours, times[-1])))
    return left if left >= _LEAST_FRACTION else 0.0


def gravity_at(original: float, final: float, celsius: float, hours: float) -> float:
    """Gravity (SG) `hours` after pitching at `celsius`, falling from `original` to `final` (SG) as the
    sugar does.

    Range: original 1.000 to 1.130, final 0.980 to original, 4 to 30 C. Source: as `hours_until`, unscaled.
    """
    require("original gravity", original, 1.0, 1.130, "SG")
    require("final gravity", final, 0.980, original, "SG")
    return final + (original - final) * fraction_left(celsius, hours)


@overload
def gravity_curve(original: float, final: float, celsius: float, hours: float) -> float: ...
@overload
def gravity_curve(
    original: float, final: float, celsius: float, hours: Sequence[float]
) -> tuple[float, ...]: ...
def gravity_curve(
    original: float, final: float, celsius: float, hours: float | Sequence[float]
) -> float | tuple[float, ...]:
    """Gravities (SG) at each of `hours` after pitching, or the one gravity if `hours` is one number.

    Range and source as `gravity_at`.
    """
    if isinstance(hours, int | float):
        return gravity_at(original, final, celsius, hours)
    return tuple(gravity_at(original, final, celsius, hour) for hour in hours)


def gravity_on_day(original: float, final: float, celsius: float, day: float, first_test_day: float) -> float:
    """Gravity (SG) on `day` after pitching if 99 % of the sugar is gone on `first_test_day` (both in days).

    The model's shape on the schedule's clock, so that a band drawn from it agrees with the dates. Range:
    days 0 to 10 000, first test from day 1 on, and as `gravity_at`. Source: shape as `hours_until`; the clock
    is the practice table's.
    """
    require("day", day, 0.0, 1e4, "days")
    require("first test", first_test_day, 1.0, 1e4, "days")
    hours = day / first_test_day * hours_until(FIRST_TEST_FRACTION, celsius)
    return gravity_at(original, final, celsius, hours)


def _between(knots: Knots, value: float) -> float:
    """Straight lines between the knots; flat beyond the last one; beyond the first the first line goes on."""
    if value >= knots[-1][0]:
        return knots[-1][1]
    after = max(next(index for index, (at, _) in enumerate(knots) if value <= at), 1)
    (x0, y0), (x1, y1) = knots[after - 1], knots[after]
    return y0 + (value - x0) * (y1 - y0) / (x1 - x0)


def _require_room(room_celsius: float, coldest: float, warmest: float) -> None:
    require("coldest room of the yeast", coldest, 8.0, COLDEST_ROOM, "C")
    require("warmest room of the yeast", warmest, WARMEST_ROOM, 40.0, "C")
    require("room", room_celsius, coldest, warmest, "C")


def ferment_factor(
    room_celsius: float, coldest: float = COLDEST_ROOM, warmest: float = WARMEST_ROOM
) -> float:
    """How many times longer than at 20 to 22 C fermenting takes in a **room** of `room_celsius` (C).

    The warmth of the first days is already in it. Range 14 to 30 C; a yeast whose own range is wider says
    so by `coldest` (not under 8) and `warmest` (not over 40): below 14 the first line goes on, above 30 the
    last value holds. Common practice, no source, smoothed.
    """
    _require_room(room_celsius, coldest, warmest)
    return _between(_FERMENT_FACTOR, room_celsius)


def fizz_days(room_celsius: float, coldest: float = COLDEST_ROOM, warmest: float = WARMEST_ROOM) -> float:
    """Usual days until bottles standing at `room_celsius` (C) are fizzy.

    Range and wider ranges as `ferment_factor`. Common practice, no source, smoothed.
    """
    _require_room(room_celsius, coldest, warmest)
    return _between(_FIZZ_DAYS, room_celsius)


def strength_days(original: float) -> tuple[float, float]:
    """Days to add for strength, (in the fermenter, in the bottle), before any temperature factor.

    Range: original gravity 1.000 to 1.130 SG; nothing up to 1.055, and from 1.100 the end values hold.
    Common practice, no source.
    """
    require("original gravity", original, 1.0, 1.130, "SG")
    if original <= _STRENGTH_FERMENT[0][0]:
        return 0.0, 0.0
    return _between(_STRENGTH_FERMENT, original), _between(_STRENGTH_BOTTLE, original)


def gap_days(room_celsius: float, kind: GapKind = "ordinary", skin_seen: bool = False) -> int:
    """Least days between two gravity readings that may be compared, in a fermenting room of `room_celsius`
    (C).

    2 from 20 C up, 3 from 16, 4 below; at least 7 for "mead", 28 for "still" drinks, 14 if a skin was seen;
    the longest that applies. Range 4 to 40 C. Cautious judgement, common practice, no source.
    """
    require("room", room_celsius, 4.0, 40.0, "C")
    least = {"ordinary": 0, "mead": 7, "still": 28}
    if kind not in least:
        raise ValueError(f"kind {kind!r} is not one of {', '.join(least)}")
    by_room = 2 if room_celsius >= 20.0 else 3 if room_celsius >= 16.0 else 4
    return max(by_room, least[kind], 14 if skin_seen else 0)
