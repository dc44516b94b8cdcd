"""Without a file named, the only batch, season or class of a folder is meant; else there is a choice."""

from __future__ import annotations

from pathlib import Path

import pytest

from .runner import SIX_LINES, Run

SEASON = "season: 2027\nbatches: [27a.yaml, 27b.yaml]\n"


@pytest.fixture(autouse=True)
def _paper_is_not_drawn(light: None) -> None:
    pass


@pytest.mark.parametrize("command", ["make", "check", "show"])
def test_the_only_batch_is_meant(folder: Path, run: Run, command: str):
    (folder / "my-recipe.yaml").write_text("recipe-name: Mine\n")
    (folder / "notes.yaml").write_text("- milk\n")
    (folder / "broken.yaml").write_text("a: [")
    assert run(command).code == 0
    assert (folder / "27A").exists() == (command == "make")


@pytest.mark.parametrize("command", ["make", "check", "show"])
def test_of_several_each_is_named_as_it_is_typed(folder: Path, run: Run, command: str):
    (folder / "27 b.yml").write_text(SIX_LINES.replace("27A", "27B"))
    result = run(command)
    assert (result.code, result.out) == (2, "")
    assert result.err.splitlines() == [
        "sheetgen: 2 files in this folder could be meant; type one of these:",
        f"  sheetgen {command} '27 b.yml'",
        f"  sheetgen {command} 27a.yaml",
    ]


def test_of_very_many_some_are_named(folder: Path, run: Run):
    for number in range(30):
        (folder / f"{number:02}.yaml").write_text(SIX_LINES)
    lines = run("make").err.splitlines()
    assert len(lines) == 14
    assert lines[-1] == "  … and 19 more"


def test_without_any_it_is_said_how_to_begin(folder: Path, run: Run):
    (folder / "27a.yaml").unlink()
    result = run("make")
    assert result.code == 2
    assert "there is no batch file in this folder; sheetgen new writes one" in result.err


def test_a_season_is_meant_and_not_the_batches_that_it_names(folder: Path, run: Run):
    (folder / "27b.yaml").write_text(SIX_LINES.replace("27A", "27B").replace("03-06", "03-13"))
    (folder / "year.yaml").write_text(SEASON)
    assert run("check").out.startswith("year.yaml: it can be made")


def test_a_class_is_meant_and_not_the_batch_that_it_begins_with(folder: Path, run: Run):
    (folder / "evening.yaml").write_text("class: 27\nbatch-file: 27a.yaml\npeople: [Imke, Jonas]\n")
    assert run("check").out.startswith("evening.yaml: it can be made")
