"""Rules of small doses: yeast that is not fresh, helpers far from their usual dose; named as sentences.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.yeast_plan import days_past_its_date, is_too_old, yeast_plan
from sheetgen.problems import Problem, said


def yeast_a_year_past_its_date_is_bought_fresh(facts: Facts) -> Iterator[Problem]:
    """Nobody can say how much of it is alive; the amounts are those of fresh yeast."""
    printed = facts.batch.yeast.printed
    if printed and is_too_old(facts.batch):
        message = said("warn.yeast-too-old", on=printed)
        yield finding(facts, "warn", message, "yeast.expired", said("fix.yeast-too-old"))


def old_or_opened_yeast_is_needed_in_greater_amounts(facts: Facts) -> Iterator[Problem]:
    """Both together count as both."""
    wanted = yeast_plan(facts.batch, facts.scaled.planned_l, facts.found.calculated)
    if wanted.factor <= 1:
        return
    values = {"low": wanted.low_g, "high": wanted.high_g}
    past = days_past_its_date(facts.batch) > 0
    sentence = "warn.yeast-past" if past else "warn.yeast-opened"
    if past and facts.batch.yeast.opened:
        sentence = "warn.yeast-past-and-opened"
    yield finding(facts, "warn", said(sentence, **values), "yeast", said("fix.yeast-weak"))
