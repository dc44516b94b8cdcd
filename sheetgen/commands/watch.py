"""make --watch: make the set again whenever one of its files is saved, until Ctrl-C.

Comes in: the options of `make`.  Goes out: sets, each made in a process of its own, so that nothing of an
earlier state is remembered and no mishap ends the watching.
Files are looked at twice a second: that is the same on every system and on every kind of disk, costs next to
nothing, and sees a file that an editor puts in another's place.
"""

from __future__ import annotations

import argparse
import contextlib
import multiprocessing
import os
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Literal

from sheetgen import catalogue, report
from sheetgen.commands import common

INTERRUPTED = 130
STEP_S = 0.5
_MOST_FILES = 2000
_ENDINGS = (".yaml", ".yml", ".csv", ".layout", ".png", ".jpg", ".jpeg")
_HEAVY = ("sheetgen.commands.make", "sheetgen.printing.draw", "sheetgen.printing.labels")
_INNER = ("recipes", "drinks", "pantry", "layouts", "documents", "stocks", "papers", "languages")
"""Folders beside a batch in which data files are looked for, at any depth."""

State = tuple[int, int, int]
"""Of one file: when it was changed, its length, and which one it is."""
Sight = Mapping[Path, State]
News = Literal["", "changed", "gone"]


def run(options: argparse.Namespace) -> int:
    """Make the set, and again after every change; ends with Ctrl-C, or at once if it is used wrongly."""
    wrong = common.unusable(options.files)
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    options.watch = False
    for name in _HEAVY:
        import_module(name)
    with contextlib.suppress(KeyboardInterrupt):
        return _watch(options, _made, time.sleep)
    common.err("no longer watching")
    return INTERRUPTED


def _watch(
    options: argparse.Namespace,
    make: Callable[[argparse.Namespace], int],
    sleep: Callable[[float], None],
) -> int:
    """The loop; `make` gives an exit code."""
    files = [Path(name) for name in options.files]
    watcher = Watcher(files, sight(files))
    code = make(options)
    if code == common.USE:
        return code
    again = copy(options)
    again.open = options.open and code != common.FINE
    _tell_waiting(files)
    while True:
        sleep(STEP_S)
        news = watcher.look(sight(files))
        if news == "gone":
            common.err(f"{_listed(watcher.missing)} is not there; waiting for it to come back")
        if news == "changed":
            common.err(f"\n{_listed(watcher.changed)}: saved, so it is made again")
            again.open = again.open and make(again) != common.FINE if again.open else _quietly(make, again)
            _tell_waiting(files)


def _quietly(make: Callable[[argparse.Namespace], int], options: argparse.Namespace) -> bool:
    """Make it, whatever comes of it: there is nothing left to open."""
    make(options)
    return False


def _tell_waiting(files: Sequence[Path]) -> None:
    common.err(f"watching {_listed(files)} and the files beside it; Ctrl-C ends it")


def _listed(paths: Sequence[Path]) -> str:
    shown = ", ".join(report.harmless(path.name) for path in paths[:3])
    return f"{shown} and {len(paths) - 3} more" if len(paths) > 3 else shown


@dataclass
class Watcher:
    """What was seen when it was last made, and at the last look: only what has come to rest is made."""

    files: Sequence[Path]
    made: Sight
    seen: Sight | None = None
    told: bool = False
    changed: tuple[Path, ...] = ()

    @property
    def missing(self) -> list[Path]:
        """The files to be made that are not there."""
        return [path for path in self.files if path not in (self.seen or {})]

    def look(self, now: Sight) -> News:
        """What a look gives: news only if it sees the same as the one before, which is other than was
        made.
        """
        if now != self.seen:
            self.seen = now
            return ""
        if now == self.made:
            self.told = False
            return ""
        if self.missing:
            first, self.told = not self.told, True
            return "gone" if first else ""
        self.changed = tuple(_differing(self.made, now, self.files))
        self.made, self.told = now, False
        return "changed"


def _differing(before: Sight, now: Sight, files: Sequence[Path]) -> Iterator[Path]:
    """What was changed, came or went; our own files first."""
    for path in sorted({*before, *now}, key=lambda path: (path not in files, str(path))):
        if before.get(path) != now.get(path):
            yield path


# Looking


def sight(files: Iterable[Path]) -> Sight:
    """The state of the files, of what lies beside them, and of the person's own data files."""
    files = list(files)
    seen: dict[Path, State] = {}
    for path in (*files, *_around(files)):
        with contextlib.suppress(OSError, ValueError):
            state = path.stat()
            seen[path] = (state.st_mtime_ns, state.st_size, state.st_ino)
    return seen


def _around(files: Sequence[Path]) -> Iterator[Path]:
    """Files that a set may be made from, of very many the first."""
    places = dict.fromkeys(path.parent for path in files)
    roots = [(place, False) for place in places]
    roots += [(place / name, True) for place in places for name in _INNER]
    own = catalogue.user_folder()
    roots += [(own, True)] if own else []
    count = 0
    for root, deep in roots:
        for path in _files_of(root, deep):
            count += 1
            if count > _MOST_FILES:
                return
            yield path


def _files_of(folder: Path, deep: bool) -> Iterator[Path]:
    """The files of a folder that may be ours to read."""
    for place, inner, names in os.walk(folder):
        inner[:] = sorted(name for name in inner if not name.startswith(".")) if deep else []
        for name in sorted(names):
            if name.lower().endswith(_ENDINGS) and not name.startswith("."):
                yield Path(place) / name


# Making


def _made(options: argparse.Namespace) -> int:
    """Make it in a process of its own; its exit code."""
    child = multiprocessing.get_context().Process(target=_make, args=(options,))
    child.start()
    child.join()
    return child.exitcode or 0


def _make(options: argparse.Namespace) -> None:
    """What the other process does."""
    from sheetgen.commands import make

    try:
        code = make.run(options)
    except KeyboardInterrupt:
        code = INTERRUPTED
    except Exception as fault:  # noqa: BLE001  whatever it was, the next save may be better
        common.err(f"sheetgen: this state cannot be made ({type(fault).__name__}: {str(fault)[:200]})")
        code = common.INPUT
    raise SystemExit(code)
