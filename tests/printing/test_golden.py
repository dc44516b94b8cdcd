"""The words of every page from bottling day on, as they were looked at on paper.

Comes in: the sample batch. The sheets of brew day have theirs in test_documents.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.planning.plan import Plan
from sheetgen.printing.marks import Page
from sheetgen.printing.views.bottling import bottling
from sheetgen.printing.views.labels import discs, labels
from sheetgen.printing.views.safety import safety
from sheetgen.printing.views.timeline import timeline
from sheetgen.printing.words import Words as Language

from . import bottling_plans as t
from .bench import the_stock
from .golden import held_against_golden
from .test_safety_sheet import PLAN as SEALED_TOO_EARLY
from .test_timeline import PLAN as MOVED

SHEETS = {
    "bottling": (bottling, t.PLAN),
    "bottling-wait": (bottling, t.WAIT),
    "bottling-filled": (bottling, t.DONE),
    "timeline": (timeline, MOVED),
    "safety": (safety, SEALED_TOO_EARLY),
}
FILLED = replace(t.PLAN, labels=replace(t.PLAN.labels, filled_is="actual"))
LABELS = {"labels": t.PLAN, "labels-filled": FILLED, "discs": FILLED}
HUNG = [("a4", t.ENGLISH), ("letter", t.AMERICAN)]


def named(name: str, paper: str) -> str:
    return f"{name}-{paper}-{'metric' if paper == 'a4' else 'us'}"


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize(("paper", "language"), HUNG)
def test_the_words_of_the_sheets_are_the_golden_ones(name: str, paper: str, language: Language) -> None:
    view, plan = SHEETS[name]
    shown = view(replace(plan, paper=paper), language)
    held_against_golden(named(name, paper), t.laid(name.partition("-")[0], shown, paper))


@pytest.mark.parametrize("name", LABELS)
@pytest.mark.parametrize(("paper", "language"), HUNG)
def test_the_words_of_the_labels_are_the_golden_ones(name: str, paper: str, language: Language) -> None:
    held_against_golden(named(name, paper), stuck_on(name.partition("-")[0], LABELS[name], paper, language))


def stuck_on(kind: str, plan: Plan, paper: str, language: Language) -> tuple[Page, ...]:
    """The first sheet of labels or discs on plain paper."""
    stock = f"{'caps-plain' if kind == 'discs' else 'plain'}-{paper}"
    view = (discs if kind == "discs" else labels)(plan, language, the_stock(stock))
    return t.label_pages(kind, view, stock)[:1]
