"""Sulphites are summed and declared above 10 mg a litre; helpers far from their usual dose are named."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sheetgen.planning.as_json import as_json

from .described import FEBRUARY, ids, plan_of, planned, read, six

RECIPE = """\
recipe-name: Own
drink: {drink}
volume: 10 L
ingredients:
  - {{what: apple juice, amount: 10 L, when: into the vessel}}
  - {{what: {what}, amount: {amount}, when: into the vessel}}
{more}yeast: {{what: dry cider yeast, pack: 5 g, range: 12-25 C, kind: wine}}
"""


def batch(
    folder: Path, what: str, amount: str, drink: str = "cider", more: str = "", **keys: Any
) -> dict[str, Any]:
    """A batch of ten litres of juice with something in it."""
    text = RECIPE.format(what=what, amount=amount, drink=drink, more=more)
    (folder / "own.yaml").write_text(text, encoding="utf-8")
    return six(recipe="own", volume="10 L", **keys)


# A tablet of 0.44 g gives 254 mg; the gram of potassium salt 576 mg
@pytest.mark.parametrize(
    ("what", "amount", "mg", "declared"),
    [
        ("sulphite tablet", "1 piece", 25.4, True),
        ("sulphite tablet", "2 pieces", 50.8, True),
        ("potassium metabisulphite", "0.1 g", 5.76, False),
        ("potassium metabisulphite", "0.2 g", 11.52, True),
        ("citric acid", "10 g", 0, False),
    ],
)
def test_sulphites_are_summed(tmp_path: Path, what: str, amount: str, mg: float, declared: bool):
    plan = plan_of(batch(tmp_path, what, amount), FEBRUARY, tmp_path)
    assert plan.quantities.sulphites_mg_per_litre == pytest.approx(mg)
    assert plan.labels.allergens == (("sulphites",) if declared else ())
    mapping = as_json(plan, lambda sentence: sentence.id)
    assert mapping["quantities"]["sulphites_mg_per_litre"] == pytest.approx(mg)


def test_several_sources_and_what_was_added_count_together(tmp_path: Path):
    """5.76 mg a litre from the recipe, and as much from what went in later."""
    added = [{"on": "2027-03-08", "what": "potassium metabisulphite", "amount": "0.1 g"}]
    tree = batch(
        tmp_path, "potassium metabisulphite", "0.1 g", actual={"brewed": "2027-03-06", "added": added}
    )
    plan = plan_of(tree, date(2027, 3, 8), tmp_path)
    assert plan.quantities.sulphites_mg_per_litre == pytest.approx(11.52)
    assert plan.labels.allergens == ("sulphites",)


def test_exactly_ten_milligrams_is_not_declared(tmp_path: Path):
    table = tmp_path / "pantry" / "ingredients.yaml"
    table.parent.mkdir()
    entry = "ten powder: {role: acid, sulphite-mg: 100, allergens: sulphites, source: ours}"
    table.write_text(f"pantry: ingredients\nentries:\n  {entry}\n", encoding="utf-8")
    plan = plan_of(batch(tmp_path, "ten powder", "1 g"), FEBRUARY, tmp_path)
    assert (plan.quantities.sulphites_mg_per_litre, plan.labels.allergens) == (10, ())


def test_sulphites_of_an_unknown_amount_are_always_declared(tmp_path: Path):
    more = "  - {what: lemon, amount: 1 piece, when: into the vessel, allergens: sulphites}\n"
    plan = plan_of(batch(tmp_path, "citric acid", "10 g", more=more), FEBRUARY, tmp_path)
    assert plan.labels.allergens == ("sulphites",)


@pytest.mark.parametrize(("grams", "warned"), [("3.4 g", False), ("3.5 g", True)])
def test_more_than_200_mg_is_high(tmp_path: Path, grams: str, warned: bool):
    """3.4 g x 576 mg / 10 L = 196 mg/L; 3.5 g makes 202."""
    _, problems = planned(batch(tmp_path, "potassium metabisulphite", grams), FEBRUARY, tmp_path)
    assert ("warn.sulphites" in ids(problems, "warn")) == warned


@pytest.mark.parametrize(
    ("what", "amount", "sentence"),
    [
        ("carrageen", "0.4 g", "warn.dose-g"),  # 1 to 3 g is usual; under half of it
        ("carrageen", "0.5 g", None),
        ("carrageen", "6 g", None),  # twice
        ("carrageen", "6.1 g", "warn.dose-g"),
        ("isinglass", "61 ml", "warn.dose-ml"),  # 5 to 30 ml
        ("isinglass", "20 ml", None),
        ("yeast nutrient", "0.9 g", "warn.dose-g"),  # 2 to 5 g for juice of 1.047
        ("yeast nutrient", "5 g", None),
        ("gelatine", "6 g", "warn.dose-g"),
    ],
)
def test_a_dose_far_from_the_usual_one_is_named(tmp_path: Path, what: str, amount: str, sentence: str | None):
    _, problems = planned(batch(tmp_path, what, amount), FEBRUARY, tmp_path)
    found = [name for name in ids(problems, "warn") if name.startswith("warn.dose")]
    assert found == ([sentence] if sentence else [])


def test_doses_scale_with_the_batch_and_so_does_what_is_usual(tmp_path: Path):
    tree = batch(tmp_path, "carrageen", "7 g")
    _, problems = planned({**tree, "volume": "20 L"}, FEBRUARY, tmp_path)
    [found] = [one.message for one in problems if getattr(one.message, "id", "") == "warn.dose-g"]
    assert {key: found.values[key] for key in ("amount", "litres", "low", "high")} == {
        "amount": 14, "litres": 20, "low": pytest.approx(2), "high": pytest.approx(6),
    }  # fmt: skip


def test_strong_must_may_have_more_nutrient(tmp_path: Path):
    """2.5 kg of honey more make it 1.108: twice the dose of 1.050 is usual, so 4 to 10 g."""
    more = "  - {what: honey, amount: 2.5 kg, when: into the vessel}\n"
    for grams, warned in (("15 g", False), ("1.9 g", True)):
        _, problems = planned(batch(tmp_path, "yeast nutrient", grams, more=more), FEBRUARY, tmp_path)
        assert ("warn.dose-g" in ids(problems, "warn")) == warned
    _, problems = planned(batch(tmp_path, "yeast nutrient", "15 g"), FEBRUARY, tmp_path)
    assert "warn.dose-g" in ids(problems, "warn")


@pytest.mark.parametrize("usual", ["lots", "3-1 g", "0-1 g", "1-2 ml", "1-2 pieces", "0.1 - 99999 g"])
def test_a_usual_dose_that_cannot_be_read_is_told_with_its_place(tmp_path: Path, usual: str):
    table = tmp_path / "pantry" / "ingredients.yaml"
    table.parent.mkdir()
    entry = f"odd powder: {{role: acid, usual: {usual}, allergens: none, source: ours}}"
    table.write_text(f"pantry: ingredients\nentries:\n  {entry}\n", encoding="utf-8")
    found, problems = read(six(), FEBRUARY, tmp_path)
    assert found is None
    [stop] = problems.of("stop")
    assert stop.span is not None
    assert (stop.span.file, stop.span.line) == ("ingredients.yaml", 3)
