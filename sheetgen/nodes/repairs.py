"""How a line was probably meant: written again with another beginning, a comma, a colon or a dash.

Comes in: the lines of a file and the number of one of them.  Goes out: lines that may stand in its place, the
likeliest first; lines and columns count from 0.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_NAME_WITHOUT_COLON = re.compile(r"^( *(?:- +)?)([a-z][a-z-]{1,40})(?:\s*[=;]\s*|\s+)(\S.*)$", re.IGNORECASE)
_NAME_ALONE = re.compile(r"^( *(?:- +)?[a-z][a-z-]{1,40})$", re.IGNORECASE)
_NEXT_NAME = re.compile(r"(?<=[^\s,{\[])\s+(?=[A-Za-z][\w-]*: )")
_HELD = re.compile(r"(?<=[{,])(\s*[\w-]+: )([^,{}\[\]\"]*: [^,{}\[\]\"]*)(?=[,}])")
_DASH = re.compile(r"^( *)-(?=[^\s-])")


def indent_of(line: str) -> int:
    """How far in a line begins."""
    return len(line) - len(line.lstrip(" "))


def said_before(lines: Sequence[str], number: int) -> list[str]:
    """The lines above that say something, the nearest first."""
    return [line for line in reversed(lines[:number]) if line.strip() and not line.lstrip().startswith("#")]


def moved(lines: Sequence[str], number: int) -> tuple[str, ...]:
    """The line begun where a line above begins, or below a name that waits for its value: nearest first."""
    line = lines[number]
    above = said_before(lines, number)
    if not above:
        return (line.lstrip(),)
    here = indent_of(line)
    opens = indent_of(above[0]) + 2 if above[0].rstrip().endswith(":") else indent_of(above[0])
    columns = dict.fromkeys([opens, *(indent_of(one) for one in above)])
    nearest = sorted(columns, key=lambda column: abs(column - here))
    return tuple(f"{' ' * column}{line.lstrip()}" for column in nearest if column != here)


def without_tabs(lines: Sequence[str], number: int) -> tuple[str, ...]:
    """The line with spaces for tabs; at its beginning as many as the lines above have."""
    line = lines[number]
    rest = line.lstrip(" \t").replace("\t", " ")
    if "\t" not in line[: len(line) - len(line.lstrip())]:
        return (line.replace("\t", " "),)
    above = said_before(lines, number)
    if not above:
        return (rest,)
    inside = indent_of(above[0]) + (2 if above[0].rstrip().endswith(":") else 0)
    columns = dict.fromkeys([inside, *(indent_of(one) for one in above)])
    return tuple(f"{' ' * column}{rest}" for column in columns)


def with_colon(lines: Sequence[str], number: int) -> tuple[str, ...]:
    """A line that is no name with a value: with its colon, or with its dash where the line above has one."""
    line = lines[number]
    above = said_before(lines, number)
    dashed = above and indent_of(above[0]) == indent_of(line) and above[0].lstrip().startswith("- ")
    ways = [f"{' ' * indent_of(line)}- {line.lstrip()}"] if dashed else []
    found = _NAME_WITHOUT_COLON.match(line)
    if found:
        ways.append(f"{found[1]}{found[2]}: {found[3]}")
    return (*ways, *([f"{line.rstrip()}:"] if _NAME_ALONE.match(line.rstrip()) else []))


def with_comma(line: str) -> tuple[str, ...]:
    """A line in which two entries stand side by side: with a comma between them."""
    ways = dict.fromkeys((_NEXT_NAME.sub(", ", line), _HELD.sub(r'\1"\2"', line)))
    return tuple(way for way in ways if way != line)


def with_space_after_dash(lines: Sequence[str], number: int) -> tuple[str, ...]:
    """A list's line whose dash stands too near."""
    mended = _DASH.sub(r"\1- ", lines[number]) if 0 <= number < len(lines) else ""
    return (mended,) if mended and mended != lines[number] else ()


def without_dash(lines: Sequence[str], number: int) -> tuple[str, ...]:
    """A line with a dash among lines that have none."""
    line, above = lines[number], said_before(lines, number)
    alone = not any(indent_of(one) == indent_of(line) and one.lstrip().startswith("-") for one in above)
    dashed = re.match(r"^( *)- +(?=[a-z-]+: )", line)
    return (dashed[1] + line[dashed.end() :],) if dashed and alone and above else ()
