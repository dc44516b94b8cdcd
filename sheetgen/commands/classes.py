"""A class at the command line: everybody read and planned, one by one, by the same steps as any batch.

Comes in: the path of a class file.  Goes out: `Made`, what was made for one person, which keeps nothing of the
plan itself; and the findings of all of them together.  `make_person` knows one person only: no other name can
come into their papers, and whoever is printed alone gets the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from sheetgen.commands import common, places
from sheetgen.intake import usable_recipes
from sheetgen.intake.classes import ClassFile, Person, read_person
from sheetgen.planning import plan_batch
from sheetgen.planning.class_plan import ClassPlan, Standing
from sheetgen.planning.joint_shopping import joint_shopping
from sheetgen.planning.plan import Plan
from sheetgen.planning.standing import standing_of
from sheetgen.printing.set import Laid
from sheetgen.problems import Problem, Problems, Said
from sheetgen.records import record

MOST_NAMED = 6


@record
class Order:
    """What is wanted for everybody: today, the command line's own values, and parts (none: all)."""

    today: date
    overrides: Mapping[str, str]
    only: tuple[str, ...] = ()


@record
class Planned:
    """One person, read, planned and laid out; without a plan if anything stops them."""

    person: Person
    plan: Plan | None
    standing: Standing | None
    laid: Laid | None
    problems: Problems
    units: str = ""


def plan_person(person: Person, order: Order, lay_out: bool = True) -> Planned:
    """Read, plan and lay out one person's batch."""
    batch, problems = read_person(person, order.today, order.overrides)
    problems.extend(person.wrong)
    if batch is None or problems.stopped:
        return Planned(person, None, None, None, problems)
    written = places.written_as(person.tree, batch, person.beside)
    problems.extend(places.unprintable(written))
    plan = plan_batch(batch, order.today, problems, lambda: usable_recipes(person.beside))
    if plan is None or problems.stopped:
        return Planned(person, None, None, None, problems, batch.units)
    plan = replace(plan, problems=tuple(replace(one, span=None) for one in plan.problems))
    standing = standing_of(plan, batch, person.name, person.shared_vessel)
    laid = None
    if lay_out:
        loaded = common.Loaded(
            person.beside / f"{person.code.lower()}.yaml", plan, problems, written, batch.units
        )
        laid = common.lay_out(loaded, order.only)
    return Planned(person, plan, standing, laid, problems, batch.units)


def plan_of(found: ClassFile, standings: Sequence[Standing], order: Order) -> ClassPlan:
    """The class, planned: its people in the order of the table; words and paper are those that all have."""
    language, paper, units = customs(found, order)
    people = tuple(standings)
    return ClassPlan(
        found.code, found.coach, order.today, paper, language, units, people, joint_shopping(people)
    )


def customs(found: ClassFile, order: Order) -> tuple[str, str, str]:
    """Language, paper and units of the class's own pages: what the class says, else what is usual."""
    paper = order.overrides.get("paper") or found.paper
    return found.language, paper, found.units


# Findings


def gathered(code: str, made: Iterable[tuple[str, str, Iterable[Problem]]]) -> Problems:
    """The findings of everybody, (code, name, findings), each told once, with whom it is about.

    What is assumed for single people stands on their own paper; here it is only counted.
    """
    held: dict[Problem, list[str]] = {}
    people = list(made)
    for own, name, problems in people:
        for one in problems:
            held.setdefault(replace(one, path=one.path[1:]), []).append(f"{own} {name}")
    found, counted = Problems(), 0
    for one, about in held.items():
        if one.level == "note" and one.span is None and len(about) < len(people):
            counted += 1
        else:
            found.add(replace(one, path=(_about(code, about, len(people)), *one.path)))
    if counted:
        found.note(
            f"{counted} assumptions that do not hold for everybody stand on the sheets of those they are about"
        )
    return found


def _about(code: str, people: Sequence[str], everybody: int) -> str:
    if len(people) == everybody > 1:
        return f"class {code}"
    if len(people) == 1:
        return people[0]
    named = ", ".join(one.partition(" ")[0] for one in people[:MOST_NAMED])
    return named + (f" and {len(people) - MOST_NAMED} more" if len(people) > MOST_NAMED else "")


def worded(problems: Iterable[Problem], units: str) -> tuple[Problem, ...]:
    """The findings with their sentences in English: as they can be told, and sent to another process."""

    def plain(sentence: str | Said) -> str:
        return common.in_english(sentence, units)

    return tuple(replace(one, message=plain(one.message), fix=plain(one.fix)) for one in problems)


def tell(problems: Problems, path: Path, found: ClassFile) -> None:
    """All findings, each in the file that it is about."""
    common.tell(problems, path, found.files)


def each_planned(found: ClassFile, order: Order, lay_out: bool, done: Callable[[Planned], None]) -> None:
    """Everybody, one after the other; what `done` does not keep is forgotten."""
    for person in found.people:
        done(plan_person(person, order, lay_out))
