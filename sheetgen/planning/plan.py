"""The plan: everything that a set of paper says, as plain frozen data.

Comes in: what the other modules of planning worked out.  Goes out: `Plan`, which printing turns into views
and `as_json` into `<code>-plan.json`.  Whatever is printed is in here; nothing in here is formatted. Masses
in grams, volumes in litres (bottles in ml), temperatures in C, gravities as SG, gas in volumes, gauge bar.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from sheetgen.problems import Problem, Said
from sheetgen.records import record

GateState = Literal["not-yet", "wait", "measure-again", "pass", "pass-with-care", "stuck"]
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
    """A planned day that had to give way: where it stood, and why it moved (always later)."""

    was: date
    because: Said


@record
class Task:
    """One dated thing to do.  `id` is a stable word (brew, look-24h, dry-hop, test-1, test-2, bottle,
    test-bottle, squeeze, move-to-cool, drink-from, best-from, best-before); `clock` is set for looks when the
    start is known.
    """

    id: str
    day: int
    when: When
    hands_on: bool
    state: TaskState
    moves: tuple[Move, ...] = ()
    clock: datetime | None = None


@record
class GravityRange:
    """Where the drink is expected to end, in SG."""

    low: float
    expected: float
    high: float


@record
class Use:
    """One ingredient of this batch: what to use, in `unit`, and how many packs to buy with what is left."""

    id: str
    name: str
    amount: float
    unit: str
    stage: str
    minutes: float
    day: int
    packs: int | None
    pack: float | None
    left: float
    role: str


@record
class WaterPlan:
    """Litres, all measured cold: boiled in the pot, from the fridge, from the tap; and the mix that results.

    `mixed_c` is the predicted temperature in the vessel, `plus_minus_c` its uncertainty.  `cool_pot_to_c` and
    `cool_minutes`: what the pot must come down to in a sink of cold water first, or None.  `pot_start_l` is
    what the pot holds at the start of a boil, `boiled_off_l` what leaves as steam, `pot_gravity` the wort's
    in the pot.
    """

    kettle_l: float
    fridge_l: float
    tap_l: float
    mixed_c: float
    plus_minus_c: float
    cool_pot_to_c: float | None
    cool_minutes: float | None
    boiled_off_l: float
    pot_gravity: float | None
    wait_minutes: float | None = None


@record
class Quantities:
    """How much, how strong, how dark, how bitter: the numbers of the batch."""

    litres: float
    original_gravity: float
    original_low: float
    original_high: float
    final_gravity: GravityRange
    ceiling_gravity: float
    percent_by_volume: float
    percent_duty: float
    percent_from_priming: float
    bitterness_ibu: float | None
    colour_ebc: float | None
    ingredients: tuple[Use, ...]
    water: WaterPlan
    yeast_packs: int
    yeast_grams: float
    yeast_pack_g: float
    yeast_name: str
    loss_l: float
    bottling_l: float
    measured_original: float | None


@record
class Pressure:
    """Gauge pressure in a closed bottle at a temperature, without and with the air that was sealed in."""

    celsius: float
    gauge_bar: float
    with_air_bar: float


@record
class Dose:
    """The sugar for one size of bottle: printed grams (0.1, rounded down), the exact figure, level teaspoons
    (quarters; None where a spoon would be unsafe or pieces do not fit), and the gas it makes at full yield.
    """

    ml: float
    kind: str
    count: int
    grams_each: float
    grams_exact: float
    teaspoons_each: float | None
    volumes_upper: float


@record
class Rung:
    """One line of the ladder: sugar for so many litres in the bottling vessel."""

    litres: float
    grams: float


@record
class Carbonation:
    """Gas and sugar: what is wanted, what is left, the dose for each size, and the limits of the bottles."""

    target_volumes: float
    warmest_c: float
    residual_volumes: float
    sugar: str
    dosing: str
    g_per_litre: float
    total_g: float
    syrup_water_ml: float
    limit_volumes: float
    warn_volumes: float
    weakest: str
    highest_volumes: float
    pressures: tuple[Pressure, ...]
    sizes: tuple[Dose, ...]
    ladder: tuple[Rung, ...]
    one_point_volumes: float


@record
class BottleRow:
    """One size and kind: in hand, to prepare (with spares), to fill, missing.  `numbers` are the first and
    last bottle number of the row in fill order, (0, 0) if none is filled.
    """

    ml: float
    kind: str
    have: int
    need: int
    fill: int
    short: int
    numbers: tuple[int, int]
    glass: bool
    what_for: str


@record
class BottlePlan:
    """All rows of bottles, with what has to be prepared, capped and labelled."""

    rows: tuple[BottleRow, ...]
    filled: int
    spares: int
    crown_caps: int
    labels: int
    last_ml: float
    unhoused_l: float
    more_needed: int
    test_bottle: int


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
class Gate:
    """Where the batch stands between fermenting and bottling, why, and when to look again."""

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
class Amount:
    """A number to print: grams, ml, L, C, min or piece."""

    value: float
    unit: Literal["g", "ml", "L", "C", "min", "piece", "SG"]


@record
class Step:
    """One action: its sentence, the number it needs, what to write down, and the caution that belongs to the
    hand.

    `group` is the id of the heading it stands under; `minutes` its usual length; `clock` its time of day when
    the start is known; `left_min` minutes to the end of the boil, for what goes into the boiling pot.
    """

    said: Said
    group: str
    amount: Amount | None = None
    note: Said | None = None
    caution: str | None = None
    write: Amount | None = None
    minutes: float = 0.0
    clock: datetime | None = None
    left_min: float | None = None


@record
class Line:
    """A line of a list: what, with how much, and by when."""

    said: Said
    amount: Amount | None = None
    by: date | None = None
    note: Said | None = None


@record
class Sanitising:
    """The sanitiser: litres to mix and the dose for each day, minutes of contact, whether to rinse."""

    product: str
    brew_day_l: float
    brew_day_dose: float
    bottling_day_l: float
    bottling_day_dose: float
    dose_unit: str
    minutes: tuple[float, float]
    rinse: bool


@record
class Lists:
    """Shop and gather."""

    buy: tuple[Line, ...]
    set_out: tuple[Line, ...]
    evening_before: tuple[Line, ...]
    sanitising: Sanitising


@record
class Safety:
    """Set when glass was sealed before the gate: the one sheet that replaces the set."""

    because: tuple[Said, ...]
    cautions: tuple[str, ...]


@record
class Plan:
    """One batch, planned."""

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
    labels: LabelPlan
    steps: tuple[Step, ...]
    bottling_steps: tuple[Step, ...]
    lists: Lists
    away: tuple[tuple[date, date], ...]
    cautions: tuple[str, ...]
    safety: Safety | None
    brew_minutes: float
    sources: tuple[tuple[str, str], ...]

    def task(self, task_id: str) -> Task:
        """The task of that id; KeyError if this batch has none."""
        for task in self.tasks:
            if task.id == task_id:
                return task
        raise KeyError(task_id)

    def has(self, task_id: str) -> bool:
        """Whether the batch has a task of that id."""
        return any(task.id == task_id for task in self.tasks)
