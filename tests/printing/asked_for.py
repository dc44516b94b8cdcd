"""Batches for the sheets that are only printed when asked for: shortest, usual, longest, and every drink.

Comes in: nothing.  Goes out: `the_plan`, planned from the file as people write it, and `the_pages`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sheetgen.commands import common
from sheetgen.intake import read_batch
from sheetgen.planning import plan_batch
from sheetgen.planning.plan import Plan
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Page

EXAMPLES = Path(__file__).resolve().parents[2] / "recipes" / "examples"
TODAY = date(2027, 2, 20)
SHORTEST = """\
batch: 4W
recipe: copper-lane-amber
brew-day: 2027-03-06
volume: 4 L
room: 19 C
bottles: {500 ml returnable glass: 12}
"""
LONGEST = """\
batch: 27W
recipe: ferry-steps-wheat
brewer: Maximiliane Feuerstein-Habermann
volume: 25 L
brew-day: 2027-03-06 10:00
room: {fermenting: 19 C, warm-place: 21 C, storing: 12 C}
equipment: {vessel: {name: the old blue bucket, holds: 36 L}, pot: 12 L}
bottles:
  - {size: 1 L, kind: pet, count: 6, for: gifts}
  - {size: 750 ml, kind: thick sparkling-wine glass, count: 6}
  - {size: 500 ml, kind: returnable glass, count: 12}
  - {size: 500 ml, kind: swing-top, count: 10}
  - {size: 330 ml, kind: one-way glass, count: 24}
carbonation: 2.4 volumes
my-days: [sat, sun, wed]
event: {date: 2027-06-12, name: midsummer supper, guests: 18, drinks-each: 2 x 330 ml}
away: [2027-03-13..2027-03-16, 2027-04-01..2027-04-06]
"""
LOOKS = """\
batch: 27X
recipe: copper-lane-little
brew-day: 2027-03-06
volume: 5 L
room: 20 C
equipment: {hydrometer: none}
bottles: {500 ml pet: 14}
carbonation: 2 volumes
"""
STUCK = """\
batch: 27A
recipe: copper-lane-amber
brew-day: 2027-03-06
volume: 12 L
room: 17 C
bottles: {500 ml returnable glass: 26}
actual:
  brewed: 2027-03-06
  og: 1.043 at 20 C
  readings: [{on: 2027-03-20, sg: 1.025 at 17 C}, {on: 2027-03-24, sg: 1.025 at 17 C}]
"""
WRITTEN = {"shortest": SHORTEST, "longest": LONGEST, "looks": LOOKS, "stuck": STUCK}
DAYS = {"27c": date(2027, 3, 27), "stuck": date(2027, 3, 24)}
BATCHES = (*WRITTEN, "27b", "27c", "27e", "27k", "27m", "27p", "27r", "27t")
"""Beside those written here: usual, bottled, US units, strong, cider, ginger beer, mead and still wine."""


@cache
def the_plan(name: str) -> Plan:
    """One of `BATCHES`, or of our examples, planned."""
    today = DAYS.get(name, TODAY)
    with TemporaryDirectory() as folder:
        path = EXAMPLES / f"{name}.yaml"
        if name in WRITTEN:
            path = Path(folder) / "batch.yaml"
            path.write_text(WRITTEN[name], encoding="utf-8")
        batch, problems = read_batch(path, today)
    assert batch is not None, list(problems)
    plan = plan_batch(batch, today, problems)
    assert plan is not None, list(problems.of("stop"))
    return plan


@cache
def the_pages(
    document: str, name: str, paper: str = "A4", units: str = "", language: str = ""
) -> tuple[Page, ...]:
    """The pages of one document of a batch, which must be without any problem."""
    plan = the_plan(name)
    plan = replace(plan, paper=paper, units=units or plan.units)
    language = language or ("en-US" if plan.units == "us" else "en-GB")
    laid = printed_set.lay_out(plan, common.words_of(language, plan.units), only=[document])
    assert not len(laid.problems), list(laid.problems)
    return tuple(page for part in laid.sheets for page in part.pages)
