"""Bottle labels and cap discs on every stock: what each must say, in its place, inside its label."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import hypot
from typing import Any

import pytest

from sheetgen.planning.plan import Plan
from sheetgen.printing import labels as sheets
from sheetgen.printing.marks import Box, Page, Stroke, Words
from sheetgen.printing.stock import Stock
from sheetgen.printing.views.labels import discs, labels, tier_of
from sheetgen.problems import Problems

from . import bottling_plans as t
from .bench import stock_names, the_paper, the_stock

SQUARE = [name for name in stock_names() if not the_stock(name).round]
ROUND = [name for name in stock_names() if the_stock(name).round]
ACTUAL = replace(t.PLAN, labels=replace(t.PLAN.labels, filled_is="actual"))
UNKNOWN = replace(t.PLAN, labels=replace(t.PLAN.labels, allergens=(), allergens_known=False))
LONG = replace(
    t.PLAN,
    name=t.LONG_NAME,
    code="27AB",
    labels=replace(t.PLAN.labels, allergens=("barley", "wheat", "oats", "milk")),
)
ALL = {"planned": t.PLAN, "actual": ACTUAL, "unknown": UNKNOWN, "long": LONG, "sixty": t.SIXTY, "six": t.SIX}


def laid(plan: Plan, stock: str) -> tuple[Page, ...]:
    return t.label_pages("labels", labels(plan, t.ENGLISH, the_stock(stock)), stock)


def slots(page: Page, stock: Stock) -> Iterator[tuple[tuple[float, float], list[Words]]]:
    """The words of every label with its corner, corners counted from the label's own."""
    for x, y in stock.corners():
        inside = [
            mark
            for mark in page.marks
            if isinstance(mark, Words) and x <= mark.x <= x + stock.width and y <= mark.y <= y + stock.height
        ]
        yield (x, y), inside


def said_by(words: list[Words]) -> str:
    ordered = sorted(words, key=lambda mark: (round(mark.y, 1), mark.x))
    return t.plain(" ".join(mark.text for mark in ordered))


@pytest.mark.parametrize("stock", SQUARE)
@pytest.mark.parametrize("name", ALL)
def test_everything_stays_3_mm_inside_its_label(stock: str, name: str) -> None:
    chosen = the_stock(stock)
    for page in laid(ALL[name], stock):
        for (x, y), words in slots(page, chosen):
            for word in words:
                left, top, right, bottom = word.box
                assert left >= x + 2.99
                assert right <= x + chosen.width - 2.99
                assert top >= y + 2.99
                assert bottom <= y + chosen.height - 2.99


@pytest.mark.parametrize("stock", SQUARE)
def test_rules_and_pictures_stay_inside_too(stock: str) -> None:
    chosen = the_stock(stock)
    (marks, *_) = (
        sheets.label_marks(one, chosen, Problems())
        for one in t.stickers("labels", labels(t.PLAN, t.ENGLISH, chosen))
    )
    for mark in marks:
        points = mark.points if isinstance(mark, Stroke) else ()
        if isinstance(mark, Box):
            points = ((mark.x, mark.y), (mark.x + mark.width, mark.y + mark.height))
        for x, y in points:
            assert 2.9 <= x <= chosen.width - 2.9
            assert 2.9 <= y <= chosen.height - 2.9


@pytest.mark.parametrize("stock", SQUARE)
@pytest.mark.parametrize("name", ALL)
def test_every_label_has_date_code_and_allergens(stock: str, name: str) -> None:
    plan = ALL[name]
    count = 0
    for page in laid(plan, stock):
        for _corner, words in slots(page, the_stock(stock)):
            found = said_by(words)
            if not found:
                continue
            count += 1
            assert "Not before" in found
            assert "11 Apr" in found
            assert plan.code in found
            assert ("Allergens not known: ask Imke" if name == "unknown" else "barley") in found
    assert count == plan.bottles.labels


@pytest.mark.parametrize(
    ("stock", "tier"),
    [
        ("plain-a4", "full"), ("plain-letter", "full"), ("a4-2x4", "full"), ("letter-2x3", "full"),
        ("a4-2x7", "middle"), ("a4-3x7", "middle"), ("a4-3x8", "middle"), ("letter-2x5", "middle"),
        ("letter-3x10", "small"), ("round-24-a4", "small"),
    ],
)  # fmt: skip
def test_the_tier_hangs_on_the_inner_height(stock: str, tier: str) -> None:
    assert tier_of(the_stock(stock)) == tier


def first(plan: Plan, stock: str) -> str:
    page = laid(plan, stock)[0]
    return said_by(next(words for _corner, words in slots(page, the_stock(stock)) if words))


def test_the_full_label_says_all() -> None:
    found = first(ACTUAL, "a4-2x4")
    for words in (
        "Sun 11 April", "27A", "Copper Lane Amber", "bottle 1 of 21", "1 L, about 4.9 % vol",
        "Filled Sun 21 Mar 2027", "Best 18 Apr to 13 Jun", "Best before Sat 18 Sep 2027",
        "Contains barley (gluten)",
        "Pour gently, leave the last 6 mm", "Keep cool, dark and upright",
        "Home-made, not for sale", "May", "Jun",
    ):  # fmt: skip
        assert words in found
    assert "planned" not in found


@pytest.mark.parametrize("stock", ["a4-2x7", "a4-3x7", "letter-2x5"])
def test_the_middle_label_keeps_name_filled_and_strength(stock: str) -> None:
    found = first(ACTUAL, stock)
    for words in (
        "Copper Lane Amber",
        "Filled Sun 21 Mar 2027",
        "about 4.9 % vol",
        "Contains barley (gluten)",
    ):
        assert words in found


