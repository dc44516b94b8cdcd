"""A room by dates: what may be written, and what it then means."""

from __future__ import annotations

from datetime import date

from intake.told import good, six_lines
from sheetgen.model import Room

MAY = date(2027, 5, 1)
HOT = "{from: 2027-05-01, at: 33 C}"


def room(text: str) -> Room:
    """The room of the shortest batch."""
    return good(six_lines(room=text)).room


def test_a_list_is_for_every_place():
    found = room(f"[15-20 C, {HOT}]")
    assert (found.fermenting, found.warm_place, found.storing) == ((15.0, 20.0), 15.0, 20.0)
    assert found.fermenting_on(date(2027, 4, 30)) == (15.0, 20.0)
    assert found.fermenting_on(MAY) == (33.0, 33.0)
    assert (found.warm_place_on(MAY), found.storing_on(MAY)) == (33.0, 33.0)


def test_one_place_alone_may_have_dates():
    found = room(f"{{fermenting: 19 C, warm-place: 21 C, storing: [12 C, {HOT}]}}")
    assert (found.fermenting_on(MAY), found.warm_place_on(MAY), found.storing_on(MAY)) == ((19, 19), 21, 33)
    assert found.storing_on(date(2027, 4, 30)) == 12.0


def test_without_a_first_temperature_it_is_assumed_and_said():
    batch = good(six_lines(room=f"{{fermenting: 19 C, storing: [{HOT}]}}"))
    assert batch.room.storing_on(date(2027, 4, 30)) == 19.0
    assert "room.storing" in {each.key for each in batch.assumptions}
    assert room(HOT).fermenting_on(date(2027, 4, 1)) == (18.0, 18.0)


def test_a_range_by_dates_is_slow_for_fizz_and_warm_for_storing():
    found = room("[19 C, {from: 2027-05-01, at: 16-26 C}]")
    assert (found.warm_place_on(MAY), found.storing_on(MAY)) == (16.0, 26.0)


def test_a_room_that_never_changes_has_no_dates():
    assert not room("19 C").changes
    assert room(f"[19 C, {HOT}]").changes
