"""The program as a whole: options, exit codes, streams, and what a machine can do to it."""

from __future__ import annotations

import errno
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from sheetgen import __main__ as program
from sheetgen.commands import common

from .runner import SIX_LINES, STOPPED, Run

ROOT = Path(__file__).resolve().parents[2]


def start(
    cwd: Path, *arguments: str, stdout=subprocess.PIPE, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    """The program in a process of its own."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(cwd / "nobody"), **environment}
    command = [sys.executable, "-m", "sheetgen", *arguments]
    return subprocess.run(command, cwd=cwd, env=env, stdout=stdout, stderr=subprocess.PIPE)


@pytest.mark.parametrize("option", ["--help", "--version"])
def test_help_and_version(run: Run, option: str):
    result = run(option)
    assert result.code == 0
    assert "sheetgen" in result.out


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("brew",),
        ("make", "--olny", "fridge", "27a.yaml"),
        ("make", "27a.yaml", "--start-at", "0"),
        ("make", "27a.yaml", "--start-at", "two"),
        ("make", "27a.yaml", "--paper", "A5"),
        ("make", "27a.yaml", "--only", ","),
        ("check", "27a.yaml", "--today", "20.2.2027"),
        ("check", "27a.yaml", "--today", "2027-02-30"),
        ("check", "27a.yaml", "--today", "20270220"),
        ("list", "beers"),
        ("show", "27a.yaml", "27a.yaml"),
    ],
)
def test_wrong_use_is_one_sentence_and_a_hint(run: Run, arguments: tuple[str, ...]):
    result = run(*arguments, today="")
    assert (result.code, result.out) == (2, "")
    first, second = result.err.splitlines()
    assert first.startswith("sheetgen")
    assert second.startswith("Try: sheetgen")


@pytest.mark.parametrize("command", ["make", "check", "show"])
@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("none.yaml", "there is no file none.yaml"),
        (".", ". is a folder"),
        ("", "is a folder"),
        ("a\0b.yaml", "there is no file"),
        ("x" * 300, "cannot be opened"),
        ("\x1b[31mred.yaml", "there is no file ␛[31mred.yaml"),
        ("/dev/null/27a.yaml", "there is no file"),
    ],
)
def test_files_that_cannot_be_used(run: Run, command: str, name: str, says: str):
    result = run(command, name)
    assert (result.code, result.out) == (2, "")
    assert says in result.err
    assert "\x1b" not in result.err


def test_a_file_without_rights_is_a_sentence(run: Run, monkeypatch: pytest.MonkeyPatch):
    def refused(*_args, **_named):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", refused)
    result = run("check", "27a.yaml")
    assert (result.code, result.out) == (2, "")
    assert result.err == "sheetgen: 27a.yaml cannot be opened: Permission denied\n"


@pytest.mark.parametrize(
    "name", ["27a 1.yaml", "ü½.yaml", "-27a.yaml", "27a", "'$(x)'.yaml", "a\nb.yaml", "#.yaml"]
)
def test_odd_names_of_files_work(folder: Path, run: Run, light: None, name: str):
    (folder / name).write_text(SIX_LINES)
    result = run("show", "--json", f"./{name}")
    assert result.code == 0, result.err
    assert json.loads(result.out)["batch"]["code"] == "27A"


@pytest.mark.parametrize(
    "data", [b"", b"\0", b"\xff\xfeb\0", b"batch: \xe9", b"a: [", b"{" * 5000, b"x" * 2_000_000]
)
def test_files_that_are_no_batches(folder: Path, run: Run, data: bytes):
    (folder / "27a.yaml").write_bytes(data)
    for command in ("make", "check", "show"):
        result = run(command, "27a.yaml")
        assert result.code == 1
        assert "stop: " in result.err
    assert [path.name for path in folder.iterdir()] == ["27a.yaml"]


def test_an_interruption_is_a_sentence(run: Run, monkeypatch: pytest.MonkeyPatch):
    def interrupted(*_args):
        raise KeyboardInterrupt

    monkeypatch.setattr(common, "load", interrupted)
    result = run("check", "27a.yaml")
    assert result.code == 130
    assert "interrupted" in result.err
    assert "Traceback" not in result.err


def test_a_reader_that_goes_away_is_no_error(folder: Path):
    ends = os.pipe()
    os.close(ends[0])
    try:
        done = start(folder, "list", stdout=ends[1])
    finally:
        os.close(ends[1])
    assert done.returncode == 0
    assert done.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full disk to offer")
def test_a_full_disk_behind_stdout_is_a_sentence(folder: Path):
    with Path("/dev/full").open("wb") as full:
        done = start(folder, "list", stdout=full)
    assert done.returncode == 2
    assert done.stderr == b"sheetgen: cannot go on: No space left on device\n"


def test_closed_streams_are_no_traceback(folder: Path):
    quoted = f'"{sys.executable}" -m sheetgen list >&- 2>&-'
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    assert subprocess.run(quoted, shell=True, cwd=folder, env=env, capture_output=True).stderr == b""


def test_a_terminal_without_our_letters_shows_plainer_ones_or_question_marks(folder: Path):
    done = start(folder, "list", "papers", PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert b"210 x 297 mm" in done.stdout
    (folder / "27a.yaml").write_text(SIX_LINES + "brewer: Jürgen\n", encoding="utf-8")
    shown = start(folder, "show", "27a.yaml", "--today", "2027-02-20", PYTHONIOENCODING="ascii")
    assert b"12 L - J?rgen" in shown.stdout


def test_json_is_utf_8_whatever_the_terminal(folder: Path):
    (folder / "27a.yaml").write_text(SIX_LINES + "brewer: Jürgen\n", encoding="utf-8")
    done = start(folder, "show", "27a.yaml", "--json", "--today", "2027-02-20", PYTHONIOENCODING="ascii")
    assert json.loads(done.stdout.decode("utf-8"))["batch"]["brewer"] == "Jürgen"


def test_no_option_is_understood_by_its_beginning(run: Run):
    assert run("make", "27a.yaml", "--forc").code == 2


def test_the_parser_knows_every_list():
    from sheetgen.commands import list_

    assert list(program.LISTS) == list(list_._KINDS)
    assert set(program._MODULES) == set(program._COMMANDS)


def test_check_says_whether_it_can_be_made(folder: Path, run: Run, light: None):
    result = run("check", "27a.yaml")
    assert result.code == 0
    assert result.out.startswith("27a.yaml: it can be made, ")
    (folder / "27a.yaml").write_text(STOPPED)
    result = run("check", "27a.yaml")
    assert result.code == 1
    assert re.match(r"27a.yaml: \d problems? must be solved", result.out)


def test_check_goes_on_to_the_next_file(folder: Path, run: Run):
    (folder / "bad.yaml").write_text(STOPPED)
    result = run("check", "bad.yaml", "27a.yaml")
    assert result.code == 1
    assert [line.partition(":")[0] for line in result.out.splitlines()] == ["bad.yaml", "27a.yaml"]


def test_check_writes_nothing_and_loads_no_drawing(folder: Path):
    code = (
        "import sys; from sheetgen.__main__ import main;"
        "code = main(['check', '27a.yaml', '--today', '2027-02-20']);"
        "print([name for name in ('reportlab', 'pint', 'icalendar') if name in sys.modules], code)"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=folder, env=env, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[] 0"
    assert [path.name for path in folder.iterdir()] == ["27a.yaml"]


@pytest.mark.parametrize("kind", program.LISTS)
def test_every_list_has_a_line_for_each_thing(run: Run, kind: str):
    lines = run("list", kind).out.splitlines()
    assert lines
    assert all(len(line.split()) > 1 for line in lines)
    assert "cannot be read" not in "".join(lines)


def test_list_alone_lists_everything(run: Run):
    out = run("list").out
    assert [line for line in out.splitlines() if line.endswith(":") and line[0] != " "] == [
        f"{kind}:" for kind in program.LISTS
    ]


def test_a_recipe_beside_is_listed_too(folder: Path, run: Run):
    (folder / "recipes").mkdir()
    (folder / "recipes/my-own.yaml").write_text("recipe-name: Mine\ndrink: ale\nvolume: 4 L\n")
    (folder / "recipes/broken.yaml").write_text("a: [")
    out = run("list", "recipes").out
    assert "my-own" in out
    assert "Mine, ale, 4 L" in out


def test_the_ruler_page_comes_without_a_batch(folder: Path, run: Run):
    assert run("ruler", "--today", "2027-02-20").code == 0
    assert (folder / "ruler.pdf").read_bytes().startswith(b"%PDF")
    assert run("ruler", "--language", "de", "--paper", "Letter", "--out", "druck.pdf").code == 0
    for arguments in (("--language", "xx"), ("--out", "."), ("--paper", "A3")):
        found = run("ruler", *arguments)
        assert (found.code, "Traceback" in found.err) == (2, False)


def test_the_ruler_page_leaves_strangers_files_alone(folder: Path, run: Run):
    (folder / "mine.pdf").write_bytes(b"%PDF-1.4 somebody else's")
    assert run("ruler", "--out", "mine.pdf").code == 2
    assert run("ruler", "--out", "mine.pdf", "--force").code == 0
