"""A batch from its text, and what was said about it: each test shows the file, the call and the result."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from sheetgen.catalogue import document
from sheetgen.intake import read_batch_bytes
from sheetgen.intake.recipes import recipe_file
from sheetgen.model import Batch, Recipe
from sheetgen.problems import Problem

TODAY = date(2027, 2, 20)
SIX = {
    "batch": "27A",
    "recipe": "copper-lane-amber",
    "brew-day": "2027-03-06",
    "volume": "12 L",
    "room": "19 C",
    "bottles": "{500 ml returnable glass: 26}",
}


def six_lines(more: str = "", **other: str | None) -> str:
    """The six-line batch with other values (brew_day for brew-day; None leaves a line out) and more lines."""
    lines = SIX | {key.replace("_", "-"): value for key, value in other.items()}
    return "".join(f"{key}: {value}\n" for key, value in lines.items() if value is not None) + more


def read(text: str, today: date = TODAY, beside: Path | None = None) -> tuple[Batch | None, list[Problem]]:
    """The batch and all problems, in order."""
    batch, problems = read_batch_bytes(text.encode(), "test.yaml", today, beside)
    return batch, list(problems)


def good(text: str, today: date = TODAY) -> Batch:
    """The batch, which must have no stop."""
    batch, problems = read(text, today)
    assert batch is not None, problems
    return batch


def stop(text: str) -> Problem:
    """The one stop that must be found."""
    batch, problems = read(text)
    stops = [problem for problem in problems if problem.level == "stop"]
    assert batch is None
    assert len(stops) == 1, stops
    return stops[0]


def said(problem: Problem) -> str:
    """Message and fix in one."""
    return f"{problem.message} | {problem.fix}"


def recipe(text: str) -> tuple[Recipe | None, list[Problem]]:
    """The recipe in a text, and all problems."""
    found = recipe_file(document(text.encode(), "test.yaml"), "test", None)
    return found.recipe, list(found.problems)
