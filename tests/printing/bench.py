"""What the printing tests share: papers, stocks, and layouts written on the spot."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from sheetgen.printing import draw, layout, paper, stock
from sheetgen.printing.picture import Pictures, no_pictures
from sheetgen.problems import Problems

LAYOUTS = Path(__file__).resolve().parents[2] / "layouts"
HEAD = "---\nlayout: page\nkind: {kind}\n---\n"
Filled = tuple[tuple[Any, ...], Problems]


def the_paper(name: str) -> paper.Paper:
    file = LAYOUTS / "papers" / f"{name}.yaml"
    read, problems = paper.read(file.read_bytes(), file.name)
    assert read is not None, [*problems]
    return read


def paper_sizes() -> dict[str, tuple[float, float]]:
    return {name: (the_paper(name).width, the_paper(name).height) for name in ("a4", "letter")}


def the_stock(name: str) -> stock.Stock:
    file = LAYOUTS / "stocks" / f"{name}.yaml"
    read, problems = stock.read(file.read_bytes(), file.name, paper_sizes())
    assert read is not None, [*problems]
    return read


def stock_names() -> list[str]:
    return sorted(file.stem for file in (LAYOUTS / "stocks").glob("*.yaml"))


def fill(
    body: str,
    view: Mapping[str, Any] | None = None,
    kind: str = "sheets",
    parts: Mapping[str, str] | None = None,
    pictures: Pictures = no_pictures,
) -> Filled:
    """Blocks and problems of a layout whose body begins on line 5."""

    def find(name: str) -> tuple[str, bytes] | None:
        return (f"{name}.layout", parts[name].encode()) if parts and name in parts else None

    read, problems = layout.read("page.layout", (HEAD.format(kind=kind) + body).encode(), find)
    return layout.fill(read, view or {}, pictures) if read is not None else ((), problems)


def blocks(body: str, view: Mapping[str, Any] | None = None, kind: str = "sheets") -> tuple[Any, ...]:
    """Blocks of a layout that must be right."""
    made, problems = fill(body, view, kind)
    assert not len(problems), [*problems]
    return made


def only(problems: Problems) -> str:
    """The one problem, as `file:line message | fix`."""
    found = [*problems]
    assert len(found) == 1, found
    assert found[0].span is not None
    return f"{found[0].span.file}:{found[0].span.line} {found[0].message} | {found[0].fix}"


INFO = draw.Info("27A Third Thwart Amber", "en-GB", "Sheets of batch 27A", date(2027, 3, 10))
A4, LETTER = the_paper("a4"), the_paper("letter")
