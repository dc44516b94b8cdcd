"""The text that is attached to a set of paper, so that it can be made again.

Comes in: a batch file's text and tree.  Goes out: the same text without the days on which nobody is home or
somebody is at work: whoever gets the paper need not know them.
"""

from __future__ import annotations

from sheetgen import nodes

PRIVATE = ("away", "shifts")


def without_absences(text: str, node: nodes.Node) -> str:
    """The text without its `away:` and `shifts:` entries, comments of those lines included; other lines stay
    as they are.
    """
    keys = [key for key in PRIVATE if isinstance(node, nodes.Entries) and node.get(key) is not None]
    if not isinstance(node, nodes.Entries) or not keys:
        return text
    lines = text.splitlines(keepends=True)
    gone = [_lines_of(node, key, len(lines)) for key in keys]
    if not all(gone):
        return ""  # the whole file stands on few lines: nothing can be left out of it, so nothing is attached
    return "".join(line for number, line in enumerate(lines, 1) if not any(number in each for each in gone))


def _lines_of(node: nodes.Entries, key: str, count: int) -> range:
    """The lines from the key to the next key; none if other keys stand on one of them."""
    keys = [(entry.key.value, entry.key.span.line) for entry in node.entries]
    index = next(i for i, (name, _) in enumerate(keys) if name == key)
    first = keys[index][1]
    last = keys[index + 1][1] - 1 if index + 1 < len(keys) else count
    shared = last < first or any(line == first for i, (_, line) in enumerate(keys) if i != index)
    return range(0) if shared else range(first, last + 1)
