"""Brew day and bottling day as the hands go: what stands before what, and what is never left out."""

from __future__ import annotations

from typing import Any

import pytest

from .described import example, plan_of, six

BOILED = ("slipway-nine-pale", "lantern-shed-stout", "towrope-mild", "ferry-steps-wheat")


def order(steps: Any) -> list[str]:
    return [step.said.id for step in steps]


@pytest.mark.parametrize(
    ("sanitiser", "rinsed"),
    [("household bleach", True), ("percarbonate cleaner", True), ("no-rinse acid", False)],
)
def test_what_must_be_rinsed_off_is_rinsed_off_on_both_days(sanitiser: str, rinsed: bool):
    plan = plan_of(six(equipment={"sanitiser": sanitiser}))
    [empty] = [step for step in plan.steps if step.said.id == "step.empty"]
    assert (empty.note is not None and empty.note.id == "shop.rinse") == rinsed
    [clean] = [step for step in plan.bottling_steps if step.said.id == "bottle-step.sanitise"]
    assert (clean.note is not None and clean.note.id == "bottle-step.sanitise.rinsed") == rinsed


@pytest.mark.parametrize(
    ("recipe", "taken_off"), [("slipway-nine-pale", True), ("lantern-shed-stout", False)]
)
def test_the_pot_leaves_the_heat_when_something_is_stirred_in(recipe: str, taken_off: bool):
    steps = order(plan_of(six(recipe=recipe)).steps)
    assert ("step.pot-off" in steps) == taken_off
    assert steps.index("step.off-heat") < steps.index("step.pour-wort")


@pytest.mark.parametrize("recipe", ["copper-lane-amber", *BOILED])
def test_cold_water_goes_in_before_hot_wort(recipe: str):
    for water in ({}, {"fridge-space": "0.1 L"}):
        steps = order(plan_of(six(recipe=recipe, water=water)).steps)
        cold = [n for n, name in enumerate(steps) if name in ("step.fridge-water", "step.some-tap-water")]
        assert cold
        assert min(cold) < steps.index("step.pour-wort")


@pytest.mark.parametrize("recipe", BOILED)
def test_what_goes_into_the_boil_fills_its_minutes(recipe: str):
    plan = plan_of(six(recipe=recipe))
    additions = [
        step for step in plan.steps if step.said.id in ("step.add-hops", "step.add-boil", "step.keep-boiling")
    ]
    left = [step.left_min for step in additions if step.left_min is not None]
    assert left == sorted(left, reverse=True)
    boil = next(step.amount.value for step in plan.steps if step.said.id == "step.bring-to-boil")
    assert sum(step.minutes for step in additions) == boil


@pytest.mark.parametrize("recipe", ["copper-lane-amber", "plot-eleven-cider", *BOILED])
def test_every_ingredient_is_in_exactly_one_step(recipe: str):
    plan = plan_of(six(recipe=recipe))
    named = [step.said.values["name"] for step in plan.steps if "name" in step.said.values]
    assert sorted(named) == sorted(use.name for use in plan.quantities.ingredients)


def test_the_clock_runs_through_brew_day():
    plan = plan_of(example("27b"))
    timed = [step.clock for step in plan.steps if step.clock is not None]
    assert timed == sorted(timed)
    assert timed[0] == plan.start
    assert plan.task("look-24h").clock is not None


def test_sugar_goes_in_before_the_beer_and_caps_come_last():
    steps = order(plan_of(six()).bottling_steps)
    assert steps.index("bottle-step.sugar") < steps.index("bottle-step.fill") < steps.index("bottle-step.cap")
    bulk = order(plan_of(six(dosing="in-bulk")).bottling_steps)
    assert bulk.index("bottle-step.syrup") < bulk.index("bottle-step.rack") < bulk.index("bottle-step.fill")


@pytest.mark.parametrize(
    ("volume", "packs", "left"),
    [("12 L", 1, 0), ("6 L", 1, 850), ("12.1 L", 2, 1690), ("24 L", 2, 0)],
)
def test_whole_packs_are_bought_and_the_rest_is_named(volume: str, packs: int, left: float):
    plan = plan_of(six(volume=volume))  # 1.7 kg for 12 L; 12.1 L take 1714 g, to 10 g
    [use] = plan.quantities.ingredients
    assert (use.packs, use.left) == (packs, left)


@pytest.mark.parametrize(
    ("volume", "grams", "packs"),
    [("12 L", 11, 1), ("10 L", 8, 1), ("14 L", 11, 1), ("24 L", 22, 2)],
)
def test_yeast_by_the_sachet(volume: str, grams: float, packs: int):
    # 0.8 g/L: 9.6 g, 8 g (a sachet is 37 % over: weigh), 11.2 g, 19.2 g (two are 15 % over)
    found = plan_of(six(volume=volume)).quantities
    assert (found.yeast_grams, found.yeast_packs) == (grams, packs)


def test_spices_do_not_fall_when_the_batch_grows():
    amounts = []
    for litres in (9.8, 19, 20, 24, 29.4):
        plan = plan_of(six(recipe="ferry-steps-wheat", volume=f"{litres} L"))
        amounts += [use.amount for use in plan.quantities.ingredients if use.role == "spice"]
    assert amounts == sorted(amounts)
    assert amounts[-1] == 24  # 9.92 g x 29.4 / 9.84 x 0.8 = 23.7


@pytest.mark.parametrize(
    ("changes", "each", "odd", "amount"),
    [
        ({"equipment": {"scales": "0.1 g"}}, "bottle-step.sugar-but", "bottle-step.rest-plastic.note", 1.4),
        ({}, "bottle-step.sugar-but", "bottle-step.rest-plastic.ten", 14.0),
        ({"dosing": "teaspoons"}, "bottle-step.sugar-but", "bottle-step.rest-plastic.spoons", 0.25),
        ({"dosing": "syrup"}, "bottle-step.syringe-but", "bottle-step.rest-plastic.syrup", 2.5),
    ],
)
def test_the_odd_bottle_is_excepted_from_the_full_dose_and_gets_what_the_hand_can_measure(
    changes: dict[str, Any], each: str, odd: str, amount: float
):
    plan = plan_of(six(bottles="40 x 330 ml pet", **changes))
    [dosed] = [step.said for step in plan.bottling_steps if step.said.id == each]
    assert (dosed.values["n"], dosed.values["number"]) == (33, 34)
    [note] = [step.note for step in plan.bottling_steps if step.said.id == "bottle-step.rest-plastic"]
    assert note is not None
    assert note.id == odd
    assert amount in note.values.values()


def test_what_no_piece_is_small_enough_for_is_not_bottled():
    plan = plan_of(six(bottles="40 x 330 ml pet", dosing="pieces") | {"sugar-piece": "2 g"})
    assert plan.bottles.odd is None
    assert "bottle-step.rest-flat" in [step.said.id for step in plan.bottling_steps]


def test_only_the_bottles_that_get_full_are_dosed():
    plan = plan_of(six(bottles="26 x 500 ml returnable glass"))
    [dosed] = [step.said for step in plan.bottling_steps if step.said.id == "bottle-step.sugar"]
    assert dosed.values["n"] == plan.bottles.filled < plan.bottles.rows[0].need
