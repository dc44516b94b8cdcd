"""The examples that we ship, and the sentences for what they leave open."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from intake.told import good, six_lines
from sheetgen import catalogue
from sheetgen.intake import batch_tables, data_tables, drink_tables, read_batch, recipe_tables
from sheetgen.intake.fields import Field, Table
from sheetgen.intake.kinds import KINDS
from sheetgen.nodes import Entries, Text

EXAMPLES = sorted((catalogue.our_folder() / "recipes" / "examples").glob("*.yaml"))
TABLES = [batch_tables.BATCH, recipe_tables.RECIPE, data_tables.INGREDIENT, data_tables.CONTAINER]
TABLES += [data_tables.SANITISER, data_tables.KEEPING, drink_tables.DRINK]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_reads_without_a_word(path: Path) -> None:
    batch, problems = read_batch(path, date(2027, 3, 28))
    assert batch
    assert list(problems) == []
    assert batch.code == path.stem.upper()


def test_the_examples_are_the_short_the_full_the_bottled_one_and_one_for_every_other_recipe() -> None:
    assert [path.stem for path in EXAMPLES][:3] == ["27a", "27b", "27c"]
    batches = [read_batch(path, date(2027, 3, 28))[0] for path in EXAMPLES]
    made = {batch.recipe.id for batch in batches if batch}
    assert made == set(catalogue.names("recipes"))
    drunk = {batch.recipe.drink.id for batch in batches if batch}
    assert drunk == set(catalogue.names("recipes/drinks"))


def test_every_assumption_has_a_sentence_with_its_blanks() -> None:
    path = catalogue.find("layouts/languages", "en-GB")
    assert path
    node = catalogue.load(path).node
    assert isinstance(node, Entries)
    sentences = node.get("sentences")
    assert isinstance(sentences, Entries)
    for each in good(six_lines(room=None, volume=None)).assumptions:
        sentence = sentences.get(each.said.id)
        assert isinstance(sentence, Text), each.said.id
        blanks = {part.split("}")[0].split(":")[0] for part in sentence.value.split("{")[1:]}
        assert blanks <= set(each.said.values)


def all_fields(table: Table) -> list[Field]:
    inside = [one for each in table.fields if each.table for one in all_fields(each.table)]
    return [*table.fields, *inside]


def test_every_field_can_be_explained() -> None:
    for each in (one for table in TABLES for one in all_fields(table)):
        assert each.kind in KINDS or each.kind in ("table", "node"), each.key
        assert each.help, each.key
        assert each.example, each.key
        assert bool(each.assume) == bool(each.blank)
        assert each.table or each.kind != "table", each.key


def test_every_example_of_a_single_value_reads() -> None:
    from sheetgen.intake.forms import choose
    from sheetgen.units import Misread

    for each in (one for table in TABLES for one in all_fields(table)):
        if each.kind not in KINDS:
            continue
        first = each.example.strip("[]").split(",")[0].strip("{}") if each.many else each.example
        value = KINDS[each.kind].reader(first)
        value = choose(value, each) if each.kind == "choice" else value
        assert not isinstance(value, Misread), (each.key, first)
