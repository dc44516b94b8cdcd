"""Whole sets, from eight lines of YAML to PDF: what the engine says is what the paper says."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pypdf
import pytest
from printing.bench import the_stock

from sheetgen import catalogue
from sheetgen.__main__ import main
from sheetgen.commands import common
from sheetgen.intake import read_batch
from sheetgen.planning import plan_batch
from sheetgen.planning.plan import Plan
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Page, outside, overlaps
from sheetgen.printing.marks import Words as Placed
from sheetgen.printing.views.brew import brew
from sheetgen.printing.words import Words

TODAY = date(2027, 2, 20)
RECIPES = sorted(catalogue.names("recipes"))
EXAMPLES = sorted((catalogue.our_folder() / "recipes" / "examples").glob("*.yaml"))
STEP_PARTS = ("text", "note", "head", "says")
MOST_TO_READ = 225
BATCH = """\
batch: 27A
recipe: {recipe}
brewer: Imke
brew-day: 2027-03-06
volume: {litres} L
room: 20 C
bottles: {bottles} x 500 ml returnable glass
paper: {paper}
units: {units}
"""


def litres_of(recipe: str) -> float:
    from sheetgen.intake import read_recipe

    found, problems = read_recipe(recipe)
    assert found is not None, list(problems)
    return float(found.litres)


def write_batch(folder: Path, recipe: str, litres: float, paper: str = "A4", units: str = "metric") -> Path:
    path = folder / "batch.yaml"
    bottles = int(litres / 0.5) + 3
    path.write_text(
        BATCH.format(recipe=recipe, litres=round(litres, 2), bottles=bottles, paper=paper, units=units),
        encoding="utf-8",
    )
    return path


def plan_of(path: Path, today: date = TODAY) -> tuple[Plan, Words]:
    batch, problems = read_batch(path, today)
    assert batch is not None, list(problems)
    plan = plan_batch(batch, today, problems)
    assert plan is not None, list(problems)
    return plan, common.words_of(plan.language, plan.units)


def packed(text: str) -> str:
    """Text without any space: a number and its unit, or the three places of a date, stand together."""
    return "".join(text.split())


def text_of(pdf: Path) -> str:
    return packed("".join(page.extract_text() for page in pypdf.PdfReader(pdf).pages))


@pytest.mark.parametrize("factor", [0.4, 1, 3])
@pytest.mark.parametrize("recipe", RECIPES)
def test_every_recipe_prints_its_amounts_and_dates_at_every_size(
    recipe: str, factor: float, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write_batch(tmp_path, recipe, litres_of(recipe) * factor)
    monkeypatch.chdir(tmp_path)
    assert main(["make", str(path), "--today", TODAY.isoformat()]) == 0
    plan, words = plan_of(path)
    sheets = text_of(tmp_path / "27A" / "27A-sheets.pdf")
    for use in plan.quantities.ingredients:
        kind = {"g": "mass", "ml": "litres" if use.amount >= 1000 else "ml", "piece": "number"}[use.unit]
        value = use.amount / 1000 if kind == "litres" else use.amount
        assert packed(words.measure(value, kind)) in sheets, use.name
    written = json.loads((tmp_path / "27A" / "27A-plan.json").read_text(encoding="utf-8"))
    for name in ("brew_day", "first_test", "second_test", "bottling", "earliest_drinking"):
        day = date.fromisoformat(written["dates"][name]["expected"])
        parts = words.date_parts(day)
        assert f"{parts['weekday']}{parts['day']}{parts['month']}" in sheets, name
    labels = text_of(tmp_path / "27A" / "27A-labels.pdf")
    for key in ("filled", "not_before"):
        parts = words.date_parts(date.fromisoformat(written["labels"][key]))
        assert f"{parts['weekday']}{parts['day']}{parts['month']}" in labels, key


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_makes_its_set(
    example: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each of them without a single warning (27C on the evening of its bottling day)."""
    monkeypatch.chdir(tmp_path)
    today = "2027-03-27" if example.stem == "27c" else TODAY.isoformat()
    assert main(["make", str(example), "--today", today]) == 0
    assert "warn" not in capsys.readouterr().err
    made = {path.suffix for path in (tmp_path / example.stem.upper()).iterdir()}
    assert made == {".pdf", ".ics", ".json"}


