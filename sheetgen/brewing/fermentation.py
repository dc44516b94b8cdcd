"""How fast: a published growth model for the shape of a fermentation, and the practice table for its dates.

In: degrees Celsius, fractions of sugar, hours, SG. Out: hours, SG, factors, days. The model was fitted on
lager yeast at 4 to 16 C; above that it is extrapolated and stays monotone and plausible. It is used for
shape only: its time to 95 % falls fourfold from 15 to 25 C, the practice table's days twofold, and printed
dates keep to practice.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import exp, log
from typing import Literal, overload

from .growth import LEAST_FRACTION, decay_at_hours, hours_at_decay
from .ranges import require

COLDEST_ROOM = 14.0
WARMEST_ROOM = 30.0
FIRST_TEST_FRACTION = 0.01

_FERMENT_FACTOR = (
    (14.0, 1.8), (14.5, 1.7), (16.5, 1.35), (18.5, 1.1), (20.0, 1.0), (22.0, 1.0), (24.0, 0.8), (27.5, 0.7),
    (30.0, 0.7),
)  # fmt: skip
_FIZZ_DAYS = (
    (14.0, 41.0), (14.5, 38.0), (16.5, 26.0), (18.5, 18.0), (20.0, 14.0), (22.0, 14.0), (24.0, 10.5),
    (27.5, 8.5), (30.0, 8.5),
)  # fmt: skip
_SHAPE = ((4.0, 4.0), (20.0, 20.0), (22.0, 20.0), (24.0, 24.0), (27.5, 27.5), (30.0, 27.5))
_STRENGTH_FERMENT = ((1.055, 0.0), (1.060, 4.0), (1.073, 8.0), (1.085, 14.0), (1.100, 21.0))
_STRENGTH_BOTTLE = ((1.055, 0.0), (1.060, 7.0), (1.073, 28.0), (1.085, 56.0), (1.100, 112.0))

Knots = tuple[tuple[float, float], ...]
GapKind = Literal["ordinary", "mead", "still"]


def hours_until(fraction_left: float, celsius: float) -> float:
    """Hours from pitching until this fraction of the **sugar** (by mass) is left, at `celsius`; model,
    unscaled.

    Range: fraction 0.0001 to 1; 4 to 30 C, above 16 C extrapolated. Source: the growth model of Gee &
    Ramirez, J. Inst. Brew. 100 (1994) 321-329, starting from glucose 70, maltose 220, maltotriose 40, yeast
    125 mol/m3.
    """
    require("fraction of sugar left", fraction_left, LEAST_FRACTION, 1.0)
    return hours_at_decay(-log(fraction_left), celsius)


def fraction_left(celsius: float, hours: float) -> float:
    """Fraction of the sugar (by mass) left after `hours` at `celsius`; the inverse of `hours_until`.

    0 once less than a ten-thousandth is left. Range: 0 h and more, 4 to 30 C. Source: as `hours_until`.
    """
    require("time", hours, 0.0, 1e6, "h")
    left = exp(-decay_at_hours(hours, celsius))
    return left if left >= LEAST_FRACTION else 0.0


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


def shape_celsius(room_celsius: float) -> float:
    """The temperature (C) at which the model's shape is taken for a room of `room_celsius` (C).

    The room's own, held to 4 and 30; but where the practice table is flat (20 to 22 C, from 27.5 C) the shape
    stands still as well, and catches up by 24 C, so that a warmer room is never slower. Range -50 to 60 C.
    Our own choice, no source.
    """
    require("room", room_celsius, -50.0, 60.0, "C")
    return _between(_SHAPE, max(4.0, room_celsius))


@lru_cache(maxsize=256)
def _hours_to_first_test(celsius: float) -> float:
    return hours_until(FIRST_TEST_FRACTION, celsius)


def sugar_left_on_day(room_celsius: float, day: float, first_test_day: float, vigour: float = 1.0) -> float:
    """Fraction of the sugar left on `day` after pitching if 99 % is gone on `first_test_day` (both in days).

    The model's shape on the schedule's clock: model time, divided by the model's own time to 99 %, times the
    schedule's days; so that a band drawn from it agrees with the dates. `vigour` 1.2 is yeast a fifth faster
    than usual. Range: room -50 to 60 C, days 0 to 10 000, first test from day 1 on, vigour 0.2 to 5. Source:
    shape as `hours_until`; the clock is the practice table's.
    """
    require("day", day, 0.0, 1e4, "days")
    require("first test", first_test_day, 1.0, 1e4, "days")
    require("vigour", vigour, 0.2, 5.0)
    celsius = shape_celsius(room_celsius)
    hours = day * vigour / first_test_day * _hours_to_first_test(celsius)
    return fraction_left(celsius, min(hours, 1e6))


def gravity_on_day(
    original: float, final: float, celsius: float, day: float, first_test_day: float, vigour: float = 1.0
) -> float:
    """Gravity (SG) on `day` after pitching in a room of `celsius`, falling from `original` to `final` (SG).

    Range: original 1.000 to 1.130, final 0.980 to original, and as `sugar_left_on_day`. Source: as
    `sugar_left_on_day`.
    """
    require("original gravity", original, 1.0, 1.130, "SG")
    require("final gravity", final, 0.980, original, "SG")
    return final + (original - final) * sugar_left_on_day(celsius, day, first_test_day, vigour)


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


def fizz_days_by_day(room_celsius: Callable[[int], float]) -> float:
    """Usual days until bottles are fizzy that stand at `room_celsius(day)` (C) on each day after filling.

    Every day does its share of the whole, as `fizz_days` has it. Range 14 to 30 C. Common practice, no
    source.
    """
    left, day = 1.0, 0
    while True:
        share = 1 / fizz_days(room_celsius(day))
        if share >= left - 1e-9:
            return round(day + left / share, 6)
        left, day = left - share, day + 1


def strength_days(original: float) -> tuple[float, float]:
    """Days to add for strength, (in the fermenter, in the bottle), before any temperature factor.

    Range: original gravity 1.000 to 1.130 SG; nothing up to 1.055, and from 1.100 the end values hold.
    Common practice, no source.
    """
    require("original gravity", original, 1.0, 1.130, "SG")
    if original <= _STRENGTH_FERMENT[0][0]:
        return 0.0, 0.0
    return _between(_STRENGTH_FERMENT, original), _between(_STRENGTH_BOTTLE, original)


SKIN_GAP_DAYS = 14
"""Between two readings once a skin was seen (cautious judgement, common practice, no source)."""


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
    return max(by_room, least[kind], SKIN_GAP_DAYS if skin_seen else 0)
