"""README and DEVELOPERS say what is true: blocks run, batches can be read, keys exist, files are there."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from sheetgen.commands import classes
from sheetgen.intake import pantry, read_batch
from sheetgen.intake.batch_tables import BATCH, HYDROMETER, VESSEL
from sheetgen.intake.class_tables import CLASS
from sheetgen.intake.data_tables import SUGARS
from sheetgen.intake.drink_tables import JOB
from sheetgen.intake.season import read_season
from sheetgen.intake.season_tables import SEASON
from sheetgen.planning import plan_batch
from sheetgen.planning.season import plan_season

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w*)\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
RECIPES = [text for kind, text in BLOCKS if kind == "yaml" and text.startswith("recipe-name:")]
BATCHES = [text for kind, text in BLOCKS if kind == "yaml" and text.startswith("batch:")]


def test_the_first_two_shell_blocks_do_the_main_job_and_run_the_tests():
    main, tests = (text.splitlines() for kind, text in BLOCKS[:2] if kind == "sh")
    assert main[0] == tests[0] == "python3 -m venv .venv"
    assert main[-1].startswith(".venv/bin/sheetgen make recipes/examples/27a.yaml --today 2027-02-20")
    assert tests[-1] == ".venv/bin/python -m pytest"


def test_what_the_main_job_leaves_behind_is_ignored_by_git():
    names = [".venv/x", "27A/27A-sheets.pdf", ".pytest_cache/x", ".coverage", "sheetgen/__pycache__/x.pyc"]
    done = subprocess.run(["git", "check-ignore", *names], cwd=ROOT, capture_output=True, text=True)
    if done.returncode == 128:
        pytest.skip("this is not a checkout")
    assert done.stdout.split() == names


def test_there_are_batches_in_it():
    assert len(BATCHES) == 2


@pytest.mark.parametrize("text", BATCHES, ids=["six lines", "a full one"])
def test_every_batch_in_the_readme_can_be_made(text: str, tmp_path: Path):
    path = tmp_path / "27a.yaml"
    path.write_text(text, encoding="utf-8")
    batch, problems = read_batch(path, date(2027, 3, 21), {})
    assert batch is not None
    assert problems.of("stop") == []
    assert problems.of("warn") == []


def test_the_recipe_in_the_readme_can_be_made(tmp_path: Path):
    assert len(RECIPES) == 1
    (tmp_path / "my-brown.yaml").write_text(RECIPES[0], encoding="utf-8")
    path = tmp_path / "27a.yaml"
    path.write_text(BATCHES[0].replace("copper-lane-amber", "my-brown"), encoding="utf-8")
    batch, problems = read_batch(path, date(2027, 2, 20), {})
    assert batch is not None
    assert plan_batch(batch, date(2027, 2, 20), problems) is not None
    assert [*problems.of("stop"), *problems.of("warn")] == []


def test_the_six_lines_are_the_example():
    example = (ROOT / "recipes/examples/27a.yaml").read_text(encoding="utf-8")
    assert (
        "".join(line for line in example.splitlines(keepends=True) if not line.startswith("#")) == BATCHES[0]
    )


def test_the_table_of_keys_is_complete():
    section = README.split("## The keys of a batch file")[1].split("\n## ")[0]
    named = re.findall(r"^\| `([a-z-]+)` \|", section, re.MULTILINE)
    assert sorted(named) == sorted(field.key for field in BATCH.fields)


def test_the_table_of_a_seasons_keys_is_complete():
    section = README.split("## A season: several batches")[1].split("\n## ")[0]
    rows = re.findall(r"^\| (`[a-z-]+`(?:, `[a-z-]+`)*) \|", section, re.MULTILINE)
    named = [name for row in rows for name in re.findall(r"`([a-z-]+)`", row)]
    assert sorted(named) == sorted(field.key for field in SEASON.fields)


def test_the_season_in_the_readme_can_be_planned(tmp_path: Path):
    (text,) = (text for kind, text in BLOCKS if kind == "yaml" and text.startswith("season:"))
    path = tmp_path / "season.yaml"
    path.write_text(text, encoding="utf-8")
    found = read_season(path, date(2027, 2, 20))
    assert found.season is not None
    assert plan_season(found.season, date(2027, 2, 20), found.problems) is not None
    assert [*found.problems.of("stop"), *found.problems.of("warn")] == []


def test_the_table_of_a_classs_keys_is_complete():
    section = README.split("## A class: one evening, many brewers")[1].split("\n## ")[0]
    named = re.findall(r"^\| `([a-z-]+)` \|", section, re.MULTILINE)
    assert named == [field.key for field in CLASS.fields]


def test_the_class_in_the_readme_can_be_planned(tmp_path: Path):
    (text,) = (text for kind, text in BLOCKS if kind == "yaml" and text.startswith("class:"))
    (people,) = (text for kind, text in BLOCKS if not kind and text.startswith("Name;"))
    (tmp_path / "class.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "people.csv").write_text(people, encoding="utf-8")
    order = classes.Order(date(2027, 2, 20), {})
    loaded = classes.load(tmp_path / "class.yaml", order, lay_out=False)
    assert loaded.plan is not None
    assert [one.name for one in loaded.plan.people] == ["Imke", "Jonas"]
    assert loaded.problems.of("stop") == []


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_files_that_are_named_exist(text: str):
    named = re.findall(r"\]\(([^)#:]+)\)", text) + re.findall(
        r"`((?:sheetgen|layouts|recipes|tests)/[\w./-]+\.\w+)`", text
    )
    assert [name for name in named if "NAME" not in name and not (ROOT / name).exists()] == []


def test_options_that_are_named_exist():
    shown = "".join(
        subprocess.run(
            [sys.executable, "-m", "sheetgen", command, "--help"],
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for command in ("new", "make", "check", "show", "list", "ruler", "completion", "self-check")
    )
    options = set(re.findall(r"`[^`\n]*?(--[a-z-]+)", README)) - {"--quiet"}
    assert [option for option in sorted(options) if option not in shown] == []


def test_what_may_be_written_is_named():
    """Every cleaner, sanitiser and sugar; every key of the gear, and of a drink's jobs."""
    words = " ".join(README.split())
    assert [name for name in (*pantry.sanitisers().things, *SUGARS) if f"`{name}`" not in words] == []
    keys = [field.key for field in (*VESSEL.fields, *HYDROMETER.fields, *JOB.fields)]
    assert [name for name in keys if f"{name}:" not in README and f"`{name}`" not in README] == []
