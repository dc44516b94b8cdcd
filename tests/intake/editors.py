"""Files as an editor's schema sees them: numbers and truths are such, days are texts, no name twice."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any, ClassVar

import yaml
from jsonschema import Draft202012Validator

from sheetgen.intake import schema


class _Editor(yaml.BaseLoader):
    """YAML as its core schema has it: plain days and yes and no are texts."""

    yaml_implicit_resolvers: ClassVar[dict[str, list[tuple[str, re.Pattern[str]]]]] = {}


for _tag, _pattern, _first in (
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+", list("-+0123456789")),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", list("-+.0123456789")),
):
    _Editor.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(rf"(?:{_pattern})\Z"), _first)

_Editor.add_constructor("tag:yaml.org,2002:null", lambda _loader, _node: None)
_Editor.add_constructor("tag:yaml.org,2002:bool", lambda _loader, node: node.value.lower() == "true")
_Editor.add_constructor("tag:yaml.org,2002:int", lambda _loader, node: int(node.value))
_Editor.add_constructor("tag:yaml.org,2002:float", lambda _loader, node: float(node.value))


def seen(text: str) -> Any:
    """The values of a file, as an editor has them."""
    return yaml.load(text, _Editor)


def as_text(text: str) -> Any:
    """The values of a file to a program that reads all of them as text."""
    return yaml.load(text, yaml.BaseLoader)


@cache
def _validator(kind: str, beside: Path | None) -> Draft202012Validator:
    return Draft202012Validator(schema.schema_of(kind, beside))


def refused(text: str, kind: str = "batch", beside: Path | None = None) -> list[str]:
    """What the schema has against a file, as an editor sees it; [] if it lets it pass."""
    return told(seen(text), kind, beside)


def told(values: Any, kind: str = "batch", beside: Path | None = None) -> list[str]:
    """What the schema has against these values."""
    found = _validator(kind, beside).iter_errors(values)
    return [f"{'/'.join(map(str, one.path))}: {one.message[:160]}" for one in found]
