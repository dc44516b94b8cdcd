"""The dates: earliest, expected and latest of everything from brew day to best before.

Comes in: a `Batch`, its gravities, the gate's verdict and today.  Goes out: tasks in order of their dates.
Day 0 is the day the yeast goes in.  Expected days move later only, to days that work; earliest days are walls
that nothing brings forward; the latest is when one should begin to worry.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from sheetgen.brewing import rounding
from sheetgen.model import Batch
from sheetgen.planning.after_filling import bottle_tasks, keeping_of
from sheetgen.planning.life import life_of
from sheetgen.planning.looking import look_tests
from sheetgen.planning.plan import PASSED, Gate, Task, When
from sheetgen.planning.planner import (
    Pace,
    Planner,
    done_on,
    has_begun,
    has_dry_hops,
    pace_of,
    pitched_on,
    task_of,
)
from sheetgen.planning.work import Dated, work_of
from sheetgen.problems import Said, said

LOOKS = (12, 24, 48)
MORNING, NIGHT = time(8, 0), time(22, 0)
EVENING = time(18, 0)
"""When the yeast is taken to go in, if no start is given."""
LATEST_AFTER_EXPECTED = 14
HOPS_BEFORE_TEST = 3
"""Hops free sugar: the first reading that counts is this many days after them (cautious judgement, no
source).
"""
HOPS_EARLIEST = 4
"""For a drink whose days do not speak of hops."""


def brew_task(plan: Planner) -> Task:
    """Brew day stays where the file put it."""
    day = plan.batch.actual.brewed or plan.batch.brew_day
    if has_begun(plan.batch) or day < plan.today:
        return done_on(plan, "brew", day)
    return task_of(plan, "brew", When(day, day, day, (said("why.brew-day"),)))


def in_the_day(moment: datetime) -> datetime:
    """The moment itself, or the next morning if it falls into the night: nobody gets up to look at a
    bucket.
    """
    if moment.time() < MORNING:
        return datetime.combine(moment.date(), MORNING)
    if moment.time() >= NIGHT:
        return datetime.combine(moment.date() + timedelta(days=1), MORNING)
    return moment


def look_tasks(plan: Planner) -> list[Task]:
    """Looks at 12, 24 and 48 hours; clock times when the start is known."""
    begins = plan.pitching or datetime.combine(plan.pitched, EVENING)
    tasks = []
    for hours in LOOKS:
        clock = in_the_day(begins + timedelta(hours=hours))
        on = clock.date()
        task = task_of(plan, f"look-{hours}h", When(on, on, on, (said("why.look", hours=hours),)), False)
        clock_known = clock if plan.pitching else None
        tasks.append(replace(task, clock=clock_known, state="done" if on < plan.today else "to-do"))
    return tasks


def _usual_why(plan: Planner, sentence: str, days: int) -> Said:
    return said(sentence, days=days, celsius=float(plan.batch.room.fermenting[0]))


def hop_task(plan: Planner) -> Task | None:
    """Hops go in from day 4, three days before the first test, and move with it while they are not in."""
    if not has_dry_hops(plan.batch):
        return None
    if plan.batch.actual.dry_hopped:
        return done_on(plan, "dry-hop", plan.batch.actual.dry_hopped)
    earliest = plan.day(plan.pace.least(plan.base("hops-earliest", HOPS_EARLIEST)))
    first_test, _ = plan.life.next_day(plan.day(plan.pace.usual(plan.base("test-1"))))
    wanted = max(
        earliest, first_test - timedelta(days=int(plan.base("hops-before-test-1", HOPS_BEFORE_TEST)))
    )
    expected, moves = plan.find(wanted, "adding")
    latest = max(expected, plan.day(rounding.waiting_days(14 * max(1.0, plan.pace.factor))))
    why = (said("why.dry-hop", days=HOPS_BEFORE_TEST),)
    return task_of(plan, "dry-hop", When(earliest, expected, latest, why), True, moves)


def work_task(plan: Planner, one: Dated) -> Task:
    """Work on a given day; once that day is past, it is taken as done."""
    task = task_of(plan, one.id, one.when, True, one.moves)
    return replace(task, state="done" if one.done or one.when.expected < plan.today else "to-do")


def counted_days(gate: Gate) -> list[date]:
    """Days with a reading that counts, in order."""
    return sorted({reading.on for reading in gate.readings if reading.counts})


def first_test(plan: Planner, gate: Gate, fed: Sequence[When]) -> Task:
    """Gravity test 1: never before day 7, nor within three days of anything that feeds or wakes the yeast."""
    rest = timedelta(days=HOPS_BEFORE_TEST)
    earliest = max(
        [plan.day(plan.pace.least(plan.base("test-1-earliest"))), *(when.earliest + rest for when in fed)]
    )
    days = plan.pace.usual(plan.base("test-1"))
    wanted = max([earliest, plan.day(days), *(when.expected + rest for when in fed)])
    if gate.next_date and gate.next_date > plan.today:
        wanted = max(wanted, gate.next_date)
    expected, moves = plan.find(wanted)
    return task_of(
        plan, "test-1", When(earliest, expected, None, (_usual_why(plan, "why.test-1", days),)), True, moves
    )


def second_test(plan: Planner, gate: Gate, first: Task) -> Task:
    """Gravity test 2: at least the gap later."""
    counted = counted_days(gate)
    gap = timedelta(days=plan.pace.gap)
    earliest = first.when.earliest + gap
    usual = max(plan.pace.gap, rounding.waiting_days(plan.base("test-2-gap")))
    wanted = first.when.expected + timedelta(days=usual)
    if gate.next_date and counted:
        wanted = first.when.expected + gap
        wanted = max(wanted, gate.next_date) if gate.next_date > plan.today else wanted
    expected, moves = plan.find(wanted)
    why = (said("why.test-2", days=plan.pace.gap),)
    return task_of(plan, "test-2", When(earliest, expected, None, why), True, moves)


def more_test(plan: Planner, gate: Gate) -> Task | None:
    """A further test, when two were taken and the gate still waits."""
    counted = counted_days(gate)
    if len(counted) < 2 or gate.state in ("pass", "pass-with-care") or gate.next_date is None:
        return None
    expected, moves = plan.find(gate.next_date)
    number = len(counted) + 1
    return task_of(plan, f"test-{number}", When(gate.next_date, expected, None, gate.because), True, moves)


def _rested(works: Iterable[Dated], day: str) -> list[date]:
    """The first days for bottling that the drink's jobs leave, by their "earliest" or "expected" days."""
    return [getattr(one.when, day) + timedelta(days=one.rest) for one in works if one.rest]


