"""--watch: made again when a file is saved, by whatever editor; wrong states and absences pass by."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path

import pytest

from sheetgen.commands import watch
from sheetgen.commands.watch import Watcher, sight

from .runner import SIX_LINES, STOPPED, Run

ROOT = Path(__file__).resolve().parents[2]
BATCH = Path("27a.yaml")


def watcher() -> Watcher:
    return Watcher([BATCH], sight([BATCH]))


def looks(one: Watcher, times: int = 3) -> list[str]:
    """What so many looks give."""
    return [one.look(sight([BATCH])) for _ in range(times)]


# What counts as saved


def test_a_file_that_stays_is_no_news(folder: Path):
    assert looks(watcher()) == ["", "", ""]


def test_a_saved_file_is_news_once_it_has_come_to_rest(folder: Path):
    one = watcher()
    BATCH.write_text("batch: 27A\n")
    assert one.look(sight([BATCH])) == ""
    BATCH.write_text(SIX_LINES)
    assert looks(one) == ["", "changed", ""]
    assert one.changed == (BATCH,)


def test_a_file_put_in_anothers_place_is_news_even_if_it_says_the_same(folder: Path):
    one = watcher()
    state = BATCH.stat()
    Path("27a.yaml~").write_text(SIX_LINES)
    os.utime("27a.yaml~", ns=(state.st_atime_ns, state.st_mtime_ns))
    Path("27a.yaml~").replace(BATCH)
    assert looks(one) == ["", "changed", ""]


def test_a_file_that_is_gone_is_waited_for_and_told_once(folder: Path):
    one = watcher()
    BATCH.unlink()
    assert looks(one, 4) == ["", "gone", "", ""]
    assert one.missing == [BATCH]
    BATCH.write_text(SIX_LINES)
    assert looks(one) == ["", "changed", ""]


def test_a_file_that_is_away_for_a_moment_while_it_is_saved_is_not_missed(folder: Path):
    one = watcher()
    BATCH.rename("27a.yaml~")
    assert one.look(sight([BATCH])) == ""
    Path("27a.yaml~").rename(BATCH)
    assert looks(one) == ["", "", ""]


def test_recipes_tables_and_layouts_beside_it_are_watched_too(folder: Path):
    for name in (
        "recipes/mine.yaml",
        "people.csv",
        "layouts/documents/fridge.layout",
        "nobody/sheetgen/drinks/a.yaml",
    ):
        one = watcher()
        Path(name).parent.mkdir(parents=True, exist_ok=True)
        Path(name).write_text("x")
        assert looks(one) == ["", "changed", ""], name
        assert one.changed == (Path(name) if "nobody" not in name else folder / name,)


def test_what_editors_and_we_leave_beside_it_is_no_news(folder: Path):
    one = watcher()
    for name in (
        ".27a.yaml.swp",
        "4913",
        "27a.yaml~",
        "#27a.yaml#",
        ".#27a.yaml",
        "27A-plan.json",
        "27A.pdf",
    ):
        Path(name).write_text("x")
    (folder / "27A").mkdir()
    (folder / "27A/notes.yaml").write_text("x")
    assert looks(one) == ["", "", ""]


def test_very_many_files_are_not_all_looked_at(folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(watch, "_MOST_FILES", 3)
    for number in range(9):
        Path(f"a{number}.yaml").write_text("x")
    assert len(sight([BATCH])) == 3


# The loop, with a hand in place of the clock


def _loop(options: Namespace, codes: list[int], steps: list) -> list[bool]:
    """Run it: `codes` of each making, `steps` between looks.  Gives whether each making was to be opened."""
    asked: list[bool] = []
    todo = iter(steps)

    def make(wanted: Namespace) -> int:
        asked.append(wanted.open)
        return codes[len(asked) - 1]

    def sleep(_seconds: float) -> None:
        next(todo, _leave)()

    with pytest.raises(KeyboardInterrupt):
        watch._watch(options, make, sleep)
    return asked


def _leave() -> None:
    raise KeyboardInterrupt


def _nothing() -> None:
    pass


def _save(text: str):
    return lambda: BATCH.write_text(text)


def test_wrong_states_are_told_and_watching_goes_on(folder: Path):
    steps = [_save(STOPPED), _nothing, _save("a: ["), _nothing, _save(SIX_LINES), _nothing]
    asked = _loop(Namespace(files=["27a.yaml"], open=False), [0, 1, 1, 0], steps)
    assert asked == [False] * 4


def test_it_is_opened_once_when_there_is_something_to_open(folder: Path):
    steps = [_save(SIX_LINES + "# a\n"), _nothing, _save(SIX_LINES + "# ab\n"), _nothing]
    assert _loop(Namespace(files=["27a.yaml"], open=True), [1, 0, 0], steps) == [True, True, False]


def test_wrong_use_ends_it_at_once(run: Run):
    assert run("make", "none.yaml", "--watch").code == 2


# The whole program


@pytest.fixture
def watching(folder: Path) -> Iterator[subprocess.Popen[str]]:
    env = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-m", "sheetgen", "make", "--watch", "--today", "2027-02-20", "--only", "plan"]
    both = subprocess.Popen(
        command, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    with both:
        yield both
        both.kill()


def _until(process: subprocess.Popen[str], words: str) -> str:
    """What it says up to the line with these words."""
    assert process.stdout
    told = ""
    for line in process.stdout:
        told += line
        if words in line:
            return told
    raise AssertionError(f"never said {words!r}: {told}")


def test_a_batch_is_made_again_when_it_is_saved(folder: Path, watching: subprocess.Popen[str]):
    plan = folder / "27A/27A-plan.json"
    _until(watching, "watching 27a.yaml")
    before = plan.read_bytes()
    BATCH.write_text(STOPPED)
    told = _until(watching, "watching 27a.yaml")
    assert "27a.yaml: saved, so it is made again" in told
    assert "27a.yaml:5:" in told
    assert "nothing was written" in told
    assert plan.read_bytes() == before
    fresh = Path("fresh")
    fresh.write_text(SIX_LINES.replace("12 L", "10 L"))
    fresh.replace(BATCH)
    _until(watching, "watching 27a.yaml")
    assert plan.read_bytes() != before
    start = time.monotonic()
    watching.send_signal(signal.SIGINT)
    assert _until(watching, "no longer watching")
    assert watching.wait(30) == 130
    assert time.monotonic() - start < 30
