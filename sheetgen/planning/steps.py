"""Brew day, one action a step, in the order of the hands.

Comes in: a `Batch`, its scaled amounts and its water.  Goes out: steps with the number each needs, its usual
minutes and, when the start is known, its clock time.  Times are usual for a kitchen (common practice, no
source).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, timedelta

from sheetgen.model import Job
from sheetgen.planning.brew_day import BrewDay, amount_of, stir_in
from sheetgen.planning.cleaning_steps import gear_steps
from sheetgen.planning.cold_steps import cold_steps, pitch_steps
from sheetgen.planning.plan import Amount, Step, Task, Use
from sheetgen.planning.work import COLD, COLD_C
from sheetgen.problems import SaidValue, said

PITCH_STEPS = ("step.pitch", "step.pitch-whole")
STEEP_MINUTES = 25.0
SOAK_MINUTES = 10.0
LATER = "group.later"
JOB_CAUTIONS = {"degas": "degas-foam"}


def clean_steps(day: BrewDay) -> list[Step]:
    """Wash; mark the vessel; sanitise; soak what is stiff."""
    litres, later = Amount(day.scaled.mark_l, "L"), day.scaled.later_l
    how = said("step.mark.note-later", litres=later) if day.more_comes else said("step.mark.note")
    mark = Step(said("step.mark"), "group.clean", litres, how, minutes=5.0)
    steps = [mark, *gear_steps(day.cleaning)]
    if any(
        use.role == "extract" and "liquid" in use.id for use in day.uses("pot", "boil", "off-heat", "vessel")
    ):
        steps.append(Step(said("step.soak"), "group.clean", Amount(SOAK_MINUTES, "min"), minutes=0.0))
    return steps


def _steep_steps(day: BrewDay) -> list[Step]:
    grains = day.uses("pot", "boil", roles=("grain",))
    if not grains:
        return []
    bag = [Step(said("step.bag", name=use.name), "group.warm", amount_of(use), minutes=3.0) for use in grains]
    steep = Step(
        said("step.steep"),
        "group.warm",
        Amount(STEEP_MINUTES, "min"),
        said("step.steep.note"),
        minutes=STEEP_MINUTES,
    )
    return [*bag, steep, Step(said("step.lift-bag"), "group.warm", minutes=3.0)]


def _pot_uses(day: BrewDay, *stages: str) -> list[Use]:
    return [use for use in day.uses(*stages) if use.role not in ("grain", "hops", "juice")]


def warm_steps(day: BrewDay) -> list[Step]:
    """No boil: hot water, off the heat, malt and sugar stirred in."""
    if not day.water.kettle_l:
        return []
    heat = Step(
        said("step.boil-water"),
        "group.warm",
        Amount(day.water.kettle_l, "L"),
        said("step.boil-water.note"),
        minutes=10.0,
    )
    stirred = [stir_in(use, "group.warm") for use in _pot_uses(day, "pot", "boil", "off-heat")]
    hops = [_hops_in(use, "group.warm") for use in day.uses("pot", "off-heat", roles=("hops",))]
    return [heat, *_steep_steps(day), *stirred, *hops]


def _hops_in(use: Use, group: str) -> Step:
    """Hops that are in the pot while it does not boil, or not yet."""
    return Step(said("step.add-hops-off", name=use.name), group, amount_of(use), minutes=5.0)


def _hop_steps(day: BrewDay) -> list[Step]:
    """Boil additions, longest first, each with the minutes that are left; then what goes in off the heat."""
    boil = day.batch.recipe.boil_minutes or 0.0
    additions = sorted(day.uses("boil"), key=lambda use: -use.minutes)
    steps = []
    for index, use in enumerate(additions):
        left = min(use.minutes, boil)
        following = min(additions[index + 1].minutes, boil) if index + 1 < len(additions) else 0.0
        if index == 0 and left < boil:
            steps.append(
                Step(said("step.keep-boiling"), "group.boil", Amount(boil - left, "min"), minutes=boil - left)
            )
        sentence = "step.add-hops" if use.role == "hops" else "step.add-boil"
        wait = left - following
        steps.append(
            Step(said(sentence, name=use.name), "group.boil", amount_of(use), minutes=wait, left_min=left)
        )
    return steps


def boil_steps(day: BrewDay) -> list[Step]:
    """Water, steeping, extract off the heat, the boil with its additions, then the late ones."""
    start = Step(said("step.heat-water"), "group.warm", Amount(day.water.kettle_l, "L"), minutes=15.0)
    stirred = [stir_in(use, "group.warm") for use in _pot_uses(day, "pot")]
    boil = Step(
        said("step.bring-to-boil"),
        "group.boil",
        Amount(day.batch.recipe.boil_minutes or 0.0, "min"),
        said("step.bring-to-boil.note"),
        "boil-over",
        minutes=15.0,
    )
    late = [
        _hops_in(use, "group.boil") if use.role == "hops" else stir_in(use, "group.boil")
        for use in day.uses("off-heat")
        if use.role != "grain"
    ]
    off = Step(said("step.off-heat"), "group.boil", minutes=2.0)
    malt = [_pot_off(), *stirred] if stirred else []
    first = [_hops_in(use, "group.warm") for use in day.uses("pot", roles=("hops",))]
    return [start, *_steep_steps(day), *malt, *first, boil, *_hop_steps(day), off, *late]


def _pot_off() -> Step:
    """Extract scorches: the pot leaves the heat before it goes in."""
    return Step(said("step.pot-off"), "group.warm", caution="off-heat", minutes=1.0)


def _jobs(tasks: Iterable[Task], what: str) -> list[Task]:
    return [task for task in tasks if task.id.rpartition("-")[0] == what]


def _quick_job(job: Job, tasks: list[Task]) -> Step:
    """One line for a job that is done day after day."""
    first, last = tasks[0].when.expected, tasks[-1].when.expected
    note = said(f"step.{job.what}.note")
    to: dict[str, SaidValue] = {"low": float(job.to[0]), "high": float(job.to[1])} if job.to else {}
    return Step(
        said(f"step.{job.what}", first=first, last=last, n=len(tasks), **to),
        LATER,
        None,
        note,
        JOB_CAUTIONS.get(job.what),
    )


def _job_steps(day: BrewDay, job: Job, tasks: list[Task]) -> list[tuple[date, Step]]:
    """A drink's job with its days, and what goes in with it."""
    if not tasks:
        return []
    if job.quick:
        return [(tasks[0].when.expected, _quick_job(job, tasks))]
    steps = []
    for task in tasks:
        on = task.when.expected
        steps.append((on, _quick_job(job, [task])))
        with_it = [use for use in day.uses("rack") if task.id == f"rack-{use.day}"]
        steps += [(on, Step(said("step.add-rack", name=use.name), LATER, amount_of(use))) for use in with_it]
    return steps


