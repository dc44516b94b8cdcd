"""What a recipe brings on a later day: its litres belong to the volume, brew day has so much less.

The batch is 12 L: 1.7 kg of liquid extract on brew day, 1 kg of honey on day 4.  The honey makes
1 x 0.70 = 0.70 L, so the mark of brew day is 12 - 0.70 = 11.30 L.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sheetgen.planning.plan import Plan
from sheetgen.problems import Said

from .described import FEBRUARY, ids, planned, six

RECIPE = """\
recipe-name: Own
drink: ale
volume: 12 L
ingredients:
  - {what: liquid malt extract, amount: 1.7 kg, when: off the heat}
  - {what: honey, amount: %s, when: %s}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""


def own(
    folder: Path, amount: str = "1 kg", when: str = "day 4", today: date = FEBRUARY, **words: Any
) -> Plan:
    (folder / "own.yaml").write_text(RECIPE % (amount, when), encoding="utf-8")
    plan, problems = planned(six(recipe="own", **words), today, folder)
    assert plan is not None, [str(one.message) for one in problems.of("stop")]
    return plan


def close(value: float, by: float = 0.00006) -> Any:
    return pytest.approx(value, abs=by)


def step(plan: Plan, name: str) -> Any:
    return next(one for one in plan.steps if one.said.id == name)


def test_the_mark_of_brew_day_leaves_room_for_the_honey(tmp_path: Path):
    plan = own(tmp_path)
    found = plan.quantities
    assert (found.litres, found.mark_l) == (close(12), close(11.3))
    # extract 1.7 x 0.71 = 1.207 L; 11.3 - 1.207 = 10.093 L of water, within the tap's last digit
    water = found.water
    assert water.ingredients_l == close(1.207)
    assert water.kettle_l + water.fridge_l + water.tap_l == close(10.093, 0.125)
    # sediment 4 % of 12 = 0.48, dead space and three samples 0.4: 12 - 0.88
    assert found.bottling_l == close(11.12)


def test_a_reading_of_brew_day_is_held_against_what_is_there_that_day(tmp_path: Path):
    plan = own(tmp_path)
    found = plan.quantities
    # 1.7 x 300 = 510 in 11.3 L: 45.13; with 290 of the honey 800 in 12 L: 66.67
    assert found.brewed_gravity == close(1.04513)
    assert found.original_gravity == close(1.06667)
    asked = step(plan, "step.read-gravity")
    assert asked.write.value == close(1.04513)
    assert asked.note.id == "step.read-gravity.note-later"
    assert asked.note.values["whole"] == close(1.06667)


def test_the_steps_speak_of_the_mark(tmp_path: Path):
    plan = own(tmp_path)
    mark = step(plan, "step.mark")
    assert mark.amount.value == close(11.3)
    assert (mark.note.id, mark.note.values["litres"]) == ("step.mark.note-later", close(0.7))
    assert step(plan, "step.top-up").note.values["litres"] == close(11.3)
    assert step(plan, "step.close").note.values["grams"] == 11_000


def test_without_anything_later_nothing_is_said_of_it():
    plan, _ = planned(six())
    assert plan is not None
    assert (plan.quantities.mark_l, plan.quantities.litres) == (12, 12)
    assert plan.quantities.brewed_gravity == plan.quantities.original_gravity
    assert step(plan, "step.mark").note.id == "step.mark.note"
    assert step(plan, "step.read-gravity").note.id == "step.read-gravity.note"


def test_the_recipe_may_say_the_same_as_somebody_who_adds_it(tmp_path: Path):
    """By the recipe on day 4, or by `actual: added` to what was brewed: the same litres and strength."""
    brewed = {"brewed": "2027-03-06", "litres": "11.3"}
    (tmp_path / "own.yaml").write_text(RECIPE % ("1 kg", "day 4"), encoding="utf-8")
    today = date(2027, 3, 12)
    recipe, _ = planned(six(recipe="own", actual=brewed), today, tmp_path)
    bare = "\n".join(line for line in RECIPE.splitlines() if "honey" not in line)
    (tmp_path / "bare.yaml").write_text(bare, encoding="utf-8")
    added = {**brewed, "added": [{"on": "2027-03-10", "what": "honey", "amount": "1 kg"}]}
    person, _ = planned(six(recipe="bare", actual=added), today, tmp_path)
    assert recipe is not None
    assert person is not None
    for name in ("litres", "original_gravity", "brewed_gravity", "loss_l", "bottling_l"):
        assert getattr(recipe.quantities, name) == close(getattr(person.quantities, name)), name


