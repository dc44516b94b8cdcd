"""show: the timeline in letters, held against pictures that were looked at."""

from __future__ import annotations

import io
import itertools
import os
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.commands import common, show_timeline
from sheetgen.commands.show_timeline import FINE, PLAIN, Look, look_of_terminal, timeline
from sheetgen.planning.plan import Plan
from sheetgen.report import width_of

from .runner import Run

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = ROOT / "tests" / "golden"
DAYS = {"27c": date(2027, 3, 27)}


def plan_of(name: str) -> Plan:
    loaded = common.load(ROOT / f"recipes/examples/{name}.yaml", DAYS.get(name, date(2027, 2, 20)))
    assert loaded.plan is not None
    return loaded.plan


def drawn(plan: Plan, look: Look) -> list[str]:
    return list(timeline(plan, common.words_of(common.ENGLISH), look))


@pytest.mark.parametrize("name", ["27a", "27b", "27c", "27r"])
@pytest.mark.parametrize(("kind", "look"), [("fine", Look()), ("plain", Look(signs=PLAIN))])
def test_the_picture_is_the_one_that_was_looked_at(name: str, kind: str, look: Look):
    found = "\n".join(drawn(plan_of(name), look)) + "\n"
    file = GOLDEN / f"show-timeline-{name}-{kind}.txt"
    if os.environ.get("REWRITE_GOLDEN") == "1":
        file.write_text(found, encoding="utf-8")
    assert found == file.read_text(encoding="utf-8")


@settings(max_examples=25)
@given(st.sampled_from(["27a", "27b", "27r", "27t"]), st.integers(show_timeline.NARROWEST, 200))
def test_no_line_is_wider_than_the_terminal(name: str, width: int):
    assert max(width_of(line) for line in drawn(PLANS[name], Look(width))) <= width


PLANS = {name: plan_of(name) for name in ("27a", "27b", "27r", "27t")}


def test_plain_letters_are_ascii():
    assert all("\n".join(drawn(plan, Look(signs=PLAIN))).isascii() for plan in PLANS.values())


def test_a_day_stands_under_its_week():
    """With a column for each day, a mark stands as many columns behind its week's tick as days."""
    plan, lines = PLANS["27b"], drawn(PLANS["27b"], Look())
    brew = next(line for line in lines if line.strip().startswith("Brew"))
    ticks = [at for at, letter in enumerate(lines[1]) if letter == FINE.week]
    assert {after - at for at, after in itertools.pairwise(ticks)} == {7}
    assert brew.index(FINE.next) - ticks[0] == plan.task("brew").when.expected.weekday()


def test_days_away_are_hatched_in_every_lane_that_has_nothing_there():
    plan, lines = PLANS["27b"], drawn(PLANS["27b"], Look())
    first, last = plan.away[0]
    brew = next(line for line in lines if line.strip().startswith("Brew"))
    assert brew.count(FINE.away) == (last - first).days + 1


def test_a_batch_of_years_is_cut_and_says_until_when():
    plan = PLANS["27a"]
    far = replace(plan, labels=replace(plan.labels, not_before=date(2041, 1, 1)))
    lines = drawn(far, Look(80))
    assert lines[-1].strip() == "and on to Sun 6 Jan 2041"
    assert max(map(width_of, lines)) <= 80


def test_a_plain_terminal_gets_plain_letters(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(io.BytesIO(), encoding="latin-1"))
    assert look_of_terminal().signs is PLAIN
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(io.BytesIO(), encoding="utf-8"))
    assert look_of_terminal().signs is FINE


@pytest.mark.parametrize(("columns", "width"), [("200", 160), ("100", 100), ("20", 60), ("", 80)])
def test_the_width_is_the_terminals(monkeypatch: pytest.MonkeyPatch, columns: str, width: int):
    monkeypatch.setenv("COLUMNS", columns)
    monkeypatch.setattr("os.get_terminal_size", _no_terminal)
    assert look_of_terminal().width == width


def _no_terminal(*_arguments: object) -> os.terminal_size:
    raise OSError


@pytest.mark.usefixtures("light")
def test_show_draws_it_above_the_days(run: Run):
    lines = run("show", "27a.yaml").out.splitlines()
    assert lines.index("Timeline") < lines.index("Days")
    assert any(line.strip().startswith("Ferment") for line in lines[: lines.index("Days")])


def words_below(lines: list[str]) -> Iterator[str]:
    yield from (line.strip() for line in lines if line.strip().startswith("was "))


@pytest.mark.usefixtures("light")
def test_why_a_day_moved_stands_below_it(folder: Path, run: Run):
    away = date(2027, 3, 14)
    text = (folder / "27a.yaml").read_text()
    (folder / "27a.yaml").write_text(f"{text}away: [{away}..{away + timedelta(days=9)}]\n")
    out = run("show", "27a.yaml").out.splitlines()
    assert "away from Sun 14 Mar to Tue 23 Mar" in next(words_below(out))


def test_signs_that_a_terminal_lacks_become_plainer_ones():
    assert common.in_letters_of("ascii", "27A · 12 °C, 3 × 5 – 6") == "27A - 12 C, 3 x 5 - 6"
    assert common.in_letters_of("utf-8", "27A · 12 °C") == "27A · 12 °C"
