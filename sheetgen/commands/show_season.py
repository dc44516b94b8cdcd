"""show, for a season: its batches, vessels, bottles and what to drink first, as tables in the terminal.

Comes in: a `SeasonPlan` and words.  Goes out: lines.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from sheetgen import clock
from sheetgen.commands import common, seasons
from sheetgen.commands.show import headed, print_json, stopped_bytes
from sheetgen.commands.show_strength import Row
from sheetgen.commands.show_strength import plain as _plain
from sheetgen.planning.plan import Plan
from sheetgen.planning.season_plan import SeasonPlan, StockLine
from sheetgen.printing.words import Words

_WEEK = timedelta(days=7)
_WIDEST = 60
_MEASURED = {"g": "mass", "ml": "ml", "L": "litres", "piece": "number"}


def run(path: Path, options: argparse.Namespace) -> int:
    """Show one season; 1 if it is stopped."""
    loaded = seasons.load(path, options.today or clock.today())
    seasons.tell(loaded)
    if loaded.plan is None or not loaded.good:
        if options.json:
            print_json(stopped_bytes(loaded.problems))
        return common.INPUT
    if options.json:
        print_json(seasons.json_bytes(loaded.plan))
    else:
        for line in lines(loaded.plan, common.words_of(common.ENGLISH, loaded.plan.units)):
            common.out(line)
    return common.FINE


def lines(season: SeasonPlan, words: Words) -> Iterator[str]:
    """The whole season in lines, the sentence about what is next at the end."""
    yield f"Season {season.name} · {common.count(len(season.batches), 'batch', 'batches')}"
    yield from headed(
        ("Batches", _batches(season, words)),
        ("Vessels, a sign a week (# full, - to clean)", list(_lanes(season, words))),
        ("Bottles free", _bottles(season, words)),
        ("Drink first", _drink_first(season, words)),
        ("Shopping, for all together", _shopping(season, words)),
    )
    yield ""
    yield _next(season, words)


def _day(day: date, words: Words) -> str:
    return _plain(words.day(day, "full-date"))


def _batches(season: SeasonPlan, words: Words) -> list[Row]:
    lane = {booking.code: one.vessel for one in season.lanes for booking in one.bookings}
    rows: list[Row] = [("", "", "vessel", "brew", "bottle", "drink from", "bottles")]
    return [*rows, *(_batch(plan, lane[plan.code], words) for plan in season.batches)]


def _batch(plan: Plan, lane: str, words: Words) -> Row:
    days = [_day(plan.task(name).when.expected, words) for name in ("brew", "bottle")]
    vessel = "its own" if lane == plan.code else lane
    drink = "never: safety sheet" if plan.safety else _day(plan.labels.not_before, words)
    return (plan.code, plan.name, vessel, *days, drink, str(plan.bottles.numbered))


def _lanes(season: SeasonPlan, words: Words) -> Iterator[Row]:
    """Vessels as rows of signs, one sign a week: # is full, - only emptied and cleaned."""
    shared = [lane for lane in season.lanes if lane.shared]
    days = [day for lane in shared for one in lane.bookings for day in (one.brewed, one.busy_until)]
    if not days:
        return
    first = min(days) - timedelta(days=min(days).weekday())
    weeks = min(_WIDEST, (max(days) - first).days // 7 + 1)
    yield ("", f"weeks from {_day(first, words)}")
    for lane in shared:
        signs = ""
        for number in range(weeks):
            start = first + number * _WEEK
            here = [one for one in lane.bookings if one.brewed < start + _WEEK and start <= one.busy_until]
            full = any(start <= one.bottled for one in here)
            signs += "#" if full else "-" if here else "."
        yield (lane.vessel, signs)


def _bottles(season: SeasonPlan, words: Words) -> list[Row]:
    rows = [row for line in season.stock for row in _stock(line, words)]
    return [("", "", "", "free after"), *rows] if rows else []


def _stock(line: StockLine, words: Words) -> Iterator[Row]:
    ml, kind = line.size
    name = f"{line.total} x {_plain(words.measure(ml, 'bottle'))} {kind}"
    filled = [change for change in line.changes if change.change < 0]
    for change in filled:
        yield (name, _day(change.on, words), f"{change.code} fills {-change.change}", str(change.free))
        name = ""
    if not filled:
        yield (name, "", "not used", str(line.total))


def _drink_first(season: SeasonPlan, words: Words) -> list[Row]:
    rows: list[Row] = [("", "", "from", "best until", "best before", "empty by")]
    for one in season.drink_first:
        days = [_day(day, words) for day in (one.drink_from, one.best_to, one.best_before)]
        rows.append((one.code, one.name, *days, _day(one.emptied, words) if one.emptied else "–"))
    return rows if len(rows) > 1 else []


def _shopping(season: SeasonPlan, words: Words) -> list[Row]:
    """A row for each thing, the day and the batches at the first of a trip."""
    rows: list[Row] = []
    for trip in season.shopping:
        head = (f"by {_day(trip.by, words)}", " ".join(trip.codes))
        for line in trip.lines:
            amount = line.amount
            much = _plain(words.measure(amount.value, _MEASURED[amount.unit])) if amount else ""
            note = _plain(words.say(line.note)) if line.note else ""
            rows.append((*head, _plain(words.say(line.said)), much, note))
            head = ("", "")
    return rows


def _next(season: SeasonPlan, words: Words) -> str:
    """The next thing to do in any batch."""
    waiting = [(task.when.expected, plan, task) for plan in season.batches for task in plan.tasks]
    found = [(on, plan.code, task) for on, plan, task in waiting if task.state == "next"]
    if not found:
        return "Nothing is left to do."
    on, code, task = min(found, key=lambda each: (each[0], each[1]))
    return _plain(f"Next: {code}, {words.task(task.id)}, {words.day(on, 'long-date')}.")
