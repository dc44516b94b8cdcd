"""A plan made by hand: batch 27A, a no-boil amber of 12 L, brewed on Saturday 6 March 2027 by Imke."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

from sheetgen import nodes
from sheetgen.planning import plan as p
from sheetgen.printing import languages
from sheetgen.printing.words import Words
from sheetgen.problems import Problem, Said, said

HERE = Path(__file__).parent
LANGUAGES = HERE.parents[1] / "layouts" / "languages"
BREW = date(2027, 3, 6)
BOTTLED = date(2027, 3, 21)


def tree_of(path: Path) -> nodes.Node:
    node, problems = nodes.load(path.read_bytes(), path.name)
    assert node is not None, problems
    assert not problems, problems
    return node


def words(language: str = "en-GB", units: str = "", sample: bool = True) -> Words:
    node = tree_of(LANGUAGES / f"{language}.yaml")
    if sample:
        node = nodes.overlay(node, tree_of(HERE / "sample-sentences.yaml"))
    found, problems = languages.read(node, units, lambda name: tree_of(LANGUAGES / f"{name}.yaml"))
    assert found is not None, list(problems)
    return found


def _task(task_id: str, day: int, state: p.TaskState = "to-do", **more: object) -> p.Task:
    on = BREW + timedelta(days=day)
    latest = more.pop("latest", None)
    when = p.When(on, on, latest)  # type: ignore[arg-type]
    hands_on = not task_id.startswith(("look", "drink", "best"))
    return p.Task(task_id, day, when, hands_on=hands_on, state=state, **more)  # type: ignore[arg-type]


def _looks(hours: int) -> p.Task:
    clock = datetime(2027, 3, 6, 11, 20) + timedelta(hours=hours)  # noqa: DTZ001
    return _task(f"look-{hours}h", (clock.date() - BREW).days, clock=clock)


TASKS = (
    _task("brew", 0, "next"),
    _looks(12),
    _looks(24),
    _looks(48),
    _task("test-1", 11),
    _task("test-2", 14),
    _task("bottle", 15, latest=date(2027, 4, 3)),
    _task("squeeze", 23, moves=(p.Move(date(2027, 3, 25), said("sample.away")),)),
    _task("test-bottle", 29),
    _task("drink-from", 36),
    _task("best-from", 43),
    _task("best-before", 196),
)

MALT = p.Use(
    "liquid malt extract", "liquid malt extract, light", 1500, "g", "pot", 0, 0, 1, 1500, 0, "extract"
)
DRY = p.Use("dry malt extract", "dry malt extract, light", 200, "g", "pot", 0, 0, 1, 500, 300, "extract")
SUGAR = p.Use("table sugar", "white sugar", 100, "g", "pot", 0, 0, 1, 500, 332, "sugar")

QUANTITIES = p.Quantities(
    litres=12.0,
    original_gravity=1.0469,
    original_low=1.045,
    original_high=1.049,
    final_gravity=p.GravityRange(1.010, 1.0125, 1.015),
    ceiling_gravity=1.017,
    percent_by_volume=4.9,
    percent_duty=4.8,
    percent_quick=4.5,
    percent_from_priming=0.3,
    percent_final=1.0125,
    percent_final_is="expected",
    drink_units=(p.DrinkUnits("UK", "unit", 500, 2.45),),
    bitterness_ibu=None,
    colour_ebc=None,
    swatch="",
    ingredients=(MALT, DRY, SUGAR),
    water=p.WaterPlan(1.5, 6.0, 3.3, 19.4, 1.5, None, None, 0.0, None),
    yeast_packs=1,
    yeast_grams=11,
    yeast_pack_g=11,
    yeast_name="dry ale yeast",
    loss_l=0.9,
    bottling_l=11.1,
    measured_original=None,
)

CARBONATION = p.Carbonation(
    2.4, 21, 0.84, "table sugar", "weight", 6.2, 68, 300, 3.5, 3.0, "returnable glass", 2.53,
    (p.Pressure(4, 0.8, 1.3), p.Pressure(20, 1.9, 2.5), p.Pressure(30, 2.8, 3.4), p.Pressure(40, 3.7, 4.5)),
    (p.Dose(1000, "pet", 1, 6.1, 6.18, 1.25, 2.5), p.Dose(500, "returnable glass", 20, 3.0, 3.09, 0.5, 2.5)),
    (p.Rung(10.0, 61), p.Rung(10.5, 64), p.Rung(11.0, 67)),
    0.55,
)  # fmt: skip

BOTTLES = p.BottlePlan(
    rows=(
        p.BottleRow(1000, "pet", 1, 1, 1, 0, (1, 1), False, "pressing"),
        p.BottleRow(500, "returnable glass", 18, 22, 20, 4, (2, 21), True, ""),
    ),
    filled=21, spares=2, crown_caps=25, labels=23, last_ml=100, unhoused_l=1.9, more_needed=4, test_bottle=1,
    more_ways=(p.Way(500, "returnable glass", 4, True), p.Way(1000, "pet", 2, True)),
)  # fmt: skip

GATE = p.Gate("not-yet", (), date(2027, 3, 17), 2, 1.010, 1.015, 1.017, (), False,
              ((10, -1.5), (15, -1.0), (20, 0.0), (25, 1.0), (30, 2.5)))  # fmt: skip

BAND = tuple(p.Band(day, 1.010, max(1.0125, 1.047 - 0.004 * day), 1.047) for day in range(16))
FERMENTATION = p.Fermentation(1.0, 0.7, 1.3, p.GravityRange(1.010, 1.0125, 1.015), None, 0)

LABELS = p.LabelPlan(True, BOTTLED, "planned", date(2027, 4, 11), date(2027, 4, 18), date(2027, 6, 13),
                     date(2027, 9, 18), 21, (), ("barley",), True)  # fmt: skip


def _at(minutes: int) -> datetime:
    return datetime(2027, 3, 6, 10, 0) + timedelta(minutes=minutes)  # noqa: DTZ001


def _step(name: str, group: str, at: int, **more: object) -> p.Step:
    step_said = more.pop("said", None) or said(f"step.sample-{name}")
    return p.Step(step_said, f"group.sample-{group}", clock=_at(at), **more)  # type: ignore[arg-type]


BUCKET = {"vessel": "blue bucket"}
STEPS = (
    _step("sanitise", "clean", 0, said=said("step.sample-sanitise", **BUCKET), amount=p.Amount(7.5, "ml"),
          note=said("step.sample-sanitise-note", litres=5.0)),
    _step("tin", "clean", 10, amount=p.Amount(10, "min")),
    _step("boil", "warm", 10, amount=p.Amount(1.5, "L")),
    _step("dry", "warm", 20, amount=p.Amount(200, "g")),
    _step("sugar", "warm", 22, amount=p.Amount(100, "g")),
    _step("liquid", "warm", 25, amount=p.Amount(1500, "g"), caution="hot-wort"),
    _step("empty", "cold", 34),
    _step("fridge", "cold", 35, said=said("step.sample-fridge", **BUCKET), amount=p.Amount(6.0, "L")),
    _step("wort", "cold", 40, caution="hot-into-plastic"),
    _step("tap", "cold", 45, said=said("step.sample-tap", litres=12.0), amount=p.Amount(3.3, "L")),
    _step("air", "cold", 50, amount=p.Amount(3, "min")),
    _step("temperature", "pitch", 55, write=p.Amount(19.4, "C"),
          note=said("step.sample-temperature-note", low=17.0, high=21.0)),
    _step("gravity", "pitch", 65, write=p.Amount(1.0469, "SG"), caution="sample"),
    _step("yeast", "pitch", 75, amount=p.Amount(11, "g")),
    _step("close", "pitch", 80),
    _step("carry", "pitch", 85, caution="heavy"),
)  # fmt: skip

FRIDAY = date(2027, 3, 5)


def _mix(day: str, what: str, product: str, litres: float, dose: float, **more: object) -> p.Cleaning:
    usual = {"rinse": False, "water": "cold", "soaks": False, "parts": (), "caution": None}
    return p.Cleaning(day, what, product, litres, dose, "ml", (1, 2), **{**usual, **more})  # type: ignore[arg-type]


LISTS = p.Lists(
    buy=(
        p.Line(said("buy.sample-liquid"), p.Amount(1500, "g"), FRIDAY,
               said("buy.sample-pack-used", n=1, grams=1500.0)),
        p.Line(said("buy.sample-dry"), p.Amount(200, "g"), FRIDAY,
               said("buy.sample-pack", n=1, grams=500.0, left=300.0)),
        p.Line(said("buy.sample-sugar"), p.Amount(168, "g"), FRIDAY,
               said("buy.sample-pack", n=1, grams=500.0, left=330.0)),
        p.Line(said("buy.sample-yeast", n=1), p.Amount(11, "g"), FRIDAY),
        p.Line(said("buy.sample-sanitiser"), p.Amount(20, "ml"), FRIDAY),
        p.Line(said("buy.sample-caps", n=25), p.Amount(25, "piece"), date(2027, 3, 20)),
    ),
    set_out=(
        p.Line(said("set-out.sample-sanitiser")),
        p.Line(said("set-out.sample-bucket", vessel="Blue bucket")),
        p.Line(said("set-out.sample-pot")),
        p.Line(said("set-out.sample-malt")),
        p.Line(said("set-out.sample-jar")),
        p.Line(said("set-out.sample-yeast")),
    ),
    evening_before=(
        p.Line(said("evening.sample-water"), p.Amount(6.0, "L"), FRIDAY),
    ),
    sanitising=p.Sanitising("sample-acid", 5, 7.5, 8, 12, "ml", (1, 2), False),
    cleaning=(
        _mix("brew", "clean", "sample-soap", 5, 5, rinse=True, water="warm"),
        _mix("brew", "sanitise", "sample-acid", 5, 7.5),
        _mix("bottling", "clean", "sample-soap", 8, 8, rinse=True, water="warm"),
        _mix("bottling", "sanitise", "sample-acid", 8, 12),
    ),
)  # fmt: skip

PLAN = p.Plan(
    code="27A", name="Copper Lane Amber", recipe="copper-lane-amber", drink="ale", brewer="Imke",
    units="metric",
    language="en-GB", paper="a4", stock=None, disc_stock=None, start_at=1, discs_start_at=1,
    tag_stock=None, band_stock=None, shift_mm=(0.0, 0.0), bars_mm=(100.0, 100.0),
    printed=date(2027, 2, 20), revision=0, start=_at(0), room_c=(19.0, 19.0),
    warm_place_c=21.0, storing_c=12.0,
    vessel_name="blue bucket", vessel_l=15.0, pot_l=8.0, hydrometer_c=20.0, boiled=False, about="",
    assumptions=(
        ("water.tap", said("sample.assume-tap", celsius=12.0)),
        ("water.fridge", said("sample.assume-fridge", celsius=4.0)),
        ("room.storing", said("sample.assume-storing", celsius=12.0)),
        ("sugar", Said("sample.assume-sugar")),
    ),
    problems=(
        Problem("warn", said("sample.warn-bottles", n=18, ml=500.0, more=4)),
        Problem("warn", said("sample.warn-cube")),
    ),
    quantities=QUANTITIES, carbonation=CARBONATION, bottles=BOTTLES, tasks=TASKS, gate=GATE,
    gravity_band=BAND, fermentation=FERMENTATION, labels=LABELS,
    steps=STEPS, bottling_steps=(), lists=LISTS, away=((date(2027, 3, 24), date(2027, 3, 28)),), cautions=(),
    safety=None, brew_minutes=90, sources=(),
)  # fmt: skip


def _fermenting_tasks() -> tuple[p.Task, ...]:
    done = {"brew", "look-12h", "look-24h", "look-48h"}
    return tuple(
        replace(task, state="done" if task.id in done else "next" if task.id == "test-1" else "to-do")
        for task in TASKS
    )


FERMENTING = replace(
    PLAN,
    printed=date(2027, 3, 10),
    revision=2,
    tasks=_fermenting_tasks(),
    quantities=replace(QUANTITIES, measured_original=1.047),
)
"""The same batch four days after brew day."""
