"""The tree of a file: text, lists and names with values, each piece with the place where it was said.

Every value stays text: `no`, `12:30` and `08` mean what they say.
"""

from __future__ import annotations

from sheetgen.problems import Span
from sheetgen.records import record

_KINDS = {
    "season": "season",
    "class": "class",
    "batch": "batch",
    "recipe-name": "recipe",
    "drink": "drink",
    "stock": "stock",
    "language": "language",
    "paper": "paper",
    "pantry": "pantry",
}


@record
class Text:
    """One value or name as it was written; `quoted`: in quotation marks or as a block of lines."""

    value: str
    span: Span
    quoted: bool = False


@record
class Items:
    """A list."""

    items: tuple[Node, ...]
    span: Span


@record
class Entry:
    """A name and what it stands for; an empty value is a `Text` of ""."""

    key: Text
    value: Node


@record
class Entries:
    """Names with their values, in the order of the file, each name once."""

    entries: tuple[Entry, ...]
    span: Span

    def entry(self, name: str) -> Entry | None:
        """The entry of that name, or None."""
        return next((entry for entry in self.entries if entry.key.value == name), None)

    def get(self, name: str) -> Node | None:
        """The value of that name, or None."""
        found = self.entry(name)
        return found.value if found else None

    def names(self) -> list[str]:
        """All names, in order."""
        return [entry.key.value for entry in self.entries]


Node = Text | Items | Entries


def overlay(base: Node, top: Node) -> Node:
    """What `base` says with `top` laid over it: names are joined, everything else is replaced; spans stay."""
    if not (isinstance(base, Entries) and isinstance(top, Entries)):
        return top
    joined = {entry.key.value: entry for entry in base.entries}
    for entry in top.entries:
        below = joined.get(entry.key.value)
        value = overlay(below.value, entry.value) if below else entry.value
        joined[entry.key.value] = Entry(entry.key, value)
    return Entries(tuple(joined.values()), base.span)


def kind_of(node: Node | None) -> str | None:
    """Which kind of file this is, by the presence of a name, in whatever order they stand."""
    if not isinstance(node, Entries):
        return None
    names = set(node.names())
    return next((kind for key, kind in _KINDS.items() if key in names), None)
