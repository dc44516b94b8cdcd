"""The ladder: sugar for the litres that are really in the vessel.

Comes in: grams a litre, the litres expected, the measure of the vessel's marks.  Goes out: rungs, fine near
what is expected and coarse far from it.
"""

from __future__ import annotations

from sheetgen.brewing import rounding
from sheetgen.planning.plan import Rung

MARK_LITRES = {"metric": 1.0, "us": 0.946352946, "uk": 0.56826125}
"""What a vessel is marked in: litres, US quarts, UK pints."""
LOWEST, NEAR, HIGHEST = 0.60, 0.90, 1.10
"""Rungs as shares of what is expected: a third may stay behind with the sediment, a tenth more may come; from
NEAR on they stand close (common practice, no source).
"""
NEAT = (0.05, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
COARSE_SHARE = 0.065
TINY = 3.0


def _fine(marks: float) -> float:
    """The step beside what is expected, in marks."""
    return NEAT[0] if marks <= TINY else rounding.ladder_step(marks)


def _coarse(marks: float) -> float:
    """The step far from it: the largest neat one of a fifteenth at most."""
    return max((step for step in NEAT if step <= COARSE_SHARE * marks), default=NEAT[0])


def _between(low: float, high: float, share: float, step: float) -> float:
    """A height between two others, in equal proportions."""
    return rounding.nearest_to(low * (high / low) ** share, step)


def heights(marks: float) -> list[float]:
    """Where the rungs stand, in the marks of the vessel: nine at most, the two about `marks` among them."""
    fine, coarse = _fine(marks), _coarse(marks)
    here = max(fine, rounding.down_to(marks, fine))
    lowest, near = (rounding.down_to(share * marks, step) for share, step in ((LOWEST, coarse), (NEAR, fine)))
    found = [lowest, near, here, here + fine, rounding.up_to(HIGHEST * marks, fine)]
    found += [_between(lowest, near, share, coarse) for share in (1 / 3, 2 / 3) if lowest > 0]
    found += [_between(low, high, 1 / 2, fine) for low, high in ((near, here), found[3:5]) if low > 0]
    return sorted({round(height, 3) for height in found if height > 0})


def ladder(grams_per_litre: float, litres: float, units: str = "metric") -> tuple[Rung, ...]:
    """Sugar for the whole vessel, by what is really in it; grams rounded down.

    Between two rungs the smaller is taken: never too much, and near what is expected about a twelfth too
    little at most.
    """
    mark = MARK_LITRES[units]
    rungs = [round(height * mark, 9) for height in heights(litres / mark)]
    return tuple(Rung(at, rounding.bulk_sugar_grams(grams_per_litre * at)) for at in rungs)
