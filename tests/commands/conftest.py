"""A batch file, a program run in its folder, and paper that is not really drawn."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.__main__ import main
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Page
from sheetgen.printing.set import Drawn, Laid, Part
from sheetgen.problems import Problems

from .runner import SIX_LINES, Result, Run

PAGE = Page(210.0, 297.0, (), "a page")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to be in, with one batch file; the person has no files of their own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "nobody"))
    (tmp_path / "27a.yaml").write_text(SIX_LINES)
    return tmp_path


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the program as on 20 February 2027."""

    def program(*arguments: str, today: str = "2027-02-20") -> Result:
        dated = arguments and arguments[0] in ("make", "check", "show")
        code = main([*arguments, *(["--today", today] if dated and today else [])])
        captured = capsys.readouterr()
        return Result(code, captured.out, captured.err)

    return program


@pytest.fixture
def light(monkeypatch: pytest.MonkeyPatch) -> None:
    """Documents without drawing: one page for each, and bytes that say so."""

    def lay_out(plan, words, beside=None, only=()):
        names = printed_set.documents_of(plan, only)
        sheets = tuple(Part(name, (PAGE,)) for name in names if name not in printed_set.LABELS)
        labels = tuple(Part(name, (PAGE,), 24) for name in names if name in printed_set.LABELS)
        return Laid(sheets, labels, Problems())

    def draw(laid, plan):
        def mark(parts):
            return (
                b"%PDF /Producer (sheetgen) " + ",".join(part.name for part in parts).encode()
                if parts
                else None
            )

        return Drawn(mark(laid.sheets), mark(laid.labels))

    monkeypatch.setattr(printed_set, "lay_out", lay_out)
    monkeypatch.setattr(printed_set, "draw", draw)
