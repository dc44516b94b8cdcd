"""Options of make that only a class or a season has a use for, or that it has none for.

Comes in: options and the class files among those that were named.  Goes out: sentences about wrong use.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from sheetgen.commands.common import is_season


def unfit(options: argparse.Namespace, classes: Sequence[Path]) -> list[str]:
    """A sentence for everything that only a class has a use for, or that it has none for."""
    if classes and len(options.files) > 1:
        return ["a class is made by itself; name one file"]
    if classes:
        given = {
            "--calendar": (options.calendar, "calendar file"),
            "--replaces": (options.replaces, "calendar file"),
            "--joint-labels": (options.joint_labels, "joint labels"),
        }
        return [
            f"{name} is for batches; a class has its own {what}"
            for name, (value, what) in given.items()
            if value
        ]
    own = {
        "--person": options.person,
        "--skip-bad": options.skip_bad,
        "--readings": options.readings,
        "--copies": options.copies != 1,
        "--new-sheet": options.new_sheet and not options.joint_labels,
        "--one-sided": options.one_sided,
    }
    told = [f"{name} is for a class, and none of these files is one" for name, value in own.items() if value]
    if options.joint_labels and not any(is_season(Path(name)) for name in options.files):
        told.append("--joint-labels is for a season, and none of these files is one")
    return told
