"""What is usual where a language is spoken: the paper in the printer, the units on the scales.

Comes in: a language's name.  Goes out: the customs that its file states, or that the language it extends
does.
"""

from __future__ import annotations

from pathlib import Path

from sheetgen import catalogue
from sheetgen.nodes import Entries, Text

_MOST_STEPS = 5


def customs_of(language: str, beside: Path | None = None) -> dict[str, str]:
    """Single-valued customs by name, such as {"paper": "letter", "units": "us"}; empty for an unknown
    language.
    """
    found: dict[str, str] = {}
    for _ in range(_MOST_STEPS):
        path = catalogue.find("layouts/languages", language, beside)
        node = catalogue.load(path).node if path else None
        if not isinstance(node, Entries):
            break
        customs, base = node.get("customs"), node.get("extends")
        if isinstance(customs, Entries):
            own = {
                entry.key.value: entry.value.value
                for entry in customs.entries
                if isinstance(entry.value, Text)
            }
            found = own | found
        if not isinstance(base, Text):
            break
        language = base.value
    return found
