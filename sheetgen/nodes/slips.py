"""What people type that YAML reads differently: told from the text alone, in our own sentences.

Comes in: the lines of a file and the place where reading stopped.  Goes out: a `Slip`, which says what to
type, and how the line was probably meant, so that the rest of the file can still be read.  Lines and
columns count from 0.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from sheetgen.nodes import repairs
from sheetgen.records import record

Place = tuple[int, int]

_NO_SPACE_AFTER_COLON = re.compile(r"^([ ]*(?:- +)*)([A-Za-z][\w -]{0,60}):(?=[^\s:/])(.*)$")
_FIRST_COLON = re.compile(r"^[ ]*(?:- +)*[^\s'\"{\[#][^:]*: +")
_SIGNED = re.compile(r"^([ ]*(?:- +)?[A-Za-z][\w-]*: +)([*&]\S.*)$")
_MEANINGS = {
    "@": "is kept for later use by the file format",
    "`": "is kept for later use by the file format",
    "%": "begins an instruction to the program that reads the file",
    "*": "repeats a piece from elsewhere in the file, which is not offered here",
    "&": "names a piece for use elsewhere in the file, which is not offered here",
    "!": "names a kind of value, which is not offered here",
    "|": "begins a text of several lines",
    ">": "begins a text of several lines",
}


@record
class Slip:
    """A slip of the pen: where, what to say, and the line as it was probably meant (None: not known).

    `ways`: the lines that may stand there instead; `sure`: there is no other way to mean it.
    """

    place: Place
    length: int
    message: str
    fix: str
    repaired: str | None = None
    ways: tuple[str, ...] = ()
    sure: bool = False


@record
class _Scene:
    lines: Sequence[str]
    at: Place
    context: Place | None

    def line(self, number: int) -> str:
        return self.lines[number] if 0 <= number < len(self.lines) else ""

    def char(self, place: Place | None) -> str:
        return self.line(place[0])[place[1] : place[1] + 1] if place else ""

    def said_before(self) -> int:
        """The nearest line above that says something."""
        number = min(self.at[0], len(self.lines)) - 1
        while number > 0 and (not self.line(number).strip() or self.line(number).lstrip().startswith("#")):
            number -= 1
        return number


def quoted(text: str) -> str:
    """The text in quotation marks that a file would give back unchanged."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def shortened(text: str, most: int = 40) -> str:
    """The text, cut to so many characters."""
    return text if len(text) <= most else text[: most - 1] + "…"


def begins_with_sign(sign: str, raw: str) -> tuple[str, str]:
    """What to say, and what to type, about a value that begins with a sign that has a meaning of its own."""
    message = f'a value cannot begin with {sign} here: a leading "{sign}" {_MEANINGS[sign]}'
    return message, f"put quotation marks round it: {quoted(shortened(raw))}"


def without_comment(raw: str) -> str:
    """The text of a line before a comment."""
    found = re.search(r"\s#", raw)
    return raw[: found.start()].rstrip() if found else raw.rstrip()


def _value_from(scene: _Scene, place: Place) -> str:
    raw = without_comment(scene.line(place[0])[place[1] :])
    inside = scene.line(place[0])[: place[1]]
    if inside.count("{") + inside.count("[") > inside.count("}") + inside.count("]"):
        raw = re.split(r"[,}\]]", raw, maxsplit=1)[0].rstrip()
    return raw


def _spliced(scene: _Scene, place: Place, raw: str, new: str) -> str:
    line = scene.line(place[0])
    return line[: place[1]] + new + line[place[1] + len(raw) :]


def _leading_sign(scene: _Scene) -> Slip | None:
    place = scene.at if scene.char(scene.at) in ("@", "`", "%") else scene.context
    sign = scene.char(place)
    if place is None or sign not in _MEANINGS:
        return None
    raw = _value_from(scene, place)
    message, fix = begins_with_sign(sign, raw)
    repaired = None if sign in "|>" or place == (0, 0) else _spliced(scene, place, raw, quoted(raw))
    bare = _spliced(scene, place, raw, raw[1:].lstrip())
    return Slip(place, len(raw), message, fix, repaired, (*([repaired] if repaired else []), bare))


def _quote_inside_quotes(scene: _Scene) -> Slip | None:
    number, column = scene.at
    line = scene.line(number)
    before = line[:column].rstrip()
    if not before or before[-1] not in "'\"" or not line[column:].strip():
        return None
    opening = line.rfind(before[-1], 0, len(before) - 1)
    if opening < 0:
        return None
    raw = _value_from(scene, (number, opening))
    inner = raw[1:-1] if raw.endswith(before[-1]) else raw
    fix = f"put the other kind of quotation marks round it, or none: {quoted(shortened(inner))}"
    message = f"the text {shortened(before[opening:])} ends here, but the line goes on"
    whole = _spliced(scene, (number, opening), raw, quoted(inner))
    return Slip((number, opening), len(raw), message, fix, whole, (whole,), True)


