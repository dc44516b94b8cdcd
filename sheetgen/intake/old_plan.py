"""An earlier plan of ours, read back: the tasks whose days a phone may still show.

Comes in: the path of a `…-plan.json`, of a batch or of a season.  Goes out: `OldPlans`, or a sentence that
says why it is none. The file may come from anywhere: it is data, its size and every value are checked, and
nothing of it goes on but codes, days and ids of tasks.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from sheetgen.intake.season_kinds import season_name
from sheetgen.intake.season_tables import MOST_BATCHES
from sheetgen.model.reminders import OldPlan, OldPlans, OldTask
from sheetgen.units import Misread

MOST_BYTES = 16 * 1024 * 1024
MOST_TASKS = 1000
_FORMAT, _VERSION = "sheetgen-plan", 1
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)
_CODE = re.compile(r"[0-9A-Z]{2,4}", re.ASCII)
_DAY = re.compile(r"2[01]\d\d-\d\d-\d\d", re.ASCII)
_LONGEST_ID = 40
_ODD = "is damaged, or not a plan of this program"


class NotAPlan(ValueError):  # noqa: N818 - it is a finding, and reads as one
    """The file is no plan that can be used; `args[0]` says why, to follow the file's name."""


def read_old_plans(path: Path) -> OldPlans:
    """The earlier plans in that file; NotAPlan when there is none."""
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as fault:
        raise NotAPlan(f"cannot be read: {fault.strerror or 'the system refused'}") from fault
    return old_plans(data)


def old_plans(data: bytes) -> OldPlans:
    """The earlier plan in these bytes, or all those of a season; NotAPlan when there is none."""
    if len(data) > MOST_BYTES:
        raise NotAPlan("is larger than 16 MiB; a plan of this program is far smaller")
    try:
        whole = json.loads(data.decode("utf-8-sig"))
    except (ValueError, RecursionError) as fault:
        raise NotAPlan(_ODD) from fault
    if not isinstance(whole, dict) or whole.get("format") != _FORMAT:
        raise NotAPlan("is not a plan of this program; name the -plan.json of an earlier run")
    if whole.get("version") != _VERSION:
        raise NotAPlan("is a plan of another version of this program")
    if "season" in whole and "batches" in whole:
        return _season(whole)
    if "tasks" not in whole:
        raise NotAPlan("is of a batch or season that was stopped: there is nothing in it to replace")
    return OldPlans((_checked(whole),))


def _season(whole: dict[str, Any]) -> OldPlans:
    season, batches = whole["season"], whole["batches"]
    name = season.get("name") if isinstance(season, dict) else None
    if not isinstance(name, str) or isinstance(season_name(name), Misread) or not isinstance(batches, list):
        raise NotAPlan(_ODD)
    if len(batches) > MOST_BATCHES or not all(isinstance(one, dict) and "tasks" in one for one in batches):
        raise NotAPlan(_ODD)
    found = tuple(_checked(one) for one in batches)
    if len({one.code for one in found}) < len(found):
        raise NotAPlan(_ODD)
    return OldPlans(found, name)


def _checked(whole: dict[str, Any]) -> OldPlan:
    batch, tasks = whole.get("batch"), whole["tasks"]
    code = batch.get("code") if isinstance(batch, dict) else None
    if not isinstance(code, str) or not _CODE.fullmatch(code) or not isinstance(tasks, list):
        raise NotAPlan(_ODD)
    if len(tasks) > MOST_TASKS:
        raise NotAPlan(f"has more than {MOST_TASKS} tasks")
    found = tuple(_tasks(tasks))
    if len({task.id for task in found}) < len(found):
        raise NotAPlan(_ODD)
    return OldPlan(code, _day(whole.get("printed")), found)


def _tasks(tasks: list[Any]) -> Iterator[OldTask]:
    for task in tasks:
        name = task.get("id") if isinstance(task, dict) else None
        if not isinstance(name, str) or len(name) > _LONGEST_ID or not _ID.fullmatch(name):
            raise NotAPlan(_ODD)
        yield OldTask(
            name, _day(task.get("expected")), task.get("hands_on") is True, task.get("state") == "done"
        )


def _day(text: object) -> date:
    """A day from 2000 to 2199, written as our plans write it."""
    if isinstance(text, str) and _DAY.fullmatch(text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            pass
    raise NotAPlan(_ODD)
