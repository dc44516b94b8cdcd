"""The gravity chart: the expected band with the gate's limits, for a pencil to go on with.

Comes in: a `Plan` and `Words`.  Goes out: a part of the view of layouts/documents/record.layout.  Each day is
a column; what belongs to a day stands in the column's middle, its day number and date under it, and under
those a cell for the room's temperature.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta

from sheetgen.planning.band import is_test
from sheetgen.planning.plan import Plan, Task
from sheetgen.printing import fonts
from sheetgen.printing.views.common import View, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import said

WIDTH_MM, LEAST_MM = 138.0, 52.0
"""Of record.layout: how wide the scale is, and how low it may become."""
_CELL_MM, _LABEL_MM, _TINY_PT, _SMALL_PT = 9.2, 4.4, 8.0, 10.5
_AIR_MM = 1.6
_LEADER = 1.012
"""Where a limit's line ends, before its words, which stand higher where two would touch."""
_STEPS_DAYS = (1, 2, 4, 7, 14, 28)
_STEPS_SG = (0.005, 0.010, 0.020, 0.050)
_MOST_LINES = 8
_FINE_MM = 0.8
_ROOM_AFTER_DAYS = 3
_ABOVE_SG, _BELOW_SG = 0.001, 0.002
_DAY = timedelta(days=1)


def gravity_chart(plan: Plan, words: Words) -> View:
    """The chart of a batch: band, limits, days to measure, days away, readings, and the axes."""
    days = _days(plan)
    step, bottom, top = _scale(plan)
    begins = plan.task("brew").when.expected

    def at(on: date) -> float:
        return _share((on - begins).days + 0.5, days)

    def height(sg: float) -> float:
        return _share(sg - bottom, top - bottom)

    return frozen(
        drawn=not plan.gate.by_looks,
        band=_band(plan, days, height),
        expected=_points((_share(row.day + 0.5, days), height(row.expected)) for row in plan.gravity_band),
        lines=tuple(
            frozen(y=height(bottom + number * step), text=words.measure(bottom + number * step, "sg"))
            for number in range(round((top - bottom) / step) + 1)
        ),
        fine=tuple(_fine(bottom, top, step)),
        limits=tuple(_limits(plan, words, height)),
        marks=tuple(_marks(plan, words, at)),
        away=tuple(_away(plan, begins, days)),
        readings=tuple(frozen(x=at(on), y=height(sg)) for on, sg in _read(plan) if at(on) <= 1),
        **_axis(begins, days, words),
    )


def _share(part: float, whole: float) -> float:
    return round(min(1.0, max(0.0, part / whole)), 4)


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{x:.4f},{y:.4f}" for x, y in points)


# Scales


def _read(plan: Plan) -> Iterator[tuple[date, float]]:
    """What was read: before the yeast went in, and since."""
    if plan.quantities.measured_original is not None:
        yield plan.task("brew").when.expected, plan.quantities.measured_original
    for reading in plan.gate.readings:
        yield reading.on, reading.corrected


def _days(plan: Plan) -> int:
    """So many columns: to the last day of bottling without worry, in whole cells."""
    begins, bottle = plan.task("brew").when.expected, plan.task("bottle").when
    tests = [task.when.expected for task in plan.tasks if is_test(task)]
    last = max([bottle.expected, *tests, *(on for on, _sg in _read(plan))])
    days = max((last - begins).days, len(plan.gravity_band) - 1) + 1 + _ROOM_AFTER_DAYS
    step = _cell_days(days)
    return math.ceil(days / step) * step


def _cell_days(days: int) -> int:
    """How many days share a cell that is wide enough to write in."""
    fitting = (step for step in _STEPS_DAYS if WIDTH_MM * step / days >= _CELL_MM)
    return next(fitting, math.ceil(days * _CELL_MM / WIDTH_MM))


def _scale(plan: Plan) -> tuple[float, float, float]:
    """The step between two lines, the lowest and the highest line, in SG."""
    found = [sg for row in plan.gravity_band for sg in (row.low, row.high)]
    found += [plan.gate.low, plan.gate.ceiling, plan.quantities.original_gravity]
    found += [sg for _on, sg in _read(plan)]
    low, high = min(found) - _BELOW_SG, max(found) + _ABOVE_SG
    step = next((step for step in _STEPS_SG if (high - low) / step <= _MOST_LINES), _STEPS_SG[-1])
    return step, math.floor(low / step + 1e-6) * step, math.ceil(high / step - 1e-6) * step