def _open_quote(scene: _Scene) -> Slip | None:
    if scene.context is None or scene.char(scene.context) not in ("'", '"'):
        return None
    sign, (number, column) = scene.char(scene.context), scene.context
    if scene.char(scene.at) == "\\":
        fix = "use single quotation marks ('…') for a text with a backslash"
        return Slip(scene.at, 1, 'a backslash has a meaning of its own inside "…"', fix)
    raw = without_comment(scene.line(number)[column:])
    if raw.endswith(sign) and len(raw) > 1 and ": " in raw:
        inner = _spliced(scene, scene.context, raw, raw[1:-1])
        message = "these quotation marks hold a name together with its value"
        return Slip(
            scene.context, len(raw), message, f"write {shortened(raw[1:-1], 60)}", inner, (inner,), True
        )
    fix = f"write {sign}…{sign}, with a mark at both ends, or no marks at all"
    message = f"the quotation mark {sign} that begins here is never closed"
    bare = raw[1:]
    closed, open_ = (_spliced(scene, scene.context, raw, word) for word in (quoted(bare), bare))
    return Slip(scene.context, len(raw), message, fix, closed, (closed, open_))


def _open_bracket(scene: _Scene) -> Slip | None:
    sign = scene.char(scene.context)
    if scene.context is None or sign not in ("{", "["):
        return None
    closing = "}" if sign == "{" else "]"
    if scene.at[0] == scene.context[0] and scene.char(scene.at) == ":":
        fix = "put a comma between two entries, or quotation marks round a text with a colon"
        ways = repairs.with_comma(scene.line(scene.at[0]))
        return Slip(scene.at, 1, f"a second colon for one entry inside {sign} {closing}", fix, None, ways)
    line = without_comment(scene.line(scene.context[0]))
    message = f"the {sign} that begins here has no {closing}"
    fix = f"write {closing} after the last entry"
    if line.endswith(sign) and scene.line(scene.context[0] + 1)[:1] == " ":
        bare = line[:-1].rstrip()
        return Slip(scene.context, 1, message, "take it away: its names stand below it", bare, (bare,))
    ways = (line + closing, *(f"{mended}{closing}" for mended in repairs.with_comma(line)))
    return Slip(scene.context, len(line) - scene.context[1], message, fix, ways[0], ways)


def _extra_bracket(scene: _Scene) -> Slip | None:
    sign = scene.char(scene.at)
    if sign not in ("}", "]"):
        return None
    opening = "{" if sign == "}" else "["
    repaired = _spliced(scene, scene.at, sign, " ")
    return Slip(
        *(scene.at, 1, f"this {sign} closes nothing", f"take it away, or write {opening} before"),
        *(repaired, (repaired,)),
    )


def _no_space(scene: _Scene) -> Slip | None:
    numbers = [scene.context[0]] if scene.context else []
    for number in [*numbers, scene.said_before(), scene.at[0]]:
        found = _NO_SPACE_AFTER_COLON.match(scene.line(number))
        if found:
            lead, name, value = found.groups()
            meant = f"{name}: {value.strip()}"
            length = len(name) + 1 + len(value.rstrip())
            message = "a space is missing after the colon"
            return Slip(
                *((number, len(lead)), length, message, f"write {shortened(meant, 60)}", f"{lead}{meant}"),
                *((f"{lead}{meant}",), True),
            )
    return None


def _second_colon(scene: _Scene) -> Slip | None:
    number, column = scene.at
    found = _FIRST_COLON.match(scene.line(number)[:column])
    if scene.char(scene.at) != ":" or not found:
        return None
    place = (number, found.end())
    raw = without_comment(scene.line(number)[found.end() :])
    message = "this value has a colon in it, which reads as a second name"
    fix = f"put quotation marks round it: {quoted(shortened(raw))}"
    held = _spliced(scene, place, raw, quoted(raw))
    return Slip(place, len(raw), message, fix, held, (held, *_two_lines(scene, place, raw)))


