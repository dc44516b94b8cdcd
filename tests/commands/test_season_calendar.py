"""The calendar of a season over its revisions: batches that move, leave and come, read by two libraries."""

from __future__ import annotations

import shutil
import warnings
from pathlib import Path

import icalendar
import pytest

from .runner import Run

SEASON = """\
season: 2028
vessels: [{{name: blue bucket, holds: 12 L}}, {{name: white bucket, holds: 12 L}}]
base: {{room: {{fermenting: 20 C, warm-place: 20 C}}, equipment: {{pot: 8 L}},
  bottles: 20 x 500 ml returnable glass}}
batches:
{batches}
"""
A, B, B_LATER, C = (
    f"  - {{batch: {code}, recipe: towrope-mild, volume: 8 L, brew-day: {day}}}"
    for code, day in (
        ("28A", "2028-02-05"),
        ("28B", "2028-02-12"),
        ("28B", "2028-02-19"),
        ("28C", "2028-03-25"),
    )
)
TODAY, LATER = "2028-01-15", "2028-01-20"
OUT = "season-2028"
OLD = f"{OUT}/season-2028-plan.json"


@pytest.fixture
def before(folder: Path, run: Run) -> Path:
    """A season of 28A and 28B, made on the fifteenth."""
    write(folder, A, B)
    assert run("make", "season.yaml", "--only", "plan,calendar", today=TODAY).code == 0
    return folder


def write(folder: Path, *batches: str) -> None:
    text = SEASON.format(batches="\n".join(batches))
    (folder / "season.yaml").write_text(text, encoding="utf-8")


def events(path: Path) -> dict[str, icalendar.Component]:
    """By UID; each once."""
    found = list(icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT"))
    assert len({str(one["uid"]) for one in found}) == len(found)
    return {str(one["uid"]): one for one in found}


def made_again(run: Run, old: str = OLD, today: str = LATER) -> str:
    result = run("make", "season.yaml", "--only", "plan,calendar", "--replaces", old, today=today)
    assert result.code == 0, result.err
    return result.out


def off(found: dict[str, icalendar.Component]) -> set[str]:
    return {uid for uid, one in found.items() if one["status"] == "CANCELLED"}


def test_a_batch_that_left_is_cancelled_in_the_seasons_file_and_in_its_own(before: Path, run: Run):
    joint, own = (before / OUT / f"{name}-calendar.ics" for name in ("season-2028", "28B"))
    was, its = events(joint), events(own)
    write(before, A, C)
    out = made_again(run)
    assert "28B has left the season: 6 dates cancelled" in out
    now, last = events(joint), events(own)
    assert off(now) == set(its) == set(last) == off(last)
    assert set(was) < set(now)
    for uid in its:
        assert now[uid]["sequence"] > was[uid]["sequence"]
        assert not now[uid].walk("VALARM")
    assert b"METHOD:PUBLISH\r\n" in joint.read_bytes()
    assert b"METHOD:CANCEL\r\n" in own.read_bytes()


def test_on_the_same_day_it_is_a_later_revision_too(before: Path, run: Run):
    its = events(before / OUT / "28B-calendar.ics")
    write(before, A)
    made_again(run, today=TODAY)
    now = events(before / OUT / "28B-calendar.ics")
    assert all(now[uid]["sequence"] > one["sequence"] for uid, one in its.items())


def test_a_batch_that_moved_keeps_its_identity(before: Path, run: Run):
    path = before / OUT / "season-2028-calendar.ics"
    was = events(path)
    write(before, A, B_LATER)
    made_again(run)
    now = events(path)
    assert set(now) == set(was)
    assert not off(now)
    assert all(now[uid]["sequence"] > one["sequence"] for uid, one in was.items())


def test_moved_on_the_day_of_printing_it_is_a_later_revision(before: Path, run: Run):
    path = before / OUT / "season-2028-calendar.ics"
    was = events(path)
    write(before, A, B_LATER)
    made_again(run, today=TODAY)
    now = events(path)
    moved = [uid for uid, one in was.items() if now[uid]["dtstart"].dt != one["dtstart"].dt]
    assert moved
    assert all(now[uid]["sequence"] > was[uid]["sequence"] for uid in moved)


def test_a_batch_alone_takes_its_own_from_the_seasons_plan(before: Path, run: Run):
    """The others of the season are still on: nothing of them is cancelled."""
    alone = A.replace("  - {", "").replace("}", "").replace(", ", "\n")
    more = "room: {fermenting: 20 C}\nbottles: 20 x 500 ml returnable glass\n"
    (before / "28a.yaml").write_text(f"{alone}\n{more}", encoding="utf-8")
    assert run("make", "28a.yaml", "--only", "calendar", "--replaces", OLD, today=LATER).code == 0
    assert all("28A" in str(one["summary"]) for one in events(before / "28A/28A-calendar.ics").values())


def test_a_plan_of_another_season_is_told_so(before: Path, run: Run):
    shutil.copy(before / OLD, before / "old.json")
    text = (before / "season.yaml").read_text(encoding="utf-8")
    for old, new in (("season: 2028", "season: 2029"), ("28A", "29A"), ("28B", "29B")):
        text = text.replace(old, new)
    (before / "season.yaml").write_text(text, encoding="utf-8")
    result = run("make", "season.yaml", "--replaces", "old.json", today=LATER)
    assert result.code == 1
    assert "is a plan of season 2028, and none of these files is that season" in result.err


def test_a_second_library_reads_the_same(before: Path, run: Run):
    write(before, A, C)
    made_again(run)
    for name in ("season-2028", "28B"):
        data = (before / OUT / f"{name}-calendar.ics").read_bytes()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import vobject

            read = vobject.readOne(data.decode())
            assert read.validate(raiseException=True)
        ours = [(str(uid), str(one["status"]), one["dtstart"].dt) for uid, one in events_of(data).items()]
        theirs = [(one.uid.value, one.status.value, one.dtstart.value) for one in read.vevent_list]
        assert ours == theirs


def events_of(data: bytes) -> dict[str, icalendar.Component]:
    return {str(one["uid"]): one for one in icalendar.Calendar.from_ical(data).walk("VEVENT")}
