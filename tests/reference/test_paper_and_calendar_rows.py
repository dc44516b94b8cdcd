"""The rows of checks.csv that are not formulas: dates, units, paper. A test's name is its row's id.

Each imports what it checks inside the test. A row moves out of skipped.csv by getting a test of its name
here.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from sheetgen.planning.plan import Plan
    from sheetgen.printing.marks import Page
    from sheetgen.printing.marks import Words as Set
    from sheetgen.printing.set import Laid
    from sheetgen.printing.words import Words

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


def _ordinary_set() -> tuple[Laid, Plan, Words]:
    """The no-boil batch, eight lines long, laid out as `make` does it."""
    from sheetgen.commands import common
    from sheetgen.intake import read_batch
    from sheetgen.planning import plan_batch
    from sheetgen.printing import set as printed_set

    today = date(2027, 2, 20)
    batch, problems = read_batch(HERE.parents[1] / "recipes" / "examples" / "27a.yaml", today)
    assert batch is not None, list(problems)
    plan = plan_batch(batch, today, problems)
    assert plan is not None, list(problems)
    words = common.words_of(plan.language, plan.units)
    return printed_set.lay_out(plan, words), plan, words


def _words_on(pages: Iterable[Page]) -> list[Set]:
    from sheetgen.printing.marks import Words

    return [mark for page in pages for mark in page.marks if isinstance(mark, Words)]


def test_paper_2() -> None:
    """Everything that must be read is 10 points or more, and every caution of ours 12 or more.

    Smaller are the last lines of a page, axes and signs, the assumptions and the table of other filling
    days.
    """
    body, caution = (float(value) for value in ROWS["paper-2"]["value"].split("/"))
    laid, plan, words = _ordinary_set()
    sheets = {part.name: _words_on(part.pages) for part in laid.sheets}
    small = {part.name: {mark.text for mark in sheets[part.name] if mark.size < body} for part in laid.sheets}
    assert {text for text in small["fridge"] | small["brew"] if not _small_print(text, plan)} == set()
    for sentence in ("take it off the heat before anything goes in", "a dosed bottle moves to the left"):
        assert not any(sentence in text for name in sheets for text in small[name])
    warned = _cautions(plan, words)
    assert len(warned) >= 8
    for text in warned:
        sizes = [mark.size for marks in sheets.values() for mark in marks if mark.text.strip() == text]
        assert sizes, text
        assert min(sizes) >= caution, text


def _small_print(text: str, plan: Plan) -> bool:
    """Whether words belong to the batch line or to the last line of a page."""
    return text.startswith((plan.code, "revision", "best until")) or text.endswith(
        (" brew", " bottle", " drink")
    )


def _cautions(plan: Plan, words: Words) -> set[str]:
    """The cautions that this batch prints: first words, rest, and what to take care of when filling."""
    from sheetgen.printing.views.bottling import bottling
    from sheetgen.printing.views.brew import brew

    steps = [step for group in brew(plan, words)["groups"] for step in group["steps"]]  # type: ignore[attr-defined]
    shown = {step["head"] for step in steps} | {one["head"] for one in brew(plan, words)["cautions"]}  # type: ignore[attr-defined]
    return (shown | {*bottling(plan, words)["fill"]["care"]}) - {""}  # type: ignore[index]


def test_paper_3() -> None:
    """The small letters of the smallest words on a label, from the height of an x in the faces themselves."""
    from fontTools.ttLib import TTFont

    from sheetgen.printing import fonts

    laid, _plan, _words = _ordinary_set()
    (labels,) = (part for part in laid.labels if part.name == "labels")
    smallest = min(mark.size for mark in _words_on(labels.pages))
    for file in fonts.FILES.values():
        face = TTFont(fonts.folder() / file)
        share = face["OS/2"].sxHeight / face["head"].unitsPerEm
        assert smallest * share * 25.4 / 72 >= float(ROWS["paper-3"]["value"])


def test_paper_4() -> None:
    """Black, and the grey of expected values, on white paper."""
    from sheetgen.printing import ink

    white = _luminance(ink.WHITE)
    for colour in (ink.BLACK, ink.GREY):
        assert (white + 0.05) / (_luminance(colour) + 0.05) >= float(ROWS["paper-4"]["value"])


def _luminance(colour: tuple[float, float, float]) -> float:
    """The relative luminance of WCAG 2."""
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in colour
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
