"""How strong: the yeast's own attenuation, what is added late, the rules beside each other, drink units."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import gravity

from .described import FEBRUARY, day, ids, plan_of, planned, six

BREWED = {"brewed": "2027-03-06"}
PASSED = [{"on": f"2027-03-{n}", "sg": "1.010 at 20 C"} for n in (17, 20)]
RECIPE = """\
recipe-name: Own
drink: ale
volume: 12 L
ingredients:
  - {what: liquid malt extract, amount: 1.7 kg, when: off the heat}%s
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C%s}
"""


def own(folder: Path, yeast: str = "", more: str = "") -> Path:
    (folder / "own.yaml").write_text(RECIPE % (more, yeast), encoding="utf-8")
    return folder


def close(value: float, by: float = 0.0006) -> Any:
    return pytest.approx(value, abs=by)


# The yeast.  1.7 x 300 / 12 = 42.5 points; malt 68-76 % with an ordinary yeast.
YEASTS = [
    # 42.5 x 0.24 = 10.2, 42.5 x 0.32 = 13.6, down to 13
    ("", 10.2, 13.0),
    (", attenuation: 72-78 %", 10.2, 13.0),
    # 8 and 7 points of a hundred up: 76-83 %; 42.5 x 0.17 = 7.2, 42.5 x 0.24 = 10.2
    (", attenuation: 80-85 %", 7.225, 10.0),
    # 7 and 8 down: 61-68 %; 42.5 x 0.32 = 13.6, 42.5 x 0.39 = 16.6
    (", attenuation: 65-70 %", 13.6, 16.0),
]


@pytest.mark.parametrize(("stated", "low", "high"), YEASTS)
def test_a_yeast_that_ferments_more_ends_lower(tmp_path: Path, stated: str, low: float, high: float):
    plan = planned(six(recipe="own"), FEBRUARY, own(tmp_path, stated))[0]
    assert plan is not None
    found = plan.quantities.final_gravity
    assert (found.low, found.high) == (close(1 + low / 1000), close(1 + high / 1000, 1e-9))
    told = [said.values for _, said in plan.assumptions if said.id == "assume.yeast-attenuation"]
    assert bool(told) == bool(stated)


def test_sugar_and_lactose_do_not_ask_which_yeast(tmp_path: Path):
    line = "\n  - {what: %s, amount: 240 g, when: off the heat}"
    more = line % "lactose" + line % "table sugar"
    ends = []
    for stated in (", attenuation: 65-70 %", ""):
        plan = planned(six(recipe="own"), FEBRUARY, own(tmp_path, stated, more))[0]
        assert plan is not None
        ends.append(plan.quantities.final_gravity.low)
    assert ends[0] - ends[1] == close(0.0034, 1e-5)  # 8 points of a hundred of the malt's 42.5


@given(st.floats(0, 0.999), st.floats(0, 1), st.floats(0.40, 0.90), st.floats(0, 1), st.floats(0, 0.05))
def test_a_range_stays_a_range(low: float, wide: float, yeast: float, yeast_wide: float, more: float):
    usual = (low, low + wide * (0.999 - low))
    stated = (yeast, yeast + yeast_wide * (0.90 - yeast))
    found = gravity.attenuation_with_yeast(usual, stated)
    assert min(0.40, usual[0]) - 1e-12 <= found[0] <= found[1] <= max(0.90, usual[1]) + 1e-12
    higher = (min(0.90, stated[0] + more), min(0.90, stated[1] + more))
    assert gravity.attenuation_with_yeast(usual, higher) >= found or usual[1] == 0
    assert gravity.attenuation_with_yeast(usual, gravity.ORDINARY_YEAST) == pytest.approx(usual)


# The rules beside each other.  OG 1.0425, FG expected 1.0116 (middle of 10.2 and 13.6, at most 1.013)


def test_three_rules_stand_beside_each_other():
    found = plan_of(six()).quantities
    assert (found.percent_final, found.percent_final_is) == (close(1.0116), "expected")
    assert found.percent_quick == close((1.0425 - found.percent_final) * 131.25, 1e-4)
    assert found.percent_duty == close(30.6 * 0.129, 0.02)
    assert found.percent_by_volume - found.percent_from_priming == close(found.percent_duty, 0.2)
    assert found.percent_from_priming == close(6.2 / 2.0665 / 7.8924, 0.01)


def test_what_was_read_at_the_end_is_what_the_label_says():
    """Passed at 1.010, not where it was expected: 32.5 points x 131.25."""
    found = plan_of(six(actual={**BREWED, "readings": PASSED}), day("3-20")).quantities
    assert (found.percent_final, found.percent_final_is) == (1.010, "measured")
    assert found.percent_quick == close(32.5 * 0.13125, 0.001)


def test_one_reading_is_not_the_end():
    found = plan_of(six(actual={**BREWED, "readings": PASSED[:1]}), day("3-17")).quantities
    assert found.percent_final_is == "expected"


def test_drink_units_of_the_bottles_in_hand_and_of_a_litre():
    plan = plan_of(six(bottles="2 x 330 ml one-way glass, 40 x 500 ml pet"))
    rows = {(row.country, row.ml): row.units for row in plan.quantities.drink_units}
    percent = plan.quantities.percent_by_volume
    assert {country for country, _ in rows} == {"UK", "US", "AU", "NZ", "FR", "DE"}
    assert {ml for _, ml in rows} == {330, 500, 1000}
    assert rows["UK", 1000] == close(percent)
    assert len(rows) == 18
    assert rows["US", 500] == close(0.5 * percent * 7.8924 / 14)
    assert rows["AU", 330] == rows["NZ", 330] == close(0.33 * percent * 7.8924 / 10)


# What goes in late


def late(*added: tuple[str, str], **more: str) -> dict[str, Any]:
    rows = [{"on": "2027-03-09", "what": what, "amount": amount} for what, amount in added]
    return six(actual={**BREWED, **more, "added": rows})


def test_sugar_changes_everything_that_hangs_on_it():
    before, after = plan_of(six(actual=BREWED), day("3-9")), plan_of(late(("sugar", "300 g")), day("3-9"))
    # 510 + 0.3 x 386 = 625.8 points in 12 + 0.186 L
    assert after.quantities.litres == close(12.186)
    assert after.quantities.original_gravity == close(1 + 0.6258 / 12.186)
    # sugar ends at 0 to -20 %: (510 x 0.24 - 115.8 x 0.2) / 12.186 = 8.14; 510 x 0.32 / 12.186 = 13.39
    assert after.quantities.final_gravity.low == close(1.00814)
    assert after.quantities.final_gravity.high == 1.013
    assert after.quantities.ceiling_gravity == 1.015
    # 4 % of 0.186 L more stays behind
    assert after.quantities.bottling_l - before.quantities.bottling_l == close(0.186 * 0.96)
    assert after.quantities.percent_by_volume > before.quantities.percent_by_volume + 0.9
    assert after.quantities.original_low > before.quantities.original_low


def test_water_thins_it_and_fills_more():
    after = plan_of(late(("water", "2 L")), day("3-9")).quantities
    assert after.litres == 14.0
    assert after.original_gravity == close(1 + 0.510 / 14)
    assert after.final_gravity.high == 1.011  # 13.6 x 12 / 14 = 11.66, down
    assert after.bottling_l > 13


def test_what_is_added_comes_on_top_of_what_was_measured():
    """1.040 in 12 L, not 1.0425: 480 + 115.8 in 12.186 L."""
    after = plan_of(late(("sugar", "300 g"), og="1.040 at 20 C"), day("3-9")).quantities
    assert after.original_gravity == close(1 + 0.5958 / 12.186)


def test_a_reading_of_brew_day_is_held_against_brew_day():
    """600 g of honey make 9.6 points more: that the reading lacks them says nothing."""
    plan, problems = planned(late(("honey", "600 g"), og="1.0425 at 20 C"), day("3-9"))
    assert plan is not None
    assert "warn.layered" not in ids(problems, "warn")
    assert plan.quantities.original_gravity == close(1 + (510 + 174) / 1000 / 12.42)


def test_late_sugar_of_the_recipe_is_not_in_the_reading_of_brew_day(tmp_path: Path):
    more = "\n  - {what: table sugar, amount: 300 g, when: day 3}"
    tree = six(recipe="own", actual={**BREWED, "og": "1.0425 at 20 C"})
    plan, problems = planned(tree, day("3-6"), own(tmp_path, more=more))
    assert plan is not None
    assert "warn.layered" not in ids(problems, "warn")
    # 300 g make 0.186 L: 42.5 points in the 11.814 L of brew day, and 115.8 of the sugar, in 12 L
    assert plan.quantities.original_gravity == close(1 + (42.5 * 11.814 + 115.8) / 12 / 1000)


@pytest.mark.parametrize(("amount", "warned"), [("2.3 kg", False), ("2.4 kg", True)])
def test_too_strong_after_the_fact_is_told_not_stopped(amount: str, warned: bool):
    """510 + 887.8 in 13.43 L is 104.1; three kilograms would be 120.5."""
    amount = "3 kg" if warned else "2.3 kg"
    plan, problems = planned(late(("sugar", amount)), day("3-9"))
    assert plan is not None
    assert ("warn.too-strong" in ids(problems, "warn")) == warned


def test_a_recipe_that_is_too_strong_is_stopped_before_it_is_brewed(tmp_path: Path):
    strong = (RECIPE % ("", "")).replace("1.7 kg", "4.6 kg")
    (tmp_path / "own.yaml").write_text(strong, encoding="utf-8")
    assert "stop.too-strong" in ids(planned(six(recipe="own"), FEBRUARY, tmp_path)[1], "stop")


@pytest.mark.parametrize("what", ["sugar", "honey", "water", "cherries"])
@pytest.mark.parametrize("times", [1, 80])
def test_absurd_additions_end_in_a_plan(what: str, times: int):
    amount = "100 L" if what == "water" else "100 kg"
    assert planned(late(*[(what, amount)] * times), date(2027, 3, 9))[0] is not None