@pytest.mark.parametrize(
    ("paper", "units"), [("A4", "metric"), ("Letter", "us"), ("A4", "us"), ("Letter", "metric")]
)
@pytest.mark.parametrize("recipe", RECIPES)
@pytest.mark.parametrize("litres", [4, 25])
def test_no_words_leave_the_page_or_touch_each_other(
    recipe: str, litres: float, paper: str, units: str, tmp_path: Path
) -> None:
    plan, words = plan_of(write_batch(tmp_path, recipe, litres, paper, units))
    laid = printed_set.lay_out(plan, words, tmp_path)
    assert [problem for problem in laid.problems if problem.level == "stop"] == []
    for part in laid.sheets:
        for page in part.pages:
            assert_tidy(page)


def assert_tidy(page: Page) -> None:
    """All words stand inside the margin (descenders of the foot included), and no two of them on top of
    each other.
    """
    assert [words.text for words in outside(page, 11.0)] == []
    assert overlaps(page.marks) == []


@pytest.mark.parametrize(("paper", "units"), [("A4", "metric"), ("Letter", "us"), ("Letter", "metric")])
@pytest.mark.parametrize("litres", [4, 12, 25])
def test_the_brew_sheet_without_a_boil_never_continues_overleaf(
    litres: float, paper: str, units: str, tmp_path: Path
) -> None:
    """Wet hands turn no page; and on brew day at most 225 words must be read."""
    plan, words = plan_of(write_batch(tmp_path, "copper-lane-amber", litres, paper, units))
    laid = printed_set.lay_out(plan, words, tmp_path, ["brew", "bottling"])
    assert [len(part.pages) for part in laid.sheets] == [1, 1]
    view: Any = brew(plan, words)
    read = [step[part] for group in view["groups"] for step in group["steps"] for part in STEP_PARTS]
    read += [group["title"] for group in view["groups"]]
    read += [row[side] for row in view["check"]["rows"] for side in ("left", "right")]
    assert sum(len(re.findall(r"[^\W\d_]{2,}", text)) for text in read) <= MOST_TO_READ


@pytest.mark.parametrize("stock", sorted(catalogue.names("layouts/stocks")))
def test_words_stay_3_mm_inside_every_label(stock: str, tmp_path: Path) -> None:
    """Measured on the marks of a real batch, on a sheet of which four labels are gone."""
    paper = "Letter" if "letter" in stock else "A4"
    path = write_batch(tmp_path, "copper-lane-amber", 12, paper)
    discs = stock.startswith(("caps", "round"))
    kind = "discs" if discs else "stock"
    with path.open("a", encoding="utf-8") as file:
        file.write(f"labels: {{{kind}: {stock}, {'discs-' if discs else ''}start-at: 5}}\n")
    plan, words = plan_of(path)
    laid = printed_set.lay_out(plan, words, tmp_path, ["discs" if discs else "labels"])
    assert [problem.message for problem in laid.problems.of("stop")] == []
    chosen = the_stock(stock)
    (part,) = laid.labels
    inset = 1.5 if chosen.round else 3.0
    count = 0
    for page in part.pages:
        for x, y in chosen.corners():
            for mark in (mark for mark in page.marks if isinstance(mark, Placed)):
                if x <= mark.x <= x + chosen.width and y <= mark.y <= y + chosen.height:
                    left, top, right, bottom = mark.box
                    assert min(left - x, top - y) >= inset - 0.01, mark.text
                    assert x + chosen.width - right >= inset - 0.01, mark.text
                    assert y + chosen.height - bottom >= inset - 0.01, mark.text
                    count += mark.text == plan.code
    assert count == part.items


def test_the_best_days_of_a_strong_short_lived_ale_lie_in_order(tmp_path: Path) -> None:
    """It waits for half a year and keeps for three months: the later day wins, on label and door."""
    ours = catalogue.find("recipes", "slipway-nine-pale")
    assert ours is not None
    strong = ours.read_text(encoding="utf-8").replace("amount: 1 kg", "amount: 3 kg")
    (tmp_path / "strong.yaml").write_text(strong, encoding="utf-8")
    plan, _words = plan_of(write_batch(tmp_path, "strong", 12))
    label = plan.labels
    assert plan.quantities.percent_by_volume > 9
    assert label.filled < label.not_before <= label.best_from <= label.best_to <= label.best_before
