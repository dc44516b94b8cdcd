"""Any life at all, held against days that are looked up one after another (`days_by_hand`)."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date, timedelta
from functools import cache

from hypothesis import given, reject, settings
from hypothesis import strategies as st

from sheetgen.model import Batch, Shifts, Weekly
from sheetgen.planning.forward import Forward
from sheetgen.planning.life import NoDay
from sheetgen.planning.looking import gate_of
from sheetgen.planning.plan import Task
from sheetgen.planning.schedule import schedule
from sheetgen.planning.waiting import with_costs
from sheetgen.planning.ways_to_a_day import brew_day_that_works, fewest_changes

from . import days_by_hand as by_hand
from .days_by_hand import Days, Person
from .described import FEBRUARY, read, six

SATURDAY = date(2027, 3, 6)
CASES = int(os.environ.get("RANDOM_CASES", "60"))
MANY, SOME = settings(max_examples=CASES, deadline=None), settings(max_examples=CASES // 3, deadline=None)
"""`RANDOM_CASES=3000` in the environment tries thousands."""
HANDS = ("testing", "bottling")


@cache
def amber() -> Batch:
    batch, _ = read(six())
    assert batch is not None
    return batch


def batch_of(person: Person, brewed: date = SATURDAY) -> Batch:
    """The batch of somebody who lives so."""
    days = tuple(
        (work, Weekly(frozenset(each.weekdays) if each.weekdays else None, each.every, each.first))
        for work, each in person.days.items()
    )
    rounds = tuple(
        Shifts(begins, tuple(letter == "f" for letter in letters), ends)
        for begins, letters, ends in person.rounds
    )
    return replace(
        amber(),
        brew_day=brewed,
        work_days=days,  # type: ignore[arg-type]
        shifts=rounds,
        extra_days=person.holidays,
        public_days=person.public,
        away=person.away,
    )


def days_by_looking(person: Person) -> dict[str, date] | None:
    """The days by hand; a life of which they are not known is thrown away."""
    try:
        return by_hand.run(person, SATURDAY)
    except by_hand.Unsure:
        reject()


def tasks_of(person: Person, brewed: date = SATURDAY) -> dict[str, Task] | None:
    one = Forward(batch_of(person, brewed), FEBRUARY)
    gate = gate_of(one.batch, one.strength, FEBRUARY)
    try:
        return {task.id: task for task in schedule(one.batch, one.strongest, gate, FEBRUARY)[0]}
    except NoDay:
        return None


DATES = st.integers(-20, 400).map(lambda n: SATURDAY + timedelta(days=n))
WEEKDAYS = st.lists(st.integers(0, 6), unique=True, max_size=5).map(lambda days: tuple(sorted(days)))
SOME_DAYS = st.builds(Days, WEEKDAYS, st.integers(1, 5), st.none() | DATES)
WORKS = st.sampled_from(("brewing", "testing", "bottling", "looking"))
ROUNDS = st.tuples(DATES, st.text("wf", min_size=1, max_size=12), st.none() | DATES)
AWAY = st.tuples(DATES, st.sampled_from((0, 1, 3, 10, 40, 400))).map(
    lambda span: (span[0], span[0] + timedelta(days=span[1]))
)
FREE = st.frozensets(DATES, max_size=4)
WEEKLY = st.builds(Days, WEEKDAYS)
MINE = st.fixed_dictionaries(
    {}, optional={"brewing": SOME_DAYS, "testing": SOME_DAYS, "bottling": WEEKLY, "looking": SOME_DAYS}
)
PEOPLE = st.builds(
    Person,
    MINE,
    st.lists(ROUNDS, max_size=2).map(tuple),
    FREE,
    FREE,
    st.lists(AWAY, max_size=5).map(tuple),
)


@MANY
@given(PEOPLE)
def test_every_day_is_the_one_that_is_found_by_looking(person: Person):
    expected, found = days_by_looking(person), tasks_of(person)
    assert (found is None) == (expected is None)
    for name, day in (expected or {}).items():
        assert found is not None
        assert found[name].when.expected == day, name


@MANY
@given(PEOPLE)
def test_a_move_is_later_and_names_the_day_that_did_not_work(person: Person):
    for task in (tasks_of(person) or {}).values():
        for move in task.moves:
            if move.because.id == "move.pass-lasts":
                continue  # it moved with bottling
            work = "testing" if task.id.startswith("test-") and task.id != "test-bottle" else "looking"
            work = "bottling" if task.id == "bottle" else work
            assert move.was < task.when.expected
            assert not person.can(move.was, work)
            assert (move.because.id in ("move.away", "move.away-on")) == (not person.home(move.was))


@MANY
@given(PEOPLE, st.lists(AWAY, max_size=3))
def test_more_days_away_bring_no_day_forward(person: Person, more: list[tuple[date, date]]):
    before = tasks_of(person)
    after = tasks_of(replace(person, away=(*person.away, *more)))
    if before is None:
        assert after is None
    for name, task in (after or {}).items():
        assert before is not None
        assert task.when.expected >= before[name].when.expected


@MANY
@given(PEOPLE, FREE)
def test_more_holidays_put_no_day_off(person: Person, more: frozenset[date]):
    before, after = tasks_of(person), tasks_of(replace(person, holidays=person.holidays | more))
    for name, task in (before or {}).items():
        assert after is not None
        assert after[name].when.expected <= task.when.expected


@MANY
@given(PEOPLE)
def test_the_days_alone_are_those_of_the_whole_schedule(person: Person):
    one, found = Forward(batch_of(person), FEBRUARY), tasks_of(person)
    run = one.of(one.batch)
    assert (run is None) == (found is None)
    if run and found:
        assert run.bottled == found["bottle"].when.expected
        assert run.ready == found["drink-from"].when.expected


@MANY
@given(PEOPLE)
def test_the_cost_of_a_move_is_what_its_cause_costs(person: Person):
    one = Forward(batch_of(person), FEBRUARY)
    gate = gate_of(one.batch, one.strength, FEBRUARY)
    try:
        tasks, _ = schedule(one.batch, one.strongest, gate, FEBRUARY)
    except NoDay:
        return
    expected = days_by_looking(person)
    assert expected is not None
    for task in with_costs(tasks, one.batch, one.strongest, gate, FEBRUARY):
        for move in task.moves:
            gone = absence(person, move.was)
            away = tuple(span for span in person.away if span[0] not in gone)
            free = replace(
                person, away=away, holidays=person.holidays if gone else person.holidays | {move.was}
            )
            sooner = days_by_looking(free)
            if sooner is None:  # filled sooner, more than a year would pass until a day to look at a bottle
                assert move.cost is not None
                assert move.cost.id != "cost.days"
                continue
            saved = (expected["bottle"] - sooner["bottle"]).days
            late = (expected["bottle"] - SATURDAY).days > 28
            assert move.cost is not None
            assert move.cost.id == ("cost.nothing" if not saved else "cost.late" if late else "cost.days")
            assert move.cost.values.get("days", 0) == saved


def absence(person: Person, day: date) -> list[date]:
    """The days away around one of them, without a day at home between; none if it is no day away."""
    first = last = day
    while not person.home(first):
        first -= timedelta(days=1)
    while not person.home(last):
        last += timedelta(days=1)
    return [first + timedelta(days=n) for n in range(1, (last - first).days)]


@SOME
@given(PEOPLE)
def test_the_next_brew_day_is_the_one_that_is_found_by_trying_all(person: Person):
    found = brew_day_that_works(Forward(batch_of(person), FEBRUARY))
    try:
        expected = by_hand.brew_day(person, SATURDAY)
    except by_hand.Unsure:
        reject()
    assert found == expected


NEVER = st.builds(
    Person,
    st.dictionaries(WORKS, st.sampled_from((Days((5,)), Days((0, 1)))), max_size=3),
    st.lists(st.sampled_from(((SATURDAY, "w", None), (SATURDAY, "wwwwwff", None))), max_size=1).map(tuple),
    st.just(frozenset()),
    st.just(frozenset()),
    st.lists(
        st.sampled_from((5, 6, 0, None)).map(
            lambda weekday: (
                (SATURDAY + timedelta(days=9), SATURDAY + timedelta(days=900))
                if weekday is None
                else (SATURDAY + timedelta(days=12 + weekday), SATURDAY + timedelta(days=12 + weekday))
            )
        ),
        max_size=3,
    ).map(tuple),
)


@SOME
@given(NEVER)
def test_the_fewest_changes_are_those_that_are_found_by_trying_all(person: Person):
    one = Forward(batch_of(person), FEBRUARY)
    if one.of(one.batch) is None:
        try:
            expected = by_hand.fewest(person, SATURDAY)
        except by_hand.Unsure:
            reject()
        assert set(fewest_changes(one)) == expected
    else:
        assert days_by_looking(person) is not None
