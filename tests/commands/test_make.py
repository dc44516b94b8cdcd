"""make: what is written, what is said, and that nothing is written when anything is wrong."""

from __future__ import annotations

import dataclasses
import errno
import json
from pathlib import Path

import pytest

from sheetgen.commands import make, writing
from sheetgen.planning.plan import Safety
from sheetgen.problems import said

from .runner import SIX_LINES, STOPPED, Run

NAMES = ["27A-calendar.ics", "27A-labels.pdf", "27A-plan.json", "27A-sheets.pdf"]
pytestmark = pytest.mark.usefixtures("light")


def held(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_the_whole_set_goes_into_a_folder_named_after_the_batch(folder: Path, run: Run):
    assert run("make", "27a.yaml").code == 0
    assert names_in(folder / "27A") == NAMES


def test_results_name_every_file_and_end_with_what_to_print(folder: Path, run: Run):
    lines = run("make", "27a.yaml").out.splitlines()
    assert lines[0] == "27A/27A-sheets.pdf    5 pages: fridge, shop, brew, bottling, timeline"
    assert lines[1] == "27A/27A-labels.pdf    2 pages: 24 labels, 24 discs"
    assert lines[3] == "27A/27A-plan.json     the plan, for other programs"
    assert (
        lines[-1]
        == "Print page 1 now, pages 2–5 before brew day (Sat 6 March) and the labels on bottling day."
    )
    assert len(lines) == 5


def test_problems_go_to_stderr_and_results_to_stdout(run: Run):
    result = run("make", "27a.yaml")
    assert "note: " not in result.out
    assert "[equipment.pot]" in result.err
    assert "27A/27A" not in result.err


def test_a_stop_writes_nothing_and_leaves_an_existing_set_byte_for_byte(folder: Path, run: Run):
    assert run("make", "27a.yaml").code == 0
    before = held(folder / "27A")
    (folder / "27a.yaml").write_text(STOPPED)
    result = run("make", "27a.yaml")
    assert result.code == 1
    assert result.out == ""
    assert "stop: " in result.err
    assert result.err.rstrip().endswith("nothing was written")
    assert held(folder / "27A") == before


def test_a_stop_makes_no_folder(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(STOPPED)
    assert run("make", "27a.yaml").code == 1
    assert names_in(folder) == ["27a.yaml"]


def test_one_bad_file_among_good_ones_stops_them_all(folder: Path, run: Run):
    (folder / "27b.yaml").write_text(STOPPED.replace("27A", "27B"))
    result = run("make", "27a.yaml", "27b.yaml")
    assert result.code == 1
    assert not (folder / "27A").exists()
    assert "27b.yaml:5:" in result.err


def test_several_files_each_get_their_folder(folder: Path, run: Run):
    (folder / "27b.yaml").write_text(SIX_LINES.replace("27A", "27B"))
    assert run("make", "27a.yaml", "27b.yaml").code == 0
    assert (folder / "27A/27A-sheets.pdf").exists()
    assert (folder / "27B/27B-sheets.pdf").exists()


def test_two_files_with_one_code_are_refused(folder: Path, run: Run):
    (folder / "other.yaml").write_text(SIX_LINES)
    result = run("make", "27a.yaml", "other.yaml")
    assert result.code == 1
    assert "27a.yaml and other.yaml are both batch 27A" in result.err
    assert not (folder / "27A").exists()


def test_out_is_the_only_place_that_is_written_to(folder: Path, run: Run):
    assert run("make", "27a.yaml", "--out", "some/where").code == 0
    assert names_in(folder) == ["27a.yaml", "some"]
    assert names_in(folder / "some/where") == NAMES


@pytest.mark.parametrize(
    ("only", "names"),
    [
        ("fridge", ["27A-sheets.pdf"]),
        ("labels", ["27A-labels.pdf"]),
        ("discs,plan", ["27A-labels.pdf", "27A-plan.json"]),
        ("Calendar", ["27A-calendar.ics"]),
    ],
)
def test_only_some_parts(folder: Path, run: Run, only: str, names: list[str]):
    assert run("make", "27a.yaml", "--only", only).code == 0
    assert names_in(folder / "27A") == names


def test_an_unknown_part_is_wrong_use(folder: Path, run: Run):
    result = run("make", "27a.yaml", "--only", "frigde")
    assert (result.code, result.out) == (2, "")
    assert 'there is no part "frigde"; did you mean "fridge"?' in result.err
    assert not (folder / "27A").exists()


def test_a_second_run_replaces_our_own_files(folder: Path, run: Run):
    assert run("make", "27a.yaml").code == 0
    first = held(folder / "27A")
    assert run("make", "27a.yaml").code == 0
    assert held(folder / "27A") == first


@pytest.mark.parametrize("name", NAMES)
def test_somebody_elses_file_is_left_alone_and_stops_the_rest(folder: Path, run: Run, name: str):
    (folder / "27A").mkdir()
    (folder / "27A" / name).write_text("my own notes")
    result = run("make", "27a.yaml")
    assert result.code == 2
    assert f"27A/{name} was not written by this program" in result.err
    assert held(folder / "27A") == {name: b"my own notes"}


def test_force_overwrites_it(folder: Path, run: Run):
    (folder / "27A").mkdir()
    (folder / "27A/27A-plan.json").write_text("my own notes")
    assert run("make", "27a.yaml", "--force").code == 0
    assert json.loads((folder / "27A/27A-plan.json").read_text())["format"] == "sheetgen-plan"


def test_a_folder_in_the_place_of_a_file_is_a_sentence_even_with_force(folder: Path, run: Run):
    (folder / "27A/27A-plan.json").mkdir(parents=True)
    result = run("make", "27a.yaml", "--force")
    assert result.code == 2
    assert "nothing was written: " in result.err
    assert names_in(folder / "27A") == ["27A-plan.json"]


def test_other_files_in_the_folder_stay(folder: Path, run: Run):
    (folder / "27A").mkdir()
    (folder / "27A/photo.jpg").write_bytes(b"a photo")
    assert run("make", "27a.yaml").code == 0
    assert (folder / "27A/photo.jpg").read_bytes() == b"a photo"


def test_a_full_disk_is_a_sentence(folder: Path, run: Run, monkeypatch: pytest.MonkeyPatch):
    def full(*_args):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(writing.os, "fsync", full)
    result = run("make", "27a.yaml")
    assert result.code == 2
    assert "nothing was written: No space left on device" in result.err
    assert not (folder / "27A").exists()


def test_a_folder_that_cannot_be_written_to_is_a_sentence(run: Run, monkeypatch: pytest.MonkeyPatch):
    def refused(path, *_args):
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    monkeypatch.setattr(writing.os, "open", refused)
    result = run("make", "27a.yaml")
    assert result.code == 2
    assert result.err.splitlines()[-1] == "sheetgen: nothing was written: 27A: Permission denied"


def test_a_file_in_the_place_of_the_folder_is_a_sentence(folder: Path, run: Run):
    (folder / "27A").write_text("mine")
    result = run("make", "27a.yaml")
    assert result.code == 2
    assert (folder / "27A").read_text() == "mine"


def _planned(monkeypatch: pytest.MonkeyPatch, **changes):
    """Make every plan come out with these changes."""
    real = make.common.load

    def load(*args):
        loaded = real(*args)
        return dataclasses.replace(loaded, plan=dataclasses.replace(loaded.plan, **changes))

    monkeypatch.setattr(make.common, "load", load)


def test_when_labels_are_forbidden_our_older_ones_go(folder: Path, run: Run, monkeypatch: pytest.MonkeyPatch):
    assert run("make", "27a.yaml").code == 0
    safety = Safety((said("gate.not-enough"),), ("burst",))
    _planned(monkeypatch, safety=safety)
    result = run("make", "27a.yaml")
    assert result.code == 0
    assert not (folder / "27A/27A-labels.pdf").exists()
    assert "27A-labels.pdf was taken away" in result.out
    assert result.out.splitlines()[-1].startswith("Print this page now")


def test_somebody_elses_labels_are_not_taken_away(folder: Path, run: Run, monkeypatch: pytest.MonkeyPatch):
    (folder / "27A").mkdir()
    (folder / "27A/27A-labels.pdf").write_text("mine")
    _planned(monkeypatch, safety=Safety((), ()))
    assert run("make", "27a.yaml").code == 0
    assert (folder / "27A/27A-labels.pdf").read_text() == "mine"


def test_labels_alone_of_a_batch_that_may_not_have_any_is_a_sentence(
    run: Run, monkeypatch: pytest.MonkeyPatch
):
    real = make.common.load

    def load(*args):
        loaded = real(*args)
        labels = dataclasses.replace(loaded.plan.labels, allowed=False)
        return dataclasses.replace(loaded, plan=dataclasses.replace(loaded.plan, labels=labels))

    monkeypatch.setattr(make.common, "load", load)
    result = run("make", "27a.yaml", "--only", "labels")
    assert result.code == 2
    assert "nothing to write" in result.err


@pytest.mark.parametrize(
    ("numbers", "text"),
    [
        ([1], "page 1"),
        ([2, 3, 4], "pages 2–4"),
        ([2, 3, 5], "pages 2–3 and 5"),
        ([1, 3, 5], "pages 1, 3 and 5"),
    ],
)
def test_page_numbers_in_words(numbers: list[int], text: str):
    assert make._range(numbers) == text


ACTUAL = """actual:
  brewed: 2027-03-06
  og: 1.042 at 24 C
  readings: [{on: 2027-03-17, sg: 1.012 at 18 C}, {on: 2027-03-20, sg: 1.012 at 19 C}]
"""
FILLED = "  bottled: {on: 2027-03-27, litres: 11.0, bottles: {500 ml: 22}}\n"


@pytest.mark.parametrize(
    ("more", "today", "last"),
    [
        (
            ACTUAL,
            "2027-03-20",
            "1 and 5 now, page 4 before bottling day (Sat 20 March) and the labels on bottling day",
        ),
        (ACTUAL + FILLED, "2027-03-27", "1 and 5 now and the labels now"),
    ],
    ids=["brewed", "bottled"],
)
def test_the_last_line_asks_only_for_what_is_still_needed(
    folder: Path, run: Run, more: str, today: str, last: str
):
    (folder / "27a.yaml").write_text(SIX_LINES + more)
    result = run("make", "27a.yaml", today=today)
    assert result.code == 0, result.err
    assert result.out.splitlines()[-1] == f"Print pages {last}."
