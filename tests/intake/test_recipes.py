"""Recipes and the tables under them: every one of ours reads without a word, and slips are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from intake.told import recipe, said
from sheetgen import catalogue
from sheetgen.brewing.carbonation import SUGARS
from sheetgen.intake import batch_tables, drinks, pantry, read_recipe, recipes
from sheetgen.intake.recipe_tables import ALLERGENS

NAMES = catalogue.names("recipes")
DRINKS = catalogue.names("recipes/drinks")
START = (
    "recipe-name: Test\ndrink: ale\nvolume: 10 L\nyeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}\n"
)


def one(line: str, more: str = "") -> str:
    return f"{START}{more}ingredients:\n  - {{{line}}}\n"


@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_of_ours(name: str) -> None:
    found, problems = read_recipe(name)
    assert found
    assert list(problems) == []
    gravity = sum(each.amount * each.item.points for each in found.ingredients) / found.litres / 1e6
    low, high = found.drink.gravity or (1.030, 1.060)
    assert low <= 1 + gravity <= high
    assert found.about


@pytest.mark.parametrize("name", DRINKS)
def test_every_drink_of_ours(name: str) -> None:
    found, problems = drinks.drink(name)
    assert found
    assert problems == ()
    days = found.days
    assert days["test-1-earliest"] >= 7
    assert days["test-1-earliest"] <= days["test-1"] < days["bottle"] <= days["bottle-latest"]
    assert days["bottle-earliest"] >= 10
    assert 0.7 <= found.vessel_full <= 0.8


def test_what_is_there() -> None:
    assert {"ale", "wheat", "stout", "lager", "cider"} <= set(DRINKS)
    assert {"copper-lane-amber", "slipway-nine-pale", "lantern-shed-stout", "plot-eleven-cider"} <= set(NAMES)
    assert [name for name, _, _ in recipes()] == list(NAMES)
    assert drinks.drink("cider")[0].ferments_out  # type: ignore[union-attr]


def test_the_tables_read_without_problems() -> None:
    assert pantry.table_problems() == ()


def test_every_ingredient_of_ours_states_its_allergens_and_its_source() -> None:
    for item in pantry.ingredients().things.values():
        assert item.source
        assert item.allergens is not None or "label" in item.source
        assert set(item.allergens or ()) <= set(ALLERGENS)


def test_the_allergens_cover_the_fourteen_groups() -> None:
    assert set(ALLERGENS.values()) == set(range(1, 15))


def test_points_lie_in_their_range() -> None:
    for item in pantry.ingredients().things.values():
        assert item.points_range[0] <= item.points <= item.points_range[1], item.id
        assert item.attenuation[0] <= item.attenuation[1]


def test_the_sugars_of_a_batch_are_those_that_can_be_computed() -> None:
    assert set(batch_tables.SUGARS) == set(SUGARS)


def test_other_names_lead_to_one_thing() -> None:
    shelf = pantry.ingredients()
    assert shelf.find("LME") is shelf.find("liquid  Malt Extract") is shelf.things["liquid malt extract"]
    assert not set(shelf.aliases) & set(shelf.things)


@pytest.mark.parametrize(
    ("when", "stage", "minutes", "day"),
    [
        ("into the pot", "pot", 0, 0),
        ("30 min before the end", "boil", 30, 0),
        ("5 minutes before the end of the boil", "boil", 5, 0),
        ("off the heat", "off-heat", 0, 0),
        ("into the vessel", "vessel", 0, 0),
        ("day 3", "day", 0, 3),
        ("Dry-hop", "dry-hop", 0, 0),
    ],
)
def test_moments(when: str, stage: str, minutes: float, day: int) -> None:
    found, problems = recipe(one(f"what: hops, amount: 20 g, when: {when}", "boil: 30 min\n"))
    assert found, problems
    moment = found.ingredients[0].when
    assert (moment.stage, moment.minutes, moment.day) == (stage, minutes, day)


def test_an_ingredient_may_state_its_own_name_and_allergens() -> None:
    found, _ = recipe(one("what: wine tannin, called: oak powder, amount: 2 g, when: day 3, allergens: none"))
    assert found
    assert (found.ingredients[0].name, found.ingredients[0].item.allergens) == ("oak powder", ())


def test_amounts_in_us_units_and_in_pieces() -> None:
    found, _ = recipe(one("what: honey, amount: 1 lb 4 oz, when: off the heat"))
    assert found
    assert found.ingredients[0].amount == pytest.approx(566.99, abs=0.01)
    found, _ = recipe(one("what: lemon, amount: 2 pieces, when: off the heat"))
    assert found
    assert found.ingredients[0].amount == 2


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (
            "what: liquid malt extrakt, amount: 1 kg, when: off the heat",
            'did you mean "liquid malt extract"?',
        ),
        ("what: liquid malt extract, amount: 1 kg", "when: is missing"),
        ("what: liquid malt extract, when: off the heat", "amount: is missing"),
        ("what: liquid malt extract, amount: 1.5, when: off the heat", "1.5 g or 1.5 oz"),
        ("what: liquid malt extract, amount: 1 L, when: off the heat", "measured by weight"),
        ("what: apple juice, amount: 1 kg, when: off the heat", "measured by volume"),
        ("what: lemon, amount: 1 kg, when: off the heat", "measured in pieces"),
        ("what: liquid malt extract, amount: 0 g, when: off the heat", "not possible here"),
        ("what: hops, amount: 20 g, when: 90 min before the end", "before the boil of 30 min begins"),
        ("what: hops, amount: 20 g, when: later", "does not say when"),
        ("what: hops, amount: 20 g, when: day 0", "does not say when"),
        ("what: hops, amount: 20 g, when: dry hop, alpha: 5.5", "5.5 %"),
        ("what: hops, amount: 20 g, when: dry hop, allergens: gluten", "write one of"),
        ("what: hops, amount: 20 g, when: dry hop, allergens: [none, milk]", "none stands beside others"),
        ("what: hops, amuont: 20 g, amount: 20 g, when: dry hop", 'did you mean "amount"?'),
    ],
)
def test_slips_in_an_ingredient(line: str, words: str) -> None:
    found, problems = recipe(one(line, "boil: 30 min\n"))
    assert found is None
    assert len(problems) == 1, problems
    assert words in said(problems[0])
    assert problems[0].path[:2] == ("recipe test", "ingredients")


def test_a_breadcrumb_names_the_ingredient() -> None:
    _, problems = recipe(one("what: honey, amount: 1 L, when: off the heat"))
    assert problems[0].path == ("recipe test", "ingredients", "honey", "amount")


def test_hops_in_a_boil_need_a_boil() -> None:
    _, problems = recipe(one("what: hops, amount: 20 g, when: 20 min before the end"))
    assert "nothing is boiled" in said(problems[0])


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("drink: ale", "drink: ail", 'did you mean "ale"?'),
        ("volume: 10 L", "volume: 10", "10 L or 10 US gal"),
        ("range: 16-24 C", "range: 16-24", "16-24 C or 16-24 F"),
        ("pack: 11 g, ", "", "pack: is missing"),
        ("recipe-name: Test", "extends: towrope-mild\nrecipe-name: Test", "not offered yet"),
        ("drink: ale", "drink: ale\nnote: nice", "is not a key of recipe"),
    ],
)
def test_slips_in_a_recipe(old: str, new: str, words: str) -> None:
    text = one("what: honey, amount: 1 kg, when: off the heat").replace(old, new)
    found, problems = recipe(text)
    assert found is None
    assert words in said(problems[0])


def test_no_ingredients() -> None:
    found, problems = recipe(f"{START}ingredients: []\n")
    assert found is None
    assert "there are no ingredients" in said(problems[0])


def test_a_pantry_beside_the_batch_adds_to_ours(tmp_path: Path) -> None:
    (tmp_path / "pantry").mkdir()
    own = (
        'pantry: ingredients\nentries:\n  birch sap: {role: juice, points: 8, unit: ml, source: "a taste"}\n'
    )
    (tmp_path / "pantry" / "ingredients.yaml").write_text(own, encoding="utf-8")
    shelf = pantry.ingredients(tmp_path)
    assert "honey" in shelf.things
    assert [problem.level for problem in shelf.problems] == ["warn"]


def test_ingredients_of_a_pantry_of_ones_own_without_allergens_are_not_known(tmp_path: Path) -> None:
    (tmp_path / "pantry").mkdir()
    own = (
        'pantry: ingredients\nentries:\n  birch sap: {role: juice, points: 8, unit: ml, source: "a taste"}\n'
    )
    (tmp_path / "pantry" / "ingredients.yaml").write_text(own, encoding="utf-8")
    sap = pantry.ingredients(tmp_path).find("birch sap")
    assert sap
    assert sap.allergens is None
