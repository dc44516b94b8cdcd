"""Every command says with --help what it is for, and each of its examples runs as it stands."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from sheetgen import __main__ as program
from sheetgen.commands.examples import EXAMPLES

from .runner import SIX_LINES, Run

RECIPES = Path(__file__).resolve().parents[2] / "recipes/examples"
LINES = [line for lines in EXAMPLES.values() for line in lines]


@pytest.fixture
def prepared(folder: Path) -> Path:
    """A folder with what the examples name."""
    (folder / "27b.yaml").write_text(SIX_LINES.replace("27A", "27B"))
    for name in ("class.yaml", "people.csv", "week-3.csv"):
        shutil.copy(RECIPES / "class-29" / name, folder)
    shutil.copy(RECIPES / "season-2028/season.yaml", folder)
    shutil.copy(RECIPES / "season-2028/28a.yaml", folder)
    return folder


def words_of(line: str) -> list[str]:
    """The words of an example, without the remark behind it, and where the shell is to put the answer."""
    return shlex.split(line.split("   ", maxsplit=1)[0].partition(" > ")[0])


@pytest.mark.parametrize("command", [*program._MODULES, ""])
def test_help_says_what_it_is_for_and_gives_examples(run: Run, command: str):
    out = run(*([command] if command else []), "--help", today="").out
    assert "examples:\n  sheetgen " in out
    assert "show this help message and exit" in out
    assert max(map(len, out.splitlines())) <= 100


@pytest.mark.parametrize("line", dict.fromkeys(LINES))
def test_each_example_in_help_runs(prepared: Path, run: Run, light: None, line: str):
    name, *arguments = words_of(line)
    assert name == "sheetgen"
    if not any(each.endswith(".yaml") for each in arguments) and arguments[0] in ("make", "check", "show"):
        for other in [path for path in prepared.glob("*.yaml") if path.name != "27a.yaml"]:
            other.unlink()
    late = {"class.yaml": "2029-01-10", "season.yaml": "2028-01-02"}
    today = next((day for name, day in late.items() if name in arguments), "2027-02-20")
    if "--readings" in arguments:
        today = "2029-03-30"
    dated = arguments[0] in ("new", "suggest")
    result = run(*arguments, *(["--today", today] if dated else []), today=today)
    assert result.code == 0, result.err
