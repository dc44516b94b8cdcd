"""The two bundled faces: their files, widths, missing characters.

Comes in: the font folder shipped with the program. Goes out: widths in millimetres, from a small table so
that labels can be measured without opening a face.
"""

from __future__ import annotations

import json
from functools import cache, lru_cache
from pathlib import Path

from sheetgen.printing.blocks import PAGE, PAGES
from sheetgen.problems import Problem

MM_PER_POINT = 25.4 / 72
REGULAR, BOLD = "Sheet-Regular", "Sheet-Bold"
FILES = {REGULAR: "NotoSans-SemiCondensed.ttf", BOLD: "NotoSans-SemiCondensedBold.ttf"}
WIDTHS = "widths.json"
CAP_HEIGHT, DESCENT = 0.714, 0.215
_UNKNOWN = (600, 600)
_PACKAGE = Path(__file__).resolve().parent.parent
_FOLDERS = (
    _PACKAGE / "data" / "layouts" / "fonts",
    _PACKAGE / "data" / "fonts",
    _PACKAGE.parent / "layouts" / "fonts",
)


@cache
def folder() -> Path:
    """Where the faces are: inside an installed package, or in a checkout."""
    return next((place for place in _FOLDERS if (place / WIDTHS).is_file()), _FOLDERS[-1])


def trouble() -> Problem | None:
    """A stop if a face or the table of widths is missing or damaged, else None."""
    for name in (WIDTHS, *FILES.values()):
        path = folder() / name
        if not path.is_file() or path.stat().st_size < 10_000:
            return Problem(
                "stop", f"the font file {name} is missing or damaged", fix="install the program again"
            )
    return None


@cache
def _table() -> dict[str, tuple[int, int]]:
    try:
        read = json.loads((folder() / WIDTHS).read_text(encoding="ascii"))
    except (OSError, ValueError):
        return {}
    table = {chr(int(code, 16)): (int(pair[0]), int(pair[1])) for code, pair in read.items()}
    return table | {PAGE: table.get("0", _UNKNOWN), PAGES: table.get("0", _UNKNOWN)}


@lru_cache(maxsize=20_000)
def _thousandths(text: str, bold: bool) -> int:
    table, face = _table(), int(bold)
    return sum(table.get(character, _UNKNOWN)[face] for character in text)


def width_mm(text: str, size: float, bold: bool = False) -> float:
    """Width in millimetres of words set at a size in points."""
    return _thousandths(text, bold) * size / 1000 * MM_PER_POINT


def cap_mm(size: float) -> float:
    """Height in millimetres of the capitals at a size in points."""
    return CAP_HEIGHT * size * MM_PER_POINT


def descent_mm(size: float) -> float:
    """Depth in millimetres of a g under the baseline at a size in points."""
    return DESCENT * size * MM_PER_POINT


def missing(text: str) -> list[str]:
    """The characters of a text that neither face has, each once, in order."""
    table = _table()
    return sorted({character for character in text if character not in table})
