"""The part of plan.json that says why the days stand where they stand.

Comes in: a `Task` or a `Tempo`, and a function that words a `Said` in English.  Goes out: plain values.
"""

from __future__ import annotations

from sheetgen.planning.graph import Link
from sheetgen.planning.json_pieces import Json, Say, named, plain, sentence_of
from sheetgen.planning.plan import Reason, Task, Tempo


def pace(tempo: Tempo | None) -> Json | None:
    """How room and strength change the days."""
    names = ("ferment_factor", "strength_ferment_days", "strength_bottle_days", "fizz_days", "gap_days")
    return named(tempo, *names) if tempo else None


def grounds(task: Task, say: Say) -> Json:
    """What a task waits for, what it needs, how much it may slip, and what decided each of its days."""
    found = task.reasons
    return {
        **named(task, "kind", "may_move", "slack_days"),
        "needs": list(task.needs),
        "waits": [_wait(link, say) for link in task.waits],
        "reasons": {
            "earliest": _reason(found.earliest if found else None, say),
            "expected": _reason(found.expected if found else None, say),
            "latest": _reason(found.latest if found else None, say),
        },
        "first_free": plain(task.first_day),
        "due_by": plain(found.due_by) if found else None,
    }


def _wait(link: Link, say: Say) -> Json:
    days = {f"{name}_days": plain(getattr(link, name)) for name in ("least", "usual", "most")}
    return {**named(link, "before", "after"), **days, **sentence_of(link.because, say)}


def _reason(reason: Reason | None, say: Say) -> Json | None:
    """None where any later day is fine, or where nobody worked the day out."""
    if reason is None:
        return None
    return {**named(reason, "day", "counted_from", "days"), **sentence_of(reason.because, say)}
