"""The package as people install it: every data file is inside, and it works far from any checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
BATCH = """batch: 27A
recipe: copper-lane-amber
brew-day: 2027-03-06
volume: 12 L
room: 19 C
bottles: {500 ml returnable glass: 26}
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--no-isolation", "--wheel", "--outdir", str(folder), str(ROOT)]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that holds the installed package and nothing else."""
    folder = tmp_path_factory.mktemp("installed")
    pip = [
        sys.executable,
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-deps",
        "--no-index",
        "--disable-pip-version-check",
    ]
    subprocess.run([*pip, "--target", str(folder), str(wheel)], check=True, capture_output=True)
    return folder


def run(installed: Path, cwd: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """The installed program, in a folder without a checkout; its libraries are those of this interpreter."""
    home = {"HOME": str(cwd), "XDG_CONFIG_HOME": str(cwd / "config")}
    environment = {**os.environ, **home, "PYTHONPATH": str(installed), "PYTHONSAFEPATH": "1"}
    command = [sys.executable, "-m", "sheetgen", *arguments]
    return subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, encoding="utf-8")


def test_every_data_file_is_in_the_wheel(wheel: Path):
    held = set(zipfile.ZipFile(wheel).namelist())
    wanted = {
        f"sheetgen/data/{path.relative_to(ROOT)}"
        for folder in ("layouts", "recipes")
        for path in (ROOT / folder).rglob("*")
        if path.is_file()
    }
    assert wanted - held == set()
    assert {"sheetgen/planning/plan.schema.json", "sheetgen/__main__.py"} <= held
    assert not [name for name in held if name.startswith("tests/")]


def test_licences_travel_with_it(wheel: Path):
    names = zipfile.ZipFile(wheel).namelist()
    assert [name for name in names if ".dist-info/licenses/" in name and name.endswith("LICENSE")]


def test_it_makes_a_set_in_an_empty_folder(installed: Path, tmp_path: Path):
    (tmp_path / "27a.yaml").write_text(BATCH)
    done = run(installed, tmp_path, "make", "27a.yaml", "--today", "2027-02-20")
    assert done.returncode == 0, done.stderr
    names = {path.name for path in (tmp_path / "27A").iterdir()}
    assert names == {"27A-sheets.pdf", "27A-labels.pdf", "27A-calendar.ics", "27A-plan.json"}


def test_it_lists_what_it_brought(installed: Path, tmp_path: Path):
    done = run(installed, tmp_path, "list", "recipes")
    assert done.returncode == 0
    assert "copper-lane-amber" in done.stdout


def test_its_own_command_is_there(wheel: Path):
    points = next(name for name in zipfile.ZipFile(wheel).namelist() if name.endswith("entry_points.txt"))
    assert "sheetgen = sheetgen.__main__:main" in zipfile.ZipFile(wheel).read(points).decode()
