"""Where a person of a class stands: what is next, what the gate says, what is still to be bought.

Comes in: a person's `Plan` and `Batch`.  Goes out: a `Standing`.  The gate is not asked anew: what the plan
says of it is what the person's own paper says.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from sheetgen.model import Batch
from sheetgen.planning.class_plan import BottlesOf, Chore, Need, Stand, Standing
from sheetgen.planning.dosing import sugar_to_buy
from sheetgen.planning.plan import PASSED, Plan, Task
from sheetgen.planning.whole_packs import sizes_of, sold_together

_NOT_THE_COACHS = ("best-", "taste-bottle")


def standing_of(plan: Plan, batch: Batch, name: str, shared_vessel: str = "") -> Standing:
    """Where somebody stands."""
    chores = tuple(_chores(plan))
    bottled = batch.actual.bottled
    newest = plan.gate.readings[-1] if plan.gate.readings else None
    return Standing(
        code=plan.code,
        name=name,
        drink=plan.name,
        litres=plan.quantities.litres,
        stand=stand_of(plan, bottled is not None),
        gate=plan.gate.state,
        because=plan.safety.because if plan.safety else plan.gate.because,
        read=(newest.on, newest.corrected) if newest else None,
        high=plan.gate.high,
        ceiling=plan.gate.ceiling,
        by_looks=plan.gate.by_looks,
        chores=chores,
        next=next((one for one in chores if not one.done), None),
        bottled=bottled.on if bottled else None,
        needs=tuple(_needs(plan, batch)),
        bottles=tuple(
            BottlesOf(row.ml, row.kind, row.have, row.need, row.short) for row in plan.bottles.rows
        ),
        brew_by=plan.lists.buy[0].by or batch.brew_day if plan.lists.buy else batch.brew_day,
        vessel=shared_vessel,
        at=batch.where.get("equipment.vessel"),
    )


def vessel_clashes(people: Sequence[Standing]) -> list[tuple[Standing, Standing]]:
    """Who needs a shared vessel while it is somebody else's: the later one and the one in the way."""
    ordered = sorted((one for one in people if one.vessel), key=lambda one: (_begins(one), one.code))
    found = []
    for place, later in enumerate(ordered):
        before = [one for one in ordered[:place] if one.vessel.casefold() == later.vessel.casefold()]
        in_the_way = max(before, key=lambda one: one.busy_until, default=None)
        if in_the_way and in_the_way.busy_until >= _begins(later):
            found.append((later, in_the_way))
    return found


def _begins(one: Standing) -> date:
    return one.on("brew") or date.max


def stand_of(plan: Plan, bottled: bool) -> Stand:
    """How the batch stands, for the coach: the gate's own word, before and after it other ones."""
    state = plan.gate.state
    if plan.safety:
        return "unsafe"
    if bottled:
        return "in-bottles"
    if plan.task("brew").state != "done":
        return "to-brew"
    if state in PASSED:
        return "may-bottle"
    if state == "stuck" or state == "measure-again" or state == "wait":
        return state
    return "to-test"


def _chores(plan: Plan) -> Iterator[Chore]:
    """What hands do, and the first day of drinking, in the order of days."""
    shown = [task for task in plan.tasks if (task.hands_on or task.id == "drink-from") and _is_shown(task)]
    for task in sorted(shown, key=lambda task: task.when.expected):
        clock = plan.start if task.id == "brew" else None
        yield Chore(task.id, task.when.expected, task.state == "done", clock)


def _is_shown(task: Task) -> bool:
    return not task.id.startswith(_NOT_THE_COACHS)


# What is still to be bought


def _needs(plan: Plan, batch: Batch) -> Iterator[Need]:
    """What brewing takes until it is brewed, and bottling until it is bottled."""
    if plan.safety:
        return
    if plan.task("brew").state != "done":
        parts = batch.recipe.ingredients
        for bought, lines in zip(plan.quantities.purchases, sold_together(parts), strict=True):
            yield Need("ingredient", bought.name, bought.amount, bought.unit, sizes_of(parts, lines))
        grams = plan.quantities.yeast_pack_g
        yield Need("yeast", plan.quantities.yeast_name, float(plan.quantities.yeast_packs), "piece", (grams,))
    if batch.actual.bottled is None:
        yield from _to_bottle(plan)


def _to_bottle(plan: Plan) -> Iterator[Need]:
    gas = plan.carbonation
    if gas is not None and gas.total_g > 0:
        wanted = sugar_to_buy(gas, plan.bottles)
        yield Need("sugar", gas.sugar, wanted.value, wanted.unit)
    for kind, count in (("caps", plan.bottles.crown_caps), ("corks", plan.bottles.corks)):
        if count:
            yield Need(kind, kind, float(count), "piece")
