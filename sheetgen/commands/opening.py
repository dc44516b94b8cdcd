"""Opens finished files with the program that the system has for them: the only place that starts another one.

Comes in: paths of files that were written.  Goes out: nothing but an open window, or a sentence why not.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from sheetgen import report
from sheetgen.commands import common

_MOST = 3
_PATIENCE_S = 3.0
_SCREENS = ("DISPLAY", "WAYLAND_DISPLAY")
_OPENERS = (("xdg-open",), ("gio", "open"))
_STARTED: list[subprocess.Popen[bytes]] = []
"""What may still be running when we end: some openers are the window itself."""


def open_set(paths: Sequence[Path]) -> None:
    """Open the sheets of what was made, a few of them at most; what cannot be opened is said and no harm."""
    for path in _sheets(paths)[:_MOST]:
        reason = _opened(path)
        if reason:
            common.err(f"{report.harmless(str(path))} is not opened: {reason}")
            return


def _sheets(paths: Sequence[Path]) -> list[Path]:
    """The PDFs of sheets, of a class or season those that all share; without any, the other PDFs."""
    drawn = [path for path in paths if path.suffix == ".pdf"]
    sheets = [path for path in drawn if path.name.endswith("-sheets.pdf")] or drawn
    nearest = min((len(path.parts) for path in sheets), default=0)
    return [path for path in sheets if len(path.parts) == nearest]


def _opened(path: Path) -> str:
    """Open one file; "" or the reason why not."""
    if sys.platform == "win32":
        os.startfile(path.resolve())  # noqa: S606  a file that was written a moment ago
        return ""
    command = _opener()
    if not command:
        return "no program for it was found; open it yourself"
    try:
        started = subprocess.Popen(  # noqa: S603  the system's opener, and a path of ours
            [*command, str(path.resolve())],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as fault:
        return f"{command[0]}: {fault.strerror or 'the system refused'}"
    _STARTED.append(started)
    try:
        code = started.wait(_PATIENCE_S)
    except subprocess.TimeoutExpired:
        return ""
    return "" if code == 0 else f"{Path(command[0]).name} gave up on it; open it yourself"


def _opener() -> tuple[str, ...]:
    """The system's opener, if it has one and a screen to open things on."""
    if sys.platform == "darwin":
        return ("/usr/bin/open",)
    if not any(os.environ.get(name) for name in _SCREENS):
        return ()
    for name, *rest in _OPENERS:
        found = shutil.which(name)
        if found:
            return (found, *rest)
    return ()
