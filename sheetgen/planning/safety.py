"""What has already happened and is dangerous: the one sheet that replaces the set.

Comes in: the batch and the gate as it stood when bottles were filled.  Goes out: `Safety`, or None.
"""

from __future__ import annotations

from sheetgen.brewing import carbonation
from sheetgen.brewing.gate import FIRST_COUNTED_DAY
from sheetgen.model import Batch
from sheetgen.planning.gatekeeping import corrected, is_careful
from sheetgen.planning.plan import PASSED, Carbonation, Gate, Safety
from sheetgen.planning.planner import pitched_on
from sheetgen.planning.pressure import is_above
from sheetgen.planning.tasting import lively_on
from sheetgen.problems import Said, said

FELL_POINTS = 2.0
"""Thousandths that a reading from a bottle may lie lower, for bubbles and warmth (our own line)."""


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


def _early(batch: Batch, gate: Gate) -> list[Said]:
    """Bottles that were closed before the gate had passed, or before anything could have shown that."""
    bottled = batch.actual.bottled
    if bottled is None:
        return []
    days = (bottled.on - pitched_on(batch)).days
    reasons = [said("safety.before-gate", on=bottled.on), *gate.because] if gate.state not in PASSED else []
    if days < 0:
        return [*reasons, said("safety.before-brewing")]
    return [*reasons, said("safety.too-early", days=days)] if days < FIRST_COUNTED_DAY else reasons


def _lively(batch: Batch) -> list[Said]:
    """A bottle that foamed over: what is in the others is the same."""
    on = lively_on(batch)
    return [said("safety.lively", on=on)] if on else []


def _fed(batch: Batch) -> list[Said]:
    """What went in after the bottles were filled, and ferments."""
    bottled = batch.actual.bottled
    late = [entry for entry in batch.actual.added if bottled and entry.on > bottled.on]
    return [
        said("safety.fed", name=entry.name, on=entry.on)
        for entry in late
        if entry.what is None or entry.what.points > 0
    ]


def _fell(batch: Batch, gate: Gate, gas: Carbonation | None) -> list[Said]:
    """A reading from a bottle that is lower than the last before filling, by more gas than a bottle holds."""
    bottled, before = batch.actual.bottled, [one.corrected for one in gate.readings if one.counts]
    if bottled is None or not before:
        return []
    for reading in batch.actual.readings:
        points = 1000 * (before[-1] - corrected(batch, reading)) if reading.on > bottled.on else 0.0
        if points >= FELL_POINTS and _holds_too_little(gas, carbonation.volumes_from_points(points)):
            return [said("safety.fell", on=reading.on, before=before[-1], sg=corrected(batch, reading))]
    return []


def _holds_too_little(gas: Carbonation | None, more: float) -> bool:
    """Whether so much more gas is above what one of the bottles stands; one for still drinks stands none."""
    if gas is None:
        return True
    return any(
        is_above(size.volumes_upper + more, size.limit_volumes or 0.0) for size in gas.sizes if size.count
    )


def _reasons(batch: Batch, gate: Gate, gas: Carbonation | None) -> list[Said]:
    """The gravest first: what foams over, then what was closed too early, then what cannot hold it."""
    reasons = [*_lively(batch), *_early(batch, gate), *_fed(batch), *_fell(batch, gate, gas)]
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
    """Set when a bottle foamed over, was sealed before the gate passed, fed later, or cannot stand its gas.

    `gate` is as it stood when the bottles were filled.
    """
    reasons = _reasons(batch, gate, gas)
    return Safety(tuple(reasons), ("burst", "opening")) if reasons else None
