"""Why each day stands where it stands: short sentences that add up, days that an independent solver finds
again, and facts that move nothing but what depends on them.
"""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from sheetgen.model import Actual, Batch, Bottled, Reading
from sheetgen.planning.plan import Task
from sheetgen.planning.planner import pace_of
from sheetgen.problems import Said
from sheetgen.units import Celsius, Gravity

from .described import RECIPES, day, example, plan_of, six
from .test_plan_dates_always import DAY_0, ORIGINALS, ROOMS, base, in_room, lives, tasks_of, works

MOST_WORDS = 25
MANY = settings(max_examples=int(os.environ.get("RANDOM_CASES", "40")), deadline=None)
"""`RANDOM_CASES=3000` in the environment tries thousands."""
NAMES = ("earliest", "expected", "latest")
EVERY_RECIPE = sorted(path.stem for path in RECIPES.glob("*.yaml"))
FAR = 2000


def words_in(sentence: Said) -> int:
    from sheetgen.commands.common import ENGLISH, words_of

    return max(len(words_of(ENGLISH, units).say(sentence).split()) for units in ("metric", "us"))


def said_by(task: Task) -> list[Said]:
    """Every sentence that a task gives for its days."""
    assert task.reasons is not None, task.id
    found = [task.reasons.earliest, task.reasons.expected]
    found += [task.reasons.latest] if task.reasons.latest else []
    sentences = [*task.when.because, *(reason.because for reason in found)]
    return sentences + [move.because for move in task.moves] + [link.because for link in task.waits]


def check_sentences(tasks: list[Task]) -> None:
    for task in tasks:
        assert task.when.because, task.id
        for sentence in set(said_by(task)):
            assert 0 < words_in(sentence) <= MOST_WORDS, (task.id, sentence)


def check_chains(tasks: dict[str, Task]) -> None:
    """Each day is the day it was counted from and so many more; the expected one before it moved."""
    for task in tasks.values():
        for name in NAMES:
            reason = getattr(task.reasons, name)
            if reason is None:
                assert task.when.latest is None
                continue
            origin = tasks.get(reason.counted_from)
            start = getattr(origin.when, name) if origin else DAY_0
            assert start + timedelta(days=reason.days) == reason.day, (task.id, name)
            if name != "expected" or not task.moves:
                assert getattr(task.when, name) == reason.day, (task.id, name)


@pytest.mark.parametrize(("name", "today"), [("27a", "2-20"), ("27b", "2-20"), ("27c", "3-27")])
def test_every_day_of_an_example_gives_its_reason_in_25_words(name: str, today: str):
    check_sentences(list(plan_of(example(name), day(today)).tasks))


@pytest.mark.parametrize("recipe", EVERY_RECIPE)
def test_every_day_of_a_recipe_gives_its_reason_in_25_words(recipe: str):
    plan = plan_of(six(recipe=recipe, **{"my-days": ["sat"]}, bottles="40 x 500 ml pet"))
    check_sentences(list(plan.tasks))
    check_chains({task.id: task for task in plan.tasks})


@MANY
@given(lives(), ORIGINALS)
def test_reasons_add_up_in_every_life(batch: Batch, original: float):
    tasks = tasks_of(batch, original)
    check_sentences(list(tasks.values()))
    check_chains(tasks)


# The solver


def solved(tasks: list[Task], sign: int) -> list[int]:
    """Least (1) or largest (-1) days by linear programming over the links that the tasks name."""
    place = {task.id: number for number, task in enumerate(tasks)}
    rows, limits, bounds = [], [], []
    for task in tasks:
        done = task.when.expected if not task.waits else None
        fixed = (done - DAY_0).days if done else None
        bounds.append((fixed, fixed) if done else (None, FAR))
        for link in task.waits:
            row = np.zeros(len(tasks))
            row[place[task.id]] = 1
            if link.before in place:
                row[place[link.before]] -= 1
            for gap, side in ((link.least, -1), (link.most if sign < 0 else None, 1)):
                if gap is not None:
                    rows.append(side * row)
                    limits.append(side * gap)
    answer = linprog([sign] * len(tasks), np.array(rows), limits, bounds=bounds, method="highs")
    assert answer.status == 0
    return [round(value) for value in answer.x]


