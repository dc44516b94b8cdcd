"""No key of a batch file is passed over in silence: it changes the plan, or a finding names it.

Each key is given two values, in a drink of each sort: malt without a boil, with one, cider, mead, and a still
wine.  What was assumed without the key does not count as a change.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sheetgen.commands import common
from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.fields import Table
from sheetgen.planning import plan_batch
from sheetgen.planning.as_json import as_json

from .described import FEBRUARY, changed, example, ids, planned, read, six

DRINKS = ("27a", "27b", "27f", "27m", "27r", "27t")
BREWED = {"brewed": "2027-03-06"}

VALUES: dict[str, tuple[Any, Any]] = {
    "batch": ("28A", "28B"),
    "recipe": ("copper-lane-amber", "towrope-mild"),
    "brewer": ("Ann", "Zoe"),
    "brew-day": ("2027-03-20 11:00", "2027-04-03 11:00"),
    "volume": ("5.5 L", "6 L"),
    "room.fermenting": ("19 C", "18-21 C"),
    "room.warm-place": ("20 C", "24 C"),
    "room.storing": ("9 C", "26 C"),
    "water.tap": ("9 C", "16 C"),
    "water.fridge": ("2 C", "8 C"),
    "water.fridge-space": ("1 L", "3 L"),
    "water.altitude": ("0 m", "2500 m"),
    "water.ice": ("0.5 kg", "2 kg"),
    "equipment.vessel": ({"holds": "30 L"}, {"holds": "33 L"}),
    "equipment.pot": ("12 L", "19 L"),
    "equipment.boil-off": ("1 L", "2.5 L"),
    "equipment.hydrometer": ("16 C", "20 C"),
    "equipment.hydrometer.in-water": ("0.998", "1.001"),
    "equipment.cleaner": ("washing-up liquid", "percarbonate cleaner"),
    "equipment.sanitiser": ("no-rinse acid", "iodine type"),
    "equipment.scales": ("1 g", "0.1 g"),
    "equipment.bottling-vessel": ("3 L", "40 L"),
    "yeast.expired": ("2026-11", "2027-12"),
    "yeast.opened": ("yes", "no"),
    "bottles": ("60 x 500 ml pet", "60 x 750 ml pet"),
    "fill": ("in-order", "least-over"),
    "my-days": (["sat"], ["mon"]),
    "holidays": ([f"2027-{month:02}-{day:02}" for month in range(3, 13) for day in range(1, 31)], []),
    "shifts": (
        {"from": "2027-03-01", "turns": ["early 6", "off 1"]},
        {"from": "2027-03-01", "turns": ["off 1", "early 6"]},
    ),
    "away": (["2027-03-10..2027-04-30"], ["2027-03-10..2027-04-12"]),
    "alarms": ("17:00", "none"),
    "cold-days": ("2", "6"),
    "carbonation": ("2.0 volumes", "2.1 volumes"),
    "sugar": ("table sugar", "dextrose"),
    "dosing": ("weight", "in-bulk"),
    "sugar-piece": ("3 g", "4 g"),
    "paper": ("A4", "Letter"),
    "labels.stock": ("a4-2x7", "a4-3x7"),
    "labels.start-at": ("1", "3"),
    "labels.discs": ("round-24-a4", "caps-plain-a4"),
    "labels.discs-start-at": ("1", "5"),
    "labels.tags": ("tags-plain-a4", "tags-plain-letter"),
    "labels.bands": ("bands-plain-a4", "bands-plain-letter"),
    "labels.shift.right": ("1 mm", "-0.5 mm"),
    "labels.shift.down": ("1 mm", "-0.5 mm"),
    "labels.bars.across": ("99 mm", "100.4 mm"),
    "labels.bars.down": ("99 mm", "100.4 mm"),
    "language": ("en-GB", "en-US"),
    "units": ("metric", "us"),
    "whole-packs": ("exact", "volume-follows"),
    "packs": ({"liquid malt extract": "1.1 kg"}, {"liquid malt extract": "1.2 kg"}),
}

SETTING: dict[str, tuple[str, Any]] = {
    "equipment.hydrometer.in-water": ("equipment.hydrometer", {}),
    "holidays": ("my-days", ["fri"]),
}
"""What has to be said first, so that a key can mean anything."""

ELSEWHERE = {
    "equipment.vessel.made-of": "only judges the cleaner and the sanitiser: bleach on steel is a stop",
    "actual": "has a test of its own below",
    "format": "has one value",
    "event": "stands in place of brew-day, and has tests of its own",
    "public-holidays": "frees days as `holidays` does; without days of one's own the same note is said",
}
"""Keys that are tried somewhere else, and why."""


def told(tree: dict[str, Any], today: date = FEBRUARY) -> tuple[str, set[str]]:
    """The whole plan as text, without what merely repeats the file; and what was found."""
    batch, problems = read(tree, today)
    plan = plan_batch(batch, today, problems) if batch else None
    found = {str(each.message) for each in problems if not str(each.message).startswith("Said(id='assume")}
    if plan is None:
        return f"stopped: {sorted(found)}", found
    whole = as_json(plan, common.in_english)
    for key in ("revision", "sources", "problems", "assumptions"):
        whole.pop(key, None)
    whole["paper"] = (
        plan.stock,
        plan.disc_stock,
        plan.start_at,
        plan.discs_start_at,
        plan.tag_stock,
        plan.band_stock,
        plan.shift_mm,
        plan.bars_mm,
        plan.paper,
        plan.language,
        plan.alarm_at,
    )
    return json.dumps(whole, sort_keys=True, default=str), found


@cache
def base_of(name: str) -> dict[str, Any]:
    tree = example(name)
    room = tree.get("room", "19 C")
    return {**tree, "room": room if isinstance(room, dict) else {"fermenting": room}}


def without(tree: dict[str, Any], key: str) -> dict[str, Any]:
    first, _, rest = key.partition(".")
    if rest and isinstance(tree.get(first), dict):
        return {**tree, first: without(tree[first], rest)}
    return {name: value for name, value in tree.items() if name != first or rest}


@pytest.mark.parametrize("key", VALUES)
@pytest.mark.parametrize("name", DRINKS)
def test_another_value_changes_the_plan_or_is_spoken_of(name: str, key: str):
    base = without(base_of(name), key)
    base = changed(base, *SETTING[key]) if key in SETTING else base
    one, other = (told(changed(base, key, value)) for value in VALUES[key])
    assert one != other or one != told(base)


def keys_inside(start: str, table: Table) -> Iterator[str]:
    for one in table.fields:
        if start == "labels" and one.table:
            yield from keys_inside(f"{start}.{one.key}", one.table)
        else:
            yield f"{start}.{one.key}"


def test_every_key_is_tried():
    tried = {*VALUES, *ELSEWHERE}
    for field in BATCH.fields:
        inside = [*keys_inside(field.key, field.table)] if field.table else []
        assert field.key in tried or all(key in tried for key in inside), field.key


# What really happened


NOTHING_TO_SEE = "2027-03-20"
FACTS: list[tuple[str, str, Any]] = [
    ("copper-lane-amber", "brewed", "2027-03-07"),
    ("copper-lane-amber", "pitched", "2027-03-08"),
    ("copper-lane-amber", "og", "1.047 at 24 C"),
    ("copper-lane-amber", "litres", "11.2"),
    ("copper-lane-amber", "readings", [{"on": "2027-03-17", "sg": "1.013 at 18 C"}]),
    ("slipway-nine-pale", "dry-hopped", "2027-03-15"),
    ("copper-lane-amber", "dry-hopped", "2027-03-15"),
    ("copper-lane-amber", "added", [{"on": "2027-03-12", "what": "honey", "amount": "200 g"}]),
    ("copper-lane-amber", "warmed", [{"on": "2027-03-18", "to": "24 C"}]),
    ("copper-lane-amber", "warmed", [{"on": "2027-03-18", "to": "20.5 C"}]),
    ("copper-lane-amber", "done", [{"on": "2027-03-14", "what": "rack"}]),
    ("copper-lane-amber", "done", [{"on": "2027-03-14", "what": "stir"}]),
    ("ferry-steps-mead", "done", [{"on": "2027-03-07", "what": "degas"}]),
    ("copper-lane-amber", "seen", "skin"),
    ("copper-lane-amber", "finish-test", "1.020 at 20 C"),
    ("copper-lane-amber", "finish-test", "1.036 at 20 C"),
    ("copper-lane-amber", "warmest-since", "23 C"),
    ("copper-lane-amber", "bottled", {"on": "2027-03-20", "litres": "10.5"}),
]


@pytest.mark.parametrize(
    ("recipe", "key", "value"), FACTS, ids=[f"{row[0]}-{row[1]}-{n}" for n, row in enumerate(FACTS)]
)
def test_every_fact_changes_the_plan_or_is_spoken_of(recipe: str, key: str, value: Any):
    today = date(2027, 3, 20)
    readings = [{"on": "2027-03-16", "sg": "1.012 at 20 C"}, {"on": "2027-03-19", "sg": "1.012 at 20 C"}]
    base = six(recipe=recipe, bottles="60 x 500 ml pet", volume="5 L" if "mead" in recipe else "12 L")
    facts = dict(BREWED) if key == "readings" else {**BREWED, "readings": readings}
    assert told({**base, "actual": facts}, today) != told({**base, "actual": {**facts, key: value}}, today)


# Values that no formula knows are refused, each with what to write


@pytest.mark.parametrize(
    ("key", "value", "expected"),
    [
        ("room", "-3 C", "from 0 C to 45 C"),
        ("room", "50 C", "from 0 C to 45 C"),
        ("room", {"fermenting": "19 C", "storing": "-5 C"}, "from 0 C to 45 C"),
        ("room", {"fermenting": "19 C", "warm-place": "60 C"}, "from 0 C to 45 C"),
        ("water", {"tap": "-2 C"}, "from 0 C to 60 C"),
        ("water", {"fridge": "-1 C"}, "from 0 C to 60 C"),
        ("water", {"altitude": "5100 m"}, "from -430 m to 5000 m"),
        ("water", {"altitude": "-500 m"}, "the height above the sea"),
        ("actual", {"litres": "0.1"}, "litres from 0.5 to 100"),
    ],
)
def test_what_lies_outside_the_formulas_is_refused(key: str, value: Any, expected: str):
    batch, problems = read({**six(), key: value})
    assert batch is None
    assert [expected in str(problem.fix) for problem in problems.of("stop")] == [True]


@pytest.mark.parametrize(("height", "note"), [("-9 m", False), ("-10 m", True), ("-430 m", True)])
def test_below_the_sea_a_note_says_what_is_taken(height: str, note: bool):
    plan, problems = planned(six(water={"altitude": height}))
    assert plan is not None
    assert ("note.below-sea" in ids(problems, "note")) == note


@pytest.mark.parametrize(("celsius", "stops"), [("7.9 C", True), ("8 C", False)])
def test_a_room_below_the_tables_stops_whatever_the_yeast_says(celsius: str, stops: bool, tmp_path: Path):
    text = (Path(__file__).parents[2] / "recipes" / "ferry-steps-lager.yaml").read_text(encoding="utf-8")
    start = text.index("range:")
    (tmp_path / "cold.yaml").write_text(
        text[:start] + "range: 4-20 C" + text[text.index("C", start + 7) + 1 :]
    )
    room = {"fermenting": celsius, "warm-place": "20 C"}
    _, problems = planned(six(recipe="cold", room=room), beside=tmp_path)
    assert ("stop.room-cold" in ids(problems, "stop")) == stops


def test_a_room_that_got_too_cold_is_named_with_the_days_that_are_taken():
    _, problems = planned(six(room="11 C", actual=BREWED), date(2027, 3, 8))
    assert "warn.room-beyond" in ids(problems, "warn")


def test_full_bottles_in_the_cold_are_named():
    room = {"fermenting": "20 C", "warm-place": "10 C"}
    actual = {**BREWED, "bottled": {"on": "2027-03-20", "litres": "11"}}
    _, problems = planned(six(room=room, actual=actual), date(2027, 3, 21))
    assert "warn.warm-place-beyond" in ids(problems, "warn")


@pytest.mark.parametrize("key", ["carbonation", "sugar", "dosing", "room.warm-place"])
def test_a_wish_for_gas_in_a_still_drink_is_a_warning(key: str):
    tree = changed(base_of("27t"), key, VALUES[key][0])
    assert "warn.unused-still" in ids(planned(tree)[1], "warn")


def test_examples_say_nothing_that_changes_nothing():
    for path in sorted((Path(__file__).parents[2] / "recipes" / "examples").glob("*.yaml")):
        problems = planned(example(path.stem), date(2027, 3, 27))[1]
        found = [name for level in ("warn", "note") for name in ids(problems, level)]
        assert not [name for name in found if name.startswith(("warn.unused", "note.unused"))], path.stem
