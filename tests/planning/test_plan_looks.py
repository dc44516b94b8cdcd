"""A batch without a hydrometer: what it may be, when it is looked at, and when it passes.

The base is pitched on 6 March in a room of 20 C, into plastic bottles; day 21 is 27 March.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.brewing import looks

from .described import FEBRUARY, day, ids, plan_of, planned, six
from .happenings import GOOD, NONE, PET, looked


def bare(actual: dict[str, Any] | None = None, **changes: Any) -> dict[str, Any]:
    """A batch without a hydrometer, and what happened to it."""
    tree = six(equipment=NONE, **{"bottles": PET, **changes})
    return {**tree, "actual": {"brewed": "2027-03-06", **actual}} if actual is not None else tree


def test_looks_stand_where_tests_would():
    plan = plan_of(bare())
    days = {task.id: task.day for task in plan.tasks}
    assert (days["taste-1"], days["taste-2"], days["bottle"]) == (21, 24, 24)
    assert not any(task.id in ("test-1", "test-2") for task in plan.tasks)
    assert (plan.gate.state, plan.gate.by_looks, plan.gate.pet_only) == ("not-yet", True, True)


@pytest.mark.parametrize(
    ("rows", "today", "state", "reason", "next_day"),
    [
        ((), "3-20", "not-yet", "gate.no-counted-looks", "3-27"),
        ((("03-26", "yes", "no"),), "3-26", "not-yet", "gate.no-counted-looks", "3-27"),
        (GOOD[:1], "3-27", "wait", "gate.need-second-look", "3-30"),
        ((GOOD[0], ("03-29", "yes", "no")), "3-29", "wait", "gate.need-second-look", "3-30"),
        (GOOD, "3-30", "by-looks", "gate.by-looks", None),
        ((GOOD[0], ("03-30", "no", "no")), "3-30", "wait", "gate.cloudy-or-sweet", "4-2"),
        ((GOOD[0], ("03-30", "yes", "yes")), "3-30", "wait", "gate.cloudy-or-sweet", "4-2"),
        (GOOD, "4-13", "by-looks", "gate.by-looks", None),
        (GOOD, "4-14", "wait", "gate.pass-expired-look", "4-14"),
    ],
)
def test_two_looks_three_days_apart_from_day_21(
    rows: Any, today: str, state: str, reason: str, next_day: str | None
):
    gate = plan_of(looked(*rows), day(today)).gate
    assert (gate.state, [said.id for said in gate.because]) == (state, [reason])
    assert gate.next_date == (day(next_day) if next_day else None)


def test_what_wakes_the_yeast_starts_the_three_weeks_anew():
    added = [{"on": "2027-03-20", "what": "honey", "amount": "100 g"}]
    plan = plan_of(looked(*GOOD, added=added), day("3-30"))
    assert (plan.gate.state, plan.gate.next_date) == ("not-yet", day("4-10"))


def test_a_pass_by_looks_prints_sugar_and_labels_for_little_gas():
    plan = plan_of(looked(*GOOD), day("3-30"))
    assert plan.labels.allowed
    assert plan.carbonation is not None
    assert plan.carbonation.target_volumes == 2.2


def test_cloudy_prints_neither_labels_nor_a_date_before_two_more_looks():
    plan = plan_of(looked(("03-27", "no", "no")), day("3-27"))
    assert not plan.labels.allowed
    days = {task.id: task.when.expected for task in plan.tasks}
    assert (days["taste-2"], days["taste-3"], days["bottle"]) == (day("3-30"), day("4-2"), day("4-2"))


@pytest.mark.parametrize(
    ("changes", "stop"),
    [
        ({"bottles": "30 x 500 ml returnable glass"}, "stop.looks-bottle"),
        ({"bottles": {"500 ml pet": 20, "500 ml swing-top": 9}}, "stop.looks-bottle"),
        ({"carbonation": "2.3 volumes"}, "stop.looks-gas"),
        ({"room": "17.5 C"}, "stop.looks"),
        ({"recipe": "lantern-shed-winter"}, "stop.looks"),
        ({"recipe": "lantern-shed-milk"}, "stop.looks"),
        ({"recipe": "plot-eleven-bramble"}, "stop.looks"),
    ],
)
def test_it_is_refused_where_looks_see_too_little(changes: dict[str, Any], stop: str):
    assert stop in ids(planned(bare(**changes))[1], "stop")


@pytest.mark.parametrize("changes", [{"carbonation": "2.2 volumes"}, {"room": "18 C"}])
def test_at_its_limits_it_is_let_through(changes: dict[str, Any]):
    assert ids(planned(bare(**changes))[1], "stop") == []


def test_what_is_brewed_already_is_told_and_needs_readings():
    plan, problems = planned({**bare({}), "room": "16 C"}, day("3-20"))
    assert plan is not None
    assert "stop.looks" in ids(problems, "warn")
    assert not plan.gate.by_looks


def test_a_reading_shows_that_there_is_a_hydrometer():
    tree = looked(*GOOD, readings=[{"on": "2027-03-27", "sg": "1.012 at 20 C"}])
    plan, problems = planned(tree, day("3-30"))
    assert plan is not None
    assert (plan.gate.by_looks, plan.gate.state) == (False, "wait")
    assert "warn.looks-and-readings" in ids(problems, "warn")


def test_looks_beside_a_hydrometer_do_not_count():
    tree = {**looked(*GOOD), "equipment": {"hydrometer": "20 C"}}
    plan, problems = planned(tree, day("3-30"))
    assert plan is not None
    assert plan.gate.state == "not-yet"
    assert "warn.looks-unused" in ids(problems, "warn")


def test_glass_after_a_pass_by_looks_is_a_safety_matter():
    tree = {**looked(*GOOD, bottled={"on": "2027-03-30"}), "bottles": "30 x 500 ml returnable glass"}
    plan = plan_of(tree, day("4-1"))
    assert plan.safety is not None
    assert [said.id for said in plan.safety.because] == ["safety.weak-bottle"]


def test_there_is_no_hydrometer_on_the_lists_nor_in_the_steps():
    plan = plan_of(bare())
    said = [line.said.id for line in (*plan.lists.set_out, *plan.lists.evening_before)]
    said += [step.said.id for step in plan.steps]
    assert not any("hydrometer" in one or "gravity" in one for one in said)


# Always

LOOKS = st.lists(st.tuples(st.integers(0, 60), st.booleans(), st.booleans()), max_size=6)


def by_hand(rows: list[tuple[int, bool, bool]], woken: list[int], today: int) -> bool:
    """The rule of the weaker gate, written a second time: the last looks that count are all clear and not
    sweet, over three days or more, and the newest is not older than two weeks.
    """
    first = 21 + max([0, *woken])
    counted = sorted(row for row in rows if first <= row[0] <= today)
    streak: list[int] = []
    for on, clear, sweet in counted:
        streak = [*streak, on] if clear and not sweet else []
    return bool(streak) and streak[-1] - streak[0] >= 3 and today - streak[-1] <= 14


@settings(max_examples=300)
@given(LOOKS, st.lists(st.integers(0, 40), max_size=2), st.integers(0, 90))
def test_the_gate_of_looks_is_the_rule(rows: list[tuple[int, bool, bool]], woken: list[int], today: int):
    unique = {row[0]: row for row in rows if row[0] <= today}
    given_looks = [looks.Look(*row) for row in unique.values()]
    verdict = looks.judge_by_looks(given_looks, woken, today)
    assert (verdict.state == "pass-with-care") == by_hand(list(unique.values()), woken, today)
    assert verdict.next_day is None or verdict.next_day >= today


@settings(max_examples=30)
@given(LOOKS, st.integers(0, 60))
def test_no_bottle_is_filled_before_three_weeks_and_two_looks(rows: Any, today: int):
    unique = sorted({row[0]: row for row in rows if row[0] <= today}.values())
    on = {row[0]: (date(2027, 3, 6) + timedelta(days=row[0])).strftime("%m-%d") for row in unique}
    words = {True: "yes", False: "no"}
    tree = looked(*((on[number], words[clear], words[sweet]) for number, clear, sweet in unique))
    plan = plan_of(tree, date(2027, 3, 6) + timedelta(days=today))
    tastes = [task for task in plan.tasks if task.id.startswith("taste-")]
    assert len(tastes) >= 2
    assert plan.task("bottle").day >= max(24, tastes[-1].day)
    assert all(task.state == "done" or task.day >= today for task in tastes)


@settings(max_examples=40)
@given(LOOKS, st.integers(20, 45))
def test_the_looks_that_are_planned_are_the_first_on_which_the_gate_could_pass(rows: Any, today: int):
    """Where one is planned, a good look on any earlier day would not pass; where two are, no single one."""
    taken = sorted({row[0]: row for row in rows if row[0] <= today}.values())
    on = {row[0]: (date(2027, 3, 6) + timedelta(days=row[0])).strftime("%m-%d") for row in taken}
    words = {True: "yes", False: "no"}
    tree = looked(*((on[number], words[clear], words[sweet]) for number, clear, sweet in taken))
    plan = plan_of(tree, date(2027, 3, 6) + timedelta(days=today))
    ahead = [task.day for task in plan.tasks if task.id.startswith("taste-") and task.state != "done"]

    def passes(*more: int) -> bool:
        later = [*taken, *((day_number, True, False) for day_number in more)]
        return by_hand(later, [], max(today, *more))

    if plan.gate.state == "by-looks":
        assert not ahead
    elif len(ahead) == 1:
        assert passes(ahead[0])
        assert not any(passes(number) for number in range(today, ahead[0]))
    else:
        assert passes(*ahead)
        assert plan.gate.next_date == date(2027, 3, 6) + timedelta(days=ahead[0])
        assert not any(passes(number) for number in range(today, ahead[1] + 3))


def test_of_two_looks_of_one_day_the_worse_one_counts():
    for rows in ((GOOD[1], ("03-30", "no", "no")), (("03-30", "no", "no"), GOOD[1])):
        gate = plan_of(looked(GOOD[0], *rows), day("3-30")).gate
        assert [said.id for said in gate.because] == ["gate.cloudy-or-sweet"]


def test_the_plan_says_so_before_brew_day():
    assert "warn.looks-weaker" in ids(planned(bare(), FEBRUARY)[1], "warn")
