"""Dates by hand.  Day 0 is Saturday 6 March 2027; the batch has six lines, so every day of the week works.

Base days of an ale at 20 to 22 C: test 1 on day 11 (never before 7), test 2 three days on, bottling on day 14
(never before 10, nor before test 2), worry from day 28; factors 14 C 1.8, 14.5 C 1.7, 18.5 C 1.1, 24 C 0.8,
27.5 C and over 0.7.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from .described import FEBRUARY, changed, day, example, ids, plan_of, planned, six

BREWED = {"brewed": "2027-03-06"}


def number(plan: Any, task: str, which: str = "expected") -> int:
    return (getattr(plan.task(task).when, which) - day("3-6")).days


# room: expected test 1, test 2, bottling; earliest test 1 and bottling; latest bottling; days to drinking
@pytest.mark.parametrize(
    ("room", "expected", "earliest", "latest", "wait"),
    [
        # 11 x 1.8 = 19.8; readings 4 days apart; 14 x 1.8 = 25.2; walls 12.6 and 18; 28 x 1.8 = 50.4
        ("14 C", (20, 24, 26), (13, 18), 51, 41),
        # 18.7; + 4; 23.8; walls 11.9 and 17; 47.6
        ("14.5 C", (19, 23, 24), (12, 17), 48, 38),
        ("20 C", (11, 14, 14), (7, 10), 28, 14),
        ("22 C", (11, 14, 14), (7, 10), 28, 14),
        # 8.8, then test 2 three days on; warmth never shortens a wall, nor the latest
        ("24 C", (9, 12, 12), (7, 10), 28, 11),
        # 7.7 and 8.5 days of fizz: ten days to drinking hold
        ("29 C", (8, 11, 11), (7, 10), 28, 10),
    ],
)
def test_the_room_sets_the_pace(
    room: str, expected: tuple[int, ...], earliest: tuple[int, ...], latest: int, wait: int
):
    plan = plan_of(six(room=room))
    assert tuple(number(plan, task) for task in ("test-1", "test-2", "bottle")) == expected
    assert tuple(number(plan, task, "earliest") for task in ("test-1", "bottle")) == earliest
    assert number(plan, "bottle", "latest") == latest
    assert plan.labels.wait_days == wait
    assert plan.labels.not_before == plan.labels.filled + timedelta(days=wait)


# 1.7 kg of extract are 510 litre-degrees; so many litres of them
@pytest.mark.parametrize(
    ("litres", "room", "test_1", "wait"),
    [
        ("9.3", "20 C", 11, 14),  # 54.8 points: not strong yet
        ("8.5", "20 C", 15, 21),  # 60: + 4 / + 7
        ("7", "20 C", 19, 42),  # 72.9: + 7.96 / + 27.8
        ("6", "20 C", 25, 70),  # 85: + 14 / + 56
        ("5.1", "20 C", 32, 126),  # 100: + 21 / + 112
        ("8.5", "18.5 C", 17, 27),  # (11 + 4) x 1.1 = 16.5; 18 days of fizz + 7 x 18/14
        ("8.5", "24 C", 12, 18),  # (11 + 4) x 0.8; 10.5 + 7: warmth does not shorten what strength needs
    ],
)
def test_strength_takes_time(litres: str, room: str, test_1: int, wait: int):
    plan = plan_of(six(room=room, actual={**BREWED, "litres": litres}), day("3-6"))
    assert number(plan, "test-1") == test_1
    assert plan.labels.wait_days == wait


def test_hops_go_in_three_days_before_the_first_test_and_stay_six():
    plan = plan_of(six(recipe="slipway-nine-pale"))
    assert [number(plan, task) for task in ("dry-hop", "test-1", "bottle")] == [8, 11, 14]
    assert number(plan, "dry-hop", "earliest") == 4


@pytest.mark.parametrize(
    ("hopped", "warned"), [("2027-03-11", False), ("2027-03-10", False), ("2027-03-09", True)]
)
def test_hops_that_stay_in_more_than_ten_days_are_a_warning(hopped: str, warned: bool):
    tree = six(
        recipe="slipway-nine-pale", actual={**BREWED, "dry-hopped": hopped}
    )  # bottling stays on day 14
    plan, problems = planned(tree, day("3-12"))
    assert plan is not None
    assert number(plan, "bottle") == 14
    assert ("warn.hops-long" in ids(problems, "warn")) == warned


def test_hops_that_are_late_take_the_test_along():
    plan = plan_of(six(recipe="slipway-nine-pale", actual=BREWED), day("3-20"))  # day 14, and not in yet
    assert [number(plan, task) for task in ("dry-hop", "test-1", "test-2", "bottle")] == [14, 17, 20, 20]


def test_hops_that_went_in_late_hold_back_the_earliest_bottling():
    plan = plan_of(
        six(recipe="slipway-nine-pale", actual={**BREWED, "dry-hopped": "2027-03-18"}), day("3-18")
    )
    # day 12; test 1 three days on, test 2 two days after that, and the same day bottling
    assert [number(plan, task, "earliest") for task in ("test-1", "test-2", "bottle")] == [15, 17, 17]


def test_readings_from_before_the_hops_do_not_count():
    readings = [{"on": "2027-03-17", "sg": "1.012 at 20 C"}, {"on": "2027-03-20", "sg": "1.012 at 20 C"}]
    plan, problems = planned(
        six(recipe="slipway-nine-pale", actual={**BREWED, "readings": readings}), day("3-20")
    )
    assert plan is not None
    assert plan.gate.state == "not-yet"
    assert number(plan, "test-1") == 17
    assert "warn.hops-pending" in ids(problems, "warn")


def test_what_moves_says_why():
    plan = plan_of(six(away=["2027-03-17..2027-03-19"]))  # day 11 is the 17th
    [move] = plan.task("test-1").moves
    assert (move.was, move.because.id, move.because.values["until"]) == (
        day("3-17"),
        "move.away",
        day("3-19"),
    )
    assert plan.task("test-1").when.expected == day("3-20")
    assert plan.task("bottle").moves == ()  # it follows test 2, which follows test 1


def test_my_days_and_holidays():
    plan = plan_of(six(**{"my-days": ["sat"], "holidays": ["2027-03-23"]}))
    assert plan.task("test-1").when.expected == day("3-20")  # the 17th is a Wednesday
    assert plan.task("test-1").moves[0].because.id == "move.not-my-day"
    assert plan.task("test-2").when.expected == day("3-23")  # three days on, a holiday
    assert plan.task("bottle").when.expected == day("3-23")  # the same day, after the reading


def test_looks_and_drinking_need_no_day_of_mine():
    plan = plan_of(six(**{"my-days": ["sat"]}))
    assert plan.task("look-48h").when.expected == day("3-8")
    assert plan.task("drink-from").when.expected == plan.labels.not_before


def test_a_brew_day_while_away_is_a_stop_with_the_next_day_that_works():
    plan, problems = planned(six(away=["2027-03-06..2027-03-07", "2027-03-10..2027-03-12"]))
    assert plan is None
    [problem] = problems.of("stop")
    assert problem.message.id == "stop.brew-day-away"
    assert problem.fix.values["on"] == day("3-13")  # home on it and on the three days after


@pytest.mark.parametrize(
    ("away", "warned"), [("2027-03-09..2027-03-12", True), ("2027-03-10..2027-03-12", False)]
)
def test_somebody_is_home_for_the_first_three_days(away: str, warned: bool):
    assert ("warn.first-days-away" in ids(planned(six(away=[away]))[1], "warn")) == warned


def test_a_warning_stays_one_when_no_better_day_is_found():
    every_tuesday = [str(day("3-9") + timedelta(weeks=n)) for n in range(60)]
    plan, problems = planned(six(**{"my-days": ["sat", "sun", "mon"], "away": every_tuesday}))
    assert plan is not None
    [warning] = [problem for problem in problems.of("warn") if problem.message.id == "warn.first-days-away"]
    assert warning.fix == ""


def test_a_life_without_a_day_ends_with_a_sentence():
    plan, problems = planned(six(away=["2027-03-10..2028-12-31"]))
    assert plan is None
    assert ids(problems, "stop") == ["stop.no-day"]


def test_the_latest_day_is_a_warning():
    # day 42 is tolerable up to 22 C
    home_on_17_april, home_on_18_april = "2027-03-10..2027-04-13", "2027-03-10..2027-04-14"
    assert "warn.late-bottling" not in ids(planned(six(away=[home_on_17_april]))[1], "warn")
    assert "warn.late-bottling" in ids(planned(six(away=[home_on_18_april]))[1], "warn")


# What was done so far, on which day we look, and what comes next
@pytest.mark.parametrize(
    ("readings", "today", "state", "task", "on"),
    [
        ([], 12, "not-yet", "test-1", 12),
        ([], 30, "not-yet", "test-1", 30),
        ([(11, 1.012)], 11, "wait", "test-2", 14),  # as planned before: what comes true moves nothing
        ([(11, 1.012)], 20, "wait", "test-2", 20),
        ([(11, 1.012), (14, 1.012)], 14, "pass", "bottle", 14),
        ([(7, 1.012), (9, 1.012)], 9, "pass", "bottle", 10),
        ([(11, 1.012), (14, 1.012)], 28, "pass", "bottle", 28),
        ([(11, 1.012), (14, 1.012)], 29, "wait", "test-3", 29),
        ([(11, 1.016), (14, 1.013)], 14, "wait", "test-3", 16),
        ([(11, 1.010), (14, 1.013)], 14, "measure-again", "test-3", 14),
        ([(11, 1.020), (14, 1.020)], 14, "stuck", "test-3", 17),
        # between 1.013 and 1.015: six days of the same
        ([(11, 1.014), (14, 1.014)], 14, "wait", "test-3", 17),
        ([(11, 1.014), (14, 1.014), (17, 1.014)], 17, "pass-with-care", "bottle", 17),
    ],
)
def test_a_new_plan_starts_from_what_was_read(readings: Any, today: int, state: str, task: str, on: int):
    written = [{"on": str(day("3-6") + timedelta(days=n)), "sg": f"{sg:.3f} at 20 C"} for n, sg in readings]
    plan = plan_of(six(actual={**BREWED, "readings": written}), day("3-6") + timedelta(days=today))
    assert plan.gate.state == state
    assert number(plan, task) == on
    assert number(plan, "bottle") >= max(10, on)
    assert plan.labels.allowed == (state in ("not-yet", "pass", "pass-with-care") or len(readings) == 1)
    assert next(one.id for one in plan.tasks if one.state == "next") == task


# The tests still to come, and the earliest bottling, in a room of 20 C
@pytest.mark.parametrize(
    ("readings", "tests", "bottle"),
    [
        ([(11, 1.016), (14, 1.013)], (16,), 16),
        ([(11, 1.010), (14, 1.013)], (14, 16, 18), 18),  # after a rise no single number agrees with both
        ([(11, 1.020), (14, 1.020)], (17, 19), 19),  # stuck: lower first, and then the same once more
        ([(11, 1.014), (14, 1.014)], (17,), 17),
    ],
)
def test_bottling_waits_for_as_many_readings_as_a_pass_takes(readings: Any, tests: Any, bottle: int):
    written = [{"on": str(day("3-6") + timedelta(days=n)), "sg": f"{sg:.3f} at 20 C"} for n, sg in readings]
    plan = plan_of(six(actual={**BREWED, "readings": written}), day("3-6") + timedelta(days=14))
    to_come = [one for one in plan.tasks if one.kind == "testing" and one.state != "done"]
    assert tuple(task.day for task in to_come) == tests
    assert number(plan, "bottle", "earliest") == bottle


def test_what_was_not_done_in_time_says_so():
    plan = plan_of(six(actual=BREWED), day("3-30"))
    [move] = plan.task("test-1").moves
    assert (move.was, move.because.id) == (day("3-17"), "move.today")


def test_a_pass_that_will_lapse_before_bottling_is_said():
    readings = [{"on": "2027-03-17", "sg": "1.012 at 20 C"}, {"on": "2027-03-20", "sg": "1.012 at 20 C"}]
    for home, said_so in (("2027-04-03", False), ("2027-04-04", True)):
        last = date.fromisoformat(home) - timedelta(days=1)
        tree = six(away=[f"2027-03-20..{last}"], actual={**BREWED, "readings": readings})
        problems = planned(tree, day("3-20"))[1]
        assert ("warn.pass-lapses" in ids(problems, "warn")) == said_so


def test_the_gate_of_a_bottled_batch_is_that_of_its_bottling_day():
    plan = plan_of(example("27c"), date(2027, 7, 1))
    assert plan.gate.state == "pass"
    assert plan.safety is None
    assert plan.task("bottle").when.expected == day("3-27")
    assert [task.id for task in plan.tasks if task.state != "done"] == ["best-before"]


def test_brewed_later_moves_everything_that_is_to_come():
    on_time = plan_of(six())
    later = plan_of(six(actual={"brewed": "2027-03-10"}), day("3-10"))
    for task in ("test-1", "test-2", "bottle", "drink-from", "best-before"):
        assert later.task(task).when.expected - on_time.task(task).when.expected == timedelta(days=4)


def test_a_past_brew_day_is_taken_as_brewed():
    plan, problems = planned(six(), day("3-8"))
    assert plan is not None
    assert ids(problems, "warn") == ["warn.past-brew-day"]
    assert plan.task("brew").state == "done"
    assert planned(six(), day("3-6"))[1].of("warn") == []


def test_cold_yeast_keeps_its_own_range():
    cider = changed(six(recipe="plot-eleven-cider"), "room", {"fermenting": "12 C", "warm-place": "20 C"})
    plan = plan_of(cider, FEBRUARY)  # 14 C is 1.8, half a degree 0.1: 12 C is 2.2; 16 x 2.2 = 35.2
    assert number(plan, "test-1") == 36
