"""Nothing that can be written makes the planner stumble: a plan, or a stop with its reason."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache
from itertools import pairwise, product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model import Batch, Bottles
from sheetgen.planning import plan_batch
from sheetgen.planning.plan import Plan
from sheetgen.problems import Problems
from sheetgen.units import Celsius, Litres, Metres, Millilitres

from .described import FEBRUARY, RECIPES, at_strength, changed, day, example, ids, planned, read, six

NAMES = sorted(path.stem for path in RECIPES.glob("*.yaml"))
VOLUMES = {"metric": ("3.5 L", "4 L", "12 L", "25 L", "60 L"), "us": ("1 US gal", "3 US gal", "6.5 US gal")}


def plan_or_stop(tree: dict[str, Any], today: Any = FEBRUARY) -> Plan | None:
    """The plan, or None; then there is a stop, and every finding says where the thing stands or why."""
    batch, problems = read(tree, today)
    if batch is None:
        assert problems.of("stop")
        return None
    plan = plan_batch(batch, today, problems)
    assert (plan is None) == bool(problems.of("stop"))
    return plan


def sane(plan: Plan) -> None:
    quantities, water = plan.quantities, plan.quantities.water
    assert 1.0 < quantities.original_gravity < 1.111
    assert quantities.final_gravity.low <= quantities.final_gravity.expected <= quantities.final_gravity.high
    assert plan.gate.high <= quantities.original_gravity
    assert min(water.kettle_l, water.fridge_l, water.tap_l, water.boiled_off_l) >= 0
    assert 4 < water.mixed_c < 60
    assert 0 < quantities.percent_by_volume < 15
    assert quantities.loss_l + quantities.bottling_l == pytest.approx(quantities.litres)
    assert sum(row.fill * row.ml for row in plan.bottles.rows) / 1000 <= quantities.bottling_l + 1e-6
    assert plan.labels.not_before >= plan.labels.filled + timedelta(days=10)


@pytest.mark.parametrize("room", range(14, 30))
@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_in_every_room_and_size(name: str, room: int):
    made = 0
    for units, volumes in VOLUMES.items():
        for volume in volumes:
            tree = six(recipe=name, volume=volume, units=units, bottles="200 x 500 ml pet", room=f"{room} C")
            plan = plan_or_stop(tree)
            if plan is not None:
                sane(plan)
                made += 1
    assert made == len(VOLUMES["metric"]) + len(VOLUMES["us"])


BREWED = {"brewed": "2027-03-06"}
ODD: list[tuple[str, Any]] = [
    ("room", "-3 C"),
    ("room", "50 C"),
    ("room", {"fermenting": "19 C", "warm-place": "60 C"}),
    ("room", {"fermenting": "19 C", "storing": "-5 C"}),
    ("carbonation", "8 volumes"),
    ("carbonation", "0 volumes"),
    ("water", {"tap": "-2 C"}),
    ("water", {"fridge": "-1 C"}),
    ("water", {"tap": "60 C", "fridge": "60 C"}),
    ("water", {"altitude": "5500 m"}),
    ("water", {"altitude": "-400 m"}),
    ("volume", "1 L"),
    ("volume", "100 L"),
    ("volume", "200 x 500 ml"),
    ("equipment", {"pot": "0.5 L"}),
    ("equipment", {"vessel": "0.1 L"}),
    ("equipment", {"hydrometer": {"calibrated": "35 C"}}),
    ("equipment", {"hydrometer": {"in-water": "0.981"}}),
    ("bottles", "1 x 5 L pet"),
    ("bottles", "9999 x 100 ml pet"),
    ("actual", {**BREWED, "litres": "3"}),
    ("actual", {**BREWED, "litres": "0.1"}),
    ("actual", {**BREWED, "litres": "100"}),
    ("actual", {**BREWED, "added": [{"on": "2027-03-08", "what": "honey", "amount": "5 kg"}]}),
    ("actual", {**BREWED, "pitched": "2027-03-08", "readings": [{"on": "2027-03-06", "sg": "1.042"}]}),
    ("actual", {**BREWED, "warmest-since": "35 C"}),
    ("actual", {"bottled": {"on": "2027-03-06", "litres": "0.1"}}),
    ("actual", {"bottled": {"on": "2026-03-06"}}),
]


@pytest.mark.parametrize(("key", "value"), ODD, ids=[f"{key}={value}"[:50] for key, value in ODD])
@pytest.mark.parametrize("name", NAMES)
def test_odd_values(name: str, key: str, value: Any):
    plan_or_stop({**six(recipe=name), key: value}, day("3-20"))


@pytest.mark.parametrize(
    "sg", ["0.9", "0.98", "1.170 at 20 C", "1.2 at 20 C", "1.012 at 45 C", "1.012 at -2 C", "0.97 at 39 C"]
)
@pytest.mark.parametrize("key", ["og", "finish-test", "readings"])
def test_odd_readings(key: str, sg: str):
    value: Any = [{"on": "2027-03-16", "sg": sg}, {"on": "2027-03-19", "sg": sg}] if key == "readings" else sg
    plan = plan_or_stop(six(actual={**BREWED, key: value}), day("3-20"))
    assert plan is not None
    assert plan.gate.ceiling <= 1.2


def test_weak_wort_has_a_range_that_stands_in_order():
    for litres in ("50", "80", "100"):
        plan = plan_or_stop(six(actual={**BREWED, "litres": litres}), day("3-20"))
        sane(plan)


SETTINGS = {
    "volume": ["3.5 L", "7 L", "24 x 330 ml", "23 L", "5 US gal"],
    "room": ["14 C", "15-20 C", "19 C", "68 F", "27 C"],
    "bottles": [
        "9 x 500 ml one-way glass",
        "60 x 330 ml returnable glass",
        "6 x 2 L pet, 9 x 750 ml champagne",
        "5 x 1 L",
    ],
    "carbonation": ["1.5 volumes", "2.4 volumes", "3.2 volumes"],
    "dosing": ["weight", "teaspoons", "in-bulk"],
    "sugar": ["table sugar", "dextrose", "honey"],
    "my-days": [["sat"], ["mon", "thu"]],
    "away": [["2027-03-10..2027-03-20"], ["2027-03-06..2027-03-07"]],
    "equipment.scales": ["1 g", "0.01 g"],
    "equipment.pot": ["4 L", "12 L"],
    "water.tap": ["5 C", "25 C"],
    "actual.brewed": ["2027-03-06", "2027-03-08"],
    "actual.litres": ["9", "13"],
    "actual.seen": ["skin"],
    "actual.finish-test": ["1.016 at 20 C"],
    "actual.dry-hopped": ["2027-03-12"],
    "actual.bottled": [{"on": "2027-03-21"}],
    "actual.readings": [
        [{"on": "2027-03-15", "sg": "1.013 at 18 C"}, {"on": "2027-03-19", "sg": "1.012 at 20 C"}]
    ],
}


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(NAMES),
    st.fixed_dictionaries({}, optional={key: st.sampled_from(values) for key, values in SETTINGS.items()}),
    st.integers(-20, 60),
)
def test_any_mixture_of_keys(name: str, keys: dict[str, Any], today: int):
    tree = six(recipe=name)
    for key, value in keys.items():
        tree = changed(tree, key, value)
    plan_or_stop(tree, day("3-6") + timedelta(days=today))


def test_one_plan_is_the_same_twice():
    assert planned(example("27b"))[0] == planned(example("27b"))[0]
    assert ids(planned(example("27b"))[1], "stop") == []


# The corners of what is allowed, every one with every other

LITRES = (3.5, 12.0, 60.0)
POINTS = (30, 55, 80, 108)
ROOM_STOPS = {
    12.0: {"stop.room-cold"}, 13.9: {"stop.room-cold"}, 14.0: set(), 20.0: set(), 29.0: set(),
    30.0: {"stop.room-hot"},
}  # fmt: skip
HEIGHTS = (0.0, 3000.0)
STOCKS: dict[str, list[tuple[int, float]]] = {
    "one bottle": [(1, 500.0)],
    "two hundred of five sizes": [(40, 330.0), (40, 500.0), (40, 750.0), (40, 1000.0), (40, 2000.0)],
}


@cache
def plastic(recipe: str) -> Batch:
    batch, _ = read(
        six(recipe=recipe, bottles="9 x 500 ml pet", room={"fermenting": "20 C", "warm-place": "20 C"})
    )
    assert batch is not None
    return batch


def corner(recipe: str, litres: float, points: int, room: float, height: float, stock: str) -> Batch:
    batch = at_strength(plastic(recipe), points)
    kind = batch.bottles[0].kind
    return replace(
        batch,
        litres=Litres(litres),
        room=replace(batch.room, fermenting=(Celsius(room), Celsius(room))),
        water=replace(batch.water, altitude=Metres(height)),
        bottles=tuple(Bottles(Millilitres(ml), kind, count) for count, ml in STOCKS[stock]),
    )


@pytest.mark.parametrize("room", ROOM_STOPS)
@pytest.mark.parametrize("points", POINTS)
@pytest.mark.parametrize("litres", LITRES)
@pytest.mark.parametrize("recipe", ["copper-lane-amber", "slipway-nine-pale"])
def test_every_corner_is_planned_or_stopped_for_its_reason(
    recipe: str, litres: float, points: int, room: float
):
    for height, stock in product(HEIGHTS, STOCKS):
        batch, problems = corner(recipe, litres, points, room, height, stock), Problems()
        plan = plan_batch(batch, FEBRUARY, problems)
        assert set(ids(problems, "stop")) == ROOM_STOPS[room]
        if plan is not None:
            sane(plan)
            assert plan.quantities.original_gravity == pytest.approx(1 + points / 1000, abs=0.0015)


def yeast_for(batch: Batch, low: float, high: float) -> Batch:
    yeast = replace(batch.recipe.yeast, celsius=(Celsius(low), Celsius(high)))
    return replace(batch, recipe=replace(batch.recipe, yeast=yeast))


@pytest.mark.parametrize("room", range(12, 30))
def test_a_yeast_that_allows_it_works_from_12_to_29_c(room: int):
    batch = yeast_for(
        corner("copper-lane-amber", 12.0, 45, float(room), 0.0, "two hundred of five sizes"), 10, 30
    )
    problems = Problems()
    plan = plan_batch(batch, FEBRUARY, problems)
    assert plan is not None, ids(problems, "stop")
    sane(plan)
    assert plan.task("test-1").day >= 7


def test_with_such_a_yeast_a_warmer_room_is_never_slower():
    days = []
    for room in range(12, 30):
        batch = corner("copper-lane-amber", 12.0, 45, float(room), 0.0, "two hundred of five sizes")
        plan = plan_batch(yeast_for(batch, 10, 30), FEBRUARY, Problems())
        assert plan is not None
        days.append([plan.task(name).day for name in ("test-1", "test-2", "bottle")])
    for cool, warm in pairwise(days):
        assert all(later >= sooner for later, sooner in zip(cool, warm, strict=True))
