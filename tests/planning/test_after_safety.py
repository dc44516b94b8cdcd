"""Bottles filled before the gate had passed: what is ahead is the safety sheet's own, from today on.

The base is brewed on 6 March, read once on the 14th and bottled into glass on the 15th; today is the 18th.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.printing.views import calendar, fridge

from .described import day, example, plan_of, six
from .happenings import told
from .test_plan_sentences import words_of

READ = [{"on": "2027-03-14", "sg": "1.020 at 20 C"}]
TODAY = day("3-18")
ENGLISH = words_of("en-GB", "metric")


def sealed(**actual: Any) -> dict[str, Any]:
    return six(actual={"brewed": "2027-03-06", "readings": READ, "bottled": {"on": "2027-03-15"}, **actual})


def test_what_is_ahead_is_the_safety_sheets_own_from_today_on():
    plan = plan_of(sealed(), TODAY)
    ahead = [(task.id, task.when.expected) for task in plan.tasks if task.state != "done"]
    assert ahead == [
        ("safety-cool", TODAY),
        ("safety-move", TODAY + timedelta(days=1)),
        ("safety-open", TODAY + timedelta(days=2)),
    ]
    assert plan.task("safety-cool").state == "next"
    assert plan.keeping is None
    assert plan.events == ()


def test_a_test_that_never_was_is_not_ticked():
    plan = plan_of(sealed(), TODAY)
    assert plan.has("test-1")
    assert not plan.has("test-2")


def test_no_next_test_of_a_batch_in_bottles():
    assert plan_of(sealed(), TODAY).gate.next_date is None
    assert plan_of(told(), TODAY + timedelta(days=9)).gate.next_date is None


def test_a_bottle_that_was_tried_stays_among_what_happened():
    plan = plan_of(sealed(tasted=[{"on": "2027-03-17", "gas": "lively"}]), TODAY)
    assert plan.task("test-bottle").when.expected == day("3-17")


def test_the_calendar_says_stop_from_today_on_and_takes_the_rest_off():
    plan = plan_of(sealed(), TODAY)
    events = calendar.events(plan, ENGLISH)
    stops = [event.on for event in events if "safety sheet" in event.summary]
    assert stops == [TODAY + timedelta(days=n) for n in range(3)]
    off = {event.uid_key for event in events if event.cancelled}
    assert off == {f"27A/{name}" for name in ("test-2", "test-bottle", "move-to-cool")}
    assert [event.alarm for event in events if event.on == TODAY] == [False]
    assert not any("Do not bottle" in event.description for event in events)


def test_the_fridge_sheet_would_speak_of_nothing_else():
    view = fridge.fridge(plan_of(sealed(), TODAY), ENGLISH)
    assert [row["verb"] for row in view["rows"] if not row["done"]] == ["Cool it", "Fridge", "Open"]
    assert "safety sheet" in view["gate"]["says"]


def test_of_an_event_nothing_is_left():
    tree = {**sealed(), "event": {"date": "2027-06-12", "name": "supper", "guests": 4}}
    plan = plan_of(tree, TODAY)
    assert not any(task.id.startswith(("event", "chill")) for task in plan.tasks)
    assert not any("event" in str(getattr(one.message, "id", "")) for one in plan.problems)


def test_nothing_beside_it_asks_for_a_bottle_to_be_carried():
    tree = {
        **sealed(),
        "room": {"fermenting": "20 C", "storing": ["12 C", {"from": "2027-05-01", "at": "33 C"}]},
    }
    plan = plan_of(tree, TODAY)
    assert not any(task.id.startswith("heat") for task in plan.tasks)
    assert not any(str(getattr(one.message, "id", "")).startswith("hot") for one in plan.problems)


@settings(max_examples=25)
@given(
    filled=st.integers(-3, 12), later=st.integers(0, 40), kind=st.sampled_from(("pet", "returnable glass"))
)
def test_nothing_is_ahead_but_safety_whenever_it_was_sealed(filled: int, later: int, kind: str):
    on = day("3-6") + timedelta(days=filled)
    today = max(on, day("3-6")) + timedelta(days=later)
    actual = {"brewed": "2027-03-06", "bottled": {"on": str(on)}}
    plan = plan_of(six(bottles=f"30 x 500 ml {kind}", actual=actual), today)
    assert plan.safety is not None
    for task in plan.tasks:
        assert task.id.startswith("safety-") == (task.state != "done")
        assert (task.when.expected >= today) or task.state == "done"
    assert all(event.on >= today for event in calendar.events(plan, ENGLISH) if event.alarm)


@pytest.mark.parametrize("today", ["3-27", "7-1"])
def test_a_batch_that_passed_is_as_it_was(today: str):
    plan = plan_of(example("27c"), day(today))
    assert plan.off == ()
    assert plan.keeping is not None
    assert plan.has("drink-from")
