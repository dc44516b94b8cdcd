"""Rules of small doses: yeast that is not fresh, helpers far from their usual dose; named as sentences.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.brewing import doses
from sheetgen.model import PantryItem
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.sulphites import mg_per_litre
from sheetgen.planning.yeast_plan import STRONGEST_SG, days_past_its_date, is_too_old, yeast_plan
from sheetgen.problems import Problem, said

_FAR = {"g": "warn.dose-g", "ml": "warn.dose-ml"}
MOST_AMOUNT = 1e9
"""What the formula goes up to."""
HIGH_SULPHITE_MG = 200.0
"""What dry white wine for sale may hold in the EU (from memory: Regulation (EU) 2019/934, Annex I B)."""


def yeast_a_year_past_its_date_is_bought_fresh(facts: Facts) -> Iterator[Problem]:
    """Nobody can say how much of it is alive; the amounts are those of fresh yeast."""
    printed = facts.batch.yeast.printed
    if printed and is_too_old(facts.batch):
        message = said("warn.yeast-too-old", on=printed)
        yield finding(facts, "warn", message, "yeast.expired", said("fix.yeast-too-old"))


_ONE_AMOUNT = {
    "warn.yeast-past": "warn.yeast-past-one",
    "warn.yeast-opened": "warn.yeast-opened-one",
    "warn.yeast-past-and-opened": "warn.yeast-past-and-opened-one",
}
"""What is said where both ends of what is usual come to the same."""


def old_or_opened_yeast_is_needed_in_greater_amounts(facts: Facts) -> Iterator[Problem]:
    """Both together count as both."""
    wanted = yeast_plan(facts.batch, facts.scaled.planned_l, facts.found.calculated)
    if wanted.factor <= 1:
        return
    past = days_past_its_date(facts.batch) > 0
    sentence = "warn.yeast-past" if past else "warn.yeast-opened"
    if past and facts.batch.yeast.opened:
        sentence = "warn.yeast-past-and-opened"
    message = said(sentence, low=wanted.low_g, high=wanted.high_g)
    if wanted.low_g == wanted.high_g:
        message = said(_ONE_AMOUNT[sentence], grams=wanted.high_g)
    yield finding(facts, "warn", message, "yeast", said("fix.yeast-weak"))


def a_helper_far_from_its_usual_dose_is_named(facts: Facts) -> Iterator[Problem]:
    """Under half of it, or over twice as much: finings, nutrients, acids, enzymes."""
    for item, name, amount in _helpers(facts):
        low, high = _usual_amounts(facts, item)
        if doses.is_far_from_usual(min(amount, MOST_AMOUNT), low, high):
            values = {"amount": amount, "litres": facts.scaled.planned_l, "low": low, "high": high}
            message = said(_FAR[item.unit], name=name, **values)
            yield finding(facts, "warn", message, "recipe", said("fix.dose"))


def _helpers(facts: Facts) -> Iterator[tuple[PantryItem, str, float]]:
    """What has a usual dose, each with the sum of what goes in."""
    factor = facts.scaled.planned_l / facts.batch.recipe.litres
    found: dict[str, tuple[PantryItem, str, float]] = {}
    for part in facts.batch.recipe.ingredients:
        if part.item.usual:
            before = found.get(part.item.id, (part.item, part.name, 0.0))[2]
            found[part.item.id] = (part.item, part.name, before + part.amount * factor)
    yield from found.values()


def _usual_amounts(facts: Facts, item: PantryItem) -> tuple[float, float]:
    """Lowest and highest usual amount for this batch; nutrient for juice and honey grows with strength."""
    low, high = item.usual or (0.0, 0.0)
    hungry = item.role == "nutrient" and facts.batch.recipe.drink.ferments_out
    factor = doses.nutrient_factor(min(facts.found.calculated, STRONGEST_SG)) if hungry else 1.0
    litres = facts.scaled.planned_l
    return low * litres * factor, high * litres * factor


def much_sulphite_is_named(facts: Facts) -> Iterator[Problem]:
    """Above 200 mg a litre it is more than most drinks for sale may hold."""
    found = mg_per_litre(facts.batch, facts.scaled)
    if round(found * 1000) > round(HIGH_SULPHITE_MG * 1000):
        yield finding(facts, "warn", said("warn.sulphites", mg=round(found)), "recipe", said("fix.sulphites"))
