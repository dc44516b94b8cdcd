"""Files on the disk: all of a set or none, and never over somebody else's.

Comes in: names and bytes that are finished in memory.  Goes out: files, each written beside its place under a
temporary name and then moved; when anything fails, what was there before is there again.
A file counts as ours when it carries our mark (each kind of file has one by its nature).
"""

from __future__ import annotations

import contextlib
import os
import secrets
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import Self

from sheetgen.records import record

_MARKS = {
    ".pdf": b"/Producer (sheetgen",
    ".ics": b"PRODID:-//sheetgen//",
    ".json": b'"format": "sheetgen-plan"',
}
_LONGEST = 50 * 1024 * 1024
_NEW_FILE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


class CannotWrite(Exception):  # noqa: N818  a sentence for the person, not a fault of the program
    """A sentence that says why nothing was written."""


@record
class Output:
    """A file to be: where, and its whole content."""

    path: Path
    data: bytes


def is_ours(path: Path) -> bool:
    """Whether that existing file was written by this program."""
    mark = _MARKS.get(path.suffix)
    try:
        if mark is None or not path.is_file() or path.stat().st_size > _LONGEST:
            return False
        return mark in path.read_bytes()
    except OSError:
        return False


def strangers(paths: Sequence[Path]) -> list[Path]:
    """Those of the paths at which something stands that we did not write."""
    return [path for path in paths if os.path.lexists(path) and not is_ours(path)]


def write_all(outputs: Sequence[Output], obsolete: Sequence[Path] = ()) -> None:
    """Write every file, take away the obsolete ones; or leave all as it was and raise CannotWrite."""
    with Staging() as staging:
        for output in outputs:
            staging.add(output)
        staging.finish(obsolete)


class Staging:
    """Files that come one after the other and are kept under temporary names until all are there: nothing of
    them stays in the memory.  Left without `finish`, nothing was written.
    """

    def __init__(self) -> None:
        self._undo = ExitStack()
        self._staged: list[tuple[Path, Path]] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._undo.close()

    def add(self, output: Output) -> None:
        """Keep a file for its place; CannotWrite if the disk will not."""
        with _explained():
            _make_folder(output.path.parent, self._undo)
            self._staged.append((_staged(output, self._undo), output.path))

    @property
    def paths(self) -> list[Path]:
        """The places of the files that were added."""
        return [path for _, path in self._staged]

    def finish(self, obsolete: Sequence[Path] = ()) -> None:
        """Move every file to its place and take away the obsolete ones; or leave all as it was."""
        with _explained(), ExitStack() as after, self._undo:
            for temporary, path in self._staged:
                _remember(path, self._undo, after)
                temporary.replace(path)
            for path in obsolete:
                _remember(path, self._undo, after)
                path.unlink()
            self._undo.pop_all()


@contextlib.contextmanager
def _explained() -> Iterator[None]:
    """Turn the system's refusal into a sentence."""
    try:
        yield
    except OSError as fault:
        reason = fault.strerror or "the system refused"
        raise CannotWrite(f"nothing was written: {_where(fault)}{reason}") from fault


def _where(fault: OSError) -> str:
    """The file or folder that the system complains about; a temporary file's folder rather than the file."""
    if not isinstance(fault.filename, str | Path):
        return ""
    path = Path(fault.filename)
    return f"{path.parent if path.suffix == '.part' else path}: "


def _make_folder(folder: Path, undo: ExitStack) -> None:
    """Make the folder and those above it; what was made goes again when a later step fails."""
    if folder.is_dir():
        return
    if folder.parent != folder:
        _make_folder(folder.parent, undo)
    folder.mkdir()
    undo.callback(_quietly, folder.rmdir)


def _beside(path: Path, ending: str) -> Path:
    """A name that nothing has yet, in the same folder."""
    return path.with_name(f".{path.name}.{secrets.token_hex(4)}{ending}")


def _staged(output: Output, undo: ExitStack) -> Path:
    """The content under a temporary name in the same folder, safely on the disk."""
    temporary = _beside(output.path, ".part")
    number = os.open(temporary, _NEW_FILE, 0o666)
    undo.callback(_quietly, temporary.unlink)
    with os.fdopen(number, "wb") as stream:
        stream.write(output.data)
        stream.flush()
        os.fsync(stream.fileno())
    return temporary


def _remember(path: Path, undo: ExitStack, after: ExitStack) -> None:
    """Keep what stands at the path under a second name, to bring it back should a later step fail."""
    if not os.path.lexists(path):
        undo.callback(_quietly, path.unlink)
        return
    kept = _beside(path, ".kept")
    after.callback(_quietly, kept.unlink)
    try:
        kept.hardlink_to(path)
    except OSError:  # a disk without second names
        old = path.read_bytes()
        undo.callback(_quietly, lambda: path.write_bytes(old))
    else:
        undo.callback(_quietly, lambda: kept.replace(path))


def _quietly(step: Callable[[], object]) -> None:
    with contextlib.suppress(OSError):
        step()
