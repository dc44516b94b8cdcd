"""Gift tags and neck bands: for whom, what they must say, and the square code as a phone reads it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pypdfium2
import pytest
import zxingcpp

from sheetgen import catalogue
from sheetgen.commands import common
from sheetgen.planning.plan import Plan
from sheetgen.printing import draw
from sheetgen.printing.marks import Box, Page, Square, Stroke, Words, overlaps
from sheetgen.printing.set import documents_of, lay_out
from sheetgen.printing.views.tags import bands, tags

from . import bottling_plans as t
from .bench import the_stock

AMBER = "#ab4b00"
COLOURED = replace(t.PLAN, quantities=replace(t.PLAN.quantities, swatch=AMBER, colour_ebc=24.0))
ACTUAL = replace(COLOURED, labels=replace(COLOURED.labels, filled_is="actual"))
LONG = replace(
    COLOURED,
    name=t.LONG_NAME,
    code="27AB",
    labels=replace(COLOURED.labels, allergens=("barley", "wheat", "oats", "milk")),
)
ALL = {"planned": COLOURED, "actual": ACTUAL, "long": LONG, "sixty": t.SIXTY, "no colour": t.PLAN}
INFO = draw.Info("Tags", "en-GB", "a batch", t.PLAN.printed)
STOCKS = ("tags-plain-a4", "tags-plain-letter")
DOTS_AN_INCH = 150


def kept_for(plan: Plan, **given: str) -> Plan:
    """The plan with its rows of bottles kept for somebody: `row0="Ida"`."""
    rows = tuple(
        replace(row, what_for=given.get(f"row{place}", "")) for place, row in enumerate(plan.bottles.rows)
    )
    return replace(plan, bottles=replace(plan.bottles, rows=rows))


def laid(plan: Plan, stock: str) -> tuple[Page, ...]:
    view = (tags if stock.startswith("tags") else bands)(plan, t.ENGLISH, the_stock(stock))
    return t.label_pages(stock.partition("-")[0], view, stock)


def texts(pages: tuple[Page, ...]) -> str:
    return t.plain(" ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Words)))


def read_by_a_phone(pages: tuple[Page, ...]) -> list[str]:
    """The texts of all square codes of a photocopy in black and white, as a decoder reads them."""
    found = []
    for page in pypdfium2.PdfDocument(draw.pdf(pages, INFO)):
        grey = page.render(scale=DOTS_AN_INCH / 72).to_pil().convert("1", dither=0).convert("L")
        found += [code.text for code in zxingcpp.read_barcodes(np.asarray(grey))]
    return found


@pytest.mark.parametrize("stock", STOCKS)
@pytest.mark.parametrize("name", ALL)
def test_a_phone_reads_from_a_photocopy_what_the_tag_says(stock: str, name: str) -> None:
    plan = kept_for(ALL[name])
    pages = laid(plan, stock)
    codes = read_by_a_phone(pages)
    filled = sum(row.fill for row in plan.bottles.rows)
    assert len(codes) == filled
    printed = texts(pages)
    for code in set(codes):
        assert plan.code in code
        assert t.plain(t.ENGLISH.day(plan.labels.not_before, "day-month-year")) in code
        for allergen in plan.labels.allergens:
            assert allergen in code
            assert allergen in printed


def test_tags_are_for_the_bottles_that_are_kept_for_somebody() -> None:
    first = t.PLAN.bottles.rows[0]
    pages = laid(kept_for(t.PLAN, row0="Aunt Ida"), "tags-plain-a4")
    assert len(read_by_a_phone(pages)) == first.fill
    assert texts(pages).count("Aunt Ida") == first.fill


def test_where_nobody_is_named_every_bottle_has_one_with_a_line_to_write_on() -> None:
    pages = laid(kept_for(t.PLAN), "tags-plain-a4")
    lines = [mark for page in pages for mark in page.marks if isinstance(mark, Stroke) and mark.weight == 0.5]
    filled = sum(row.fill for row in t.PLAN.bottles.rows)
    cut = [mark for mark in lines if mark.points[0][1] != mark.points[1][1] or len(set(mark.points)) < 2]
    assert len(read_by_a_phone(pages)) == filled
    assert len(lines) - len(cut) >= filled


def test_a_tag_says_strength_units_cautions_and_what_to_do() -> None:
    said = texts(laid(kept_for(ACTUAL), "tags-plain-a4"))
    for words in (
        "Not in pregnancy, and not before driving.",
        "Keep cool, dark and upright",
        "Bring the bottle back",
        "Home-made, not for sale",
        "24 EBC",
    ):
        assert words in said
    assert re.search(r"\d\.\d units? of alcohol \(UK\)", said)
    assert re.search(r"about \d+\.\d ?% vol", said)
    assert "planned" not in said
    assert "planned" in texts(laid(COLOURED, "tags-plain-a4"))


def test_the_units_on_a_tag_are_those_of_the_plan_for_its_bottle() -> None:
    (row,) = [each for each in t.PLAN.quantities.drink_units if (each.country, each.ml) == ("UK", 500)]
    assert f"{row.units:.1f} units of alcohol (UK)" in texts(laid(kept_for(COLOURED), "tags-plain-a4"))


def test_the_colour_of_the_drink_is_shown_with_an_outline_and_only_where_it_is_known() -> None:
    def swatches(plan: Plan) -> list[Box]:
        pages = laid(plan, "tags-plain-a4")
        boxes = [mark for page in pages for mark in page.marks if isinstance(mark, Box)]
        return [box for box in boxes if box.fill.startswith("#")]

    assert {(box.fill, box.weight) for box in swatches(COLOURED)} == {(AMBER, 0.6)}
    assert swatches(t.PLAN) == []


def test_the_rendered_swatch_has_that_colour() -> None:
    pages = laid(COLOURED, "tags-plain-a4")
    box = next(mark for mark in pages[0].marks if isinstance(mark, Box) and mark.fill == AMBER)
    picture = pypdfium2.PdfDocument(draw.pdf(pages, INFO))[0].render(scale=2).to_pil()
    per_mm = 2 * 72 / 25.4
    middle = (int((box.x + box.width / 2) * per_mm), int((box.y + box.height / 2) * per_mm))
    assert picture.getpixel(middle)[:3] == (0xAB, 0x4B, 0x00)


@pytest.mark.parametrize("stock", ["bands-plain-a4", "bands-plain-letter"])
@pytest.mark.parametrize("name", ALL)
def test_there_is_a_band_for_every_label_and_it_says_date_code_and_allergens(stock: str, name: str) -> None:
    plan = ALL[name]
    said = texts(laid(plan, stock))
    assert said.count(plan.code) == plan.bottles.labels
    for allergen in plan.labels.allergens:
        assert said.count(allergen) >= plan.bottles.labels


def test_no_tag_and_no_band_has_a_code_of_less_than_24_mm_or_words_under_8_points() -> None:
    pages = (*laid(LONG, "tags-plain-a4"), *laid(LONG, "bands-plain-a4"))
    marks = [mark for page in pages for mark in page.marks]
    assert {mark.size for mark in marks if isinstance(mark, Square)} == {24.5}
    assert min(mark.size for mark in marks if isinstance(mark, Words)) >= 8


def test_they_are_printed_where_asked_for_only_and_never_after_a_failed_gate() -> None:
    assert not {"tags", "bands"} & set(documents_of(t.PLAN))
    assert documents_of(t.PLAN, ("tags", "bands")) == ("tags", "bands")
    refused = replace(t.PLAN, labels=replace(t.PLAN.labels, allowed=False))
    assert documents_of(refused, ("tags", "bands")) == ()


def test_what_the_printer_does_wrong_is_set_right() -> None:
    """Bars that came out as 99 and 101 mm are drawn 1/0.99 and 1/1.01 times as long, then moved."""
    crooked = replace(t.PLAN, bars_mm=(99.0, 101.0), shift_mm=(1.0, -2.0))
    (plain,), (mended,) = (
        [part.pages for part in lay_out(plan, t.ENGLISH, only=("labels",)).labels]
        for plan in (t.PLAN, crooked)
    )
    for mark, moved in zip(plain[0].marks, mended[0].marks, strict=True):
        if isinstance(mark, Words) and isinstance(moved, Words):
            assert moved.x == pytest.approx(mark.x / 0.99 + 1.0)
            assert moved.y == pytest.approx(mark.y / 1.01 - 2.0)


@pytest.mark.parametrize("language", catalogue.names("layouts/languages"))
@pytest.mark.parametrize("stock", [None, "a4-2x7"])
def test_no_words_of_labels_tags_and_bands_touch_in_any_language(language: str, stock: str | None) -> None:
    """27K has the longest dates: it is drunk in another year."""
    path = catalogue.our_folder() / "recipes" / "examples" / "27k.yaml"
    plan = common.load(path, date(2027, 2, 20)).plan
    assert plan is not None
    changed = replace(plan, language=language, stock=stock)
    laid_out = lay_out(changed, common.words_of(language, plan.units), only=("labels", "tags", "bands"))
    assert [*laid_out.problems.of("stop")] == []
    assert [
        overlaps(page.marks) for part in laid_out.labels for page in part.pages if overlaps(page.marks)
    ] == []
