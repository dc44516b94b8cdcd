"""Everything together, in processes of their own: real paper, the same bytes each time."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from datetime import timedelta
from pathlib import Path
from typing import Any

import icalendar
import jsonschema
import pypdf
import pytest

import sheetgen.planning
from sheetgen.printing.calendar_file import uid_of

from .runner import SIX_LINES, TOO_EARLY

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "recipes" / "examples").glob("*.yaml"))
SCHEMA = json.loads((Path(sheetgen.planning.__path__[0]) / "plan.schema.json").read_text(encoding="utf-8"))
OWN_JOBS = ("degas", "stir", "strain", "rack", "add-day")
"""Work that only some drinks ask for."""
DAYS = {"27a.yaml": "2027-02-20", "27b.yaml": "2027-02-20", "27c.yaml": "2027-03-27"}


def made(folder: Path, example: Path, *arguments: str, **environment: str) -> dict[str, bytes]:
    """The files that a process of its own makes of an example."""
    out = folder / "out"
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(folder / "nobody"), **environment}
    today = DAYS.get(example.name, "2027-02-20")
    command = [sys.executable, "-m", "sheetgen", "make", str(example), "--today", today, "--out", str(out)]
    done = subprocess.run([*command, *arguments], cwd=folder, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return {path.name: path.read_bytes() for path in sorted(out.iterdir())}


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def example(request: pytest.FixtureRequest) -> Path:
    return request.param


@pytest.fixture(scope="module")
def files(example: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    return made(tmp_path_factory.mktemp("one"), example, PYTHONHASHSEED="1", TZ="Pacific/Auckland")


def test_the_same_bytes_in_another_process_place_and_time_zone_with_another_order_of_hashes(
    example: Path, files: dict[str, bytes], tmp_path: Path
):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / example.name).write_bytes(example.read_bytes())
    later = {"SOURCE_DATE_EPOCH": "1900000000", "HOME": str(elsewhere), "USER": "someone", "LC_ALL": "C"}
    other = {"PYTHONHASHSEED": "77", "TZ": "America/Anchorage", **later}
    assert made(tmp_path, elsewhere / example.name, **other) == files


def test_files_are_small_and_of_their_kind(files: dict[str, bytes]):
    assert len(files) == 4
    for name, data in files.items():
        assert len(data) < 500_000
        assert data.startswith(
            {".pdf": b"%PDF-", ".ics": b"BEGIN:VCALENDAR", ".json": b"{"}[Path(name).suffix]
        )


def test_pdfs_say_what_they_are(files: dict[str, bytes]):
    for name, data in files.items():
        if name.endswith(".pdf"):
            pdf = pypdf.PdfReader(io.BytesIO(data))
            assert pdf.metadata.producer == "sheetgen"
            assert pdf.metadata.title.startswith(name[:3])
            plan = json.loads(next(data for name, data in files.items() if name.endswith(".json")))
            assert pdf.trailer["/Root"]["/Lang"] == plan["language"]


def test_the_source_is_attached_without_the_days_away(example: Path, files: dict[str, bytes]):
    name = next(name for name in files if name.endswith("-sheets.pdf"))
    held = pypdf.PdfReader(io.BytesIO(files[name])).attachments
    text = b"\n".join(data for found in held.values() for data in found).decode()
    written = [line for line in example.read_text(encoding="utf-8").splitlines() if "away:" not in line]
    assert written[-1] in text
    assert "recipe-name:" in text
    assert "away:" not in text


def test_the_plan_is_as_its_schema_says(files: dict[str, bytes]):
    plan = json.loads(next(data for name, data in files.items() if name.endswith(".json")))
    jsonschema.Draft202012Validator(SCHEMA).validate(plan)


def test_the_calendar_has_six_to_nine_days_and_those_of_the_drinks_own_jobs(files: dict[str, bytes]):
    plan = json.loads(next(data for name, data in files.items() if name.endswith(".json")))
    jobs = [task for task in plan["tasks"] if task["hands_on"] and task["id"].startswith(OWN_JOBS)]
    calendar = icalendar.Calendar.from_ical(
        next(data for name, data in files.items() if name.endswith(".ics"))
    )
    least = 6 if plan["carbonation"] else 4
    own = {f"{plan['batch']['code']}/{task['id'].rpartition('-')[0]}" for task in jobs}
    own |= {f"{plan['batch']['code']}/{task['id']}" for task in jobs}
    events = [event for event in calendar.walk("VEVENT") if event["uid"] not in {*map(uid_of, own)}]
    assert least <= len(events) + len(_read(plan)) <= 9
    assert len(calendar.walk("VEVENT")) <= 11


def _read(plan: dict[str, Any]) -> list[dict[str, Any]]:
    """The tests that were taken: they are in no calendar any more."""
    return [t for t in plan["tasks"] if re.fullmatch(r"(?:test|taste)-\d+", t["id"]) and t["state"] == "done"]


def test_every_day_of_the_calendar_is_a_day_of_the_plan(files: dict[str, bytes]):
    plan = json.loads(next(data for name, data in files.items() if name.endswith(".json")))
    calendar = icalendar.Calendar.from_ical(
        next(data for name, data in files.items() if name.endswith(".ics"))
    )
    wanted = {task["expected"] for task in plan["tasks"] if task["hands_on"] and task not in _read(plan)}
    events = [(event["dtstart"].dt, event["dtend"].dt) for event in calendar.walk("VEVENT")]
    ends = {day.isoformat() for first, end in events for day in (first, end - timedelta(days=1))}
    assert ends <= wanted
    assert all(any(first.isoformat() <= day < end.isoformat() for first, end in events) for day in wanted)


def test_paper_from_the_command_line(tmp_path: Path):
    files = made(tmp_path, EXAMPLES[0], "--paper", "Letter", "--only", "fridge,labels")
    for data in files.values():
        for page in pypdf.PdfReader(io.BytesIO(data)).pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
                (612, 792), abs=0.1
            )


def test_start_at_leaves_the_first_labels_free(tmp_path: Path):
    for start in (1, 3):
        (tmp_path / str(start)).mkdir()
    first = made(tmp_path / "1", EXAMPLES[0], "--only", "labels")
    third = made(tmp_path / "3", EXAMPLES[0], "--only", "labels", "--start-at", "3")
    counts = [
        len(pypdf.PdfReader(io.BytesIO(one["27A-labels.pdf"])).pages[0].extract_text())
        for one in (first, third)
    ]
    assert counts[0] > counts[1] > 0


def test_a_start_beyond_the_sheet_is_a_stop(tmp_path: Path):
    (tmp_path / "27a.yaml").write_text(SIX_LINES)
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [
        sys.executable,
        "-m",
        "sheetgen",
        "make",
        "27a.yaml",
        "--today",
        "2027-02-20",
        "--start-at",
        "99",
    ]
    done = subprocess.run(command, cwd=tmp_path, env=env, capture_output=True, text=True)
    assert done.returncode == 1
    assert "from 1 to 8, not 99" in done.stderr
    assert not (tmp_path / "27A").exists()


@pytest.fixture(scope="module")
def too_early(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    folder = tmp_path_factory.mktemp("early")
    (folder / "27a.yaml").write_text(SIX_LINES + TOO_EARLY)
    return made(folder, folder / "27a.yaml", "--today", "2027-03-14")


def test_bottled_too_early_gives_the_safety_sheet_and_no_labels(too_early: dict[str, bytes]):
    assert sorted(too_early) == ["27A-calendar.ics", "27A-plan.json", "27A-sheets.pdf"]
    pages = pypdf.PdfReader(io.BytesIO(too_early["27A-sheets.pdf"])).pages
    assert len(pages) == 1
    assert "freezer" in pages[0].extract_text()


def test_bottled_too_early_puts_a_warning_on_every_coming_day(too_early: dict[str, bytes]):
    events = icalendar.Calendar.from_ical(too_early["27A-calendar.ics"]).walk("VEVENT")
    coming = [event for event in events if event.walk("VALARM")]
    assert coming
    assert all("safety sheet" in event["summary"] for event in coming)


def test_bottled_too_early_is_in_the_plan(too_early: dict[str, bytes]):
    plan = json.loads(too_early["27A-plan.json"])
    jsonschema.Draft202012Validator(SCHEMA).validate(plan)
    assert plan["safety"]["because"]
    assert plan["labels"]["allowed"] is False
