"""Options of make that only a class has a use for, or that it has none for.

Comes in: options and the class files among those that were named.  Goes out: sentences about wrong use.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path


def unfit(options: argparse.Namespace, classes: Sequence[Path]) -> list[str]:
    """A sentence for everything that only a class has a use for, or that it has none for."""
    if classes and len(options.files) > 1:
        return ["a class is made by itself; name one file"]
    if classes:
        given = {"--calendar": options.calendar, "--replaces": options.replaces}
        return [
            f"{name} is for batches; a class has its own calendar file"
            for name, value in given.items()
            if value
        ]
    own = {
        "--person": options.person,
        "--skip-bad": options.skip_bad,
        "--readings": options.readings,
        "--copies": options.copies != 1,
        "--new-sheet": options.new_sheet,
        "--one-sided": options.one_sided,
    }
    return [f"{name} is for a class, and none of these files is one" for name, value in own.items() if value]