def test_before_filling_both_dates_are_planned_and_have_room_to_correct_them() -> None:
    for stock in ("plain-a4", "a4-2x7"):
        found = first(t.PLAN, stock)
        assert "Not before, planned" in found
        assert "Filled, planned Sun 21 Mar 2027" in found
        chosen = the_stock(stock)
        sticker = t.stickers("labels", labels(t.PLAN, t.ENGLISH, chosen))[0]
        marks = sheets.label_marks(sticker, chosen, Problems())
        rules = [mark for mark in marks if isinstance(mark, Stroke) and mark.weight == 0.5 and _level(mark)]
        assert len([rule for rule in rules if rule.points[1][0] - rule.points[0][0] >= 15]) == 2


def _level(stroke: Stroke) -> bool:
    return stroke.points[0][1] == stroke.points[1][1]


def test_the_date_is_14_points_or_more_and_nothing_is_under_8() -> None:
    for stock in SQUARE:
        for page in laid(LONG, stock):
            words = [mark for mark in page.marks if isinstance(mark, Words)]
            assert all(mark.size >= 8 for mark in words)
            assert all(mark.size >= 14 for mark in words if "11\u00a0Apr" in mark.text)


def test_numbers_follow_the_order_of_filling_and_spares_are_blank() -> None:
    view: Any = labels(t.FIVE, t.ENGLISH, the_stock("plain-a4"))
    bottles = view["bottles"]
    assert [bottle["number"] for bottle in bottles if not bottle["blank"]] == [
        f"bottle {number} of 23" for number in range(1, 24)
    ]
    assert bottles[2]["what"] == "750\u202fml, about 4.9\u202f% vol"
    assert [bottle["blank"] for bottle in bottles[-2:]] == [True, True]
    assert len(bottles) == t.FIVE.bottles.labels


def test_the_month_strip_is_true_to_scale() -> None:
    view: Any = labels(t.PLAN, t.ENGLISH, the_stock("plain-a4"))
    months = view["months"]
    assert months["not_before"] == pytest.approx(21 / 181, abs=1e-4)
    assert months["best_to"] == pytest.approx(84 / 181, abs=1e-4)
    assert [month["text"] for month in months["starts"]] == ["Apr", "May", "Jun", "Jul", "Aug", "Sep"]


def test_unknown_allergens_are_never_none() -> None:
    part = replace(t.PLAN.labels, allergens_known=False)
    assert "Contains barley (gluten); others not known: ask Imke" in first(
        replace(t.PLAN, labels=part), "plain-a4"
    )
    nobody = replace(UNKNOWN, brewer="")
    assert "Allergens not known: ask the brewer" in first(nobody, "plain-a4")
    none = replace(t.PLAN, labels=replace(t.PLAN.labels, allergens=()))
    assert "None of the 14 allergens" in first(none, "plain-a4")


def test_a_label_too_small_for_its_allergens_is_a_stop() -> None:
    many = ("barley", "crustaceans", "eggs", "fish", "peanuts", "soya", "milk", "nuts", "celery", "mustard")
    plan = replace(t.PLAN, labels=replace(t.PLAN.labels, allergens=many, allergens_known=False))
    chosen = the_stock("letter-3x10")
    made = t.stickers("labels", labels(plan, t.ENGLISH, chosen))
    _pages, problems = sheets.pages(made, chosen, the_paper("letter"), sheets.Feed(ruler="", advice=""))
    assert problems.stopped


def test_a_failed_gate_prints_no_labels_and_no_discs() -> None:
    plan = replace(t.STUCK, labels=replace(t.STUCK.labels, allowed=False))
    assert t.stickers("labels", labels(plan, t.ENGLISH, the_stock("plain-a4"))) == []
    assert t.stickers("discs", discs(plan, t.ENGLISH, the_stock("caps-plain-a4"))) == []


@pytest.mark.parametrize("stock", ROUND)
def test_discs_carry_the_code_and_once_filled_the_date(stock: str) -> None:
    chosen = the_stock(stock)
    for plan, wanted in ((t.PLAN, ["27A"]), (ACTUAL, ["27A", "from 11 Apr"])):
        pages = t.label_pages("discs", discs(plan, t.ENGLISH, chosen), stock)
        found = [
            said_by(words).split(" ", 1) for page in pages for _at, words in slots(page, chosen) if words
        ]
        assert found == [wanted] * plan.bottles.labels


@pytest.mark.parametrize("stock", ROUND)
def test_the_words_of_a_disc_stay_in_its_circle(stock: str) -> None:
    chosen = the_stock(stock)
    (sticker,) = t.stickers("discs", discs(replace(LONG, labels=ACTUAL.labels), t.AMERICAN, chosen))
    middle = chosen.width / 2
    for word in sheets.label_marks(sticker, chosen, Problems()):
        if isinstance(word, Words):
            left, top, right, bottom = word.box
            assert all(
                hypot(x - middle, y - middle) <= middle - 0.8 for x in (left, right) for y in (top, bottom)
            )


@pytest.mark.parametrize("stock", SQUARE)
def test_the_colour_keeps_clear_of_the_widest_code(stock: str) -> None:
    """27WW is as wide as four characters get."""
    quantities = replace(t.PLAN.quantities, swatch="#ab4b00", colour_ebc=44.0)
    for page in laid(replace(LONG, code="27WW", quantities=quantities), stock):
        words = [mark for mark in page.marks if isinstance(mark, Words)]
        for box in (mark for mark in page.marks if isinstance(mark, Box) and mark.fill.startswith("#")):
            for left, top, right, bottom in (mark.box for mark in words):
                apart = right < box.x - 0.5 or left > box.x + box.width + 0.5
                assert apart or bottom < box.y or top > box.y + box.height
