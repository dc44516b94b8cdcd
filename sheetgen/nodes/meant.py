"""What can be read but was meant otherwise: a comma inside { } or [ ], a space missing after a colon."""

from __future__ import annotations

import itertools
import re

from sheetgen.nodes import slips
from sheetgen.nodes.tree import Entry, Node, Text
from sheetgen.problems import Problem, Span, Suggestion

_NO_SPACE = re.compile(r"^([A-Za-z0-9][^:]*):([^\s:/].*)$", re.DOTALL)
_NAME_NO_SPACE = re.compile(r"^([a-z][a-z-]*):([^\s:/].*)$", re.DOTALL)


_BARE_NUMBER = re.compile(r"(?:\A|[\sx×])[0-9]{1,6}\Z")


def spaced(text: Text, pattern: re.Pattern[str] = _NO_SPACE) -> list[Problem]:
    """A stop for `volume:12 L`, which is one text to the file format."""
    found = None if text.quoted else pattern.match(text.value[: text.span.length])
    if not found:
        return []
    meant = slips.shortened(f"{found.group(1)}: {found.group(2)}", 60)
    whole = f"{found.group(1)}: {found.group(2)}"
    ways = (Suggestion(text.span, whole, True),) if text.span.length == len(text.value) else ()
    return [Problem("stop", "a space is missing after the colon", text.span, f"write {meant}", (), ways)]


def in_block(entries: list[Entry]) -> list[Problem]:
    """Where a name's value begins on a later line and is a text: the same."""
    below = [e.value for e in entries if isinstance(e.value, Text) and e.value.span.line > e.key.span.line]
    return [problem for text in below for problem in spaced(text, _NAME_NO_SPACE)]


def in_braces(entries: list[Entry]) -> list[Problem]:
    """Inside { }: a missing space after a colon, and a decimal comma that split a number in two."""
    found: list[Problem] = []
    for entry in entries:
        if isinstance(entry.value, Text) and not entry.value.value and not entry.value.quoted:
            found += spaced(entry.key, _NO_SPACE)
    for left, right in itertools.pairwise(entries):
        bare = [isinstance(e.value, Text) and not (e.value.value or e.value.quoted) for e in (left, right)]
        last = left.key if bare[0] else left.value
        if any(bare) and isinstance(last, Text):
            found += _decimal_comma(last, right.key)
    return found


def in_brackets(items: list[Node]) -> list[Problem]:
    """Inside [ ]: the same."""
    found: list[Problem] = []
    for item in items:
        found += spaced(item, _NAME_NO_SPACE) if isinstance(item, Text) else []
    for left, right in itertools.pairwise(items):
        if isinstance(right, Text) and isinstance(left, Text) and re.search("[^0-9]", right.value):
            close = (
                left.span.line == right.span.line
                and left.span.column + left.span.length + 1 == right.span.column
            )
            found += _decimal_comma(left, right) if close and _BARE_NUMBER.search(left.value) else []
    return found


def _decimal_comma(left: Text, right: Text) -> list[Problem]:
    number, rest = re.search(r"(?<![0-9:.,])[0-9]{1,6}\Z", left.value), re.match(r"[0-9]", right.value)
    if not number or not rest or left.quoted or right.quoted:
        return []
    same = left.span.line == right.span.line
    length = right.span.column + right.span.length - left.span.column if same else left.span.length
    span = Span(left.span.file, left.span.line, left.span.column, length)
    meant = [f"{number.group()}.{right.value}"]
    if re.match(r"[0-9]{3}(?![0-9])", right.value) and number.group() != "0":
        meant.append(f"{number.group()}{right.value}")
    head = left.value[: -len(number.group())]
    ways = tuple(Suggestion(span, f"{head}{way}", len(meant) == 1) for way in meant) if same else ()
    fix = f"write {slips.shortened(' or '.join(meant), 80)}"
    return [Problem("stop", "a comma here separates; it is not a decimal comma", span, fix, (), ways)]


def one_of_two(first: tuple[Text, Node], second: tuple[Text, Node]) -> tuple[Suggestion, ...]:
    """The file without the second of two that have one name, or without the first."""
    ways = [(key, value) for key, value in (second, first) if _on_its_line(key, value)]
    same = isinstance(first[1], Text) and isinstance(second[1], Text) and first[1].value == second[1].value
    return tuple(_left_out(key, value, same) for key, value in (ways[:1] if same else ways))


def _on_its_line(key: Text, value: Node) -> bool:
    return isinstance(value, Text) and value.span.line == key.span.line


def _left_out(key: Text, value: Node, sure: bool) -> Suggestion:
    end = value.span.column + value.span.length
    return Suggestion(Span(key.span.file, key.span.line, key.span.column, end - key.span.column), "", sure)
