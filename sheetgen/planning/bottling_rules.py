"""Rules of bottling day: bottles, and how long it may wait; each is named as a sentence.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.brewing import gravity
from sheetgen.planning.bottling import enough_bottles, spares_missing
from sheetgen.planning.brew_day_advice import brew_day_to_bottle_in_time
from sheetgen.planning.brew_rules import COLDEST_ROOM, WARMEST_ROOM
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.gatekeeping import is_careful
from sheetgen.planning.planner import has_begun
from sheetgen.planning.rooms import coldest_shelf
from sheetgen.planning.waiting import tolerable_day
from sheetgen.planning.waits import HOPS_LONGEST_DAYS
from sheetgen.problems import Level, Problem, SaidValue, said

WARM_BOTTLES = 25.0
"""Bottles warmer than this gain pressure and lose taste (common practice, no source)."""


STRONGEST = 1.110


MOST_BOTTLES = 500


def bottles_need_a_warm_place(facts: Facts) -> Iterator[Problem]:
    """Without warmth no fizz; with too much, pressure."""
    warm = float(facts.batch.room.warm_place)
    key, fix = "room.warm-place", said("fix.warm-place")
    if facts.gas is not None and warm < COLDEST_ROOM:
        yield finding(facts, "stop", said("stop.warm-place-cold", celsius=warm), key, fix)
    yield from _cooling(facts)
    for key, place in (("room.warm-place", warm), ("room.storing", float(facts.batch.room.storing))):
        if facts.gas is not None and place >= WARMEST_ROOM:
            yield finding(facts, "stop", said("stop.warm-place-hot", celsius=place), key, fix)
        elif facts.gas is not None and place > WARM_BOTTLES:
            yield finding(facts, "warn", said("warn.bottles-warm", celsius=place), key, fix)


def _cooling(facts: Facts) -> Iterator[Problem]:
    """A place that was warm enough when they were filled, and is not while they stand there."""
    room = facts.batch.room
    if facts.gas is None or not room.shelf or room.warm_place < COLDEST_ROOM:
        return
    coldest = coldest_shelf(
        room, facts.task("bottle").when.expected, facts.task("move-to-cool").when.expected
    )
    if coldest < COLDEST_ROOM:
        message = said("warn.warm-place-cools", celsius=coldest, least=COLDEST_ROOM)
        yield finding(facts, "warn", message, "room.warm-place", said("fix.warm-place"))


def bottles_that_are_not_made_for_pressure_are_refused(facts: Facts) -> Iterator[Problem]:
    """At any level of gas; a still drink may go into them."""
    if not facts.batch.recipe.drink.primed:
        return
    for index, row in enumerate(facts.batch.bottles):
        if row.kind.refuse is None:
            message = said("stop.bottle-kind", ml=float(row.ml), kind=row.kind.id)
            kind = f"bottles.{index}.kind"
            key = kind if kind in facts.batch.where else f"bottles.{index}"
            strong = "returnable glass" if key == kind else ""
            yield finding(facts, "stop", message, key, said("fix.bottle-kind"), strong)


def one_batch_fills_500_bottles_at_most(facts: Facts) -> Iterator[Problem]:
    """More are not labelled one by one at a kitchen table."""
    filled = sum(row.fill for row in facts.bottles.rows)
    if filled > MOST_BOTTLES:
        yield finding(facts, "stop", said("stop.many-bottles", n=filled), "bottles", said("fix.many-bottles"))


def a_bottle_of_unknown_kind_counts_as_the_weakest(facts: Facts) -> Iterator[Problem]:
    """Its limit is that of thin glass."""
    for index, row in enumerate(facts.batch.bottles):
        if not row.known:
            message = said("warn.bottle-unknown", ml=float(row.ml))
            yield finding(facts, "warn", message, f"bottles.{index}", said("fix.bottle-unknown"))


def too_few_bottles_is_a_warning(facts: Facts) -> Iterator[Problem]:
    """The beer waits without harm; the sentence says what would hold the rest, and by when."""
    plan = facts.bottles
    if plan.more_ways and facts.batch.actual.bottled is None:
        full = [row for row in plan.rows if row.fill]
        held = sum(row.fill * row.ml for row in full) / 1000
        values: dict[str, SaidValue] = {"held": held, "litres": round(facts.scaled.bottling_l, 1)}
        one = len(full) == 1
        values |= {"n": full[0].fill, "ml": full[0].ml} if one else {}
        message = said("warn.few-bottles-of" if one else "warn.few-bottles", **values)
        fix = enough_bottles(plan.more_ways, facts.task("bottle").when.expected, spares_missing(plan))
        yield finding(facts, "warn", message, "bottles", fix)


def fewer_bottles_than_asked_are_said(facts: Facts) -> Iterator[Problem]:
    """The volume was counted in bottles, and less is in the fermenter, or more was drawn off as samples."""
    goal, ready = facts.batch.bottle_goal, facts.scaled.bottling_l
    if goal is None or round(goal[0] * goal[1]) <= round(ready * 1000):
        return
    full = int(round(ready * 1000, 3) // goal[1])
    values: dict[str, SaidValue] = {"n": goal[0], "ml": float(goal[1]), "litres": ready, "full": full}
    yield finding(facts, "warn", said("warn.fewer-than-asked", **values), "volume")


def a_batch_should_fill_a_bottle(facts: Facts) -> Iterator[Problem]:
    """Samples, sediment and hops may leave less than one; nothing at all is no batch, unless it is brewed.
    Bottles that are merely out are too few: another rule.
    """
    ready = round(facts.scaled.bottling_l, 2)
    if ready <= 0:
        level: Level = "warn" if has_begun(facts.batch) else "stop"
        sentence = "warn.nothing-to-bottle" if level == "warn" else "stop.nothing-to-bottle"
        message = said(sentence, litres=facts.scaled.litres)
        yield finding(facts, level, message, "volume", said("fix.nothing-to-bottle"))
    elif facts.bottles.filled == 0 and all(row.ml > 1000 * ready for row in facts.bottles.rows):
        yield finding(
            facts, "warn", said("warn.no-full-bottle", litres=ready), "volume", said("fix.no-full-bottle")
        )


def bottling_after_its_latest_day_is_late(facts: Facts) -> Iterator[Problem]:
    """Two weeks after its usual day, or later where the drink has more; a brew day that would bottle in time
    is named.
    """
    bottle, batch = facts.task("bottle"), facts.batch
    due = bottle.reasons.due_by if bottle.reasons else None
    if due is None:
        return
    long = bottle.day > tolerable_day(batch, facts.found.strongest)
    name, values = ("warn.late-bottling", {"days": bottle.day}) if long else ("warn.past-worry", {"due": due})
    keys = ("away", "shifts", "my-days", "actual.brewed")
    key = next((key for key in keys if key in batch.where), "brew-day")
    patience = None if long else (due - bottle.when.expected).days + bottle.day
    fix = brew_day_to_bottle_in_time(facts, patience)
    yield finding(facts, "warn", said(name, on=bottle.when.expected, **values), key, fix)


def hops_stay_in_ten_days_at_most(facts: Facts) -> Iterator[Problem]:
    """Longer can taste of grass."""
    if not any(task.id == "dry-hop" for task in facts.tasks):
        return
    days = (facts.task("bottle").when.expected - facts.task("dry-hop").when.expected).days
    if days > HOPS_LONGEST_DAYS:
        yield finding(facts, "warn", said("warn.hops-long", days=days), "brew-day")


def very_strong_batches_are_not_for_this_gate(facts: Facts) -> Iterator[Problem]:
    """Its range and its walls are not made for them; what is in the vessel already is told, not stopped."""
    if gravity.ten_thousandths(facts.found.original) <= gravity.ten_thousandths(STRONGEST):
        return
    if has_begun(facts.batch):
        key = "actual.added" if facts.batch.actual.added else "actual"
        yield finding(facts, "warn", said("warn.too-strong", sg=facts.found.original), key)
    else:
        yield finding(facts, "stop", said("stop.too-strong", sg=facts.found.original), "volume")


def a_careful_pass_needs_careful_bottles(facts: Facts) -> Iterator[Problem]:
    """Plastic, or returnable glass where the reading was high; plastic alone where it was low."""
    if (
        facts.gate.state != "pass-with-care"
        or facts.batch.actual.bottled
        or not facts.batch.recipe.drink.primed
    ):
        return
    for index, row in enumerate(facts.batch.bottles):
        if not is_careful(row.kind.id, facts.gate.pet_only):
            message = said("stop.care-bottle", ml=float(row.ml), kind=row.kind.id)
            fix = said("fix.care-pet" if facts.gate.pet_only else "fix.care-bottle")
            yield finding(facts, "stop", message, f"bottles.{index}", fix)
