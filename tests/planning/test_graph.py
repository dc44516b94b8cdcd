"""Days out of a graph of rules, against two solvers that know nothing of it: linear programming for the
earliest and latest days, every combination of days for the expected ones.
"""

from __future__ import annotations

import os
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from sheetgen.planning.graph import (
    START,
    Link,
    NoSolution,
    Stay,
    Step,
    earliest_days,
    expected_days,
    latest_days,
)
from sheetgen.problems import said

WHY = said("why.brew-day")
MANY = settings(max_examples=int(os.environ.get("RANDOM_CASES", "60")), deadline=None)
"""`RANDOM_CASES=3000` in the environment tries thousands."""
NAMES = "abcdef"
FAR, NO_LATEST = 1000, 800
"""The solver's largest day, and from where on it means that there is none."""


def chain(*gaps: tuple[int, int | None], most: int | None = None) -> tuple[list[Step], list[Link]]:
    """Steps a, b, c … one after the other with (least, usual) gaps; `most`: the last day of the last of
    them.
    """
    names = [START, *NAMES[: len(gaps)]]
    links = [Link(names[n], names[n + 1], WHY, least, usual) for n, (least, usual) in enumerate(gaps)]
    links += [Link(START, names[-1], WHY, most=most)] if most is not None else []
    return [Step(name) for name in names[1:]], links


def any_day(_step: Step, day: int) -> int:
    return day


def days_of(found: dict[str, Any]) -> dict[str, int]:
    return {name: bound.day for name, bound in found.items() if name != START}


def test_least_gaps_make_the_earliest_usual_gaps_the_expected_days():
    steps, links = chain((7, 11), (2, 3), (0, None), most=28)
    assert days_of(earliest_days(steps, links)) == {"a": 7, "b": 9, "c": 9}
    assert days_of(expected_days(steps, links, (), any_day)) == {"a": 11, "b": 14, "c": 14}
    assert days_of(latest_days(steps, links)) == {"a": 26, "b": 28, "c": 28}


def test_the_rule_that_decided_stands_beside_the_day():
    steps, links = chain((7, 11), (2, 3))
    wall = Link(START, "b", WHY, least=10)
    found = earliest_days(steps, [*links, wall])
    assert found["a"].by is links[0]
    assert found["b"].by is wall  # 10, not 7 + 2
    assert expected_days(steps, [*links, wall], (), any_day)["b"].by is links[1]


def test_a_usual_gap_is_never_under_the_least_one():
    steps, links = chain((7, 5))
    assert days_of(expected_days(steps, links, (), any_day)) == {"a": 7}


def test_what_was_done_stays_and_waits_for_nothing():
    steps, links = chain((7, 11), (2, 3))
    steps = [Step("a", on=20), Step("b")]
    assert days_of(earliest_days(steps, links)) == {"a": 20, "b": 22}
    assert days_of(expected_days([Step("a"), Step("b", on=3)], links, (), any_day)) == {"a": 11, "b": 3}
    assert days_of(latest_days([Step("a"), Step("b", on=3)], links)) == {"b": 3}


def test_days_that_do_not_work_are_passed_over_and_what_was_wanted_is_kept():
    steps, links = chain((7, 11), (2, 3))
    found = expected_days(steps, links, (), lambda _step, day: 15 if 11 <= day < 15 else day)
    assert days_of(found) == {"a": 15, "b": 18}
    assert (found["a"].wanted, found["b"].wanted) == (11, 18)


def test_what_must_stay_close_waits_for_the_other():
    steps, links = chain((4, 8), (3, 3), (2, 3))
    away = lambda step, day: 40 if step.id == "c" and day < 40 else day  # noqa: E731
    stay = Stay("a", "c", 10, WHY)
    found = expected_days(steps, links, [stay], away)
    assert days_of(found) == {"a": 30, "b": 33, "c": 40}
    assert found["a"].by is stay
    assert days_of(expected_days(steps, links, [stay], any_day)) == {"a": 8, "b": 11, "c": 14}


def test_what_can_never_be_close_is_said_and_not_looked_for_without_end():
    steps, links = chain((0, 0), (11, 11))
    with pytest.raises(NoSolution, match="a"):
        expected_days(steps, links, [Stay("a", "b", 10, WHY)], any_day)


def test_a_link_that_leads_back_is_a_mistake():
    steps, _ = chain((1, 1), (1, 1))
    with pytest.raises(ValueError, match="stands later"):
        earliest_days(steps, [Link("b", "a", WHY, 1)])


def test_gaps_that_contradict_each_other_are_a_mistake():
    steps, links = chain((1, 1), (2, 2), (2, 2), most=20)
    with pytest.raises(ValueError, match="longest"):
        latest_days(steps, [*links, Link("a", "c", WHY, most=3)])


# Random graphs


