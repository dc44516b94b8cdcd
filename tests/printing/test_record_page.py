"""The record page: its chart is to scale, its labels keep apart, what was written stands in its place."""

from __future__ import annotations

from datetime import date

import pytest

from sheetgen.commands import common
from sheetgen.printing.marks import Area, Stroke
from sheetgen.printing.marks import Words as Printed
from sheetgen.printing.views.gravity_chart import gravity_chart
from sheetgen.printing.views.record import record

from .asked_for import BATCHES, the_pages, the_plan

WORDS = common.words_of("en-GB")
MEASURED = [name for name in BATCHES if name != "looks"]


def points_of(text: str) -> list[tuple[float, float]]:
    pairs = [pair.split(",") for pair in text.split()]
    return [(float(x), float(y)) for x, y in pairs]


def scale_of(name: str) -> tuple[float, float]:
    """The gravities at the lower and the upper edge of the chart, from its labels."""
    lines = gravity_chart(the_plan(name), WORDS)["lines"]
    return float(lines[0]["text"]), float(lines[-1]["text"])


@pytest.mark.parametrize("name", MEASURED)
def test_the_band_is_that_of_the_plan(name: str):
    plan, chart = the_plan(name), gravity_chart(the_plan(name), WORDS)
    bottom, top = scale_of(name)
    found = points_of(chart["band"])
    rows = plan.gravity_band
    wanted = [row.low for row in rows] + [row.high for row in reversed(rows)]
    assert [bottom + y * (top - bottom) for _x, y in found] == pytest.approx(wanted, abs=1e-5)
    assert bottom < min(wanted)
    assert max(wanted) < top


@pytest.mark.parametrize("name", MEASURED)
def test_the_limits_stand_at_their_gravity_and_their_words_apart(name: str):
    plan, chart = the_plan(name), gravity_chart(the_plan(name), WORDS)
    bottom, top = scale_of(name)
    heights = [bottom + points_of(limit["line"])[0][1] * (top - bottom) for limit in chart["limits"]]
    wanted = [plan.gate.high] + [plan.gate.ceiling] * (plan.gate.ceiling > plan.gate.high)
    assert heights == pytest.approx(wanted, abs=1e-5)
    assert [limit["text"].split()[0] for limit in chart["limits"]] == [f"{sg:.3f}" for sg in wanted]


def test_readings_are_crosses_on_the_day_they_were_taken():
    plan, page = the_plan("27c"), the_pages("record", "27c")[0]
    chart = gravity_chart(plan, WORDS)
    assert len(chart["readings"]) == len(plan.gate.readings) + 1
    crosses = [mark for mark in page.marks if isinstance(mark, Stroke) and mark.weight == 1.2]
    assert len(crosses) == 2 * len(chart["readings"])
    days = {one["text"]: one["x"] for one in chart["numbers"]}
    second = (plan.gate.readings[1].on - plan.task("brew").when.expected).days
    assert chart["readings"][-1]["x"] == pytest.approx(days[str(second)], abs=1e-3)


def test_what_was_written_into_the_file_stands_on_the_page():
    words = [mark.text for mark in the_pages("record", "27c")[0].marks if isinstance(mark, Printed)]
    assert words.count("1.012") == 4
    assert {"1.043", "18", "19", "6", "10"} <= {*words}


@pytest.mark.parametrize("name", BATCHES)
def test_the_ledger_counts_every_bottle(name: str):
    plan = the_plan(name)
    rows = record(plan, WORDS)["bottles"]["rows"]
    assert sum(int(row["count"]) for row in rows) == plan.bottles.numbered


@pytest.mark.parametrize("name", BATCHES)
def test_tastings_are_on_the_plan_s_days_and_say_how_long_after_filling(name: str):
    plan = the_plan(name)
    rows = record(plan, WORDS)["tastings"]["rows"]
    days = {WORDS.day(on): round((on - plan.labels.filled).days / 7) for _weeks, on in plan.keeping.tastings}
    assert rows
    for row in rows:
        if row["what"] != "test bottle":
            parts = row["date"]
            day = WORDS.customs.dates["date"].format_map(parts).replace(" ", "\u00a0")
            assert row["what"].split("\u00a0")[0] == str(days[day])


def test_without_a_hydrometer_there_is_no_chart_but_looks():
    page = the_pages("record", "looks")[0]
    words = [mark.text for mark in page.marks if isinstance(mark, Printed)]
    assert not [mark for mark in page.marks if isinstance(mark, Area)]
    assert {"Looks and tastes", "clear?", "sweet?"} <= {*words}


def test_days_of_another_year_say_so():
    words = [mark.text.replace("\u00a0", " ") for mark in the_pages("record", "27t")[0].marks
             if isinstance(mark, Printed)]  # fmt: skip
    assert date(2028, 2, 12) == the_plan("27t").task("test-2").when.expected
    assert "12 Feb 2028" in words
