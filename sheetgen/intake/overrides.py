"""What the command line wants otherwise, laid over a batch file.

Comes in: keys with their values, such as {"paper": "Letter", "start-at": "7", "labels.stock": "a4-3x7"}.
Goes out: the tree with these values in place, so that they are read and checked like anything else.
"""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen import nodes
from sheetgen.intake.forms import Desk
from sheetgen.nodes import Entries, Entry, Text
from sheetgen.problems import Span

_LONG = {key: f"labels.{key}" for key in ("stock", "start-at", "discs", "discs-start-at")}


def overlaid(node: nodes.Node, overrides: Mapping[str, str], desk: Desk) -> nodes.Node:
    """The tree with the overrides on top; each one's span names the option."""
    for name, value in overrides.items():
        key = _LONG.get(name, name)
        if any(ord(sign) < 32 for sign in value) or not value.strip():
            desk.problems.stop(
                f"--{name} has no value that can be read", Span(f"--{name}", 1, 1), "write a value"
            )
            continue
        node = nodes.overlay(
            node, _tree(key.split("."), Text(value, Span(f"--{name}", 1, 1, len(value)), True))
        )
    return node


def _tree(keys: list[str], value: nodes.Node) -> nodes.Node:
    for key in reversed(keys):
        value = Entries((Entry(Text(key, value.span), value),), value.span)
    return value
