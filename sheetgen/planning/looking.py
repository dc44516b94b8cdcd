"""The weaker gate, for this batch: looks and tastes, where there is no hydrometer.

Comes in: a `Batch`, its strength and today.  Goes out: `Gate` in its weaker form, and the days of its looks.
The judgement itself is `sheetgen.brewing.looks.judge_by_looks`; a batch that is not made for it goes through
the gate of readings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.brewing import gravity
from sheetgen.brewing.looks import LOOKS_APART_DAYS, LOOKS_FIRST_DAY, Look, judge_by_looks
from sheetgen.model import Batch
from sheetgen.planning.gatekeeping import correction_strip, judge, woken_days
from sheetgen.planning.graph import Step
from sheetgen.planning.plan import PASSED, Gate, GateLook, GateState
from sheetgen.planning.planner import Planner, pitched_on
from sheetgen.planning.strength import Strength
from sheetgen.problems import Said, said

MOST_ORIGINAL = 1.055
LEAST_ROOM_C = 18.0
MOST_VOLUMES = 2.2
"""What the weaker gate is good for (cautious judgement: common practice, no source)."""


def by_looks(batch: Batch) -> bool:
    """Whether looks decide: there is no hydrometer, nor a reading that shows that there is one after all."""
    return not batch.equipment.has_hydrometer and not batch.actual.readings


def stays_sweet(batch: Batch) -> bool:
    """Whether something in it stays sweet for ever, so that its taste says nothing."""
    return any(
        part.item.points > 0 and part.item.attenuation[1] <= 0.0 and part.amount > 0
        for part in batch.recipe.ingredients
    )


def obstacles(batch: Batch, found: Strength) -> Iterator[Said]:
    """Why looks cannot decide over this batch."""
    if gravity.ten_thousandths(found.strongest) > gravity.ten_thousandths(MOST_ORIGINAL):
        yield said("gate.looks-strong", sg=found.strongest, most=MOST_ORIGINAL)
    if batch.room.fermenting[0] < LEAST_ROOM_C:
        yield said("gate.looks-cold", celsius=float(batch.room.fermenting[0]), least=LEAST_ROOM_C)
    if not batch.recipe.drink.primed:
        yield said("gate.looks-still")
    if stays_sweet(batch):
        yield said("gate.looks-sweet")


def gate_of(batch: Batch, found: Strength, today: date, until: date | None = None) -> Gate:
    """Where the batch stands: by looks if there is no hydrometer and they may decide, else by readings.
    `until`: the day on which the bottles were filled; nothing is measured for the gate after it.
    """
    alone = by_looks(batch) and not any(obstacles(batch, found))
    gate = (judge_looks if alone else judge)(batch, found, today, until)
    return gate if until is None else replace(gate, next_date=None, tests_ahead=0)


def judge_looks(batch: Batch, found: Strength, today: date, until: date | None = None) -> Gate:
    """Where the batch stands, from the looks up to `until` (today, if None)."""
    pitched, last = pitched_on(batch), until or today
    taken = [look for look in batch.actual.looks if pitched <= look.on <= last]
    verdict = judge_by_looks(
        [Look((look.on - pitched).days, look.clear, look.sweet) for look in taken],
        woken_days(batch, found.strongest, today, until),
        (last - pitched).days,
    )
    state: GateState = "by-looks" if verdict.state == "pass-with-care" else verdict.state
    reason = "gate.pass-expired-look" if verdict.reason == "pass-expired" else f"gate.{verdict.reason}"
    return Gate(
        state=state,
        because=(said(reason, days=LOOKS_FIRST_DAY),),
        next_date=None if verdict.next_day is None else pitched + timedelta(days=verdict.next_day),
        gap_days=LOOKS_APART_DAYS,
        low=found.finish.low,
        high=found.finish.high,
        ceiling=found.ceiling,
        readings=(),
        pet_only=True,
        correction_strip=correction_strip(batch),
        by_looks=True,
        looks=tuple(
            GateLook(look.on, look.clear, look.sweet, counts)
            for look, counts in zip(taken, verdict.counted, strict=True)
        ),
    )


# Days


def look_steps(plan: Planner, gate: Gate) -> tuple[Step, ...]:
    """Every look that counts, then those that are still needed: two in a row that are clear and not sweet."""
    counted = [look for look in gate.looks if look.counts]
    taken: list[int | None] = [plan.number(on) for on in sorted({look.on for look in counted})]
    good = bool(counted) and counted[-1].clear and not counted[-1].sweet
    needed = 0 if gate.state in PASSED else 1 if good else 2
    days = [*taken, *[None] * needed]
    return tuple(
        Step(f"taste-{number}", "testing", True, ("home",), True, on) for number, on in enumerate(days, 1)
    )
