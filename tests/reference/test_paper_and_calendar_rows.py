"""The rows of checks.csv that are not formulas: dates, units, paper. A test's name is its row's id.

Each imports what it checks inside the test. A row moves out of skipped.csv by getting a test of its name
here.
"""

from __future__ import annotations

import csv
from datetime import date, timedelta
from pathlib import Path

import pytest

HERE = Path(__file__).parent
with (HERE / "checks.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = {row["id"]: row for row in csv.DictReader(_file)}


def test_cal_1() -> None:
    year, week, day = date(2021, 1, 3).isocalendar()
    assert f"{year}-W{week}-{day}" == ROWS["cal-1"]["value"]


def test_cal_2() -> None:
    """28 June to 8 July 2007, eleven days, as our own calendar file writes them."""
    import icalendar

    from sheetgen.printing.calendar_file import Event, calendar_bytes

    first, last = date(2007, 6, 28), date(2007, 7, 8)
    written = calendar_bytes("x", [Event("x", first, last, "x", "x", False)], date(2027, 2, 20), "en-GB")
    (event,) = icalendar.Calendar.from_ical(written).walk("VEVENT")
    assert event["dtend"].dt == event["dtstart"].dt + timedelta(days=11) == date(2007, 7, 9)
    assert event["dtend"].params["VALUE"] == "DATE"


def test_unit_1() -> None:
    from sheetgen.units import volume

    millilitres = volume("1 US tsp") * 1000
    assert millilitres == pytest.approx(float(ROWS["unit-1"]["value"]), abs=1e-9)


def test_unit_2() -> None:
    from sheetgen.units import temperature

    assert temperature("60 F") == pytest.approx(float(ROWS["unit-2"]["value"]), abs=1e-4)


@pytest.mark.parametrize(("paper", "width", "height"), [("a4", 595.28, 841.89), ("letter", 612, 792)])
def test_paper_1(paper: str, width: float, height: float) -> None:
    import yaml

    file = HERE.parents[1] / "layouts" / "papers" / f"{paper}.yaml"
    data = yaml.safe_load(file.read_text(encoding="utf-8"))
    assert float(data["width"]) * 72 / 25.4 == pytest.approx(width, abs=0.1)
    assert float(data["height"]) * 72 / 25.4 == pytest.approx(height, abs=0.1)
