"""Heat that full bottles will meet: from which day, how much pressure it makes, and by when to move them.

Comes in: a room by dates, the days of filling and moving, gas and life.  Goes out: `HotStay`s, a finding for
each and a sentence for paper.  A heat wave is nobody's plan: it warns, it stops nothing, it moves no date.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.planning.event_tasks import marked_anew
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.graph import START
from sheetgen.planning.life import Life
from sheetgen.planning.plan import Carbonation, Reason, Reasons, Task, When
from sheetgen.planning.plan_keeping import HotStay
from sheetgen.planning.pressure import bar
from sheetgen.planning.rooms import warmest_stays
from sheetgen.problems import Problem, Said, said

HOT_C = 25.0
"""Bottles warmer than this gain pressure and lose taste (common practice, no source)."""
MOST_C = 40.0
"""The solubility of gas is known up to here; above it the pressure is more than is said."""
MOST_DAYS_BEFORE = 60
"""So many days before the heat a day at home is looked for."""


def hot_stays(
    batch: Batch, tasks: tuple[Task, ...], gas: Carbonation | None, life: Life, today: date
) -> tuple[HotStay, ...]:
    """Every rise above 25 C that is still ahead, or has not ended, between filling and best before."""
    day = {task.id: task.when.expected for task in tasks}
    filled, until = day["bottle"], day["best-before"]
    moved = day.get("move-to-cool", filled)
    found, before = [], 0.0
    for first, last, celsius in warmest_stays(batch.room, filled, moved, until):
        if celsius > max(HOT_C, before) and last > today:
            by = _by(first, max(filled, today), life)
            found.append(replace(_stay(first, celsius, gas, by), begins=before <= HOT_C))
        before = celsius
    return tuple(found)


def _stay(first: date, celsius: float, gas: Carbonation | None, by: date) -> HotStay:
    at = min(MOST_C, celsius)
    volumes = gas.highest_volumes if gas else None
    pressures = (None, None) if volumes is None else (bar(volumes, at), bar(volumes, at, with_air=True))
    return HotStay(first, celsius, by, *pressures)


def _by(first: date, earliest: date, life: Life) -> date:
    """The last day at home before the heat; its first day if there is none."""
    days = (first - timedelta(days=back) for back in range(1, MOST_DAYS_BEFORE + 1))
    return next((day for day in days if day >= earliest and life.is_home(day)), max(first, earliest))


def spells_of(stays: Sequence[HotStay]) -> list[HotStay]:
    """The first stay of each spell of heat: bottles are moved once before each of them."""
    return [stay for stay in stays if stay.begins]


def with_heat(tasks: Sequence[Task], stays: Sequence[HotStay], pitched: date) -> tuple[Task, ...]:
    """The tasks with a move to the cool before each spell of heat."""
    found = [_task(number, stay, pitched) for number, stay in enumerate(spells_of(stays), 1)]
    return marked_anew([*tasks, *found]) if found else tuple(tasks)


def _task(number: int, stay: HotStay, pitched: date) -> Task:
    day, why = stay.move_by, said("why.heat", on=stay.on, celsius=stay.celsius)
    reason = Reason(day, START, (day - pitched).days, why)
    return Task(
        f"heat-{number}",
        reason.days,
        When(day, day, day, (why,)),
        True,
        "to-do",
        kind="looking",
        needs=("home", "bottles"),
        may_move=False,
        reasons=Reasons(reason, reason, reason),
    )


def sentence_of(hot: HotStay) -> Said:
    """What is said of it, on paper and in the terminal."""
    if hot.gauge_bar is None:
        return said("hot.still", on=hot.on, celsius=hot.celsius, by=hot.move_by)
    name = "hot.fizzy-over" if hot.celsius > MOST_C else "hot.fizzy"
    return said(name, on=hot.on, celsius=hot.celsius, bar=hot.gauge_bar, by=hot.move_by)


def bottles_are_moved_out_of_the_heat(facts: Facts) -> Iterator[Problem]:
    """In time, while somebody is at home."""
    for hot in hot_stays(facts.batch, facts.tasks, facts.gas, facts.life, facts.today):
        yield finding(facts, "warn", sentence_of(hot), "room.storing", said("fix.hot"))
