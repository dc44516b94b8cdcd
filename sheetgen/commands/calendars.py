"""Calendar files: of one batch, or of several in one file, with what is off since an earlier plan.

Comes in: plans, and earlier plans by their codes.  Goes out: the bytes of .ics files.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sheetgen import report
from sheetgen.commands import common
from sheetgen.intake.old_plan import NotAPlan, read_old_plans
from sheetgen.model import OldPlan
from sheetgen.model.reminders import OldPlans
from sheetgen.planning.plan import Plan
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.printing.words import Words
from sheetgen.records import record

if TYPE_CHECKING:
    from sheetgen.printing.calendar_file import Event


@record
class Replaced:
    """The earlier plans by their codes, and those of batches that have left the season that is made."""

    plans: Mapping[str, OldPlan]
    gone: tuple[OldPlan, ...] = ()


def calendar_of(plans: Sequence[Plan], replaced: Replaced, shared: bool = False) -> bytes:
    """One file with the days of all these batches (one at least), each with its own identity: whoever takes
    in this file and a batch's own has every day once.  A `shared` file also cancels what has left.
    """
    from sheetgen.printing import calendar_file
    from sheetgen.printing.views import calendar

    first = plans[0]
    events: list[calendar_file.Event] = []
    for plan in plans:
        words = common.words_of(plan.language, plan.units)
        events += calendar.events(plan, words, replaced.plans.get(plan.code))
    words = common.words_of(first.language, first.units)
    for old in replaced.gone if shared else ():
        events += calendar.gone(old, words)
    name = calendar.calendar_name(first, words) if len(plans) == 1 else calendar.joint_name(plans, words)
    return calendar_file.calendar_bytes(name, events, max(plan.printed for plan in plans), first.language)


def calendar_of_gone(old: OldPlan, season: SeasonPlan) -> bytes:
    """The last file of a batch that has left: its days that were still to come, all cancelled."""
    from sheetgen.printing import calendar_file
    from sheetgen.printing.views import calendar

    events = calendar.gone(old, common.words_of(season.language, season.units))
    return calendar_file.calendar_bytes(old.code, events, season.printed, season.language)


def count_of(plan: Plan) -> int:
    """How many days the batch has in its file."""
    from sheetgen.printing.views import calendar

    found = calendar.events(plan, common.words_of(plan.language, plan.units))
    return sum(not event.cancelled for event in found)


def count_of_gone(old: OldPlan, season: SeasonPlan) -> int:
    """How many of its days are cancelled."""
    from sheetgen.printing.views import calendar

    return len(calendar.gone(old, common.words_of(season.language, season.units)))


def read_replaced(
    names: Sequence[str], plans: Sequence[Plan], seasons: Collection[str] = ()
) -> tuple[Replaced, list[str]]:
    """The earlier plans, and a sentence for each that cannot be used for these batches and `seasons`."""
    found: dict[str, OldPlan] = {}
    wrong, here = [], {plan.code: plan for plan in plans}
    for name in names:
        shown = report.harmless(name)
        try:
            old = read_old_plans(Path(name))
        except NotAPlan as reason:
            wrong.append(f"--replaces: {shown} {reason.args[0]}")
            continue
        mine = old.season in seasons and bool(old.season)
        used = [one for one in old.plans if mine or not old.season or one.code in here]
        unfit = _none_of(old) if not used else ""
        unfit = unfit or next((why for one in used if (why := _unfit(one, found, here, plans, mine))), "")
        if unfit:
            wrong.append(f"--replaces: {shown} {unfit}")
        found |= {one.code: one for one in used}
    return Replaced(found, tuple(old for code, old in found.items() if code not in here)), wrong


def _none_of(old: OldPlans) -> str:
    return f"is a plan of season {old.season}, and none of these files is that season or a batch of it"


def _unfit(
    old: OldPlan, found: Mapping[str, OldPlan], here: Mapping[str, Plan], plans: Sequence[Plan], may_go: bool
) -> str:
    """Why an earlier plan does not fit these batches; "" if it does."""
    if old.code not in here and not may_go:
        return f"is a plan of batch {old.code}, and none of these files is; name the plan of the same batch"
    if old.code in found:
        return f"is the second earlier plan of batch {old.code}; name the newest only"
    if old.printed > max(plan.printed for plan in plans):
        return f"was made on {old.printed}, which is later than today; name an earlier plan"
    return ""


def for_the_coach(plan: Plan, name: str, words: Words, language: str) -> tuple[Event, ...]:
    """Somebody's days in a calendar of the coach: the same entries, with the name and without alarms."""
    from sheetgen.printing.views import calendar

    def own(event: Event) -> Event:
        title = event.summary.replace(plan.code, f"{plan.code} {name}", 1)
        return replace(event, summary=title, alarm=False, language=language)

    return tuple(own(event) for event in calendar.events(plan, words))


def coachs_calendar(code: str, events: Sequence[Event], printed: date, language: str) -> bytes:
    """The days of a whole class in one file."""
    from sheetgen.printing import calendar_file

    return calendar_file.calendar_bytes(code, events, printed, language)
