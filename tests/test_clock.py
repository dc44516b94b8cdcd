"""Today, and that the program works on whatever day it is run."""

from __future__ import annotations

import time
from datetime import date, timedelta
from pathlib import Path

import pytest

from sheetgen import clock
from sheetgen.__main__ import main
from sheetgen.commands import check

EXAMPLE = Path(__file__).resolve().parents[1] / "recipes" / "examples" / "27a.yaml"


def test_today_is_today():
    before = date.fromtimestamp(time.time())  # noqa: DTZ012  the wall clock is what is meant
    assert before <= clock.today() <= before + timedelta(days=1)


def test_a_fixed_moment_is_taken_for_now(monkeypatch: pytest.MonkeyPatch):
    """1 000 000 000 s is 9 September 2001, 01:46:40 UTC, whatever the zone."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    for zone in ("America/Anchorage", "Pacific/Auckland"):
        monkeypatch.setenv("TZ", zone)
        time.tzset()
        assert clock.today() == date(2001, 9, 9)
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize("text", ["tomorrow", "-5", "1e9", "12.5", "9" * 12, "\u0663", " 5"])
def test_a_moment_that_is_none_is_said_before_anything_is_done(
    text: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", text)
    assert main(["check", str(EXAMPLE)]) == 2
    said = capsys.readouterr().err
    assert "SOURCE_DATE_EPOCH" in said
    assert "unset it" in said
    assert "Traceback" not in said


@pytest.mark.parametrize("day", [date(2026, 11, 25), date(2027, 3, 6), date(2027, 3, 25)], ids=str)
def test_the_example_is_good_on_any_day(day: date, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(check.clock, "today", lambda: day)
    assert main(["check", str(EXAMPLE)]) == 0


def test_years_later_it_is_still_answered_with_sentences(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(check.clock, "today", lambda: date(2031, 5, 1))
    assert main(["check", str(EXAMPLE)]) in (0, 1)
