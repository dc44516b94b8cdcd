"""Batches described in YAML, and what the planner makes of them; and two formulas worked out a second
time.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from sheetgen.intake import read_batch_bytes, usable_recipes
from sheetgen.model import Batch
from sheetgen.planning import plan_batch
from sheetgen.planning.plan import Plan
from sheetgen.problems import Problem, Problems

RECIPES = Path(__file__).resolve().parents[2] / "recipes"
FEBRUARY = date(2027, 2, 20)

SIX_LINES = {
    "batch": "27A",
    "recipe": "copper-lane-amber",
    "brew-day": "2027-03-06",
    "volume": "12 L",
    "room": "20 C",
    "bottles": "40 x 500 ml returnable glass",
}


@cache
def _text(name: str) -> str:
    return (RECIPES / "examples" / f"{name}.yaml").read_text(encoding="utf-8")


def example(name: str) -> dict[str, Any]:
    """One of our examples as a tree of text."""
    tree: dict[str, Any] = yaml.load(_text(name), yaml.BaseLoader)
    return tree


def changed(tree: dict[str, Any], key: str, value: Any) -> dict[str, Any]:
    """The tree with another value at a dotted key."""
    first, _, rest = key.partition(".")
    if rest:
        value = changed(dict(tree.get(first, {})), rest, value)
    return {**tree, first: value}


def six(**changes: Any) -> dict[str, Any]:
    """The shortest batch there is, in a room of 20 C where nothing is slowed, with some keys changed."""
    return {**SIX_LINES, **{key.replace("_", "-"): value for key, value in changes.items()}}


def read(
    tree: dict[str, Any] | str, today: date = FEBRUARY, beside: Path | None = None
) -> tuple[Batch | None, Problems]:
    """The batch, and what reading it found."""
    text = tree if isinstance(tree, str) else yaml.safe_dump(tree, sort_keys=False, allow_unicode=True)
    return read_batch_bytes(text.encode(), "batch.yaml", today, beside)


def planned(
    tree: dict[str, Any] | str, today: date = FEBRUARY, beside: Path | None = None
) -> tuple[Plan | None, Problems]:
    """The plan, None if something stops it, and all problems."""
    batch, problems = read(tree, today, beside)
    assert batch is not None, [str(problem.message) for problem in problems]
    return plan_batch(batch, today, problems, lambda: usable_recipes(beside)), problems


def at_strength(batch: Batch, points: float) -> Batch:
    """The recipe with more or less of everything that has points, so that it begins at about so many."""
    recipe = batch.recipe
    brought = [
        part.item.points * part.amount / 1000 if part.item.unit in ("g", "ml") else 0.0
        for part in recipe.ingredients
    ]
    times = points * float(recipe.litres) / sum(brought)
    parts = tuple(
        replace(part, amount=part.amount * times) if has and part.item.unit == "g" else part
        for part, has in zip(recipe.ingredients, brought, strict=True)
    )
    return replace(batch, recipe=replace(recipe, ingredients=parts))


def plan_of(tree: dict[str, Any] | str, today: date = FEBRUARY, beside: Path | None = None) -> Plan:
    """The plan; a test that gets none fails with the reasons."""
    plan, problems = planned(tree, today, beside)
    assert plan is not None, [str(problem.message) for problem in problems.of("stop")]
    return plan


def ids(problems: Problems, level: str) -> list[str]:
    """The ids of the findings of one level; those in plain English by their words."""
    return [_id(problem) for problem in problems if problem.level == level]


def _id(problem: Problem) -> str:
    return problem.message if isinstance(problem.message, str) else problem.message.id


def day(text: str) -> date:
    """A day of spring 2027, such as "3-20" for the 20th of March."""
    month, number = text.split("-")
    return date(2027, int(month), int(number))


def gas_left(celsius: float) -> float:
    """Volumes left in fermented beer: Weiss's solubility of CO2, less the share of vapour (Magnus), in mol to
    litres.
    """
    kelvin = celsius + 273.15
    moles = math.exp(-58.0931 + 90.5069 * 100 / kelvin + 22.2940 * math.log(kelvin / 100))
    vapour = 6.112 * math.exp(17.62 * celsius / (243.12 + celsius)) / 1013.25
    return moles * 44.0095 / 1.977 * (1 - vapour)


def mixed_by_hand(parts: list[tuple[float, float, float]]) -> float:
    """Temperature of a mix from (kilograms, kJ/kg K, C): sum of m c t over sum of m c."""
    heat = sum(kilograms * capacity * celsius for kilograms, capacity, celsius in parts)
    return heat / sum(kilograms * capacity for kilograms, capacity, _ in parts)
