"""French as it is set: its spaces and marks, and that every page holds its longer words."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from sheetgen import catalogue
from sheetgen.commands import common
from sheetgen.planning.plan import Plan
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Page
from sheetgen.printing.marks import Words as Placed
from sheetgen.printing.views.safety import safety
from sheetgen.printing.words import Words
from sheetgen.problems import said

from . import bottling_plans as t
from .golden import held_against_golden
from .sample_plan import words
from .test_safety_sheet import PLAN as SEALED_TOO_EARLY

FRENCH = words("fr", sample=False)
EXAMPLES = catalogue.our_folder() / "recipes" / "examples"
SHORT, USUAL, LONG = "27d", "27b", "27h"
BLANK = re.compile(r"\{[^{}]*\}")
WRITTEN_IN_THE_FILE = re.compile(r"\b[a-z-]+:|\b\d\d:\d\d\b")
LOOSE = re.compile(r"[^\u202f\u00a0][;!?»]|[ ][:;!?»]|«(?!\u202f)")
ENGLISH = {"the", "and", "of", "with", "bottle", "bottles", "or", "into", "yeast", "hops", "water", "sheet"}


def test_what_stands_before_high_marks_does_not_break() -> None:
    plain = {key: BLANK.sub("x", text) for key, text in FRENCH.table.items()}
    assert {key: text for key, text in plain.items() if LOOSE.search(text) or "'" in text} == {}


def test_a_colon_stands_apart_but_in_what_is_written_in_the_file() -> None:
    plain = {key: WRITTEN_IN_THE_FILE.sub("", BLANK.sub("x", text)) for key, text in FRENCH.table.items()}
    assert {key: text for key, text in plain.items() if re.search(r"[^\u202f]:", text)} == {}


def test_days_times_and_numbers_are_french() -> None:
    assert _said("{on:date}, {on:full-date}", on=date(2027, 3, 1)) == "lun. 1er mars, lun. 1er mars 2027"
    assert _said("{a:volumes}, {b:volumes}, {c:sg}", a=1.5, b=2, c=1.01) == "1,5 volume, 2 volumes, 1,010"
    assert FRENCH.column_parts(date(2027, 4, 1)) == {"weekday": "jeu", "day": "1", "month": "avr"}


def test_a_word_cut_short_ends_a_sentence_without_a_second_point() -> None:
    assert _said("Avant le {on:date}. Pas après.", on=date(2027, 4, 2)) == "Avant le ven. 2 avr. Pas après."


def _said(pattern: str, **values: float | date) -> str:
    spoken = replace(FRENCH, table={"it": pattern})
    return re.sub("[\u00a0\u202f]", " ", spoken.say(said("it", **values)))


@cache
def plan_of(name: str) -> Plan:
    plan = common.load(EXAMPLES / f"{name}.yaml", date(2027, 2, 20)).plan
    assert plan is not None
    return replace(plan, units="metric", language="fr")


def laid(name: str, paper: str) -> printed_set.Laid:
    return printed_set.lay_out(replace(plan_of(name), paper=paper), FRENCH, EXAMPLES)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", [SHORT, USUAL, LONG, "27f", "27k", "27m", "27r", "27t"])
def test_every_page_holds_its_french(name: str, paper: str) -> None:
    found = laid(name, paper)
    assert [str(problem.message) for problem in found.problems] == []
    spoken = " ".join(_texts(page) for part in found.sheets for page in part.pages)
    assert ENGLISH & set(re.findall(r"\w+", spoken.replace(plan_of(name).name, "").lower())) == set()


def _texts(page: Page) -> str:
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Placed))


def test_the_words_of_the_usual_batch_are_the_golden_ones() -> None:
    held_against_golden("french-27b-a4", (page for part in laid(USUAL, "A4").sheets for page in part.pages))


def test_the_words_of_the_safety_sheet_are_the_golden_ones() -> None:
    held_against_golden("french-safety-a4", t.laid("safety", safety(SEALED_TOO_EARLY, FRENCH), "a4"))


def test_french_is_a_language_like_any_other() -> None:
    found: Words = common.words_of("fr")
    assert (found.name, found.customs.paper, found.units) == ("Français", "a4", "metric")
