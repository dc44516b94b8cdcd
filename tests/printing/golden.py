"""Pages as words, line by line, held against a file that was looked at when it was written.

The files in tests/golden are rewritten only when the environment says REWRITE_GOLDEN=1.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path

from sheetgen.printing.marks import Page, Words

GOLDEN = Path(__file__).parents[1] / "golden"


def page_text(page: Page) -> str:
    """The words of a page, line by line, one column from the next by a bar."""
    rows: dict[float, list[Words]] = {}
    for mark in page.marks:
        if isinstance(mark, Words):
            rows.setdefault(round(mark.y, 1), []).append(mark)
    lines = [" | ".join(mark.text for mark in sorted(rows[y], key=lambda mark: mark.x)) for y in sorted(rows)]
    return re.sub("[\u00a0\u202f]", " ", "\n".join(lines)) + "\n"


def held_against_golden(name: str, pages: Iterable[Page]) -> None:
    """Fails if the words of the pages are not those of the file of that name."""
    found = "\f".join(page_text(page) for page in pages)
    file = GOLDEN / f"{name}.txt"
    if os.environ.get("REWRITE_GOLDEN") == "1":
        file.write_text(found, encoding="utf-8")
    assert found == file.read_text(encoding="utf-8")
