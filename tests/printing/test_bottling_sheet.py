"""The bottling sheet in every state of the gate, with few and many bottles, on both papers."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from sheetgen.planning.plan import Plan
from sheetgen.printing import fonts
from sheetgen.printing.marks import Box, Words
from sheetgen.printing.views.bottling import bottling
from sheetgen.printing.words import Words as Language

from . import bottling_plans as t

HELD_BACK = {"wait": t.WAIT, "between": t.BETWEEN, "again": t.AGAIN, "stuck": t.STUCK}
READY = {
    "plain": t.PLAN, "six": t.SIX, "sixty": t.SIXTY, "many": t.MANY, "five": t.FIVE, "bulk": t.BULK,
    "spoons": t.SPOONS, "still": t.STILL, "cider": t.CIDER, "pass": t.PASS, "care": t.CARE,
}  # fmt: skip
ALL = {**READY, **HELD_BACK, "done": t.DONE}


def text(plan: Plan, language: Language = t.ENGLISH, paper: str = "a4") -> str:
    return t.text_of(t.laid("bottling", bottling(replace(plan, paper=paper), language), paper))


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_state_fits_its_paper_without_overlaps(name: str, paper: str) -> None:
    language = t.ENGLISH if paper == "a4" else t.AMERICAN
    pages = t.laid("bottling", bottling(replace(ALL[name], paper=paper), language), paper)
    assert len(pages) == 1 or (name in READY and len(pages) == 2)


@pytest.mark.parametrize("name", ["plain", "six", "sixty", "pass", "care", "still", "cider", *HELD_BACK])
def test_ordinary_batches_take_one_side_of_a4(name: str) -> None:
    assert len(t.laid("bottling", bottling(ALL[name], t.ENGLISH))) == 1


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_long_name_is_cut_nowhere(name: str, paper: str) -> None:
    plan = replace(ALL[name], paper=paper, name=t.LONG_NAME, code="27AB")
    view = bottling(plan, t.ENGLISH)
    pages = t.laid("bottling", view, paper)
    assert len(pages) == 1 or view["two_sides"]
    assert "27AB" in t.text_of(pages)


def test_a_second_side_holds_the_whole_of_filling_day() -> None:
    front, back = t.laid("bottling", bottling(replace(t.FIVE, paper="letter"), t.AMERICAN), "letter")
    for word in ("Sugar", "Fill", "Take care", "in each bottle", "not before"):
        assert word not in t.text_of((front,))
        assert word in t.text_of((back,))
    assert "Test 5" in t.text_of((front,))
    assert "Test 5" not in t.text_of((back,))


def test_the_gate_says_its_rule_in_words() -> None:
    found = text(t.PLAN)
    for sentence in (
        "The same number twice, 2 days apart, both 1.015 or less: bottle.",
        "Down by 0.001: read again in 2 days.",
        "Between 1.015 and 1.017: ask before bottling.",
        "Above 1.017: do not bottle.",
        "Each 0.001 too much adds half a volume of gas.",
    ):
        assert sentence in found


def test_the_subtitle_says_when_and_how_long_it_may_wait() -> None:
    assert "Sun 21 March expected, may wait until Sat 3 Apr · away 24 Mar to 28 Mar" in text(t.PLAN)


def test_nothing_lies_between_where_high_is_the_ceiling() -> None:
    assert "Between 1." not in text(t.CIDER)
    assert "with care" not in text(t.CIDER)
    assert "both 1.000 or less" in text(t.CIDER)


def test_the_ruler_is_true_to_scale() -> None:
    ruler = bottling(t.PLAN, t.ENGLISH)["gate"]["ruler"]  # type: ignore[index]
    names = ("under", "low", "high", "ceiling")
    points = [(sg, ruler[name]) for sg, name in zip((1.007, 1.010, 1.015, 1.017), names, strict=True)]
    step = (points[-1][1] - points[0][1]) / 10
    for gravity, place in points:
        assert place == pytest.approx(points[0][1] + (gravity - 1.007) * 1000 * step, abs=2e-4)


def test_five_lines_with_room_to_write_for_reading_warmth_and_correction() -> None:
    (page,) = t.laid("bottling", bottling(t.PLAN, t.ENGLISH))
    blanks = [mark for mark in page.marks if isinstance(mark, Box) and mark.width == 25]
    assert len(blanks) == 15
    assert all(blank.height >= 9 for blank in blanks)
    assert {blank.x for blank in blanks} == {60, 85, 110}


def test_the_correction_strip_says_what_to_write() -> None:
    found = text(t.PLAN)
    for sentence in ("10 °C 0.0015 less", "15 °C 0.001 less", "20 °C as it reads", "30 °C 0.0025 more"):
        assert sentence in found
    assert "50 °F 0.0015 less" in text(t.PLAN, t.AMERICAN, "letter")


def test_readings_are_printed_as_done() -> None:
    found = text(t.PASS)
    assert "Passed: steady, and at most 1.015. Bottle within 14 days of the last test." in found
    assert "19?" in found
    assert "none was written" in found
    (page,) = t.laid("bottling", bottling(t.PASS, t.ENGLISH))
    grey = [mark.text for mark in page.marks if isinstance(mark, Words) and mark.grey]
    assert {"Test 1", "1.014", "1.012", "18"} <= {*grey}
    assert grey.count("1.014") == 2


def test_care_says_which_bottles_and_which_days() -> None:
    assert "Passed with care." in text(t.CARE)
    assert "Plastic bottles, or returnable glass with at most 2.2 volumes" in text(t.CARE)
    assert "Plastic bottles only." in text(t.CARE_PET)
    assert "days 4 and 7" in text(t.CARE)


def test_a_place_that_is_warm_for_the_fizz_does_not_contradict_the_caution() -> None:
    assert "Keep every bottle under 25" in text(t.PASS)
    warm = text(replace(t.PASS, warm_place_c=27.0))
    assert "Keep every bottle" not in warm
    assert "Once they fizz, under 25" in warm


@pytest.mark.parametrize("name", HELD_BACK)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_before_a_pass_there_is_no_sugar_and_no_filling(name: str, paper: str) -> None:
    found = text(HELD_BACK[name], paper=paper)
    for word in ("Sugar", "Fill 1", "in each bottle", "Take care", "61 g", "Put its sugar"):
        assert word not in found
    assert "do not bottle yet" in found


@pytest.mark.parametrize(
    ("name", "sentences"),
    [
        ("wait", ("Not yet", "It is still falling", "Next reading on Tue 23 March")),
        ("between", ("Not yet", "Stand it at 20 °C to 22 °C", "Three equal numbers pass, with care")),
        ("again", ("Measure again", "Next reading on Sat 20 March", "until no bubble clings to it")),
        (
            "stuck",
            ("Stuck, do not bottle", "Next reading on Tue 23 March", "The finish test", "never sealed"),
        ),
    ],
)
def test_the_state_says_why_and_what_next(name: str, sentences: tuple[str, ...]) -> None:
    found = text(HELD_BACK[name])
    for sentence in sentences:
        assert sentence in found


def test_the_finish_test_throws_the_jar_away() -> None:
    found = text(t.STUCK)
    assert "Down by 0.001 or less: it is finished" in found
    assert "never pour it back" in found


def test_every_dose_stands_under_its_size() -> None:
    (page,) = t.laid("bottling", bottling(t.FIVE, t.ENGLISH))
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    grams = {"250 ml": "1.5", "330 ml": "2.0", "500 ml": "3.1", "750 ml": "4.6", "1 L": "6.2"}
    for size, dose in grams.items():
        head = next(mark for mark in words if mark.text.replace("\u202f", " ") == size)
        below = [mark for mark in words if abs(mark.x - head.x) < 0.01 and 0 < mark.y - head.y < 11]
        assert dose in {mark.text for mark in below}
    assert next(mark for mark in words if mark.text == "3.1").size == 28
    assert next(mark for mark in words if mark.text == "4.6").size == 18


def test_the_ladder_goes_with_its_litres() -> None:
    (page,) = t.laid("bottling", bottling(t.PLAN, t.ENGLISH))
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    for rung in t.LADDER:
        grams = next(
            mark for mark in words if mark.text == f"{rung.grams:g}" and mark.bold and mark.size == 15
        )
        litres = [mark.text for mark in words if abs(mark.x - grams.x) < 0.01 and 0 < grams.y - mark.y < 9]
        assert f"{rung.litres:g}" in litres
    assert "or there, never both" in text(t.PLAN)


def test_the_ladder_in_quarts_never_gives_more_than_in_litres() -> None:
    view = bottling(t.PLAN, t.AMERICAN)["sugar"]
    for rung, shown in zip(t.LADDER, view["rungs"], strict=True):  # type: ignore[index]
        quarts, ounces = float(shown["volume"]), float(shown["grams"])
        assert ounces * 28.3495 / (quarts * 0.946353) <= rung.grams / rung.litres + 1e-6
        assert quarts * 0.946353 == pytest.approx(rung.litres, rel=0.012)
        assert shown["other"].startswith(f"{rung.grams:g}")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_pressure_is_said_with_the_air_that_was_sealed_in(paper: str) -> None:
    assert "Pressure at most: 4 °C 1.3 bar · 20 °C 2.5 bar · 30 °C 3.4 bar · 40 °C 4.5 bar" in text(
        t.FIVE, paper=paper
    )
    assert "Pressure" not in text(t.STILL)


def test_a_bottle_near_its_limit_is_named() -> None:
    gas = t.PLAN.carbonation
    assert gas is not None
    near = replace(gas.sizes[1], volumes_upper=3.2, verdict="warn", warn_volumes=3.0, limit_volumes=3.5)
    found = text(replace(t.PLAN, carbonation=replace(gas, sizes=(gas.sizes[0], near))))
    assert "500 ml, returnable glass: up to 3.2 volumes. From 3 volumes on it may burst" in found
    assert "may burst" not in text(t.PLAN)


def test_the_way_of_dosing_stands_first() -> None:
    assert "or each, never both" in text(t.BULK)
    assert "Syrup burns like hot fat." in text(t.BULK)
    assert "or there, never both" in text(t.PLAN)


def test_teaspoons_only_where_given_and_weak_ones_say_so() -> None:
    gas = t.PLAN.carbonation
    assert gas is not None
    none = replace(gas, sizes=tuple(replace(size, teaspoons_each=None) for size in gas.sizes))
    assert "tsp" not in text(replace(t.PLAN, carbonation=none))
    assert "½ tsp in 500 ml: only about 1.9 volumes." in text(t.PLAN)


def test_sizes_of_two_kinds_have_spoons_only_if_both_may() -> None:
    gas = t.PLAN.carbonation
    assert gas is not None
    glass = replace(gas.sizes[1], kind="one-way glass", teaspoons_each=None)
    sizes = bottling(replace(t.PLAN, carbonation=replace(gas, sizes=(*gas.sizes, glass))), t.ENGLISH)["sugar"]
    assert [size["spoons"] for size in sizes["sizes"]] == ["", "1¼\u202ftsp"]  # type: ignore[index]


def test_no_sugar_is_said_not_left_out() -> None:
    gas = t.PLAN.carbonation
    assert gas is not None
    assert "No sugar is needed" in text(replace(t.PLAN, carbonation=replace(gas, total_g=0.0)))


def test_a_still_drink_has_no_sugar_part() -> None:
    found = text(t.STILL)
    assert "Sugar" not in found
    assert "Never dose" not in found
    assert "fill 2 to 21: 500 ml, returnable glass" in found


def test_fill_order_with_counts() -> None:
    found = text(t.FIVE)
    for step in ("fill 1 to 2: 1 L", "fill 3 to 5: 750 ml", "fill 6 to 13: 500 ml", "fill 20 to 23: 250 ml"):
        assert step in found


@pytest.mark.parametrize(("plan", "cells"), [(t.SIX, 6), (t.PLAN, 21), (t.SIXTY, 60), (t.MANY, 24)])
def test_numbers_to_cross_off(plan: Plan, cells: int) -> None:
    view = bottling(plan, t.ENGLISH)["fill"]
    assert len(view["numbers"]) == cells  # type: ignore[index]
    assert view["numbers"][0] == ("1–5" if cells == 24 else "1")  # type: ignore[index]
    assert view["numbers"][-1].split("–")[-1] == str(plan.bottles.filled)  # type: ignore[index]


def test_cautions_name_the_bottles_of_this_batch() -> None:
    assert "Never fill scratched plastic" in text(t.PLAN)
    assert "plastic" not in " ".join(bottling(t.SIX, t.ENGLISH)["fill"]["care"])  # type: ignore[index]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["plain", "six", "five"])
def test_other_filling_days_and_what_they_make_of_the_label(name: str, paper: str) -> None:
    """The first days, two weeks of them where there is room."""
    view = bottling(replace(READY[name], paper=paper), t.ENGLISH)
    rows = view["strip"]["rows"]  # type: ignore[index]
    found = text(READY[name], paper=paper)
    count = 2 * len(rows) if rows else len(t.CHOICES)
    assert count >= 6
    for filled, not_before in t.CHOICES[:count]:
        weekday, day = filled.strftime("%a"), filled.day
        assert re.search(rf"{weekday} {day}\b.*{not_before.day} Apr", found)


def test_spare_lines_give_way_before_a_second_side() -> None:
    """On the shorter paper one line for tests goes, and with it the correction farthest from the room."""
    gate = bottling(replace(t.SIX, paper="letter"), t.AMERICAN)["gate"]
    assert [test["name"] for test in gate["tests"]] == ["Test 1", "Test 2", "Test 3", "Test 4"]  # type: ignore[index]
    warm = [test["strip"]["at"].split("\u202f")[0] for test in gate["tests"]]  # type: ignore[index]
    assert warm == ["50", "59", "68", "77"]


@pytest.mark.parametrize("name", READY)
@pytest.mark.parametrize(("paper", "language"), [("a4", t.ENGLISH), ("letter", t.AMERICAN)])
@pytest.mark.parametrize("called", ["Amber", t.LONG_NAME])
def test_the_reckoned_height_is_that_of_the_page(
    name: str, paper: str, language: Language, called: str
) -> None:
    """What the view takes for one side stands on one, and what it gives two sides stands on two."""
    view = bottling(replace(READY[name], paper=paper, name=called), language)
    assert len(t.laid("bottling", view, paper)) == (2 if view["two_sides"] else 1)


@pytest.mark.parametrize("name", READY)
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("language", [t.GERMAN, t.FRENCH], ids=["de", "fr"])
def test_long_languages_never_run_over_the_side_that_was_reckoned(
    name: str, paper: str, language: Language
) -> None:
    view = bottling(replace(READY[name], paper=paper), language)
    assert len(t.laid("bottling", view, paper)) <= (2 if view["two_sides"] else 1)


@pytest.mark.parametrize("name", ["plain", "six", "sixty", "pass", "care", "still", "cider"])
@pytest.mark.parametrize("language", [t.GERMAN, t.FRENCH], ids=["de", "fr"])
def test_ordinary_batches_take_one_side_of_a4_in_long_languages(name: str, language: Language) -> None:
    assert len(t.laid("bottling", bottling(READY[name], language))) == 1


@pytest.mark.parametrize("low", [0.985, 1.006, 1.010])
@pytest.mark.parametrize("wide", [0.001, 0.004, 0.012, 0.03])
@pytest.mark.parametrize("care", [0.0, 0.001, 0.002])
def test_every_word_of_the_ruler_stands_in_every_language(low: float, wide: float, care: float) -> None:
    high = round(low + wide, 4)
    gate = replace(t.PLAN.gate, low=low, high=high, ceiling=round(high + care, 4))
    plan = replace(t.PLAN, gate=gate)
    for language in (t.ENGLISH, t.AMERICAN, t.GERMAN, t.FRENCH):
        view = bottling(plan, language)
        found = text(plan, language)
        said = [t.plain(word["text"]) for word in view["gate"]["ruler"]["words"]]  # type: ignore[index]
        assert len(said) == (4 if care else 3)
        assert [word for word in said if word not in found] == []


@pytest.mark.parametrize("name", ["plain", "six", "sixty", "spoons", "pass", "care", "still", "cider"])
def test_ordinary_batches_take_one_side_of_letter(name: str) -> None:
    plan = replace(READY[name], paper="letter")
    assert len(t.laid("bottling", bottling(plan, t.AMERICAN), "letter")) == 1


def test_readings_that_do_not_count_have_no_number() -> None:
    gate = bottling(t.PASS, t.ENGLISH)["gate"]
    assert [test["name"] for test in gate["tests"]] == ["Test", "Test 1", "Test 2"]  # type: ignore[index]


def test_once_filled_the_sheet_says_what_was_filled() -> None:
    found = text(t.DONE)
    assert "filled on Sun 21 Mar 2027" in found
    for words in ("1 L, plastic (PET) number 1", "500 ml, returnable glass numbers 2 to 21", "21 in all"):
        assert words in found
    assert "Drink from this day, not before" in found
    assert "Put its sugar" not in found


def test_the_words_keep_away_from_the_frames_and_boxes() -> None:
    (page,) = t.laid("bottling", bottling(t.PLAN, t.ENGLISH))
    ticks = [mark for mark in page.marks if isinstance(mark, Box) and mark.width == mark.height == 5]
    for first, second in pairwise(ticks):
        assert second.y >= first.y + first.height + 0.5
    assert max(mark.y for mark in page.marks if isinstance(mark, Words)) <= 297 - 12 + fonts.descent_mm(8)
