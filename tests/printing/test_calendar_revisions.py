"""The calendar over the months: revisions, cancelled days, several batches, alarms; phones are simulated."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model import Alarms, OldPlan, OldTask
from sheetgen.planning.alarms import is_quiet, ring_at
from sheetgen.planning.plan import Plan, When
from sheetgen.printing.calendar_file import calendar_bytes, sequence_of
from sheetgen.printing.views.calendar import events, joint_name

from .sample_plan import PLAN, words

WORDS = words()
TODAY = date(2027, 2, 20)


def old(plan: Plan) -> OldPlan:
    """The plan as it is read back from its JSON."""
    return OldPlan(
        plan.code,
        plan.printed,
        tuple(OldTask(t.id, t.when.expected, t.hands_on, t.state == "done") for t in plan.tasks),
    )


def file_of(plan: Plan, before: OldPlan | None = None) -> bytes:
    return calendar_bytes("27A", events(plan, WORDS, before), plan.printed, "en-GB")


def vevents(data: bytes) -> list[icalendar.Component]:
    return list(icalendar.Calendar.from_ical(data).walk("VEVENT"))


class Phone:
    """A store as phones have it: by UID, the higher SEQUENCE wins, then the later stamp."""

    def __init__(self) -> None:
        self.held: dict[str, icalendar.Component] = {}

    def take_in(self, data: bytes) -> None:
        for event in vevents(data):
            there = self.held.get(event["uid"])
            if there is None or self._rank(event) >= self._rank(there):
                self.held[event["uid"]] = event

    @staticmethod
    def _rank(event: icalendar.Component) -> tuple[int, datetime]:
        return event["sequence"], event["dtstamp"].dt

    def shown(self) -> dict[str, date]:
        return {
            str(event["summary"]): event["dtstart"].dt
            for event in self.held.values()
            if event["status"] == "CONFIRMED"
        }


def printed_on(plan: Plan, on: date) -> Plan:
    return replace(plan, printed=on)


def without(plan: Plan, *ids: str) -> Plan:
    return replace(plan, tasks=tuple(task for task in plan.tasks if task.id not in ids))


def moved(plan: Plan, days: int) -> Plan:
    """All days later by so many."""
    by = timedelta(days=days)
    return replace(
        plan,
        tasks=tuple(
            replace(
                task,
                when=When(
                    task.when.earliest + by,
                    task.when.expected + by,
                    task.when.latest and task.when.latest + by,
                ),
            )
            for task in plan.tasks
        ),
    )


def test_a_hundred_printings_leave_each_day_once_and_where_the_last_one_put_it():
    phone, before = Phone(), None
    for number in range(100):
        plan = printed_on(moved(PLAN, number % 7), TODAY + timedelta(days=number))
        phone.take_in(file_of(plan, before))
        before = old(plan)
    last = {event.summary: event.on for event in events(moved(PLAN, 99 % 7), WORDS)}
    assert phone.shown() == last
    assert len(phone.held) == len(last)


def test_an_old_file_taken_in_again_changes_nothing():
    phone = Phone()
    first, second = file_of(PLAN), file_of(printed_on(moved(PLAN, 3), TODAY + timedelta(days=9)))
    phone.take_in(first)
    phone.take_in(second)
    shown = phone.shown()
    phone.take_in(first)
    assert phone.shown() == shown


def test_what_is_gone_is_cancelled_and_leaves_the_phone():
    phone, later = Phone(), printed_on(without(PLAN, "squeeze"), TODAY + timedelta(days=9))
    phone.take_in(file_of(PLAN))
    phone.take_in(file_of(later, old(PLAN)))
    assert set(phone.shown()) == {event.summary for event in events(later, WORDS)}
    (gone,) = [event for event in vevents(file_of(later, old(PLAN))) if event["status"] == "CANCELLED"]
    assert str(gone["summary"]) == "27A: Squeeze, cancelled"
    assert not gone.walk("VALARM")
    assert gone["sequence"] == sequence_of(later.printed)


def test_on_the_same_day_a_cancelled_event_is_still_a_later_one():
    phone = Phone()
    phone.take_in(file_of(PLAN))
    phone.take_in(file_of(without(PLAN, "squeeze"), old(PLAN)))
    assert "27A: Squeeze" not in phone.shown()


def test_what_comes_back_is_shown_again():
    phone, ago = Phone(), old(PLAN)
    phone.take_in(file_of(PLAN))
    phone.take_in(file_of(without(PLAN, "squeeze"), ago))
    phone.take_in(file_of(printed_on(PLAN, TODAY + timedelta(days=1))))
    assert "27A: Squeeze" in phone.shown()


def test_a_test_that_was_taken_leaves_the_phone_as_done():
    tasks = tuple(replace(t, state="done") if t.id == "test-1" else t for t in PLAN.tasks)
    now = printed_on(replace(PLAN, tasks=tasks), TODAY + timedelta(days=30))
    (gone,) = [event for event in vevents(file_of(now, old(PLAN))) if event["status"] == "CANCELLED"]
    assert str(gone["summary"]) == "27A: Test 1, done"


def test_ids_that_we_do_not_know_are_cancelled_in_words_all_the_same():
    strange = OldPlan("27A", TODAY, (OldTask("sing-to-it-3", TODAY, True, False),))
    assert b"STATUS:CANCELLED" in file_of(PLAN, strange)


def test_the_method_is_publish_and_nobody_is_invited():
    data = file_of(without(PLAN, "squeeze"), old(PLAN))
    assert data.count(b"METHOD:") == 1
    assert b"METHOD:PUBLISH\r\n" in data
    assert b"ORGANIZER" not in data
    assert b"ATTENDEE" not in data


def test_a_second_library_accepts_a_file_with_cancelled_days():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import vobject

        data = file_of(without(PLAN, "squeeze", "test-bottle"), old(PLAN))
        read = vobject.readOne(data.decode())
        assert read.validate(raiseException=True)
    ours = [(str(one["uid"]), one["dtstart"].dt, str(one["summary"])) for one in vevents(data)]
    theirs = [(one.uid.value, one.dtstart.value, one.summary.value) for one in read.vevent_list]
    assert ours == theirs


def jobs(*days: int, done: Sequence[int] = ()) -> Plan:
    """The plan with stirring on these days."""
    brew = PLAN.task("brew")
    more = []
    for number, day in enumerate(days, start=1):
        on = brew.when.expected + timedelta(days=day)
        state = "done" if number in done else "to-do"
        more.append(replace(brew, id=f"stir-{number}", day=day, when=When(on, on, on), state=state))
    return replace(PLAN, tasks=(*PLAN.tasks, *more))


def test_small_jobs_of_many_days_are_one_event():
    (stir,) = [event for event in events(jobs(1, 2, 4), WORDS) if "/stir" in event.uid_key]
    assert stir.uid_key == "27A/stir"
    assert (stir.on, stir.last) == (date(2027, 3, 7), date(2027, 3, 10))
    assert "Sun 7 Mar, Mon 8 Mar, Wed 10 Mar" in stir.description.replace("\u00a0", " ")
    assert stir.alarm


def test_they_stay_one_event_when_some_are_done():
    (stir,) = [event for event in events(jobs(1, 2, 4, done=[1]), WORDS) if "/stir" in event.uid_key]
    assert not stir.alarm


def test_two_batches_in_one_file_keep_their_own_identity():
    other = replace(PLAN, code="27B")
    both = [*events(PLAN, WORDS), *events(other, WORDS)]
    phone = Phone()
    phone.take_in(calendar_bytes("both", both, TODAY, "en-GB"))
    held = len(phone.held)
    phone.take_in(file_of(PLAN))
    phone.take_in(calendar_bytes("27B", events(other, WORDS), TODAY, "en-GB"))
    assert len(phone.held) == held == len(both)


def test_a_joint_calendar_is_named_by_its_codes():
    assert joint_name([PLAN, replace(PLAN, code="27B")], WORDS) == "27A, 27B"
    many = joint_name([replace(PLAN, code=f"2{number}") for number in range(20)], WORDS)
    assert many == "20, 21, 22, 23, 24, 25, and 14 more"


def test_a_leap_day_and_the_end_of_a_year_have_a_next_day():
    for on, after in ((date(2028, 2, 29), b"20280301"), (date(2027, 12, 31), b"20280101")):
        plan = replace(
            PLAN, tasks=tuple(replace(t, when=When(on, on, on)) for t in PLAN.tasks if t.id == "brew")
        )
        (event,) = vevents(file_of(plan))
        assert (event["dtstart"].dt, event["dtend"].to_ical()) == (on, after)


# --- alarms

TIMES = st.times().map(lambda at: at.replace(second=0, microsecond=0))


@given(TIMES, TIMES, TIMES)
def test_nothing_rings_in_quiet_hours(at: time, begins: time, ends: time):
    found = ring_at(Alarms(at, (begins, ends)))
    if begins == ends:
        assert found is None
    else:
        assert found is not None
        assert not is_quiet(60 * found.hour + found.minute, (begins, ends))


@pytest.mark.parametrize(
    ("at", "quiet", "rings"),
    [
        ("18:00", None, "18:00"),
        ("18:00", ("21:00", "07:00"), "18:00"),
        ("22:00", ("21:00", "07:00"), "20:45"),
        ("21:00", ("21:00", "07:00"), "20:45"),
        ("07:00", ("21:00", "07:00"), "07:00"),
        ("06:30", ("21:00", "07:00"), "07:00"),
        ("14:10", ("13:00", "15:00"), "12:45"),
        ("09:00", ("08:00", "16:00"), "07:45"),
    ],
)
def test_an_alarm_gives_way_to_quiet_hours(at: str, quiet: tuple[str, str] | None, rings: str):
    span = (time.fromisoformat(quiet[0]), time.fromisoformat(quiet[1])) if quiet else None
    assert ring_at(Alarms(time.fromisoformat(at), span)) == time.fromisoformat(rings)


def test_no_alarms_if_none_are_wanted():
    assert b"VALARM" not in file_of(replace(PLAN, alarm_at=None))


ZONES = ("Europe/London", "Europe/Berlin", "America/New_York", "Australia/Sydney", "Pacific/Auckland")


@settings(max_examples=60)
@given(
    st.sampled_from(ZONES), st.dates(date(2027, 1, 1), date(2028, 12, 31)), st.times(time(4), time(23, 59))
)
def test_it_rings_at_that_time_on_the_evening_before_whatever_the_clocks_do(zone: str, on: date, at: time):
    """A phone counts back from the midnight at which the day begins, in real hours."""
    at = at.replace(second=0, microsecond=0)
    brew = [replace(t, when=When(on, on, on)) for t in PLAN.tasks if t.id == "brew"]
    (event,) = vevents(file_of(replace(PLAN, alarm_at=at, tasks=tuple(brew))))
    (alarm,) = event.walk("VALARM")
    midnight = datetime.combine(event["dtstart"].dt, time(0), ZoneInfo(zone)).astimezone(ZoneInfo("UTC"))
    rings = (midnight + alarm["trigger"].dt).astimezone(ZoneInfo(zone))
    assert (rings.date(), rings.time()) == (on - timedelta(days=1), at)
