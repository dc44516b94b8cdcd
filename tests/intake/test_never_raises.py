"""Whatever stands in a file: a batch or problems, never a traceback."""

from __future__ import annotations

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from intake.told import SIX, TODAY, read, recipe
from sheetgen.intake import batch_tables, read_batch_bytes, recipe_tables
from sheetgen.intake.fields import Field, Table

WORDS = st.sampled_from(
    [
        "12",
        "12 L",
        "19 C",
        "none",
        "no",
        "",
        "24 x 500 ml pet",
        "500 ml",
        "2027-03-06",
        "1.012 at 18 C",
        "1012",
        "½",
        "a,b",
        "sat, sun",
        "x",
        "../x",
        "0",
        "-1",
        "999999999999999999999999999999",
        "not measured",
        "skin",
        "honey",
        "200 g",
        "dry hop",
        "5 %",
        "2.4 volumes",
        "A4",
        "1 x",
        "x 500 ml",
        "copper-lane-amber",
        "27A",
        ",",
        "{",
        "ale",
        "1/0 L",
        "٣ L",
        "²",
    ]
)
JUNK = st.one_of(WORDS, st.text(max_size=12))
DEEP = st.recursive(
    JUNK,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(JUNK, inner, max_size=3)),
    max_leaves=6,
)


def values(field: Field) -> st.SearchStrategy[object]:
    if field.table is None:
        return DEEP
    inside = mappings(field.table)
    return st.one_of(DEEP, inside, st.lists(inside, max_size=2))


def mappings(table: Table) -> st.SearchStrategy[dict[str, object]]:
    known = {each.key: values(each) for each in table.fields}
    known |= dict.fromkeys(table.not_offered, DEEP)
    return st.fixed_dictionaries({}, optional=known)


@settings(max_examples=150, deadline=None)
@given(mappings(batch_tables.BATCH))
def test_any_batch(found: dict[str, object]) -> None:
    batch, problems = read(json.dumps({"batch": "27A"} | found, ensure_ascii=False))
    assert (batch is None) == any(problem.level == "stop" for problem in problems)
    assert all(problem.message for problem in problems)


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(batch_tables.BATCH.fields).flatmap(
        lambda field: st.tuples(st.just(field.key), values(field))
    )
)
def test_a_good_batch_with_one_odd_value(pair: tuple[str, object]) -> None:
    bottles = {"500 ml pet": "26"}
    batch, problems = read(json.dumps(SIX | {"bottles": bottles} | dict([pair]), ensure_ascii=False))
    assert (batch is None) == any(problem.level == "stop" for problem in problems)


@settings(max_examples=100, deadline=None)
@given(mappings(recipe_tables.RECIPE))
def test_any_recipe(found: dict[str, object]) -> None:
    made, problems = recipe(json.dumps({"recipe-name": "T"} | found, ensure_ascii=False))
    assert made is not None or problems


@settings(max_examples=50, deadline=None)
@given(
    st.dictionaries(st.sampled_from(["paper", "start-at", "labels", "labels.stock", "x.y", "room", ""]), JUNK)
)
def test_any_overrides(overrides: dict[str, str]) -> None:
    text = json.dumps(SIX | {"bottles": {"500 ml pet": "26"}}).encode()
    batch, problems = read_batch_bytes(text, "test.yaml", TODAY, None, overrides)
    assert (batch is None) == problems.stopped
