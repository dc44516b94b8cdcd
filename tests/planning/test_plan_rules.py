"""Every stop and warning at its own level: one step below, on it, one step above."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from sheetgen.planning import plan_batch
from sheetgen.planning.brew_rules import yeast_is_never_pitched_hot
from sheetgen.planning.facts import Facts
from sheetgen.planning.plan import WaterPlan
from sheetgen.planning.record_rules import a_bottling_vessel_holds_the_batch
from sheetgen.planning.rules import rules_for
from sheetgen.problems import Problems, Said

from .described import FEBRUARY, changed, day, example, ids, plan_of, planned, read, six
from .test_plan_sentences import words_of

READY = [{"on": "2027-03-17", "sg": "1.012 at 20 C"}, {"on": "2027-03-20", "sg": "1.012 at 20 C"}]
RECIPE = """\
recipe-name: Own
drink: ale
volume: 10 L
ingredients:
  - {what: liquid malt extract, amount: %s, when: off the heat}
yeast: {what: dry ale yeast, pack: 11 g, range: %s}
"""


def levels(problems: Problems, name: str) -> str:
    """The level at which "stop.<name>" or "warn.<name>" was found, or ""."""
    found = [level for level in ("stop", "warn") if f"{level}.{name}" in ids(problems, level)]
    return found[0] if found else ""


def english(message: Said | str) -> str:
    """What a person reads, with plain spaces."""
    words = words_of("en-GB", "metric")
    text = message if isinstance(message, str) else words.say(message)
    return text.replace("\u00a0", " ").replace("\u202f", " ")


def own(folder: Path, amount: str = "1.5 kg", celsius: str = "16-24 C") -> Path:
    (folder / "own.yaml").write_text(RECIPE % (amount, celsius), encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("recipe", "litres", "vessel", "level"),
    [
        ("copper-lane-amber", "8 L", "10 L", ""),  # 80 %
        ("copper-lane-amber", "8.1 L", "10 L", "warn"),
        ("copper-lane-amber", "9 L", "10 L", "warn"),  # 90 %
        ("copper-lane-amber", "9.1 L", "10 L", "stop"),
        ("ferry-steps-wheat", "7.5 L", "10 L", ""),  # 75 %
        ("ferry-steps-wheat", "7.6 L", "10 L", "warn"),
        ("ferry-steps-wheat", "9 L", "10 L", "warn"),
        ("ferry-steps-wheat", "9.1 L", "10 L", "stop"),
    ],
)
def test_a_vessel_has_room_for_foam(recipe: str, litres: str, vessel: str, level: str):
    _, problems = planned(six(recipe=recipe, volume=litres, equipment={"vessel": vessel}))
    assert levels(problems, "vessel") == level


@pytest.mark.parametrize(("amount", "level"), [("2 kg", ""), ("2.01 kg", "warn")])  # 60.0 and 60.3 points
def test_strong_wort_foams_like_wheat(tmp_path: Path, amount: str, level: str):
    tree = six(recipe="own", volume="10 L", equipment={"vessel": "12.6 L"})  # 79.4 %
    _, problems = planned(tree, FEBRUARY, own(tmp_path, amount))
    assert levels(problems, "vessel") == level


@pytest.mark.parametrize(
    ("room", "level"),
    [("13.9 C", "stop"), ("14 C", "warn"), ("15.9 C", "warn"), ("16 C", "")],
)
def test_an_ales_cold_room(room: str, level: str):
    _, problems = planned(six(room={"fermenting": room, "warm-place": "20 C"}))
    assert (levels(problems, "room-cold") or levels(problems, "room-cool")) == level


@pytest.mark.parametrize(
    ("room", "level"),
    [("24 C", ""), ("24.1 C", "warn"), ("29.9 C", "warn"), ("30 C", "stop")],
)
def test_an_ales_warm_room(room: str, level: str):
    _, problems = planned(six(room={"fermenting": room, "warm-place": "20 C"}))
    assert (levels(problems, "room-hot") or levels(problems, "room-warm")) == level


@pytest.mark.parametrize(
    ("celsius", "room", "level"),
    [
        ("18-32 C", "31 C", ""),
        ("18-32 C", "33 C", "stop"),
        ("12-25 C", "12 C", ""),
        ("12-25 C", "11.9 C", "stop"),
    ],
)
def test_a_yeast_may_like_it_warmer_or_colder(tmp_path: Path, celsius: str, room: str, level: str):
    tree = six(recipe="own", volume="10 L", room={"fermenting": room, "warm-place": "20 C"})
    _, problems = planned(tree, FEBRUARY, own(tmp_path, celsius=celsius))
    assert (levels(problems, "room-hot") or levels(problems, "room-cold")) == level


def test_a_rooms_range_is_judged_at_both_ends():
    _, problems = planned(six(room={"fermenting": "13-31 C", "warm-place": "20 C"}))
    assert {"stop.room-cold", "stop.room-hot"} <= set(ids(problems, "stop"))


@pytest.mark.parametrize(
    ("warm", "name"),
    [("13.9 C", "stop.warm-place-cold"), ("14 C", ""), ("29.9 C", ""), ("30 C", "stop.warm-place-hot")],
)
def test_a_warm_place(warm: str, name: str):
    _, problems = planned(six(room={"fermenting": "20 C", "warm-place": warm, "storing": "12 C"}))
    assert ids(problems, "stop") == ([name] if name else [])


@pytest.mark.parametrize(("celsius", "level"), [(25.0, ""), (25.01, "warn"), (30.0, "warn"), (30.01, "stop")])
def test_yeast_is_not_pitched_hot(celsius: float, level: str):
    batch, _ = read(six())
    water = WaterPlan(1, 1, 1, celsius, 1, None, None, 0, None)
    facts = Facts(batch, FEBRUARY, None, None, water, *[None] * 7)  # type: ignore[arg-type]
    assert [problem.level for problem in yeast_is_never_pitched_hot(facts)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("target", "storing", "warned"),
    [
        ("2.913", "12 C", False),  # 8.2 g a litre: 0.850 + 2.133 = 2.98 volumes
        ("2.938", "12 C", True),  # 8.3 g: 3.01
        ("2.4", "30 C", False),
        ("2.4", "30.1 C", True),
    ],
)
def test_strong_gas_never_stands_warm(target: str, storing: str, warned: bool):
    room = {"fermenting": "20 C", "warm-place": "20 C", "storing": storing}
    _, problems = planned(six(carbonation=f"{target} volumes", bottles="20 x 1 L pet", room=room))
    assert ("warn.never-above-30" in ids(problems, "warn")) == warned


@pytest.mark.parametrize("kind", ["twist-off", "wine", "jar", "square", "decorative"])
def test_bottles_not_made_for_pressure_are_refused_for_gas_only(kind: str):
    batch, _ = read(six(bottles=f"30 x 500 ml {kind}"))
    problems = Problems()
    assert plan_batch(batch, FEBRUARY, problems) is None
    assert ids(problems, "stop") == ["stop.bottle-kind"]
    still = replace(batch, recipe=replace(batch.recipe, drink=replace(batch.recipe.drink, primed=False)))
    plan = plan_batch(still, FEBRUARY, Problems())
    assert plan is not None
    assert plan.carbonation is None
    assert plan.gate.gap_days == 28


def test_an_unknown_kind_counts_as_the_weakest_and_says_so():
    plan, problems = planned(six(bottles="30 x 500 ml brown glass"))
    assert plan.carbonation.weakest == "one-way glass"
    assert "warn.bottle-unknown" in ids(problems, "warn")


@pytest.mark.parametrize(
    ("litres", "stopped"), [("4.64", False), ("4.63", True)]
)  # 510 points: 109.9 and 110.2
def test_what_is_too_strong_is_not_brewed(litres: str, stopped: bool):
    """What is in the bucket already is told, and the plan goes on."""
    _, problems = planned(six(actual={"brewed": "2027-03-06", "litres": litres}), day("3-6"))
    assert "stop.too-strong" not in ids(problems, "stop")
    assert ("warn.too-strong" in ids(problems, "warn")) == stopped


@pytest.mark.parametrize(("holds", "warned"), [(11.12, False), (11.11, True)])
def test_a_bottling_vessel_holds_the_batch(holds: float, warned: bool):
    _, problems = planned(six(equipment={"bottling-vessel": f"{holds} L"}))
    assert ("warn.bottling-vessel" in ids(problems, "warn")) == warned
    assert a_bottling_vessel_holds_the_batch.__doc__


@pytest.mark.parametrize(("scales", "noted"), [("0.1 g", False), ("0.2 g", True), ("1 g", True)])
def test_coarse_scales_weigh_ten_doses_together(scales: str, noted: bool):
    _, problems = planned(six(equipment={"scales": scales}))
    found = [problem.fix for problem in problems.of("note") if problem.message.id == "note.coarse-scales"]
    assert bool(found) == noted
    assert all((fix.values["grams"], fix.values["ml"]) == (30.0, 500.0) for fix in found)  # 10 x 3.0


@pytest.mark.parametrize(
    ("sg", "level"), [("1.0365", ""), ("1.0364", "warn"), ("1.0485", ""), ("1.0486", "warn")]
)
def test_wort_that_was_not_mixed(sg: str, level: str):  # 42.5 points, 6 off
    plan, problems = planned(six(actual={"brewed": "2027-03-06", "og": f"{sg} at 20 C"}), day("3-6"))
    assert levels(problems, "layered") == level
    assert plan.quantities.original_gravity == pytest.approx(1.0425 if level else float(sg), abs=1e-6)


@pytest.mark.parametrize(
    ("reading", "named"),
    [
        ({"on": "2027-03-16", "sg": "1.012 at 41 C"}, "warn.reading-out"),
        ({"on": "2027-03-05", "sg": "1.042 at 20 C"}, "warn.reading-early"),
    ],
)
def test_a_reading_that_says_nothing_is_left_out_and_named(reading: dict[str, str], named: str):
    plan, problems = planned(six(actual={"brewed": "2027-03-06", "readings": [reading]}), day("3-17"))
    assert plan.gate.readings == ()
    assert named in ids(problems, "warn")


def test_a_reading_without_a_temperature_is_taken_at_the_rooms():
    tree = six(
        room="25 C", actual={"brewed": "2027-03-06", "readings": [{"on": "2027-03-16", "sg": "1.012"}]}
    )
    plan, problems = planned(tree, day("3-17"))
    assert "warn.reading-celsius" in ids(problems, "warn")
    assert plan.gate.readings[0].corrected == pytest.approx(1.012 * 0.99821 / 0.99705, abs=1e-4)


@pytest.mark.parametrize(
    ("litres", "warned"), [("10.5", False), ("10.4", True), ("11.5", False), ("11.6", True)]
)  # 22 x 500 ml are 11.0
def test_bottles_and_litres_should_agree(litres: str, warned: bool):
    bottled = {"on": "2027-03-27", "litres": litres, "bottles": {"500 ml": "22"}}
    tree = six(actual={"brewed": "2027-03-06", "readings": READY, "bottled": bottled})
    assert ("warn.bottled-sum" in ids(planned(tree, day("3-27"))[1], "warn")) == warned


# What must not be planned, and may well have happened
UNWISE = [
    ("room", {"fermenting": "10 C", "warm-place": "10 C"}),
    ("room", {"fermenting": "33 C", "warm-place": "35 C"}),
    ("equipment", {"vessel": "12 L"}),
    ("equipment", {"pot": "1 L"}),
    ("bottles", "40 x 500 ml jar"),
    ("carbonation", "5 volumes"),
    ("away", ["2027-03-05..2027-03-12"]),
    ("water", {"tap": "45 C", "fridge": "44 C"}),
]


@pytest.mark.parametrize(("key", "value"), UNWISE)
def test_what_will_happen_can_be_stopped_and_what_has_happened_cannot(key: str, value: Any):
    tree = {**six(), key: value}
    if key == "water":
        tree["room"] = "24 C"
    assert planned(tree)[0] is None
    bottled = {"bottled": {"on": "2027-03-27"}, "readings": READY}
    assert planned({**tree, "actual": bottled}, day("3-28"))[0] is not None


def safety(actual: dict[str, Any], today: str = "3-28", **changes: Any) -> list[str]:
    plan = plan_of(six(actual={"brewed": "2027-03-06", **actual}, **changes), day(today))
    assert plan.labels.allowed == (plan.safety is None)
    return [said.id for said in plan.safety.because] if plan.safety else []


def test_bottled_after_the_gate_is_fine():
    assert safety({"readings": READY, "bottled": {"on": "2027-03-20"}}) == []


def test_bottled_before_the_gate_is_a_safety_sheet():
    assert safety({"readings": READY[:1], "bottled": {"on": "2027-03-20"}}) == [
        "safety.before-gate",
        "gate.need-second",
    ]
    assert safety({"bottled": {"on": "2027-03-20"}})[0] == "safety.before-gate"


def test_readings_taken_after_bottling_do_not_count_for_it():
    assert safety({"readings": READY, "bottled": {"on": "2027-03-19"}})[0] == "safety.before-gate"


@pytest.mark.parametrize(("on", "early"), [("2027-03-12", True), ("2027-03-13", False)])
def test_bottled_in_the_first_week_is_said_as_well(on: str, early: bool):
    assert ("safety.too-early" in safety({"bottled": {"on": on}})) == early


def test_bottled_in_what_cannot_hold_it_is_a_safety_sheet():
    done = {"readings": READY, "bottled": {"on": "2027-03-20"}}
    assert safety(done, bottles="40 x 500 ml jar") == ["safety.weak-bottle"]
    assert safety(done, carbonation="3.7 volumes") == ["safety.weak-bottle"]
    partly = {"readings": READY, "bottled": {"on": "2027-03-20", "bottles": {"500 ml pet": "9"}}}
    assert safety(partly, bottles="20 x 500 ml pet, 20 x 500 ml jar") == []


def test_a_failed_gate_prints_no_labels():
    falling = [{"on": "2027-03-17", "sg": "1.016 at 20 C"}, {"on": "2027-03-20", "sg": "1.012 at 20 C"}]
    plan = plan_of(six(actual={"brewed": "2027-03-06", "readings": falling}), day("3-20"))
    assert plan.gate.state == "wait"
    assert not plan.labels.allowed


CARE = [{"on": f"2027-03-{n}", "sg": "1.014 at 20 C"} for n in (17, 20, 23)]
WILD = [{"on": f"2027-03-{n}", "sg": "1.006 at 20 C"} for n in (17, 20, 27)]


@pytest.mark.parametrize(
    ("readings", "kind", "stopped"),
    [
        (CARE, "returnable glass", False),
        (CARE, "pet", False),
        (CARE, "one-way glass", True),
        (CARE, "swing-top", True),
        (WILD, "returnable glass", True),
        (WILD, "pet", False),
    ],
)
def test_a_careful_pass_needs_careful_bottles(readings: Any, kind: str, stopped: bool):
    tree = six(bottles=f"40 x 500 ml {kind}", actual={"brewed": "2027-03-06", "readings": readings})
    batch, problems = read(tree, day("3-27"))
    gate = plan_batch(replace(batch, bottles=read(six())[0].bottles[:0]), day("3-27"), Problems())
    assert gate is None or gate.gate.state == "pass-with-care"
    plan_batch(batch, day("3-27"), problems)
    assert ("stop.care-bottle" in ids(problems, "stop")) == stopped


@pytest.mark.parametrize(
    "fact",
    [
        {"brewed": "2027-03-06"},
        {"pitched": "2027-03-06"},
        {"og": "1.042 at 20 C"},
        {"readings": READY},
        {"bottled": {"on": "2027-03-27"}},
    ],
)
def test_any_fact_shows_that_brew_day_is_over(fact: dict[str, Any]):
    plan = plan_of(six(actual=fact, equipment={"vessel": "12 L"}), day("3-27"))
    assert plan.task("brew").state == "done"


@pytest.mark.parametrize(
    ("volume", "brewed", "level", "name"),
    [
        ("1 L", {}, "warn", "no-full-bottle"),
        ("2 L", {}, "", ""),
        ("10 L", {}, "stop", "nothing-to-bottle"),
        ("10 L", {"brewed": "2027-02-19"}, "warn", "nothing-to-bottle"),
    ],
)
def test_a_batch_fills_a_bottle(tmp_path: Path, volume: str, brewed: dict[str, str], level: str, name: str):
    hops = "  - {what: hops, amount: 2 kg, when: dry hop}\nyeast:"
    (tmp_path / "wet.yaml").write_text((RECIPE % ("1.5 kg", "16-24 C")).replace("yeast:", hops), "utf-8")
    recipe = "wet" if volume == "10 L" else "copper-lane-amber"
    tree = six(recipe=recipe, volume=volume, **({"actual": brewed} if brewed else {}))
    _, problems = planned(tree, FEBRUARY, tmp_path)
    told = [
        (each, name)
        for each in ("stop", "warn")
        for name in ("no-full-bottle", "nothing-to-bottle")
        if f"{each}.{name}" in ids(problems, each)
    ]
    assert told == ([(level, name)] if level else [])


@pytest.mark.parametrize(
    ("litres", "count", "told"),
    [
        ("12", "24", []),
        ("12.5", "25", []),
        ("12.6", "25", ["warn.bottled-more"]),
        ("12", "41", ["warn.bottled-more", "warn.bottled-beyond"]),
        ("30", "60", ["warn.bottled-more", "warn.bottled-beyond"]),
    ],
)
def test_no_more_is_bottled_than_there_was(litres: str, count: str, told: list[str]):
    bottled = {"on": "2027-03-27", "litres": litres, "bottles": {"500 ml": count}}
    found = ids(planned(six(actual={"bottled": bottled}), day("3-28"))[1], "warn")
    assert [name for name in found if name in ("warn.bottled-more", "warn.bottled-beyond")] == told


@pytest.mark.parametrize(
    ("room", "words"),
    [
        ("13.9 C", "a room of 13.9 °C is too cold for this yeast; it needs 14 °C or more"),
        ("13.99 C", "bottles at 13.99 °C get no fizz; they need 14 °C or more"),
    ],
)
def test_a_limit_and_what_misses_it_never_look_alike(room: str, words: str):
    told = [english(problem.message) for problem in planned(six(room=room))[1].of("stop")]
    assert words in told


def test_no_gas_at_all_is_told_with_two_decimals():
    _, problems = planned(six(carbonation="0.85 volumes"))
    told = [english(problem.message) for problem in problems.of("warn")]
    assert "0.85 volumes is no more than the 0.85 volumes already in the drink; no sugar is added" in told


def test_a_hot_mix_is_not_said_to_kill():
    _, problems = planned(six(water={"tap": "45 C", "fridge": "44 C"}, room="24 C"))
    [told] = [english(problem.message) for problem in problems.of("stop")]
    assert told.endswith("so hot, it harms the yeast and spoils the taste")


def test_every_rule_is_a_sentence_of_its_own():
    batch, _ = read(example("27b"))
    names = [rule.__name__ for rule in rules_for(batch)]
    assert len(names) == len(set(names))
    assert all("_" in name for name in names)


def test_the_examples_are_clean():
    for name, today in (("27a", FEBRUARY), ("27b", FEBRUARY), ("27c", date(2027, 3, 27))):
        assert ids(planned(example(name), today)[1], "warn") == []


def test_today_moves_nothing_before_brew_day():
    plans = [plan_of(six(), FEBRUARY + timedelta(days=n)) for n in (0, 7, 14)]
    assert len({tuple((task.id, task.when) for task in plan.tasks) for plan in plans}) == 1
    assert changed({}, "a.b", "c") == {"a": {"b": "c"}}
