"""Dates that hold in every life: random rooms, strengths, weekdays, absences."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model import Actual, Batch, Reading, Room
from sheetgen.planning.gatekeeping import judge
from sheetgen.planning.life import NoDay
from sheetgen.planning.plan import Task
from sheetgen.planning.scaling import scale
from sheetgen.planning.schedule import schedule
from sheetgen.planning.strength import strength
from sheetgen.units import Celsius, Gravity

from .described import FEBRUARY, day, read, six

DAY_0 = day("3-6")
RECIPES = ("copper-lane-amber", "slipway-nine-pale", "plot-eleven-cider")
QUICK = settings(max_examples=150, deadline=None)


@cache
def base(recipe: str) -> Batch:
    batch, _ = read(six(recipe=recipe))
    assert batch is not None
    return batch


def in_room(batch: Batch, celsius: float, warm: float) -> Batch:
    return replace(batch, room=Room((Celsius(celsius), Celsius(celsius)), Celsius(warm), Celsius(15.0)))


ROOMS = st.integers(28, 58).map(lambda halves: halves / 2)
ORIGINALS = st.integers(1030, 1110).map(lambda points: points / 1000)
AWAYS = st.lists(st.tuples(st.integers(1, 70), st.integers(0, 20)), max_size=4)
WEEKDAYS = st.none() | st.frozensets(st.integers(0, 6), min_size=1)


def away(spans: list[tuple[int, int]]) -> tuple[tuple[date, date], ...]:
    return tuple(sorted((DAY_0 + timedelta(days=a), DAY_0 + timedelta(days=a + n)) for a, n in spans))


@st.composite
def lives(draw: Any) -> Batch:
    batch = in_room(base(draw(st.sampled_from(RECIPES))), draw(ROOMS), draw(ROOMS))
    free = draw(st.frozensets(st.integers(0, 60).map(lambda n: DAY_0 + timedelta(days=n)), max_size=3))
    return replace(batch, away=away(draw(AWAYS)), my_days=draw(WEEKDAYS), extra_days=free)


def tasks_of(batch: Batch, original: float, today: date = FEBRUARY) -> dict[str, Task]:
    gate = judge(batch, strength(batch, scale(batch)), today)
    return {task.id: task for task in schedule(batch, original, gate, today)[0]}


def days_between(earlier: Task, later: Task) -> int:
    return (later.when.expected - earlier.when.expected).days


def check_walls(tasks: dict[str, Task]) -> None:
    one, two, bottle, drink = (tasks[name] for name in ("test-1", "test-2", "bottle", "drink-from"))
    assert (one.when.earliest - DAY_0).days >= 7
    assert one.day >= 7
    assert days_between(one, two) >= 2
    assert bottle.when.earliest >= max(DAY_0 + timedelta(days=10), two.when.earliest)
    assert bottle.day >= 10
    assert bottle.when.expected >= two.when.expected
    assert days_between(bottle, drink) >= 10
    assert tasks["best-before"].when.expected >= tasks["best-from"].when.expected >= drink.when.expected
    if "dry-hop" in tasks:
        assert tasks["dry-hop"].day >= 4
        assert days_between(tasks["dry-hop"], one) >= 3


def check_ranges(tasks: dict[str, Task]) -> None:
    for task in tasks.values():
        assert task.when.earliest <= task.when.expected, task
        assert task.when.latest is None or task.when.expected <= task.when.latest, task
        assert all(move.was < task.when.expected and move.because.id for move in task.moves), task


def works(batch: Batch, on: date, mine: bool) -> bool:
    home = not any(first <= on <= last for first, last in batch.away)
    return home and (
        not mine or batch.my_days is None or on.weekday() in batch.my_days or on in batch.extra_days
    )


@QUICK
@given(lives(), ORIGINALS)
def test_walls_and_ranges_hold_in_every_life(batch: Batch, original: float):
    tasks = tasks_of(batch, original)
    check_walls(tasks)
    check_ranges(tasks)
    for name in ("dry-hop", "test-1", "test-2", "bottle"):
        assert name not in tasks or works(batch, tasks[name].when.expected, mine=True), name
    for name in ("squeeze", "test-bottle", "move-to-cool"):
        assert name not in tasks or works(batch, tasks[name].when.expected, mine=False), name


@QUICK
@given(lives(), ORIGINALS, AWAYS)
def test_more_days_away_bring_nothing_forward(batch: Batch, original: float, more: list[tuple[int, int]]):
    before, after = (
        tasks_of(batch, original),
        tasks_of(replace(batch, away=batch.away + away(more)), original),
    )
    assert all(after[name].when.expected >= before[name].when.expected for name in before)


@QUICK
@given(lives(), ORIGINALS, ROOMS, ROOMS)
def test_a_colder_room_brings_nothing_forward(batch: Batch, original: float, one: float, two: float):
    colder = tasks_of(in_room(batch, min(one, two), 20.0), original)
    warmer = tasks_of(in_room(batch, max(one, two), 20.0), original)
    assert all(colder[name].when.expected >= warmer[name].when.expected for name in warmer)


@QUICK
@given(lives(), ROOMS, ORIGINALS, ORIGINALS)
def test_more_strength_brings_nothing_forward(batch: Batch, room: float, one: float, two: float):
    weak, strong = (tasks_of(in_room(batch, room, room), value) for value in (min(one, two), max(one, two)))
    assert all(strong[name].when.expected >= weak[name].when.expected for name in weak)


READINGS = st.lists(st.tuples(st.integers(1, 50), st.integers(990, 1040)), max_size=5)


@QUICK
@given(lives(), READINGS, st.integers(0, 70), st.none() | st.integers(4, 20))
def test_nothing_is_planned_for_yesterday(
    batch: Batch, readings: list[tuple[int, int]], today: int, hopped: int | None
):
    taken = [
        Reading(DAY_0 + timedelta(days=n), Gravity(sg / 1000), Celsius(20))
        for n, sg in readings
        if n <= today
    ]
    hops = DAY_0 + timedelta(days=hopped) if hopped is not None and hopped <= today else None
    batch = replace(batch, actual=Actual(brewed=DAY_0, readings=tuple(taken), dry_hopped=hops))
    now = DAY_0 + timedelta(days=today)
    try:
        tasks = tasks_of(batch, 1.045, now)
    except NoDay:
        return
    check_ranges(tasks)
    assert all(task.when.expected >= now for task in tasks.values() if task.state != "done")
    assert sum(task.state == "next" for task in tasks.values()) == 1
    assert tasks["bottle"].day >= 10
    assert tasks["bottle"].when.expected >= max(
        t.when.expected for n, t in tasks.items() if n.startswith("test-") and n[5:].isdigit()
    )


@QUICK
@given(READINGS, READINGS, st.integers(7, 50))
def test_time_alone_never_opens_the_gate(early: Any, late: Any, today: int):
    batch = base("copper-lane-amber")
    taken = [
        Reading(DAY_0 + timedelta(days=n), Gravity(sg / 1000), Celsius(20))
        for n, sg in early + late
        if n <= today
    ]
    batch = replace(batch, actual=Actual(brewed=DAY_0, readings=tuple(taken)))
    found = strength(batch, scale(batch))
    now, later = (judge(batch, found, DAY_0 + timedelta(days=today + more)).state for more in (0, 20))
    assert later == now or (now in ("pass", "pass-with-care") and later == "wait")
