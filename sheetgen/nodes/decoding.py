"""From the bytes of a file to its text; refuses other encodings and characters that nobody sees."""

from __future__ import annotations

import re
import unicodedata

from sheetgen.nodes import repairs
from sheetgen.problems import Problem, Span, Suggestion

MAX_BYTES = 1024 * 1024
MOST_FINDINGS = 100
FORBIDDEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe\uffff]"
)


def decoded(data: bytes, name: str) -> tuple[str | None, list[Problem]]:
    """The text with plain line ends; None and a stop when the bytes are not UTF-8."""
    fix = "save the file as UTF-8 text"
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or data[1:2] == b"\0" or data[:1] == b"\0":
        message = "this file is saved as UTF-16 (two bytes for each character) or is not text at all"
        return None, [Problem("stop", message, Span(name, 1, 1), fix)]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        return None, [_not_utf8(data.removeprefix(b"\xef\xbb\xbf"), fault, name, fix)]
    return text.replace("\r\n", "\n").replace("\r", "\n"), []


def _not_utf8(data: bytes, fault: UnicodeDecodeError, name: str, fix: str) -> Problem:
    before = data[: fault.start].decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")
    span = Span(name, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
    likely = data[fault.start : fault.start + 1].decode("cp1252", "ignore")
    meant = f', perhaps "{likely}"' if likely.isprintable() and likely else ""
    return Problem("stop", f"a character here{meant}, is not saved as UTF-8", span, fix)


def forbidden(text: str, name: str) -> list[Problem]:
    """Characters that nobody sees, and tabs: found before anything else, several at once."""
    found: list[Problem] = []
    if not FORBIDDEN.search(text) and "\t" not in text:
        return found
    lines = text.split("\n")
    for number, line in enumerate(lines, 1):
        said = re.sub(r"(^|\s)#.*", "", line)
        unseen = FORBIDDEN.search(line)
        if unseen:
            span = Span(name, number, unseen.start() + 1)
            found.append(
                Problem("stop", invisible_sign(unseen.group()), span, "delete it, and type the text again")
            )
        elif "\t" in said:
            message = "a tab stands here, where only spaces count"
            span = Span(name, number, said.index("\t") + 1)
            fix, whole = "type spaces instead: two for each step inwards", Span(name, number, 1, len(line))
            ways = repairs.without_tabs(lines, number - 1)
            told = tuple(Suggestion(whole, way, len(ways) == 1) for way in ways)
            found.append(Problem("stop", message, span, fix, (), told))
        if len(found) >= MOST_FINDINGS:
            break
    return found


def invisible_sign(sign: str) -> str:
    """What to say about a character that nobody sees."""
    return f"an invisible character (U+{ord(sign):04X}) stands here"


def piled_up(value: str) -> bool:
    """Whether more than 16 combining marks follow one another (sorting them could take minutes)."""
    run = 0
    for sign in "" if value.isascii() else value:
        run = run + 1 if unicodedata.combining(sign) else 0
        if run > 16:
            return True
    return False
