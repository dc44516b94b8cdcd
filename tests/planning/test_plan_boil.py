"""The boil: the gravity of the pot over the minutes of each hop, by small steps of a second."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.brewing import bitterness

from .described import FEBRUARY, plan_of, six

RECIPE = """\
recipe-name: Own
drink: ale
volume: 12 L
boil: 60 min
ingredients:
  - {{what: dry malt extract, amount: 500 g, when: into the pot}}
  - {{what: hops, called: early, amount: 20 g, when: 60 min before the end, alpha: 8 %}}
  - {{what: dry malt extract, amount: 1 kg, when: {late}}}
yeast: {{what: dry ale yeast, pack: 11 g, range: 16-24 C}}
"""


def planned_with(folder: Path, late: str, **equipment: str):
    (folder / "own.yaml").write_text(RECIPE.format(late=late), encoding="utf-8")
    return plan_of(six(recipe="own", equipment={"pot": "20 L", **equipment}), FEBRUARY, folder).quantities


def by_steps(kettle: float, steam: float, late_minutes: float) -> float:
    """Mean of points over volume, second by second."""
    total = 0.0
    for second in range(3600):
        left = 60 - (second + 0.5) / 60
        malt = 0.5 + (1.0 if left <= late_minutes else 0.0)
        volume = kettle - steam * (1 - left / 60) + 0.63 * malt
        total += 370 * malt / volume / 3600
    return 1 + total / 1000


@pytest.mark.parametrize(
    ("late", "minutes"), [("off the heat", 0), ("15 min before the end", 15), ("into the pot", 60)]
)
def test_extract_counts_from_the_minute_it_is_in(tmp_path: Path, late: str, minutes: float):
    found = planned_with(tmp_path, late)
    wanted = by_steps(found.water.kettle_l, 1.5, minutes)
    assert found.water.pot_gravity == pytest.approx(wanted, abs=2e-5)
    # 20 g of 8 % for an hour in 12 L, at that gravity
    assert found.bitterness_ibu == pytest.approx(bitterness.ibu(20, 8, 60, 12, wanted), abs=0.01)


def test_later_extract_leaves_more_bitterness(tmp_path: Path):
    kinds = ("into the pot", "30 min before the end", "15 min before the end", "off the heat")
    found = [planned_with(tmp_path, late).bitterness_ibu for late in kinds]
    assert found == sorted(found)
    assert found[-1] > found[0] * 1.1


def test_a_pot_that_boils_off_more_is_filled_fuller(tmp_path: Path):
    usual, strong = (planned_with(tmp_path, "off the heat", **more) for more in ({}, {"boil-off": "3 L"}))
    assert strong.water.boiled_off_l == 3.0
    assert strong.water.kettle_l == pytest.approx(usual.water.kettle_l + 1.5, abs=0.11)
    assert strong.water.tap_l == pytest.approx(usual.water.tap_l, abs=0.11)


def test_a_boil_without_boil_off_is_an_assumption_and_a_kettle_without_boil_is_none():
    boiled = plan_of(six(recipe="slipway-nine-pale"))
    assert "equipment.boil-off" in dict(boiled.assumptions)
    assert "equipment.boil-off" not in dict(plan_of(six()).assumptions)
    said = plan_of(six(recipe="slipway-nine-pale", equipment={"boil-off": "1 L"}))
    assert "equipment.boil-off" not in dict(said.assumptions)
