"""schema: the JSON Schema of a kind of file, for editors and other programs."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from sheetgen.commands import common


def run(options: argparse.Namespace) -> int:
    """Print it; recipes, stocks and tables of this folder are known to it."""
    common.out(text_of(options.kind, Path.cwd()))
    return common.FINE


def text_of(kind: str, beside: Path) -> str:
    """The schema of a kind of file as text, for files that lie in the folder `beside`."""
    from sheetgen.intake import schema

    return json.dumps(schema.schema_of(kind, beside), indent=1, ensure_ascii=False)
