"""Whoever reads the plan's JSON knows what each number counts: by its key, or by the schema's own words."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import sheetgen.planning

SCHEMA = json.loads((Path(sheetgen.planning.__path__[0]) / "plan.schema.json").read_text(encoding="utf-8"))

# The last word of a key that says what its number counts.
UNITS = {
    *(
        "l",
        "ml",
        "g",
        "mg",
        "kg",
        "c",
        "bar",
        "volumes",
        "volume",
        "sg",
        "gravity",
        "litres",
        "litre",
        "grams",
    ),
    *("celsius", "percent", "ibu", "ebc", "minutes", "min", "hours", "days", "points", "thousandths"),
    *("each", "at", "factor", "share"),
}
# Words that count things: a number of them.
COUNTED = {
    *("packs", "count", "need", "have", "short", "caps", "filled", "spares", "labels", "fill", "numbered"),
    *("needed", "bottle", "bottles", "number", "day", "revision", "line", "column"),
}
# Gravities of the gate and the finish; an amount, whose unit stands beside it.
SAID = ("low", "high", "expected", "ceiling", "value")


def numbers(node: Any, key: str = "", told: bool = False) -> Iterator[tuple[str, bool]]:
    """Every number's key, and whether it or what it stands in is described in words."""
    if isinstance(node, list):
        for each in node:
            yield from numbers(each, key, told)
        return
    if not isinstance(node, dict):
        return
    told = told or "description" in node
    kinds = node.get("type", [])
    if "number" in ([kinds] if isinstance(kinds, str) else kinds):
        yield key, told
    for name, inner in node.get("properties", {}).items():
        yield from numbers(inner, name, told)
    for part in ("items", "anyOf", "oneOf", "prefixItems"):
        yield from numbers(node.get(part), key, told)


def is_plain(key: str) -> bool:
    words = key.split("_")
    return bool({*words} & (UNITS | COUNTED)) or key in SAID


def test_every_number_says_what_it_counts():
    found = [pair for name in SCHEMA["$defs"] for pair in numbers(SCHEMA["$defs"][name], name)]
    assert len(found) > 80
    assert sorted({key for key, told in found if not told and not is_plain(key)}) == []
