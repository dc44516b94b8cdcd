"""A new drink is one data file: this one lies in a folder of its own, and the whole set is made from it."""

from __future__ import annotations

import json
from pathlib import Path

import pypdf
import pytest

from sheetgen.__main__ import main
from sheetgen.intake import drinks

DRINK = """\
drink: birch-wine
primed: no
ferments-out: yes
pitch: 16-22 C
gravity: 1.060-1.090
vessel-full: 80 %
gate: {gap: 30, high: 0.997}
jobs:
  - {do: stir, days: [1, 2], minutes: 5 min, quick: yes, wakes: yes}
  - {do: rack, days: [20, 60], minutes: 20 min, loses: 4 %, paced: yes, apart: 30, may-wait: 20, rest: 10}
days: {test-1-earliest: 30, test-1: 75, test-2-gap: 30, bottle-earliest: 60, bottle: 110, bottle-latest: 300}
wait: 45
keeping: country-wine
source: ours
"""
RECIPE = """\
recipe-name: Slipway Birch Wine
drink: birch-wine
volume: 8 L
ingredients:
  - {what: table sugar, amount: 1.6 kg, pack: 1 kg, when: into the pot}
  - {what: yeast nutrient, amount: 4 g, pack: 50 g, when: day 1}
  - {what: sulphite tablet, amount: 1 pieces, when: at racking 2}
yeast: {what: dry wine yeast, pack: 5 g, range: 14-26 C, kind: wine}
"""
BATCH = """\
batch: 27B
recipe: slipway-birch
brew-day: 2027-03-06
room: 20 C
bottles: 12 x 750 ml wine bottle
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "drinks").mkdir()
    (tmp_path / "drinks" / "birch-wine.yaml").write_text(DRINK, encoding="utf-8")
    (tmp_path / "slipway-birch.yaml").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "27b.yaml").write_text(BATCH, encoding="utf-8")
    return tmp_path


def test_a_drink_file_beside_the_batch_makes_the_full_set(folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(folder)
    assert main(["make", "27b.yaml", "--today", "2027-02-20"]) == 0
    made = {path.name for path in (folder / "27B").iterdir()}
    assert {"27B-sheets.pdf", "27B-labels.pdf", "27B-calendar.ics", "27B-plan.json"} <= made
    plan = json.loads((folder / "27B" / "27B-plan.json").read_text(encoding="utf-8"))
    assert plan["batch"]["drink"] == "birch-wine"
    assert plan["carbonation"] is None
    assert (plan["gate"]["gap_days"], plan["gate"]["high"]) == (30, 0.997)
    tasks = {task["id"]: task for task in plan["tasks"]}
    assert {"stir-1", "stir-2", "rack-1", "rack-2", "add-day-1"} <= set(tasks)
    assert plan["labels"]["wait_days"] >= 45
    text = "".join(page.extract_text() for page in pypdf.PdfReader(folder / "27B" / "27B-sheets.pdf").pages)
    assert "rack it into a clean vessel" in text.replace("\n", " ")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("ferments-out: yes", "ferments-out: no", "a still drink must ferment out"),
        ("high: 0.997", "high: 1.000", "never bottled above 0.998"),
        ("primed: no", "primed: yes", "target: is missing"),
        ("test-1-earliest: 30", "test-1-earliest: 3", "never before day 7"),
        ("bottle-earliest: 60", "bottle-earliest: 6", "never before day 10"),
        ("loses: 4 %", "loses: 20 %", "more than 30 %"),
        ("do: rack", "do: dance", "not known as do"),
        ("days: [1, 2]", "days: [0, 9999]", "not possible here"),
        ("days: [20, 60]", "days: [60, 20]", "write days: [20, 60]"),
        ("days: [1, 2]", "days: [1, 2, 2]", "write days: [1, 2]"),
        ("gap: 30", "gap: 900", "not possible here"),
        ("gravity: 1.060-1.090", "gravity: 1.090-1.060", "the first is the higher"),
        ("keeping: country-wine", "keeping: forever", "forever"),
        ("wait: 45", "wayt: 45", 'did you mean "wait"?'),
    ],
)
def test_a_drink_file_may_ask_for_more_and_never_for_less(folder: Path, old: str, new: str, words: str):
    assert old in DRINK
    (folder / "drinks" / "birch-wine.yaml").write_text(DRINK.replace(old, new), encoding="utf-8")
    found, problems = drinks.drink("birch-wine", folder)
    assert found is None
    assert any(words in f"{problem.message} {problem.fix}" for problem in problems), list(problems)


def test_what_goes_in_at_a_racking_needs_the_racking(folder: Path, capsys: pytest.CaptureFixture[str]):
    recipe = (folder / "slipway-birch.yaml").read_text(encoding="utf-8").replace("racking 2", "racking 3")
    (folder / "slipway-birch.yaml").write_text(recipe, encoding="utf-8")
    assert main(["check", str(folder / "27b.yaml"), "--today", "2027-02-20"]) == 1
    assert "is racked 2 times" in capsys.readouterr().err


WARM = "  - {do: warm, days: 9, quick: yes, wakes: yes, below: 18 C, to: 18-20 C}\n"


def test_a_drink_file_may_ask_for_a_warmer_place_and_for_days_in_the_cold(
    folder: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(folder)
    drink = DRINK.replace("wait: 45\n", "wait: 45\ncold-days: 2\n").replace("jobs:\n", f"jobs:\n{WARM}")
    (folder / "drinks" / "birch-wine.yaml").write_text(drink, encoding="utf-8")
    (folder / "27b.yaml").write_text(BATCH.replace("20 C", "16 C"), encoding="utf-8")
    assert main(["make", "27b.yaml", "--today", "2027-02-20"]) == 0
    tasks = [
        task["id"]
        for task in json.loads((folder / "27B" / "27B-plan.json").read_text(encoding="utf-8"))["tasks"]
    ]
    wanted = ("warm-1", "test-1", "test-2", "cold-1", "bottle")
    assert [task for task in tasks if task in wanted] == list(wanted)
    calendar = (folder / "27B" / "27B-calendar.ics").read_text(encoding="utf-8")
    assert "27B: Warm" in calendar
    assert "27B: Cold" in calendar
    pages = pypdf.PdfReader(folder / "27B" / "27B-sheets.pdf").pages
    text = " ".join("".join(page.extract_text() for page in pages).split())
    assert "stand it at 18 °C to 20 °C" in text
    assert "into the cold for 2 days" in text


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (", wakes: yes", "", "write wakes: yes"),
        (", to: 18-20 C", "", "write to: 18-20 C"),
        ("18-20 C", "25-30 C", "warmer than 24 C"),
        ("below: 18 C", "below: 22 C", "cooler than below"),
        ("do: warm", "do: stir", "belong to the job warm"),
        ("below: 18 C", "below: 18 C, loses: 3 %", "leaves nothing behind"),
    ],
)
def test_what_stands_warmer_wakes_its_yeast(folder: Path, old: str, new: str, words: str):
    assert old in WARM
    drink = DRINK.replace("jobs:\n", f"jobs:\n{WARM.replace(old, new)}")
    (folder / "drinks" / "birch-wine.yaml").write_text(drink, encoding="utf-8")
    found, problems = drinks.drink("birch-wine", folder)
    assert found is None
    assert any(words in f"{problem.message} {problem.fix}" for problem in problems), list(problems)


@pytest.mark.parametrize("days", ["8", "-1", "2.5", "many"])
def test_a_week_in_the_cold_is_the_longest(folder: Path, days: str, capsys: pytest.CaptureFixture[str]):
    (folder / "27b.yaml").write_text(f"{BATCH}cold-days: {days}\n", encoding="utf-8")
    assert main(["check", str(folder / "27b.yaml"), "--today", "2027-02-20"]) == 1
    assert "cold-days" in capsys.readouterr().err
