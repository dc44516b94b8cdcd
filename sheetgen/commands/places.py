"""Where a thing was written: places in people's files for what is found only on the paper.

Comes in: a batch, its file, and the problems of its pages.  Goes out: the same problems, those about words of
a person's own pointing at the file in which the person wrote them; and stops for characters that cannot be
printed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace
from pathlib import Path
from types import MappingProxyType

from sheetgen import catalogue
from sheetgen.model import Batch
from sheetgen.nodes import Entries, Items, Node, Text
from sheetgen.problems import Problem, Span
from sheetgen.records import record

_LONG = 12
_QUOTED = re.compile('"(.+?)"')


@record
class Written:
    """What a batch was made from: its values as they were written, and the spans of its keys."""

    crumb: str = ""
    texts: tuple[Text, ...] = ()
    where: Mapping[str, Span] = field(default_factory=lambda: MappingProxyType({}))


NOTHING = Written()


def written_in(path: Path, batch: Batch) -> Written:
    """Every value of the batch file and of its recipe."""
    return written_as(catalogue.load(path).node, batch, path.parent)


def written_as(tree: Node | None, batch: Batch, beside: Path) -> Written:
    """Every value of a batch's tree and of its recipe."""
    recipe = catalogue.find("recipes", batch.recipe.id, beside)
    nodes = [tree, catalogue.load(recipe).node if recipe else None]
    texts = tuple(text for node in nodes if node for text in _texts(node))
    return Written(f"batch {batch.code}", texts, batch.where)


def _texts(node: Node) -> Iterator[Text]:
    if isinstance(node, Text):
        yield node
    elif isinstance(node, Items):
        for item in node.items:
            yield from _texts(item)
    elif isinstance(node, Entries):
        for entry in node.entries:
            yield from _texts(entry.value)


def unprintable(written: Written) -> Iterator[Problem]:
    """A stop for every value with a character that no bundled face has."""
    from sheetgen.printing import fonts

    for text in written.texts:
        if text.value.isascii():
            continue
        value = unicodedata.normalize("NFC", " ".join(text.value.split()))
        unknown = fonts.missing(value)
        if unknown:
            named = ", ".join(f"{sign!r} (U+{ord(sign):04X})" for sign in unknown[:5])
            message = f"no typeface of ours has this character: {named}"
            yield Problem(
                "stop", message, _at(text, unknown[0]), "write it with other characters", (written.crumb,)
            )


def _at(text: Text, sign: str) -> Span:
    """The place of a character in a value on one line, else of the value."""
    index = text.value.find(sign) + int(text.quoted)
    if not 0 <= index < text.span.length:
        return text.span
    return replace(text.span, column=text.span.column + index, length=1)


def pointed(problems: Iterable[Problem], written: Written) -> Iterator[Problem]:
    """The problems of pages, those about a person's own words or keys with the place where they stand.

    A text of the person's own that finds no room is told once, not on every page that it stands on.
    """
    told: set[Span] = set()
    for problem in problems:
        own = _too_long(problem, written)
        if own is None:
            yield _of_a_key(problem, written)
        elif own.span not in told:
            told.add(own.span)
            message = f"this text finds no room on paper: {', '.join(problem.path[:1]) or 'labels'}"
            yield Problem("stop", message, own.span, "write it shorter", (written.crumb,))


def _of_a_key(problem: Problem, written: Written) -> Problem:
    span = None if problem.span else written.where.get(".".join(problem.path))
    return replace(problem, span=span, path=(written.crumb, *problem.path)) if span else problem


def _too_long(problem: Problem, written: Written) -> Text | None:
    """The value of the person's own that a stop of the pages is about, if it is a long one."""
    if problem.level != "stop" or not isinstance(problem.message, str):
        return None
    quoted = _QUOTED.search(problem.message)
    shown = quoted.group(1) if quoted else ""
    return next((text for text in written.texts if shown and _is_part(text.value, shown)), None)


def _is_part(value: str, shown: str) -> bool:
    """Whether the text on paper holds the value, or is a part of it; short ones prove nothing."""
    tidy = " ".join(value.split())
    return (len(tidy) >= _LONG and tidy in shown) or (len(shown) >= _LONG and shown in tidy)
