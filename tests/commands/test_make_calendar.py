"""make: the calendar of several batches, and what replaces an earlier one."""

from __future__ import annotations

import json
from pathlib import Path

import icalendar
import pytest

from .runner import SIX_LINES, Run

pytestmark = pytest.mark.usefixtures("light")
OLD = "27A/27A-plan.json"


def summaries(path: Path, status: str = "CONFIRMED") -> list[str]:
    calendar = icalendar.Calendar.from_ical(path.read_bytes())
    return [str(event["summary"]) for event in calendar.walk("VEVENT") if event["status"] == status]


def test_several_batches_go_into_one_file_besides_their_own(folder: Path, run: Run):
    (folder / "27b.yaml").write_text(SIX_LINES.replace("27A", "27B"))
    result = run("make", "27a.yaml", "27b.yaml", "--calendar", "dates.ics")
    assert result.code == 0
    assert "dates.ics  the dates of 2 batches" in result.out
    own = [summaries(folder / f"{code}/{code}-calendar.ics") for code in ("27A", "27B")]
    assert sorted(summaries(folder / "dates.ics")) == sorted([*own[0], *own[1]])
    assert all(title.startswith("27A") for title in own[0])


@pytest.mark.parametrize("name", ["dates.txt", "27A", "dates.ics/"])
def test_a_joint_calendar_has_a_name_of_its_own(folder: Path, run: Run, name: str):
    result = run("make", "27a.yaml", "--calendar", name)
    assert result.code == 2
    assert "is not the name of a calendar file" in result.err
    assert not (folder / "27A").exists()


def test_somebody_elses_calendar_is_left_alone(folder: Path, run: Run):
    (folder / "dates.ics").write_text("my own dates")
    result = run("make", "27a.yaml", "--calendar", "dates.ics")
    assert result.code == 2
    assert "dates.ics was not written by this program" in result.err


def test_what_an_earlier_plan_had_is_cancelled(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(SIX_LINES.replace("bottles: {", "bottles: {1 L pet: 2, "))
    assert run("make", "27a.yaml").code == 0
    (folder / "27a.yaml").write_text(SIX_LINES)
    assert run("make", "27a.yaml", "--replaces", OLD, today="2027-02-25").code == 0
    assert summaries(folder / "27A/27A-calendar.ics", "CANCELLED") == ["27A: Squeeze, cancelled"]


def test_without_it_nothing_is_remembered(folder: Path, run: Run):
    assert run("make", "27a.yaml").code == 0
    (folder / "27a.yaml").write_text(SIX_LINES)
    assert run("make", "27a.yaml", today="2027-02-25").code == 0
    assert summaries(folder / "27A/27A-calendar.ics", "CANCELLED") == []


def test_an_earlier_plan_that_is_not_there_is_wrong_use(folder: Path, run: Run):
    result = run("make", "27a.yaml", "--replaces", OLD)
    assert result.code == 2
    assert f"there is no file {OLD}" in result.err


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"format": "x"}, "is not a plan of this program"),
        ({"batch": {"code": "99Z"}}, "is a plan of batch 99Z, and none of these files is"),
        ({"printed": "2028-01-01"}, "was made on 2028-01-01, which is later than today"),
    ],
)
def test_an_earlier_plan_that_does_not_fit_writes_nothing(
    folder: Path, run: Run, changes: dict[str, object], says: str
):
    assert run("make", "27a.yaml").code == 0
    plan = json.loads((folder / OLD).read_text())
    (folder / "old.json").write_text(json.dumps(plan | changes))
    result = run("make", "27a.yaml", "--replaces", "old.json", "--out", "new")
    assert result.code == 1
    assert says in result.err
    assert not (folder / "new").exists()


def test_two_earlier_plans_of_one_batch_are_one_too_many(folder: Path, run: Run):
    assert run("make", "27a.yaml").code == 0
    result = run("make", "27a.yaml", "--replaces", OLD, "--replaces", OLD)
    assert result.code == 1
    assert "is the second earlier plan of batch 27A" in result.err


def test_the_number_of_dates_is_that_of_the_file(folder: Path, run: Run):
    out = run("make", "27a.yaml").out
    assert f"27A-calendar.ics  {len(summaries(folder / '27A/27A-calendar.ics'))} dates" in out
