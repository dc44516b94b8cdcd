"""A problem as people see it on the screen: where, what, the line itself, and what to type.

Comes in: a `Problem`, a function that words a sentence, one that gives a file's lines.  Goes out: text.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from sheetgen.problems import Problem, Said, Span

WIDEST = 100
_BEFORE_CARET = 30
_JOINERS = "\u200c\u200d"


def text_of(
    problem: Problem, say: Callable[[str | Said], str], source: Callable[[str], list[str] | None]
) -> str:
    """The finding in one to four lines, and one for each of several ways out; without a line end.

    `say` words a message or a fix; `source` gives the lines of a file, or None when it cannot be shown.
    """
    ways = _ways(problem.fix)
    message = harmless(say(problem.message))
    fix = harmless(say(problem.fix)) if problem.fix and not ways else ""
    place = f"{harmless(_place(problem.span))}: " if problem.span else ""
    shown = [f"{place}{problem.level}: {message}", *_breadcrumb(problem)]
    marked = _marked(problem.span, fix, source) if problem.span else None
    if marked is None:
        marked = [f"  {fix}"] if fix else []
    return "\n".join([*shown, *marked, *(f"  - {harmless(say(way))}" for way in ways)])


def _ways(fix: Said | str) -> tuple[Said, ...]:
    """The ways out that the fix names, where it has several: each gets a line."""
    ways = fix.values.get("ways") if isinstance(fix, Said) else None
    return ways if isinstance(ways, tuple) and len(ways) > 1 else ()


def harmless(text: str) -> str:
    """The text on one line, with nothing in it that could steer a terminal."""
    return "".join(_visible(sign) for sign in text)


def width_of(text: str) -> int:
    """How many columns of a terminal the text takes: wide characters two, combining ones none."""
    return sum(_columns(sign) for sign in text)


def _place(span: Span) -> str:
    """File, line and column; of an option its name."""
    return span.file if span.file.startswith("--") else str(span)


def _breadcrumb(problem: Problem) -> list[str]:
    steps = [*problem.path]
    if problem.span and problem.span.cell:
        steps.append(f"column {problem.span.cell}")
    return [f"  in {harmless(' > '.join(steps))}"] if steps else []


def _marked(span: Span, fix: str, source: Callable[[str], list[str] | None]) -> list[str] | None:
    lines = source(span.file)
    if lines is None or not 1 <= span.line <= len(lines):
        return None
    line, start, end = _window(lines[span.line - 1].rstrip("\r\n"), span.column - 1, span.length)
    number = str(span.line)
    blank = " " * width_of(line[:start])
    carets = "^" * max(1, width_of(line[start:end]))
    return [f"  {number} | {line}".rstrip(), f"  {' ' * len(number)} | {blank}{carets} {fix}".rstrip()]


def _window(line: str, start: int, length: int) -> tuple[str, int, int]:
    """The part of a line that fits the screen, and where the marked part begins and ends in it."""
    start = min(max(0, start), len(line))
    end = min(start + max(1, length), len(line))
    first = (
        0 if width_of(line[: WIDEST + 1]) <= WIDEST and len(line) <= WIDEST else max(0, start - _BEFORE_CARET)
    )
    last, columns = first, 0
    while last < min(len(line), first + 4 * WIDEST) and columns + _columns(line[last]) <= WIDEST:
        columns += _columns(line[last])
        last += 1
    head, tail = "…" if first else "", "…" if last < len(line) else ""
    shift = len(head) - first
    shown = head + harmless(line[first:last]) + tail
    return shown, start + shift, min(end, last) + shift


def _visible(sign: str) -> str:
    """The character itself, or one that stands for it."""
    if sign in "\t\n":
        return " "
    if sign in _JOINERS:
        return sign
    if ord(sign) < 32:
        return chr(0x2400 + ord(sign))
    if unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"):
        return "\ufffd"
    return sign


def _columns(sign: str) -> int:
    if unicodedata.category(sign) in ("Mn", "Me") or sign in _JOINERS:
        return 0
    return 2 if unicodedata.east_asian_width(sign) in ("W", "F") else 1
