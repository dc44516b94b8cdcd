"""Which bottles are filled: in the person's order, or those that leave the least over.

Comes in: millilitres, and how many bottles there are of each size.  Goes out: how many of each are filled.  A
bottle counts as what it is called: filled to 25-30 mm under the rim, one of 500 ml holds 500 ml within a few
millilitres.  More litres never hold less, in both ways of filling; they may take fewer bottles, when a large
one gets full that took three small ones before.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

MOST_STATES = 1 << 22
"""Litres and numbers of bottles that are looked at together: enough for 100 L in sizes of whole 10 ml
from 250 ml on, and for 35 L in any sizes from 330 ml on.  Beyond it the choice still leaves the least over;
but of two that leave the same, the one nearer to the person's order is taken, though it may need more
bottles.
"""


def in_order(ml: int, sizes: Sequence[float], counts: Sequence[int]) -> list[int]:
    """How many of each size get full when each row is filled before the next."""
    filled = []
    for size, count in zip(sizes, counts, strict=True):
        number = max(0, min(count, int(ml // size)))
        filled.append(number)
        ml -= round(number * size)
    return filled


def left_over(ml: int, sizes: Sequence[float], filled: Sequence[int]) -> int:
    """Whole millilitres that are left beside the full bottles, rounded as each row is; never under 0."""
    return max(0, ml - sum(round(number * size) for number, size in zip(filled, sizes, strict=True)))


def least_over(ml: int, sizes: Sequence[float], counts: Sequence[int]) -> list[int]:
    """The choice that leaves the fewest millilitres; of several the one with the fewest bottles, then the
    one that fills most of the first row, then of the second.

    Exact for whole millilitres: a size with a fraction counts as the next whole one.  All sums that bottles
    can make are the bits of one number; adding a bottle moves them up by its size.
    """
    whole = [math.ceil(round(size, 6)) for size in sizes]
    unit = math.gcd(*whole)
    parts, total = [size // unit for size in whole], ml // unit
    most = [min(count, total // part) for part, count in zip(parts, counts, strict=True)]
    stride = min(sum(most), total // min(parts)) + 1
    if (total + 1) * stride > MOST_STATES:
        stride = 1
    weights = [part * stride + (stride > 1) for part in parts]
    sums = _sums(weights, most, (total + 1) * stride)
    goal = _fullest(sums[0], stride)
    return _first_of(goal, weights, most, sums)


def _sums(weights: Sequence[int], most: Sequence[int], states: int) -> list[int]:
    """For each row: bit n is set if this row and those after it can make the sum n, below `states`."""
    mask = (1 << states) - 1
    found = [1]
    for weight, count in zip(reversed(weights), reversed(most), strict=True):
        bits, rest, step = found[-1], count, 1
        while rest:
            taken = min(step, rest)
            bits |= (bits << taken * weight) & mask
            rest, step = rest - taken, step * 2
        found.append(bits)
    return found[::-1]


def _fullest(bits: int, stride: int) -> int:
    """The greatest sum with the fewest bottles: below the highest bit, the lowest of its stride."""
    start = (bits.bit_length() - 1) // stride * stride
    same = bits >> start
    return start + (same & -same).bit_length() - 1


def _first_of(goal: int, weights: Sequence[int], most: Sequence[int], sums: Sequence[int]) -> list[int]:
    """As many of the first row as the goal allows, then of the second."""
    filled = []
    for weight, count, after in zip(weights, most, sums[1:], strict=True):
        number, table = min(count, goal // weight), after.to_bytes(after.bit_length() // 8 + 1, "little")
        while not _has(table, goal - number * weight):
            number -= 1
        filled.append(number)
        goal -= number * weight
    return filled


def _has(table: bytes, bit: int) -> bool:
    return bit >> 3 < len(table) and bool(table[bit >> 3] >> (bit & 7) & 1)
