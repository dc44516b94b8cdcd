"""How long a drink keeps: by the warmth of its store, and in thin plastic.

In: degrees Celsius, days. Out: factors, days. Quality, not safety. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from .ranges import require

PLASTIC_DAYS = 121.6
"""Thin plastic lets gas out and air in: four months of 30.4 days at most (common practice, no source)."""
MOST_DAYS = 20_000
_STORE = ((8.0, 1.5), (12.0, 1.0), (20.0, 1.0), (25.0, 0.5), (35.0, 0.25))


def store_factor(celsius: float) -> float:
    """How many times as long as in a cool cellar (12 to 20 C) a drink keeps at `celsius`.

    Half as long again up to 8 C, half at 25 C, a quarter from 35 C on; straight lines between, so that a
    degree never makes a jump, and a warmer store never keeps it longer. Range -50 to 60 C. Common practice
    for the steps, no source; a quarter at 35 C goes on with halving for each ten degrees.
    """
    require("store", celsius, -50.0, 60.0, "C")
    if celsius <= _STORE[0][0]:
        return _STORE[0][1]
    for (cool, longer), (warm, shorter) in pairwise(_STORE):
        if celsius <= warm:
            return longer + (celsius - cool) / (warm - cool) * (shorter - longer)
    return _STORE[-1][1]


def kept_days(days: float, store: Callable[[int], float], plastic: bool = False) -> float:
    """Days until what keeps `days` in a cool cellar is past its best, if its store is at `store(day)` C on
    each day after filling.

    Every day uses up its share, more of it in the warmth. `plastic`: in thin plastic, four months at most,
    however cold. Range: days 0 to 20 000. Common practice, no source.
    """
    longest = _longest(plastic)
    left, day = _whole(days, plastic), 0
    while left > 0 and day < longest:
        use = 1 / store_factor(store(day))
        if use >= left:
            return min(longest, day + left / use)
        left, day = left - use, day + 1
    return min(longest, float(day))


def kept_days_in_spells(days: float, spells: Sequence[tuple[int, float]], plastic: bool = False) -> float:
    """The same for a store that seldom changes: `spells` pairs the day from which it holds with C, in order,
    the first from day 0; one spell is a store that is always the same.

    Range and source as `kept_days`.
    """
    longest, left = _longest(plastic), _whole(days, plastic)
    ends = [*(first for first, _ in spells[1:]), math.inf]
    for (first, celsius), end in zip(spells, ends, strict=True):
        longer = store_factor(celsius)
        if left * longer <= end - first:
            return min(longest, first + left * longer)
        left -= (end - first) / longer
    raise ValueError("the store needs one temperature at least")


def _whole(days: float, plastic: bool) -> float:
    require("keeping", days, 0.0, MOST_DAYS, "days")
    return min(days, PLASTIC_DAYS) if plastic else days


def _longest(plastic: bool) -> float:
    return PLASTIC_DAYS if plastic else 1.5 * MOST_DAYS
