"""The record page: gravity chart, readings, bottle ledger and tastings, to fill in with a pencil.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/record.layout.  What was written
into the batch file already stands in its place, ticked and grey.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sheetgen.planning.plan import BottleRow, Plan, Tasting
from sheetgen.printing.views.common import View, day_of, filled_on, frozen, page, runs
from sheetgen.printing.views.gate import gate_notes, test_rows
from sheetgen.printing.views.gravity_chart import gravity_chart
from sheetgen.printing.views.looks import look_rows
from sheetgen.printing.words import Words
from sheetgen.problems import said

READINGS = 4
"""Lines for readings after brew day, unless more were taken."""
MOST_READINGS = 8
MOST_TASTED = 4
WEEK = 7
_GAS = ("flat", "little", "right", "lively")
_FEW_SIZES = 2
_STILL = ("cloudy", "clear", "harsh", "right")
_TRY = ("early-bottle", "test-bottle", "try")
_HEADS = ("reading", "temperature", "corrected")


def record(plan: Plan, words: Words) -> View:
    """What the record page shows."""
    begins = plan.task("brew").when.expected
    return frozen(
        page=page(plan, words, "record", (begins, plan.labels.best_from)),
        subtitle=runs(words, "record.subtitle-looks" if plan.gate.by_looks else "record.subtitle"),
        continued=words.say("record.continued"),
        chart=gravity_chart(plan, words),
        readings=_looks(plan, words) if plan.gate.by_looks else _readings(plan, words),
        bottles=_bottles(plan, words),
        tastings=_tastings(plan, words),
    )


# Readings


def _readings(plan: Plan, words: Words) -> View:
    """The reading of brew day, those that were taken since, and lines for more."""
    count = min(MOST_READINGS, max(READINGS, len(plan.gate.readings) + 1))
    return frozen(
        title=words.say("record.readings"),
        heads=tuple(words.say(f"bottling.head.{name}") for name in _HEADS),
        note=words.say("record.noticed"),
        unit=words.measured(20.0, "temperature")[1],
        rows=(_brew_day(plan, words), *test_rows(plan, words, count)),
        notes=gate_notes(plan.gate, words),
        looks=False,
    )


def _brew_day(plan: Plan, words: Words) -> View:
    """The reading before the yeast goes in, and what is expected."""
    measured, done = plan.quantities.measured_original, plan.task("brew").state == "done"
    expected = plan.quantities.brewed_gravity or plan.quantities.original_gravity
    return frozen(
        name=words.task("brew"),
        date=day_of(words, plan.task("brew").when.expected),
        done=done and measured is not None,
        counts=True,
        sg="",
        celsius="",
        corrected=words.measure(measured, "sg") if measured is not None else "",
        expected=words.say(said("record.expected", sg=expected)),
    )


def _looks(plan: Plan, words: Words) -> View:
    """Looks and tastes, where there is no hydrometer; with lines for more."""
    rows = look_rows(plan, words)[-MOST_READINGS:]
    spare = frozen(name=words.task("taste"), date=None, done=False, counts=True, clear="", sweet="")
    return frozen(
        title=words.say("record.looks"),
        heads=(words.say("bottling.looks.clear"), words.say("bottling.looks.sweet")),
        note=words.say("record.noticed"),
        unit="",
        rows=(*rows, *[spare] * max(1, READINGS - len(rows))),
        notes=gate_notes(plan.gate, words),
        looks=True,
    )


# Bottles


def _bottles(plan: Plan, words: Words) -> View:
    rows = [_size(row, plan, words) for row in plan.bottles.rows if row.fill]
    odd = plan.bottles.odd
    if odd is not None:
        text = words.say(said("record.odd", ml=odd.ml, size=odd.bottle_ml, kind=odd.kind))
        full = "1" if _is_filled(plan) else ""
        rows.append(frozen(count="1", text=text, numbers=str(odd.number), filled=full))
    names = ("filled", "tried", "given", "left")
    return frozen(
        title=words.say("record.bottles"),
        heads=tuple(words.say(f"record.head.{name}") for name in names),
        numbers=words.say("record.head.numbers"),
        rows=tuple(rows),
        total=str(plan.bottles.numbered) if len(rows) > _FEW_SIZES else "",
        all=words.say("bottling.filled-all"),
        sum=str(plan.bottles.numbered) if _is_filled(plan) else "",
    )


def _is_filled(plan: Plan) -> bool:
    return plan.labels.filled_is == "actual"


def _size(row: BottleRow, plan: Plan, words: Words) -> View:
    """One size and kind, with its numbers; and how many were filled, once they are."""
    first, last = row.numbers
    return frozen(
        count=str(row.fill),
        text=words.say(said("bottling.filled-row", ml=row.ml, kind=row.kind)),
        numbers=f"{first}–{last}" if last > first else str(first),
        filled=str(row.fill) if _is_filled(plan) else "",
    )


# Tastings


def _tastings(plan: Plan, words: Words) -> View:
    """Test bottles, then tastings: what was tried already, then what is to come."""
    still = plan.carbonation is None
    found = [*_tried(plan, words), *_to_try(plan, words), *_to_taste(plan, words)]
    return frozen(
        title=words.say("record.tastings"),
        signs=tuple(
            words.say(f"record.still.{name}" if still else f"record.gas.{name}")
            for name in (_STILL if still else _GAS)
        ),
        note=words.say("record.tasted"),
        rows=tuple(view for _on, view in sorted(found, key=lambda pair: pair[0])),
    )


def _tried(plan: Plan, words: Words) -> Iterator[tuple[date, View]]:
    for one in plan.tastings[-MOST_TASTED:]:
        yield one.on, _row(words.say("record.test-bottle"), one.on, words, one)


def _to_try(plan: Plan, words: Words) -> Iterator[tuple[date, View]]:
    for task in plan.tasks:
        if task.state != "done" and task.id.startswith(_TRY):
            yield task.when.expected, _row(words.say("record.test-bottle"), task.when.expected, words)


def _to_taste(plan: Plan, words: Words) -> Iterator[tuple[date, View]]:
    """The days for tasting, by the weeks they really lie after filling; of two in one week the first."""
    filled, last = filled_on(plan), date.min
    for _weeks, on in plan.keeping.tastings if plan.keeping else ():
        if (on - last).days >= WEEK and on not in {one.on for one in plan.tastings}:
            yield on, _row(words.say(said("record.after", n=round((on - filled).days / WEEK))), on, words)
            last = on


def _row(what: str, on: date, words: Words, tasted: Tasting | None = None) -> View:
    return frozen(
        what=what,
        date=day_of(words, on),
        done=tasted is not None,
        ticks=tuple("done" if tasted and tasted.gas == name else "open" for name in _GAS),
        note=tasted.note if tasted else "",
    )
