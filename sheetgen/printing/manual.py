"""The manual of the layout vocabulary, printed from the vocabulary itself with a sample of each element.

Comes in: what each document's view holds, which blocks its layout has, and a way to open a picture. Goes
out: the manual as sheets, ready to be placed. It is in English, as layouts are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import MISSING
from html import escape
from typing import Any

from sheetgen.printing import markup
from sheetgen.printing.attributes import Attribute
from sheetgen.printing.blocks import PAGE, PAGES, Block
from sheetgen.printing.picture import Pictures
from sheetgen.printing.samples import SAMPLES, START, WHOLE
from sheetgen.printing.vocabulary import COLUMNS, ELEMENTS, INLINE, SIZES, Element
from sheetgen.problems import Problems, Span
from sheetgen.records import record

_NBSP = "\N{NO-BREAK SPACE}"
_SHOWN = 46
_LISTS = "A name with [] is a list: go through it with {% for %}; its entries hold the names below."
_EMPTY = "may be empty"
_CODE, _BRACES = re.compile(r"`([^`]+)`"), re.compile(r"\{%.*?%\}|\{\{.*?\}\}")
_KINDS = {
    "mm": "millimetres",
    "x": "column, edge, mm or %",
    "size": "a size by name, or points",
    "number": "a number",
    "count": "a whole number",
    "yes-no": "yes or no",
    "words": "words",
    "widths": "a number, or widths in mm",
    "points": "x,y x,y ...",
    "picture": "a file's name",
    "colour": "# and six of 0-9, a-f",
}


@record
class Document:
    """One document of ours as the manual lists it: its name, its title, its blocks, its view."""

    name: str
    title: str
    blocks: tuple[str, ...]
    views: tuple[Mapping[str, Any], ...]


def sheets(documents: Sequence[Document], pictures: Pictures) -> tuple[tuple[Block, ...], Problems]:
    """The manual's sheets."""
    text = "".join([_start(), _elements(), *(_names(document) for document in documents)])
    return markup.read(text, "sheets", lambda _stamp, near: Span("manual", 1, 1, max(1, len(near))), pictures)


def _sheet(title: str, body: str) -> str:
    return f"""<sheet title="{escape(title)}" overflow="continue">
  <head><line h="10" size="title" weight="bold"><text>{escape(title)}</text></line><space h="4"/></head>
  <foot><line h="6" size="tiny"><text>sheetgen: the manual of layouts</text>
    <text at="right" align="right">page <page/> of <pages/></text></line></foot>
  {body}</sheet>"""


def _row(cells: Sequence[tuple[float, str]], size: str = "small", bold: bool = False, h: float = 5.2) -> str:
    """A row of words at some places, each ending before the next; the first may be bold."""
    ends = [place - 2 for place, _ in cells[1:]] + [195]
    texts = (
        f'<text at="{place}" to="{end}" weight="{_weight(bold and not index)}">{_bold_code(words)}</text>'
        for index, ((place, words), end) in enumerate(zip(cells, ends, strict=True))
    )
    return f'<line h="{h}" size="{size}">{"".join(texts)}</line>'


def _bold_code(words: str) -> str:
    """Words with what stands between backticks in bold, and braces that are not torn apart."""
    whole = _BRACES.sub(lambda found: found[0].replace(" ", _NBSP), words)
    return _CODE.sub(r"<b>\1</b>", escape(whole))


def _weight(bold: bool) -> str:
    return "bold" if bold else "regular"


def _heading(words: str, size: str = "quantity", h: float = 9) -> str:
    return f'<line h="{h}" size="{size}" weight="bold"><text>{escape(words)}</text></line>'


# The first pages


def _start() -> str:
    told = [part.partition(": ") for part in " ".join(START.split()).split(" | ")]
    rows = (_row([(15, head), (52, said)], "body", bold=True, h=8.5) for head, _, said in told)
    return _sheet("Layouts: how to write one", "".join([*rows, _sizes(), _columns(), _inline()]))


def _sizes() -> str:
    rows = (
        f'<line h="{max(6.0, points * 0.42)}" size="{points}"><text at="52">{name}</text>'
        f'<text at="right" align="right" size="small">{points:g} points</text></line>'
        for name, points in SIZES.items()
        if name != "hero"
    )
    hero = f"hero is {SIZES['hero']:g} points, for the one thing that is read from two metres."
    return f"<group>{_heading('Sizes', h=12)}{''.join(rows)}{_row([(52, hero)])}</group>"


