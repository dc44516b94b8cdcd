"""Water: the balance of heat and of litres, worked out a second time.

Capacities: water 4.19, malt syrup 2.2, dry malt 1.3 kJ/kg K.  All litres are measured cold: a litre is a
kilogram.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sheetgen.planning import plan_batch

from .described import FEBRUARY, ids, mixed_by_hand, plan_of, planned, read, six

CAPACITY = {"extract-liquid": 2.2, "extract-dry": 1.3}
LITRES_A_KILOGRAM = {"extract-liquid": 0.71, "extract-dry": 0.63}
HOT = ("pot", "boil", "off-heat")


def _malt(plan: Any, stages: tuple[str, ...] = HOT) -> list[tuple[str, float]]:
    uses = [use for use in plan.quantities.ingredients if use.role == "extract" and use.stage in stages]
    return [("extract-liquid" if "liquid" in use.id else "extract-dry", use.amount / 1000) for use in uses]


def _kept(plan: Any) -> float:
    return sum(0.8 * use.amount / 1000 for use in plan.quantities.ingredients if use.role == "grain")


def _poured(plan: Any) -> float:
    water = plan.quantities.water
    return water.kettle_l - water.boiled_off_l - _kept(plan)


def balance(plan: Any, tap: float, fridge: float, room: float, boiling: float) -> float:
    """The mix in the vessel.  What boiled is as hot as the pot, and so is all that stood in the bath."""
    water = plan.quantities.water
    pot = boiling if water.cool_pot_to_c is None else water.cool_pot_to_c
    as_hot = HOT if water.cool_pot_to_c is not None else ("pot", "boil") if plan.boiled else ()
    malt = [(kilograms, CAPACITY[kind], pot) for kind, kilograms in _malt(plan, as_hot)]
    others = tuple(stage for stage in HOT if stage not in as_hot)
    malt += [(kilograms, CAPACITY[kind], room) for kind, kilograms in _malt(plan, others)]
    parts = [(_poured(plan), 4.19, pot), (water.fridge_l, 4.19, fridge), (water.tap_l, 4.19, tap), *malt]
    return mixed_by_hand(parts)


RECIPES = (
    "copper-lane-amber",
    "slipway-nine-pale",
    "lantern-shed-stout",
    "towrope-mild",
    "ferry-steps-wheat",
)
KITCHENS = [(12, 4, "6 L"), (28, 4, "6 L"), (8, 2, "3 L"), (20, 6, "0.1 L")]


@pytest.mark.parametrize("volume", ["3.5 L", "12 L", "60 L"])
@pytest.mark.parametrize("recipe", RECIPES)
@pytest.mark.parametrize(("tap", "fridge", "space"), KITCHENS)
def test_heat_and_litres_add_up(recipe: str, volume: str, tap: float, fridge: float, space: str):
    water = {"tap": f"{tap} C", "fridge": f"{fridge} C", "fridge-space": space}
    plan, problems = planned(six(recipe=recipe, volume=volume, water=water))
    assert plan is not None, ids(problems, "stop")
    found, litres = plan.quantities.water, float(volume.split(maxsplit=1)[0])
    malt = sum(LITRES_A_KILOGRAM[kind] * kilograms for kind, kilograms in _malt(plan))
    assert _poured(plan) + found.fridge_l + found.tap_l + malt == pytest.approx(litres, abs=0.26)
    assert found.fridge_l <= float(space.split(maxsplit=1)[0])
    assert balance(plan, tap, fridge, 20, 99.97) == pytest.approx(found.mixed_c, abs=0.6)
    window = plan.quantities.water.mixed_c <= 21.5
    assert (
        window
        or found.cool_pot_to_c is not None
        or found.wait_minutes is not None
        or "warn.mix-warm" in ids(problems, "warn")
    )


def test_the_window_of_the_drink_is_met_with_water_from_the_fridge():
    plan = plan_of(six())
    assert 17 <= plan.quantities.water.mixed_c <= 21
    assert plan.quantities.water.cool_pot_to_c is None


def test_a_kilogram_of_extract_wants_a_litre_of_hot_water():
    # 1.7 kg; 1.7 L at 100 C, 6 L at 4 C and 3.1 L at 8 C come to 20.2 C: in the window, so no less is boiled
    assert plan_of(six(water={"tap": "8 C"})).quantities.water.kettle_l == 1.7


def test_the_pot_takes_a_bath_when_cold_water_is_not_enough():
    plan = plan_of(six(recipe="slipway-nine-pale"))
    assert plan.quantities.water.cool_pot_to_c < 60
    assert any(step.said.id == "step.cool-pot" for step in plan.steps)


def test_a_hot_tap_and_no_fridge_mean_a_wait():
    plan, problems = planned(six(room="18 C", water={"tap": "28 C", "fridge-space": "0.1 L"}))
    assert plan.quantities.water.wait_minutes > 0
    assert "warn.mix-warm" in ids(problems, "warn")
    assert any(step.said.id == "step.wait-cool" for step in plan.steps)


@pytest.mark.parametrize(("space", "fridge_l"), [(0.0, 0), (0.4, 0), (0.5, 0.5)])
def test_a_glass_of_cold_water_is_not_worth_a_line(space: float, fridge_l: float):
    batch, problems = read(six(water={"tap": "12 C"}))
    plan = plan_batch(replace(batch, water=replace(batch.water, fridge_space=space)), FEBRUARY, problems)
    assert plan.quantities.water.fridge_l == fridge_l
    assert any(step.said.id == "step.fridge-water" for step in plan.steps) == (fridge_l > 0)


def test_juice_stands_at_the_rooms_temperature():
    plan = plan_of(six(recipe="plot-eleven-cider", volume="10 L"))
    assert plan.quantities.water.kettle_l == 0
    assert plan.quantities.water.mixed_c == pytest.approx(20)
    assert plan.pot_l == 0


def test_height_lowers_the_boil():
    # 3000 m: 701 hPa, 90.0 C; 1.2 L at 90 C into cold water instead of 100 C
    low = plan_of(six(water={"altitude": "0 m", "fridge-space": "0.1 L"}))
    high = plan_of(six(water={"altitude": "3000 m", "fridge-space": "0.1 L"}))
    assert balance(high, 12, 4, 20, 90.0) == pytest.approx(high.quantities.water.mixed_c, abs=0.3)
    assert high.quantities.water.kettle_l >= low.quantities.water.kettle_l


@pytest.mark.parametrize(
    ("pot", "level"),
    [
        # at least 1 L of water and 1.7 kg x 0.71 = 1.21 L of extract: 2.207 L
        ("2.95 L", ""),  # 74.8 %
        ("2.93 L", "warn"),  # 75.3 %
        ("2.60 L", "warn"),  # 84.9 %
        ("2.59 L", "stop"),  # 85.2 %
    ],
)
def test_a_pot_has_room_for_foam_and_extract(pot: str, level: str):
    _, problems = planned(six(equipment={"pot": pot}))
    assert ("stop.pot" in ids(problems, "stop")) == (level == "stop")
    assert ("warn.pot" in ids(problems, "warn")) == (level == "warn")


@pytest.mark.parametrize("recipe", RECIPES)
@pytest.mark.parametrize("volume", ["3.5 L", "8 L", "12 L", "25 L", "60 L"])
def test_a_pot_of_our_own_choice_is_never_overfull(recipe: str, volume: str):
    _, problems = planned(six(recipe=recipe, volume=volume))
    assert not {"warn.pot", "stop.pot"} & {*ids(problems, "warn"), *ids(problems, "stop")}


@pytest.mark.parametrize("pot", ["3 L", "4 L", "5.5 L", "8 L", "11 L"])
def test_the_boil_is_cut_to_the_pot(pot: str):
    batch, _ = read(six(recipe="slipway-nine-pale", equipment={"pot": pot}), FEBRUARY)
    plan, problems = planned(six(recipe="slipway-nine-pale", equipment={"pot": pot}))
    assert batch.equipment.pot == float(pot.split(maxsplit=1)[0])
    assert plan is None or "warn.pot" not in ids(problems, "warn") or plan.pot_l < 4
