"""suggest: brew days for the wishes of a season."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from sheetgen import clock
from sheetgen.commands import common
from sheetgen.commands.show import aligned, print_json, stopped_bytes
from sheetgen.commands.show_strength import Row
from sheetgen.commands.show_strength import plain as _plain
from sheetgen.intake.season import read_season
from sheetgen.model.season import Season
from sheetgen.planning.season import plan_season
from sheetgen.planning.season_search import MOST_LOOKS
from sheetgen.planning.suggest import DAYS_AHEAD, Suggestion, Suggestions, as_batches, suggest
from sheetgen.planning.suggest_json import suggestions_json
from sheetgen.printing.words import Words
from sheetgen.problems import Problem, Problems


def run(options: argparse.Namespace) -> int:
    """Suggest brew days; 1 if the season is stopped, or a wish finds no day."""
    wrong = common.unusable(options.files) or _no_season(Path(options.files[0]))
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    path, today = Path(options.files[0]), options.today or clock.today()
    found = read_season(path, today)
    suggested = suggest(found.season, today, found.problems) if found.season else None
    if found.season and suggested:
        found.problems.extend(_about(found.season, suggested, today))
    common.tell((one for one in found.problems if one.level != "note"), path, found.files)
    if found.season is None or suggested is None or found.problems.stopped:
        if options.json:
            print_json(stopped_bytes(found.problems))
        return common.INPUT
    if options.json:
        print_json(_json_bytes(found.season, suggested, today, found.problems))
        return _code(suggested)
    for line in lines(found.season, suggested, common.words_of(common.ENGLISH, found.season.units)):
        common.out(line)
    return _code(suggested)


def _code(suggested: Suggestions) -> int:
    return common.FINE if all(one.brew_day for one in suggested.found) else common.INPUT


def _json_bytes(season: Season, suggested: Suggestions, today: date, problems: Problems) -> bytes:
    told = [one for one in problems if one.level != "note"]
    found = suggestions_json(season, suggested, today, told, common.in_english)
    text = json.dumps(found, indent=1, ensure_ascii=False, allow_nan=False)
    return text.encode("utf-8", "replace") + b"\n"


def _no_season(path: Path) -> list[str]:
    return [] if common.is_season(path) else [f"{path.name} is not a season file; its key is season:"]


def _about(season: Season, suggested: Suggestions, today: date) -> Iterator[Problem]:
    """What the season says once the wishes are batches of it: where bottles run short, for example."""
    batches = as_batches(suggested.found, season.vessels)
    problems = Problems()
    plan_season(replace(season, batches=(*season.batches, *batches), wishes=()), today, problems)
    crumbs = {f"batch {one.code}" for one in batches}
    yield from (one for one in problems if one.level != "note" and one.path[:1] and one.path[0] in crumbs)


def lines(season: Season, suggested: Suggestions, words: Words) -> Iterator[str]:
    """A row for every wish, how good the answer is, and what to write."""
    yield f"Season {season.name} · {common.count(len(season.wishes), 'wish', 'wishes')}"
    if not season.wishes:
        yield "Nothing to suggest: write wishes: with batches that have no brew day."
        return
    yield ""
    head: Row = ("", "", "brew", "vessel", "bottle", "drink from", "")
    yield from aligned([head, *(_row(one, words) for one in suggested.found)])
    yield ""
    if suggested.proven:
        yield "Fewer days late there cannot be, nor earlier brew days with so few, all days added up."
    else:
        yield f"The search ended after {MOST_LOOKS:,} looks at a day: something better may exist."
    dated = [one for one in suggested.found if one.brew_day]
    if dated:
        yield "Move them from wishes: to batches: and write"
        yield from (f"  {_typed(one)}" for one in dated)


def _row(one: Suggestion, words: Words) -> Row:
    code, name = one.wish.batch.code, one.wish.batch.recipe.name
    if one.brew_day is None or one.bottled is None or one.ready is None:
        return (code, name, f"no day in the next {DAYS_AHEAD} days")
    days = [_plain(words.day(day, "full-date")) for day in (one.brew_day, one.bottled, one.ready)]
    return (code, name, days[0], one.vessel or "its own", *days[1:], _ready(one))


def _ready(one: Suggestion) -> str:
    """How it stands to the day on which it should be ready."""
    wanted = one.wish.ready_by
    if wanted is None or one.ready is None:
        return ""
    if one.late:
        return f"{common.count(one.late, 'day')} late"
    return f"{common.count((wanted - one.ready).days, 'day')} to spare"


def _typed(one: Suggestion) -> str:
    """The keys to write in the batch file."""
    vessel = f", equipment: {{vessel: {one.vessel}}}" if one.vessel else ""
    return f"{one.wish.batch.code}: brew-day: {one.brew_day}{vessel}"
