"""How a block class says which of its fields a layout may write.

Comes in: nothing. Goes out: `of`, which makes such a field, and the words of the closed choices.
"""

from __future__ import annotations

from dataclasses import field
from typing import Any, Literal

from sheetgen.records import record

Kind = Literal[
    "mm", "x", "size", "number", "count", "yes-no", "words", "choice", "widths", "points", "picture", "colour"
]

WEIGHTS = ("regular", "bold")
TONES = ("black", "grey")
ALIGNS = ("left", "right", "center")
BARS = ("solid", "outline", "hatch", "frame", "pale")
FRAMES = ("next", "stop", "write")
MARKS = ("date", "drop", "tick", "minor", "grid")


@record
class Attribute:
    """What a layout may write for one attribute: its kind, what it does, and the words of a closed choice."""

    kind: Kind
    help: str
    choices: tuple[str, ...] = ()


def of(kind: Kind, default: object, help_text: str, *choices: str) -> Any:
    """A field that is an attribute of its element."""
    return field(default=default, metadata={"attribute": Attribute(kind, help_text, choices)})
