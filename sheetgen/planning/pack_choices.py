"""The three ways to treat packs, side by side, and what whole packs would fill.

Comes in: a `Batch` and its gas.  Goes out: `PackChoice`s, each reckoned with the functions that plan the
batch itself, and `PackFill`s for a batch that is asked for in bottles.  Once it is brewed there is nothing to
choose.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from sheetgen.brewing import gravity
from sheetgen.model import Actual, Assumption, Batch, WholePacks
from sheetgen.planning import packs
from sheetgen.planning.additions import quantity_of
from sheetgen.planning.bottling import full_bottles, more_needed
from sheetgen.planning.bottling_rules import STRONGEST
from sheetgen.planning.kitchen import OVER_THE_MARK_L, held_litres
from sheetgen.planning.plan import Carbonation, PackChoice, PackFill, Purchase
from sheetgen.planning.planner import has_begun
from sheetgen.planning.scaling import (
    Scaled,
    asked_litres,
    is_a_batch,
    is_over_the_most,
    loss_litres,
    readings_count,
    scale,
    volume_can_follow,
)
from sheetgen.planning.strength import Strength, alcohol_of, strength
from sheetgen.planning.whole_packs import GRAVITY_ROLES, VESSEL_STOP, gravity_groups, neighbours
from sheetgen.problems import Said, said

NOTICEABLE = 0.02
"""A smaller share of the volume, or of what was bought, is not worth a word on paper."""
LEAST_STEP_L = 0.05
WAYS: tuple[WholePacks, ...] = ("exact", "volume-follows", "strength-follows")


def pack_choices(batch: Batch, gas: Carbonation | None) -> tuple[PackChoice, ...]:
    """All three, if anything that carries gravity is known to be sold in packs."""
    if has_begun(batch) or not gravity_groups(batch, asked_litres(batch)):
        return ()
    sugar = gas.g_per_litre if gas else 0.0
    return tuple(_choice(replace(batch, whole_packs=way, actual=Actual()), batch, sugar) for way in WAYS)


def _choice(tried: Batch, batch: Batch, sugar_g_per_litre: float) -> PackChoice:
    scaled = scale(tried)
    found = strength(tried, scaled)
    strong = [bought for bought in scaled.purchases if carries_gravity(bought)]
    return PackChoice(
        way=tried.whole_packs,
        chosen=tried.whole_packs == batch.whole_packs,
        litres=scaled.planned_l,
        original_gravity=found.original,
        percent_by_volume=_percent(batch, found, sugar_g_per_litre),
        packs=sum(bought.packs or 0 for bought in strong),
        left_g=round(sum(bought.left for bought in strong if bought.unit == "g"), 6),
        left_ml=round(sum(bought.left for bought in strong if bought.unit == "ml"), 6),
        bottles=bottles_filled(batch, scaled),
        stopped_by=_stopped_by(tried, scaled, found),
        purchases=scaled.purchases,
    )


def _stopped_by(
    tried: Batch, scaled: Scaled, found: Strength
) -> Literal["litres", "vessel", "strength"] | None:
    """What the rules would stop this way for."""
    vessel = tried.equipment.vessel
    if tried.whole_packs == "volume-follows" and not volume_can_follow(tried, scaled.asked_l):
        return "litres"
    if is_over_the_most(scaled.planned_l) or held_litres(tried, scaled) > scaled.planned_l + OVER_THE_MARK_L:
        return "litres"
    if vessel is not None and round(scaled.planned_l / vessel, 9) > VESSEL_STOP:
        return "vessel"
    too_strong = gravity.ten_thousandths(found.calculated) > gravity.ten_thousandths(STRONGEST)
    return "strength" if too_strong else None


def _percent(batch: Batch, found: Strength, sugar_g_per_litre: float) -> float:
    """Strength in % vol as the plan has it, for a drink that ends where it is expected to."""
    return alcohol_of(found, found.finish.expected, sugar_g_per_litre, batch.sugar).balling


def carries_gravity(bought: Purchase) -> bool:
    """Whether a purchase is one of those that whole packs are about."""
    return bought.role in GRAVITY_ROLES and bought.packs is not None


def bottles_filled(batch: Batch, scaled: Scaled) -> int:
    """Full bottles: those at hand in their order, then as many more of the last size as it takes."""
    filled, left = full_bottles(scaled.bottling_l, batch.bottles, batch.fill)
    return sum(filled) + more_needed(left, batch.bottles)


def pack_fills(batch: Batch) -> tuple[PackFill, ...]:
    """What the whole packs next to a number of bottles would fill, just under and just over it."""
    if batch.bottle_goal is None or has_begun(batch):
        return ()
    asked, ml = asked_litres(batch), float(batch.bottle_goal[1])
    found = []
    for way in neighbours(batch, asked):
        litres = round(asked * way.ratio, 2)
        if is_a_batch(litres, asked):
            ready = max(0.0, litres - loss_litres(batch, litres, readings_count(batch)))
            mix = tuple(part for each in way.mixes for part in each)
            found.append(PackFill(packs.number_of(mix), litres, int(round(ready * 1000, 3) // ml), mix))
    return tuple(found)


# What paper says about it


def recipe_gravity(batch: Batch) -> float:
    """The original gravity that the recipe means, as SG."""
    recipe = batch.recipe
    points = sum(quantity_of(part.item, part.amount) * part.item.points for part in recipe.ingredients)
    return 1 + points / recipe.litres / 1000


def pack_assumptions(
    batch: Batch, scaled: Scaled, found: Strength, gas: Carbonation | None
) -> Iterator[Assumption]:
    """The volume that a number of bottles needs; what gave way to whole packs."""
    if batch.bottle_goal is not None:
        count, ml = batch.bottle_goal
        sentence = said("assume.bottles-need", n=count, ml=float(ml), litres=scaled.asked_l)
        yield Assumption("volume", sentence)
    if abs(scaled.planned_l - scaled.asked_l) >= LEAST_STEP_L:
        sentence = said("assume.packs-volume", asked=scaled.asked_l, litres=scaled.planned_l)
        yield Assumption("whole-packs", sentence)
    meant = recipe_gravity(batch)
    if batch.whole_packs == "strength-follows" and f"{meant:.3f}" != f"{found.calculated:.3f}":
        strong = _percent(batch, found, gas.g_per_litre if gas else 0.0)
        sentence = said("assume.packs-strength", sg=found.calculated, meant=meant, percent=strong)
        yield Assumption("whole-packs", sentence)


def about_packs(batch: Batch, choices: tuple[PackChoice, ...], fills: tuple[PackFill, ...]) -> Iterator[Said]:
    """What the other ways would give, if they give something else; what whole packs would fill."""
    for choice in choices:
        if not choice.chosen and choice.stopped_by is None and _differ(*choices[:2]):
            values = {"litres": choice.litres, "percent": choice.percent_by_volume}
            yield said(f"packs.{choice.way}", **values)
    if fills and batch.bottle_goal is not None:
        yield _filling(fills, float(batch.bottle_goal[1]), _one_size(batch, fills))


def _differ(exact: PackChoice, volume: PackChoice) -> bool:
    return abs(volume.litres - exact.litres) > NOTICEABLE * exact.litres


def _one_size(batch: Batch, fills: tuple[PackFill, ...]) -> float | None:
    """The grams of every pack that fills bottles, if they are all alike."""
    sizes = {size for fill in fills for _, size in fill.pack_mix}
    weighed = all(
        part.item.unit == "g" for part in batch.recipe.ingredients if part.item.role in GRAVITY_ROLES
    )
    return sizes.pop() if weighed and len(sizes) == 1 else None


def _filling(fills: tuple[PackFill, ...], ml: float, size: float | None) -> Said:
    values: dict[str, float] = {"ml": ml} if size is None else {"ml": ml, "size": size}
    for at, fill in enumerate(fills, 1):
        values |= {f"packs{at}": fill.packs, f"n{at}": fill.bottles}
    return said(f"packs.fill-{'' if size is None else 'sized-'}{len(fills)}", **values)
