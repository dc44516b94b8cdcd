"""Reading the small data files of printing: plain values out of nodes, with problems that carry the place.

Comes in: nodes. Goes out: numbers, words and choices; a missing or wrong value is a problem and a default.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from sheetgen import nodes
from sheetgen.problems import Problems, Span, did_you_mean

_NUMBER = re.compile(r"(-?\d{1,6}(\.\d{1,6})?)( ?mm)?\Z")


class Fields:
    """The entries of one file, taken one by one; what nobody took is unknown."""

    def __init__(self, node: nodes.Node | None, problems: Problems, file: str) -> None:
        self.problems = problems
        self.span = node.span if node is not None else Span(file, 1, 1)
        self._entries: dict[str, nodes.Entry] = {}
        if isinstance(node, nodes.Entries):
            self._entries = {entry.key.value: entry for entry in node.entries}
        elif node is not None:
            problems.stop("this file must hold names with values, such as `width: 210`", node.span)
        self._taken: set[str] = set()

    def words(self, name: str, default: str | None = None) -> str:
        """The words of an entry; a stop if it is missing and has no default."""
        self._taken.add(name)
        entry = self._entries.get(name)
        if entry is not None and isinstance(entry.value, nodes.Text):
            return entry.value.value
        if entry is not None:
            self.problems.stop(f"`{name}` must be one value", entry.value.span)
        elif default is None:
            self.problems.stop(f"`{name}` is missing", self.span, f"add a line `{name}: ...`")
        return default or ""

    def number(
        self, name: str, default: float | None = None, least: float = 0.0, most: float = 2000.0
    ) -> float:
        """A plain number between two limits; `mm` may follow it."""
        text = self.words(name, None if default is None else str(default))
        match = _NUMBER.match(text)
        if match and least <= float(match[1]) <= most:
            return float(match[1])
        if text:
            span = self._entries[name].value.span if name in self._entries else self.span
            self.problems.stop(f"`{name}` must be a number from {least:g} to {most:g}, not {text!r}", span)
        return default if default is not None else least

    def choice(self, name: str, known: Iterable[str], default: str | None = None) -> str:
        """One of some words."""
        text, words = self.words(name, default), list(known)
        if text and text not in words:
            span = self._entries[name].value.span if name in self._entries else self.span
            fix = did_you_mean(text, words) or "write one of: " + ", ".join(words)
            self.problems.stop(f"`{name}` cannot be {text!r}", span, fix)
        return text

    def finish(self) -> None:
        """A stop for every entry that nobody took."""
        for name, entry in self._entries.items():
            if name not in self._taken:
                self.problems.stop(f"unknown name `{name}`", entry.key.span, did_you_mean(name, self._taken))
