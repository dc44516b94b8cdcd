"""Days as people write them: by kind of work, in turn, shifts, holidays; and what is refused."""

from __future__ import annotations

import re
import sys
from datetime import date, timedelta
from pathlib import Path

import pytest

from intake.told import good, said, six_lines, stop
from sheetgen.model import Shifts, Weekly

SATURDAY, MONDAY = date(2027, 3, 6), date(2027, 3, 1)
WEEKEND = frozenset((5, 6))
README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")


def test_any_is_the_same_as_nothing_said():
    assert good(six_lines("my-days: any\n")).my_days is None


def test_days_by_kind_of_work():
    batch = good(six_lines("my-days: {brewing: sat, testing: any, bottling: [sat, sun]}\n"))
    assert batch.my_days is None
    assert dict(batch.work_days) == {
        "brewing": Weekly(frozenset((5,))),
        "testing": Weekly(),
        "bottling": Weekly(WEEKEND),
    }


def test_work_without_days_takes_any_and_says_so():
    text = six_lines("my-days: {testing: any, bottling: [sat, sun]}\n", recipe="slipway-nine-pale")
    [sentence] = [entry.said for entry in good(text).assumptions if entry.key == "my-days"]
    assert sentence.values["works"] == "brewing|adding"  # it is dry-hopped, and never racked


def test_every_second_weekend_is_for_all_work_but_looking():
    batch = good(six_lines("my-days: {days: [sat, sun], every: 2 weeks, from: 2027-03-06}\n"))
    assert dict(batch.work_days)["bottling"] == Weekly(WEEKEND, 2, SATURDAY)
    assert "looking" not in dict(batch.work_days)


def test_one_kind_of_work_may_have_days_in_turn():
    written = "my-days: {brewing: {days: any, every: 3 weeks, from: 2027-03-03}, testing: wed}\n"
    assert dict(good(six_lines(written)).work_days)["brewing"] == Weekly(None, 3, date(2027, 3, 3))


def test_weeks_in_turn_begin_on_their_first_day():
    days = Weekly(frozenset((5, 6, 0)), 2, SATURDAY)  # Saturday to Monday
    found = [n for n in range(-7, 29) if days.has(SATURDAY + timedelta(days=n))]
    assert found == [0, 1, 2, 14, 15, 16, 28]


def test_a_nurses_round():
    batch = good(six_lines("shifts: {from: 2027-03-01, turns: [early 2, late 2, night 2, off 4]}\n"))
    [shifts] = batch.shifts
    assert shifts == Shifts(MONDAY, (False,) * 6 + (True,) * 4)
    free = [n for n in range(25) if not shifts.at_work(MONDAY + timedelta(days=n))]
    assert free == [6, 7, 8, 9, 16, 17, 18, 19]


@pytest.mark.parametrize(
    "turns", ["[late 2, 3 off]", "[late 2 days, off 3]", "late 2, off 1, off 2", "[Late 2, Off 3]"]
)
def test_turns_as_people_write_them(turns: str):
    text = six_lines(
        f'shifts: {{from: 2027-03-01, turns: "{turns}"}}\n'.replace('"[', "[").replace(']"', "]")
    )
    if "3 off" in turns:
        assert "write off 3" in said(stop(text))
    else:
        assert good(text).shifts[0].off == (False, False, True, True, True)


def test_turns_with_names_of_their_own():
    batch = good(
        six_lines("shifts: {from: 2027-03-01, turns: [early 1, night 1, sleep 2], free: [early, sleep]}\n")
    )
    assert batch.shifts[0].off == (True, False, True, True)


def test_shifts_say_nothing_before_and_after():
    shifts = Shifts(MONDAY, (False, True), date(2027, 3, 5))
    worked = [n for n in range(-3, 9) if shifts.at_work(MONDAY + timedelta(days=n))]
    assert worked == [0, 2, 4]


def test_holidays_are_days_and_ranges():
    batch = good(six_lines("holidays: [2027-03-26, 2027-04-05..2027-04-16, 2027-04-10..2027-04-20]\n"))
    assert batch.extra_days == {date(2027, 3, 26)}
    assert batch.extra_spans == ((date(2027, 4, 5), date(2027, 4, 20)),)


