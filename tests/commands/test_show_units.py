"""What the terminal says is in the units of the batch, and a number never contradicts its verdict."""

from __future__ import annotations

from pathlib import Path

import pytest

from .runner import SIX_LINES, Run

pytestmark = pytest.mark.usefixtures("light")
NARROW = "\u202f"
HOT = SIX_LINES.replace("room: 19 C", "room: 82 F") + "units: us\n"


@pytest.mark.parametrize("command", ["show", "check"])
def test_findings_are_in_the_units_of_the_batch(folder: Path, run: Run, command: str):
    (folder / "27a.yaml").write_text(HOT)
    said = run(command, "27a.yaml").err.replace(NARROW, " ")
    assert "82 °F is over this yeast’s 75.2 °F" in said
    assert "room for 1.6 US gal of water" in said
    assert "°C" not in said


def test_findings_of_a_stopped_file_too(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(HOT.replace("82 F", "100 F"))
    assert "a room of 100 °F is too hot" in run("check", "27a.yaml").err.replace(NARROW, " ")


def test_the_what_ifs_have_the_degrees_of_the_batch(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(HOT)
    out = run("show", "27a.yaml").out
    assert "°C" not in out
    for words in ("at 68 °F", "at 86 °F", "the drink was 5 °F cooler"):
        assert words in out


def test_more_than_the_limit_never_looks_like_the_limit(folder: Path, run: Run):
    """2.8 g in 500 ml at 15 C: 2.451 volumes at most, and 0.55 more with one point to go: 3.001."""
    file = SIX_LINES.replace("19 C", "15 C").replace("returnable", "one-way")
    (folder / "27a.yaml").write_text(file)
    row = next(line for line in run("show", "27a.yaml").out.splitlines() if "one point" in line)
    assert "3.01 volumes" in row
    assert row.endswith("too much")


def test_without_sugar_nothing_is_said_of_its_strength(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(f"{SIX_LINES}carbonation: 0.8 volumes\n")
    assert "that sugar" not in run("show", "27a.yaml").out
    (folder / "27a.yaml").write_text(SIX_LINES)
    assert "without that sugar" in run("show", "27a.yaml").out


def test_sugar_in_bulk_is_not_shown_for_each_bottle_too(folder: Path, run: Run):
    """Who mixes it into the vessel and sees grams for a bottle would give it twice."""
    (folder / "27a.yaml").write_text(f"{SIX_LINES}dosing: in-bulk\n")
    lines = run("show", "27a.yaml").out.splitlines()
    at = lines.index("Sugar")
    row, total = lines[at + 2 : at + 4]
    assert "none: it is in the vessel" in row
    assert "each" not in row
    assert "tsp" not in row
    assert "g of table sugar in all" in total


def test_pieces_are_counted_by_the_bottle_and_said_with_their_weight(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(SIX_LINES + "dosing: pieces\nsugar-piece: 2.9 g\n")
    out = run("show", "27a.yaml").out.replace(NARROW, " ")
    assert "1 piece each" in out
    assert "2.9 g of table sugar" in out
    assert "in all" not in out.split("Pressure")[0].split("\nSugar")[1]


def test_no_pressure_is_under_that_of_the_air(folder: Path, run: Run):
    (folder / "27a.yaml").write_text(SIX_LINES + "carbonation: 0.8 volumes\n")
    assert "-0" not in run("show", "27a.yaml").out.split("\nPressure")[1].split("\n\n")[0]
