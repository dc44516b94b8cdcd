"""What holds where a key is left out, as it would be written in the file.

Comes in: a `Field`.  Goes out: text, for the schema and the reference.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import time
from types import MappingProxyType
from typing import Any

from sheetgen.intake.fields import Field


def _with(unit: str) -> Callable[[Any], str]:
    return lambda value: f"{value:g} {unit}"


def _gravity(value: Any) -> str:
    return f"{value:.3f}"


_WRITTEN: Mapping[str, Callable[[Any], str]] = MappingProxyType(
    {
        **dict.fromkeys(("water-celsius", "celsius"), _with("C")),
        **dict.fromkeys(("litres", "litres-or-none"), _with("L")),
        **dict.fromkeys(("mass", "mass-or-none"), _with("g")),
        **dict.fromkeys(("shift-mm", "bar-mm"), _with("mm")),
        "altitude": _with("m"),
        "volumes": _with("volumes"),
        "minutes": _with("min"),
        "percent": _with("%"),
        "gravity": _gravity,
        "days-or-none": lambda value: f"{value} days" if value else "none",
        "weeks": lambda value: f"{value} week",
        "percent-range": lambda value: f"{value[0]:g}-{value[1]:g} %",
    }
)


def default_text(field: Field) -> str:
    """The default as one would write it; "" if the key has none, or one that depends on other things."""
    value = field.default
    if value is None or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, tuple) and field.many:
        return f"[{', '.join(value)}]" if value else ""
    written = _WRITTEN.get(field.kind)
    return written(value) if written else f"{value:g}" if isinstance(value, float) else str(value)


def without_it(field: Field) -> str:
    """What holds where it is left out, in words; "" where nothing does."""
    return default_text(field) or field.usual
