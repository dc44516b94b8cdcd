"""From a file's text to its tree; the only module that uses the YAML library, and only to get events.

What could explode is refused while the events arrive; where the library stops, we say why in our own words,
mend the line as it was probably meant, and go on, so that all problems of a file are found in one run.
"""

from __future__ import annotations

import bisect
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from sheetgen.nodes import meant, slips
from sheetgen.nodes.decoding import FORBIDDEN, MAX_BYTES, decoded, forbidden, invisible_sign, piled_up
from sheetgen.nodes.tree import Entries, Entry, Items, Node, Text
from sheetgen.problems import Level, Problem, Span, Suggestion

MAX_DEPTH = 20
MAX_NODES = 20_000
MAX_PROBLEMS = 100
MAX_REPAIRS = 10
_REPAIRABLE = 64 * 1024
_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_COMMENT = re.compile(r"[ ](#(?![ #\n])[^\n]+)")


class _GiveUpError(Exception):
    """The rest of the file is not worth reading; carries the problem. Never leaves this module."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def load(data: bytes, name: str) -> tuple[Node | None, list[Problem]]:
    """The tree of a file, or None, and everything that is wrong with its writing.

        `name` is the file's name in spans.  After a slip whose meaning is plain the tree is still
    given, so that all     other problems of the file can be found in the same run; the problems then
    hold a stop.
    """
    if len(data) > MAX_BYTES:
        size = f"this file is {len(data) / MAX_BYTES:.1f} MiB long; at most 1 MiB is read"
        return None, [Problem("stop", size, Span(name, 1, 1), "check that this is the right file")]
    text, problems = decoded(data, name)
    if text is None:
        return None, problems
    problems = forbidden(text, name)
    if problems:
        return None, problems
    node, problems = _read(text, name)
    return node, _at_most(problems, name)


def _at_most(problems: list[Problem], name: str) -> list[Problem]:
    if len(problems) <= MAX_PROBLEMS:
        return problems
    rest = f"{len(problems) - MAX_PROBLEMS} more problems of this file are not listed"
    level: Level = "stop" if any(problem.level == "stop" for problem in problems) else "note"
    return [*problems[:MAX_PROBLEMS], Problem(level, rest, Span(name, 1, 1), "correct these first")]


def _read(text: str, name: str) -> tuple[Node | None, list[Problem]]:
    """Read; where reading stops, explain, mend the line as it was probably meant, and read again."""
    lines, told, mended = text.split("\n"), list[Problem](), set[int]()
    while True:
        tree = _Tree(name, lines)
        try:
            return tree.read("\n".join(lines)), [*told, *tree.problems]
        except _GiveUpError as end:
            return None, [*told, *tree.problems, end.problem]
        except yaml.MarkedYAMLError as fault:
            slip = slips.explain(lines, _place(fault.problem_mark) or (0, 0), _place(fault.context_mark))
        except yaml.YAMLError:
            slip = slips.Slip(
                (0, 0), 1, "this file holds characters that are not text", "save it as UTF-8 text"
            )
        number, column = slip.place
        span = Span(name, number + 1, column + 1, max(1, slip.length))
        line = Span(name, number + 1, 1, len(lines[number]) if number < len(lines) else 0)
        ways = [way for way in dict.fromkeys(slip.ways) if number < len(lines) and way != lines[number]]
        sure = slip.sure and len(ways) == 1
        told.append(
            Problem(
                "stop", slip.message, span, slip.fix, (), tuple(Suggestion(line, way, sure) for way in ways)
            )
        )
        if slip.repaired is None or number in mended or len(mended) >= MAX_REPAIRS or len(text) > _REPAIRABLE:
            return None, [*told, *tree.problems]
        mended.add(number)
        lines[number] = slip.repaired


def _place(mark: Any) -> tuple[int, int] | None:
    return (mark.line, mark.column) if mark else None


@dataclass
class _Open:
    """A list or a set of names that is still being read."""

    event: Any
    found: list[Node] = field(default_factory=list)


class _Tree:
    """Builds the tree from the parser's events, refusing what could explode while the events arrive."""

    def __init__(self, name: str, lines: list[str]) -> None:
        self.name, self.lines = name, lines
        self.problems: list[Problem] = []
        self._texts: list[tuple[int, int]] = []
        self._open: list[_Open] = [_Open(None)]
        self._count = 0

    def read(self, text: str) -> Node:
        """The tree; raises _GiveUpError, or the parser's own errors."""
        for event in yaml.parse(text, Loader=_LOADER):
            if isinstance(event, yaml.DocumentStartEvent) and self._open[0].found:
                self._stop(
                    event, "a second document begins here", "keep one document: take the line of dashes away"
                )
                break
            if isinstance(event, yaml.NodeEvent):
                self._node(event)
            elif isinstance(event, yaml.CollectionEndEvent):
                self._close(event)
        found = self._open[0].found
        if not found or (isinstance(found[0], Text) and not found[0].value):
            raise _GiveUpError(
                Problem("stop", "this file is empty", Span(self.name, 1, 1), "write batch: 27A, for example")
            )
        self.problems += self._comments(text)
        if isinstance(found[0], Text):
            self.problems += self._lonely(found[0])
        return found[0]

    def _node(self, event: Any) -> None:
        self._count += 1
        if self._count > MAX_NODES:
            message = f"this file holds more than {MAX_NODES} values"
            raise _GiveUpError(
                Problem("stop", message, self._span(event), "check that this is the right file")
            )
        if isinstance(event, yaml.AliasEvent):
            self._add(self._sign(event, "*"))
        elif isinstance(event, yaml.ScalarEvent):
            self._add(self._text(event))
        else:
            self._refuse_sign(event)
            self._open.append(_Open(event))
            if len(self._open) > MAX_DEPTH + 1:
                message = f"lists and names stand inside one another more than {MAX_DEPTH} deep here"
                raise _GiveUpError(Problem("stop", message, self._span(event), "write them less deep"))

    def _add(self, node: Node) -> None:
        self._open[-1].found.append(node)

    def _text(self, event: Any) -> Text:
        self._texts.append((event.start_mark.index, event.end_mark.index))
        if self._refuse_sign(event):
            return Text(self._raw(event), self._span(event), True)
        span = self._span(event)
        value = event.value
        if value.isascii() and value.isprintable():
            return Text(value, span, bool(event.style))
        hidden = FORBIDDEN.search(value) or re.search("\t", value)
        if hidden:
            self.problems.append(
                Problem("stop", invisible_sign(hidden.group()), span, "type the text without it")
            )
            value = value.replace(hidden.group(), " ")
        if piled_up(value):
            self.problems.append(
                Problem("stop", "too many marks stand on one letter here", span, "take them away")
            )
        else:
            value = unicodedata.normalize("NFC", value)
        return Text(value, span, bool(event.style))

    def _raw(self, event: Any) -> str:
        number = event.start_mark.line
        line = self.lines[number] if number < len(self.lines) else ""
        same = event.end_mark.line == event.start_mark.line
        end = event.end_mark.column if same else len(line)
        piece: str = line[event.start_mark.column : end]
        return piece.rstrip()

    def _refuse_sign(self, event: Any) -> bool:
        sign = "&" if event.anchor else "!" if event.tag else ""
        if sign:
            self._sign(event, sign)
        return bool(sign)

    def _sign(self, event: Any, sign: str) -> Text:
        raw = slips.without_comment(self._raw(event)) or sign
        message, fix = slips.begins_with_sign(sign, raw)
        span = self._span(event)
        ways = [slips.quoted(raw), raw[1:].strip()] if span.length == len(raw) and raw[1:].strip() else []
        told = tuple(Suggestion(span, way) for way in ways)
        self.problems.append(Problem("stop", message, span, fix, (), told))
        return Text(raw, self._span(event), True)

    def _close(self, event: Any) -> None:
        ended = self._open.pop()
        span = self._whole(ended, event)
        if isinstance(ended.event, yaml.SequenceStartEvent):
            if ended.event.flow_style:
                self.problems += meant.in_brackets(ended.found)
            self._add(Items(tuple(ended.found), span))
            return
        entries = list(self._entries(ended.found))
        if ended.event.flow_style:
            self.problems += meant.in_braces(entries)
        else:
            self.problems += meant.in_block(entries)
        self._add(Entries(tuple(entries), span))

    def _entries(self, found: list[Node]) -> Iterator[Entry]:
        """Pairs of name and value; a name said twice is a stop, and the first one counts."""
        said: dict[str, tuple[Text, Node]] = {}
        for key, value in zip(found[::2], found[1::2], strict=True):
            if not isinstance(key, Text) or not key.value:
                self.problems.append(
                    Problem(
                        "stop",
                        "a name is missing before the colon",
                        key.span,
                        "write a name, a colon, a value",
                    )
                )
            elif key.value in said:
                first = said[key.value]
                message = f'"{slips.shortened(key.value)}" was already said on line {first[0].span.line}'
                ways = meant.one_of_two(first, (key, value))
                self.problems.append(Problem("stop", message, key.span, "keep one of the two", (), ways))
            else:
                said[key.value] = key, value
                yield Entry(key, value)

    def _whole(self, ended: _Open, event: Any) -> Span:
        start, end = ended.event.start_mark, event.end_mark
        if not ended.event.flow_style:
            return ended.found[0].span if ended.found else self._span(ended.event)
        same = start.line == end.line
        length = (end.column if same else len(self.lines[start.line].rstrip())) - start.column
        return Span(self.name, start.line + 1, start.column + 1, max(1, length))

    def _span(self, event: Any) -> Span:
        start = event.start_mark
        line = min(start.line + 1, len(self.lines))
        return Span(self.name, line, start.column + 1, max(1, len(self._raw(event))))

    def _stop(self, event: Any, message: str, fix: str) -> None:
        self.problems.append(Problem("stop", message, self._span(event), fix))

    def _lonely(self, text: Text) -> list[Problem]:
        slip = meant.spaced(text)
        fix = "write names with values, such as batch: 27A"
        return slip or [Problem("stop", "a name and a colon are missing here", text.span, fix)]

    def _comments(self, text: str) -> Iterator[Problem]:
        """A note for each text lost after " #" that does not look like a comment."""
        starts = [0]
        for line in self.lines:
            starts.append(starts[-1] + len(line) + 1)
        for found in _COMMENT.finditer(text):
            at = found.start(1)
            number = bisect.bisect_right(starts, at) - 1
            before = self.lines[number][: at - starts[number]]
            inside = bisect.bisect_right(self._texts, (at, len(text) + 1)) - 1
            if not before.strip() or (inside >= 0 and self._texts[inside][1] > at):
                continue
            lost = slips.shortened(found.group(1).rstrip())
            message = f'"{lost}" is left out: what follows " #" is taken as a remark'
            fix = f'put the whole value in quotation marks: "… {lost}"; or begin the remark with "# "'
            yield Problem(
                "note", message, Span(self.name, number + 1, len(before) + 1, len(found.group(1))), fix
            )
