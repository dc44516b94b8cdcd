"""The cellar page of a season: what to drink first, and how many bottles are free when.

Comes in: a `SeasonPlan` and `Words`.  Goes out: the view of layouts/documents/cellar.layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.planning.season_plan import Drinking, SeasonPlan, StockLine
from sheetgen.printing import fonts
from sheetgen.printing.views.common import View, frozen, paired
from sheetgen.printing.views.wall import foot
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

_CHART, _TINY = 165.0, 8.0
_DAY = timedelta(days=1)


def cellar(season: SeasonPlan, words: Words) -> View:
    """What the cellar page shows; days of another year than that of printing say so."""
    words = replace(words, home_year=season.printed.year)
    title = words.say(said("cellar.title", name=season.name))
    return frozen(
        title=title,
        subtitle=words.say("cellar.subtitle"),
        continued=words.say("cellar.continued"),
        foot=foot(season, words, title),
        heads=tuple(words.say(f"cellar.head.{name}") for name in _HEADS),
        rows=tuple(_row(one, words) for one in season.drink_first),
        stock_title=words.say("cellar.stock"),
        stock=tuple(_stock(line, words) for line in season.stock),
        notes=tuple(_notes(season, words)),
        warned=frozen(title=words.say("shop.warned"), lines=tuple(_warned(season, words))),
    )


_HEADS = ("bottles", "from", "best", "before", "empty")


def _row(one: Drinking, words: Words) -> View:
    return frozen(
        code=one.code,
        name=one.name,
        bottles=str(one.bottles),
        start=words.day(one.drink_from, "day-month"),
        best=words.day(one.best_to, "day-month"),
        before=words.day(one.best_before, "day-month"),
        empty=words.day(one.emptied, "day-month") if one.emptied else "–",
    )


# Bottles over time


def _stock(line: StockLine, words: Words) -> View:
    ml, kind = line.size
    filled = [change for change in line.changes if change.change < 0]
    return frozen(
        title=words.say(said("cellar.size", n=line.total, ml=ml, kind=kind)),
        curve=_curve(line) if filled else "",
        total=str(line.total),
        months=tuple(_months(line, words)) if filled else (),
        unused=words.say("cellar.unused") if not filled else "",
        rows=tuple(
            words.say(said("cellar.fills", on=one.on, code=one.code, n=-one.change, left=one.free))
            for one in filled
        ),
    )


def _ends(line: StockLine) -> tuple[date, date]:
    days = [change.on for change in line.changes]
    return min(days) - 7 * _DAY, max(days) + 7 * _DAY


def _curve(line: StockLine) -> str:
    """Free bottles as steps: points of a chart, from the number that there are down to none."""
    first, last = _ends(line)
    free, points = line.total, [(0.0, 1.0)]
    for change in line.changes:
        at = (change.on - first).days / (last - first).days
        points += [(at, _share(free, line)), (at, _share(change.free, line))]
        free = change.free
    points.append((1.0, _share(free, line)))
    return " ".join(f"{x:.4f},{y:.4f}" for x, y in dict.fromkeys(points))


def _share(free: int, line: StockLine) -> float:
    return max(0.0, min(1.0, free / line.total)) if line.total else 0.0


def _months(line: StockLine, words: Words) -> Iterator[View]:
    """Months under the chart, as many as find room."""
    first, last = _ends(line)
    month, taken = (first.replace(day=28) + timedelta(days=4)).replace(day=1), -1.0
    while month <= last:
        at = (month - first).days / (last - first).days
        text = words.customs.months[month.month - 1]
        width = (fonts.width_mm(text, _TINY) + 3) / _CHART
        if at >= taken and at + width <= 1.0:
            yield frozen(at=round(at, 4), text=text)
            taken = at + width
        month = (month.replace(day=28) + timedelta(days=4)).replace(day=1)


# Caps, the warm place, warnings


def _notes(season: SeasonPlan, words: Words) -> Iterator[str]:
    for sentence, uses in (("cellar.caps", season.caps), ("cellar.corks", season.corks)):
        if uses:
            needed = sum(use.need for use in uses)
            yield words.say(said(sentence, n=needed, left=max(0, uses[-1].left)))
    if season.warm_holds is not None and season.warm:
        most = max(season.warm, key=lambda step: step.bottles)
        yield words.say(said("cellar.warm", n=most.bottles, holds=season.warm_holds, on=most.on))


def _warned(season: SeasonPlan, words: Words) -> Iterator[str]:
    """What is inconvenient, with what would help."""
    for problem in season.warnings:
        if isinstance(problem.message, Said):
            code = problem.path[0].removeprefix("batch ") if problem.path else ""
            fix = words.say(problem.fix) if isinstance(problem.fix, Said) else ""
            yield paired(words, code, f"{words.say(problem.message)}{f' ({fix})' if fix else ''}")
