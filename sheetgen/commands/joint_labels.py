"""Labels of several batches on sheets that they share: the files, what they are called, what is said of them.

Comes in: runs of labels, and whose they are.  Goes out: files of bytes, one for each sort of sheet.  A class
has them always, a season where `--joint-labels` asks for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from sheetgen.commands import common
from sheetgen.printing import set as printed_set
from sheetgen.printing.joined import JoinedFile, JoinedLabels
from sheetgen.printing.labels import Run
from sheetgen.printing.set import Laid
from sheetgen.problems import did_you_mean
from sheetgen.records import record

ALL = "all"


@record
class Runs:
    """One batch's runs of labels, each with its kind ("labels", "discs")."""

    code: str
    runs: tuple[tuple[str, Run], ...]


def runs_of(code: str, laid: Laid) -> Runs:
    """The labels that were laid out for a batch; none where it may not be labelled."""
    return Runs(code, tuple((part.name, part.run) for part in laid.labels if part.run))


def wrong_codes(wanted: str | None, held: Sequence[Runs]) -> list[str]:
    """A sentence for every code that is no batch of a season, or has no labels to print."""
    known = {one.code: one for one in held}
    told = []
    for code in _codes(wanted):
        if code not in known:
            hint = did_you_mean(code, known) or f"batches are {', '.join(known)}"
            told.append(f'--joint-labels: there is no batch "{code[:40]}"; {hint}')
        elif not known[code].runs:
            told.append(f"--joint-labels: {code} has no labels to print now")
    if wanted == ALL and not any(one.runs for one in held):
        told.append("--joint-labels: no batch has labels to print now")
    return told


def _codes(wanted: str | None) -> list[str]:
    return [] if wanted in (None, ALL) else [code.strip() for code in wanted.split(",") if code.strip()]


def chosen(wanted: str | None, held: Sequence[Runs]) -> list[Runs]:
    """The batches whose labels are joined, in the order of the file."""
    codes = _codes(wanted)
    return [one for one in held if wanted == ALL or one.code in codes]


def joined(held: Sequence[Runs], into: JoinedLabels) -> Iterator[JoinedFile]:
    """The files of these batches, each beginning where the one before it ended."""
    for one in held:
        for kind, run in one.runs:
            into.add(kind, run, one.code)
    yield from into.close()


def ending(one: JoinedFile) -> str:
    """How the name of such a file ends."""
    return f"{one.kind}-{one.stock}.pdf"


def says(one: JoinedFile) -> str:
    """What is in it."""
    return f"{common.count(one.pages, 'page')}: {one.labels} {one.kind}"


def older(folder: Path, name: str) -> list[Path]:
    """Such files of an earlier printing, by what their names begin with."""
    if not folder.is_dir():
        return []
    return [path for kind in printed_set.LABELS for path in sorted(folder.glob(f"{name}-{kind}-*.pdf"))]
