"""new: six answers become a file that make accepts; what is typed is tried at once, what is there stays."""

from __future__ import annotations

import json
import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import jsonschema
import pytest
import yaml

from sheetgen.commands import new_answers
from sheetgen.intake import read_batch
from sheetgen.intake.recipes import names

from .runner import Result, Run

ROOT = Path(__file__).resolve().parents[2]
TODAY = date(2027, 2, 20)


@pytest.fixture
def empty(folder: Path) -> Path:
    (folder / "27a.yaml").unlink()
    return folder


@pytest.fixture
def new(run: Run, empty: Path):
    def program(*arguments: str) -> Result:
        return run("new", *arguments, "--today", "2027-02-20")

    return program


def texts(path: Path) -> list[str]:
    return path.read_text(encoding="utf-8").splitlines()


# Without a terminal


def test_without_a_terminal_the_usual_answers_make_a_batch_of_six_lines(empty: Path, new, run: Run):
    result = new()
    assert (result.code, result.err) == (0, "")
    assert [line for line in texts(empty / "27a.yaml") if line and line[0] != "#"] == [
        "batch: 27A",
        "recipe: copper-lane-amber",
        "brew-day: 2027-02-27",
        "volume: 12 L",
        "room: 19 C",
        "bottles: 24 x 500 ml one-way glass",
    ]
    assert "  brew-day:  2027-02-27" in result.out.splitlines()
    assert result.out.splitlines()[-1] == "Now type: sheetgen make 27a.yaml"
    assert run("check", "27a.yaml").out.startswith("27a.yaml: it can be made, ")
    assert "warn" not in run("check", "27a.yaml").err


def test_the_file_that_new_writes_is_made_as_it_is(empty: Path, new, run: Run):
    assert new("first.yaml").code == 0
    assert run("make", "first.yaml").code == 0
    assert (empty / "27A/27A-sheets.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("language", ["en-GB", "en-US", "de", "fr"])
@pytest.mark.parametrize("recipe", names())
def test_the_usual_answers_suit_every_recipe_in_every_language(empty: Path, recipe: str, language: str):
    desk = new_answers.Desk(empty / "x.yaml", TODAY)
    trial = new_answers.tried(new_answers.filled({"recipe": recipe, "language": language}, desk), desk)
    assert trial.loaded.good
    assert trial.told == []


@pytest.mark.parametrize("today", ["2026-12-31", "2028-02-29", "2027-02-27", "2031-08-04"])
def test_the_proposed_day_is_a_saturday_with_time_to_shop(today: str, empty: Path):
    day = date.fromisoformat(today)
    proposed = date.fromisoformat(new_answers.filled({}, new_answers.Desk(empty / "x.yaml", day))["brew-day"])
    assert proposed.weekday() == 5
    assert 3 <= (proposed - day).days <= 9


def test_remarks_are_in_the_language_of_the_paper(empty: Path, new):
    assert new("--language", "de").code == 0
    text = "\n".join(texts(empty / "27a.yaml"))
    assert "Diese Datei beschreibt einen Sud" in text
    assert "\nlanguage: de\n" in text
    assert "This file" not in text


def test_american_customs_ask_in_american_units(empty: Path, new):
    assert new("--language", "en-US").code == 0
    held = texts(empty / "27a.yaml")
    assert "volume: 3.2 US gal" in held
    assert "room: 66 F" in held
    assert any(line.endswith("x 12 US fl oz one-way glass") for line in held)


@pytest.mark.parametrize("language", ["en-GB", "de", "fr", "en-US"])
def test_every_line_that_is_offered_may_be_taken(empty: Path, new, language: str):
    """Each one alone, and all of them together."""
    assert new("--language", language).code == 0
    whole = (empty / "27a.yaml").read_text(encoding="utf-8")
    offered = re.findall(r"^#(?=[a-z])(.*(?:\n#  .*)*)", whole, re.MULTILINE)
    assert len(offered) == 7
    taken = [whole.replace(f"#{each}", each.replace("\n#", "\n")) for each in offered]
    taken.append(re.sub(r"^#(?=[a-z]|  [a-z]+: )", "", whole, flags=re.MULTILINE))
    for text in taken:
        (empty / "taken.yaml").write_text(text, encoding="utf-8")
        batch, problems = read_batch(empty / "taken.yaml", date(2027, 3, 30))
        assert batch is not None
        assert [*problems.of("stop"), *problems.of("warn")] == []


def test_options_answer_questions(empty: Path, new):
    result = new(
        *("--recipe", "plot-eleven-cider", "--brew-day", "2027-03-06 10:00", "--volume", "5 L"),
        *("--room", "18-21 C", "--bottles", "6 x 1 L pet", "--batch", "CDR", "--brewer", 'Ann: "A" #1'),
    )
    assert result.code == 0
    held = texts(empty / "cdr.yaml")
    assert {"batch: CDR", "brew-day: 2027-03-06 10:00", "volume: 5 L", "room: 18-21 C"} <= set(held)
    batch, _problems = read_batch(empty / "cdr.yaml", TODAY)
    assert batch is not None
    assert batch.brewer == 'Ann: "A" #1'


@pytest.mark.parametrize(
    ("option", "value", "code", "says"),
    [
        ("--room", "8 C", 1, "stop: "),
        ("--room", "19", 1, "write 19 C or 19 F"),
        ("--recipe", "copper-lane-ambr", 1, 'did you mean "copper-lane-amber"?'),
        ("--volume", "5 gal", 1, "US gal"),
        ("--brew-day", "06/03/2027", 1, "2027-03-06"),
        ("--bottles", "24 x 500 ml mason jar", 1, "jar"),
        ("--bottles", "[", 1, "stop: "),
        ("--batch", "O1", 1, "looks like a digit"),
        ("--language", "dee", 2, 'did you mean "de"?'),
        ("--room", "19 C\nbrewer: x", 2, "--room has no value that can be read"),
        ("--brewer", "\udcff", 2, "--brewer has no value that can be read"),
        ("--brewer", "", 2, "--brewer has no value that can be read"),
    ],
)
def test_an_option_that_makes_no_batch_is_told_as_in_a_file(
    empty: Path, new, option: str, value: str, code: int, says: str
):
    result = new(option, value)
    assert (result.code, result.out) == (code, "")
    assert says in result.err
    assert list(empty.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("there.yaml", "there.yaml is there already, and stays as it is"),
        ("my-batch", "write my-batch.yaml"),
        ("27a.txt", "write 27a.yaml"),
        ("nowhere/27a.yaml", "there is no folder nowhere"),
        ("a\0b.yaml", "is not the name of a batch file"),
    ],
)
def test_names_that_cannot_be_written(empty: Path, new, name: str, says: str):
    (empty / "there.yaml").write_text("mine")
    result = new(name)
    assert result.code == 2
    assert says in result.err
    assert (empty / "there.yaml").read_text() == "mine"


