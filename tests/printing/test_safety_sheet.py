"""The safety sheet: what to do, in order, large, on one page, with nothing that invites handling."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from sheetgen.planning import plan as p
from sheetgen.printing.marks import Words
from sheetgen.printing.views.safety import safety
from sheetgen.printing.words import Words as Language
from sheetgen.problems import Problem, said

from . import bottling_plans as t

BECAUSE = (
    said("safety.before-gate", on=date(2027, 3, 12)),
    said("gate.no-counted-readings"),
    said("safety.too-early", days=6),
    said("safety.weak-bottle", ml=330.0, kind="one-way glass"),
    said("safety.weak-bottle", ml=750.0, kind="wine"),
)
PLAN = replace(t.PLAN, safety=p.Safety(BECAUSE, ()))
LONG = replace(PLAN, name=t.LONG_NAME)


@pytest.mark.parametrize("plan", [PLAN, LONG])
@pytest.mark.parametrize(("paper", "language"), [("a4", t.ENGLISH), ("letter", t.AMERICAN)])
def test_it_is_one_page_and_nothing_but_the_foot_is_under_12_points(
    plan: p.Plan, paper: str, language: Language
) -> None:
    (page,) = t.laid("safety", safety(plan, language), paper)
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    assert all(mark.size >= 12 for mark in words if mark.y < page.height - 14)
    assert max(mark.size for mark in words) >= 56


def test_the_order_is_the_safe_one() -> None:
    found = t.text_of(t.laid("safety", safety(PLAN, t.ENGLISH)))
    steps = [
        "Leave the box shut", "What happened", "before the gate was passed", "children and animals out",
        "goggles, thick gloves and long sleeves", "Cool the place", "Wait 24 hours",
        "Carry the closed box to a fridge",
        "ice cold, wrapped in a cloth", "over a sink, the cap away from faces", "Count what burst",
        "Never put these bottles in a freezer",
    ]  # fmt: skip
    places = [found.index(step) for step in steps]
    assert places == sorted(places)


def test_it_says_what_happened() -> None:
    found = t.text_of(t.laid("safety", safety(PLAN, t.ENGLISH)))
    for words in (
        "sealed on Fri 12 Mar",
        "That was day 6",
        "330 ml one-way glass cannot hold",
        "No reading counted by then.",
    ):
        assert words in found


def test_nothing_invites_handling() -> None:
    found = t.text_of(t.laid("safety", safety(replace(PLAN, printed=date(2027, 3, 20)), t.ENGLISH)))
    assert not re.search(r"\bbar\b|volumes|drink|best|11 Apr|18 Apr|13 Jun", found)
    assert "4 assumptions" not in found.split("revision")[0]


def test_facts_that_contradict_one_another_stand_with_what_happened() -> None:
    slip = said("warn.pitched-before", pitched=date(2027, 3, 5), brewed=date(2027, 3, 6))
    plan = replace(PLAN, safety=p.Safety(BECAUSE[:1], ()), problems=(Problem("warn", slip, None, ""),))
    found = t.text_of(t.laid("safety", safety(plan, t.ENGLISH)))
    assert "before the brew day, Sat 6 Mar" in found
