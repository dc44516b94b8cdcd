"""Which file is meant, when none is named: the only one in the folder that is a batch, a season or a class.

Comes in: what the command line names, and the folder that one is in.  Goes out: names of files, or what there
is to choose from.
"""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Iterator, Sequence
from pathlib import Path

from sheetgen import catalogue, report
from sheetgen.commands import common
from sheetgen.nodes import Entries, Items, Node, Text, kind_of

KINDS = ("batch", "season", "class")
_LISTED = 12
_MOST = 200
_NAMES_OTHERS = ("batches", "batch-file")


def settle(options: argparse.Namespace) -> bool:
    """Put the file that is meant among the options, if none was named; False, once it is told why not."""
    if options.files:
        return True
    there = {path: kind for path in yaml_files(Path()) if (kind := _kind(path)) in KINDS}
    inner = {name for path in there for name in _named_in(path)}
    outer = [path for path in there if path.name not in inner]
    options.files = [str(path) for path in outer[:1]]
    if len(outer) != 1:
        _tell_choice(outer, options.command)
    return len(outer) == 1


def yaml_files(folder: Path) -> list[Path]:
    """The YAML files of a folder, of very many the first."""
    try:
        return sorted(path for path in folder.iterdir() if path.suffix in (".yaml", ".yml"))[:_MOST]
    except OSError:
        return []


def _kind(path: Path) -> str | None:
    return kind_of(catalogue.load(path).node)


def _named_in(path: Path) -> Iterator[str]:
    """The files that a season or a class is made of."""
    node = catalogue.load(path).node
    if isinstance(node, Entries):
        for key in _NAMES_OTHERS:
            yield from _texts(node.get(key))


def _texts(node: Node | None) -> Iterator[str]:
    for each in node.items if isinstance(node, Items) else [node]:
        if isinstance(each, Text):
            yield each.value.strip()


def _tell_choice(paths: Sequence[Path], command: str) -> None:
    """What there is to choose from, each as it is typed."""
    if not paths:
        common.complain("there is no batch file in this folder; sheetgen new writes one, or name a file")
        return
    common.complain(f"{len(paths)} files in this folder could be meant; type one of these:")
    for path in paths[:_LISTED]:
        common.err(f"  sheetgen {command} {shlex.quote(report.harmless(str(path)))}")
    if len(paths) > _LISTED:
        common.err(f"  … and {len(paths) - _LISTED} more")
