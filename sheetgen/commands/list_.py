"""list: recipes, drinks, layouts, stocks, papers and languages, one line each."""

from __future__ import annotations

import argparse
from pathlib import Path

from sheetgen import catalogue, clock
from sheetgen.commands import common
from sheetgen.nodes import Entries, Node, Text, kind_of

_KINDS = {
    "recipes": ("recipes", ".yaml"),
    "drinks": ("recipes/drinks", ".yaml"),
    "layouts": ("layouts/documents", ".layout"),
    "stocks": ("layouts/stocks", ".yaml"),
    "papers": ("layouts/papers", ".yaml"),
    "languages": ("layouts/languages", ".yaml"),
}
_SAYS = {
    "recipes": ("recipe-name", "drink", "volume", "about"),
    "drinks": ("target", "pitch", "keeping"),
    "layouts": ("title",),
    "stocks": ("title",),
    "papers": ("title", "width", "height"),
    "languages": ("name",),
}


def run(options: argparse.Namespace) -> int:
    """Print one kind, or all of them under headings."""
    kinds = [options.what] if options.what else list(_KINDS)
    for kind in kinds:
        if len(kinds) > 1:
            common.out(f"{kind}:")
        _print(kind, indent="  " if len(kinds) > 1 else "")
    return common.FINE


def _print(kind: str, indent: str) -> None:
    folder, suffix = _KINDS[kind]
    beside = Path.cwd()
    names = catalogue.names(folder, beside, suffix)
    widest = max((len(name) for name in names), default=0)
    for name in names:
        path = catalogue.find(folder, name, beside, suffix)
        if path and not _is_part(path) and not _is_another(kind, path):
            common.out(f"{indent}{name:<{widest}}  {_about(kind, path)}".rstrip())


def _about(kind: str, path: Path) -> str:
    """What the file says of itself; of a recipe, what a plan of it says."""
    if kind == "recipes":
        from sheetgen.commands import list_recipes

        planned = list_recipes.line_of(path.stem, Path.cwd(), clock.today())
        if planned:
            return planned
    found = _head(path) if path.suffix == ".layout" else catalogue.load(path).node
    if not isinstance(found, Entries):
        return "(this file cannot be read)"
    said = [_text(found.get(key)) for key in _SAYS[kind]]
    if kind == "papers":
        return f"{said[0]}, {said[1]} × {said[2]} mm"
    if kind == "drinks":
        gas = said[0] if _text(found.get("primed")) == "yes" else "still"
        return f"{gas}, yeast in at {said[1]}, keeps as {said[2]}"
    return ", ".join(text for text in said if text)


def _is_part(path: Path) -> bool:
    """Whether this is a piece that layouts share, not a layout: it has no head."""
    text = catalogue.read_text(path)[0]
    return path.suffix == ".layout" and text is not None and not text.startswith("---")


def _is_another(kind: str, path: Path) -> bool:
    """Whether this is a file of another kind, such as a batch beside recipes."""
    found = kind_of(catalogue.load(path).node) if kind == "recipes" else None
    return found not in (None, "recipe")


def _head(path: Path) -> Node | None:
    """The head of a layout file, between two lines of dashes."""
    text, _problems = catalogue.read_text(path)
    parts = (text or "").split("---\n", 2)
    return catalogue.document(parts[1].encode(), path.name).node if len(parts) > 2 else None


def _text(node: Node | None) -> str:
    return " ".join(node.value.split()) if isinstance(node, Text) else ""
