"""Suggestions: what may be written in a file in place of what is wrong in it.

Comes in: nodes with their places, and texts that would do.  Goes out: `problems.Suggestion`s.  Nothing is
suggested where the place in the file is not exactly known (a text of several lines, or one that was put
together from a cell and its heading).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from sheetgen.nodes import Entries, Entry, Node, Text
from sheetgen.problems import Span, Suggestion

_NEEDS_QUOTES = re.compile(r"[,\[\]{}]|: |:\Z| #|\A[-?:&*!|>'\"%@`#]")
_CSV_QUOTES = re.compile(r'[;,\t|"\n]')
Ways = tuple[Suggestion, ...]


def in_file(text: str, span: Span) -> str:
    """The text as it would stand there: in quotation marks if it needs them; lists and names stay."""
    if span.cell:
        doubled = text.replace('"', '""')
        return f'"{doubled}"' if _CSV_QUOTES.search(text) else text
    if text[:1] + text[-1:] in ("[]", "{}") or not _NEEDS_QUOTES.search(text):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def is_whole(node: Node) -> bool:
    """Whether the node's place holds it wholly, so that something else may stand there instead."""
    if not isinstance(node, Text):
        return False
    if node.span.file.startswith("--") or "\n" in node.value:
        return False
    return (
        node.span.length == len(node.value)
        if not node.quoted
        else node.span.length in (len(node.value) + 2, *([len(node.value)] if node.span.cell else []))
    )


def instead(node: Node, ways: Iterable[str], sure: bool = False) -> Ways:
    """Each of these in place of a value."""
    found = tuple(dict.fromkeys(ways))
    if not is_whole(node):
        return ()
    alone = len(found) == 1
    return tuple(Suggestion(node.span, in_file(way, node.span), sure and alone) for way in found)


def in_a_list(ways: Ways) -> Ways:
    """Ways for one item of a list: one that is a list goes in without its brackets."""
    return tuple(
        replace(way, text=way.text[1:-1], sure=False) if way.text[:1] == "[" else way for way in ways
    )


def part_of(node: Node, old: str, new: str, sure: bool = False) -> Ways:
    """The value with a part of it written otherwise."""
    if not isinstance(node, Text) or node.value.count(old) != 1 or not old:
        return ()
    return instead(node, [node.value.replace(old, new)], sure)


def span_of(node: Node | None, words: str) -> Span | None:
    """Where these words stand in a text; None where that is not exactly known."""
    if (
        not isinstance(node, Text)
        or node.quoted
        or not is_whole(node)
        or node.value.count(words) != 1
        or not words
    ):
        return None
    start = node.span.column + node.value.index(words)
    return replace(node.span, column=start, length=len(words))


def key_instead(key: Text, other: str, sure: bool = False) -> Ways:
    """Another name in place of one."""
    return instead(key, [other], sure) if other and other != key.value else ()


def filled_in(key: Text, example: str) -> Ways:
    """A value after a name that has none."""
    if not is_whole(key) or key.span.cell:
        return ()
    at = replace(key.span, column=key.span.column + key.span.length + 1, length=0)
    return (Suggestion(at, f" {example}"),)


def left_out(entry: Entry) -> Ways:
    """Nothing in place of a name and its value, on a line of their own."""
    key, value = entry.key, entry.value
    if not isinstance(value, Text) or not is_whole(value) or value.span.line != key.span.line:
        return ()
    end = value.span.column + value.span.length
    return (Suggestion(replace(key.span, length=end - key.span.column), ""),)


def entry_instead(entry: Entry, fix: str) -> Ways:
    """What a sentence says to write, such as `write event: {…}`, in place of a name and its value."""
    gone, written = left_out(entry), re.search(r"write ([a-z-]+: \{[^}]*\})", fix)
    return tuple(replace(way, text=written[1]) for way in gone) if written else ()


def added(node: Node, key: str, example: str) -> Ways:
    """A name and a value that are missing, before the first that is there."""
    if not isinstance(node, Entries) or not node.entries:
        return ()
    first = node.entries[0].key.span
    if first.cell or first.file.startswith("--"):
        return ()
    brace = (node.span.line, node.span.column) != (first.line, first.column)
    more = f"{key}: {example}, " if brace else f"{key}: {example}\n{' ' * (first.column - 1)}"
    return (Suggestion(replace(first, length=0), more),)
