"""Cleaner and sanitiser for both days: by what has to be wet, in doses that can be measured."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from sheetgen.intake import pantry
from sheetgen.planning.as_json import as_json
from sheetgen.planning.plan import Cleaning, Plan
from sheetgen.printing.views.bottling import bottling
from sheetgen.printing.views.brew import brew
from sheetgen.printing.views.shop import shop

from .described import FEBRUARY, ids, plan_of, planned, read, six
from .test_plan_sentences import words_of

PRODUCTS = tuple(pantry.sanitisers().things)
SYSTEMS = {"metric": "A4", "us": "Letter", "uk": "A4"}


def mix(plan: Plan, day: str, what: str = "sanitise") -> Cleaning:
    [row] = [row for row in plan.lists.cleaning if (row.day, row.what) == (day, what)]
    return row


def batch(litres: float, ml: int = 500, **keys: Any) -> dict[str, Any]:
    """So many litres, with bottles enough."""
    count = int(litres * 1000 / ml) + 5
    return six(volume=f"{litres:g} L", bottles=f"{count} x {ml} ml returnable glass", **keys)


# Common practice, no source: 4 to 5 L on brew day, 5 to 8 L on bottling day
@pytest.mark.parametrize("dosing", ["weight", "in-bulk"])
@pytest.mark.parametrize("ml", [330, 500, 750])
@pytest.mark.parametrize("litres", [5, 7.5, 10, 12, 15, 20])
def test_ordinary_batches_take_what_is_usual(litres: float, ml: int, dosing: str):
    plan = plan_of(batch(litres, ml, dosing=dosing))
    assert 4 <= mix(plan, "brew").litres <= 5
    assert 5 <= mix(plan, "bottling").litres <= 8


def test_large_batches_take_more():
    plan = plan_of(batch(60, 330, equipment={"vessel": "80 L", "pot": "30 L"}))
    assert mix(plan, "brew").litres == 10  # 8 L for the vessel, 2 L in a bowl
    count = sum(row.need for row in plan.bottles.rows)
    assert count > 170
    assert mix(plan, "bottling").litres == pytest.approx(0.06 * count + 2, abs=0.5)


def test_what_each_mix_is_for():
    plan = plan_of(batch(20, 330, dosing="in-bulk", equipment={"vessel": "30 L", "bottling-vessel": "25 L"}))
    parts = {part.what: part.litres for part in mix(plan, "brew").parts}
    assert parts == {"vessel": 3, "small-gear": 2}
    count = sum(row.need for row in plan.bottles.rows)
    parts = {part.what: part.litres for part in mix(plan, "bottling").parts}
    assert parts == {"bottling-vessel": 2.5, "bottles": pytest.approx(0.06 * count), "small-gear": 2}


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("product", PRODUCTS)
@pytest.mark.parametrize("litres", [5, 12, 20, 60])
def test_a_mix_is_as_strong_as_its_label_says(product: str, litres: float, units: str):
    gear = {"sanitiser": product, "scales": "0.1 g", "vessel": f"{litres * 1.4:g} L", "pot": "40 L"}
    plan = plan_of(batch(litres, units=units, equipment=gear))
    rate = pantry.sanitisers().things[product].dose
    for day in ("brew", "bottling"):
        row = mix(plan, day)
        assert 0.95 <= row.dose / (rate * row.litres) <= 1.03 + 1e-9


def test_coarse_scales_weigh_in_their_own_steps():
    """4 g/L on scales of 5 g: 16 g cannot be weighed, 20 g in 5 L can."""
    plan = plan_of(batch(12, equipment={"sanitiser": "percarbonate cleaner", "scales": "5 g"}))
    assert (mix(plan, "brew").dose, mix(plan, "brew").litres) == (20, 5)


def test_the_sanitiser_in_one_is_that_of_the_rows():
    found = plan_of(batch(12)).lists
    rows = [row for row in found.cleaning if row.what == "sanitise"]
    one = found.sanitising
    assert [(row.litres, row.dose) for row in rows] == [
        (one.brew_day_l, one.brew_day_dose), (one.bottling_day_l, one.bottling_day_dose),
    ]  # fmt: skip


def test_the_json_has_every_mix():
    rows = as_json(plan_of(batch(12)), lambda sentence: sentence.id)["cleaning"]
    assert [(row["day"], row["what"]) for row in rows] == [
        ("brew", "clean"), ("brew", "sanitise"), ("bottling", "clean"), ("bottling", "sanitise"),
    ]  # fmt: skip
    assert rows[1] == {
        "day": "brew", "what": "sanitise", "product": "no-rinse acid",
        "litres": 4, "dose": 6, "dose_unit": "ml", "minutes_low": 1, "minutes_high": 2,
        "rinse": False, "water": "cold", "soaks": False, "caution": "acid",
        "parts": [{"what": "vessel", "litres": 2}, {"what": "small-gear", "litres": 2}],
    }  # fmt: skip


# On paper


def said_on(view: Any) -> str:
    """All words of a view."""
    if isinstance(view, str):
        return view
    if hasattr(view, "values"):
        return "\n".join(said_on(each) for each in view.values())
    return "\n".join(said_on(each) for each in view) if isinstance(view, tuple | list) else ""


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("product", [name for name in PRODUCTS if pantry.sanitisers().things[name].family])
def test_a_products_caution_stands_on_the_sheets_where_it_is_used(product: str, units: str):
    words = words_of("en-GB", units)
    family = pantry.sanitisers().things[product].family
    head = words.say(f"caution.{family}.head")
    key = "cleaner" if pantry.sanitisers().things[product].cleans else "sanitiser"
    plan = plan_of(batch(12, units=units, equipment={key: product}))
    for sheet in (brew, bottling):
        assert head in said_on(sheet(plan, words))
    assert family in plan.cautions


@pytest.mark.parametrize("sheet", [shop, brew, bottling])
def test_the_products_label_wins_once_a_sheet(sheet: Any):
    for cleaner in ("washing-up liquid", "percarbonate cleaner"):
        plan = plan_of(batch(12, equipment={"cleaner": cleaner}))
        view = sheet(plan, words_of("en-GB", "metric"))
        assert said_on(view.get("cleaning", view)).count("label wins") == 1


def test_a_cleaner_that_soaks_is_a_step_of_its_own():
    soaked = plan_of(batch(12, equipment={"cleaner": "percarbonate cleaner"}))
    washed = plan_of(batch(12))
    order = [step.said.id for step in soaked.steps[:3]]
    assert order == ["step.mark", "step.soak-gear", "step.sanitise"]
    assert [step.said.id for step in washed.steps[:2]] == ["step.mark", "step.sanitise"]
    assert washed.steps[1].note.id == "step.sanitise.washed"
    names = [step.said.id for step in soaked.bottling_steps[1:3]]
    assert names == ["bottle-step.soak", "bottle-step.sanitise-clean"]
    assert washed.bottling_steps[1].said.id == "bottle-step.sanitise"
    assert soaked.brew_minutes > washed.brew_minutes


def test_more_bottles_than_anybody_has_still_end_in_a_plan():
    filled = {"on": "2027-02-19", "bottles": {"100 ml": "9999"}}
    tree = six(bottles="9999 x 100 ml pet", volume="90 L", actual={"brewed": "2027-01-02", "bottled": filled})
    assert mix(plan_of(tree), "bottling").litres > 500


# What does not go together


@pytest.mark.parametrize(
    ("material", "product", "stopped"),
    [
        ("steel", "household bleach", True),
        ("plastic", "household bleach", False),
        ("glass", "household bleach", False),
        ("steel", "no-rinse acid", False),
        ("steel", "percarbonate cleaner", False),
    ],
)
def test_a_product_that_eats_into_the_vessel_is_refused(material: str, product: str, stopped: bool):
    gear = {"vessel": {"holds": "20 L", "made-of": material}, "sanitiser": product}
    found, problems = read(batch(12, equipment=gear))
    assert (found is None) == stopped
    if stopped:
        [stop] = problems.of("stop")
        assert "is not for steel" in str(stop.message)
        assert str(stop.fix) == "write sanitiser: no-rinse acid, for example"
        assert stop.span is not None


def test_a_vessel_of_unknown_make_counts_as_plastic_where_it_matters():
    found, _ = read(batch(12, equipment={"sanitiser": "household bleach"}))
    assert found is not None
    assert "equipment.vessel.made-of" in {each.key for each in found.assumptions}
    found, _ = read(batch(12))
    assert found is not None
    assert "equipment.vessel.made-of" not in {each.key for each in found.assumptions}


@pytest.mark.parametrize(
    ("cleaner", "sanitiser", "said"),
    [
        ("washing-up liquid", "no-rinse acid", []),
        ("percarbonate cleaner", "no-rinse acid", []),
        ("washing-up liquid", "household bleach", []),
        ("washing-up liquid", "percarbonate cleaner", ["warn.cleaner-as-sanitiser"]),
        ("sulphite", "no-rinse acid", ["warn.sanitiser-as-cleaner"]),
        ("percarbonate cleaner", "household bleach", ["warn.bleach-with"]),
        ("household bleach", "no-rinse acid", ["warn.bleach-with", "warn.sanitiser-as-cleaner"]),
        ("household bleach", "sulphite", ["warn.bleach-with", "warn.sanitiser-as-cleaner"]),
        ("household bleach", "household bleach", ["warn.sanitiser-as-cleaner"]),
    ],
)
def test_what_does_not_go_together_is_said(cleaner: str, sanitiser: str, said: list[str]):
    _, problems = planned(batch(12, equipment={"cleaner": cleaner, "sanitiser": sanitiser}))
    found = [name for name in ids(problems, "warn") if "clean" in name or "bleach" in name]
    assert sorted(found) == said


def test_other_names_of_a_product_are_understood():
    assert (
        mix(plan_of(batch(12, equipment={"cleaner": "dish soap"})), "brew", "clean").product
        == "washing-up liquid"
    )


@pytest.mark.parametrize(
    ("dose", "minutes"),
    [("0.001 ml", "1"), ("5 L", "1"), ("lots", "1"), ("0 g", "1"), ("1 ml", "1-99999999999")],
)
def test_a_dose_that_is_none_is_told_with_its_place(tmp_path: Path, dose: str, minutes: str):
    table = tmp_path / "pantry" / "sanitisers.yaml"
    table.parent.mkdir()
    entry = f"odd stuff: {{dose: {dose}, minutes: {minutes}, rinse: no, source: ours}}"
    table.write_text(f"pantry: sanitisers\nentries:\n  {entry}\n", encoding="utf-8")
    found, problems = read(six(), FEBRUARY, tmp_path)
    assert found is None
    assert [(stop.span.file, stop.span.line) for stop in problems.of("stop") if stop.span] == [
        ("sanitisers.yaml", 3)
    ]
