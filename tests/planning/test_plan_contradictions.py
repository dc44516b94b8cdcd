"""Facts that contradict one another, and bottles that were tried: told, never refused.

The base passed the gate on 17 and 20 March (days 11 and 14) and was bottled on the 20th; its fizz is ready
14 days later, on 3 April.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from .described import day, ids, plan_of, planned, six
from .happenings import BEFORE, CONTRADICTORY, LATE_SUGAR, LOWER, PASSED, told, tried

APRIL = day("4-21")


def reasons(tree: dict[str, Any], today: date = APRIL) -> list[str]:
    """Why there is a safety sheet."""
    safety = plan_of(tree, today).safety
    return [said.id for said in safety.because] if safety else []


# Contradictions


@pytest.mark.parametrize("told_then", CONTRADICTORY, ids=range(len(CONTRADICTORY)))
def test_what_has_happened_never_stops(told_then: Any):
    plan, problems = planned(*told_then)
    assert plan is not None
    assert problems.of("stop") == []
    assert problems.of("warn")


@pytest.mark.parametrize(
    ("changes", "warning"),
    [
        ({"pitched": "2027-03-05"}, "warn.pitched-before"),
        ({"pitched": "2027-03-08"}, "warn.pitched-late"),
        ({"dry-hopped": "2027-03-05"}, "warn.hops-before"),
        ({"dry-hopped": "2027-03-09"}, "warn.hops-foam"),
        ({"dry-hopped": "2027-03-22"}, "warn.hops-after"),
        ({"readings": LOWER}, "warn.reading-after"),
        ({"added": [{**LATE_SUGAR[0], "on": "2027-03-20"}]}, "warn.added-filling"),
        ({"added": LATE_SUGAR}, "warn.added-after"),
        ({"tasted": [{"on": "2027-03-19", "gas": "right"}]}, "warn.tasted-before"),
    ],
)
def test_each_contradiction_is_named_and_says_what_to_do(changes: dict[str, Any], warning: str):
    problems = planned(told("slipway-nine-pale", **changes), APRIL)[1]
    found = next(one for one in problems.of("warn") if getattr(one.message, "id", "") == warning)
    assert found.fix
    assert found.span is not None


@pytest.mark.parametrize("changes", [{"pitched": "2027-03-07"}, {"dry-hopped": "2027-03-10"}])
def test_what_is_in_order_is_not_named(changes: dict[str, Any]):
    warned = ids(planned(told("slipway-nine-pale", **changes), APRIL)[1], "warn")
    assert not [one for one in warned if one.startswith(("warn.hops-", "warn.pitched-"))]


def test_days_are_counted_from_the_later_of_brewing_and_pitching():
    assert plan_of(told(pitched="2027-03-05"), APRIL).task("bottle").day == 14


def test_bottles_from_before_the_brew_day_are_a_safety_matter_and_a_slip():
    tree = six(actual=BEFORE)
    assert reasons(tree) == ["safety.before-gate", "gate.no-counted-readings", "safety.before-brewing"]
    assert "warn.bottled-before" in ids(planned(tree, APRIL)[1], "warn")


def test_nothing_asks_for_a_bottle_to_be_opened_beside_a_safety_sheet():
    tree = six(actual={"brewed": "2027-03-06", "bottled": {"on": "2027-03-15"}})
    assert reasons(tree)
    assert "warn.bottled-early" not in ids(planned(tree, APRIL)[1], "warn")


def test_sugar_into_filled_bottles_is_a_safety_matter():
    assert reasons(told(added=LATE_SUGAR)) == ["safety.fed"]


@pytest.mark.parametrize(("sg", "found"), [("1.011", []), ("1.010", []), ("1.004", ["safety.fell"])])
def test_a_bottle_that_fell_by_more_than_it_holds_is_a_safety_matter(sg: str, found: list[str]):
    """Two points are bubbles or 1.1 volumes, which plastic holds; eight are 4.4 volumes on top of the 2.4."""
    readings = [*PASSED, {"on": "2027-03-28", "sg": f"{sg} at 20 C"}]
    assert reasons(told(readings=readings)) == found


def test_bottles_that_nobody_had_listed_are_looked_at_like_the_others():
    tree = told(bottled={"on": "2027-03-20", "bottles": {"500 ml pet": "10", "500 ml jar": "2"}})
    assert reasons(tree) == ["safety.weak-bottle"]


# Bottles that were tried


@pytest.mark.parametrize(
    ("rows", "says", "next_on"),
    [
        ([("03-27", "right")], "taste.right", None),
        ([("03-27", "little")], "taste.little-early", "4-3"),
        ([("04-02", "flat")], "taste.flat-early", "4-3"),
        ([("04-03", "little")], "taste.little", "4-10"),
        ([("04-03", "flat")], "taste.flat", "4-17"),
        ([("04-03", "flat"), ("04-17", "flat")], "taste.flat-still", None),
        ([("04-03", "lively")], "taste.lively", None),
    ],
)
def test_each_bottle_says_something_of_the_others(rows: Any, says: str, next_on: str | None):
    found = plan_of(tried(*rows), APRIL).tastings[-1]
    assert (found.says.id, found.next_on) == (says, day(next_on) if next_on else None)


def test_a_flat_bottle_puts_off_what_waits_for_gas_and_nothing_else():
    before = {task.id: task.when.expected for task in plan_of(told(), day("4-3")).tasks}
    after = {task.id: task.when.expected for task in plan_of(tried(("04-03", "flat")), day("4-3")).tasks}
    later = {name for name in before if after[name] != before[name]}
    assert later == {"test-bottle", "move-to-cool", "drink-from", "best-from"}
    assert after["try-2"] == after["move-to-cool"] == day("4-17")


def test_the_labels_keep_their_wait():
    plan = plan_of(tried(("04-03", "flat")), day("4-3"))
    assert (plan.labels.not_before - plan.labels.filled).days == plan.labels.wait_days


def test_a_bottle_that_is_right_moves_nothing_but_itself():
    before = {task.id: task.when for task in plan_of(told(), day("3-26")).tasks}
    after = {task.id: task.when for task in plan_of(tried(("03-26", "right")), day("3-26")).tasks}
    assert {name for name in before if after[name].expected != before[name].expected} == {"test-bottle"}
    assert set(after) == set(before)


@pytest.mark.parametrize(
    ("later", "found"),
    [
        ([], ["safety.lively"]),
        ([("04-05", "right")], ["safety.lively"]),
        ([("04-05", "right"), ("04-05", "right")], ["safety.lively"]),
        ([("04-05", "right"), ("04-06", "little")], []),
        ([("04-05", "right"), ("04-06", "little"), ("04-07", "lively")], ["safety.lively"]),
    ],
)
def test_one_that_foamed_over_needs_two_calm_ones_on_days_of_their_own(later: Any, found: list[str]):
    tree = tried(("04-03", "lively"), *later)
    assert reasons(tree) == found
    assert plan_of(tree, APRIL).labels.allowed == (not found)
