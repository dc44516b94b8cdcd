"""A season at the command line: read and planned, every batch of it ready to be laid out like any other.

Comes in: the path of a season file.  Goes out: `LoadedSeason`, and its JSON.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import MappingProxyType

from sheetgen.commands import common, places
from sheetgen.intake.season import SeasonFile, read_season, reread
from sheetgen.intake.written import NOWHERE, text
from sheetgen.model import Batch, Bottles
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.planning import season as planning
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.printing.set import Laid
from sheetgen.problems import Problem, Problems, Span
from sheetgen.records import record


@record
class LoadedSeason:
    """A season file, its plan (None: it was stopped), its batches in order, and everything found."""

    path: Path
    plan: SeasonPlan | None
    batches: tuple[common.Loaded, ...]
    problems: Problems
    files: Mapping[str, Path]
    file: SeasonFile

    @property
    def good(self) -> bool:
        """Whether it may be printed."""
        return self.plan is not None and not self.problems.stopped


def load(path: Path, today: date, overrides: Mapping[str, str] | None = None) -> LoadedSeason:
    """Read and plan a season file."""
    given = dict(overrides or {})
    found = read_season(path, today, {key: value for key, value in given.items() if key == "paper"})
    problems, season = found.problems, found.season
    if season is None or problems.stopped:
        return LoadedSeason(path, None, (), problems, found.files, found)
    remade: dict[int, Batch] = {}
    plan = planning.plan_season(season, today, problems, _remaking(found, today, given, remade))
    waiting = planning.not_planned(season)
    if waiting:
        problems.add(waiting)
    loaded = _batches(found, plan, remade, problems) if plan else ()
    return LoadedSeason(path, None if problems.stopped else plan, loaded, problems, found.files, found)


def _remaking(
    found: SeasonFile, today: date, overrides: Mapping[str, str], remade: dict[int, Batch]
) -> planning.Remake:
    """Batches read anew with what the season decided, so that the text that is kept with them says it too."""

    def remake(index: int, given: planning.Given) -> Batch | None:
        batch, problems = reread(found.batches[index], as_tree(given), today, overrides)
        where = found.season.batches[index].where if found.season else {}
        found.problems.extend(_placed(one, where) for one in problems.of("stop"))
        if batch is not None:
            remade[index] = replace(batch, where=MappingProxyType(_said(batch.where, where)))
        return remade.get(index)

    return remake


def _said(now: Mapping[str, Span], first: Mapping[str, Span]) -> dict[str, Span]:
    """The places of a batch's keys; of what the season decided, the place of the key that holds it."""
    return {key: _place(key, span, first) for key, span in now.items()}


def _place(key: str, span: Span, first: Mapping[str, Span]) -> Span:
    while span == NOWHERE and key:
        span, key = first.get(key, span), key.rpartition(".")[0]
    return first.get("batch", span) if span == NOWHERE else span


def _placed(one: Problem, first: Mapping[str, Span]) -> Problem:
    """A finding about what the season decided, in the file that said what it decided about."""
    if one.span != NOWHERE:
        return one
    return replace(one, span=_place(one.path[-1] if one.path else "batch", NOWHERE, first))


def as_tree(given: planning.Given) -> Node:
    """What the season decided, as keys of a batch file."""
    entries: list[Entry] = []
    if given.vessel is not None:
        vessel = _entries(name=given.vessel.name, holds=f"{float(given.vessel.litres):g} L")
        entries.append(_entry("equipment", Entries((_entry("vessel", vessel),), NOWHERE)))
    if given.bottles is not None:
        entries.append(_entry("bottles", Items(tuple(_row(row) for row in given.bottles), NOWHERE)))
    if given.taken:
        days = tuple(text(day.isoformat()) for day in sorted(given.taken))
        entries.append(_entry("taken", Items(days, NOWHERE)))
    return Entries(tuple(entries), NOWHERE)


def _row(row: Bottles) -> Entries:
    told = {"size": f"{float(row.ml):g} ml", "kind": row.kind.id, "count": str(row.count)}
    return _entries(**told, **({"for": row.what_for} if row.what_for else {}))


def _entries(**values: str) -> Entries:
    return Entries(tuple(_entry(key, text(value)) for key, value in values.items()), NOWHERE)


def _entry(key: str, value: Node) -> Entry:
    return Entry(Text(key, NOWHERE), value)


def _batches(
    found: SeasonFile, plan: SeasonPlan, remade: Mapping[int, Batch], problems: Problems
) -> tuple[common.Loaded, ...]:
    loaded = []
    for index, (member, one) in enumerate(zip(found.batches, plan.batches, strict=True)):
        written = places.written_as(member.tree, remade[index], member.beside)
        problems.extend(places.unprintable(written))
        loaded.append(common.Loaded(member.beside / member.name, one, Problems(), written))
    return tuple(loaded)


def lay_out(loaded: LoadedSeason, only: Sequence[str] = ()) -> list[Laid]:
    """The pages of every batch; what is wrong with them is added to the season's problems."""
    found = []
    for one in loaded.batches:
        laid = common.lay_out(one, only)
        loaded.problems.extend(one.problems)
        found += [laid] if laid else []
    return found


def lay_out_shared(loaded: LoadedSeason) -> Laid | None:
    """The pages that the batches share; what is wrong with them is added to the season's problems."""
    from sheetgen.printing import set as printed_set

    plan = loaded.plan
    if plan is None:
        return None
    laid = printed_set.lay_out_season(plan, common.words_of(plan.language, plan.units), loaded.path.parent)
    loaded.problems.extend(laid.problems)
    return laid


def tell(loaded: LoadedSeason) -> None:
    """All findings, each in the file that it is about."""
    common.tell(loaded.problems, loaded.path, loaded.files)


def prefix(plan: SeasonPlan) -> str:
    """What the season's own files, and its folder, are called."""
    return f"season-{plan.name}"


def json_bytes(plan: SeasonPlan) -> bytes:
    """The season's plan.json as it is written and shown."""
    from sheetgen.planning.season_json import season_json

    told = json.dumps(season_json(plan, common.in_english), indent=1, ensure_ascii=False, allow_nan=False)
    return told.encode("utf-8", "replace") + b"\n"
