"""Filled template text to blocks.

Comes in: text in the layout vocabulary, each element stamped with the template and line that wrote it. Goes
out: blocks, and a problem for every unknown element, attribute, place, size or value. Entities, document
types and processing instructions are refused, so nothing in a layout can name a file or an address.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import Field, dataclass, field
from typing import Any
from xml.parsers import expat

from sheetgen.printing.attributes import Attribute
from sheetgen.printing.blocks import PAGE, PAGES, Block, Run
from sheetgen.printing.picture import Pictures, no_pictures
from sheetgen.printing.vocabulary import COLUMNS, EDGES, ELEMENTS, INLINE, ROOTS, SIZES, Element
from sheetgen.problems import Problems, Span, did_you_mean

STAMP = "_at"
MOST_DEPTH = 30
_NUMBER = re.compile(r"-?(\d{1,6}(\.\d{0,9})?|\.\d{1,9})\Z")
_SPACES = re.compile(r"[ \t\r\n]+")
_HELD_WORDS = {"page": PAGE, "pages": PAGES, "br": "\n"}

Where = Callable[[str, str], Span]
"""From a stamp and the words that matter to a place in a layout file."""


@dataclass
class Raw:
    """An element as written."""

    name: str
    said: Mapping[str, str]
    stamp: str
    inside: list[Raw | str] = field(default_factory=list)


class RefusedError(Exception):
    """Something that a layout may never hold."""


class _Reader:
    """Builds raw elements from parser events."""

    def __init__(self) -> None:
        self.root = Raw("layout", {}, "")
        self.open: list[Raw] = [self.root]

    def start(self, name: str, said: dict[str, str]) -> None:
        if len(self.open) > MOST_DEPTH:
            raise RefusedError("the elements are nested too deeply")
        stamp = said.pop(STAMP, self.open[-1].stamp)
        raw = Raw(name, said, stamp)
        if name != "layout":
            self.open[-1].inside.append(raw)
            self.open.append(raw)

    def end(self, name: str) -> None:
        if name != "layout":
            self.open.pop()

    def text(self, data: str) -> None:
        self.open[-1].inside.append(data)

    def last_stamp(self) -> str:
        """The stamp of the element that was being read when reading failed."""
        raw = self.open[-1]
        inner = [item for item in raw.inside if isinstance(item, Raw)]
        return inner[-1].stamp if inner else raw.stamp


def _refuse(what: str) -> Callable[..., None]:
    def handler(*_: object) -> None:
        raise RefusedError(f"{what} is not allowed in a layout")

    return handler


def _parser(reader: _Reader) -> expat.XMLParserType:
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.text
    parser.StartDoctypeDeclHandler = _refuse("a document type")
    parser.EntityDeclHandler = _refuse("an entity")
    parser.ProcessingInstructionHandler = _refuse("a processing instruction")
    return parser


def read(
    text: str, kind: str, where: Where, pictures: Pictures = no_pictures
) -> tuple[tuple[Block, ...], Problems]:
    """The blocks of a filled layout of a kind ("sheets" or "labels"); `where` turns stamps into places, and
    `pictures` opens pictures by the name of the layout's file and their own.
    """
    problems, reader = Problems(), _Reader()
    try:
        _parser(reader).Parse(f"<layout>{text}</layout>", True)
    except expat.ExpatError as error:
        message = f"the elements do not close as they opened: {expat.errors.messages[error.code]}"
        problems.stop(message, where(reader.last_stamp(), ""), "look at the tags near this line")
        return (), problems
    except RefusedError as refused:
        problems.stop(str(refused), where(reader.last_stamp(), ""))
        return (), problems
    builder = _Builder(kind, problems, where, pictures)
    return tuple(builder.children(reader.root, (ROOTS[kind],), "a layout")), problems


class _Builder:
    """Raw elements to blocks, by the table."""

    def __init__(self, kind: str, problems: Problems, where: Where, pictures: Pictures) -> None:
        self._places = EDGES if kind == "labels" else (*EDGES, *COLUMNS)
        self._problems = problems
        self._where = where
        self._pictures = pictures

    def children(self, raw: Raw, allowed: Sequence[str], parent: str) -> list[Block]:
        """The blocks inside an element; anything else there is a problem."""
        made = []
        for item in raw.inside:
            if isinstance(item, str):
                if item.strip():
                    self._problem(raw, f"words cannot stand directly in {parent}: {item.strip()[:40]!r}", "")
            elif item.name not in allowed:
                self._misplaced(item, allowed, parent)
            else:
                made.append(self.block(item))
        return made

    def _misplaced(self, raw: Raw, allowed: Sequence[str], parent: str) -> None:
        if raw.name in ELEMENTS:
            fix = f"{parent} may hold: {', '.join(allowed) or 'nothing'}"
            self._problem(raw, f"<{raw.name}> cannot stand in {parent}", fix)
        else:
            fix = did_you_mean(raw.name, ELEMENTS) or f"{parent} may hold: {', '.join(allowed)}"
            self._problem(raw, f"unknown element <{raw.name}>", fix)

    def _problem(self, raw: Raw, message: str, fix: str, near: str = "") -> None:
        self._problems.stop(message, self._where(raw.stamp, near or f"<{raw.name}"), fix)

    def block(self, raw: Raw) -> Block:
        """One element as its block."""
        element = ELEMENTS[raw.name]
        values: dict[str, Any] = dict(self._values(raw, element))
        values["span"] = self._where(raw.stamp, f"<{raw.name}")
        if element.words:
            values["content"] = tuple(self._runs(raw))
        elif element.children:
            values |= self._inside(raw, element)
        return element.block(**values)

    def _inside(self, raw: Raw, element: Element) -> dict[str, Any]:
        made = self.children(raw, element.children, f"<{raw.name}>")
        classes = {name: ELEMENTS[name].block for name in element.once}
        alone: dict[str, Any] = {}
        for name, block_class in classes.items():
            found = [block for block in made if type(block) is block_class]
            if len(found) > 1:
                self._problem(raw, f"<{raw.name}> may hold one <{name}> only", "")
            alone[name] = found[0] if found else None
        rest = tuple(block for block in made if type(block) not in classes.values())
        return {"content": rest, **alone}

    def _values(self, raw: Raw, element: Element) -> list[tuple[str, object]]:
        known, values = element.attributes, []
        for name, text in raw.said.items():
            if name not in known:
                fix = (
                    did_you_mean(name, known) or f"<{raw.name}> knows: {', '.join(known) or 'no attributes'}"
                )
                self._problem(raw, f"<{raw.name}> has no attribute `{name}`", fix, f"{name}=")
                continue
            item, attribute = known[name]
            values.append((item.name, self._value(raw, name, text.strip(), item, attribute)))
        return values

    def _value(self, raw: Raw, name: str, text: str, item: Field[Any], attribute: Attribute) -> object:
        try:
            if attribute.kind == "picture":
                return self._pictures(self._where(raw.stamp, "<").file, text)
            return self._read(text, attribute)
        except ValueError as error:
            expected, _, fix = str(error).partition("|")
            self._problem(
                raw, f'`{name}="{text[:60]}"` in <{raw.name}>: expected {expected}', fix, f"{name}="
            )
            return item.default

    def _read(self, text: str, attribute: Attribute) -> object:
        """The value of an attribute; raises ValueError("what was expected|what to do")."""
        match attribute.kind:
            case "words":
                return _SPACES.sub(" ", text)
            case "choice":
                return _one_of(text, attribute.choices)
            case "yes-no":
                return _one_of(text, ("yes", "no")) == "yes"
            case "count":
                return _count(text)
            case "x":
                return _place(text, self._places)
            case "size":
                return SIZES[text] if text in SIZES else _size(text)
            case "widths":
                return tuple(_number(part) for part in text.split()[:60]) or (1.0,)
            case "points":
                return tuple(_point(part) for part in text.split())
            case "colour":
                return _colour(text)
        return _number(text)

    def _runs(self, raw: Raw) -> list[Run]:
        """Words and inline elements as runs, with spaces as words are read: one between words, none at the
        ends.
        """
        return _trimmed(list(self._inline(raw, None, False)))

    def _inline(self, raw: Raw, bold: bool | None, strike: bool) -> list[Run]:
        runs = []
        for item in raw.inside:
            if isinstance(item, str):
                runs.append(Run(_SPACES.sub(" ", item), bold, strike))
            elif item.name in _HELD_WORDS:
                runs.append(Run(_HELD_WORDS[item.name], bold, strike))
            elif item.name in INLINE:
                voice = {"b": True, "r": False}.get(item.name, bold)
                runs += self._inline(item, voice, strike or item.name == "s")
            else:
                fix = did_you_mean(item.name, INLINE) or f"inside words: {', '.join(INLINE)}"
                self._problem(item, f"<{item.name}> cannot stand inside words", fix)
        return runs


def _trimmed(runs: list[Run]) -> list[Run]:
    """Runs without space at the start and the end, and without two spaces in a row across runs."""
    kept: list[Run] = []
    for run in runs:
        lead = not kept or kept[-1].words.endswith((" ", "\n"))
        words = run.words.lstrip(" ") if lead else run.words
        if words:
            kept.append(Run(words, run.bold, run.strike))
    while kept and kept[-1].words.endswith(" "):
        last = kept.pop()
        if last.words.rstrip(" "):
            kept.append(Run(last.words.rstrip(" "), last.bold, last.strike))
    return kept


def _colour(text: str) -> str:
    if re.fullmatch(r"#[0-9a-f]{6}", text, re.ASCII):
        return text
    raise ValueError("a colour such as #ab4b00|write # and six of 0-9 and a-f")


def _one_of(text: str, choices: Sequence[str]) -> str:
    if text in choices:
        return text
    raise ValueError(f"one of {', '.join(choices)}|{did_you_mean(text, choices)}")


def _number(text: str) -> float:
    if _NUMBER.match(text):
        return float(text)
    raise ValueError("a plain number such as 12.5|")


def _count(text: str) -> int:
    if text.isascii() and text.isdigit() and len(text) < 5:
        return int(text)
    raise ValueError("a whole number|")


def _size(text: str) -> float:
    if _NUMBER.match(text) and 4 <= float(text) <= 200:
        return float(text)
    raise ValueError(f"a size ({', '.join(SIZES)}) or points from 4 to 200|{did_you_mean(text, SIZES)}")


def _place(text: str, names: Sequence[str]) -> float | str:
    if text in names or (text.endswith("%") and _NUMBER.match(text[:-1])):
        return text
    if _NUMBER.match(text):
        return float(text)
    raise ValueError(
        f"a column ({', '.join(names)}), millimetres or a percentage|{did_you_mean(text, names)}"
    )


def _point(text: str) -> tuple[float, float]:
    first, _, second = text.partition(",")
    return _number(first), _number(second)
