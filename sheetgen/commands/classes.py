"""A class at the command line: everybody read and planned, one by one, by the same steps as any batch.

Comes in: the path of a class file.  Goes out: what was planned for one person at a time, and the findings of
all of them together.  `plan_person` knows one person only: no other name can come into their papers, and
whoever is printed alone gets the same.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from sheetgen.commands import common, places
from sheetgen.intake import usable_recipes
from sheetgen.intake.class_readings import with_readings
from sheetgen.intake.classes import ClassFile, Person, read_class, read_person
from sheetgen.planning import plan_batch
from sheetgen.planning.as_json import as_json
from sheetgen.planning.class_json import class_json
from sheetgen.planning.class_plan import ClassPlan, Standing
from sheetgen.planning.joint_shopping import joint_shopping
from sheetgen.planning.plan import Plan
from sheetgen.planning.standing import standing_of, vessel_clashes
from sheetgen.printing.set import Laid
from sheetgen.problems import Problem, Problems, Said
from sheetgen.records import record

MOST_NAMED = 6
About = tuple[str, str, Sequence[Problem]]
"""Code, name, findings."""


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


def read(path: Path, order: Order, tables: Sequence[Path] = ()) -> ClassFile:
    """The class in a file, with what was read since: its own tables, then those that are named besides."""
    found = read_class(path, order.today)
    every = tuple(dict.fromkeys((*found.readings, *tables)))
    if every:
        with_facts = with_readings(found.people, every)
        files = {**found.files, **{one.name: one for one in every}}
        found = replace(found, people=with_facts.people, astray=with_facts.problems, files=files)
    return replace(found, people=tuple(_with_clashes(found.people, order)))


def _with_clashes(people: Sequence[Person], order: Order) -> Iterator[Person]:
    """Everybody; whose shared vessel is somebody else's then has a stop.  Only who shares is planned here."""
    sharing = [one for one in people if one.shared_vessel]
    planned = (plan_person(one, order, lay_out=False) for one in (sharing if len(sharing) > 1 else ()))
    stops = {
        later.code: _clash(later, one)
        for later, one in vessel_clashes([one.standing for one in planned if one.standing])
    }
    for one in people:
        yield replace(one, wrong=(*one.wrong, stops[one.code])) if one.code in stops else one


def _clash(later: Standing, earlier: Standing) -> Problem:
    found = f"{later.vessel} is in use by {earlier.code} until {earlier.busy_until}"
    fix = f"brew after {earlier.busy_until}, or use another vessel"
    return Problem("stop", found, later.at, fix, (later.name, "shared-vessel"))


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
            theirs = one.path[:1] and (one.path[0] == name or one.path[0].startswith("batch "))
            held.setdefault(replace(one, path=one.path[1 if theirs else 0 :]), []).append(f"{own} {name}")
    found, counted = Problems(), 0
    for one, about in held.items():
        if one.level == "note" and one.span is None and len(about) < len(people):
            counted += 1
        else:
            found.add(replace(one, path=(_about(code, about, len(people)), *one.path)))
    if counted:
        found.note(f"{common.count(counted, 'assumption')} about some people only: on their own sheets")
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


@record
class LoadedClass:
    """A class file, its plan (None: nobody can be planned), its people without a plan, and everything found;
    `texts` are their plans for other programs, if those were to be kept.
    """

    file: ClassFile
    plan: ClassPlan | None
    missing: tuple[Person, ...]
    problems: Problems
    texts: tuple[bytes, ...] = ()


def load(path: Path, order: Order, lay_out: bool, keep: bool = False) -> LoadedClass:
    """Read and plan everybody of a class, one after the other; of each plan only what is needed is kept."""
    found = read(path, order)
    told, standings, missing, texts = list[About](), list[Standing](), list[Person](), list[bytes]()
    for person in found.people:
        one = plan_person(person, order, lay_out)
        told.append((person.code, person.name, worded(one.problems, one.units)))
        if one.standing is None or one.plan is None or one.problems.stopped:
            missing.append(person)
            continue
        standings.append(one.standing)
        texts += [plan_bytes(one.plan)] if keep else []
    problems = all_found(found, told)
    plan = plan_of(found, standings, order) if standings else None
    return LoadedClass(found, plan, tuple(missing), problems, tuple(texts))


def all_found(found: ClassFile, told: Sequence[About]) -> Problems:
    """All findings: of the file, of rows that are nobody's, and of everybody."""
    problems = Problems(found.problems)
    problems.extend(found.astray)
    problems.extend(gathered(found.code, told))
    return problems


def plan_bytes(plan: Plan) -> bytes:
    """One person's plan for other programs, as it is written beside their paper."""
    return dumped(as_json(plan, common.in_english))


def json_bytes(plan: ClassPlan, problems: Problems, texts: Iterable[bytes]) -> bytes:
    """The class for other programs: what is shared, and everybody's plan."""
    head = dumped(class_json(plan, problems, common.in_english))
    plans = b",\n".join(one.rstrip() for one in texts)
    return head.removesuffix(b"\n}\n") + b',\n "batches": [\n' + plans + b"\n]\n}\n"


def dumped(told: Mapping[str, object]) -> bytes:
    """A JSON file."""
    text = json.dumps(told, indent=1, ensure_ascii=False, allow_nan=False)
    return text.encode("utf-8", "replace") + b"\n"
