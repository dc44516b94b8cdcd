"""Lives written by hand.  Day 0 is Saturday 6 March 2027 unless it says otherwise; at 20 C the first test is
on day 11 or later, the second three days on, bottling on day 14 or later and not before the second test;
drinking fourteen days after filling.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from sheetgen.planning.life import work_of_task
from sheetgen.planning.plan import Plan
from sheetgen.printing.views.timeline import timeline

from .described import day, ids, plan_of, planned, six
from .test_plan_sentences import words_of

NURSE = {"from": "2027-03-01", "turns": ["early 2", "late 2", "night 2", "off 4"]}
SECOND_WEEKEND = {"days": ["sat", "sun"], "every": "2 weeks", "from": "2027-03-06"}


def days(plan: Plan, *names: str) -> list[str]:
    """The expected days of tests and bottling, or of other tasks."""
    wanted = names or ("test-1", "test-2", "bottle")
    return [plan.task(name).when.expected.strftime("%a %-d %b") for name in wanted]


def test_a_nurse_works_six_days_and_has_four_off():
    # off from 1 March: days 7-10, 17-20, 27-30; brewed on the 7th, day 11 is the 18th
    plan = plan_of(six(brew_day="2027-03-07", shifts=NURSE))
    assert days(plan) == ["Thu 18 Mar", "Sat 27 Mar", "Sat 27 Mar"]
    [move] = plan.task("test-2").moves
    assert (move.was, move.because.id) == (day("3-21"), "move.at-work")
    assert move.cost is not None
    assert (move.cost.id, move.cost.values["days"]) == ("cost.days", 6)  # the 21st would do: day 14


def test_a_nurse_is_home_between_shifts():
    plan = plan_of(six(brew_day="2027-03-07", shifts=NURSE))
    assert days(plan, "test-bottle", "move-to-cool") == ["Sat 3 Apr", "Sat 10 Apr"]  # both are working days


def test_a_nurse_who_brews_at_work_is_asked():
    plan, problems = planned(six(shifts=NURSE))
    assert plan is not None
    [warning] = [each for each in problems.of("warn") if each.message.id == "warn.brew-day-not-mine"]
    assert warning.fix.values["on"] == day("3-7")


def test_a_day_named_as_free_is_free_in_a_shift_and_a_public_one_is_not():
    assert days(plan_of(six(brew_day="2027-03-07", shifts=NURSE, holidays=["2027-03-21"]))) == [
        "Thu 18 Mar",
        "Sun 21 Mar",
        "Sun 21 Mar",
    ]
    good_friday = {"public-holidays": "DE", "shifts": {"from": "2027-03-26", "turns": ["work 2", "off 5"]}}
    plan = plan_of(six(brew_day="2027-03-15", **good_friday))  # day 11 is Good Friday, the 26th: at work
    assert days(plan, "test-1") == ["Sun 28 Mar"]


def test_a_public_holiday_is_one_of_ones_days():
    plan = plan_of(six(brew_day="2027-03-13", **{"my-days": ["sat"], "public-holidays": "DE"}))
    # day 11 is Wed 24; Good Friday is the 26th, three days on Easter Monday: the 29th, day 16
    assert days(plan) == ["Fri 26 Mar", "Mon 29 Mar", "Mon 29 Mar"]


def test_school_holidays_are_a_run_of_free_days():
    plan = plan_of(six(**{"my-days": ["sat"], "holidays": ["2027-03-22..2027-04-02"]}))
    assert days(plan) == ["Sat 20 Mar", "Tue 23 Mar", "Tue 23 Mar"]


def test_every_second_weekend():
    plan = plan_of(six(**{"my-days": SECOND_WEEKEND}))
    # 6 and 7 March, 20 and 21, 3 and 4 April; day 11 is the 17th, and three days after the 20th is the 23rd
    assert days(plan) == ["Sat 20 Mar", "Sat 3 Apr", "Sat 3 Apr"]
    plan = plan_of(six(brew_day="2027-03-02", **{"my-days": {"testing": SECOND_WEEKEND}}))
    [move] = plan.task("test-1").moves  # day 11 is Saturday 13 March, between two of them
    assert (move.because.id, days(plan, "test-1")) == ("move.not-my-week", ["Sat 20 Mar"])


def test_weeks_go_on_over_the_end_of_a_year_with_53():
    # 2026 has a week 53: Saturday 26 December, then every second one: 9 January, 23 January
    turns = {"days": ["sat"], "every": "2 weeks", "from": "2026-12-26"}
    plan = plan_of(six(brew_day="2026-12-26", **{"my-days": turns}), date(2026, 12, 20))
    assert days(plan) == ["Sat 9 Jan", "Sat 23 Jan", "Sat 23 Jan"]


def test_days_by_kind_of_work():
    mine = {"brewing": ["sat"], "testing": "any", "bottling": ["sun"]}
    plan = plan_of(six(**{"my-days": mine}))
    assert days(plan) == ["Wed 17 Mar", "Sat 20 Mar", "Sun 21 Mar"]
    assert plan.task("bottle").moves[0].because.id == "move.not-my-day"


def test_hops_and_looks_have_days_of_their_own():
    mine = {"adding": ["fri"], "looking": ["mon"]}
    plan = plan_of(six(recipe="slipway-nine-pale", **{"my-days": mine}))
    # day 8 is Sunday 14 March; test 1 three days after Friday the 19th, bottling with test 2 on the 25th
    assert days(plan, "dry-hop", "test-1", "bottle") == ["Fri 19 Mar", "Mon 22 Mar", "Thu 25 Mar"]
    assert days(plan, "test-bottle") == ["Mon 5 Apr"]


def test_only_sundays():
    plan = plan_of(six(brew_day="2027-03-07", **{"my-days": ["sun"]}))
    assert days(plan) == ["Sun 21 Mar", "Sun 28 Mar", "Sun 28 Mar"]


def test_a_month_abroad_makes_it_late_and_names_a_brew_day_that_does_not():
    plan, problems = planned(six(away=["2027-03-20..2027-04-19"]))
    assert plan is not None
    assert days(plan) == ["Wed 17 Mar", "Tue 20 Apr", "Tue 20 Apr"]
    [warning] = [each for each in problems.of("warn") if each.message.id == "warn.late-bottling"]
    # from Friday 12 March, day 11 is away; tests on 20 and 23 April, day 42 exactly
    assert warning.fix.values["on"] == day("3-12")
    [move] = plan.task("test-2").moves
    assert move.cost is not None
    assert (move.cost.id, move.cost.values["days"]) == ("cost.late", 31)


def test_a_day_abroad_costs_nothing_where_the_drink_waits_anyway():
    plan = plan_of(six(away=["2027-03-17..2027-03-18"], **{"my-days": {"bottling": ["sun"]}}))
    [move] = plan.task("test-1").moves  # tests on 19 and 22 March, bottling on Sunday 28 instead of 21
    assert move.cost is not None
    assert move.cost.values["days"] == 7
    plan = plan_of(six(away=["2027-03-17"], **{"my-days": {"bottling": ["sun"]}}))
    [move] = plan.task("test-1").moves  # tests on 18 and 21 March, and bottling on Sunday 21 as well
    assert (move.because.id, move.cost and move.cost.id) == ("move.away-on", "cost.nothing")


@pytest.mark.parametrize(
    ("away", "stops", "warns"),
    [
        ("2027-03-06..2027-03-07", ["stop.brew-day-away"], []),  # nobody on days 0 and 1
        ("2027-03-06", ["stop.brew-day-away"], []),
        ("2027-03-07..2027-03-08", [], ["warn.first-days-away"]),
        ("2027-03-09", [], ["warn.first-days-away"]),
        ("2027-03-10", [], []),
    ],
)
def test_the_first_days_need_somebody_at_home(away: str, stops: list[str], warns: list[str]):
    _, problems = planned(six(away=[away]))
    assert (ids(problems, "stop"), ids(problems, "warn")) == (stops, warns)


def test_a_brew_day_that_works_leaves_a_day_for_everything():
    # only Saturdays, away on 6 March, then from 27 March for years: brewed on the 13th, no test is left
    tree = six(away=["2027-03-06", "2027-03-27..2030-01-01"], **{"my-days": ["sat"]})
    _, problems = planned(tree)
    assert ids(problems, "stop") == ["stop.no-day"]
    [stop] = problems.of("stop")
    assert stop.fix.id == "fix.no-day"  # no brew day would do
    assert stop.fix.values["ways"] == "away"


def test_a_life_in_which_shifts_take_every_test_day():
    shifts = {"from": "2027-03-17", "to": "2028-03-24", "turns": ["work 1", "off 6"]}
    _, problems = planned(six(shifts=shifts, **{"my-days": {"testing": ["wed"]}}))
    [stop] = problems.of("stop")
    assert stop.message.values["work"] == "testing"
    assert stop.fix.values["ways"] == "shifts|my-days"
    # the first free Wednesday is 29 March 2028, the second test a week later: day 42 of 23 February, which is
    # a Wednesday at work
    assert stop.fix.values["on"] == date(2028, 2, 24)


def test_no_other_brew_day_is_named_once_it_is_brewed():
    for life in ({}, {"actual": {"brewed": "2027-03-06"}}):
        _, problems = planned(six(away=["2027-03-20..2027-04-19"], **life), day("3-8"))
        [late] = [each for each in problems.of("warn") if each.message.id == "warn.late-bottling"]
        assert late.fix == ""


def test_a_leap_day_is_a_day():
    plan = plan_of(six(brew_day="2028-02-18", **{"my-days": {"testing": ["tue"]}}), date(2028, 2, 1))
    assert plan.task("test-1").when.expected == date(2028, 2, 29)
    assert plan.task("test-1").day == 11


def test_away_over_the_end_of_the_year():
    plan = plan_of(six(brew_day="2027-12-18", away=["2027-12-29..2028-01-02"]), date(2027, 12, 1))
    assert days(plan) == ["Mon 3 Jan", "Thu 6 Jan", "Thu 6 Jan"]
    assert plan.task("test-1").moves[0].was == date(2027, 12, 29)


@pytest.mark.parametrize("changes", ["2027-03-28", "2027-10-31", "2027-03-14", "2027-11-07"])
def test_nights_on_which_the_clock_changes_are_one_day_long(changes: str):
    """Europe's and America's: dates have no hours, so nothing is a day short or long."""
    brewed = date.fromisoformat(changes) - timedelta(days=11)
    plan = plan_of(six(brew_day=f"{brewed} 10:00"), date(2027, 1, 1))
    assert plan.task("test-1").when.expected == date.fromisoformat(changes)
    assert plan.task("look-24h").clock is not None


def test_the_kind_of_work_of_a_task():
    found = {name: work_of_task(name) for name in ("brew", "test-12", "taste-2", "bottle", "dry-hop")}
    assert list(found.values()) == ["brewing", "testing", "testing", "bottling", "adding"]
    assert [work_of_task(name) for name in ("add-day-3", "rack-1")] == ["adding", "racking"]
    assert work_of_task("strain-2") == "racking"
    assert {work_of_task(name) for name in ("test-bottle", "squeeze", "look-12h", "stir-3")} == {"looking"}


def _hatched(view: Any) -> int:
    """How many cells of the calendar are hatched."""
    inside = view.values() if hasattr(view, "values") else view if isinstance(view, tuple) else ()
    own = hasattr(view, "values") and view.get("away") is True
    return own + sum(_hatched(each) for each in inside)


def hatched(**life: Any) -> int:
    return _hatched(timeline(plan_of(six(**life)), words_of("en-GB", "metric")))


def test_only_days_away_are_hatched():
    assert hatched() == 0
    assert hatched(brew_day="2027-03-07", shifts=NURSE) == 0
    assert hatched(**{"my-days": SECOND_WEEKEND}) == 0
    assert hatched(away=["2027-03-17..2027-03-19"]) == 3
