"""One person's files, made from their own batch alone; what others get of it comes back beside them.

Comes in: a `Person` and an `Order`.  Goes out: `Made`.  It may run in a process of its own, so it holds
nothing but plain records.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import replace

from sheetgen.commands import calendars, classes, common
from sheetgen.commands.classes import Order
from sheetgen.intake.classes import Person
from sheetgen.planning.class_plan import Standing
from sheetgen.planning.plan import Plan
from sheetgen.printing import set as printed_set
from sheetgen.printing.calendar_file import Event
from sheetgen.printing.labels import Run
from sheetgen.printing.marks import Page, Words
from sheetgen.printing.set import Laid
from sheetgen.problems import Problem
from sheetgen.records import record

_FOOT_MM, _FOOT_PT = 24.0, 8.0


@record
class Sheets:
    """One document of a person's set: its pages, and a print of what stands on them (without the foot, in
    which only the day of printing may differ); `needed`: its day is not over.
    """

    name: str
    pages: tuple[Page, ...]
    print: str
    needed: bool


@record
class Made:
    """What was made for one person; `files` by their endings.  Without a standing, something stops them."""

    code: str
    name: str
    problems: tuple[Problem, ...]
    standing: Standing | None = None
    files: tuple[tuple[str, bytes], ...] = ()
    sheets: tuple[Sheets, ...] = ()
    runs: tuple[tuple[str, Run], ...] = ()
    events: tuple[Event, ...] = ()
    may_label: bool = True


@record
class Wanted:
    """Which of it the joint files need: pages, labels, and dates in the class's own words."""

    order: Order
    language: str = "en-GB"
    units: str = "metric"
    joint: bool = True


def make_person(person: Person, wanted: Wanted) -> Made:
    """Everything of one person, finished in memory."""
    planned = classes.plan_person(person, wanted.order)
    problems = classes.worded(planned.problems, planned.units)
    plan, laid = planned.plan, planned.laid
    if plan is None or laid is None or planned.problems.stopped:
        return Made(person.code, person.name, problems)
    made = Made(
        code=person.code,
        name=person.name,
        problems=problems,
        standing=planned.standing,
        files=tuple(_files(plan, laid, wanted.order.only)),
        may_label=plan.labels.allowed and plan.safety is None,
    )
    return _with_joint(made, plan, laid, wanted) if wanted.joint else made


def _files(plan: Plan, laid: Laid, only: tuple[str, ...]) -> Iterator[tuple[str, bytes]]:
    drawn = printed_set.draw(laid, plan)
    if drawn.sheets is not None:
        yield "sheets.pdf", drawn.sheets
    if drawn.labels is not None:
        yield "labels.pdf", drawn.labels
    if not only or "calendar" in only:
        yield "calendar.ics", calendars.calendar_of([plan], calendars.Replaced({}))
    if not only or "plan" in only:
        yield "plan.json", classes.plan_bytes(plan)


def _with_joint(made: Made, plan: Plan, laid: Laid, wanted: Wanted) -> Made:
    """With what the joint files take of it; in the coach's own calendar no alarm rings for others."""
    words = common.words_of(wanted.language, wanted.units)
    sheets = (
        Sheets(one.name, one.pages, _print_of(one.pages), _is_needed(one.name, plan)) for one in laid.sheets
    )
    return replace(
        made,
        sheets=tuple(sheets),
        runs=tuple((part.name, part.run) for part in laid.labels if part.run),
        events=calendars.for_the_coach(plan, made.name, words, wanted.language),
    )


def _print_of(pages: tuple[Page, ...]) -> str:
    """The same for pages on which the same stands, in every process."""
    found = hashlib.sha256()
    for page in pages:
        low = page.height - _FOOT_MM
        for mark in page.marks:
            if not (isinstance(mark, Words) and mark.size <= _FOOT_PT and mark.y > low):
                found.update(repr(mark).encode("utf-8", "replace"))
    return found.hexdigest()[:16]


def _is_needed(name: str, plan: Plan) -> bool:
    """Whether the day of a sheet is still to come."""
    done = {task.id for task in plan.tasks if task.state == "done"}
    return not (("brew" in done and name in ("shop", "brew")) or ("bottle" in done and name == "bottling"))
