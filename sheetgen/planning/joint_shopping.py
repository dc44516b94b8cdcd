"""Shopping for a class: one list in whole packs for everybody, with what each of them gets.

Comes in: `Standing`s.  Goes out: `Joint`s.  Packs are chosen for the sum of all, so that a class opens fewer
of them than its people would one by one; yeast is not shared out of a sachet.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date

from sheetgen.planning.class_plan import Joint, Need, Share, Standing
from sheetgen.planning.packs import cover, left_over

KINDS = ("ingredient", "yeast", "sugar", "caps", "corks")
ONE_SPARE_FOR = 6
"""So many people share a sachet of yeast to spare (common practice, no source)."""
_Key = tuple[int, str, str, tuple[float, ...]]


def joint_shopping(people: Iterable[Standing]) -> tuple[Joint, ...]:
    """Everything that is still to be bought, in the order of use; most of a thing first among its like."""
    held: dict[_Key, list[tuple[Standing, Need]]] = {}
    for one in people:
        for need in one.needs:
            if need.amount > 0:
                key = (KINDS.index(need.kind), need.name, need.unit, need.sizes)
                held.setdefault(key, []).append((one, need))
    ordered = sorted(held.items(), key=lambda each: (each[0][0], -len(each[1]), each[0][1], each[0][2:]))
    return tuple(_joint(each) for _, each in ordered)


def _joint(each: Sequence[tuple[Standing, Need]]) -> Joint:
    need = each[0][1]
    amount = round(math.fsum(one.amount for _, one in each), 6)
    loose = need.kind in ("sugar", "caps", "corks", "yeast") or not need.sizes
    mix = () if loose else cover(amount, need.sizes)
    spare = -(-len(each) // ONE_SPARE_FOR) if need.kind == "yeast" else 0
    return Joint(
        kind=need.kind,
        name=need.name,
        unit=need.unit,
        amount=amount,
        packs=((int(amount) + spare, need.sizes[0]),) if need.kind == "yeast" else mix,
        left=left_over(mix, amount),
        spare=spare,
        by=_by(each),
        shares=tuple(Share(who.code, who.name, one.amount) for who, one in each),
    )


def _by(each: Sequence[tuple[Standing, Need]]) -> date:
    """The first day by which somebody needs it: for brewing, or not before bottling."""
    early = each[0][1].kind in ("ingredient", "yeast")
    return min(who.brew_by if early else who.on("bottle") or who.brew_by for who, _ in each)
