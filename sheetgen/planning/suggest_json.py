"""Suggested brew days for other programs.

Comes in: a season, what was suggested for its wishes, and what was found.  Goes out: a dict of plain values
of the format "sheetgen-suggestions"; the schema is `plan.schema.json` beside this file, at "suggestions".
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sheetgen.model.season import Season
from sheetgen.planning.as_json import problem_json
from sheetgen.planning.json_pieces import Json, Say, plain
from sheetgen.planning.suggest import Suggestion, Suggestions
from sheetgen.problems import Problem

FORMAT, VERSION = "sheetgen-suggestions", 1


def suggestions_json(
    season: Season, found: Suggestions, today: date, problems: Iterable[Problem], say: Say
) -> Json:
    """A row for every wish, in the order of the file; `say` words a sentence in English."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "printed": plain(today),
        "season": season.name,
        "proven": found.proven,
        "wishes": [_wish(one) for one in found.found],
        "problems": [problem_json(one, say) for one in problems],
    }


def _wish(one: Suggestion) -> Json:
    batch = one.wish.batch
    return {
        "code": batch.code,
        "name": batch.recipe.name,
        "ready_by": plain(one.wish.ready_by),
        "brew_day": plain(one.brew_day),
        "vessel": one.vessel or None,
        "bottled": plain(one.bottled),
        "drink_from": plain(one.ready),
        "late_days": one.late,
    }
