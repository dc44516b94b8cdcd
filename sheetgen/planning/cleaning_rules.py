"""Rules of cleaner and sanitiser; each is named as a sentence.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.problems import Problem, said

BLEACH = "bleach"


def a_cleaner_does_not_sanitise(facts: Facts) -> Iterator[Problem]:
    """It takes the dirt off; what lives on stays."""
    product = facts.batch.equipment.sanitiser
    if product.cleans:
        message = said("warn.cleaner-as-sanitiser", product=product.id)
        yield finding(facts, "warn", message, "equipment.sanitiser", said("fix.cleaner-as-sanitiser"))


def a_sanitiser_does_not_clean(facts: Facts) -> Iterator[Problem]:
    """Under dirt nothing is reached."""
    product = facts.batch.equipment.cleaner
    if not product.cleans:
        message = said("warn.sanitiser-as-cleaner", product=product.id)
        yield finding(facts, "warn", message, "equipment.cleaner", said("fix.sanitiser-as-cleaner"))


def bleach_stays_alone(facts: Facts) -> Iterator[Problem]:
    """With acids it sets free chlorine, and with other products nobody should find out."""
    gear = facts.batch.equipment
    both = (gear.cleaner, gear.sanitiser)
    other = [product for product in both if product.family not in (BLEACH, None)]
    if other and any(product.family == BLEACH for product in both):
        message = said("warn.bleach-with", product=other[0].id)
        yield finding(facts, "warn", message, "equipment", said("fix.bleach-with"))