def test_public_holidays_of_a_region():
    bavaria, germany = (good(six_lines(f"public-holidays: {code}\n")).public_days for code in ("de-by", "DE"))
    epiphany, friday = date(2027, 1, 6), date(2027, 3, 26)
    assert friday in germany
    assert epiphany in bavaria - germany
    assert {day.year for day in bavaria} == {2027, 2028, 2029, 2030}


def test_public_holidays_without_the_library(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "holidays", None)
    assert 'pip install "sheetgen[holidays]"' in said(stop(six_lines("public-holidays: DE\n")))


def test_nothing_is_loaded_unless_it_is_asked_for(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "holidays", None)
    assert good(six_lines("holidays: 2027-03-26\n")).public_days == frozenset()


ROWS = [
    ("my-days: []", "write [sat, sun], or any"),
    ("my-days: {}\nmy-days: sat", "my-days"),
    ("my-days: {brewin: sat}", 'did you mean "brewing"?'),
    ("my-days: {brewing: sat, days: sun}", "brewing, testing"),
    ("my-days: {days: [sat, sun], every: 2 weeks}", "from: is missing"),
    ("my-days: {days: [sat, sun], every: 2, from: 2027-03-06}", "write every: 2 weeks"),
    ("my-days: {days: [sat, sun], every: 10 days, from: 2027-03-06}", "whole weeks"),
    ("my-days: {days: [sat, sun], every: 0 weeks, from: 2027-03-06}", "whole weeks"),
    ("my-days: {days: [sat, sun], every: 9999 weeks, from: 2027-03-06}", "whole weeks"),
    (
        "my-days: {days: [sat, sun], every: 2 weeks, from: 2027-03-07}",
        "write from: 2027-03-06, or 2027-03-13",
    ),
    (
        "my-days: {days: [sat, sun], every: 2 weeks, from: 2027-03-10}",
        "write from: 2027-03-06, or 2027-03-13",
    ),
    ("shifts: {from: 2027-03-01, turns: [early 2, night 2]}", "none of these turns is a free day"),
    ("shifts: {from: 2027-03-01, turns: [off 2]}", "all of these turns"),
    ("shifts: {from: 2027-03-01, turns: [early 2, off 2], free: [offf]}", 'did you mean "off"?'),
    ("shifts: {from: 2027-03-01, turns: [early 100000, off 2]}", "early 100000"),
    ("shifts: {from: 2027-03-01, turns: [early 61, off 2]}", "1 to 60 days"),
    (f"shifts: {{from: 2027-03-01, turns: [{'early 60, ' * 7}off 2]}}", "at most 366"),
    ("shifts: {from: 2027-03-01, to: 2027-02-01, turns: [early 2, off 2]}", "is before 2027-03-01"),
    ("shifts: {turns: [early 2, off 2]}", "from: is missing"),
    ("shifts: [early 2, off 2]", "expected names with values"),
    ("holidays: 2 weeks", "a day is expected"),
    ("public-holidays: Germany", 'did you mean "DE"?'),
    ("public-holidays: DE-XQ", "DE-BY"),
    ("public-holidays: QQ", "write two letters"),
    ("public-holidays: 7", "write DE, or DE-BY"),
    ("public-holidays: [DE, FR]", "found a list"),
]


@pytest.mark.parametrize(("line", "expected"), ROWS, ids=[line for line, _ in ROWS])
def test_what_is_refused_says_what_to_type(line: str, expected: str):
    from intake.told import read

    batch, problems = read(six_lines(line + "\n"))
    assert batch is None
    assert expected in " ".join(said(problem) for problem in problems if problem.level == "stop")


def test_shifts_are_not_attached_either():
    text = six_lines(
        "away: 2027-03-13\nshifts:\n  from: 2027-03-01\n  turns: [early 2, off 3]\nbrewer: Joram\n"
    )
    assert good(text).sources[0][1] == six_lines("brewer: Joram\n")


def test_the_lines_of_the_readme_can_be_read():
    section = README.split("## Your days")[1].split("\n## ")[0]
    [block] = re.findall(r"^```yaml\n(.*?)^```$", section, re.MULTILINE | re.DOTALL)
    lines = block.splitlines()
    assert len(lines) >= 7
    for line in lines:
        assert good(six_lines(f"{line}\n"))
