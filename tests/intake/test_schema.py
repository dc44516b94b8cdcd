"""The schemas for editors: what the reader takes they let pass, and much of what it refuses they see."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from planning.happenings import HAPPENED, ODD_READINGS
from planning.odd_batches import SAYS_MORE_THAN_IS_USED
from planning.parties import PARTIES

from intake.editors import as_text, refused, told
from intake.told import read, six_lines
from sheetgen import __main__ as program
from sheetgen.intake import schema
from sheetgen.intake.class_tables import CLASS, PERSON
from sheetgen.intake.fields import Table
from sheetgen.intake.kinds import KINDS
from sheetgen.intake.schema_forms import FORMS
from sheetgen.intake.schema_kinds import SCHEMAS
from sheetgen.intake.season_tables import SEASON
from sheetgen.units import Misread

ROOT = Path(__file__).resolve().parents[2]
KIND_OF_FILE = {
    "batch": "batch",
    "recipe-name": "recipe",
    "drink": "drink",
    "season": "season",
    "class": "class",
}


def _files() -> Iterator[Any]:
    for folder in ("recipes", "layouts/trials"):
        for path in sorted((ROOT / folder).rglob("*.yaml")):
            text = path.read_text(encoding="utf-8")
            keys = set(re.findall("^([a-z-]+):", text, re.MULTILINE))
            kind = next((kind for key, kind in KIND_OF_FILE.items() if key in keys), "")
            kind = "member" if path.name == "28a.yaml" else kind
            if kind and "pantry" not in path.parts:
                yield pytest.param(text, kind, id=f"{kind} {path.stem}")


FILES = list(_files())
TREES = [tree for tree, _ in (*SAYS_MORE_THAN_IS_USED, *PARTIES, *HAPPENED)]
TREES += [{**TREES[0], "actual": actual} for actual in ODD_READINGS]


@pytest.mark.parametrize("kind", schema.FILES)
def test_it_is_a_schema(kind: str) -> None:
    found = schema.schema_of(kind)
    Draft202012Validator.check_schema(found)
    assert found["$id"] == f"urn:sheetgen:schema:{kind}:1"
    assert found["title"]


def test_every_kind_and_every_form_is_known() -> None:
    assert set(KINDS) - set(SCHEMAS) == {"choice"}
    fields = [field for table in _tables() for field in table.fields]
    assert {field.form or field.key for field in fields if field.kind == "node"} <= set(FORMS)
    assert {field.form for field in fields if field.form} <= set(FORMS)


def _tables() -> list[Table]:
    from sheetgen.intake.batch_tables import BATCH
    from sheetgen.intake.drink_tables import DRINK
    from sheetgen.intake.recipe_tables import RECIPE

    todo, found = [BATCH, RECIPE, DRINK, SEASON, CLASS, PERSON], list[Table]()
    while todo:
        table = todo.pop()
        if table not in found:
            found.append(table)
            todo += [field.table for field in table.fields if field.table]
    return found


@pytest.mark.parametrize("kind", schema.FILES)
def test_every_key_has_a_hover_text_and_an_example_that_it_takes(kind: str) -> None:
    whole = schema.schema_of(kind)
    for place, key, found in _keys(whole):
        assert found["description"].count("For example: ") == 1, (place, key)
        for value in [*found["examples"], *([found["default"]] if "default" in found else [])]:
            own = {"$schema": schema.DIALECT, "$defs": whole["$defs"], **found}
            assert not list(Draft202012Validator(own).iter_errors(value)), (place, key, value)


def _keys(whole: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for place, part in (("", whole), *whole["$defs"].items()):
        for key, found in part.get("properties", {}).items():
            if place != "stock":
                yield place, key, found


@pytest.mark.parametrize("kind", schema.FILES)
def test_patterns_are_those_of_every_editor(kind: str) -> None:
    """No sign has a backslash that needs none: with its `u` flag ECMAScript refuses such a pattern."""
    text = str(schema.schema_of(kind))
    assert not re.search(r"\(\?[P<i]|\\[dDwWAZz]", text)
    for pattern in _patterns(schema.schema_of(kind)):
        assert not re.search(r"\\[^sSn.*+?^$()\[\]{}|/\\]", pattern), pattern[:80]
        re.compile(pattern)


def _patterns(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        yield from node.get("patternProperties", {})
        if isinstance(node.get("pattern"), str):
            yield node["pattern"]
        for value in node.values():
            yield from _patterns(value)
    elif isinstance(node, list):
        for value in node:
            yield from _patterns(value)


@pytest.mark.parametrize(("text", "kind"), FILES)
def test_every_file_of_ours_passes(text: str, kind: str) -> None:
    assert refused(text, kind) == []
    assert told(as_text(text), kind) == []


@pytest.mark.parametrize("tree", TREES, ids=range(len(TREES)))
def test_odd_batches_pass(tree: dict[str, Any]) -> None:
    text = yaml.safe_dump(tree, allow_unicode=True)
    assert told(tree) == []
    assert refused(text) == []


# Whatever the reader takes

_NUMBERS = st.sampled_from(
    [
        "12",
        "0",
        "1.5",
        "1,5",
        "1 1/2",
        "½",
        "1½",
        "3/4",
        ".5",
        "12.",
        "1,500",
        "1.047",
        "1,047",
        "1047",
        "-3",
        "+3",
    ]
)
_UNITS = st.sampled_from(
    ["L", "l", "litres", " L", "ml", "m.l", "cl", "US gal", "gal", "gal US", "U.S. gal", "uk pints", "fl oz",
     "US fl. oz.", "oz", "lb", "lbs.", "kg", "g", "mg", "stone", "C", "°C", "F", "° F", "deg C", "℃",
     "celsius", "m",
     "ft", "mm", '"', "in", "min", "h", "d", "days", "weeks", "%", " %", "per cent", "volumes", "vol", "g/L",
     "g / litre", "volumes of CO2", "pieces", "piece", "bottles", "a week", "per day", "SG", ""]
)  # fmt: skip
_WORDS = st.sampled_from(
    ["27A", "27", "yes", "No", "none", "not measured", "copper-lane-amber", "Imke", "2027-03-06", "2027-3-6",
     "2027-02-30", "2027-03-06 10:00", "2027-03-06T9.30", "2026-12", "06/03/2027", "2027-03-13..2027-03-16",
     "2027-03-13 to 2027-03-16", "sat", "Sat.", "Saturday", "thurs", "18:00", "7.30", "03:00", "21:00..07:00",
     "21:00 - 07:00", "DE-BY", "into the pot", "30 min before the end of the boil", "dry-hop",
     "at racking 1", "day 3",
     "early 2", "off 3 days", "24 x 500 ml", "24×0.5 L", "2 x 330 ml", "15-20 C", "59 to 68 F", "68-76 %",
     "1.035-1.060", "1.047 at 24 C", "1,047@75F", "og 1.050", "284-317", "40 bottles", "holds 45 bottles",
     "true"]
)  # fmt: skip
_VALUES = st.one_of(
    _WORDS,
    st.builds(lambda number, unit: f"{number}{unit}", _NUMBERS, _UNITS),
    st.builds(lambda number, unit: f"{number} {unit}", _NUMBERS, _UNITS),
    st.builds(lambda a, u, b, v: f"{a} {u} {b} {v}", _NUMBERS, _UNITS, _NUMBERS, _UNITS),
    st.text(alphabet="0123456789.,-/:% xLlCFgkmol½°\u00a0", max_size=12),
)


@given(_VALUES)
def test_what_a_kind_reads_its_pattern_lets_pass(text: str) -> None:
    for name, kind in KINDS.items():
        if name != "choice" and text.strip() and not isinstance(kind.reader(text), Misread):
            assert not list(Draft202012Validator(SCHEMAS[name]).iter_errors(text)), (name, text)


_ROOMS = st.sampled_from(
    [
        "19 C",
        "15-20 C",
        "[19 C, {from: 2027-05-01, at: 33 C}]",
        "{storing: 12 C}",
        "{from: 2027-05-01, at: 9 C}",
        "19",
    ]
)
_BOTTLES = st.sampled_from(
    ["24 x 500 ml", "{500 ml returnable glass: 26}", "[6 x 1 L pet, 18 x 500 ml]", "6 x 1 L, 18 x 500 ml pet",
     "[{size: 1 L, kind: pet, count: 6}, 9 x 12 US fl oz]", "{24 x 500 ml pet}", "[{330 ml: 6, 1 L pet: 3}]",
     "24 bottles of 500 ml", "{size: 500 ml, count: 24}", "26 bottles", "[]", "{500 ml: 0}"]
)  # fmt: skip
_DAYS = st.sampled_from(
    ["sat", "[sat, sun]", "sat, sun", "any", "{days: [sat], every: 2 weeks, from: 2027-03-06}",
     "{brewing: [sat]}",
     "{brewing: {days: sat, from: 2027-03-06}, testing: any}", "weekends", "[]"]
)  # fmt: skip
_MORE = st.lists(
    st.sampled_from(
        ["alarms: none", "alarms: 18:00", "alarms: {quiet: 21:00..07:00}",
         "labels: {start-at: 4, stock: a4-2x7}",
         "equipment: {vessel: 15 L, hydrometer: none}",
         "equipment: {vessel: {holds: 15 L, name: 7}, scales: 1 g}",
         "water: {tap: 12 C, fridge-space: none}", "dosing: In Bulk", "fill: least over", "paper: letter",
         "packs: {hops: [50 g, 1 oz], honey: 1 lb}", "yeast: {expired: 2026-12, opened: yes}", "units: US",
         "event: [{date: 2027-06-12, guests: 8}]", "event: {date: 2027-06-12, name: 12}", "cold-days: 2",
         "shifts: {from: 2027-03-01, turns: early 2, free: early}",
         "holidays: 2027-03-26, 2027-03-29..2027-04-02",
         "carbonation: 4.7 g/L", "sugar: Dextrose", "brewer: 12", "brewer: true", "format: 1",
         "taken: [2027-03-20]"]
    ),
    unique_by=lambda line: line.partition(":")[0], max_size=4,
)  # fmt: skip


@given(_ROOMS, _BOTTLES, _DAYS, _MORE)
def test_what_the_reader_takes_passes(room: str, bottles: str, days: str, more: list[str]) -> None:
    text = six_lines("\n".join([f"my-days: {days}", *more]) + "\n", room=room, bottles=bottles)
    batch, problems = read(text)
    if batch is not None:
        assert refused(text) == [], text
        assert told(as_text(text)) == [], text
    else:
        assert problems


def test_what_stands_in_a_folder_is_known_there(tmp_path: Path) -> None:
    (tmp_path / "my-brown.yaml").write_text("recipe-name: My Brown\n", encoding="utf-8")
    offered = schema.schema_of("batch", tmp_path)["properties"]["recipe"]["anyOf"][0]["enum"]
    assert "my-brown" in offered
    assert "copper-lane-amber" in offered


def test_a_class_may_leave_to_its_people_what_a_batch_needs() -> None:
    text = "class: 27\npeople:\n  - Imke\n  - {name: Ada, Room: 18 C, pot: 8 L, warm place: 20 C}\n"
    assert refused(text, "class") == []
    assert refused(text.replace("pot: 8", "pot: 8 x"), "class") != []
    assert refused(text.replace("pot:", "pott:"), "class") != []


@pytest.mark.parametrize(
    "line",
    ["volume: 12", "room: 19", "brew-day: 06/03/2027", "volume: 3 gal", "bottles: 24 500 ml", "colour: red",
     "carbonation: 2.4", "my-days: weekends", "paper: A3", "actual: {readings: [{on: 2027-03-17, sg: 1012}]}"]
)  # fmt: skip
def test_slips_that_it_sees(line: str) -> None:
    key = line.partition(":")[0].replace("-", "_")
    assert refused(f"{line}\n" + six_lines(**{key: None})) != []


def test_the_modeline_names_the_file_beside() -> None:
    assert schema.modeline("batch") == "# yaml-language-server: $schema=batch.schema.json"


def test_the_command_prints_it_and_knows_no_other_kinds_of_file() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "sheetgen", "schema", "recipe"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(done.stdout) == schema.schema_of("recipe", ROOT)
    assert tuple(schema.FILES) == program.FILES
