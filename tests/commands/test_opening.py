"""--open: the sheets are handed to the system's opener; without one nothing happens but a sentence."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest

from sheetgen.commands import opening

from .runner import SIX_LINES, Run

pytestmark = pytest.mark.skipif(
    sys.platform in ("win32", "darwin"), reason="openers are found otherwise there"
)


@pytest.fixture
def opener(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Puts an opener in the way, which notes what it is given and ends with this code."""
    place = tmp_path / "programs"
    place.mkdir()
    monkeypatch.setenv("PATH", str(place))
    monkeypatch.setenv("DISPLAY", ":9")

    def installed(name: str = "xdg-open", code: int = 0) -> Path:
        program = place / name
        program.write_text(f'#!/bin/sh\necho "$@" >> "{tmp_path}/opened"\nexit {code}\n')
        program.chmod(0o755)
        return tmp_path / "opened"

    return installed


def test_the_sheets_are_opened_by_the_systems_opener(folder: Path, run: Run, light: None, opener):
    opened = opener()
    assert run("make", "27a.yaml", "--open").err.splitlines()[-1].startswith("note: ")
    assert opened.read_text().split() == [str(folder / "27A/27A-sheets.pdf")]


def test_another_opener_will_do(folder: Path, run: Run, light: None, opener):
    opened = opener("gio")
    assert run("make", "27a.yaml", "--open", "--only", "labels").code == 0
    assert opened.read_text().split() == ["open", str(folder / "27A/27A-labels.pdf")]


def test_without_a_screen_or_an_opener_it_is_said_and_the_set_is_there(
    folder: Path, run: Run, light: None, opener, monkeypatch: pytest.MonkeyPatch
):
    result = run("make", "27a.yaml", "--open")
    assert result.code == 0
    assert "27A/27A-sheets.pdf is not opened: no program for it was found; open it yourself" in result.err
    opened = opener()
    monkeypatch.delenv("DISPLAY")
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert "is not opened" in run("make", "27a.yaml", "--open").err
    assert not opened.exists()


def test_an_opener_that_gives_up_is_said(folder: Path, run: Run, light: None, opener):
    opener(code=4)
    result = run("make", "27a.yaml", "--open")
    assert result.code == 0
    assert "xdg-open gave up on it" in result.err


def test_an_opener_that_is_the_window_itself_is_not_waited_for(
    folder: Path, opener, monkeypatch: pytest.MonkeyPatch
):
    opener()
    sleep = shutil.which("sleep", path=os.defpath)
    (folder / "programs/xdg-open").write_text(f"#!/bin/sh\nexec {sleep} 60\n")
    monkeypatch.setattr(opening, "_PATIENCE_S", 0.05)
    assert opening._opened(Path("27a.yaml")) == ""
    window = opening._STARTED.pop()
    window.kill()
    window.wait()


def test_a_stopped_batch_opens_nothing(folder: Path, run: Run, opener):
    opened = opener()
    (folder / "27a.yaml").write_text(SIX_LINES.replace("19 C", "8 C"))
    assert run("make", "27a.yaml", "--open").code == 1
    assert not opened.exists()


@pytest.mark.parametrize(
    ("made", "opened"),
    [
        (["A/A-sheets.pdf", "A/A-labels.pdf", "A/A-plan.json"], ["A/A-sheets.pdf"]),
        (
            ["c/29A/29A-sheets.pdf", "c/class-29-sheets.pdf", "c/29A/29A-labels.pdf"],
            ["c/class-29-sheets.pdf"],
        ),
        (["A/A-labels.pdf", "A/A-calendar.ics"], ["A/A-labels.pdf"]),
        (["A/A-calendar.ics"], []),
    ],
)
def test_what_all_share_is_what_is_opened(made: list[str], opened: list[str]):
    assert opening._sheets([Path(name) for name in made]) == [Path(name) for name in opened]
