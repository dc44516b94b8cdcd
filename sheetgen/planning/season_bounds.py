"""What brew days cost at the least: how early batches can begin in so many vessels, how late they are then.

Comes in: whole numbers.  Goes out: numbers that no choice of days goes below.  The search for brew days gives
up what cannot be better than the best it has; so the higher these are, the less it tries.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heapify, heapreplace


def least_start(
    earliest: Sequence[int], shortest: Sequence[int], free: Sequence[int], apart: int
) -> tuple[list[int], int]:
    """Days before which the first, second … of some batches cannot begin, and the least sum of all brew days.

    `earliest`: the first day of each; `shortest`: how long each keeps a vessel at least; `free`: the first
    day of every vessel; `apart`: days between two brew days.  Two batches in one vessel follow each other, so
    the one that is so many places later as there are vessels waits for the shortest of them.
    """
    least, found, vessels = min(shortest), list[int](), len(free)
    for place, start in enumerate(sorted(earliest)):
        day = max(start, found[-1] + apart) if found else start
        found.append(max(day, found[place - vessels] + least) if place >= vessels else day)
    return found, max(sum(found), _one_after_another(shortest, free))


def _one_after_another(shortest: Sequence[int], free: Sequence[int]) -> int:
    """The least sum of first days in vessels that are free from these days on: the shortest batch first, each
    in the vessel that is free first (no order has a smaller sum: a known result on machines in a row).
    """
    ready, total = list(free), 0
    heapify(ready)
    for length in sorted(shortest):
        total += ready[0]
        heapreplace(ready, ready[0] + length)
    return total


def least_late(starts: Sequence[int], worries: Sequence[int | None]) -> int:
    """The fewest days late in all, if the first, second … batch begins no sooner than `starts`: who is wanted
    soonest begins first (whoever begins a day after `worries` is late by it; None: never late).
    """
    never = 10**9
    wanted = sorted(never if worry is None else worry for worry in worries)
    return sum(max(0, start - worry) for start, worry in zip(starts, wanted, strict=True))
