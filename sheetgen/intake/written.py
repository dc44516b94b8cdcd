"""A tree of names and values written out again as a file.

Comes in: nodes.  Goes out: text that reads back as the same tree.  The days away are left out, as in every
file that is kept with a set of paper.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sheetgen.nodes import Entries, Items, Node, Text
from sheetgen.problems import Span

_PLAIN = re.compile(r"[0-9A-Za-z](?:[0-9A-Za-z .%/+_-]*[0-9A-Za-z%])?\Z", re.ASCII)
_NEVER_KEPT = ("away",)
NOWHERE = Span("", 1, 1)


def as_text(tree: Node) -> str:
    """The file, in the order of the tree, without the days away."""
    if isinstance(tree, Entries):
        kept = tuple(one for one in tree.entries if one.key.value not in _NEVER_KEPT)
        tree = Entries(kept, tree.span)
    return "".join(f"{line}\n" for line in _lines(tree, ""))


def _lines(node: Node, indent: str) -> Iterator[str]:
    if isinstance(node, Entries) and node.entries:
        for entry in node.entries:
            yield from _named(f"{indent}{quoted(entry.key.value)}:", entry.value, indent)
    elif isinstance(node, Items) and node.items:
        for item in node.items:
            yield from _item(item, indent)
    else:
        yield f"{indent}{_short(node)}"


def _named(head: str, value: Node, indent: str) -> Iterator[str]:
    if _is_short(value):
        yield f"{head} {_short(value)}".rstrip()
    else:
        yield head
        yield from _lines(value, f"{indent}  ")


def _item(item: Node, indent: str) -> Iterator[str]:
    if _is_short(item):
        yield f"{indent}- {_short(item)}"
        return
    first = True
    for line in _lines(item, f"{indent}  "):
        yield f"{indent}- {line[len(indent) + 2 :]}" if first else line
        first = False


def _is_short(node: Node) -> bool:
    return isinstance(node, Text) or not (node.entries if isinstance(node, Entries) else node.items)


def _short(node: Node) -> str:
    if isinstance(node, Text):
        return quoted(node.value)
    return "{}" if isinstance(node, Entries) else "[]"


def quoted(value: str) -> str:
    """The text, in quotation marks where a file needs them."""
    if _PLAIN.match(value):
        return value
    escaped = value.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return f'"{escaped}"'


def text(value: object) -> Text:
    """A value that nobody wrote, as a node."""
    return Text(str(value), NOWHERE, True)
