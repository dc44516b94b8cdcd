"""The batches of a season, each as a tree of its own: from a file beside the season, or written in it.

Comes in: nodes of the season file.  Goes out: `Member`s; what cannot be opened is told.
"""

from __future__ import annotations

from pathlib import Path

from sheetgen import catalogue, nodes
from sheetgen.intake import mending
from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.forms import Place, key_meant
from sheetgen.intake.layers import Layers, without
from sheetgen.intake.season_kinds import file_name
from sheetgen.nodes import Entries, Entry, Node, Text
from sheetgen.problems import Problems
from sheetgen.records import record
from sheetgen.units import Misread

READY_BY = "ready-by"


@record
class Member:
    """One batch of a season: the name that its text is kept under, its whole tree, the folder in which its
    recipe is looked for first, and for a wish the day on which it should be ready.
    """

    name: str
    tree: Node
    beside: Path
    ready_by: Text | None = None


@record
class Opened:
    """A batch file: its name as the season has it, its tree and its folder."""

    name: str
    tree: Node
    beside: Path


class Files:
    """The batch files of one season: opened below its folder only, and known by the names used there."""

    def __init__(self, folder: Path, problems: Problems) -> None:
        self.folder, self.problems = folder, problems
        self.paths: dict[str, Path] = {}

    def open(self, named: Text, place: Place) -> Opened | None:
        """The file of that name; None if there is none, or it is no batch."""
        name = file_name(named.value)
        if isinstance(name, Misread):
            place.stop(name.message, name.fix)
            return None
        path = self.folder / name
        if name in self.paths:
            place.stop(f"{name} is in this season already", "name every file once")
            return None
        if not self._inside(path):
            place.stop(
                f"there is no file {name} beside this one", "check its name; folders are written with /"
            )
            return None
        self.paths[name] = path
        return self._batch(name, path, place)

    def _inside(self, path: Path) -> bool:
        try:
            return path.is_file() and path.resolve().is_relative_to(self.folder.resolve())
        except (OSError, ValueError):
            return False

    def _batch(self, name: str, path: Path, place: Place) -> Opened | None:
        data, problems = catalogue.read_bytes(path)
        self.problems.extend(problems)
        if data is None:
            return None
        found = catalogue.document(data, name)
        self.problems.extend(found.problems)
        if found.node is None:
            return None
        kind = nodes.kind_of(found.node)
        if not isinstance(found.node, Entries) or (kind != "batch" and found.node.entry("batch") is None):
            what = f"{name} is a {kind}, not a batch" if kind else f"{name} is not a batch"
            place.stop(what, "a season lists batch files; they say batch: 28A, and what else a batch needs")
            return None
        return Opened(name, found.node, path.parent)


def from_file(own: Opened, laid: Layers) -> Member:
    """The member that a file makes."""
    return Member(Path(own.name).name, laid.on(own.tree), own.beside)


def written_here(part: Entries, place: Place, laid: Layers, wish: bool) -> Member | None:
    """The member that is written in the season file, over what its batches have in common there."""
    beside, code = place.desk.beside or Path(), part.get("batch")
    written = code.value.strip().lower()[:4] if isinstance(code, Text) else ""
    name = f"{written or 'batch'}.yaml"
    ready = part.get(READY_BY) if wish else None
    if ready is not None and not isinstance(ready, Text):
        place.on(ready.span).stop("expected a day", f"write {READY_BY}: 2027-06-12")
    nearly = next((one for one in part.entries if _is_ready_by(one)), None) if wish and not ready else None
    if nearly:
        ways = mending.key_instead(nearly.key, READY_BY)
        said = f'"{nearly.key.value[:40]}" is not a key of a wish'
        place.on(nearly.key.span).stop(said, f'did you mean "{READY_BY}"?', ways)
    own: Node = without(part, (READY_BY, *([nearly.key.value] if nearly else []))) if wish else part
    if wish and part.get("brew-day") is not None:
        found = part.get("brew-day")
        place.on(found.span if found else part.span).stop(
            "a wish has no brew day: it is what sheetgen suggest looks for",
            "move it to batches:, or delete the day",
        )
        return None
    return Member(name, laid.on(laid.over_base(own)), beside, ready if isinstance(ready, Text) else None)


def _is_ready_by(entry: Entry) -> bool:
    """Whether a key that no batch has is nearly that of a wish."""
    return BATCH.field(entry.key.value) is None and key_meant(entry.key.value, (READY_BY,)) == READY_BY
