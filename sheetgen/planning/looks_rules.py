"""Rules of a batch without a hydrometer: one function each, named as a sentence.

Comes in: `Facts`.  Goes out: findings.  What is still to be brewed is stopped; what has begun is told, and
needs readings after all (`looking.gate_of`).
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.looking import MOST_VOLUMES, by_looks, obstacles
from sheetgen.planning.planner import has_begun
from sheetgen.planning.pressure import is_above
from sheetgen.problems import Level, Problem, said

_KEYS = {"gate.looks-cold": "room", "gate.looks-strong": "volume"}


def without_a_hydrometer_only_plastic_bottles_will_do(facts: Facts) -> Iterator[Problem]:
    """They show their pressure, and burst without splinters."""
    for index, row in enumerate(facts.batch.bottles if facts.gate.by_looks else ()):
        if row.kind.id != "pet":
            message = said("stop.looks-bottle", ml=float(row.ml), kind=row.kind.id)
            yield finding(facts, "stop", message, f"bottles.{index}", said("fix.looks-bottle"))


def without_a_hydrometer_little_gas_is_made(facts: Facts) -> Iterator[Problem]:
    """What the recipe asks for is brought down; what the file asks for is refused."""
    asked = facts.batch.carbonation
    if facts.gate.by_looks and asked and is_above(asked, MOST_VOLUMES):
        message = said("stop.looks-gas", target=float(asked), most=MOST_VOLUMES)
        yield finding(facts, "stop", message, "carbonation", said("fix.looks-gas", most=MOST_VOLUMES))


def looks_decide_over_plain_drinks_only(facts: Facts) -> Iterator[Problem]:
    """Not over what is strong, stands cold, is closed for years, or stays sweet."""
    if not by_looks(facts.batch):
        return
    level: Level = "warn" if has_begun(facts.batch) else "stop"
    for why in obstacles(facts.batch, facts.found):
        message = said("stop.looks", causes=(why,))
        yield finding(facts, level, message, _KEYS.get(why.id, "equipment.hydrometer"), said("fix.looks"))


def a_batch_without_a_hydrometer_goes_the_weaker_way(facts: Facts) -> Iterator[Problem]:
    """The sheet says so, once."""
    if facts.gate.by_looks:
        yield finding(facts, "warn", said("warn.looks-weaker"), "equipment.hydrometer", said("fix.looks"))


def readings_decide_where_there_are_any(facts: Facts) -> Iterator[Problem]:
    """A reading shows that there is a hydrometer after all; looks are then a remark."""
    actual, has = facts.batch.actual, facts.batch.equipment.has_hydrometer
    if actual.readings and not has:
        message = said("warn.looks-and-readings")
        yield finding(facts, "warn", message, "equipment.hydrometer", said("fix.looks-and-readings"))
    elif actual.looks and has:
        yield finding(facts, "warn", said("warn.looks-unused"), "actual.looks", said("fix.looks-unused"))
