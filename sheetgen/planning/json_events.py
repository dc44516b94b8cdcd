"""The events of a plan for other programs.

Comes in: a `Plan`.  Goes out: what JSON has.
"""

from __future__ import annotations

from sheetgen.planning.json_pieces import Json, each
from sheetgen.planning.plan import Plan

_FIELDS = ("on", "name", "guests", "drinks_ml", "bottles", "ready", "chill", "margin_days", "met")
_LIMITS = ("brew_by", "spare_try_by", "last_test")


def events(plan: Plan) -> Json:
    """Where the brew day comes from, and every event with its margin and its last days."""
    return {"brew_day_is": plan.brew_day_is, "events": each(plan.events, *_FIELDS, *_LIMITS)}
