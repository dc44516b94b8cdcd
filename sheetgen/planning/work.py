"""Work on given days while it ferments and clears: a drink's jobs, and what the recipe puts in late.

Comes in: a `Batch` and its pace.  Goes out: `Dated` work in the order of its days.  A job falls on its usual
day or later, never sooner; one that was entered as done stands on the day on which it was done.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch, Job
from sheetgen.planning.graph import START, Link
from sheetgen.planning.life import Life, life_of
from sheetgen.planning.plan import Move, When
from sheetgen.planning.planner import Pace, pitched_on
from sheetgen.problems import said
from sheetgen.records import record


@record
class Dated:
    """One piece of work: the id of its task, its days, and what follows from it.

    `feeds`: it feeds or wakes the yeast.  `rest`: least days from it to bottling.  `done`: it was entered.
    `quick`: somebody at home is enough.  `links`: the rules that its days follow from.
    """

    id: str
    when: When
    moves: tuple[Move, ...] = ()
    feeds: bool = False
    rest: int = 0
    done: bool = False
    quick: bool = False
    links: tuple[Link, ...] = ()


COLD = "cold"
"""What the file calls days in the cold, among what was done."""
COLD_C = (2.0, 6.0)
"""How cold that is (common practice, no source)."""


def rackings_with_additions(batch: Batch) -> frozenset[int]:
    """Numbers of the rackings at which something goes in."""
    return frozenset(part.when.day for part in batch.recipe.ingredients if part.when.stage == "rack")


def _recorded(batch: Batch, job: Job) -> list[date]:
    """The days on which such a job was done, as entered; standing it as warm counts, however it was said."""
    done = {on for name, on in batch.actual.done if name == job.what}
    warm = {on for on, to in batch.actual.warmed if job.to and to >= job.to[0]}
    return sorted(done | warm)


def cold_since(batch: Batch) -> date | None:
    """The day on which it was put into the cold, as entered; None if it has been stood warmer since."""
    on = max((on for what, on in batch.actual.done if what == COLD), default=None)
    return None if on is None or any(day > on for day, _ in batch.actual.warmed) else on


def was_cold(batch: Batch, on: date) -> bool:
    """Whether it stood in the cold on this day, and not only from then on: whatever is read there stands
    still, and shows nothing.
    """
    days = [(day, True) for what, day in batch.actual.done if what == COLD]
    days += [(day, False) for day, _ in batch.actual.warmed]
    return next((cold for day, cold in sorted(days, reverse=True) if day < on), False)


def is_needed(job: Job, batch: Batch) -> bool:
    """Whether the room, at its cooler end, is one in which the job is done; it counts if it was done."""
    return job.below is None or batch.room.fermenting[0] < job.below or bool(_recorded(batch, job))


def rest_celsius(batch: Batch) -> float | None:
    """How warm the drink stands at least since it stood warmer, by its jobs; None if it does not."""
    jobs = [job for job in batch.recipe.drink.jobs if job.to and is_needed(job, batch)]
    return max((float(job.to[0]) for job in jobs if job.to), default=None)


def _planned(job: Job, number: int, before: Dated | None, pace: Pace, pitched: date, life: Life) -> Dated:
    """The job on its usual day, or on the first later one that works and lies far enough from the last."""
    usual = pitched + timedelta(days=pace.least(job.days[number]) if job.paced else job.days[number])
    apart = timedelta(days=job.apart)
    earliest = max([usual, *([before.when.earliest + apart] if before else [])])
    wanted = max([earliest, *([before.when.expected + apart] if before else [])])
    expected, moves = life.next_day(wanted, "looking" if job.quick else "racking")
    latest = None if job.may_wait is None else max(expected, usual + timedelta(days=job.may_wait))
    day, name = (usual - pitched).days, f"{job.what}-{number + 1}"
    why = said("why.job", days=day)
    links = [Link(START, name, why, day, most=None if job.may_wait is None else day + job.may_wait)]
    if before:
        links.append(Link(before.id, name, said("why.job-apart", days=job.apart), job.apart))
    return Dated(
        id=name,
        when=When(earliest, expected, latest, (why,)),
        moves=moves,
        feeds=job.wakes,
        rest=job.rest,
        quick=job.quick,
        links=tuple(links),
    )


def _of_job(job: Job, batch: Batch, pace: Pace) -> Iterator[Dated]:
    recorded, before = _recorded(batch, job), None
    for number in range(len(job.days)):
        if number < len(recorded):
            on = recorded[number]
            one = Dated(f"{job.what}-{number + 1}", When(on, on, on), (), job.wakes, job.rest, True)
        else:
            one = _planned(job, number, before, pace, pitched_on(batch), life_of(batch))
            if before and job.quick and one.when.expected <= before.when.expected:
                continue  # two quick jobs that moved to one day are one job
        before = one
        yield one


def jobs_of(batch: Batch, pace: Pace) -> tuple[Dated, ...]:
    """Every job of the drink."""
    fed = {f"rack-{number}" for number in rackings_with_additions(batch)}
    found = [
        one for job in batch.recipe.drink.jobs if is_needed(job, batch) for one in _of_job(job, batch, pace)
    ]
    return tuple(
        replace(one, feeds=True) if one.id in fed else one
        for one in sorted(found, key=lambda one: (one.when.expected, one.id))
    )


def additions_of(batch: Batch) -> tuple[Dated, ...]:
    """What the recipe puts in on a given day; on a quick job's day it moves as that does."""
    life, pitched = life_of(batch), pitched_on(batch)
    quick = {day for job in batch.recipe.drink.jobs if job.quick and not job.paced for day in job.days}
    days = sorted({part.when.day for part in batch.recipe.ingredients if part.when.stage == "day"})
    return tuple(_addition(n, pitched + timedelta(days=n), life, n in quick) for n in days)


def _addition(number: int, on: date, life: Life, quick: bool) -> Dated:
    expected, moves = life.next_day(on, "looking" if quick else "adding")
    name, why = f"add-day-{number}", said("why.addition", days=number)
    links = (Link(START, name, why, number),)
    return Dated(name, When(on, expected, None, (why,)), moves, feeds=True, quick=quick, links=links)


def work_of(batch: Batch, pace: Pace) -> tuple[Dated, ...]:
    """Additions and jobs, in the order of their days."""
    both = [*additions_of(batch), *jobs_of(batch, pace)]
    return tuple(sorted(both, key=lambda one: one.when.expected))
