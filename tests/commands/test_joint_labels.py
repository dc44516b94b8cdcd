"""The labels of a season's batches on sheets that they share: whose, where each begins, what is stale."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pypdf
import pytest

from sheetgen import catalogue

from .runner import Run

EXAMPLE = catalogue.our_folder() / "recipes" / "examples" / "season-2028"
TODAY = "2028-01-15"
FEW = ("--only", "labels,discs", "--out", "out")


@pytest.fixture
def season(folder: Path) -> str:
    """The example of a season, in a folder of its own."""
    shutil.copytree(EXAMPLE, folder / "season")
    return "season/season.yaml"


def codes(path: Path) -> list[list[str]]:
    """The codes on each sheet, in their order."""
    return [re.findall(r"\b28[A-C]\b", page.extract_text()) for page in pypdf.PdfReader(path).pages]


def test_each_begins_where_the_last_one_ended(run: Run, folder: Path, season: str):
    result = run("make", season, *FEW, "--joint-labels", "28A,28C", "--start-at", "3", today=TODAY)
    assert result.code == 0, result.err
    (path,) = (folder / "out").glob("season-2028-labels-*.pdf")
    sheets = codes(path)
    assert [len(sheet) for sheet in sheets] == [6, 8, 8, 8, 6]
    assert [code for sheet in sheets for code in sheet] == ["28A"] * 20 + ["28C"] * 16
    assert f"{path.name}  5 pages: 36 labels of 28A, 28C" in result.out
    assert (folder / "out" / "28B-labels.pdf").is_file()


def test_or_each_on_a_new_sheet(run: Run, folder: Path, season: str):
    assert run("make", season, *FEW, "--joint-labels", "all", "--new-sheet", today=TODAY).code == 0
    (path,) = (folder / "out").glob("season-2028-labels-*.pdf")
    assert all(len({*sheet}) == 1 for sheet in codes(path))


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("--joint-labels", "28X"), 'there is no batch "28X"'),
        (("--joint-labels", "all", "--only", "fridge"), "no batch has labels to print now"),
        (("--joint-labels", "28A", "--only", "fridge"), "28A has no labels to print now"),
    ],
)
def test_a_batch_that_is_not_there_or_has_no_labels_writes_nothing(
    run: Run, folder: Path, season: str, given: tuple[str, ...], told: str
):
    result = run("make", season, "--out", "out", *given, today=TODAY)
    assert (result.code, told in result.err) == (2, True)
    assert not (folder / "out").exists()


def test_only_a_season_has_them(run: Run, folder: Path):
    result = run("make", "27a.yaml", "--joint-labels", "all", today="2027-02-20")
    assert (result.code, "is for a season" in result.err) == (2, True)


def test_those_of_an_earlier_printing_are_taken_away(run: Run, folder: Path, season: str):
    """Their days may be others now, and a batch of them may not be labelled any more."""
    assert run("make", season, "--out", "out", "--joint-labels", "all", today=TODAY).code == 0
    assert len([*(folder / "out").glob("season-2028-*-plain-a4.pdf")]) == 2
    result = run("make", season, "--out", "out", today=TODAY)
    assert result.code == 0
    assert not [*(folder / "out").glob("season-2028-*-plain-a4.pdf")]
    assert result.out.count("was taken away: its days may be others now") == 2