def _columns() -> str:
    said = "Places on every sheet, in millimetres from the left edge of A4. left, middle and right are edges."
    rules = "".join(
        f'<line h="5" size="small"><text at="{place + 1.2}">{name}</text><rule at="{place}" to="{place + 1}"'
        f' drop="0" weight="3"/><text at="right" align="right">{place:g} mm</text></line>'
        for name, place in COLUMNS.items()
    )
    return f"<group>{_heading('Columns', h=12)}{_row([(15, said)])}{rules}</group>"


def _inline() -> str:
    said = {
        "b": "bold",
        "r": "regular, inside bold",
        "s": "struck through: what moved",
        "br": "a new line",
        "page": "the page's number",
        "pages": "the number of pages",
    }
    rows = "".join(_row([(15, f"<{name}>"), (52, said[name])], bold=True) for name in INLINE)
    return f"<group>{_heading('Inside words', h=12)}{rows}</group>"


# One element after another


def _elements() -> str:
    return _sheet("All elements", "".join(_element(name, element) for name, element in ELEMENTS.items()))


def _element(name: str, element: Element) -> str:
    holds = "words" if element.words else ", ".join(element.children) or "nothing"
    rows = [
        '<space h="5"/>',
        _heading(f"<{name}>"),
        _row([(15, element.help)], h=6),
        _row([(15, f"may hold: {holds}")]),
        '<space h="1"/>',
        *(_attribute(key, item.default, said) for key, (item, said) in element.attributes.items()),
    ]
    sample = [_code(SAMPLES[name]), "" if name in WHOLE else _shown(SAMPLES[name])]
    return f"<group>{''.join([*rows, *sample])}</group>"


def _attribute(name: str, default: object, said: Attribute) -> str:
    values = ", ".join(said.choices) if said.choices else _KINDS[said.kind]
    return _row([(15, name), (45, values), (96, _default(default)), (122, said.help)], bold=True)


def _default(value: object) -> str:
    if value is MISSING or value is None or value == "" or value == ():
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return " ".join(f"{part:g}" for part in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _code(sample: str) -> str:
    """A sample as it is written, one line under another."""
    lines = sample.strip("\n").split("\n")
    rows = "".join(
        _row([(20, f"{_NBSP * (len(line) - len(line.lstrip()))}{line.lstrip()}")], "small", h=5.4)
        for line in lines
    )
    return f'<space h="2.5"/>{rows}'


def _shown(sample: str) -> str:
    edge = '<line h="2"><rule dots="yes" drop="0"/></line>'
    return f'<space h="2.5"/>{edge}<space h="2"/>{sample}<space h="3"/>{edge}'


# What the views hold


def _names(document: Document) -> str:
    found: dict[str, tuple[str, str]] = {}
    for view in document.views:
        for path, kind, example in _walked(view, ""):
            if path not in found or not found[path][1]:
                found[path] = (kind if kind != _EMPTY or path not in found else found[path][0], example)
    about = [
        _row(
            [
                (15, "Blocks that a layout which extends it may replace:"),
                (102, ", ".join(document.blocks) or "none"),
            ]
        ),
        _row([(15, _LISTS)]),
        '<space h="3"/>',
    ]
    rows = [
        _row([(15, path), (84, kind), (108, example)], h=4.9, bold=True)
        for path, (kind, example) in found.items()
    ]
    return _sheet(f"{document.name}: {document.title}", "".join([*about, *rows]))


def _walked(value: Any, path: str) -> Iterator[tuple[str, str, str]]:
    """Every name of a view with its kind and an example, in the order of the view."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _walked(inner, f"{path}.{key}" if path else str(key))
    elif isinstance(value, tuple | list):
        yield f"{path}[]", "list", ""
        for inner in value:
            yield from (one for one in _walked(inner, f"{path}[]") if one[0] != f"{path}[]")
            if not isinstance(inner, Mapping | tuple | list):
                yield f"{path}[]", "list of words", _example(inner)
    elif isinstance(value, bool):
        yield path, "yes or no", "yes" if value else "no"
    elif isinstance(value, int | float):
        yield path, "number", f"{value:g}"
    elif value is None:
        yield path, _EMPTY, ""
    else:
        yield path, "words", _example(value)


def _example(value: object) -> str:
    words = str(value or "").replace(PAGE, "1").replace(PAGES, "5")
    return words if len(words) <= _SHOWN else f"{words[: _SHOWN - 1]}…"
