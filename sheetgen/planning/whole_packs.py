"""Whole packs of what brings the strength: how many, to be as near as can be to what was asked.

Comes in: a `Batch` and the litres asked for.  Goes out: `Chosen`: the packs of each thing that carries
gravity and is sold in packs, and how much more or less strength they bring together than was asked.  That one
ratio is either given to the volume or to the strength; hops and all the rest follow the volume by weight.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product

from sheetgen.brewing import rounding
from sheetgen.model import Batch, Ingredient
from sheetgen.planning import packs
from sheetgen.planning.packs import Mix
from sheetgen.records import record

GRAVITY_ROLES = ("extract", "sugar", "honey", "juice", "fruit")
"""Grain to steep is weighed: the shop sells it loose, and what is left keeps."""
MOST_VARIED = 6
"""So many things are tried both with a pack less and a pack more, the weightiest first: 64 ways at most."""
VESSEL_STOP = 0.90
"""A choice that would fill a stated vessel further is taken only if there is no other."""


@record
class Group:
    """One thing that carries gravity: the lines of the recipe that use it, what they ask for in this batch,
    and the sizes it is sold in.  `points`: litre-degrees of what is asked for.
    """

    name: str
    lines: tuple[int, ...]
    amounts: tuple[float, ...]
    sizes: packs.Sizes
    points: float

    @property
    def wanted(self) -> float:
        """What its lines ask for together."""
        return sum(self.amounts)


@record
class Chosen:
    """Packs for each group; `ratio` is the strength they bring, all together, to that which was asked for."""

    groups: tuple[Group, ...]
    mixes: tuple[Mix, ...]
    ratio: float

    def amounts(self) -> dict[int, float]:
        """What each line of the recipe uses, so that nothing is left of any pack."""
        shared = [
            zip(group.lines, shares(mix, group.amounts), strict=True)
            for group, mix in zip(self.groups, self.mixes, strict=True)
        ]
        return {line: amount for pairs in shared for line, amount in pairs}


def sold_together(parts: Sequence[Ingredient]) -> list[tuple[int, ...]]:
    """The lines of a recipe that are bought as one thing: same pantry item, same name."""
    found: dict[tuple[str, str], list[int]] = {}
    for line, part in enumerate(parts):
        found.setdefault((part.item.id, part.name), []).append(line)
    return [tuple(lines) for lines in found.values()]


def sizes_of(parts: Sequence[Ingredient], lines: Sequence[int]) -> packs.Sizes:
    """The sizes that one thing is sold in, on whichever line they stand."""
    return packs.tidy_sizes(size for line in lines for size in parts[line].packs)


def gravity_groups(batch: Batch, litres: float) -> tuple[Group, ...]:
    """What must be whole, for so many litres, the weightiest first."""
    parts, factor = batch.recipe.ingredients, litres / batch.recipe.litres
    found = []
    for lines in sold_together(parts):
        first, sizes = parts[lines[0]], sizes_of(parts, lines)
        if first.item.points > 0 and first.item.role in GRAVITY_ROLES and sizes:
            amounts = tuple(parts[line].amount * factor for line in lines)
            found.append(Group(first.name, lines, amounts, sizes, sum(amounts) * first.item.points / 1000))
    return tuple(sorted(found, key=lambda group: -group.points))


def ways(groups: tuple[Group, ...]) -> Iterator[Chosen]:
    """Every way to take each thing a pack less or a pack more than was asked; never none of it."""
    asked = sum(group.points for group in groups)
    tried = [packs.bracket(group.wanted, group.sizes) for group in groups[:MOST_VARIED]]
    tried += [(_nearest(group),) for group in groups[MOST_VARIED:]]
    for mixes in product(*tried) if groups else ():
        brought = sum(
            group.points * packs.total(mix) / group.wanted for group, mix in zip(groups, mixes, strict=True)
        )
        yield Chosen(groups, mixes, brought / asked)


def _nearest(group: Group) -> Mix:
    both = packs.bracket(group.wanted, group.sizes)
    return min(both, key=lambda mix: abs(packs.total(mix) - group.wanted))


def distance(way: Chosen) -> float:
    """How far a way is from what was asked: all together, and its parts from each other by their share of the
    strength (common practice, no source).
    """
    asked = sum(group.points for group in way.groups)
    apart = sum(
        group.points / asked * abs(packs.total(mix) / group.wanted - way.ratio)
        for group, mix in zip(way.groups, way.mixes, strict=True)
    )
    return abs(way.ratio - 1) + apart


def choose(batch: Batch, litres: float, volume_follows: bool) -> Chosen | None:
    """The way that is nearest to what was asked, of those that a stated vessel holds; None if nothing that
    carries gravity is known to be sold in packs.
    """
    vessel = batch.equipment.vessel
    most = float(vessel) * VESSEL_STOP if vessel is not None and volume_follows else None

    def order(way: Chosen) -> tuple[bool, float, float]:
        over = most is not None and round(litres * way.ratio, 2) > most + 1e-9
        return over, way.ratio if over else round(distance(way), 9), way.ratio

    return min(ways(gravity_groups(batch, litres)), key=order, default=None)


def neighbours(batch: Batch, litres: float) -> tuple[Chosen, ...]:
    """The nearest way that makes no more than was asked, and the nearest that makes more; one, if there is no
    other.
    """
    found = list(ways(gravity_groups(batch, litres)))
    under = [way for way in found if way.ratio <= 1 + 1e-9]
    over = [way for way in found if way.ratio > 1 + 1e-9]
    return tuple(min(side, key=distance) for side in (under, over) if side)


def shares(mix: Mix, amounts: Sequence[float]) -> tuple[float, ...]:
    """What each line gets of the packs: whole packs where there are enough of one size, so that nothing need
    be weighed; otherwise by weight, in the proportion of the recipe.
    """
    number, held = packs.number_of(mix), packs.total(mix)
    wanted = sum(amounts)
    if len(mix) == 1 and number >= len(amounts):
        return tuple(count * mix[0][1] for count in _apportioned(number, [each / wanted for each in amounts]))
    weighed = [rounding.grams(held * each / wanted) for each in amounts[:-1]]
    rest = round(held - sum(weighed), 6)
    if rest > 0 and all(weighed):
        return (*weighed, rest)
    return tuple(held * each / wanted for each in amounts)


def _apportioned(number: int, parts: Sequence[float]) -> list[int]:
    """Whole packs for each line, at least one, as near to its share as can be."""
    found = [max(1, math.floor(part * number)) for part in parts]
    while sum(found) != number:
        behind = [part * number - has for part, has in zip(parts, found, strict=True)]
        if sum(found) < number:
            found[behind.index(max(behind))] += 1
        else:
            spare = [gap if has > 1 else math.inf for gap, has in zip(behind, found, strict=True)]
            found[spare.index(min(spare))] -= 1
    return found
