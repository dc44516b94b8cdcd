"""Heat to come and what keeps less long: where paper, phone and plan speak of them."""

from __future__ import annotations

from sheetgen.printing.views import calendar
from sheetgen.printing.views.fridge import fridge
from sheetgen.printing.views.timeline import timeline

from .described import day, plan_of, six
from .happenings import PASSED as READ
from .test_plan_sentences import words_of
from .test_rooms import HEAT, by_dates, places

ENGLISH = words_of("en-GB", "metric")
TWO_SPELLS = by_dates(12, ("2027-06-01", 33), ("2027-06-05", 35), ("2027-06-20", 18), ("2027-07-20", 30))


def test_a_task_stands_before_each_spell_of_heat_and_none_where_it_only_gets_warmer():
    plan = plan_of(places(storing=TWO_SPELLS))
    assert plan.keeping is not None
    assert [(hot.on, hot.begins) for hot in plan.keeping.hot] == [
        (day("6-1"), True),
        (day("6-5"), False),
        (day("7-20"), True),
    ]
    moves = [(task.id, task.when.expected) for task in plan.tasks if task.id.startswith("heat-")]
    assert moves == [("heat-1", day("5-31")), ("heat-2", day("7-19"))]


def test_each_spell_is_in_the_calendar_on_the_fridge_sheet_and_under_the_timeline():
    plan = plan_of(places(storing=TWO_SPELLS))
    events = {event.uid_key: event for event in calendar.events(plan, ENGLISH)}
    assert "33" in events["27A/heat-1"].description
    assert "30" in events["27A/heat-2"].description
    assert [row["verb"] for row in fridge(plan, ENGLISH)["rows"]].count("To cool") == 2
    ends = timeline(plan, ENGLISH)["ends"]
    assert sum("bar" in line for line in ends) == 2
    assert "Taste" in ends[-1]


def test_heat_that_has_come_is_the_next_thing_to_do():
    told = {"brewed": "2027-03-06", "readings": READ, "bottled": {"on": "2027-03-20", "litres": "11"}}
    plan = plan_of({**places(storing=HEAT), "actual": told}, day("4-30"))
    assert plan.task("heat-1").state == "next"


def test_plastic_that_keeps_less_long_says_so_on_the_fridge_sheet():
    mixed = plan_of(six(bottles="6 x 1 L pet, 18 x 500 ml returnable glass"))
    assert "plastic" in str(fridge(mixed, ENGLISH)["rows"][-1]["lines"])
    for alone in ("40 x 500 ml pet", "40 x 500 ml returnable glass"):
        assert "plastic" not in str(fridge(plan_of(six(bottles=alone)), ENGLISH)["rows"][-1]["lines"])
