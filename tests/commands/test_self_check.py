"""self-check: what is wrong with a computer is said with what to do; a good one is ready."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from importlib import metadata
from pathlib import Path

import pytest

from sheetgen.commands import self_check
from sheetgen.commands.self_check import Finding, Here

from .runner import Run


def here(folder: Path, today: str = "2027-02-20", zone: str = "CET", **environment: str) -> Here:
    return Here(date.fromisoformat(today), zone, environment, folder)


def one(look: Callable, *of: object) -> Finding:
    (found,) = look(*of)
    return found


def test_a_good_computer_is_ready(run: Run, folder: Path):
    result = run("self-check", "--today", "2027-02-20")
    assert (result.code, result.err) == (0, "")
    lines = result.out.splitlines()
    assert lines[-1] == "Ready to make."
    assert {line.split()[0] for line in lines[:-2] if line[0] != " "} <= {"good", "look"}
    assert [path.name for path in folder.iterdir()] == ["27a.yaml"]


def test_what_is_wrong_gives_exit_code_1_and_says_what_to_do(run: Run):
    result = run("self-check", "--today", "2020-02-20")
    assert result.code == 1
    assert (
        "wrong  the clock says Thursday 20 February 2020, before this program was made\n       set the clock"
        in result.out
    )
    assert result.out.splitlines()[-1] == "1 thing to mend before anything is made"


@pytest.mark.parametrize(
    ("today", "zone", "verdict"),
    [
        ("2027-02-20", "CET", "good"),
        ("2027-02-20", "", "look"),
        ("2040-01-01", "CET", "look"),
        ("1970-01-01", "", "wrong"),
    ],
)
def test_a_wrong_clock_is_seen(folder: Path, today: str, zone: str, verdict: str):
    assert one(self_check._time, here(folder, today, zone)).verdict == verdict


@pytest.mark.parametrize(
    ("environment", "verdict"),
    [
        ({"LANG": "en_US.UTF-8"}, "look"),
        ({"LANG": "en_US.UTF-8", "LC_PAPER": "de_DE.UTF-8"}, "good"),
        ({"LANG": "de_AT.UTF-8"}, "good"),
        ({"LANG": "C"}, "good"),
        ({}, "good"),
    ],
)
def test_where_letter_is_usual_it_is_said(folder: Path, environment: dict[str, str], verdict: str):
    assert one(self_check._paper, here(folder, **environment)).verdict == verdict


def test_a_folder_that_cannot_be_written_is_wrong(folder: Path):
    assert one(self_check._rights, here(folder)).verdict == "good"
    found = one(self_check._rights, here(folder / "nowhere"))
    assert found.verdict == "wrong"
    assert found.todo == "go to a folder of your own, or use --out"


def test_a_broken_recipe_of_ones_own_is_named(folder: Path):
    (folder / "recipes").mkdir()
    (folder / "recipes/mine.yaml").write_text("recipe-name: Mine\n")
    first, second = self_check._data(here(folder))
    assert (first.verdict, second.verdict) == ("look", "good")
    assert "the recipe mine cannot be used" in first.what


def test_a_missing_face_is_wrong(folder: Path, monkeypatch: pytest.MonkeyPatch):
    from sheetgen.printing import fonts

    monkeypatch.setattr(fonts, "folder", lambda: folder)
    found = one(self_check._faces, here(folder))
    assert (found.verdict, found.todo) == ("wrong", "install the program again")


@pytest.mark.parametrize(
    ("version", "limits", "fits"),
    [
        ("3.1.6", ">=3.1.6,<4", True),
        ("3.1.10", ">=3.1.6,<4", True),
        ("4.0", ">=3.1.6,<4", False),
        ("4", "<4", False),
        ("3.1.5", "<4,>=3.1.6", False),
        ("5.1rc1", ">=5.1", True),
        ("6.0.2", "", True),
    ],
)
def test_versions_are_compared_as_numbers(version: str, limits: str, fits: bool):
    assert self_check._within(version, limits) == fits


def test_libraries_that_are_missing_or_too_old_are_wrong(folder: Path, monkeypatch: pytest.MonkeyPatch):
    needed = ["reportlab<6,>=5.1", "jinja2>=99", "surely-not-there>=1", "pytest>=1; extra == 'test'"]
    monkeypatch.setattr(metadata, "requires", lambda _name: needed)
    found = [*self_check._libraries(here(folder))]
    assert [each.verdict for each in found] == ["wrong", "wrong", "good"]
    assert found[1].todo == "pip install 'surely-not-there>=1'"