@MANY
@given(lives(), ORIGINALS)
def test_earliest_and_latest_days_and_slack_are_those_of_a_linear_program(batch: Batch, original: float):
    tasks = list(tasks_of(batch, original).values())
    for task, first, last in zip(tasks, solved(tasks, 1), solved(tasks, -1), strict=True):
        assert (task.when.earliest - DAY_0).days == first, task.id
        latest = max(last, task.day)  # what life has put behind its latest day is late, and says so
        assert task.when.latest is None if last == FAR else (task.when.latest - DAY_0).days == latest, task.id  # type: ignore[operator]
        assert task.slack_days == (None if last == FAR else latest - first), task.id


def stays_close(task: Task) -> bool:
    """Whether it moved with bottling."""
    return any(move.because.id in ("move.hops-stay", "move.pass-lasts") for move in task.moves)


@MANY
@given(lives(), ORIGINALS)
def test_expected_days_are_the_first_that_work_after_all_they_wait_for(batch: Batch, original: float):
    tasks = tasks_of(batch, original)
    for task in tasks.values():
        if not task.waits or stays_close(task):
            continue
        wanted = max(
            (tasks[link.before].when.expected if link.before in tasks else DAY_0) + timedelta(days=link.wait)
            for link in task.waits
            if link.wait is not None
        )
        while task.kind and task.may_move and not works(batch, wanted, mine=task.kind != "looking"):
            wanted += timedelta(days=1)
        assert task.when.expected == wanted, task.id


# What moves along


def test_hops_and_the_last_reading_move_with_bottling():
    plan = plan_of(six(recipe="slipway-nine-pale", away=["2027-03-18..2027-04-09"]))
    # usually days 8, 11, 14 and 14; nobody is home on days 12 to 34
    hops, bottle = plan.task("dry-hop"), plan.task("bottle")
    assert (bottle.when.expected - hops.when.expected).days <= 10
    assert hops.moves[0].because.id == "move.hops-stay"
    assert hops.moves[0].was == day("3-14")
    amber = plan_of(six(away=["2027-03-21..2027-04-09"], **{"my-days": ["wed", "sat"]}))
    assert amber.task("test-2").when.expected >= amber.task("bottle").when.expected - timedelta(days=14)


def test_hops_that_no_weekdays_can_keep_close_stay_where_they_are():
    plan = plan_of(six(recipe="slipway-nine-pale", **{"my-days": ["sat"]}))  # three Saturdays, 14 days
    assert [plan.task(name).day for name in ("dry-hop", "test-1", "bottle")] == [14, 21, 28]


def with_facts(batch: Batch, tasks: dict[str, Task], upto: int) -> tuple[Batch, date]:
    """The batch with the first so many of its facts entered as they were planned, on the day of the last."""
    hops, one, two, bottle = (tasks.get(name) for name in ("dry-hop", "test-1", "test-2", "bottle"))
    sg = Gravity(1.0 if batch.recipe.drink.ferments_out else 1.010)
    readings = [Reading(task.when.expected, sg, Celsius(20.0)) for task in (one, two) if task]
    facts: list[tuple[date, dict[str, Any]]] = (
        [(hops.when.expected, {"dry_hopped": hops.when.expected})] if hops else []
    )
    facts += [
        (reading.on, {"readings": tuple(readings[: number + 1])}) for number, reading in enumerate(readings)
    ]
    assert bottle
    facts.append((bottle.when.expected, {"bottled": Bottled(bottle.when.expected, None, None)}))
    entered: dict[str, Any] = {"brewed": DAY_0}
    for _, fact in facts[:upto]:
        entered |= fact
    return replace(batch, actual=Actual(**entered)), facts[min(upto, len(facts)) - 1][0] if upto else DAY_0


@MANY
@given(lives(), st.integers(0, 4))
def test_what_comes_true_as_planned_moves_nothing(batch: Batch, upto: int):
    planned = tasks_of(batch, 1.045)
    entered, today = with_facts(batch, planned, upto)
    again = tasks_of(entered, 1.045, today)
    assert again.keys() == planned.keys()
    for name, task in again.items():
        before = planned[name].when
        assert task.when.expected == before.expected, name
        assert before.earliest <= task.when.earliest, name
        assert before.latest is None or (task.when.latest or before.latest) <= before.latest, name


