"""A class for other programs: where everybody stands and what is bought together; their plans come beside it.

Comes in: a `ClassPlan`, its findings, and a function that words a `Said` in English.  Goes out: a dict of
plain values of the format "sheetgen-plan"; the schema is `plan.schema.json` beside this file, at "class".
"""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.planning.as_json import FORMAT, VERSION, problem_json
from sheetgen.planning.class_plan import ClassPlan, Joint, Standing
from sheetgen.planning.json_pieces import Json, Say, each, each_said, named, plain
from sheetgen.problems import Problem


def class_json(found: ClassPlan, problems: Iterable[Problem], say: Say) -> Json:
    """What a class has beside its plans; the key "batches", with a plan for each of its people, goes with
    it.
    """
    return {
        "format": FORMAT,
        "version": VERSION,
        "printed": plain(found.printed),
        "class": named(found, "code", "coach", "units", "language", "paper"),
        "problems": [problem_json(problem, say) for problem in problems],
        "people": [_standing(one, say) for one in found.people],
        "shopping": [_joint(one) for one in found.shopping],
    }


def _standing(one: Standing, say: Say) -> Json:
    return {
        **named(one, "code", "name", "stand"),
        "gate": one.gate,
        "because": each_said(one.because, say),
        "read": {"on": plain(one.read[0]), "sg": plain(one.read[1])} if one.read else None,
        "next": {"id": one.next.id, "on": plain(one.next.on)} if one.next else None,
        "shared_vessel": one.vessel or None,
        "chores": each(one.chores, "id", "on", "done"),
    }


def _joint(one: Joint) -> Json:
    return {
        **named(one, "kind", "name", "unit", "amount", "left", "spare", "by"),
        "packs": [{"packs": number, "size": plain(size)} for number, size in one.packs],
        "shares": each(one.shares, "code", "amount"),
    }