@st.composite
def graphs(draw: Any, most: int = 6) -> tuple[list[Step], list[Link]]:
    """Up to six steps, each after day 0 and after some of the others; some of them done already."""
    count = draw(st.integers(1, most))
    gaps = st.integers(0, 9)
    steps, links = [], []
    for number in range(count):
        done = draw(st.none() | st.none() | st.none() | gaps)
        steps.append(Step(NAMES[number], on=done))
        links.append(Link(START, NAMES[number], WHY, draw(gaps), draw(st.none() | gaps)))
        for earlier in range(number):
            if draw(st.booleans()):
                last = draw(st.none() | st.integers(10, 20)) if draw(st.booleans()) else None
                links.append(
                    Link(NAMES[earlier], NAMES[number], WHY, draw(gaps), draw(st.none() | gaps), last)
                )
        if draw(st.booleans()):
            links.append(Link(START, NAMES[number], WHY, most=draw(st.integers(60, 90))))
    return steps, links


def solved(steps: list[Step], links: list[Link], sign: int, most: bool) -> list[float] | None:
    """The least (sign 1) or largest (-1) days by linear programming; None if there are none."""
    place = {step.id: number for number, step in enumerate(steps)}
    done = {step.id for step in steps if step.on is not None}
    rows, limits = [], []
    for link in links:
        if link.after in done:
            continue
        row = np.zeros(len(steps))
        row[place[link.after]] = 1
        if link.before != START:
            row[place[link.before]] -= 1
        if link.least is not None:
            rows.append(-row)
            limits.append(-link.least)
        if most and link.most is not None:
            rows.append(row)
            limits.append(link.most)
    bounds = [(step.on, step.on) if step.on is not None else (None, FAR) for step in steps]
    answer = linprog(
        [sign] * len(steps),
        np.array(rows) if rows else None,
        limits or None,
        bounds=bounds,
        method="highs",
    )
    return list(answer.x) if answer.status == 0 else None


@MANY
@given(graphs())
def test_earliest_days_are_those_of_a_linear_program(graph: tuple[list[Step], list[Link]]):
    steps, links = graph
    ours = earliest_days(steps, links)
    theirs = solved(steps, links, 1, most=False)
    assert theirs is not None
    assert [ours[step.id].day for step in steps] == [round(day) for day in theirs]


@MANY
@given(graphs())
def test_latest_days_and_slack_are_those_of_a_linear_program(graph: tuple[list[Step], list[Link]]):
    steps, links = graph
    first, last = solved(steps, links, 1, most=False), solved(steps, links, -1, most=True)
    if first is None or last is None:
        return
    early, late = earliest_days(steps, links), latest_days(steps, links)
    for step, least, day in zip(steps, first, last, strict=True):
        if day > NO_LATEST:
            assert step.id not in late
        else:
            assert late[step.id].day == round(day)
            assert late[step.id].day - early[step.id].day == round(day - least)


@st.composite
def lives(draw: Any) -> dict[str, frozenset[int]]:
    """Days, up to the ninth, on which a step cannot be done."""
    closed = st.frozensets(st.integers(0, 9), max_size=6)
    return {name: draw(closed) for name in NAMES}


def by_trying(
    steps: list[Step], links: list[Link], stays: list[Stay], closed: Any, days: int
) -> list[tuple[int, ...]]:
    """Every choice of days under `days` that keeps every rule."""
    place = {step.id: number for number, step in enumerate(steps)}
    found = []
    for choice in product(range(days), repeat=len(steps)):
        at = {START: 0, **{name: choice[number] for name, number in place.items()}}
        keeps = all(at[link.after] - at[link.before] >= max(link.least, link.usual or 0) for link in links)
        near = all(at[stay.after] - at[stay.before] <= stay.most for stay in stays)
        if keeps and near and all(at[name] not in closed[name] for name in place):
            found.append(choice)
    return found


@st.composite
def small(draw: Any) -> tuple[list[Step], list[Link], list[Stay], dict[str, frozenset[int]]]:
    """Three steps with short gaps, two of which may have to stay close."""
    gaps = st.integers(0, 3)
    steps = [Step(name) for name in "abc"]
    pairs = [(START, "a"), (START, "b"), (START, "c"), ("a", "b"), ("a", "c"), ("b", "c")]
    links = [Link(before, after, WHY, draw(gaps), draw(gaps)) for before, after in pairs]
    stays = [Stay(before, after, draw(st.integers(1, 8)), WHY) for before, after in pairs[3:] if draw(gaps)]
    return steps, links, stays, draw(lives())


def open_day(closed: dict[str, frozenset[int]]) -> Any:
    def next_day(step: Step, day: int) -> int:
        while day in closed[step.id]:
            day += 1
        return day

    return next_day


@MANY
@given(small())
def test_expected_days_are_the_least_of_all_that_are_possible(case: Any):
    steps, links, stays, closed = case
    try:
        ours = expected_days(steps, links, stays, open_day(closed))
    except NoSolution:
        assert by_trying(steps, links, stays, closed, 16) == []
        return
    least = tuple(ours[step.id].day for step in steps)
    possible = by_trying(steps, links, stays, closed, max(least) + 1)
    assert least in possible
    assert all(own <= other for choice in possible for own, other in zip(least, choice, strict=True))


@MANY
@given(small(), lives())
def test_fewer_days_that_work_bring_nothing_forward(case: Any, more: dict[str, frozenset[int]]):
    steps, links, stays, closed = case
    both = {name: days | more[name] for name, days in closed.items()}
    try:
        before, after = (expected_days(steps, links, stays, open_day(days)) for days in (closed, both))
    except NoSolution:
        return
    assert all(after[step.id].day >= before[step.id].day for step in steps)
