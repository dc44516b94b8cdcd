"""Drinks as data: their gates, their jobs on given days, long waits, and what a still one leaves out."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen import catalogue
from sheetgen.intake import drinks
from sheetgen.planning.plan import Plan

from .described import FEBRUARY, ids, plan_of, planned, six

BREWED = date(2027, 3, 6)
MEAD = six(recipe="ferry-steps-mead", volume="5 L", bottles="12 x 500 ml returnable glass")
WINE = six(recipe="plot-eleven-bramble", volume="10 L", bottles="12 x 750 ml wine bottle")
SPARKLING_DRY = ("plot-eleven-cider", "plot-eleven-ginger", "ferry-steps-mead", "slipway-rose-cider")


def readings(*pairs: tuple[date, str]) -> dict[str, Any]:
    return {"readings": [{"on": on.isoformat(), "sg": f"{sg} at 20 C"} for on, sg in pairs]}


def days_of(plan: Plan, job: str) -> list[int]:
    return [task.day for task in plan.tasks if task.id.rpartition("-")[0] == job]


# Gates


@pytest.mark.parametrize(
    ("recipe", "gap", "low", "high", "ceiling"),
    [
        ("ferry-steps-mead", 7, 0.985, 1.000, 1.000),
        ("plot-eleven-bramble", 28, 0.988, 0.998, 0.998),
        ("plot-eleven-ginger", 2, 0.988, 1.000, 1.000),
        ("plot-eleven-cider", 2, 0.988, 1.000, 1.000),
    ],
)
def test_the_gate_of_what_ferments_out(recipe: str, gap: int, low: float, high: float, ceiling: float):
    gate = plan_of(six(recipe=recipe, volume="8 L")).gate
    assert (gate.gap_days, gate.low, gate.high, gate.ceiling) == (gap, low, high, ceiling)


@pytest.mark.parametrize("recipe", SPARKLING_DRY)
def test_sparkling_and_above_1000_is_wait_and_never_with_care(recipe: str):
    days = [BREWED + timedelta(days=n) for n in (120, 130, 140)]
    tree = six(recipe=recipe, volume="8 L", room="21 C")
    for sg, state in (("1.001", "wait"), ("1.000", "pass")):
        plan = plan_of({**tree, "actual": readings(*((on, sg) for on in days))}, days[-1])
        assert plan.gate.state == state, sg


def test_readings_of_a_mead_lie_a_week_apart():
    first = BREWED + timedelta(days=90)
    for later, state in ((6, "wait"), (7, "pass")):
        second = first + timedelta(days=later)
        found = plan_of({**MEAD, "actual": readings((first, "0.996"), (second, "0.996"))}, second)
        assert found.gate.state == state


def test_a_still_wine_passes_after_28_days_at_0998_or_less():
    first = BREWED + timedelta(days=140)
    for later, sg, state in ((27, "0.996", "wait"), (28, "0.998", "pass"), (28, "0.999", "wait")):
        second = first + timedelta(days=later)
        found = plan_of({**WINE, "actual": readings((first, sg), (second, sg))}, second)
        assert found.gate.state == state, (later, sg)


# Jobs


def test_a_mead_is_degassed_racked_tested_and_bottled_in_this_order():
    plan = plan_of(MEAD)
    assert days_of(plan, "degas") == [1, 2, 3, 5, 7]
    first, second = days_of(plan, "rack")
    assert 28 <= first <= second - 28
    assert plan.task("test-1").day >= max(7 + 3, second)
    assert plan.task("test-2").day >= plan.task("test-1").day + 7
    assert plan.task("bottle").day >= max(90, second + 14)


def test_degassing_wakes_the_yeast_and_racking_does_not():
    early, after = BREWED + timedelta(days=9), BREWED + timedelta(days=17)
    tree = {**MEAD, "actual": readings((early, "0.996"), (after, "0.996"))}
    assert [one.counts for one in plan_of(tree, after).gate.readings] == [False, True]
    racked = BREWED + timedelta(days=34)
    tree = {**MEAD, "actual": readings((racked + timedelta(days=1), "0.996"))}
    assert [one.counts for one in plan_of(tree, racked + timedelta(days=1)).gate.readings] == [True]


def test_what_goes_in_at_a_racking_starts_the_count_again():
    """The sulphite may stun the yeast: a reading next day proves nothing."""
    racked = next(task for task in plan_of(WINE).tasks if task.id == "rack-3").when.expected
    tree = {**WINE, "actual": readings(*((racked + timedelta(days=n), "0.996") for n in (2, 3)))}
    counts = [one.counts for one in plan_of(tree, racked + timedelta(days=3)).gate.readings]
    assert counts == [False, True]


def test_a_job_that_was_done_late_moves_what_rests_on_it():
    done = [{"on": "2027-05-20", "what": "rack"}]
    plan = plan_of({**MEAD, "actual": {"brewed": "2027-03-06", "done": done}}, date(2027, 5, 21))
    first, second = (plan.task(f"rack-{n}") for n in (1, 2))
    assert (first.state, first.when.expected) == ("done", date(2027, 5, 20))
    assert second.when.expected >= date(2027, 5, 20) + timedelta(days=28)
    assert plan.task("bottle").when.expected >= second.when.expected + timedelta(days=14)


def test_a_job_whose_day_has_passed_is_taken_as_done_and_said():
    plan, problems = planned(MEAD, date(2027, 5, 1))
    assert plan is not None
    assert plan.task("rack-1").state == "done"
    assert "note.job-done" in ids(problems, "note")


def test_a_racking_put_off_too_long_is_named():
    _, problems = planned({**MEAD, "away": ["2027-04-05..2027-05-20"]})
    assert "warn.job-late" in ids(problems, "warn")


def test_rackings_and_straining_leave_some_of_the_drink_behind():
    mead, wine = plan_of(MEAD), plan_of(WINE)
    plain = 0.4 + 0.1 + 0.3
    assert mead.quantities.loss_l == pytest.approx(plain + 2 * 0.03 * 5)
    assert wine.quantities.loss_l == pytest.approx(plain + (0.06 + 3 * 0.03) * 10)


AWAYS = st.lists(st.tuples(st.integers(1, 200), st.integers(0, 30)), max_size=3)
MINE = st.none() | st.sets(st.sampled_from(["mon", "tue", "wed", "thu", "fri", "sat", "sun"]), min_size=1)


@settings(max_examples=25, deadline=None)
@given(st.sampled_from([MEAD, WINE]), AWAYS, MINE, st.integers(18, 24))
def test_jobs_move_later_only_and_keep_their_order(
    tree: dict[str, Any], away: list[tuple[int, int]], mine: set[str] | None, room: int
):
    spans = [
        f"{BREWED + timedelta(days=first)}..{BREWED + timedelta(days=first + more)}" for first, more in away
    ]
    more: dict[str, Any] = {"room": f"{room} C", **({"away": spans} if spans else {})}
    more |= {"my-days": sorted(mine)} if mine else {}
    plan, _ = planned({**tree, **more})
    if plan is None:
        return
    racks = [task for task in plan.tasks if task.id.startswith("rack-")]
    gaps = [b.when.expected - a.when.expected for a, b in itertools.pairwise(racks)]
    assert all(gap >= timedelta(days=28) for gap in gaps)
    bottle, last = plan.task("bottle").when.expected, racks[-1].when.expected
    assert bottle >= last + timedelta(days=14)
    assert bottle >= plan.task("test-2").when.expected
    for task in plan.tasks:
        assert task.when.earliest <= task.when.expected, task.id
        assert all(move.was < task.when.expected for move in task.moves), task.id
    woken = [task for task in plan.tasks if task.id.startswith(("degas-", "stir-", "strain-", "add-day"))]
    assert plan.task("test-1").when.expected >= max(t.when.expected for t in woken) + timedelta(days=3)


# Still drinks


def test_a_still_drink_has_no_sugar_and_no_fizz_but_the_gate():
    plan = plan_of(WINE)
    assert plan.carbonation is None
    names = {task.id for task in plan.tasks}
    assert not names & {"squeeze", "test-bottle", "early-bottle", "move-to-cool"}
    assert {"test-1", "test-2", "bottle", "drink-from"} <= names
    said = {step.said.id for step in plan.bottling_steps}
    assert {"bottle-step.close", "bottle-step.headspace-cork", "bottle-step.lay-down"} <= said
    assert not {name for name in said if "sugar" in name or "warm" in name}
    assert not {key for key, _ in plan.assumptions} & {"sugar", "dosing", "room.warm-place"}
    assert plan.bottles.corks > plan.bottles.filled > 0
    assert plan.labels.wait_days == 60


def test_wine_bottles_are_for_still_drinks_alone():
    assert "stop.bottle-kind" not in ids(planned(WINE)[1], "stop")
    for recipe in SPARKLING_DRY:
        tree = six(recipe=recipe, volume="8 L", bottles="12 x 750 ml wine bottle")
        assert "stop.bottle-kind" in ids(planned(tree)[1], "stop")


def test_sulphite_is_declared_for_the_wine_and_not_without_it(tmp_path: Path):
    assert "sulphites" in plan_of(WINE).labels.allergens
    ours = catalogue.find("recipes", "plot-eleven-bramble")
    assert ours is not None
    plain = [
        line for line in ours.read_text(encoding="utf-8").splitlines(True) if "sulphite tablet" not in line
    ]
    (tmp_path / "own.yaml").write_text("".join(plain), encoding="utf-8")
    assert plan_of({**WINE, "recipe": "own"}, FEBRUARY, tmp_path).labels.allergens == ()


# Strong and mild, and what is usual


def test_strong_and_mild_have_their_own_gas_and_keeping():
    strong = plan_of(six(recipe="lantern-shed-winter", volume="10 L"))
    mild = plan_of(six(recipe="towrope-mild", volume="10 L"))
    assert strong.carbonation
    assert strong.carbonation.target_volumes == 2.2
    assert mild.carbonation
    assert mild.carbonation.target_volumes == 2.0
    assert strong.task("bottle").day > mild.task("bottle").day
    assert strong.labels.wait_days > 30 > mild.labels.wait_days
    assert (mild.labels.best_before - mild.labels.filled).days == 122


def test_an_unusual_gravity_for_the_drink_is_named(tmp_path: Path):
    ours = catalogue.find("recipes", "copper-lane-little")
    assert ours is not None
    own = ours.read_text(encoding="utf-8").replace("drink: ale", "drink: strong")
    (tmp_path / "own.yaml").write_text(own, encoding="utf-8")
    tree = six(recipe="own", volume="5 L")
    assert "warn.drink-gravity" in ids(planned(tree, FEBRUARY, tmp_path)[1], "warn")
    assert "warn.drink-gravity" not in ids(planned(six(recipe="copper-lane-little", volume="5 L"))[1], "warn")


@pytest.mark.parametrize("name", catalogue.names("recipes/drinks"))
def test_every_drink_says_what_gravity_is_usual(name: str):
    found, _ = drinks.drink(name)
    assert found is not None
    assert found.gravity is not None
    assert 1.0 < found.gravity[0] < found.gravity[1] < 1.110
