"""A season for other programs: the plans of its batches, and what they share.

Comes in: a `SeasonPlan`, and a function that words a `Said` in English.  Goes out: a dict of plain values of
the format "sheetgen-plan"; the schema is `plan.schema.json` beside this file, at "season".
"""

from __future__ import annotations

from sheetgen.planning.as_json import FORMAT, VERSION, as_json, line_json, problem_json
from sheetgen.planning.json_pieces import Json, Say, each, named, plain
from sheetgen.planning.season_plan import Lane, SeasonPlan, StockLine, Trip


def season_json(season: SeasonPlan, say: Say) -> Json:
    """The whole season; `say` words a sentence in English."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "printed": plain(season.printed),
        "season": named(season, "name", "units", "language", "paper"),
        "problems": [problem_json(problem, say) for problem in season.problems],
        "vessels": [_lane(lane) for lane in season.lanes],
        "bottle_stock": [_stock(line) for line in season.stock],
        "warm_place": {
            "holds": season.warm_holds,
            "days": each(season.warm, "on", "bottles"),
        },
        "caps": each(season.caps, "code", "on", "need", "left"),
        "corks": each(season.corks, "code", "on", "need", "left"),
        "shopping": [_trip(trip, say) for trip in season.shopping],
        "drink_first": each(
            season.drink_first,
            *("code", "name", "bottles", "drink_from", "best_from", "best_to", "best_before", "emptied"),
        ),
        "wishes": list(season.wishes),
        "batches": [as_json(plan, say) for plan in season.batches],
    }


def _trip(trip: Trip, say: Say) -> Json:
    return {
        "by": plain(trip.by),
        "codes": list(trip.codes),
        "buy": [line_json(line, say) for line in trip.lines],
    }


def _lane(lane: Lane) -> Json:
    return {
        "name": lane.vessel,
        **named(lane, "litres", "shared"),
        "bookings": each(lane.bookings, "code", "brewed", "bottled", "busy_until"),
    }


def _stock(line: StockLine) -> Json:
    ml, kind = line.size
    return {
        "ml": plain(ml),
        "kind": kind,
        "total": line.total,
        "changes": each(line.changes, "on", "change", "free", "code"),
    }