def bottle_task(plan: Planner, gate: Gate, last_test: Task, works: Sequence[Dated] = ()) -> Task:
    """Bottling, if the gate is passed: never before day 10, nor before the last test, nor before a drink that
    was moved to a clean vessel has come to rest.
    """
    if plan.batch.actual.bottled:
        return done_on(plan, "bottle", plan.batch.actual.bottled.on)
    passed = gate.state in PASSED
    wall = plan.day(plan.pace.least(plan.base("bottle-earliest")))
    earliest = max([wall, last_test.when.earliest, *_rested(works, "earliest")])
    wall = max([wall, *_rested(works, "expected")])
    days = plan.pace.usual(plan.base("bottle"))
    wanted = (
        max(wall, last_test.when.expected) if passed else max(wall, plan.day(days), last_test.when.expected)
    )
    expected, moves = plan.find(wanted, "bottling")
    base_latest = plan.day(plan.pace.least(plan.base("bottle-latest")))
    latest = max(base_latest, expected + timedelta(days=LATEST_AFTER_EXPECTED))
    why = _usual_why(plan, "why.bottle-passed" if passed else "why.bottle", days)
    return task_of(plan, "bottle", When(earliest, expected, latest, (why,)), True, moves)


def _with_next(tasks: list[Task]) -> list[Task]:
    """Mark the first hands-on task that is still to do, in the order of expected days."""
    ordered = sorted(tasks, key=lambda task: task.when.expected)
    found = next((task for task in ordered if task.hands_on and task.state == "to-do"), None)
    return [replace(task, state="next") if task is found else task for task in ordered]


def _finish_looks(tasks: list[Task], test: Task) -> list[Task]:
    """Once a test was taken, everything before it is behind us."""
    if test.state != "done":
        return tasks
    return [replace(task, state="done") if _is_behind(task, test.when.expected) else task for task in tasks]


def _is_behind(task: Task, tested: date) -> bool:
    return task.id.startswith(("look-", "add-day")) or task.when.expected <= tested


def schedule(
    batch: Batch, original: float, gate: Gate, today: date, brew_minutes: float = 0.0
) -> tuple[tuple[Task, ...], Pace]:
    """All tasks of the batch in order of their expected dates, and the pace they rest on.

    `brew_minutes` is from the start of brew day to the yeast; it dates the looks when the start is known.
    Raises NoDay when no day within a year works.
    """
    pitched = pitched_on(batch)
    pitching = (
        datetime.combine(pitched, batch.start) + timedelta(minutes=brew_minutes) if batch.start else None
    )
    plan = Planner(batch, pace_of(batch, original), life_of(batch), pitched, today, pitching)
    works, hops = work_of(batch, plan.pace), hop_task(plan)
    early = [*look_tasks(plan), *(work_task(plan, one) for one in works), *([hops] if hops else [])]
    fed = [one.when for one in works if one.feeds] + ([hops.when] if hops else [])
    tests = _tests(plan, gate, fed)
    bottle = bottle_task(plan, gate, tests[-1], works)
    if bottle.state == "done":
        tests, early = [_done(task) for task in _before_filling(tests)], [_done(task) for task in early]
    later = bottle_tasks(plan, bottle, keeping_of(batch), gate.state == "pass-with-care")
    tasks = [brew_task(plan), *_finish_looks(early, tests[0]), *tests, bottle, *later]
    return tuple(_with_next(tasks)), plan.pace


def _done(task: Task) -> Task:
    return replace(task, state="done")


def _before_filling(tests: Sequence[Task]) -> list[Task]:
    """The tests that were taken, and the two that every batch has; none is still to come."""
    return [task for place, task in enumerate(tests) if place < 2 or task.state == "done"]


def _tests(plan: Planner, gate: Gate, fed: Sequence[When]) -> list[Task]:
    """Every test that was taken, then what is still to be read: two at least."""
    if gate.by_looks:
        return look_tests(plan, gate, fed)
    taken = [done_on(plan, f"test-{number}", on) for number, on in enumerate(counted_days(gate), start=1)]
    if len(taken) >= 2:
        further = more_test(plan, gate)
        return [*taken, *([further] if further else [])]
    one = taken[0] if taken else first_test(plan, gate, fed)
    return [one, second_test(plan, gate, one)]
