"""Every number on paper stands in the plan's JSON, or in the words of the language: no view makes one up.

The numbers of the JSON are written as each kind of measure in metric, US and UK units; dates give their days
and years, clock times their hours and minutes.  Whatever figure stands on a page must be among them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sheetgen.commands import common
from sheetgen.intake import read_batch
from sheetgen.planning import plan_batch
from sheetgen.planning.as_json import as_json
from sheetgen.planning.plan import Plan
from sheetgen.printing import measures
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Words as Printed
from sheetgen.printing.views import ruler

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted(path.stem for path in (ROOT / "recipes" / "examples").glob("*.yaml"))
TODAY = date(2027, 2, 20)
FIGURES = re.compile(r"\d+(?:\.\d+)?[¼½¾]?|[¼½¾]")


def values_of(tree: Any) -> Iterator[Any]:
    """All values of a JSON, whatever it is made of."""
    if isinstance(tree, dict):
        for item in tree.values():
            yield from values_of(item)
    elif isinstance(tree, list):
        for item in tree:
            yield from values_of(item)
    else:
        yield tree


def figures_in(text: str) -> set[str]:
    return set(FIGURES.findall(text.replace("\N{MINUS SIGN}", "-")))


def figures_of(value: Any) -> set[str]:
    """Every figure that a value of the JSON may be printed as."""
    if isinstance(value, str):
        return figures_of_text(value)
    if isinstance(value, bool) or value is None:
        return set()
    return {figure for number in (float(value), abs(float(value))) for figure in figures_of_number(number)}


@cache
def figures_of_number(number: float) -> frozenset[str]:
    found = {f"{number:g}", measures.figures(number)}
    for kind in measures.KINDS.values():
        for system in measures.SYSTEMS:
            found |= figures_in(kind(number, system)[0])
    return frozenset(found)


def figures_of_text(text: str) -> set[str]:
    found = figures_in(text)
    for moment in re.findall(r"\d{4}-\d\d-\d\d(?:T\d\d:\d\d)?", text):
        when = datetime.fromisoformat(moment)
        found |= {
            str(when.day),
            str(when.year),
            str(when.hour),
            f"{when.minute:02}",
            str(when.hour % 12 or 12),
        }
    return found


@cache
def worded() -> set[str]:
    """Figures that belong to sentences and layouts, and so are the same for every batch."""
    files = [
        *(ROOT / "layouts" / "languages").glob("*.yaml"),
        *(ROOT / "layouts" / "documents").glob("*.layout"),
    ]
    blanks = re.compile(r"\{(\d+(?:\.\d+)?):([a-z-]+)\}")
    found: set[str] = set()
    for text in (file.read_text(encoding="utf-8") for file in files):
        found |= figures_in(text)
        for number, kind in blanks.findall(text):
            for system in measures.SYSTEMS if kind in measures.KINDS else ():
                found |= figures_in(measures.KINDS[kind](float(number), system)[0])
    return found


def counted(plan: Plan) -> set[str]:
    """Bottles, days, lines and pages are numbered from one; gravities of the gate's lines step by one."""
    most = max([plan.bottles.filled + 40, *(task.day for task in plan.tasks)])
    return {str(number) for number in range(most + 1)}


def printed(plan: Plan) -> Iterator[str]:
    words = common.words_of(plan.language, plan.units)
    laid = printed_set.lay_out(plan, words, only=[printed_set.EVERYTHING])
    for part in (*laid.sheets, *laid.labels):
        for page in part.pages:
            yield from (mark.text for mark in page.marks if isinstance(mark, Printed))


@cache
def plan_of(name: str) -> Plan:
    today = date(2027, 3, 27) if name == "27c" else TODAY
    batch, problems = read_batch(ROOT / "recipes" / "examples" / f"{name}.yaml", today)
    assert batch is not None, list(problems)
    plan = plan_batch(batch, today, problems)
    assert plan is not None, list(problems.of("stop"))
    return plan


SMALL_LITRES = {"metric": 1.0, "us": 0.946352946, "uk": 0.56826125}
WILD_POINTS = 0.003


def leaning(plan: Plan) -> set[str]:
    """What paper says of a number in the JSON in its own way: litres of the ladder go up to the next tenth of
    a quart or pint, so that the sugar beside them is never too much; the strip of corrections is in SG; three
    points under the range speak of wild yeast; a chart has lines at round gravities; cold water is that of
    fridge and tap together; the ruler page names its own example and the sizes of its types.
    """
    gas = plan.carbonation
    found = {f"{abs(add) / 1000:.4f}" for _, add in plan.gate.correction_strip}
    found |= {f"{plan.gate.low - WILD_POINTS:.3f}"}
    found |= {f"{line / 1000:.3f}" for line in range(900, 1200, 5)}
    found |= {figure for number in ruler.EXAMPLE for figure in figures_in(measures.figures(number))}
    found |= {f"{points:g}" for points, *_ in ruler.TYPES}
    water = plan.quantities.water
    found |= {measures.KINDS["litres"](water.fridge_l + water.tap_l, plan.units)[0]}
    for rung in gas.ladder if gas else ():
        for one in SMALL_LITRES.values():
            found.add(measures.figures(measures.rounded_up(rung.litres / one, 0.1)))
            found.add(measures.figures(measures.rounded_up(rung.litres / one, 0.05)))
    return found


def unknown(plan: Plan, texts: Iterable[str]) -> set[str]:
    """Figures on the pages that are nowhere in the JSON."""
    known = worded() | counted(plan) | leaning(plan)
    for value in values_of(as_json(plan, common.in_english)):
        known |= figures_of(value)
    return {figure for text in texts for figure in figures_in(text)} - known


@pytest.mark.parametrize("units", measures.SYSTEMS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_no_number_is_printed_that_is_not_in_the_plan(name: str, units: str):
    plan = replace(plan_of(name), units=units)
    assert unknown(plan, printed(plan)) == set()


def test_a_number_that_a_view_makes_up_is_found():
    plan = plan_of("27a")
    assert unknown(plan, ["about 7.77 volumes", "1.0987"]) == {"7.77", "1.0987"}
