"""Fridge, shop and brew: on every paper, in every language and unit, nothing cut, crowded or covered."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from sheetgen.planning import plan as p
from sheetgen.planning.plan import Plan
from sheetgen.printing import flow, layout
from sheetgen.printing.blocks import Sheet
from sheetgen.printing.marks import Page, Words, outside, overlaps
from sheetgen.printing.views.brew import brew
from sheetgen.printing.views.fridge import fridge
from sheetgen.printing.views.shop import shop
from sheetgen.problems import said

from .bench import LAYOUTS, the_paper
from .golden import held_against_golden, page_text
from .sample_plan import FERMENTING, PLAN, STEPS, words

VIEWS = {"fridge": fridge, "shop": shop, "brew": brew}
PLANS = {"new": PLAN, "fermenting": FERMENTING}
MARGIN = 12.0
MOST_TO_READ = 225
HUNG = [
    ("a4", "en-GB", "metric"),
    ("letter", "en-US", "us"),
    ("a4", "en-GB", "uk"),
    ("letter", "en-GB", "metric"),
]


@cache
def _layout(name: str) -> layout.Layout:
    def find(part: str) -> tuple[str, bytes] | None:
        file = LAYOUTS / "documents" / f"{part}.layout"
        return (file.name, file.read_bytes()) if file.is_file() else None

    read, problems = layout.read(
        f"{name}.layout", (LAYOUTS / "documents" / f"{name}.layout").read_bytes(), find
    )
    assert read is not None, [*problems]
    return read


def _pages(
    name: str, plan: Plan, paper: str = "a4", language: str = "en-GB", units: str = ""
) -> tuple[Page, ...]:
    blocks, problems = layout.fill(_layout(name), VIEWS[name](plan, words(language, units)))
    assert not len(problems), [*problems]
    sheets = [block for block in blocks if isinstance(block, Sheet)]
    pages, problems = flow.pages(sheets, the_paper(paper))
    assert not len(problems), [*problems]
    return pages


def _boiled() -> Plan:
    """A long boil with many hops, so that the brew sheet needs a second page."""
    hops = tuple(
        p.Step(said("step.sample-hops", name=name), "group.sample-warm", p.Amount(20, "g"), left_min=left)
        for name, left in (
            ("Northdown", 60.0),
            ("East Kent Goldings, whole", 30.0),
            ("Fuggles", 5.0),
            ("Late", 0.0),
        )
    )
    return replace(
        PLAN, steps=(*STEPS[:6], *hops, *hops, *STEPS[6:]), boiled=True, brew_minutes=240, start=None
    )


def _crowded() -> Plan:
    """Long names, many lines, five sizes of bottles, many assumptions."""
    glass = [(330, "one-way glass"), (500, "returnable glass"), (1000, "swing-top"), (1500, "pet")]
    sizes = [*glass, (750, "thick sparkling-wine glass")]
    row = PLAN.bottles.rows[1]
    return replace(
        PLAN,
        name="The very long named Winter Ale of the lower boathouse, number 3",
        brewer="Maximiliane Feuerstein-Habermann",
        lists=replace(PLAN.lists, buy=PLAN.lists.buy * 3, set_out=PLAN.lists.set_out * 2),
        assumptions=tuple((f"key-{n}", said("sample.long", n=n)) for n in range(21)),
        bottles=replace(PLAN.bottles, rows=tuple(replace(row, ml=ml, kind=kind) for ml, kind in sizes)),
    )


CASES = {**PLANS, "boiled": _boiled(), "crowded": _crowded()}


@pytest.mark.parametrize("name", VIEWS)
@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize(("paper", "language", "units"), HUNG)
def test_nothing_leaves_the_margins_or_covers_anything(
    name: str, case: str, paper: str, language: str, units: str
):
    for page in _pages(name, CASES[case], paper, language, units):
        assert [mark.text for mark in outside(page, MARGIN - 2)] == []
        assert overlaps(page.marks) == []


@pytest.mark.parametrize(("paper", "language", "units"), HUNG)
def test_the_ordinary_batch_takes_one_page_a_sheet(paper: str, language: str, units: str):
    counts = {name: len(_pages(name, PLAN, paper, language, units)) for name in VIEWS}
    assert {name: counts[name] for name in ("fridge", "brew")} == {"fridge": 1, "brew": 1}
    assert counts["shop"] <= 2
    assert len(_pages("shop", PLAN)) == 1


def test_a_boil_takes_two_pages_and_breaks_between_groups():
    first, second = _pages("brew", _boiled())
    assert "Brew sheet, continued" in page_text(second)
    assert re.search(r"^(Cold|Yeast)$", page_text(second), re.MULTILINE)
    assert "Stir in the tinned malt" in page_text(first)


def test_brew_day_is_little_to_read():
    view = brew(PLAN, words())
    read = [
        step[part]
        for group in view["groups"]
        for step in group["steps"]
        for part in ("text", "note", "head", "says")
    ]
    read += [row[side] for row in view["check"]["rows"] for side in ("left", "right")]
    assert sum(len(re.findall(r"[^\W\d_]{2,}", text)) for text in read) <= MOST_TO_READ


def test_dates_on_the_door_are_large_enough_for_two_metres():
    page = _pages("fridge", FERMENTING)[0]
    sizes = {mark.text: mark.size for mark in page.marks if isinstance(mark, Words)}
    assert sizes["Wed\u00a017\u00a0March"] == 66
    assert sizes["Test 2"] == 28
    assert min(sizes.values()) >= 8


def test_grey_is_never_small():
    for name in VIEWS:
        for page in _pages(name, FERMENTING):
            grey = [mark for mark in page.marks if isinstance(mark, Words) and mark.grey]
            assert [mark.text for mark in grey if mark.size < 10.5] == []


@pytest.mark.parametrize("name", VIEWS)
@pytest.mark.parametrize(("paper", "language", "units"), HUNG[:2])
def test_the_words_of_every_page_are_the_golden_ones(name: str, paper: str, language: str, units: str):
    plan = FERMENTING if name == "fridge" else PLAN
    held_against_golden(f"{name}-{paper}-{units}", _pages(name, plan, paper, language, units))