def _two_lines(scene: _Scene, place: Place, raw: str) -> tuple[str, ...]:
    """The line cut before a second name in it; or its value as a map, or with one colon."""
    line = scene.line(place[0])
    second = re.search(r"\s+([a-z][a-z-]*: )", raw)
    cut = re.search(r"\S", line)
    ways = [re.sub(r":\s*:", ":", line)] if re.search(r":\s*:", line) else []
    if second and cut:
        lead = line[: cut.start()]
        ways.append(f"{line[: place[1]]}{raw[: second.start()]}\n{lead}{raw[second.start() :].strip()}")
    if raw.count(": ") == 1 and raw[:1] not in "{[":
        ways.insert(0 if raw[:1].isdigit() else len(ways), _spliced(scene, place, raw, f"{{{raw}}}"))
    return tuple(ways)


def _no_colon(scene: _Scene) -> Slip | None:
    numbers = [scene.context[0]] if scene.context and scene.at[0] > scene.context[0] else []
    for number in [*numbers, scene.said_before()]:
        line = without_comment(scene.line(number))
        if line.strip() and ":" not in line and line.lstrip()[0] not in "-{[":
            start = len(line) - len(line.lstrip())
            message = f'"{shortened(line.strip())}" is neither a name with a value nor part of a list'
            return Slip(
                *((number, start), len(line) - start, message, "write a name, a colon, a space, a value"),
                *(None, repairs.with_colon(scene.lines, number)),
            )
    return None


def _list_on_same_line(scene: _Scene) -> Slip | None:
    if scene.char(scene.at) not in ("-", "?") or not scene.line(scene.at[0])[: scene.at[1]].strip():
        return None
    fix = "write the list on lines of its own, each beginning with a dash, or as [first, second]"
    raw = _value_from(scene, scene.at)
    return Slip(scene.at, len(raw), f'a "{scene.char(scene.at)}" here begins a list after a name', fix)


def _sign_in_value(scene: _Scene) -> Slip | None:
    """A value that begins with a sign of its own meaning, and goes on where such a sign cannot."""
    found = _SIGNED.match(scene.line(scene.at[0]))
    if not found:
        return None
    place, raw = (scene.at[0], found.end(1)), without_comment(found[2])
    message, fix = begins_with_sign(raw[0], raw)
    ways = tuple(_spliced(scene, place, raw, way) for way in (quoted(raw), raw[1:].lstrip()))
    return Slip(place, len(raw), message, fix, ways[0], ways)


def _dash(scene: _Scene) -> Slip | None:
    """A dash without its space, or in front of a name among names that have none."""
    number = scene.said_before()
    near = repairs.with_space_after_dash(scene.lines, number)
    if near:
        start = repairs.indent_of(scene.line(number))
        message = "a space is missing after the dash"
        return Slip((number, start), 1, message, f"write {near[0].strip()[:60]}", near[0], near, True)
    bare = repairs.without_dash(scene.lines, scene.at[0]) if scene.line(scene.at[0]) else ()
    if bare:
        message = "this line has a dash, and the lines that it belongs to have none"
        place = (scene.at[0], repairs.indent_of(scene.line(scene.at[0])))
        return Slip(place, 1, message, f"write {bare[0].strip()[:60]}", bare[0], bare)
    return None


def _indentation(scene: _Scene) -> Slip | None:
    line = scene.line(scene.at[0])
    start = len(line) - len(line.lstrip())
    if not line.strip():
        return None
    above = scene.said_before()
    other = scene.line(above)
    if line.lstrip().startswith(":"):
        return Slip(
            scene.at, 1, "a name is missing before the colon", "write the name, a colon, a space, a value"
        )
    deeper = start > len(other) - len(other.lstrip())
    if deeper:
        message = f"this line begins further in than line {above + 1}, which already has its value"
    else:
        message = "this line does not begin in the same column as the lines that it belongs to"
    fix = "begin lines that belong together in the same column, with spaces"
    ways = repairs.moved(scene.lines, scene.at[0])
    return Slip((scene.at[0], start), len(line.rstrip()) - start, message, fix, None, ways)


_EXPLANATIONS: tuple[Callable[[_Scene], Slip | None], ...] = (
    _leading_sign,
    _quote_inside_quotes,
    _open_quote,
    _open_bracket,
    _extra_bracket,
    _second_colon,
    _no_space,
    _no_colon,
    _sign_in_value,
    _dash,
    _list_on_same_line,
    _indentation,
)


def explain(lines: Sequence[str], at: Place, context: Place | None) -> Slip:
    """The likeliest slip, given where reading stopped and where the piece that was being read began."""
    scene = _Scene(lines, at, context)
    for explanation in _EXPLANATIONS:
        slip = explanation(scene)
        if slip:
            return slip
    place = at if at[0] < len(lines) else (scene.said_before(), 0)
    fix = "write a name, a colon, a space and a value, such as volume: 12 L"
    return Slip(place, 1, "the file cannot be read any further from here", fix)
