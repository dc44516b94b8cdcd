"""The day of an event on paper, in the calendar file and in the terminal."""

from __future__ import annotations

from datetime import date
from typing import Any

from sheetgen.commands import common, show_events
from sheetgen.planning.plan import Plan
from sheetgen.printing.views import calendar
from sheetgen.printing.views.fridge import MOST_ROWS, chosen_rows, fridge
from sheetgen.printing.views.timeline import scale_of, timeline

from .described import plan_of
from .parties import party

WORDS = common.words_of("en-GB", "metric")


def rows(plan: Plan) -> list[tuple[str, list[str]]]:
    """Verb and notes of each row on the fridge sheet."""
    view: Any = fridge(plan, WORDS)
    return [
        (row["verb"], ["".join(run["text"] for run in line) for line in row["lines"]]) for row in view["rows"]
    ]


def test_the_fridge_sheet_ends_with_the_fridge_and_the_day():
    plan = plan_of(party("2027-06-12"))
    assert rows(plan)[-2:] == [
        ("Chill", ["24 bottles into the fridge", "for supper"]),
        ("Serve", ["supper", "18 guests, 30\u00a0days to spare"]),
    ]


def test_without_name_or_guests_it_is_the_event():
    tree = {**party("2027-06-12", volume="12 L"), "event": {"date": "2027-06-12"}}
    assert [notes[-1] for _, notes in rows(plan_of(tree))[-2:]] == ["for the event", "30\u00a0days to spare"]


def test_an_event_that_comes_too_soon_for_what_is_brewed_says_from_when_on():
    plan = plan_of(party("2027-03-20", actual={"brewed": "2027-03-06"}), date(2027, 3, 8))
    assert ("Serve", ["supper", "ready only on Sat\u00a03\u00a0Apr"]) in rows(plan)


def test_four_events_leave_room_for_bottling_and_for_the_days_themselves():
    events = [{"date": f"2027-0{month}-12", "name": "regatta", "guests": "9"} for month in (5, 6, 7, 8)]
    tree = party("2027-05-12", bottles="150 x 330 ml pet")
    plan = plan_of({**tree, "event": events, "away": ["2027-05-01..2027-05-20"]})
    kept = [row.task.id for row in chosen_rows(plan) if row.task]
    assert len(kept) <= MOST_ROWS
    assert {"brew", "bottle", "drink-from", "event", "event-2", "event-3", "event-4"} <= set(kept)


def test_the_timeline_reaches_to_the_last_event_and_names_the_next():
    plan = plan_of(party("2027-06-12"))
    scale = scale_of(plan, WORDS)
    assert scale.first <= plan.task("brew").when.expected
    assert scale.last >= date(2027, 6, 12)
    view: Any = timeline(plan, WORDS)
    (lane,) = [lane for lane in view["lanes"] if lane["name"] == "Serve"]
    assert lane["marks"] == (scale.middle(date(2027, 6, 12)),)
    assert lane["note"][0]["text"] == "supper"


def test_the_calendar_file_has_the_day_for_the_fridge():
    plan = plan_of(party("2027-06-12"))
    (chill,) = [one for one in calendar.events(plan, WORDS) if "Chill" in one.summary]
    assert chill.on == date(2027, 6, 10)
    assert "24 bottles in the fridge for supper on Sat" in chill.description


def test_show_has_the_last_days_that_still_meet_it():
    _, row = show_events.event_rows(plan_of(party("2027-06-12")), WORDS)
    assert row == (
        "supper",
        "Sat 12 Jun",
        "Tue 11 May",
        "30 days",
        "Thu 13 May",
        "Tue 13 Apr",
        "Thu 27 May",
        "24 on Thu 10 Jun",
    )