def test_the_next_file_gets_the_next_code(empty: Path, new):
    assert [new().code, new().code] == [0, 0]
    assert "batch: 27B" in texts(empty / "27b.yaml")
    result = new("--batch", "27B")
    assert result.code == 2
    assert "27b.yaml is there already" in result.err


# On a terminal


class Terminal:
    """A person at a terminal, as the program sees one."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        self.mine, theirs = pty.openpty()
        env = {
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "XDG_CONFIG_HOME": str(folder / "nobody"),
            "TERM": "dumb",
        }
        command = [sys.executable, "-m", "sheetgen", "new", "--today", "2027-02-20", *arguments]
        self.process = subprocess.Popen(
            command, cwd=folder, env=env, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True
        )
        os.close(theirs)
        self.seen, self.heard = "", 0

    def until(self, words: str) -> str:
        """Read on until the program has said so; what it said since the last time."""
        deadline = time.monotonic() + 60
        while words not in self.seen[self.heard :]:
            ready, _, _ = select.select([self.mine], [], [], max(0.0, deadline - time.monotonic()))
            assert ready, f"never said {words!r}: {self.seen[self.heard :]!r}"
            self.seen += os.read(self.mine, 65536).decode().replace("\r\n", "\n")
        end = self.seen.index(words, self.heard) + len(words)
        told, self.heard = self.seen[self.heard : end], end
        return told

    def says(self, line: str) -> None:
        os.write(self.mine, line.encode())

    def answers(self, question: str, *lines: str) -> str:
        """Wait for the question, then answer; each further answer to the same question asked again."""
        told = ""
        for line in lines:
            told += self.until(question)
            self.until("]: ")
            self.says(f"{line}\n")
        return told

    def end(self) -> int:
        """Wait for the end; the exit code."""
        try:
            while data := os.read(self.mine, 65536):
                self.seen += data.decode().replace("\r\n", "\n")
        except OSError:
            pass  # the other end is closed
        os.close(self.mine)
        return self.process.wait(60)


@pytest.fixture
def terminal(empty: Path):
    """Starts the program at a terminal; whatever still runs at the end of the test is ended."""
    begun: list[Terminal] = []

    def begin(*arguments: str) -> Terminal:
        begun.append(Terminal(empty, *arguments))
        return begun[-1]

    yield begin
    for one in begun:
        one.process.kill()
        one.process.wait()


def test_six_questions_on_a_terminal(empty: Path, terminal):
    person = terminal()
    person.answers("What is to be brewed?", "beer", "10")
    person.answers("On which day?", "6.3.2027", "2027-03-06 10:00")
    person.answers("How much?", "5 gal", "8 L")
    person.answers("How warm", "")
    person.answers("Which empty bottles", "12 x 330 ml pet", "")  # too few: a warning, and meant
    person.answers("Which code", "2O", "27R")
    assert person.end() == 0
    for told in (
        "  1  copper-lane-amber",
        'there is no recipe "beer"',
        "6 March or 3 June 2027?\n  write 2027-03-06 or 2027-06-03",
        "US gal",
        "warn: 12 bottles",
        "looks like a digit",
    ):
        assert told in person.seen
    assert person.seen.rstrip().endswith("Now type: sheetgen make 27r.yaml")
    held = texts(empty / "27r.yaml")
    assert {"recipe: plot-eleven-cider", "brew-day: 2027-03-06 10:00", "volume: 8 L"} <= set(held)
    assert "bottles: 12 x 330 ml pet" in held


def test_what_an_option_says_is_not_asked(empty: Path, terminal):
    given = ("--recipe", "towrope-mild", "--volume", "6 L", "--room", "20 C", "--bottles", "14 x 500 ml pet")
    person = terminal(*given)
    person.answers("On which day?", "")
    person.answers("Which code", "")
    assert person.end() == 0
    assert "How much?" not in person.seen


def test_a_person_who_wants_no_questions_is_asked_none(empty: Path, terminal):
    person = terminal("--no-questions")
    assert person.end() == 0
    assert "What is to be brewed?" not in person.seen
    assert (empty / "27a.yaml").exists()


@pytest.mark.parametrize("leaves", ["\x04", "ctrl-c"])
def test_who_leaves_in_the_middle_leaves_nothing_behind(empty: Path, terminal, leaves: str):
    person = terminal()
    person.answers("What is to be brewed?", "")
    person.until("]: ")
    if leaves == "ctrl-c":
        os.kill(person.process.pid, signal.SIGINT)
    else:
        person.says(leaves)
    assert person.end() == 130
    assert "Traceback" not in person.seen
    assert list(empty.iterdir()) == []


def test_a_disk_that_will_not_is_a_sentence(empty: Path, new, monkeypatch: pytest.MonkeyPatch):
    def refused(*_args, **_named):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refused)
    result = new()
    monkeypatch.undo()
    assert result.code == 2
    assert result.err == "sheetgen: nothing was written: Permission denied\n"
    assert list(empty.iterdir()) == []


# For editors


def test_the_first_line_names_a_schema_that_stands_beside_it_and_agrees(empty: Path, new):
    assert new().code == 0
    assert texts(empty / "27a.yaml")[0] == "# yaml-language-server: $schema=batch.schema.json"
    schema = json.loads((empty / "batch.schema.json").read_text(encoding="utf-8"))
    held = yaml.load((empty / "27a.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    jsonschema.validate(held, schema)


def test_a_schema_that_is_there_stays(empty: Path, new):
    (empty / "batch.schema.json").write_text("{}")
    assert "batch.schema.json" not in new().out
    assert (empty / "batch.schema.json").read_text() == "{}"
    assert "$schema=batch.schema.json" in texts(empty / "27a.yaml")[0]


def test_who_wants_no_schema_gets_none(empty: Path, new):
    assert new("--no-schema").code == 0
    assert [path.name for path in empty.iterdir()] == ["27a.yaml"]
    assert "$schema" not in (empty / "27a.yaml").read_text()