@MANY
@given(lives(), st.integers(0, 6))
def test_a_fact_moves_nothing_that_does_not_depend_on_it(batch: Batch, late: int):
    batch = replace(batch, recipe=base("ferry-steps-mead").recipe)
    before = tasks_of(batch, 1.080, DAY_0)
    racked = before["rack-1"].when.expected + timedelta(days=late)
    fact = replace(batch, actual=Actual(brewed=DAY_0, done=(("rack", racked),)))
    after = tasks_of(fact, 1.080, racked)
    depends = {"rack-1"}
    for task in before.values():
        depends |= {task.id} if any(link.before in depends for link in task.waits) else set()
    depends |= {task.id for task in (*before.values(), *after.values()) if stays_close(task)}
    for name in before.keys() - depends:
        assert after[name].when.expected == before[name].when.expected, name


# No jumps, and walls for every drink


def usual_days(batch: Batch, room: float, original: float) -> dict[str, int]:
    """Base days at a pace, and the wait in the bottle, without anybody's calendar."""
    pace = pace_of(in_room(batch, room, room), original)
    days = {name: pace.usual(number) for name, number in batch.recipe.drink.days.items()}
    return {**days, "wait": pace.wait, "wall": pace.least(batch.recipe.drink.days["bottle-earliest"])}


@MANY
@given(st.sampled_from(EVERY_RECIPE), st.integers(1400, 2990), st.integers(10300, 11190))
def test_a_little_warmth_or_strength_never_makes_a_jump(recipe: str, room: int, original: int):
    batch = base(recipe)
    here = usual_days(batch, room / 100, original / 10000)
    warmer = usual_days(batch, (room + 1) / 100, original / 10000)
    stronger = usual_days(batch, room / 100, (original + 1) / 10000)
    for name, days in here.items():
        assert 0 <= days - warmer[name] <= 1, name
        # 56 days of age go with 0.015 of gravity, in the cold 2.9 times as many: 1.09 for 0.0001
        assert 0 <= stronger[name] - days <= (2 if name == "wait" else 1), name


@MANY
@given(st.sampled_from(EVERY_RECIPE), lives(), ROOMS, ORIGINALS)
def test_the_walls_hold_for_every_drink(recipe: str, life: Batch, room: float, original: float):
    batch = replace(in_room(base(recipe), room, room), away=life.away, my_days=life.my_days)
    tasks = tasks_of(batch, original)
    assert (tasks["test-1"].when.earliest - DAY_0).days >= 7
    assert tasks["bottle"].day >= 10
    for name in NAMES:
        drink, bottle = (getattr(tasks[task].when, name) for task in ("drink-from", "bottle"))
        assert drink >= bottle + timedelta(days=10)
    for task in tasks.values():
        assert task.when.earliest <= task.when.expected <= (task.when.latest or date.max), task.id
        for link in task.waits:
            origin = tasks[link.before].when if link.before in tasks else None
            gap = task.when.expected - (origin.expected if origin else DAY_0)
            assert link.least is None or gap.days >= link.least, (task.id, link)


@pytest.mark.parametrize(
    ("brewed", "test_1", "bottled"),
    [
        ("2028-02-20", date(2028, 3, 2), date(2028, 3, 5)),  # the 29th of February lies between
        ("2027-12-25", date(2028, 1, 5), date(2028, 1, 8)),  # a year's end, in week 53 of nothing
        ("2026-12-28", date(2027, 1, 8), date(2027, 1, 11)),  # ISO week 53 of 2026
        ("2027-03-20", date(2027, 3, 31), date(2027, 4, 3)),  # clocks change on the 28th
    ],
)
def test_days_are_counted_over_leap_days_year_ends_and_changes_of_clock(
    brewed: str, test_1: date, bottled: date
):
    plan = plan_of(six(brew_day=brewed), date(2026, 12, 1))
    assert plan.task("test-1").when.expected == test_1
    assert plan.task("bottle").when.expected == bottled
