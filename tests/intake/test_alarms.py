"""alarms: a time, none, or a time with quiet hours."""

from __future__ import annotations

from datetime import time

import pytest

from sheetgen.model import Alarms

from .told import good, said, six_lines, stop


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("18:30", Alarms(time(18, 30))),
        ("none", Alarms(None)),
        ("{at: 19:00, quiet: 21:00..07:00}", Alarms(time(19), (time(21), time(7)))),
        ("{quiet: 21:00 - 7:00}", Alarms(time(18), (time(21), time(7)))),
        ("{at: 20.15}", Alarms(time(20, 15))),
    ],
)
def test_what_is_written_is_meant(written: str, meant: Alarms):
    assert good(six_lines(f"alarms: {written}\n")).alarms == meant


def test_without_a_word_it_is_six_in_the_evening_before():
    assert good(six_lines()).alarms == Alarms(time(18), None)


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("6pm", "write hours and minutes on the 24-hour clock, such as 18:00"),
        ("25:00", "is not a time of day"),
        ("03:00", "is in the night"),
        ("{quiet: 21:00}", "does not say from when to when"),
        ("{quiet: 21:00..21:00}", "is the whole day"),
        ("{at: 18:00, loud: yes}", "is not a key of alarms"),
        ("[18:00]", "expected names with values"),
    ],
)
def test_what_cannot_be_meant_is_told(written: str, says: str):
    assert says in said(stop(six_lines(f"alarms: {written}\n")))
