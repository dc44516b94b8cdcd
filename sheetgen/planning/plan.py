"""The plan: everything that a set of paper says, as plain frozen data.

Comes in: what the other modules of planning worked out.  Goes out: `Plan`, which printing turns into views
and `as_json` into `<code>-plan.json`.  Whatever is printed is in here; nothing in here is formatted. Masses
in grams, volumes in litres (bottles in ml), temperatures in C, gravities as SG, gas in volumes, gauge bar.
"""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Literal

from sheetgen import RULES_OF, __version__
from sheetgen.model import GasFelt
from sheetgen.planning.graph import Link
from sheetgen.planning.plan_amounts import (
    DrinkUnits,
    GravityRange,
    PackChoice,
    PackFill,
    Purchase,
    Quantities,
    Use,
)
from sheetgen.planning.plan_band import Band, Fermentation
from sheetgen.planning.plan_bottles import (
    BottlePlan,
    BottleRow,
    Carbonation,
    Dose,
    OddBottle,
    Pressure,
    Rung,
    Syrup,
    Verdict,
    Way,
    WhatIf,
)
from sheetgen.planning.plan_days import Reason, Reasons, Tempo
from sheetgen.planning.plan_events import BrewDayIs, EventPlan
from sheetgen.planning.plan_keeping import KeepingPlan, Kept
from sheetgen.planning.plan_sheets import (
    Amount,
    Cleaning,
    CleaningPart,
    Line,
    Lists,
    Safety,
    Sanitising,
    Step,
    Trouble,
    TroubleCard,
)
from sheetgen.planning.plan_water import Bath, Doubt, Ice, Remedies, Wait, WaterPlan
from sheetgen.problems import Problem, Said
from sheetgen.records import record

__all__ = [
    "Amount",
    "Band",
    "Bath",
    "BottlePlan",
    "BottleRow",
    "BrewDayIs",
    "Carbonation",
    "Cleaning",
    "CleaningPart",
    "Dose",
    "Doubt",
    "DrinkUnits",
    "EventPlan",
    "Fermentation",
    "Gate",
    "GateLook",
    "GateReading",
    "GateState",
    "GravityRange",
    "Ice",
    "KeepingPlan",
    "Kept",
    "LabelPlan",
    "Line",
    "Lists",
    "Move",
    "OddBottle",
    "PackChoice",
    "PackFill",
    "Plan",
    "Pressure",
    "Purchase",
    "Quantities",
    "Reason",
    "Reasons",
    "Remedies",
    "Rung",
    "Safety",
    "Sanitising",
    "Step",
    "Syrup",
    "Task",
    "TaskState",
    "Tasting",
    "Tempo",
    "Trouble",
    "TroubleCard",
    "Use",
    "Verdict",
    "Wait",
    "WaterPlan",
    "Way",
    "WhatIf",
    "When",
]

GateState = Literal["not-yet", "wait", "measure-again", "pass", "pass-with-care", "stuck", "by-looks"]
PASSED = ("pass", "pass-with-care", "by-looks")
"""States of the gate that let bottles be filled."""
TaskState = Literal["done", "next", "to-do"]


@record
class When:
    """A date as a range with its reasons; `latest` None means "any later day is fine"."""

    earliest: date
    expected: date
    latest: date | None
    because: tuple[Said, ...] = ()


@record
class Move:
    """A planned day that gave way: where it stood, why it moved (always later), and what that costs."""

    was: date
    because: Said
    cost: Said | None = None


@record
class Task:
    """One dated thing to do.  `id` is a stable word (brew, look-24h, dry-hop, test-1, taste-1, bottle,
    test-bottle, squeeze, move-to-cool, drink-from, best-from, best-before, chill, event); `clock` is set for
    looks when the start is known.

    `kind`: the kind of work ("" takes nobody).  `needs`: what has to be there for it: home, vessel, bottles.
    `may_move`: whether it gives way to days that do not work.  `waits`: the rules that hold it.
    `first_free`: the earliest day that works, when all before it is done as soon as it can be; None if it is
    the earliest one.
    """

    id: str
    day: int
    when: When
    hands_on: bool
    state: TaskState
    moves: tuple[Move, ...] = ()
    clock: datetime | None = None
    kind: str = ""
    needs: tuple[str, ...] = ()
    may_move: bool = True
    waits: tuple[Link, ...] = ()
    reasons: Reasons | None = None
    first_free: date | None = None

    @property
    def first_day(self) -> date:
        """The first day on which it can be done, in this life."""
        return self.first_free or self.when.earliest

    @property
    def slack_days(self) -> int | None:
        """Days between the earliest day and the latest without worry; None if any later day is fine."""
        return (self.when.latest - self.when.earliest).days if self.when.latest else None


