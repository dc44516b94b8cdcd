"""show: tables that line up, one sentence at the end, and JSON as its schema says."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

import sheetgen.planning
from sheetgen.commands.show import aligned

from .runner import SIX_LINES, STOPPED, TOO_EARLY, Run

SCHEMA = json.loads((Path(sheetgen.planning.__path__[0]) / "plan.schema.json").read_text(encoding="utf-8"))
pytestmark = pytest.mark.usefixtures("light")
ACTUAL = """actual:
  brewed: 2027-03-06
  og: 1.042 at 24 C
  readings: [{on: 2027-03-17, sg: 1.012 at 18 C}, {on: 2027-03-20, sg: 1.012 at 19 C}]
"""


WAYS = "Ways to use whole packs"
GAS = ("Sugar", "Pressure", "What if")


def test_the_plan_has_its_tables_and_ends_with_what_is_next(run: Run):
    result = run("show", "27a.yaml")
    lines = result.out.splitlines()
    assert result.code == 0
    assert lines[0] == "27A · Copper Lane Amber · 12 L"
    headings = [line for line in lines if line and not line.startswith((" ", "27A", "Next"))]
    assert headings == [
        "Timeline",
        "Days",
        "Ingredients",
        "Packs",
        WAYS,
        "Water",
        "Strength",
        *GAS,
        "Bottles",
        "Keeping",
        "Cleaning",
        "Expected readings",
        "Gate",
    ]
    assert lines[-1].startswith("Next: Brew, Sat 6 March (")
    assert lines[-1].endswith(").")


def test_a_hot_kitchen_shows_the_ways_to_cool(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(f"{SIX_LINES}water: {{tap: 24 C, fridge-space: none}}\n")
    out = run("show", "27a.yaml").out
    for words in ("the pot before that, about", "with hot and cold water alone", "of clean ice alone: 19 °C"):
        assert words in out


def test_next_follows_what_happened(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(SIX_LINES + ACTUAL)
    lines = run("show", "27a.yaml", today="2027-03-20").out.splitlines()
    assert lines[-1].startswith("Next: Bottle, ")
    assert any(line.split() == ["state", "passed"] for line in lines)


def test_columns_line_up(run: Run):
    lines = run("show", "27a.yaml").out.splitlines()
    head = next(line for line in lines if "earliest" in line)
    rows = [line for line in lines[lines.index(head) + 1 :] if line.strip()][:5]
    assert all(row[head.index("earliest") - 1] == " " and row[head.index("earliest")] != " " for row in rows)


def test_wide_letters_count_double():
    assert list(aligned([("米", "x"), ("ab", "y")])) == ["  米  x", "  ab  y"]


def test_json_is_as_the_schema_says(run: Run):
    result = run("show", "27a.yaml", "--json")
    plan = json.loads(result.out)
    jsonschema.Draft202012Validator(SCHEMA).validate(plan)
    assert plan["dates"]["brew_day"]["expected"] == "2027-03-06"
    assert all(task["title"] != task["id"] for task in plan["tasks"])


def test_a_stopped_file_gives_its_problems_as_json(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(STOPPED)
    result = run("show", "27a.yaml", "--json")
    assert result.code == 1
    found = json.loads(result.out)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    stops = [problem for problem in found["problems"] if problem["level"] == "stop"]
    assert stops[0]["file"] == "27a.yaml"


def test_a_stopped_file_shows_nothing_else(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(STOPPED)
    result = run("show", "27a.yaml")
    assert (result.code, result.out) == (1, "")


def test_bottled_too_early_ends_with_the_safety_sheet(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(SIX_LINES + TOO_EARLY)
    last = run("show", "27a.yaml", today="2027-03-14").out.splitlines()[-1]
    assert last.startswith("Now: read the safety sheet before anybody touches a bottle (")
