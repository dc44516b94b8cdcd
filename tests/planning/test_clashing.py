"""An impossible plan names the rules that clash, and none that could be left out."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model import Batch
from sheetgen.planning import plan_batch
from sheetgen.planning.clashing import clashing
from sheetgen.planning.life import HORIZON_DAYS, NoDay, at_leisure
from sheetgen.planning.looking import gate_of
from sheetgen.planning.scaling import scale
from sheetgen.planning.strength import strength
from sheetgen.problems import Said, said

from .described import FEBRUARY, day, ids, planned, read, six
from .test_plan_dates_always import DAY_0, base, lives, tasks_of

MANY = settings(max_examples=int(os.environ.get("RANDOM_CASES", "15")), deadline=None)
"""`RANDOM_CASES=3000` in the environment tries thousands."""
PARTY = said("why.brew-day")
"""Any sentence will do for what wants it."""


def named(batch: Batch, until: date, wanted: Any = None) -> tuple[Said, ...]:
    found = strength(batch, scale(batch))
    return clashing(batch, 1.045, gate_of(batch, found, FEBRUARY), FEBRUARY, until, wanted)


def about(rules: tuple[Said, ...]) -> list[str]:
    """The rules in short: what waits, or what closes days."""
    return [str(rule.values.get("task", rule.id)) for rule in rules]


def six_lines(**changes: Any) -> Batch:
    batch, _ = read(six(**changes))
    assert batch is not None
    return batch


@pytest.mark.parametrize(("by", "clash"), [("4-3", []), ("4-2", ["bottle", "drink-from", "why.brew-day"])])
def test_a_party_a_day_too_early_clashes_with_the_way_to_it(by: str, clash: list[str]):
    # bottled on day 14, and 14 days of fizz: the 3rd of April
    assert about(named(six_lines(), day("9-1"), ("drink-from", day(by), PARTY))) == clash


def test_an_absence_that_is_in_the_way_is_named_and_another_is_not():
    batch = six_lines(away=["2027-03-18..2027-03-28", "2027-05-01..2027-05-09"])
    # test 1 on day 11 is at home; test 2 and bottling wait for the 29th, drinking for the 12th of April
    rules = named(batch, day("9-1"), ("drink-from", day("4-11"), PARTY))
    assert about(rules)[-2:] == ["why.clash-away", "why.brew-day"]
    assert [rule.values["first"] for rule in rules if rule.id == "why.clash-away"] == [day("3-18")]
    assert named(batch, day("9-1"), ("drink-from", day("4-12"), PARTY)) == ()


def test_a_life_without_a_day_says_what_clashes():
    plan, problems = planned(six(away=["2027-03-10..2028-12-31"]))
    assert plan is None
    assert "stop.no-day" in ids(problems, "stop")
    [note] = [
        found
        for found in problems.of("note")
        if not isinstance(found.message, str) and found.message.id == "note.clash"
    ]
    rules = note.message.values["rules"]  # type: ignore[union-attr]
    assert about(rules)[-1] == "why.clash-away"  # type: ignore[arg-type]
    assert len(rules) == 2  # type: ignore[arg-type]


@st.composite
def blocked(draw: Any) -> Batch:
    """A life with one long absence among others."""
    batch = draw(lives())
    first = DAY_0 + timedelta(days=draw(st.integers(4, 40)))
    return replace(batch, away=tuple(sorted([*batch.away, (first, first + timedelta(days=800))])))


@MANY
@given(blocked())
def test_a_life_that_leaves_no_day_always_names_an_absence(batch: Batch):
    try:
        tasks_of(batch, 1.045)
    except NoDay as error:
        rules = named(batch, error.args[0] + timedelta(days=HORIZON_DAYS))
    else:
        return
    assert "why.clash-away" in about(rules)
    assert len(set(rules)) == len(rules)
    assert named(at_leisure(batch), DAY_0 + timedelta(days=900)) == ()


def test_every_recipe_at_leisure_has_no_clash():
    for recipe in ("copper-lane-amber", "ferry-steps-mead", "slipway-nine-pale"):
        assert named(base(recipe), DAY_0 + timedelta(days=900)) == ()


def test_an_event_that_is_missed_says_which_rules_are_in_its_way():
    tree = six(event={"date": "2027-04-01", "name": "supper", "guests": "6"})
    batch, problems = read(tree)
    assert batch is not None
    assert plan_batch(batch, FEBRUARY, problems, lambda: ()) is None
    rules = next(
        found.message.values["rules"]
        for found in problems
        if isinstance(found.message, Said) and found.message.id == "note.clash"
    )
    assert about(rules) == ["bottle", "drink-from", "why.clash-event"]  # type: ignore[arg-type]
