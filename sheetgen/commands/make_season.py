"""make, for a season: the files that its batches share, and what is said of them.

Comes in: a planned season with its pages laid out, the labels of its batches, and options.  Goes out: files
in memory, and lines for the terminal.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sheetgen import report
from sheetgen.commands import calendars, common, writing
from sheetgen.model import OldPlan
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.printing import set as printed_set
from sheetgen.printing.set import Laid
from sheetgen.records import record

if TYPE_CHECKING:
    from sheetgen.commands import joint_labels


@record
class Shared:
    """What the batches of a season share, on its way to files, whose names begin with `name`; `labels`: those
    of each batch.
    """

    plan: SeasonPlan
    laid: Laid
    folder: Path
    name: str
    labels: tuple[joint_labels.Runs, ...]


def shared(plan: SeasonPlan, laid: Laid, folder: Path, sets: Sequence[Laid]) -> Shared:
    """What the batches of a season share; `sets` are their own pages, in their order."""
    from sheetgen.commands import joint_labels, seasons

    labels = [joint_labels.runs_of(one.code, own) for one, own in zip(plan.batches, sets, strict=True)]
    return Shared(plan, laid, folder, seasons.prefix(plan), tuple(labels))


def wrong_codes(options: argparse.Namespace, made: Sequence[Shared]) -> list[str]:
    """Sentences about batches whose labels are to be joined and cannot be."""
    if options.joint_labels is None:
        return []
    from sheetgen.commands import joint_labels

    return joint_labels.wrong_codes(options.joint_labels, [each for one in made for each in one.labels])


def outputs(
    one: Shared, replaced: calendars.Replaced, options: argparse.Namespace
) -> list[tuple[writing.Output, str]]:
    """The files that all batches share, and the last calendars of those that have left; each with what is in
    it.
    """
    from sheetgen.commands import seasons

    only, season, name = options.only or (), one.plan, one.name
    drawn = None if only else printed_set.draw_season(one.laid, season, name)
    made = [] if drawn is None else [(f"{name}-sheets.pdf", drawn, _pages(one.laid))]
    made += _labels(one, options)
    if not only or "calendar" in only:
        dates = calendars.calendar_of(season.batches, replaced, shared=True)
        made.append((f"{name}-calendar.ics", dates, _dates_of(season)))
        made += [
            (f"{old.code}-calendar.ics", calendars.calendar_of_gone(old, season), _left(old, season))
            for old in replaced.gone
        ]
    if not only or "plan" in only:
        made.append((f"{name}-plan.json", seasons.json_bytes(season), "the season, for other programs"))
    return [(writing.Output(one.folder / each, data), about) for each, data, about in made]


def _labels(one: Shared, options: argparse.Namespace) -> Iterator[tuple[str, bytes, str]]:
    """The labels of the batches that were named, on sheets that they share."""
    if options.joint_labels is None:
        return
    from sheetgen.commands import joint_labels
    from sheetgen.printing.draw import Info
    from sheetgen.printing.joined import JoinedLabels

    chosen = joint_labels.chosen(options.joint_labels, one.labels)
    info = Info(one.name, one.plan.language, one.plan.name, one.plan.printed)
    for each in joint_labels.joined(chosen, JoinedLabels(info, options.new_sheet)):
        codes = ", ".join(batch.code for batch in chosen)
        yield f"{one.name}-{joint_labels.ending(each)}", each.data, f"{joint_labels.says(each)} of {codes}"


def obsolete(one: Shared, written: Sequence[writing.Output], options: argparse.Namespace) -> list[Path]:
    """Joint labels of an earlier printing: their days may be others now, or a batch may not be labelled."""
    if options.only:
        return []
    from sheetgen.commands import joint_labels

    kept = [output.path for output in written]
    old = joint_labels.older(one.folder, one.name)
    return [path for path in old if path not in kept and writing.is_ours(path)]


def tell(made: Sequence[tuple[writing.Output, str]], gone: Sequence[Path]) -> None:
    """The season's own files, and what is in them."""
    for output, about in made:
        common.out(f"{report.harmless(str(output.path))}  {about}")
    for path in gone:
        common.out(
            f"{report.harmless(str(path))} was taken away: its days may be others now; "
            "say --joint-labels for new ones"
        )


def _pages(laid: Laid) -> str:
    total = common.count(sum(len(part.pages) for part in laid.sheets), "page")
    return f"{total}: {', '.join(part.name for part in laid.sheets)}"


def _left(old: OldPlan, season: SeasonPlan) -> str:
    dates = common.count(calendars.count_of_gone(old, season), "date")
    return f"{old.code} has left the season: {dates} cancelled"


def _dates_of(season: SeasonPlan) -> str:
    dates = sum(calendars.count_of(plan) for plan in season.batches)
    return f"{common.count(dates, 'date')} of {common.count(len(season.batches), 'batch', 'batches')}"
