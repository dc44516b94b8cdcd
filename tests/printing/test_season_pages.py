"""The pages of a season: every month, every vessel, what to drink first; on both papers, however full."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from sheetgen.commands import common
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.printing.marks import Words
from sheetgen.printing.set import Laid, lay_out_season
from sheetgen.printing.views import wall
from tests.planning.seasons import BLUE, GLASS, IN_BLUE, RESTS, batch, plan_of, season, with_rests

from .golden import held_against_golden

PAPERS = ("A4", "Letter")


def laid(plan: SeasonPlan) -> Laid:
    found = lay_out_season(plan, common.words_of(plan.language, plan.units))
    assert [str(one.message) for one in found.problems.of("stop")] == []
    return found


def texts(found: Laid) -> list[str]:
    marks = [mark for part in found.sheets for page in part.pages for mark in page.marks]
    return [mark.text for mark in marks if isinstance(mark, Words)]


def full(count: int, **more: Any) -> dict[str, Any]:
    """So many batches, one a week, in as many vessels."""
    codes = [f"2{first}{last}" for first in "ABCDEFGH" for last in "ABCDEFGHJKLMNPRT"]
    vessels = [{"name": f"a bucket with a long name, {n}", "holds": "12 L"} for n in range(8)]
    batches = [
        batch(code, (date(2028, 2, 5) + timedelta(days=7 * n)).isoformat())
        for n, code in enumerate(codes[:count])
    ]
    stock = {GLASS: 90, "330 ml one-way glass": 24, "caps": 100}
    return season(*batches, vessels=vessels, stock=stock, drunk="10 a week", warm_place="30 bottles", **more)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_full_season_finds_room(tmp_path: Path, paper: str):
    plan = plan_of(full(20, paper=paper, my_days=["sat", "sun"]), tmp_path)
    found = laid(plan)
    assert [part.name for part in found.sheets] == ["wall", "cellar", "shopping"]
    said = " ".join(texts(found))
    for one in plan.batches:
        assert f"{one.code} Brew" in said
        assert f"{one.code} Bottle" in said


@pytest.mark.parametrize("language", ["en-GB", "en-US"])
def test_weeks_begin_as_the_language_has_it(tmp_path: Path, language: str):
    plan = plan_of(season(batch("28A", "2028-02-05"), language=language), tmp_path)
    view: Any = wall.wall(plan, common.words_of(language, plan.units))
    assert view["weekdays"][0] == {"en-GB": "Mon", "en-US": "Sun"}[language]
    (place,) = [n for n, cell in enumerate(view["months"][0]["cells"]) if cell["number"] == "5"]
    assert view["weekdays"][place % 7] == "Sat"


def test_every_day_of_every_month_stands_once(tmp_path: Path):
    plan = plan_of(season(batch("28A", "2028-02-05"), batch("28B", "2028-12-27")), tmp_path)
    view: Any = wall.wall(plan, common.words_of("en-GB"))
    months = {month["name"]: month for month in view["months"]}
    assert next(iter(months)) == "February 2028"
    assert list(months)[-1] == "January 2029"
    for name, days in (("February 2028", 29), ("December 2028", 31), ("January 2029", 31)):
        numbers = [cell["number"] for cell in months[name]["cells"] if cell["number"]]
        assert numbers == [str(n) for n in range(1, days + 1)]
        assert len(months[name]["cells"]) % 7 == 0


def test_what_is_to_be_done_stands_on_its_day(tmp_path: Path):
    plan = plan_of(season(batch("28A", "2028-02-05", equipment=IN_BLUE), vessels=[BLUE]), tmp_path)
    view: Any = wall.wall(plan, common.words_of("en-GB"))
    february = view["months"][0]
    brewed = next(cell for cell in february["cells"] if cell["number"] == "5")
    assert [event["text"] for event in brewed["events"]] == ["28A Brew"]
    (lane,) = february["lanes"]
    assert lane["name"] == "blue bucket"
    assert lane["bars"][0]["start"] == round(4 / 29, 4)


def test_a_crowded_day_counts_the_rest(tmp_path: Path):
    batches = [batch(f"2{letter}B", "2028-02-05", recipe=recipe) for letter, recipe in zip("ABCDEF", (
        "towrope-mild", "towrope-bitter", "copper-lane-amber", "lantern-shed-stout", "ferry-steps-wheat",
        "plot-eleven-ginger"), strict=True)]  # fmt: skip
    plan = plan_of(season(*batches, two_on_a_day="yes", my_days=["sat"]), tmp_path)
    view: Any = wall.wall(plan, common.words_of("en-GB"))
    most = max(len(cell["events"]) for month in view["months"] for cell in month["cells"])
    assert most <= wall.MOST_IN_CELL
    laid(plan)


def test_what_to_drink_first_and_the_warnings_stand_on_the_cellar_page(tmp_path: Path):
    plan = plan_of(
        season(batch("28A", "2028-02-05"), batch("28B", "2028-02-12"), stock={GLASS: 20}), tmp_path
    )
    said = " ".join(texts(laid(plan)))
    assert "Drink first, season 2028" in said
    assert "28A fills" in said
    assert "collect more" in said


def test_what_is_bought_stands_trip_by_trip_in_whole_packs(tmp_path: Path):
    (tmp_path / "rests.yaml").write_text(RESTS, encoding="utf-8")
    plan = plan_of(with_rests("2028-02-05", "2028-02-19", "2028-12-30"), tmp_path)
    said = " ".join(texts(laid(plan))).replace("\u00a0", " ").replace("\u202f", " ")
    for words in ("By Wed 2 Feb, for 28A", "1 pack of 50 g, 30 g left over", "By Wed 27 Dec, for 28C"):
        assert words in said
    assert "nothing to buy: 20 g are left from before" in said


@pytest.mark.parametrize(("paper", "language"), [("A4", "en-GB"), ("Letter", "en-US")])
def test_the_words_of_the_pages_are_the_golden_ones(tmp_path: Path, paper: str, language: str):
    """Over the end of a year, with days away, a full day, a vessel that is cleaned, rests of packs."""
    (tmp_path / "rests.yaml").write_text(RESTS, encoding="utf-8")
    days = ("2028-11-04", "2028-11-05", "2028-12-02")
    more: dict[str, Any] = {"paper": paper, "language": language, "my_days": ["sat", "sun"]}
    more |= {"vessels": [BLUE, {"name": "white bucket", "holds": "12 L"}], "cleaning": "2 days"}
    more |= {"stock": {GLASS: 30, "caps": 60}, "drunk": "8 a week", "away": ["2028-12-23..2028-12-26"]}
    plan = plan_of(with_rests(*days, **more), tmp_path, date(2028, 10, 20))
    pages = [page for part in laid(plan).sheets for page in part.pages]
    held_against_golden(f"season-{paper.lower()}", pages)


def test_a_season_that_is_over_still_has_a_page(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05"))
    plan = plan_of(tree, tmp_path, date(2030, 1, 1))
    assert laid(plan)
