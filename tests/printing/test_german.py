"""German: its days and numbers, its cautions without loss, and that every page holds its longer words."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from sheetgen import catalogue
from sheetgen.commands import common
from sheetgen.planning.plan import Plan
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import outside, overlaps
from sheetgen.printing.views.brew import brew
from sheetgen.printing.words import Words
from sheetgen.problems import said

from .golden import held_against_golden
from .sample_plan import words

GERMAN, ENGLISH = words("de", sample=False), words(sample=False)
EXAMPLES = catalogue.our_folder() / "recipes" / "examples"
MOST_TO_READ = 225
STEP_PARTS = ("text", "note", "head", "says")
FORBIDS = re.compile(r"\b(?:never|no|not|none|nothing|nobody|only|without)\b", re.IGNORECASE)
VERBIETET = re.compile(
    r"\b(?:nie|nicht|nichts|nur|kein\w*|niemand|ohne|zulassen|allein|unverkäuflich)\b", re.IGNORECASE
)
GRAVE = (
    "caution.",
    "safety.do.",
    "safety.never",
    "bottling.care.",
    "bottling.rule-above",
    "gate.",
    "fridge.say.",
)


def test_days_and_numbers_are_german() -> None:
    assert _said("{on:date}, {on:full-date}", on=date(2027, 3, 6)) == "Sa 6. März, Sa 6. März 2027"
    assert _said("{a:sg}, {b:days}, {c:days}", a=1.015, b=1, c=3) == "1,015, 1 Tag, 3 Tage"
    assert (GERMAN.customs.paper, GERMAN.customs.units, GERMAN.customs.first_weekday) == ("a4", "metric", 0)


def _said(pattern: str, **values: float | date) -> str:
    spoken: Words = replace(GERMAN, table={"it": pattern})
    return re.sub("[\u00a0\u202f]", " ", spoken.say(said("it", **values)))


def test_what_is_forbidden_in_english_is_forbidden_in_german() -> None:
    """The numbers are held by the comparison with the original; this holds the negations."""
    grave = {
        key: text for key, text in ENGLISH.table.items() if key.startswith(GRAVE) and FORBIDS.search(text)
    }
    assert len(grave) > 60
    assert [key for key in grave if not VERBIETET.search(GERMAN.table[key])] == []


@cache
def plan_of(name: str) -> Plan:
    plan = common.load(EXAMPLES / f"{name}.yaml", date(2027, 2, 20)).plan
    assert plan is not None
    return replace(plan, units="metric", language="de")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["27a", "27b", "27d", "27f", "27h", "27k", "27m", "27r", "27t"])
def test_every_page_holds_its_german(name: str, paper: str) -> None:
    found = printed_set.lay_out(replace(plan_of(name), paper=paper), GERMAN, EXAMPLES)
    assert [str(problem.message) for problem in found.problems] == []
    for page in (page for part in found.sheets for page in part.pages):
        assert [mark.text for mark in outside(page, 11.0)] == []
        assert overlaps(page.marks) == []


def test_brew_day_is_little_to_read() -> None:
    view: Any = brew(plan_of("27a"), GERMAN)
    read = [step[part] for group in view["groups"] for step in group["steps"] for part in STEP_PARTS]
    read += [row[side] for row in view["check"]["rows"] for side in ("left", "right")]
    assert sum(len(re.findall(r"[^\W\d_]{2,}", text)) for text in read) <= MOST_TO_READ


def test_the_words_of_the_usual_batch_are_the_golden_ones() -> None:
    found = printed_set.lay_out(plan_of("27b"), GERMAN, EXAMPLES)
    held_against_golden("german-27b-a4", (page for part in found.sheets for page in part.pages))