@record
class GateReading:
    """One reading as the gate sees it: as written, corrected for instrument and temperature, and whether it
    counts.
    """

    on: date
    sg: float
    celsius: float
    assumed_celsius: bool
    corrected: float
    counts: bool


@record
class GateLook:
    """One look and taste as the gate sees it, and whether it counts."""

    on: date
    clear: bool
    sweet: bool
    counts: bool


@record
class Gate:
    """Where the batch stands between fermenting and bottling, why, and when to look again.  `by_looks`:
    there is no hydrometer, so looks and tastes decide, and nothing but plastic bottles will do.
    `tests_ahead`: the fewest further readings after which it could pass.
    """

    state: GateState
    because: tuple[Said, ...]
    next_date: date | None
    gap_days: int
    low: float
    high: float
    ceiling: float
    readings: tuple[GateReading, ...]
    pet_only: bool
    correction_strip: tuple[tuple[float, float], ...]
    by_looks: bool = False
    looks: tuple[GateLook, ...] = ()
    tests_ahead: int = 1


@record
class Tasting:
    """A bottle that was tried, what it says of the others, and the day of the next one to try, if any."""

    on: date
    gas: GasFelt
    note: str
    says: Said
    next_on: date | None = None


@record
class LabelPlan:
    """What labels may say.  `filled_is` is "planned" until the batch is bottled; `allowed` False forbids
    printing any (the gate failed, or glass was sealed too early); `fill_choices` pairs other fill dates with
    not-before.
    """

    allowed: bool
    filled: date
    filled_is: Literal["planned", "actual"]
    not_before: date
    best_from: date
    best_to: date
    best_before: date
    wait_days: int
    fill_choices: tuple[tuple[date, date], ...]
    allergens: tuple[str, ...]
    allergens_known: bool


@record
class Plan:
    """One batch, planned.  `alarm_at`: when the phone rings on the day before, None for never; `off`: days
    that the safety sheet puts an end to.
    """

    code: str
    name: str
    recipe: str
    drink: str
    brewer: str
    units: str
    language: str
    paper: str
    stock: str | None
    disc_stock: str | None
    start_at: int
    discs_start_at: int
    tag_stock: str | None
    band_stock: str | None
    shift_mm: tuple[float, float]
    bars_mm: tuple[float, float]
    printed: date
    revision: int
    start: datetime | None
    room_c: tuple[float, float]
    warm_place_c: float
    storing_c: float
    vessel_name: str
    vessel_l: float
    pot_l: float
    hydrometer_c: float
    boiled: bool
    about: str
    assumptions: tuple[tuple[str, Said], ...]
    problems: tuple[Problem, ...]
    quantities: Quantities
    carbonation: Carbonation | None
    bottles: BottlePlan
    tasks: tuple[Task, ...]
    gate: Gate
    gravity_band: tuple[Band, ...]
    fermentation: Fermentation
    labels: LabelPlan
    steps: tuple[Step, ...]
    bottling_steps: tuple[Step, ...]
    lists: Lists
    away: tuple[tuple[date, date], ...]
    cautions: tuple[str, ...]
    safety: Safety | None
    brew_minutes: float
    sources: tuple[tuple[str, str], ...]
    alarm_at: time | None = time(18, 0)
    tempo: Tempo | None = None
    events: tuple[EventPlan, ...] = ()
    brew_day_is: BrewDayIs = "given"
    keeping: KeepingPlan | None = None
    tastings: tuple[Tasting, ...] = ()
    off: tuple[Task, ...] = ()
    trouble: TroubleCard | None = None
    program: str = __version__
    rules_of: date = date.fromisoformat(RULES_OF)

    def task(self, task_id: str) -> Task:
        """The task of that id; KeyError if this batch has none."""
        for task in self.tasks:
            if task.id == task_id:
                return task
        raise KeyError(task_id)

    def has(self, task_id: str) -> bool:
        """Whether the batch has a task of that id."""
        return any(task.id == task_id for task in self.tasks)
