"""The trouble card: the batch's own numbers, what belongs to the drink and to where it is, few cautions."""

from __future__ import annotations

import re

import pytest

from sheetgen.commands import common
from sheetgen.intake.drink_tables import SMELLS
from sheetgen.planning.plan import Trouble
from sheetgen.planning.troubles import MOST_CAUTIONS
from sheetgen.printing.marks import Page
from sheetgen.printing.marks import Words as Printed
from sheetgen.printing.words import Words

from .asked_for import BATCHES, the_pages, the_plan
from .golden import page_text

WORDS = common.words_of("en-GB")


def words_for(name: str) -> Words:
    return common.words_of("en-US", "us") if the_plan(name).units == "us" else WORDS


def troubles_of(name: str) -> dict[str, Trouble]:
    card = the_plan(name).trouble
    assert card is not None
    return {one.id: one for one in (*card.vessel, *card.bottles, *card.any_day)}


def text_of(name: str, units: str = "", paper: str = "A4") -> str:
    joined = "\n".join(page_text(page) for page in the_pages("trouble", name, paper, units))
    return re.sub(r"\s+", " ", joined.replace(" | ", " "))


@pytest.mark.parametrize("name", BATCHES)
def test_cautions_are_large_and_few_on_a_page(name: str):
    heads = {
        words_for(name).say(f"caution.{one.caution}.head")
        for one in troubles_of(name).values()
        if one.caution
    }
    for page in the_pages("trouble", name):
        found = [
            mark for mark in page.marks if isinstance(mark, Printed) and mark.bold and mark.text in heads
        ]
        assert len(found) <= MOST_CAUTIONS
        assert all(mark.size >= 12 for mark in found)


def whole_cautions(page: Page, name: str) -> int:
    text = re.sub(r"\s+", " ", page_text(page).replace(" | ", " "))
    named = {one.caution for one in troubles_of(name).values() if one.caution}
    return sum(words_for(name).say(f"caution.{one}.head") in text for one in named)


@pytest.mark.parametrize("name", BATCHES)
def test_every_caution_of_the_card_is_printed(name: str):
    named = {one.caution for one in troubles_of(name).values() if one.caution}
    assert sum(whole_cautions(page, name) for page in the_pages("trouble", name)) == len(named)


@pytest.mark.parametrize(
    ("name", "there", "gone"),
    [
        ("27b", {"not-started", "stuck", "above", "burst", "flat", "burn"}, {"prickles"}),
        ("27t", {"above", "stuck", "prickles", "skin"}, {"burst", "gush", "flat"}),
        ("looks", {"above", "burst"}, {"stuck"}),
        ("27c", {"burst", "gush", "flat", "missed"}, {"not-started", "foam", "stuck", "above", "burn"}),
        ("stuck", {"stuck", "foam"}, {"not-started"}),
    ],
)
def test_what_cannot_happen_is_not_on_it(name: str, there: set[str], gone: set[str]):
    found = {*troubles_of(name)}
    assert there <= found
    assert not gone & found


@pytest.mark.parametrize("name", [name for name in BATCHES if name not in ("looks", "27c")])
def test_the_limits_are_those_of_the_gate(name: str):
    plan, text = the_plan(name), text_of(name)
    assert f"Bottle at {plan.gate.high:.3f} or less" in text
    assert f"It reads above {plan.gate.ceiling:.3f}" in text
    low, high = (words_for(name).measure(celsius, "temperature") for celsius in (20, 22))
    assert f"Stand it at {low} to {high}".replace("\u202f", " ") in text


def test_temperatures_are_in_the_units_of_the_batch():
    text = text_of("27e", "us", "Letter")
    assert "°F" in text
    assert "°C" not in text


def test_a_drink_that_ferments_out_is_never_sweet_and_safe():
    for name in ("27m", "27p", "27r"):
        assert "all of its sugar can still turn into gas" in text_of(name)
    assert "under a cork it would work on" in text_of("27t")


def test_a_stuck_batch_finds_itself_framed():
    assert [one.id for one in troubles_of("stuck").values() if one.now] == ["stuck"]
    assert not any(one.now for one in troubles_of("27b").values())


def test_a_burst_bottle_is_left_where_it_is_until_it_is_cool():
    text = text_of("27b")
    order = [
        "Leave the box shut",
        "Children and animals out",
        "wait 24 hours",
        "carry it to a fridge",
        "ice cold, wrapped",
        "away from faces",
        "Count what burst",
        "Never put a bottle in a freezer",
    ]
    assert order == sorted(order, key=text.index)


def test_every_smell_that_a_drink_may_name_has_a_sentence():
    assert [name for name in SMELLS if not WORDS.has(f"trouble.smell.{name}")] == []


@pytest.mark.parametrize("name", BATCHES)
def test_label_rules_and_doctors_come_first(name: str):
    assert "a doctor’s word come before this card" in text_of(name)
