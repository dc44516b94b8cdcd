"""Where data files are found, and how they get into the memory: recipes, drinks, pantry, papers, languages,
layouts.

Comes in: a folder's name ("recipes", "recipes/drinks", "layouts/stocks" ...) and a name such as
"copper-lane-amber".  Goes out: paths, bytes and trees of nodes with their problems; what they mean is not
known here.  Search order: beside the batch file, the person's own folder, ours.  A name is made of a-z, 0-9
and hyphens only (languages: en-GB), so that a batch file which came by mail cannot reach out of these
folders.
"""

from __future__ import annotations

import os
import re
from functools import cache, lru_cache
from pathlib import Path

from sheetgen import nodes
from sheetgen.problems import Problem, Span
from sheetgen.records import record

MAX_BYTES = nodes.MAX_BYTES
_NAME = re.compile(r"(?:[a-z0-9]+(?:-[a-z0-9]+)*|[a-z]{2}-[A-Z]{2})\Z")
_MAX_NAME = 60


@record
class Document:
    """A data file: its name in messages, its text, its tree (None: not readable) and what is wrong with its
    writing.
    """

    name: str
    text: str
    node: nodes.Node | None
    problems: tuple[Problem, ...]


def is_name(text: str) -> bool:
    """Whether the text may name a data file: a-z, 0-9 and single hyphens, or a language such as en-GB."""
    return len(text) <= _MAX_NAME and _NAME.match(text) is not None


@cache
def our_folder() -> Path:
    """The folder that holds our `layouts` and `recipes`: inside the package, or the top of a checkout."""
    package = Path(__file__).resolve().parent
    packed = package / "data"
    return packed if packed.is_dir() else package.parent


def user_folder() -> Path | None:
    """The person's own folder, `sheetgen` in the configuration directory; it need not exist.  None without
    a home.
    """
    home = os.environ.get("XDG_CONFIG_HOME", "")
    if home and Path(home).is_absolute():
        return Path(home) / "sheetgen"
    try:
        return Path.home() / ".config" / "sheetgen"
    except RuntimeError:
        return None


def folders(folder: str, beside: Path | None = None) -> list[Path]:
    """The existing directories in which files of that folder are looked for, nearest first."""
    last = folder.rpartition("/")[2]
    near = [beside / folder, beside / last] if beside else []
    if beside and folder == "recipes":
        near.append(beside)
    user = user_folder()
    far = [*([user / folder] if user else []), our_folder() / folder]
    return [path for path in dict.fromkeys([*near, *far]) if path.is_dir()]


def layers(folder: str, name: str, beside: Path | None = None, suffix: str = ".yaml") -> list[Path]:
    """Every file of that name, nearest first."""
    if not is_name(name):
        return []
    found = [place / f"{name}{suffix}" for place in folders(folder, beside)]
    return [path for path in found if path.is_file()]


def find(folder: str, name: str, beside: Path | None = None, suffix: str = ".yaml") -> Path | None:
    """The nearest file of that name, or None (also for a name that is not allowed)."""
    return next(iter(layers(folder, name, beside, suffix)), None)


def names(folder: str, beside: Path | None = None, suffix: str = ".yaml") -> tuple[str, ...]:
    """All names that `find` would find in that folder, in alphabetical order."""
    files = [path for place in folders(folder, beside) for path in place.glob(f"*{suffix}")]
    return tuple(
        sorted({path.name.removesuffix(suffix) for path in files if is_name(path.name.removesuffix(suffix))})
    )


def read_bytes(path: Path) -> tuple[bytes | None, list[Problem]]:
    """The bytes of a file of at most 1 MiB, or None and the reason."""
    here = Span(path.name, 1, 1)
    try:
        if not path.is_file():
            return None, [
                Problem("stop", f"there is no file {path.name} here", here, "check its name and folder")
            ]
        with path.open("rb") as stream:
            data = stream.read(MAX_BYTES + 1)
    except OSError as fault:
        reason = fault.strerror or "it cannot be opened"
        return None, [
            Problem("stop", f"{path.name} cannot be read: {reason}", here, "check the file and its rights")
        ]
    if len(data) > MAX_BYTES:
        return None, [
            Problem("stop", f"{path.name} is longer than 1 MiB", here, "check that this is the right file")
        ]
    return data, []


def read_text(path: Path) -> tuple[str | None, list[Problem]]:
    """The text of a file in UTF-8, or None and the reason."""
    data, problems = read_bytes(path)
    if data is None:
        return None, problems
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        here = Span(path.name, 1, 1)
        return None, [Problem("stop", f"{path.name} is not text in UTF-8", here, "save it as UTF-8")]


def document(data: bytes, name: str) -> Document:
    """A data file from its bytes."""
    node, problems = nodes.load(data, name)
    return Document(name, data.decode("utf-8-sig", "replace"), node, tuple(problems))


@lru_cache(maxsize=256)
def _remembered(path: Path, modified: int, size: int) -> Document:
    del modified, size  # they only tell a changed file from the one that is remembered
    data, problems = read_bytes(path)
    if data is None:
        return Document(path.name, "", None, tuple(problems))
    return document(data, path.name)


def load(path: Path) -> Document:
    """A data file; read once per process for as long as the file does not change."""
    try:
        state = path.stat()
    except (OSError, ValueError):
        return _remembered(path, 0, 0)
    return _remembered(path, state.st_mtime_ns, state.st_size)


def overlaid(folder: str, name: str, beside: Path | None = None) -> Document:
    """All files of that name in one tree: ours at the bottom, the nearest on top.  For tables that people
    add to.
    """
    found = [load(path) for path in layers(folder, name, beside)]
    if not found:
        lost = Problem(
            "stop", f"the data file {folder}/{name}.yaml is missing", None, "install the program again"
        )
        return Document(f"{name}.yaml", "", None, (lost,))
    node = found[-1].node
    for layer in reversed(found[:-1]):
        node = nodes.overlay(node, layer.node) if node and layer.node else node or layer.node
    text = found[0].text
    return Document(
        found[0].name, text, node, tuple(problem for layer in found for problem in layer.problems)
    )
