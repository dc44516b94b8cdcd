"""A class for other programs: where everybody stands and what is bought together; their plans come beside it.

Comes in: a `ClassPlan`, its findings, and a function that words a `Said` in English.  Goes out: a dict of
plain values of the format "sheetgen-plan"; the schema is `plan.schema.json` beside this file, at "class".
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from sheetgen.planning.as_json import FORMAT, VERSION, problem_json
from sheetgen.planning.class_plan import ClassPlan, Joint, Standing
from sheetgen.planning.json_pieces import Json, Say, each, each_said, named, plain
from sheetgen.problems import Problem

Prints = Mapping[str, Mapping[str, str]]
"""By code and sheet: what stands on it, in so many letters."""
_NONE: Prints = MappingProxyType({})


def class_json(found: ClassPlan, problems: Iterable[Problem], say: Say, prints: Prints = _NONE) -> Json:
    """What a class has beside the plans of its people."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "printed": plain(found.printed),
        "class": named(found, "code", "coach", "units", "language", "paper"),
        "problems": [problem_json(problem, say) for problem in problems],
        "people": [_standing(one, say, prints) for one in found.people],
        "shopping": [_joint(one) for one in found.shopping],
    }


def _standing(one: Standing, say: Say, prints: Prints) -> Json:
    return {
        **named(one, "code", "name", "stand"),
        "gate": one.gate,
        "because": each_said(one.because, say),
        "read": {"on": plain(one.read[0]), "sg": plain(one.read[1])} if one.read else None,
        "next": {"id": one.next.id, "on": plain(one.next.on)} if one.next else None,
        "shared_vessel": one.vessel or None,
        "chores": each(one.chores, "id", "on", "done"),
        "sheets": dict(prints.get(one.code, {})),
    }


def _joint(one: Joint) -> Json:
    return {
        **named(one, "kind", "name", "unit", "amount", "left", "spare", "by"),
        "packs": [{"packs": number, "size": plain(size)} for number, size in one.packs],
        "shares": each(one.shares, "code", "amount"),
    }
