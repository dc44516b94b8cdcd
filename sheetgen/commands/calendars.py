"""Calendar files: of one batch, or of several in one file, with what is off since an earlier plan.

Comes in: plans, and earlier plans by their codes.  Goes out: the bytes of .ics files.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from sheetgen import report
from sheetgen.commands import common
from sheetgen.intake.old_plan import NotAPlan, read_old_plan
from sheetgen.model import OldPlan
from sheetgen.planning.plan import Plan

Replaced = Mapping[str, OldPlan]


def calendar_of(plans: Sequence[Plan], replaced: Replaced) -> bytes:
    """One file with the days of all these batches (one at least), each with its own identity: whoever takes
    in this file and a batch's own has every day once.
    """
    from sheetgen.printing import calendar_file
    from sheetgen.printing.views import calendar

    first = plans[0]
    events: list[calendar_file.Event] = []
    for plan in plans:
        words = common.words_of(plan.language, plan.units)
        events += calendar.events(plan, words, replaced.get(plan.code))
    words = common.words_of(first.language, first.units)
    name = calendar.calendar_name(first, words) if len(plans) == 1 else calendar.joint_name(plans, words)
    return calendar_file.calendar_bytes(name, events, max(plan.printed for plan in plans), first.language)


def count_of(plan: Plan) -> int:
    """How many days the batch has in its file."""
    from sheetgen.printing.views import calendar

    found = calendar.events(plan, common.words_of(plan.language, plan.units))
    return sum(not event.cancelled for event in found)


def read_replaced(names: Sequence[str], plans: Sequence[Plan]) -> tuple[Replaced, list[str]]:
    """The earlier plans by their codes, and a sentence for each that cannot be used for these batches."""
    found: dict[str, OldPlan] = {}
    wrong = []
    for name in names:
        shown = report.harmless(name)
        try:
            old = read_old_plan(Path(name))
        except NotAPlan as reason:
            wrong.append(f"--replaces: {shown} {reason.args[0]}")
            continue
        unfit = _unfit(old, found, plans)
        if unfit:
            wrong.append(f"--replaces: {shown} {unfit}")
        found[old.code] = old
    return found, wrong


def _unfit(old: OldPlan, found: Replaced, plans: Sequence[Plan]) -> str:
    """Why an earlier plan does not fit these batches; "" if it does."""
    plan = next((plan for plan in plans if plan.code == old.code), None)
    if plan is None:
        return f"is a plan of batch {old.code}, and none of these files is; name the plan of the same batch"
    if old.code in found:
        return f"is the second earlier plan of batch {old.code}; name the newest only"
    if old.printed > plan.printed:
        return f"was made on {old.printed}, which is later than today; name an earlier plan"
    return ""