def test_a_measured_volume_takes_the_rest_on_top(tmp_path: Path):
    actual = {"brewed": "2027-03-06", "litres": "11", "og": "1.046 at 20 C"}
    found = own(tmp_path, actual=actual, today=date(2027, 3, 6)).quantities
    assert found.litres == close(11.7)
    assert found.brewed_gravity == close(1 + 510 / 11 / 1000)  # 1.04636: the reading fits
    # (510 x 46 / 46.36 + 290) / 11.7
    assert found.original_gravity == close(1 + (510 * 46 / (510 / 11) + 290) / 11.7 / 1000)


def test_a_reading_that_differs_names_both_numbers(tmp_path: Path):
    (tmp_path / "own.yaml").write_text(RECIPE % ("1 kg", "day 4"), encoding="utf-8")
    actual = {"brewed": "2027-03-06", "og": "1.050 at 20 C"}
    _, problems = planned(six(recipe="own", actual=actual), date(2027, 3, 6), tmp_path)
    [message] = [one.message for one in problems if "warn.og-differs" in str(one.message)]
    assert isinstance(message, Said)
    assert message.values["calculated"] == close(1.04513)
    causes = message.values["causes"]
    assert isinstance(causes, tuple)
    assert isinstance(causes[0], Said)
    assert (causes[0].id, causes[0].values["whole"]) == ("doubt.brew-day", close(1.06667))


def test_the_band_begins_at_brew_days_gravity_and_takes_the_honey_on_its_day(tmp_path: Path):
    rows = {row.day: row for row in own(tmp_path).gravity_band}
    assert rows[0].expected == close(1.04513)
    assert rows[3].expected < rows[0].expected
    assert rows[4].expected > rows[3].expected + 0.005
    assert rows[5].expected < rows[4].expected


@pytest.mark.parametrize(("holds", "found"), [("13.4 L", []), ("13.2 L", ["stop.vessel"])])
def test_the_vessel_must_hold_it_all(tmp_path: Path, holds: str, found: list[str]):
    """12 L are 89.6 % of 13.4 L and 90.9 % of 13.2 L, though 11.3 L would be 85.6 %."""
    (tmp_path / "own.yaml").write_text(RECIPE % ("1 kg", "day 4"), encoding="utf-8")
    _, problems = planned(six(recipe="own", equipment={"vessel": holds}), FEBRUARY, tmp_path)
    assert ids(problems, "stop") == found


@pytest.mark.parametrize(
    ("amount", "stop"),
    [
        ("15.3 kg", "stop.too-strong"),  # 10.71 + 1.207 L: it just fits, and is far too strong
        ("15.6 kg", "stop.over-the-mark"),  # 10.92 + 1.207 = 12.13 L
    ],
)
def test_what_comes_later_has_room_too(tmp_path: Path, amount: str, stop: str):
    (tmp_path / "own.yaml").write_text(RECIPE % (amount, "day 4"), encoding="utf-8")
    _, problems = planned(six(recipe="own"), FEBRUARY, tmp_path)
    assert stop in ids(problems, "stop")


def test_something_must_be_there_to_pitch_into(tmp_path: Path):
    text = "recipe-name: Own\ndrink: country-wine\nvolume: 10 L\ningredients:\n"
    text += "  - {what: raspberries, amount: 11.1 kg, when: day 2}\n"  # 11.1 x 0.9 = 9.99 L
    text += "yeast: {what: dry wine yeast, pack: 5 g, range: 12-28 C, kind: wine}\n"
    (tmp_path / "dry.yaml").write_text(text, encoding="utf-8")
    words = six(recipe="dry", volume="10 L", bottles="14 x 750 ml wine bottle")
    _, problems = planned(words, FEBRUARY, tmp_path)
    assert "stop.nothing-on-brew-day" in ids(problems, "stop")
