"""Rules of the kind of drink: its usual gravity and its work on given days; each is named as a sentence.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.brewing import gravity
from sheetgen.model import Job
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.plan import Task
from sheetgen.problems import Problem, said


def a_gravity_that_is_unusual_for_the_drink_is_named(facts: Facts) -> Iterator[Problem]:
    """Above it the waits and the yeast are those of another drink; below it there is little taste."""
    usual, found = facts.batch.recipe.drink.gravity, facts.found.calculated
    if usual is None:
        return
    low, high = (gravity.ten_thousandths(end) for end in usual)
    if not low <= gravity.ten_thousandths(min(found, 1.199)) <= high:
        values = {"sg": found, "low": float(usual[0]), "high": float(usual[1])}
        yield finding(
            facts, "warn", said("warn.drink-gravity", **values), "recipe", said("fix.drink-gravity")
        )


def _jobs(facts: Facts) -> Iterator[tuple[Job, Task]]:
    """The drink's jobs that take time, each with its task."""
    jobs = {job.what: job for job in facts.batch.recipe.drink.jobs if not job.quick}
    for task in facts.tasks:
        what = task.id.rpartition("-")[0]
        if what in jobs:
            yield jobs[what], task


def a_job_after_its_last_harmless_day_is_named(facts: Facts) -> Iterator[Problem]:
    """The drink stands too long on what has sunk."""
    for job, task in _jobs(facts):
        late = (task.when.expected - task.when.earliest).days
        if task.state != "done" and job.may_wait is not None and late > job.may_wait:
            message = said("warn.job-late", task=task.id, on=task.when.expected, days=late)
            yield finding(facts, "warn", message, "away" if "away" in facts.batch.where else "my-days")


def a_job_whose_day_has_passed_is_taken_as_done(facts: Facts) -> Iterator[Problem]:
    """The file does not say so, and the plan goes on from there."""
    entered = {(what, on) for what, on in facts.batch.actual.done}
    for job, task in _jobs(facts):
        on = task.when.expected
        if on < facts.today and (job.what, on) not in entered and not facts.batch.actual.bottled:
            message = said("note.job-done", task=task.id, on=on)
            fix = said("fix.job-done", what=job.what)
            yield finding(facts, "note", message, "actual", fix)
