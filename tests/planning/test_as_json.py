"""plan.json: complete, explicit, and as its schema says."""

from __future__ import annotations

import dataclasses
import json
from datetime import date
from pathlib import Path

import jsonschema
import pytest

import sheetgen.planning
from sheetgen.planning.as_json import as_json, stopped, title_of
from sheetgen.planning.plan import Plan, Task, When
from sheetgen.problems import Problem, Said, Span, said

from .filled import Filler, changed

SCHEMA = json.loads((Path(sheetgen.planning.__path__[0]) / "plan.schema.json").read_text(encoding="utf-8"))
PLAN: Plan = dataclasses.replace(Filler().of(Plan), units="metric")
DAY = date(2027, 3, 6)


def say(sentence: Said) -> str:
    return f"<{sentence.id}>"


def validate(value: object) -> None:
    jsonschema.Draft202012Validator(SCHEMA).validate(value)


def with_tasks(*ids: str) -> Plan:
    when = When(DAY, DAY, None)
    return dataclasses.replace(PLAN, tasks=tuple(Task(name, 0, when, True, "to-do") for name in ids))


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_a_full_plan_is_as_the_schema_says():
    validate(as_json(PLAN, say))


def test_it_survives_being_written_and_read():
    mapping = as_json(PLAN, say)
    assert json.loads(json.dumps(mapping, allow_nan=False)) == mapping


@pytest.mark.parametrize("name", ["measured_original", "bitterness_ibu", "colour_ebc"])
def test_what_is_not_known_is_null(name: str):
    quantities = dataclasses.replace(PLAN.quantities, **{name: None})
    mapping = as_json(dataclasses.replace(PLAN, quantities=quantities), say)
    assert mapping["quantities"][name] is None
    validate(mapping)


def test_a_still_drink_has_no_carbonation():
    mapping = as_json(dataclasses.replace(PLAN, carbonation=None), say)
    assert mapping["carbonation"] is None
    validate(mapping)


def test_unknown_allergens_are_null_and_none_are_an_empty_list():
    labels = dataclasses.replace(PLAN.labels, allergens=(), allergens_known=True)
    assert as_json(dataclasses.replace(PLAN, labels=labels), say)["allergens"] == []
    labels = dataclasses.replace(labels, allergens_known=False)
    assert as_json(dataclasses.replace(PLAN, labels=labels), say)["allergens"] is None


def test_every_value_of_a_plan_is_in_it():
    before = as_json(PLAN, say)
    lost = [where for where, other in changed(PLAN) if as_json(other, say) == before]
    typed = (".suggestions[", ".sure")  # what to type belongs to the file that was read, not to its plan
    lost = [where for where in lost if not any(part in where for part in typed)]
    assert [where for where in lost if not where.startswith(".sources") and ".span." not in where] == []
    assert {where.rpartition(".")[2] for where in lost if ".span." in where} == {"length", "cell"}


def test_dates_are_found_by_their_task():
    mapping = as_json(with_tasks("brew", "test-1"), say)
    assert mapping["dates"]["brew_day"] == {
        "earliest": "2027-03-06",
        "expected": "2027-03-06",
        "latest": None,
    }
    assert mapping["dates"]["best_before"] is None
    assert [task["title"] for task in mapping["tasks"]] == ["<task.brew>", "<task.test-1>"]


def test_an_assumption_with_one_value_states_it():
    assumptions = (
        ("room.storing", said("assume.storing", celsius=12.0)),
        ("x", said("assume.x", low=1.0, high=2.0)),
    )
    first, second = as_json(dataclasses.replace(PLAN, assumptions=assumptions), say)["assumptions"]
    assert (first["what"], first["value"], first["why"]) == ("room.storing", 12.0, "<assume.storing>")
    assert (second["value"], second["values"]) == (None, {"low": 1.0, "high": 2.0})


def test_sentences_within_a_sentence_are_text():
    causes = (said("doubt.bubbles"), said("doubt.instrument"))
    assumptions = (("x", said("assume.x", causes=causes, low=1.0)),)
    mapping = as_json(dataclasses.replace(PLAN, assumptions=assumptions), say)
    validate(mapping)
    assert mapping["assumptions"][0]["values"] == {"causes": "<doubt.bubbles> <doubt.instrument>", "low": 1.0}


def test_numbers_carry_no_binary_dust():
    quantities = dataclasses.replace(PLAN.quantities, litres=0.1 + 0.2)
    assert as_json(dataclasses.replace(PLAN, quantities=quantities), say)["quantities"]["litres"] == 0.3


def test_keys_come_in_the_same_order_each_time():
    def values(*names: str) -> Said:
        return said("s", **dict.fromkeys(names, 1))

    one, two = (((("k", values(*names)),)) for names in (("a", "b"), ("b", "a")))
    texts = {json.dumps(as_json(dataclasses.replace(PLAN, assumptions=those), say)) for those in (one, two)}
    assert len(texts) == 1


def test_a_stopped_file_has_its_problems_and_nothing_else():
    found = [
        Problem("stop", said("stop.gas"), Span("27a.yaml", 6, 10), "use PET", ("batch 27A", "bottles")),
        Problem("note", "room: 19 C was taken"),
    ]
    mapping = stopped(found, say)
    validate(mapping)
    assert list(mapping) == ["format", "version", "problems"]
    assert mapping["problems"][0] == {
        "level": "stop",
        "text": "<stop.gas>",
        "fix": "use PET",
        "id": "stop.gas",
        "path": ["batch 27A", "bottles"],
        "file": "27a.yaml",
        "line": 6,
        "column": 10,
    }
    assert mapping["problems"][1]["file"] is None


@pytest.mark.parametrize("key", sorted(as_json(PLAN, say)))
def test_the_schema_misses_any_key_that_goes_and_refuses_any_that_comes(key: str):
    mapping = as_json(PLAN, say)
    with pytest.raises(jsonschema.ValidationError):
        validate({**mapping, f"{key}-more": 1})
    del mapping[key]
    with pytest.raises(jsonschema.ValidationError):
        validate(mapping)


def test_a_task_without_a_name_of_its_own_has_that_of_its_kind():
    def say_few(sentence: Said) -> str:
        return {"task.add": "Add", "task.test-1": "Test 1", "task.rack": "Rack"}[sentence.id]

    names = ("add-day-5", "test-1", "rack-2", "new-thing")
    assert [title_of(name, say_few) for name in names] == ["Add", "Test 1", "Rack", "new-thing"]


def test_a_name_that_comes_back_as_its_id_is_none():
    def say_ids(sentence: Said) -> str:
        return {"task.rack": "Rack"}.get(sentence.id, sentence.id)

    assert [title_of(name, say_ids) for name in ("rack-2", "new-thing")] == ["Rack", "new-thing"]
