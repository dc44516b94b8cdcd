"""What must stay on the safe side when life does not follow the plan."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from sheetgen.planning import plan_batch
from sheetgen.printing.views import calendar
from sheetgen.problems import Problems
from tests.planning.described import day, ids, planned, read, six
from tests.planning.test_plan_sentences import words_of

BREWED = {"brewed": "2027-03-06"}


def readings(sg: str, *days: int) -> list[dict[str, str]]:
    return [{"on": f"2027-03-{n:02}", "sg": f"{sg} at 20 C"} for n in days]


def test_wrong_bottles_after_a_careful_pass_bring_the_safety_sheet():
    low = {**BREWED, "readings": readings("1.005", 17, 20, 28)}
    bottled = {"on": "2027-03-28", "litres": "11 L", "bottles": {"500 ml": "22"}}
    for kind, safe in (("pet", True), ("returnable glass", False), ("one-way glass", False)):
        plan, _ = planned(six(bottles=f"40 x 500 ml {kind}", actual={**low, "bottled": bottled}), day("3-28"))
        assert (plan.safety is None, plan.labels.allowed) == (safe, safe), kind


@pytest.mark.parametrize("last", ["1.014", "1.020"])  # still falling; stuck
def test_the_calendar_has_no_sugar_while_the_gate_is_failed(last: str):
    found = readings("1.018" if last == "1.014" else last, 17) + readings(last, 20)
    plan, _ = planned(six(actual={**BREWED, "readings": found}), day("3-20"))
    assert not plan.labels.allowed
    events = calendar.events(plan, words_of("en-GB", "metric"))
    assert not any("sugar" in event.description for event in events)


def test_a_reading_that_has_not_come_yet_counts_for_nothing():
    batch, _ = read(six(actual={**BREWED, "readings": readings("1.012", 17, 27)}), day("3-28"))
    assert batch is not None
    plan = plan_batch(batch, day("3-18"), Problems())
    assert plan is not None
    assert plan.gate.state != "pass"
    assert [reading.on for reading in plan.gate.readings] == [day("3-17")]


def finish(sg: str, kind: str) -> tuple[Any, Any]:
    actual = {**BREWED, "readings": readings("1.020", 17, 20), "finish-test": f"{sg} at 20 C"}
    return planned(six(bottles=f"40 x 500 ml {kind}", actual=actual), day("3-20"))


def test_a_finish_test_above_the_ceiling_opens_plastic_only():
    assert finish("1.0205", "pet")[0].gate.state == "pass-with-care"
    assert ids(finish("1.0205", "returnable glass")[1], "stop") == ["stop.care-bottle"]


def test_a_finish_test_that_fell_further_says_so():
    plan, _ = finish("1.012", "pet")
    assert plan.gate.state == "stuck"
    assert plan.gate.because[0].id == "gate.finish-fell"


def test_a_low_reading_on_brew_day_brings_no_date_forward(tmp_path):
    own = "recipe-name: Strong\ndrink: ale\nvolume: 12 L\ningredients:\n"
    own += "  - {what: dry malt extract, amount: 2 kg, when: off the heat}\n"
    own += "yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}\n"
    (tmp_path / "strong.yaml").write_text(own, encoding="utf-8")
    before, _ = planned(six(recipe="strong", actual=BREWED), day("3-06"), tmp_path)
    after, _ = planned(six(recipe="strong", actual={**BREWED, "og": "1.057 at 20 C"}), day("3-06"), tmp_path)
    assert after.quantities.original_gravity < before.quantities.original_gravity
    assert after.labels.wait_days == before.labels.wait_days
    for name in ("test-1", "bottle", "drink-from"):
        assert after.task(name).when.earliest == before.task(name).when.earliest


@pytest.mark.parametrize("place", ["warm-place", "storing"])
@pytest.mark.parametrize(
    ("celsius", "level", "sentence"),
    [("25 C", "", ""), ("26 C", "warn", "warn.bottles-warm"), ("30 C", "stop", "stop.warm-place-hot")],
)
def test_bottles_are_not_sent_into_the_heat(place: str, celsius: str, level: str, sentence: str):
    room = {"fermenting": "20 C", "warm-place": "20 C", "storing": "12 C", place: celsius}
    _, problems = planned(six(room=room))
    named = [name for name in ids(problems, level or "warn") if name.endswith(("-warm", "-hot"))]
    assert named == ([sentence] if sentence else [])


def test_bottles_closed_before_their_wall_are_named():
    found = {**BREWED, "readings": readings("1.012", 13, 15)}
    for on, named in ((15, True), (16, False)):  # days 9 and 10
        bottled = {"on": f"2027-03-{on}", "litres": "11 L", "bottles": {"500 ml": "22"}}
        problems = planned(six(actual={**found, "bottled": bottled}), date(2027, 3, on))[1]
        assert ("warn.bottled-early" in ids(problems, "warn")) == named
