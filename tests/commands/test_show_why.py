"""show --why: for each day the reasons that lead to it, one line for each."""

from __future__ import annotations

from itertools import takewhile
from pathlib import Path

import pytest

from .runner import SIX_LINES, STOPPED, Run

pytestmark = pytest.mark.usefixtures("light")
LIFE = SIX_LINES.replace("room: 19 C", "room: 20 C") + "away: [2027-03-17..2027-03-19]\n"


def about(out: str, heading: str) -> list[str]:
    """The lines under a task's heading."""
    lines = out.splitlines()
    place = next(number for number, line in enumerate(lines) if line.startswith(heading))
    return list(takewhile(bool, lines[place + 1 :]))


def test_it_begins_with_what_room_and_strength_do_to_the_days(run: Run):
    lines = run("show", "27a.yaml", "--why").out.splitlines()
    assert lines[0] == "27A · Copper Lane Amber"
    assert lines[1] == (
        "  at 19 °C fermenting takes 1.07 times as long as at 20 °C to 22 °C; strength adds about 0 days"
    )


def test_every_day_leads_back_to_the_yeast_or_to_a_fact(run: Run, folder: Path):
    (folder / "27a.yaml").write_text(LIFE, encoding="utf-8")
    result = run("show", "27a.yaml", "--why")
    assert result.code == 0
    held = "the last reading comes first, and only a passed gate lets you bottle"
    slack = "it may wait without worry until day 28"
    assert about(result.out, "Test 2, Tue 23 March") == [
        "  earliest Mon 15 Mar: Test 2, 2 days after Test 1 (at least 2 days after the first reading)",
        "    Sat 13 Mar: Test 1, 7 days after the yeast (never before day 7)",
        "  expected Tue 23 Mar: Test 2, 3 days after Test 1 (at least 2 days after the first reading)",
        "    Wed 17 Mar: Test 1, 11 days after the yeast (usually 11 days at 20 °C, never before day 7)",
        "    Sat 20 Mar: moved there (away from Wed 17 Mar to Fri 19 Mar)",
        f"  latest Sat 3 Apr: Test 2, the same day as Bottle ({held})",
        f"    Sat 3 Apr: Bottle, 28 days after the yeast ({slack})",
    ]
    assert about(result.out, "Brew, Sat 6 March") == ["  Sat 6 Mar: Brew, the day you chose"]


def test_what_was_done_says_so_in_one_line(run: Run, folder: Path):
    read = "actual: {brewed: 2027-03-06, readings: [{on: 2027-03-17, sg: 1.012 at 20 C}]}\n"
    (folder / "27a.yaml").write_text(SIX_LINES + read, encoding="utf-8")
    result = run("show", "27a.yaml", "--why", today="2027-03-17")
    assert about(result.out, "Test 1, Wed 17 March (done)") == [
        "  Wed 17 Mar: Test 1, it was done on this day"
    ]


def test_how_far_a_day_may_slip_stands_beside_it(run: Run):
    out = run("show", "27a.yaml", "--why").out
    assert "Bottle, Sun 21 March (19 days between earliest and latest)" in out


def test_a_stopped_file_has_no_days(run: Run, folder: Path):
    (folder / "27a.yaml").write_text(STOPPED, encoding="utf-8")
    result = run("show", "27a.yaml", "--why")
    assert (result.code, result.out) == (1, "")


def test_a_brew_day_that_was_found_for_an_event_is_not_said_to_be_chosen(run: Run, folder: Path):
    party = "event: {date: 2027-06-12, name: supper, guests: 4}\n"
    (folder / "27a.yaml").write_text(SIX_LINES.replace("brew-day: 2027-03-06\n", party), encoding="utf-8")
    result = run("show", "27a.yaml", "--why")
    assert result.code == 0
    assert "the day that was found for it" in result.out
    assert "the day you chose" not in result.out
