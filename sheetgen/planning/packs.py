"""Whole packs: which ones cover an amount, and which come nearest to it.

Comes in: an amount and the sizes that are sold, in one unit (g, ml or pieces).  Goes out: a `Mix`, how many
of each size.  Sums are of whole thousandths, so that no pack is bought for the dust of binary fractions.

So many small packs as weigh the same as some large ones are never the best: the large ones are fewer.  That
bounds the search (`_worth_trying`) and still finds the best.  Sizes that hardly have a common measure are
tried `TRIES` packs deep, which is more than a kitchen buys of the largest; beyond that the bulk is taken in
the largest packs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

Mix = tuple[tuple[int, float], ...]
"""(packs, size) for each size that is bought, largest first."""
Sizes = tuple[float, ...]
_Tried = tuple[int, int, int, tuple[int, ...]]

MOST_SIZES = 4
TRIES = (0, 0, 12, 12, 6)
"""How deep the search goes for so many sizes: at most 7 x 7 x 7 x 2 mixes."""
_PARTS = 1000


def tidy_sizes(sizes: Iterable[float]) -> Sizes:
    """The sizes each once, largest first, `MOST_SIZES` at most."""
    return tuple(sorted({float(size) for size in sizes if size > 0}, reverse=True)[:MOST_SIZES])


def total(mix: Mix) -> float:
    """What the packs hold together."""
    return round(sum(number * size for number, size in mix), 6)


def number_of(mix: Mix) -> int:
    """How many packs there are."""
    return sum(number for number, _ in mix)


def left_over(mix: Mix, amount: float) -> float:
    """What is left of the packs when `amount` is used; of no packs, nothing."""
    return max(0.0, round(total(mix) - amount, 6))


def cover(amount: float, sizes: Sequence[float]) -> Mix:
    """The packs that hold `amount`: least left over, then fewest packs, then fewest sizes.

    Nothing wanted, or no size known, is no pack.
    """
    wanted, known = _whole(amount), tidy_sizes(sizes)
    return _cover(wanted, known) if wanted > 0 and known else ()


@lru_cache(maxsize=1024)
def _cover(wanted: int, sizes: Sizes) -> Mix:
    return _mix(min(each for each in _tried(wanted, sizes) if _holds(each, wanted))[-1], sizes)


def _holds(tried: _Tried, wanted: int) -> bool:
    """Whether so many packs hold what is wanted; a pack that was rounded lacks a thousandth at most."""
    return tried[0] + tried[1] >= wanted


def bracket(amount: float, sizes: Sequence[float]) -> tuple[Mix, ...]:
    """The packs whose sum is nearest under `amount` (or equal) and nearest over it; one of them if there is
    no other.  Never no pack at all.
    """
    wanted, known = max(1, _whole(amount)), tidy_sizes(sizes)
    tried = list(_tried(wanted, known))
    under = min((each for each in tried if 0 < each[0] <= wanted + each[1]), key=_fullest, default=None)
    over = min((each for each in tried if each[0] > wanted + each[1]), default=None)
    if under and _holds(under, wanted):
        over = None
    return tuple(_mix(side[-1], known) for side in (under, over) if side)


def _fullest(tried: _Tried) -> _Tried:
    held, number, kinds, numbers = tried
    return -held, number, kinds, numbers


def _whole(amount: float) -> int:
    return round(amount * _PARTS)


def _tried(wanted: int, sizes: Sizes) -> Iterator[_Tried]:
    """(sum, packs, sizes, numbers) of each mix, so that the least one is the best."""
    units = tuple(max(1, _whole(size)) for size in sizes)
    for numbers in _numbers(wanted, units, TRIES[len(units)]):
        held = sum(number * unit for number, unit in zip(numbers, units, strict=True))
        yield held, sum(numbers), sum(1 for number in numbers if number), numbers


def _numbers(wanted: int, units: tuple[int, ...], tries: int) -> Iterator[tuple[int, ...]]:
    """How many of each size, largest first, so that the sum is just under or just over what is wanted."""
    unit, smaller = units[0], units[1:]
    most = max(0, -(-wanted // unit))
    if not smaller:
        yield from {(max(0, wanted // unit),), (most,)}
        return
    least = max(0, most - min(tries, _worth_trying(unit, smaller)))
    for number in range(most, least - 1, -1):
        for others in _numbers(wanted - number * unit, smaller, tries):
            yield (number, *others)


def _worth_trying(unit: int, smaller: tuple[int, ...]) -> int:
    """How many packs fewer than would hold everything are worth a try: `unit / gcd` packs of a smaller size
    are the same as some of this one, so fewer than that are bought.
    """
    return 1 + sum(size // math.gcd(unit, size) for size in smaller)


def _mix(numbers: tuple[int, ...], sizes: Sizes) -> Mix:
    return tuple((number, size) for number, size in zip(numbers, sizes, strict=True) if number)
