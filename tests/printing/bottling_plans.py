"""Batch 27A from its tests on: every state of the gate, one to five sizes; and how a view is laid out."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import cache

from pypdf import PdfReader

from sheetgen.planning import plan as p
from sheetgen.printing import draw, flow, labels, layout
from sheetgen.printing.blocks import Sheet, Sticker
from sheetgen.printing.marks import Page, outside, overlaps
from sheetgen.problems import said

from .bench import INFO, LAYOUTS, the_paper, the_stock
from .sample_plan import BOTTLES, CARBONATION, FERMENTING, GATE, LABELS, words

MARGIN = 12.0
ENGLISH = words("en-GB", sample=False)
AMERICAN = words("en-US", sample=False)
GERMAN = words("de", sample=False)
FRENCH = words("fr", sample=False)
LONG_NAME = "The Very Long Named Imperial Boathouse Stout, All Barrels In"
STEPS_AT_CAP = {"warm": said("bottle-step.warm", celsius=21.0, on=date(2027, 4, 4))}
Spec = tuple[float, str, int]


def rows_of(*specs: Spec) -> tuple[p.BottleRow, ...]:
    """Bottle rows of so many each, numbered through."""
    rows: list[p.BottleRow] = []
    first = 1
    for ml, kind, count in specs:
        numbers = (first, first + count - 1)
        rows.append(p.BottleRow(ml, kind, count, count, count, 0, numbers, kind != "pet", ""))
        first += count
    return tuple(rows)


def steps_of(rows: Iterable[p.BottleRow], bulk: bool = False, sugar: bool = True) -> tuple[p.Step, ...]:
    """The steps of filling day, as planning words them."""
    fills = [row for row in rows if row.fill]
    count = sum(row.fill for row in fills)
    clean = said("bottle-step.sanitise", n=count, litres=8.0, product="no-rinse acid")
    steps = [
        p.Step(said("bottle-step.look"), "group.bottles", caution="bottle-glass"),
        p.Step(clean, "group.bottles", p.Amount(12.0, "ml")),
    ]
    if sugar and bulk:
        note = said("bottle-step.syrup.note", water=300.0)
        steps.append(p.Step(said("bottle-step.syrup"), "group.sugar", p.Amount(68.0, "g"), note, "hot-syrup"))
    elif sugar:
        steps.append(
            p.Step(said("bottle-step.sugar", n=21), "group.sugar", note=said("bottle-step.sugar.note"))
        )
    steps += [p.Step(_fill(row), "group.fill") for row in fills]
    last = (said("bottle-step.headspace-glass"), said("bottle-step.cap"), STEPS_AT_CAP["warm"])
    return (*steps, *(p.Step(one, "group.fill") for one in last))


def _fill(row: p.BottleRow) -> p.Said:
    first, last = row.numbers
    name = "bottle-step.fill" if last > first else "bottle-step.fill-one"
    return said(name, ml=row.ml, kind=row.kind, first=first, last=last)


def _doses(rows: Iterable[p.BottleRow]) -> tuple[p.Dose, ...]:
    return tuple(
        p.Dose(row.ml, row.kind, row.fill, int(row.ml * 0.062) / 10, row.ml * 0.0062, 0.5, 2.5)
        for row in rows
    )


def with_bottles(plan: p.Plan, *specs: Spec, bulk: bool = False) -> p.Plan:
    """The plan with other bottles, their doses and their steps."""
    rows = rows_of(*specs)
    count = sum(row.fill for row in rows)
    gas = plan.carbonation
    return replace(
        plan,
        bottles=replace(plan.bottles, rows=rows, filled=count, labels=count + 2),
        bottling_steps=steps_of(rows, bulk, gas is not None),
        carbonation=gas and replace(gas, sizes=_doses(rows), dosing="in-bulk" if bulk else gas.dosing),
    )


CHOICES = tuple(
    (LABELS.filled + timedelta(days=number), LABELS.not_before + timedelta(days=number))
    for number in range(14)
)
LADDER = tuple(p.Rung(9.0 + number / 2, float(56 + 3 * number)) for number in range(7))
PLAN = replace(
    FERMENTING,
    bottling_steps=steps_of(BOTTLES.rows),
    labels=replace(LABELS, fill_choices=CHOICES),
    carbonation=replace(CARBONATION, ladder=LADDER),
)
FIVE = with_bottles(
    PLAN,
    (1000, "pet", 2),
    (750, "thick sparkling-wine glass", 3),
    (500, "returnable glass", 8),
    (330, "one-way glass", 6),
    (250, "swing-top", 4),
)
SIX = with_bottles(PLAN, (750, "returnable glass", 6))
SIXTY = with_bottles(PLAN, (330, "one-way glass", 60))
MANY = with_bottles(PLAN, (330, "one-way glass", 118))
BULK = with_bottles(PLAN, (1000, "pet", 1), (500, "returnable glass", 20), bulk=True)
SPOONS = replace(PLAN, carbonation=replace(CARBONATION, ladder=LADDER, dosing="teaspoons"))
STILL = replace(PLAN, carbonation=None, bottling_steps=steps_of(BOTTLES.rows, sugar=False))
CIDER = replace(PLAN, gate=replace(GATE, low=0.988, high=1.0, ceiling=1.0))


def reading(day: int, sg: float, celsius: float, counts: bool = True, assumed: bool = False) -> p.GateReading:
    """A reading of March 2027."""
    return p.GateReading(date(2027, 3, day), sg, celsius, assumed, round(sg - 0.0005, 4), counts)


def judged(
    state: p.GateState, why: str, next_date: date | None, *readings: p.GateReading, pet_only: bool = False
) -> p.Plan:
    """The plan with the gate in that state after those readings."""
    because = said(f"gate.{why}", high=1.015, ceiling=1.017, low=1.010, days=3)
    gate = replace(
        GATE, state=state, because=(because,), next_date=next_date, readings=readings, pet_only=pet_only
    )
    tasks = tuple(
        replace(task, state="done") if task.id in {"test-1", "test-2"} else task for task in PLAN.tasks
    )
    return replace(PLAN, gate=gate, tasks=tasks)


NEXT = date(2027, 3, 23)
PASS = judged(
    "pass", "steady-in-range", None,
    reading(12, 1.014, 18, counts=False), reading(17, 1.012, 18), reading(20, 1.012, 19, assumed=True),
)  # fmt: skip
CARE = judged("pass-with-care", "between", None, *(reading(day, 1.016, 18) for day in (17, 20, 23)))
CARE_PET = replace(CARE, gate=replace(CARE.gate, pet_only=True))
WAIT = judged("wait", "still-falling", NEXT, reading(17, 1.014, 18), reading(20, 1.012, 19))
BETWEEN = judged("wait", "between", NEXT, reading(17, 1.016, 18), reading(20, 1.016, 19))
AGAIN = judged("measure-again", "rose", date(2027, 3, 20), reading(17, 1.012, 18), reading(20, 1.014, 19))
STUCK = judged("stuck", "above-ceiling", NEXT, reading(17, 1.022, 18), reading(20, 1.022, 19))
DONE = replace(
    PASS,
    labels=replace(PASS.labels, filled_is="actual"),
    tasks=tuple(replace(task, state="done") if task.id == "bottle" else task for task in PASS.tasks),
)


@cache
def layout_of(name: str) -> layout.Layout:
    """One of our layouts."""

    def find(part: str) -> tuple[str, bytes] | None:
        file = LAYOUTS / "documents" / f"{part}.layout"
        return (file.name, file.read_bytes()) if file.is_file() else None

    found = find(name)
    assert found is not None
    read, problems = layout.read(*found, find)
    assert read is not None, [*problems]
    return read


def laid(name: str, view: Mapping[str, object], paper: str = "a4") -> tuple[Page, ...]:
    """The pages of a sheet: without a problem, nothing over one another, nothing in the margins."""
    blocks, problems = layout.fill(layout_of(name), view)
    assert not len(problems), [*problems]
    pages, problems = flow.pages([block for block in blocks if isinstance(block, Sheet)], the_paper(paper))
    assert not len(problems), [*problems]
    for page in pages:
        assert overlaps(page.marks) == []
        assert outside(page, MARGIN - 0.5) == []
    return pages


def stickers(name: str, view: Mapping[str, object]) -> list[Sticker]:
    """The labels that a layout makes of a view."""
    blocks, problems = layout.fill(layout_of(name), view)
    assert not len(problems), [*problems]
    return [block for block in blocks if isinstance(block, Sticker)]


def label_pages(name: str, view: Mapping[str, object], stock: str) -> tuple[Page, ...]:
    """The pages of labels on a stock: nothing stopped, nothing over one another."""
    chosen = the_stock(stock)
    pages, problems = labels.pages(
        stickers(name, view), chosen, the_paper(chosen.paper), labels.Feed(ruler="", advice="")
    )
    assert not problems.stopped, [*problems]
    assert all(overlaps(page.marks) == [] for page in pages)
    return pages


def text_of(pages: tuple[Page, ...]) -> str:
    """The words of a PDF made of the pages, in reading order, ordinary spaces throughout."""
    reader = PdfReader(io.BytesIO(draw.pdf(pages, INFO)))
    found = "\n".join(page.extract_text() for page in reader.pages)
    return plain(found)


def plain(text: str) -> str:
    """Words with one ordinary space between them, and none before a stop."""
    return re.sub(r" ([:;,.])", r"\1", re.sub(r"\s+", " ", text))
