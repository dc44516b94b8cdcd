"""What has already happened and is dangerous: the one sheet that replaces the set.

Comes in: the batch and the gate as it stood when bottles were filled.  Goes out: `Safety`, or None.
"""

from __future__ import annotations

from sheetgen.brewing.gate import FIRST_COUNTED_DAY
from sheetgen.model import Batch
from sheetgen.planning.gatekeeping import is_careful
from sheetgen.planning.plan import PASSED, Carbonation, Gate, Safety
from sheetgen.planning.planner import pitched_on
from sheetgen.planning.pressure import is_above
from sheetgen.problems import Said, said


def _careless_bottles(batch: Batch, gate: Gate) -> list[Said]:
    """Bottles that were filled although the gate had passed only with care, and not for their kind."""
    bottled = batch.actual.bottled
    if gate.state not in ("pass-with-care", "by-looks") or bottled is None or not batch.recipe.drink.primed:
        return []
    counts = bottled.counts or tuple(row.count for row in batch.bottles)
    return [
        said("safety.weak-bottle", ml=float(row.ml), kind=row.kind.id)
        for row, count in zip(batch.bottles, counts, strict=True)
        if count and not is_careful(row.kind.id, gate.pet_only)
    ]


def _reasons(batch: Batch, gate: Gate, gas: Carbonation | None) -> list[Said]:
    bottled = batch.actual.bottled
    if bottled is None:
        return []
    reasons: list[Said] = []
    if gate.state not in PASSED:
        reasons.append(said("safety.before-gate", on=bottled.on))
        reasons += gate.because
    if (bottled.on - pitched_on(batch)).days < FIRST_COUNTED_DAY:
        reasons.append(said("safety.too-early", days=(bottled.on - pitched_on(batch)).days))
    return [*dict.fromkeys([*reasons, *_careless_bottles(batch, gate), *_weak_bottles(batch, gas)])]


def _weak_bottles(batch: Batch, gas: Carbonation | None) -> list[Said]:
    """Bottles that were filled although they cannot stand the gas."""
    bottled = batch.actual.bottled
    if not batch.recipe.drink.primed or bottled is None:
        return []
    counts = bottled.counts or tuple(row.count for row in batch.bottles)
    uppers = [size.volumes_upper for size in gas.sizes] if gas else [0.0] * len(counts)
    return [
        said("safety.weak-bottle", ml=float(row.ml), kind=row.kind.id)
        for row, count, upper in zip(batch.bottles, counts, uppers, strict=True)
        if count and (row.kind.refuse is None or is_above(upper, row.kind.refuse))
    ]


def safety_of(batch: Batch, gate: Gate, gas: Carbonation | None) -> Safety | None:
    """Set when glass was sealed before the gate passed, or bottles were filled that cannot stand it.

    `gate` is as it stood when the bottles were filled.
    """
    reasons = _reasons(batch, gate, gas)
    return Safety(tuple(reasons), ("burst", "opening")) if reasons else None
