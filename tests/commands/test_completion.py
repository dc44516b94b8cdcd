"""completion: what each place of a command line takes is offered, and bash asks for it the right way."""

from __future__ import annotations

import argparse
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from sheetgen import __main__ as program
from sheetgen.commands import completion

from .runner import Run

ROOT = Path(__file__).resolve().parents[2]


def offered(*words: str) -> list[str]:
    return completion.offers(program._parser(), words)


@pytest.fixture(autouse=True)
def _here(folder: Path) -> None:
    (folder / "27 b.yml").write_text("batch: 27B\n")
    (folder / "people.csv").write_text("Name\n")
    (folder / "old").mkdir()
    (folder / "old/26a.yaml").write_text("batch: 26A\n")
    (folder / "recipes").mkdir()
    (folder / "recipes/my-own.yaml").write_text("recipe-name: Mine\n")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["ma"], ["make"]),
        ([""], sorted(program._COMMANDS)),
        (["make", "2"], ["27 b.yml", "27a.yaml"]),
        (["make", "27a.yaml", "old/"], ["old/26a.yaml"]),
        (["make", "o"], ["old/"]),
        (["make", "--on"], ["--one-sided", "--only"]),
        (["make", "--paper", ""], ["A4", "Letter"]),
        (["make", "--paper", "=", "L"], ["Letter"]),
        (["make", "--paper", "="], ["A4", "Letter"]),
        (["make", "--only", "fridge,bo"], ["fridge,bottling"]),
        (["make", "--readings", ""], ["old/", "people.csv", "recipes/"]),
        (["make", "--out", ""], ["old/", "recipes/"]),
        (["new", "--recipe", "my"], ["my-own"]),
        (["new", "--recipe", "copper"], ["copper-lane-amber", "copper-lane-little"]),
        (["new", "--language", ""], ["de", "en-GB", "en-US", "fr"]),
        (["list", "s"], ["stocks"]),
        (["layout", "c"], ["check", "copy"]),
        (["layout", "copy", "fri"], ["fridge"]),
        (["layout", "copy", "fridge", "--t"], ["--to"]),
        (["completion", ""], ["bash", "fish", "zsh"]),
        (["make", "--today", ""], []),
        (["nothing", "here", "x"], []),
    ],
)
def test_what_a_place_takes_is_offered(words: list[str], expected: list[str]):
    assert offered(*words) == expected


def _actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    for action in parser._actions:
        yield action
        for inner in action.choices.values() if isinstance(action.choices, dict) else ():
            yield from _actions(inner)


def test_every_place_that_takes_something_is_known():
    """A new option says by its name in the help what it takes, or that nobody can know it."""
    known = {*completion.FILES, *completion.FREE}
    unknown = [
        action
        for action in _actions(program._parser())
        if action.nargs != 0
        and action.choices is None
        and action.help != argparse.SUPPRESS
        and action.metavar not in known
        and action.dest not in completion.NAMED
    ]
    assert unknown == []


def bash(folder: Path, line: str) -> list[str]:
    """What bash has to offer at the end of a line."""
    script = folder / "sheetgen"
    script.write_text(
        f'#!/bin/sh\nPYTHONPATH={shlex.quote(str(ROOT))} exec {sys.executable} -m sheetgen "$@"\n'
    )
    script.chmod(0o755)
    words = line.split(" ")
    asked = f"""
source <("{script}" completion bash)
[[ $(complete -p sheetgen) == *_sheetgen* ]] || exit 3
compopt() {{ :; }}
COMP_WORDS=({shlex.quote(str(script))} {" ".join(map(shlex.quote, words[1:]))})
COMP_CWORD={len(words) - 1}
_sheetgen "{script}" "" ""
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
    found = shutil.which("bash")
    assert found
    env = {**os.environ, "XDG_CONFIG_HOME": str(folder / "nobody")}
    done = subprocess.run(
        [found, "-c", asked], cwd=folder, env=env, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout.splitlines()


@pytest.mark.skipif(not shutil.which("bash"), reason="there is no bash here")
def test_bash_offers_commands_files_and_recipes(folder: Path):
    assert bash(folder, "sheetgen sel") == ["self-check"]
    assert bash(folder, "sheetgen make 2") == ["27 b.yml", "27a.yaml"]
    assert bash(folder, "sheetgen new --recipe plot-eleven-c") == ["plot-eleven-cider"]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_has_lines_of_its_own_that_it_accepts(run: Run, folder: Path, shell: str):
    result = run("completion", shell)
    assert result.code == 0
    assert "completion offer --" in result.out
    found = shutil.which(shell)
    if found:  # where the shell is there, it reads them itself
        (folder / "lines").write_text(result.out)
        done = subprocess.run([found, "-n", "lines"], cwd=folder, capture_output=True, text=True, check=False)
        assert (done.returncode, done.stderr) == (0, "")


def test_offers_come_by_the_command_that_shells_use(run: Run):
    result = run("completion", "offer", "--", "make", "--pap")
    assert (result.code, result.out, result.err) == (0, "--paper\n", "")
