"""The closed vocabulary of layouts, as one table: which elements there are, where each stands, what it says.

Comes in: the block classes. Goes out: `ELEMENTS`, the named sizes and columns, and `reference()`, the
vocabulary as text. The attributes of an element are read from its class, so the table cannot drift from the
tree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, Field, fields
from functools import cached_property
from types import MappingProxyType
from typing import Any

from sheetgen.printing import blocks
from sheetgen.printing.attributes import Attribute
from sheetgen.printing.blocks import Block
from sheetgen.printing.edge import Edge
from sheetgen.printing.picture import Picture
from sheetgen.printing.swatch import Swatch
from sheetgen.records import record

SIZES: Mapping[str, float] = MappingProxyType(
    {
        "hero": 66.0,
        "action": 44.0,
        "title": 28.0,
        "quantity": 18.0,
        "body": 13.5,
        "small": 10.5,
        "tiny": 8.0,
    }
)
"""Type sizes in points; leading follows from the size (see `leading`)."""

COLUMNS: Mapping[str, float] = MappingProxyType(
    {
        "ticks": 15.0,
        "dates": 25.0,
        "words": 60.0,
        "verbs": 90.0,
        "notes": 135.0,
        "numbers": 150.0,
        "quantity": 166.0,
    }
)
"""Columns of a sheet in millimetres from the left edge of A4; `left`, `middle` and `right` exist everywhere.
"""

EDGES = ("left", "middle", "right")
INLINE = ("b", "r", "s", "br", "page", "pages")
"""Inside words: bold, regular, struck through, a forced break, the page's number, the number of pages."""

_LEADING = {8.0: 4.0, 10.5: 5.2, 13.5: 5.6, 18.0: 7.5, 28.0: 11.0}


def leading(size: float) -> float:
    """Distance in millimetres between the baselines of wrapped words of a size in points."""
    return _LEADING.get(size, round(size * 0.42, 2))


Attributes = Mapping[str, tuple[Field[Any], Attribute]]


@record
class Element:
    """One element: its class, the names that may stand inside, and whether words may."""

    block: type[Block]
    children: tuple[str, ...] = ()
    words: bool = False
    once: tuple[str, ...] = ()

    @property
    def help(self) -> str:
        """What the element is for: its class's own sentence."""
        return (self.block.__doc__ or "").strip()

    @cached_property
    def attributes(self) -> Attributes:
        """Attribute name as written in a layout to its field and description."""
        described = ((item, item.metadata.get("attribute")) for item in fields(self.block))
        return MappingProxyType(
            {item.name.replace("_", "-"): (item, said) for item, said in described if said}
        )


_ITEMS = ("text", "number", "date", "tick", "blank", "rule", "track", "code", "picture", "swatch")
_FLOW = ("line", "space", "group", "frame", "columns", "lanes", "track", "cells", "chart")

ELEMENTS: Mapping[str, Element] = MappingProxyType(
    {
        "sheet": Element(blocks.Sheet, ("head", "foot", *_FLOW, "edge"), once=("head", "foot")),
        "head": Element(blocks.Head, _FLOW),
        "foot": Element(blocks.Foot, _FLOW),
        "edge": Element(Edge),
        "line": Element(blocks.Line, _ITEMS),
        "space": Element(blocks.Space),
        "group": Element(blocks.Group, _FLOW),
        "frame": Element(blocks.Frame, _FLOW),
        "columns": Element(blocks.Columns, ("column",)),
        "column": Element(blocks.Column, _FLOW),
        "lanes": Element(blocks.Lanes, ("line", "space", "bar", "mark")),
        "text": Element(blocks.Text, words=True),
        "number": Element(blocks.Number),
        "date": Element(blocks.Date),
        "tick": Element(blocks.Tick),
        "blank": Element(blocks.Blank),
        "rule": Element(blocks.Rule),
        "code": Element(blocks.Code),
        "picture": Element(Picture),
        "swatch": Element(Swatch),
        "track": Element(blocks.Track, ("bar", "mark", "label")),
        "bar": Element(blocks.Bar),
        "mark": Element(blocks.Mark),
        "label": Element(blocks.Label, words=True),
        "cells": Element(blocks.Cells, ("cell", "ribbon")),
        "cell": Element(blocks.Cell, ("line", "space")),
        "ribbon": Element(blocks.Ribbon),
        "chart": Element(blocks.Chart, ("curve", "note", "patch", "cross")),
        "curve": Element(blocks.Curve),
        "note": Element(blocks.Note, words=True),
        "patch": Element(blocks.Patch),
        "cross": Element(blocks.Cross),
        "sticker": Element(blocks.Sticker, _FLOW),
    }
)

ROOTS: Mapping[str, str] = MappingProxyType({"sheets": "sheet", "labels": "sticker"})
"""What a layout of each kind is made of."""


def _attribute_line(name: str, item: Field[Any], attribute: Attribute) -> str:
    shown = "none" if item.default is MISSING or item.default is None else item.default
    if isinstance(shown, bool):
        shown = "yes" if shown else "no"
    choices = f" ({', '.join(attribute.choices)})" if attribute.choices else ""
    return f"    {name} = {attribute.kind}{choices}, default {shown}: {attribute.help}"


def _element_lines(name: str, element: Element) -> list[str]:
    inside = "words" if element.words else ", ".join(element.children) or "nothing"
    heading = [f"<{name}>  {element.help}", f"    may hold: {inside}"]
    return heading + [_attribute_line(key, *pair) for key, pair in element.attributes.items()]


def reference() -> str:
    """The whole vocabulary as text, one element after another."""
    return (
        "\n".join(line for name, element in ELEMENTS.items() for line in _element_lines(name, element)) + "\n"
    )
