"""A smallest set of rules that clash, against every choice of days and every set of rules."""

from __future__ import annotations

import os
from itertools import product
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.planning.clash import Closed, Rule, clash, not_after, possible
from sheetgen.planning.graph import START, Link, Stay, Step
from sheetgen.problems import said

WHY = said("why.brew-day")
MANY = settings(max_examples=int(os.environ.get("RANDOM_CASES", "60")), deadline=None)
"""`RANDOM_CASES=3000` in the environment tries thousands."""
DAYS = 8
"""Days 0 to 7: few enough to try every choice."""


def closed_on(days: frozenset[int], *names: str) -> Closed:
    return Closed(WHY, lambda step, day: day in days and step.id in names)


def test_a_deadline_before_the_least_way_names_the_way_and_the_deadline():
    steps = [Step("test"), Step("bottle")]
    slow, quick = Link(START, "test", WHY, 7), Link("test", "bottle", WHY, 2)
    party, beside = not_after("bottle", 8, WHY), Link(START, "bottle", WHY, 3)
    assert clash(steps, [slow, quick, beside, party]) == (slow, quick, party)
    assert clash(steps, [slow, quick, beside, not_after("bottle", 9, WHY)]) == ()


def test_days_away_that_matter_are_named_and_others_are_not():
    steps = [Step("test"), Step("bottle")]
    links = [Link(START, "test", WHY, 7), Link("test", "bottle", WHY, 2)]
    spring, summer = (
        closed_on(frozenset(range(9, 20)), "bottle"),
        closed_on(frozenset(range(30, 50)), "bottle"),
    )
    party = not_after("bottle", 12, WHY)
    assert clash(steps, [*links, spring, summer, party]) == (*links, spring, party)


def test_what_was_done_is_no_rule_and_cannot_be_moved():
    steps = [Step("test", on=9), Step("bottle")]
    wait = Link("test", "bottle", WHY, 2)
    assert clash(steps, [Link(START, "test", WHY, 20), wait]) == ()
    assert clash(steps, [wait, not_after("bottle", 10, WHY)]) == (wait, not_after("bottle", 10, WHY))


def test_a_life_without_a_day_ends():
    always = Closed(WHY, lambda _step, _day: True)
    assert clash([Step("bottle")], [Link(START, "bottle", WHY, 10), always]) == (always,)


@st.composite
def cases(draw: Any) -> tuple[list[Step], list[Rule]]:
    """Three steps, some of them done; up to eight rules of all kinds."""
    gaps, names = st.integers(0, 5), "abc"
    steps = [Step(name, on=draw(st.none() | st.none() | st.none() | gaps)) for name in names]
    rules: list[Rule] = []
    for _ in range(draw(st.integers(1, 8))):
        kind = draw(st.sampled_from(["wall", "gap", "deadline", "most", "stay", "closed"]))
        one = draw(st.integers(0, 1))
        before, after = names[one], names[draw(st.integers(one + 1, 2))]
        if kind == "closed":
            shut = draw(st.frozensets(st.integers(0, DAYS - 1), max_size=7))
            rules.append(closed_on(shut, *draw(st.sets(st.sampled_from(names), min_size=1))))
        elif kind == "wall":
            rules.append(Link(START, after, WHY, draw(gaps)))
        elif kind == "gap":
            rules.append(Link(before, after, WHY, draw(gaps)))
        elif kind == "deadline":
            rules.append(not_after(after, draw(gaps), WHY))
        elif kind == "most":
            rules.append(Link(before, after, WHY, most=draw(gaps)))
        else:
            rules.append(Stay(before, after, draw(gaps), WHY))
    return steps, rules


def keeps(rule: Rule, steps: list[Step], at: dict[str, int]) -> bool:
    """Whether a choice of days keeps a rule."""
    todo = {step.id: step for step in steps if step.on is None}
    if isinstance(rule, Closed):
        return not any(rule.closes(step, at[name]) for name, step in todo.items())
    if rule.after not in todo:
        return True
    gap = at[rule.after] - at[rule.before]
    least = rule.least if isinstance(rule, Link) else None
    return (least is None or gap >= least) and (rule.most is None or gap <= rule.most)


def by_trying(steps: list[Step], rules: list[Rule]) -> bool:
    """Whether any choice of days keeps them all."""
    choices = [[step.on] if step.on is not None else range(DAYS) for step in steps]
    for choice in product(*choices):
        at = {START: 0, **{step.id: day for step, day in zip(steps, choice, strict=True)}}
        if all(keeps(rule, steps, at) for rule in rules):
            return True
    return False


@MANY
@given(cases())
def test_it_is_possible_when_some_choice_of_days_is(case: tuple[list[Step], list[Rule]]):
    steps, rules = case
    assert possible(steps, rules, DAYS - 1) == by_trying(steps, rules)


@MANY
@given(cases())
def test_what_clashes_cannot_be_kept_and_all_but_any_one_of_it_can(case: tuple[list[Step], list[Rule]]):
    steps, rules = case
    named = clash(steps, rules, DAYS - 1)
    assert bool(named) != by_trying(steps, rules)
    if named:
        assert not by_trying(steps, list(named))
        for left_out in named:
            assert by_trying(steps, [rule for rule in named if rule is not left_out])