def _cold_step(task: Task, days: int) -> Step:
    low, high = COLD_C
    sentence = said("step.cold", on=task.when.expected, days=days)
    return Step(sentence, LATER, None, said("step.cold.note", low=low, high=high))


def later_steps(day: BrewDay, tasks: Iterable[Task]) -> tuple[Step, ...]:
    """What is done to the drink on a later day, with the day it is expected, in order of days."""
    listed = tuple(tasks)
    when = {task.id: task.when.expected for task in listed}
    hops = [
        (
            when["dry-hop"],
            Step(said("step.dry-hop", name=use.name, on=when["dry-hop"]), LATER, amount_of(use)),
        )
        for use in day.uses("dry-hop")
    ]
    others = [
        (when[f"add-day-{use.day}"], _add_later(use, when[f"add-day-{use.day}"])) for use in day.uses("day")
    ]
    drink = day.batch.recipe.drink
    jobs = [step for job in drink.jobs for step in _job_steps(day, job, _jobs(listed, job.what))]
    cold = _jobs(listed, COLD)
    jobs += [(task.when.expected, _cold_step(task, day.batch.cold_days)) for task in cold]
    return tuple(step for _, step in sorted([*others, *jobs, *hops], key=lambda pair: pair[0]))


def _add_later(use: Use, on: date) -> Step:
    caution = "nutrient-foam" if use.role in ("nutrient", "sugar", "honey") else None
    return Step(said("step.add-later", name=use.name, on=on), LATER, amount_of(use), caution=caution)


def _with_clock(steps: Iterable[Step], start: datetime | None) -> tuple[Step, ...]:
    timed, at = [], start
    for step in steps:
        timed.append(replace(step, clock=at))
        at = at + timedelta(minutes=step.minutes) if at else None
    return tuple(timed)


def pitching_of(steps: Iterable[Step]) -> datetime | None:
    """When the yeast goes in, if the start is known."""
    return next((step.clock for step in steps if step.said.id in PITCH_STEPS), None)


def brew_steps(day: BrewDay) -> tuple[Step, ...]:
    """The whole brew day."""
    hot = boil_steps(day) if day.boiled else warm_steps(day)
    steps = [*clean_steps(day), *hot, *cold_steps(day), *pitch_steps(day)]
    start = day.batch.start
    return _with_clock(
        steps, datetime.combine(day.batch.actual.brewed or day.batch.brew_day, start) if start else None
    )
