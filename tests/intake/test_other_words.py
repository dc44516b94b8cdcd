"""What others call a thing: the suggestion, written as it stands, makes the file pass."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.data_tables import KEEPS, SANITISER
from sheetgen.intake.drink_tables import DRINK
from sheetgen.intake.fields import Field, Table
from sheetgen.intake.forms import Desk, Place, read_text
from sheetgen.intake.other_words import OTHER_KEYS, OTHER_WORDS, word_meant
from sheetgen.intake.recipe_tables import RECIPE
from sheetgen.nodes import Text
from sheetgen.problems import Span
from sheetgen.units import Misread

from .told import TODAY, read, recipe, six_lines

LINES = {
    "sugar": "sugar: {}",
    "dosing": "dosing: {}",
    "cleaner": "equipment: {{cleaner: {}}}",
    "sanitiser": "equipment: {{sanitiser: {}}}",
    "made-of": "equipment: {{vessel: {{holds: 15 L, made-of: {}}}}}",
    "fill": "fill: {}",
    "paper": "paper: {}",
    "language": "language: {}",
    "units": "units: {}",
    "whole-packs": "whole-packs: {}",
    "what": "actual: {{done: [{{on: 2027-02-10, what: {}}}]}}",
    "seen": "actual: {{seen: {}}}",
    "gas": "actual: {{tasted: [{{on: 2027-02-10, gas: {}}}]}}",
}
RECIPE_TEXT = """\
recipe-name: One
drink: {drink}
volume: 10 L
ingredients:
  - {{what: liquid malt extract, amount: 1.5 kg, when: off the heat, allergens: {allergens}}}
yeast: {{what: dry yeast, pack: 11 g, range: 16-24 C, kind: {kind}}}
"""
IN_A_RECIPE = {"drink": "ale", "allergens": "barley", "kind": "ale"}
PAIRS = [(key, word) for key, words in OTHER_WORDS.items() for word in words]


def fields(table: Table) -> list[Field]:
    """Every field of a table and of the tables inside it."""
    inside = [one for field in table.fields if field.table for one in fields(field.table)]
    return [*table.fields, *inside]


def suggested(fixes: list[str]) -> str:
    """The one thing that the fixes say to write."""
    found = [re.search(r'did you mean "([^"]+)"', fix) for fix in fixes]
    return "".join(one.group(1) for one in found if one)


def stops_of(problems: object) -> list[str]:
    return [str(each.fix) for each in problems if each.level == "stop"]  # type: ignore[attr-defined]


@pytest.mark.parametrize(("key", "word"), [pair for pair in PAIRS if pair[0] in LINES])
def test_a_suggestion_for_a_batch_makes_it_pass(key: str, word: str):
    _, problems = read(six_lines(LINES[key].format(f'"{word}"') + "\n"))
    meant = suggested(stops_of(problems))
    assert meant == word_meant(key, word, (meant,))
    batch, problems = read(six_lines(LINES[key].format(meant) + "\n"))
    assert batch is not None, list(problems)


@pytest.mark.parametrize(("key", "word"), [pair for pair in PAIRS if pair[0] in IN_A_RECIPE])
def test_a_suggestion_for_a_recipe_makes_it_pass(key: str, word: str):
    _, problems = recipe(RECIPE_TEXT.format(**{**IN_A_RECIPE, key: f'"{word}"'}))
    meant = suggested(stops_of(problems))
    assert meant == word_meant(key, word, (meant,))
    found, problems = recipe(RECIPE_TEXT.format(**{**IN_A_RECIPE, key: meant}))
    assert found is not None, list(problems)


def test_every_word_is_tried_and_means_a_word_of_its_key():
    known = [*fields(BATCH), *fields(RECIPE), *fields(DRINK), *fields(SANITISER), *fields(KEEPS)]
    for key, word in PAIRS:
        choices = [field.allowed() for field in known if field.key == key and field.kind == "choice"]
        assert any(word_meant(key, word, allowed) for allowed in choices), (key, word)
        assert not all(word in allowed for allowed in choices), (key, word)
    assert {key for key, _ in PAIRS} - {*LINES, *IN_A_RECIPE} == {"not-on", "how"}


def test_every_closed_list_of_a_batch_has_its_other_words():
    closed = {field.key for field in fields(BATCH) if field.kind == "choice"}
    assert closed - {*OTHER_WORDS} == {"format"}


@pytest.mark.parametrize("key", OTHER_KEYS)
def test_a_key_that_others_use_is_told_as_ours(key: str):
    """At the table that has ours; the file says which key is meant."""
    tables = [BATCH, *(field.table for field in BATCH.fields if field.table)]
    table = next(one for one in tables if OTHER_KEYS[key] in one.keys())  # noqa: SIM118 - a method of ours
    line = f"{key}: x\n" if table is BATCH else f"{table.called}: {{{key}: x}}\n"
    _, problems = read(six_lines(line))
    assert f'did you mean "{OTHER_KEYS[key]}"?' in stops_of(problems)


# Other slips whose example must itself be right


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("dosing: pieces\nsugar-piece: 3 ml", "dosing: pieces\nsugar-piece: 3 g"),
        ("dosing: [syrup]", "dosing: syrup"),
        ("dosing: [weight, syrup]", "dosing: weight"),
        ("equipment: {scales: 1 ml}", "equipment: {scales: 1.7 kg}"),
        ("equipment: {boil-off: 2 kg}", "equipment: {boil-off: 1.5 L}"),
        ("water: {ice: 2 L}", "water: {ice: 1.7 kg}"),
        ("carbonation: lots", "carbonation: 2.4 volumes"),
    ],
)
def test_the_example_of_a_refusal_is_no_refusal(wrong: str, right: str):
    _, problems = read(six_lines(f"{wrong}\n"))
    written = right.rpartition(": ")[2].strip("}")
    assert [written in fix for fix in stops_of(problems)] == [True]
    assert read(six_lines(f"{right}\n"))[0] is not None


WRONG = ("3 ml", "3 g", "3", "abc", "-1 L", "99999 kg", "20", "1.5.2", "50 %", "19 C", "1.050", "1e9 L")
"""Of all sorts: some key refuses each of them."""


@pytest.mark.parametrize("field", [one for one in fields(BATCH) if one.kind not in ("node", "table", "text")])
def test_every_example_in_a_fix_can_be_read(field: Field):
    span = Span("test.yaml", 1, 1)
    for wrong in WRONG:
        desk = Desk(TODAY, Path(__file__).parent)
        if not isinstance(read_text(field, Text(wrong, span), Place(desk, (), "", span)), Misread):
            continue
        fix = str(next(iter(desk.problems)).fix)
        example = re.search(r"such as ([^;]+?)(?:;|\Z)", fix) or re.fullmatch(
            rf"write {field.key}: (.+)", fix
        )
        if example:
            again = Desk(desk.today, desk.beside)
            found = read_text(field, Text(example.group(1), span), Place(again, (), "", span))
            assert not isinstance(found, Misread), (wrong, fix)