def _fine(bottom: float, top: float, step: float) -> Iterator[float]:
    """Small ticks at every thousandth or fifth of a step, whichever a pencil can tell apart."""
    small = 0.001 if 0.001 / (top - bottom) * LEAST_MM >= _FINE_MM else step / 5
    for number in range(1, round((top - bottom) / small)):
        yield _share(number * small, top - bottom)


# What is drawn


def _band(plan: Plan, days: int, height: Callable[[float], float]) -> str:
    rows = plan.gravity_band
    there = [(_share(row.day + 0.5, days), height(row.low)) for row in rows]
    back = [(_share(row.day + 0.5, days), height(row.high)) for row in reversed(rows)]
    return _points([*there, *back]) if len(rows) > 1 else ""


def _limits(plan: Plan, words: Words, height: Callable[[float], float]) -> Iterator[View]:
    """The highest reading that passes, and the one above which nothing is bottled, their words apart."""
    gate = plan.gate
    found = [("pass", gate.high)] + ([("stop", gate.ceiling)] if gate.ceiling > gate.high else [])
    free = 0.0
    for name, sg in found:
        y = height(sg)
        label = max(y, free)
        free = label + _LABEL_MM / LEAST_MM
        yield frozen(
            line=_points([(0, y), (1, y), (_LEADER, label)]),
            dots=name == "stop",
            at=round(label, 4),
            text=words.say(said(f"record.chart.{name}", sg=sg)),
        )


def _marks(plan: Plan, words: Words, at: Callable[[date], float]) -> Iterator[View]:
    """The days to measure and to bottle, their words in as many rows as keep them apart."""
    ends: list[float] = []
    for task in sorted(_measuring(plan), key=lambda task: task.when.expected):
        x, text = at(task.when.expected), words.task(task.id)
        left = x * WIDTH_MM
        row = next((number for number, end in enumerate(ends) if end < left), len(ends))
        ends[row:] = [left + fonts.width_mm(text, _SMALL_PT) + 2 * _AIR_MM, *ends[row + 1 :]]
        yield frozen(x=x, row=row, text=text)


def _measuring(plan: Plan) -> Iterator[Task]:
    for task in plan.tasks:
        if task.id == "bottle" or (is_test(task) and task.state != "done"):
            yield task


def _away(plan: Plan, begins: date, days: int) -> Iterator[View]:
    for first, last in plan.away:
        start, end = (first - begins).days, (last + _DAY - begins).days
        if end > 0 and start < days:
            yield frozen(start=_share(start, days), end=_share(end, days))


# The axis of days


def _axis(begins: date, days: int, words: Words) -> dict[str, object]:
    """The cells' widths, and day numbers and dates as far as they keep apart."""
    step = _cell_days(days)
    firsts = range(0, days, step)
    return {
        "days": tuple(frozen(x=_share(day, days), y=0) for day in firsts),
        "numbers": tuple(_apart([(day, str(day)) for day in firsts], days)),
        "dates": tuple(_apart([(day, _date(begins, day, words)) for day in firsts], days)),
        "cells": " ".join(f"{WIDTH_MM * step / days:.3f}" for _ in firsts),
        "each": words.say("record.chart.day"),
        "room": words.say("record.chart.room"),
        "unit": words.measured(20.0, "temperature")[1],
    }


def _date(begins: date, day: int, words: Words) -> str:
    return words.day(begins + timedelta(days=day), "day-month")


def _apart(texts: list[tuple[int, str]], days: int) -> Iterator[View]:
    """Words in the middle of their first day's column: all, or every second, third … so that none touch."""
    widest = max(fonts.width_mm(text, _TINY_PT) for _day, text in texts) + _AIR_MM
    every = math.ceil(widest / (WIDTH_MM / len(texts)))
    for day, text in texts[::every]:
        yield frozen(x=_share(day + 0.5, days), text=text)
