"""list recipes: one line that says what a recipe is and what it asks for, worked out and not praised.

Comes in: a recipe's name.  Goes out: drink, litres, strength, colour, weeks until it is at its best, how much
there is to do, and the gear; all from a plan of the recipe as it is written, in a room that its yeast likes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from sheetgen.commands import new_answers
from sheetgen.commands.common import count
from sheetgen.model import Recipe
from sheetgen.planning.plan import Plan

COLOURS = ((9, "straw"), (16, "gold"), (26, "amber"), (36, "copper"), (56, "brown"), (math.inf, "black"))
"""Words for colours up to so many EBC: common practice, no source."""
EASE = ((1, "for a first time"), (2, "easy"), (4, "some practice"), (math.inf, "experience"))
"""Words for fewer than so many kinds of work beside mixing, pitching and bottling: common practice."""
_STRONG = 1.070
_JOBS = {
    "rack": "racked",
    "degas": "gas stirred out",
    "stir": "stirred",
    "strain": "strained",
}
_PLENTY = "[{size: 500 ml, kind: thick sparkling-wine glass, count: 500}]"


def line_of(name: str, folder: Path, today: date) -> str:
    """What there is to say of a recipe; "" if it cannot be planned."""
    desk = new_answers.Desk(folder / "27a.yaml", today)
    known = new_answers.filled({"recipe": name, "bottles": _PLENTY}, desk)
    trial = new_answers.tried(known, desk)
    plan, batch = trial.loaded.plan, trial.batch
    if plan is None or batch is None:
        return ""
    return _line(plan, batch.recipe, known["volume"])


def _line(plan: Plan, recipe: Recipe, volume: str) -> str:
    work = [*_work(recipe, plan)]
    ease = next(word for most, word in EASE if len(work) < most)
    facts = [
        recipe.drink.id,
        volume,
        f"{plan.quantities.percent_by_volume:.1f} %",
        *_colour(plan),
        _weeks(plan),
    ]
    does = f"{ease}: {', '.join(work)}" if work else ease
    return f"{recipe.name}: {', '.join(facts)}; {does}; {_gear(plan)}"


def _colour(plan: Plan) -> list[str]:
    """A word for its colour, where the recipe states those of its malts."""
    ebc = plan.quantities.colour_ebc
    return [] if ebc is None else [next(word for most, word in COLOURS if ebc < most)]


def _weeks(plan: Plan) -> str:
    """From the brew day until it is at its best."""
    ready = plan.task("best-from" if plan.has("best-from") else "drink-from").when.expected
    days = (ready - plan.task("brew").when.expected).days
    return f"{math.ceil(days / 7)} weeks"


def _work(recipe: Recipe, plan: Plan) -> Iterator[str]:
    """What is to be done beside mixing, pitching and bottling."""
    if recipe.boil_minutes:
        yield f"{recipe.boil_minutes:g} min boil"
    if any(each.item.role == "grain" for each in recipe.ingredients):
        yield "grain to steep"
    if any(each.when.stage in ("day", "dry-hop") for each in recipe.ingredients):
        yield "more goes in later"
    for what, said in _JOBS.items():
        times = sum(len(job.days) for job in recipe.drink.jobs if job.what == what)
        if times:
            yield said if times == 1 else f"{said} {count(times, 'time')}"
    if plan.quantities.original_gravity >= _STRONG:
        yield "strong"


def _gear(plan: Plan) -> str:
    pot = f", pot {plan.pot_l:g} L" if plan.pot_l else ""
    return f"bucket {plan.vessel_l:g} L{pot}"
