"""What labels may say, and when they may be printed at all.

Comes in: the batch, its gate, its bottling task and its pace.  Goes out: `LabelPlan`.  "Not before" is always
the fill date on the same label plus the wait.
"""

from __future__ import annotations

from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.planning.plan import PASSED, Gate, KeepingPlan, LabelPlan, Task
from sheetgen.planning.planner import Pace
from sheetgen.planning.sulphites import allergens_of

CHOICES = 14
PRINTABLE = ("not-yet", *PASSED)
"""A gate that waits, doubts or is stuck prints no labels and no sugar."""


def may_print(gate: Gate) -> bool:
    """Whether labels and sugar may be printed: the gate has not been asked, wants its second reading, or
    passed.
    """
    waiting = any(reason.id in ("gate.need-second", "gate.need-second-look") for reason in gate.because)
    return gate.state in PRINTABLE or (gate.state == "wait" and waiting)


def fill_choices(expected: date, wait: int) -> tuple[tuple[date, date], ...]:
    """Other fill dates, and what each would make of the label."""
    days = [expected + timedelta(days=n) for n in range(CHOICES)]
    return tuple((day, day + timedelta(days=wait)) for day in days)


def label_plan(
    batch: Batch,
    gate: Gate,
    bottle: Task,
    pace: Pace,
    unsafe: bool,
    sulphites_mg: float,
    kept: KeepingPlan,
) -> LabelPlan:
    """The dates and words of a label; `sulphites_mg` a litre decides whether they are named.  Best before is
    that of the bottles that keep longest, of those that are filled.
    """
    filled = bottle.when.expected
    actual = batch.actual.bottled is not None
    best = [one for one in kept.bottles if one.filled] or kept.bottles
    allergens, known = allergens_of(batch, sulphites_mg)
    return LabelPlan(
        allowed=not unsafe and (actual or may_print(gate)),
        filled=filled,
        filled_is="actual" if actual else "planned",
        not_before=filled + timedelta(days=pace.wait),
        best_from=kept.best_from,
        best_to=max((one.best_to for one in best), default=kept.best_from),
        best_before=max((one.best_before for one in best), default=kept.best_from),
        wait_days=pace.wait,
        fill_choices=fill_choices(filled, pace.wait),
        allergens=allergens,
        allergens_known=known,
    )
