"""list recipes: one line each that says what it is and what it asks for, as a plan of it has it."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from sheetgen.commands import list_recipes
from sheetgen.intake.recipes import names

LINE = re.compile(
    r"[^:]+: [a-z-]+, [\d.]+ (?:L|US gal), \d+\.\d %, (?:(?:straw|gold|amber|copper|brown|black), )?"
    r"\d+ weeks; (?:for a first time|easy|some practice|experience)(?:: [^;]+)?; bucket \d+ L(?:, pot \d+ L)?"
)


def line_of(name: str) -> str:
    return list_recipes.line_of(name, Path(), date(2027, 2, 20))


@pytest.mark.parametrize("name", names())
def test_every_recipe_has_an_honest_line(name: str):
    assert LINE.fullmatch(line_of(name))


def test_a_line_says_what_there_is_to_do():
    assert line_of("copper-lane-amber") == (
        "Copper Lane Amber: ale, 12 L, 4.4 %, amber, 6 weeks; for a first time; bucket 15 L, pot 5 L"
    )
    assert "experience: racked 3 times, stirred 5 times, strained, strong" in line_of("plot-eleven-bramble")
    assert "some practice: 30 min boil, grain to steep, more goes in later" in line_of("slipway-nine-pale")
    assert "pot" not in line_of("plot-eleven-cider")


def test_a_recipe_that_cannot_be_planned_has_none():
    assert line_of("none") == ""
