"""The head of a layout file: what it is called, what it is drawn on, which layout it changes.

Comes in: the bytes of a layout. Goes out: its head and its body; the body keeps its line numbers by
empty lines in place of the head.
"""

from __future__ import annotations

import re

from sheetgen import nodes
from sheetgen.printing.fields import Fields
from sheetgen.printing.vocabulary import ROOTS
from sheetgen.problems import Problems, Span
from sheetgen.records import record

NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,60}\Z")
MOST_BYTES = 128 * 1024


@record
class Head:
    """What a layout says of itself; `default` is its paper or stock, `extends` the layout whose blocks it
    replaces, `view` the document whose names it may use; "" where it does not say.
    """

    name: str
    title: str
    kind: str
    default: str
    extends: str = ""
    view: str = ""


def parted(data: bytes) -> tuple[str, str]:
    """Head and body as text; ValueError if it is no text, or too long."""
    if len(data) > MOST_BYTES:
        raise ValueError(f"a layout is at most {MOST_BYTES // 1024} KB long")
    text = data.decode("utf-8-sig").replace("\r\n", "\n")
    lines = text.split("\n")
    if lines[0].strip() != "---":
        return "", text
    ends = [index for index, line in enumerate(lines) if index and line.strip() == "---"]
    if not ends:
        return "", text
    end = ends[0]
    return "\n".join(["", *lines[1:end]]), "\n".join([""] * (end + 1) + lines[end + 1 :])


def read(head: str, file: str, problems: Problems, parent: Head | None = None) -> Head:
    """The head from its text; what it leaves open is its parent's."""
    node, found = nodes.load(head.encode(), file)
    problems.extend(found)
    fields = Fields(node, problems, file)
    kind = fields.choice("kind", ROOTS, parent.kind if parent else "sheets")
    made = Head(
        name=fields.words("layout"),
        title=fields.words("title", parent.title if parent else ""),
        kind=kind,
        default=fields.words("stock" if kind == "labels" else "paper", parent.default if parent else ""),
        extends=fields.words("extends", ""),
        view=fields.words("view", parent.view if parent else ""),
    )
    fields.finish()
    for key, name in (("layout", made.name), ("extends", made.extends), ("view", made.view)):
        if name and not NAME.match(name):
            found_at = Span(file, 1 + _line_of(key, head), 1)
            problems.stop(f"a layout's name is small letters, digits and hyphens, not {name!r}", found_at)
    return made


def _line_of(key: str, head: str) -> int:
    """The line of a key, counted from 0 at the line of dashes; 0 if it is not there."""
    lines = head.split("\n")
    return next((index for index, line in enumerate(lines) if line.startswith(f"{key}:")), 0)


def extends(data: bytes) -> str:
    """The name after `extends:` in the head of a layout, "" if there is none or the head cannot be read."""
    try:
        head = parted(data)[0]
    except ValueError:
        return ""
    node, _ = nodes.load(head.encode(), "")
    value = node.get("extends") if isinstance(node, nodes.Entries) else None
    return value.value if isinstance(value, nodes.Text) and NAME.match(value.value) else ""
