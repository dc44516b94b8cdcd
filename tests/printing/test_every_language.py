"""What holds for a whole language: its plurals, its names of our things, and that nothing stays English."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from sheetgen import catalogue, nodes
from sheetgen.commands import common
from sheetgen.printing import languages, plurals
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Words as Placed
from sheetgen.printing.views.calendar import calendar_name, events
from sheetgen.printing.words import Words

from .sample_plan import LANGUAGES, tree_of, words

ALL = sorted(file.stem for file in LANGUAGES.glob("*.yaml"))
DATA = catalogue.our_folder() / "recipes"
TODAY = date(2027, 2, 20)
WITHOUT_A_NAME_IN_A_FILE = {"bucket", "plastic", "glass", "steel"}
SYMBOLS = {"ml", "kg", "mm", "min", "bar", "gal", "US", "lb", "oz", "fl", "qt", "tsp", "tbsp", "in", "psi",
           "mg", "PET", "UK", "pt"}  # fmt: skip
LATIN = re.compile(r"[A-Za-z]{2,}")
EXAMPLES = ["27a", "27b", "27c", "27d", "27f", "27g", "27k", "27m", "27p", "27r", "27t", "27v"]


@cache
def our_names() -> frozenset[str]:
    """What our recipes and tables call the things that paper may name."""
    tables = [_yaml(DATA / "pantry" / f"{name}.yaml") for name in ("ingredients", "sanitisers", "pieces")]
    recipes = [_yaml(path) for path in DATA.glob("*.yaml")]
    used = [item for recipe in recipes for item in (*recipe["ingredients"], recipe["yeast"])]
    in_tables = {name for table in tables for name in table["entries"]}
    return frozenset(
        {item.get("called", item["what"]) for item in used} | in_tables | WITHOUT_A_NAME_IN_A_FILE
    )


def _yaml(path: Path) -> Any:
    return yaml.safe_load(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("language", ALL)
def test_every_name_of_ours_is_said_in_every_language(language: str) -> None:
    """English says the names as they stand in the recipes, but for what is spelled otherwise."""
    known = words(language, sample=False).names
    assert sorted(known.keys() - our_names()) == []
    assert language.startswith("en-") or sorted(our_names() - known.keys()) == []


@pytest.mark.parametrize(
    ("rules", "one", "few", "many"),
    [
        (["1"], [1], [], [0, 0.5, 1.5, 2, 11, 21]),
        (["0-1.99"], [0, 0.5, 1, 1.5], [], [2, 11, 21]),
        (["*1 !*11", "*2 *3 *4 !*12 !*13 !*14"], [1, 21, 101], [2, 24, 102], [0, 1.5, 5, 11, 12, 114]),
    ],
)
def test_plural_rules_are_data(rules: list[str], one: list[int], few: list[int], many: list[int]) -> None:
    read = [rule for text in rules if (rule := plurals.rule_of(text))]
    assert len(read) == len(rules)
    found = {number: plurals.form_of(number, read) for number in (*one, *few, *many)}
    assert [number for number in one if found[number] != 0] == []
    assert [number for number in few if found[number] != 1] == []
    assert [number for number in many if found[number] != len(rules)] == []


@pytest.mark.parametrize("wrong", ["", "one", "*", "1-", "1 2-x"])
def test_what_is_no_rule_of_plurals_is_not_taken_for_one(wrong: str) -> None:
    assert plurals.rule_of(wrong) is None


def test_days_and_clock_times_are_forms_of_the_language() -> None:
    spoken = _changed('{day-number: "{n}.", first-day-number: "{n}er", clock: "{hour} h {minute}"}')
    assert spoken.day(date(2027, 3, 1)).split("\u00a0") == ["Mon", "1er", "Mar"]
    assert spoken.day(date(2027, 3, 2)).split("\u00a0") == ["Tue", "2.", "Mar"]
    assert spoken.customs.clock == "{hour} h {minute}"


def test_a_form_with_a_strange_blank_is_told() -> None:
    with pytest.raises(AssertionError, match="may hold"):
        _changed('{clock: "{hours}"}')
    with pytest.raises(AssertionError, match="rule of plurals"):
        _changed("{plurals: [some]}")


def _changed(customs: str) -> Words:
    top, _problems = nodes.load(f"customs: {customs}\n".encode(), "it.yaml")
    assert top is not None
    node = nodes.overlay(tree_of(LANGUAGES / "en-GB.yaml"), top)
    found, problems = languages.read(node, "", lambda _name: None)
    assert found is not None, [str(problem.message) for problem in problems]
    return found


# A language of nothing but ø: what is still English on paper was never worded


def veiled(text: str) -> str:
    """The text with every letter of its words as ø; blanks keep their names and kinds."""
    parts = re.split(r"(\{[^{}]*\})", text)
    return "".join(_veiled_blank(part) if part.startswith("{") else _covered(part) for part in parts)


def _veiled_blank(blank: str) -> str:
    name, colon, kind = blank[1:-1].partition(":")
    return "{" + name + colon + (_covered(kind) if "|" in kind else kind) + "}"


def _covered(text: str) -> str:
    return re.sub(r"[^\W\d_]", lambda letter: "Ø" if letter[0].isupper() else "ø", text)


class _AllNames(Mapping[str, str]):
    """Every name of ours, veiled; a name of the person's own is not among them."""

    def __getitem__(self, name: str) -> str:
        if name in our_names():
            return _covered(name)
        raise KeyError(name)

    def __iter__(self) -> Any:
        return iter(our_names())

    def __len__(self) -> int:
        return len(our_names())


def veiled_language(units: str) -> Words:
    spoken = common.words_of("en-GB", units)
    customs = spoken.customs
    names = ("weekdays", "weekdays_long", "months", "months_long")
    hidden = {name: tuple(_covered(each) for each in getattr(customs, name)) for name in names}
    unit_names = {unit: _covered(name) for unit, name in customs.unit_names.items()}
    cautions = {
        name: {part: text if part == "where" else veiled(text) for part, text in caution.items()}
        for name, caution in spoken.cautions.items()
    }
    return replace(
        spoken,
        customs=replace(customs, **hidden, unit_names=unit_names),
        table={sentence_id: veiled(pattern) for sentence_id, pattern in spoken.table.items()},
        cautions=cautions,
        names=_AllNames(),
    )


@pytest.mark.parametrize("example", EXAMPLES)
def test_nothing_on_paper_or_in_the_calendar_stays_english(example: str) -> None:
    today = date(2027, 3, 27) if example == "27c" else TODAY
    plan = common.load(DATA / "examples" / f"{example}.yaml", today).plan
    assert plan is not None
    spoken = veiled_language(plan.units)
    laid = printed_set.lay_out(plan, spoken, DATA)
    pages = [page for part in (*laid.sheets, *laid.labels) for page in part.pages]
    texts = [mark.text for page in pages for mark in page.marks if isinstance(mark, Placed)]
    texts += [*laid.titles, *(page.bookmark for page in pages)]
    texts += [calendar_name(plan, spoken)]
    texts += [text for event in events(plan, spoken) for text in (event.summary, event.description)]
    own = " ".join(
        (plan.code, plan.name, plan.brewer, plan.vessel_name, *(e.name for e in plan.events), "Letter")
    )
    left = {word for text in texts for word in LATIN.findall(text)}
    assert sorted(left - set(LATIN.findall(own)) - SYMBOLS) == []
