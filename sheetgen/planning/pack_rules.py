"""Rules of whole packs: what they change more than a person would expect; each is named as a sentence.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.pack_choices import recipe_gravity
from sheetgen.planning.scaling import (
    PLANNED_READINGS,
    is_a_batch,
    is_over_the_most,
    loss_litres,
    most_bottles,
)
from sheetgen.planning.whole_packs import choose, gravity_groups
from sheetgen.problems import Problem, said

KEY = "whole-packs"
STRENGTH_CHANGE = 40
"""Ten-thousandths of SG that whole packs may add or take without a warning (common practice, no source)."""
VOLUME_CHANGE = 0.25
"""How much more or less may be brewed than was asked without a warning (common practice, no source)."""
SHARE_CHANGE = 0.10
"""How much of the strength may move from one thing to another without a warning (common practice, no
source).
"""


def whole_packs_need_pack_sizes(facts: Facts) -> Iterator[Problem]:
    """Without them nothing can be whole."""
    batch = facts.batch
    if batch.whole_packs != "exact" and not gravity_groups(batch, facts.scaled.asked_l):
        yield finding(facts, "warn", said("warn.packs-unknown"), KEY, said("fix.packs-unknown"))


def whole_packs_make_a_batch_of_a_possible_size(facts: Facts) -> Iterator[Problem]:
    """From 1 to 100 litres."""
    batch, asked = facts.batch, facts.scaled.asked_l
    chosen = choose(batch, asked, volume_follows=True) if batch.whole_packs == "volume-follows" else None
    if chosen and not is_a_batch(asked * chosen.ratio, asked):
        message = said("stop.packs-litres", litres=asked * chosen.ratio)
        yield finding(facts, "stop", message, KEY, said("fix.packs-exact"))


def cannot_be_filled(facts: Facts) -> bool:
    """Whether a number of bottles is asked for that no volume would fill."""
    goal, asked = facts.batch.bottle_goal, facts.scaled.asked_l
    if goal is None:
        return False
    ready = asked - loss_litres(facts.batch, asked, PLANNED_READINGS)
    return round(ready - goal[0] * goal[1] / 1000, 6) < 0


def so_many_bottles_can_be_filled(facts: Facts) -> Iterator[Problem]:
    """Hops that soak up as much as is brewed leave nothing, whatever the volume."""
    goal = facts.batch.bottle_goal
    if goal is not None and cannot_be_filled(facts):
        message = said("stop.bottles-goal", n=goal[0], ml=float(goal[1]))
        yield finding(facts, "stop", message, "volume", said("fix.bottles-goal"))


def so_many_bottles_are_no_more_than_a_batch(facts: Facts) -> Iterator[Problem]:
    """Bottles and all that is lost on the way to them come to 100 litres at most."""
    batch, litres = facts.batch, facts.scaled.planned_l
    if batch.bottle_goal is None or not is_over_the_most(litres) or cannot_be_filled(facts):
        return
    count, ml = batch.bottle_goal
    message = said("stop.bottles-litres", n=count, ml=float(ml), litres=litres)
    fix = said("fix.bottles-litres", n=most_bottles(batch, float(ml)), ml=float(ml))
    yield finding(facts, "stop", message, "volume", fix)


def whole_packs_may_change_the_strength(facts: Facts) -> Iterator[Problem]:
    """By more than 0.004 it is another drink."""
    meant, now = recipe_gravity(facts.batch), facts.found.calculated
    change = round(now * 10000) - round(meant * 10000)
    if facts.batch.whole_packs == "strength-follows" and abs(change) > STRENGTH_CHANGE:
        name = "warn.packs-stronger" if change > 0 else "warn.packs-weaker"
        yield finding(facts, "warn", said(name, sg=now, meant=meant), KEY, said("fix.packs-strength"))


def whole_packs_may_change_the_volume(facts: Facts) -> Iterator[Problem]:
    """By more than a quarter it is another batch: other vessels, other bottles."""
    asked, planned = facts.scaled.asked_l, facts.scaled.planned_l
    if facts.batch.whole_packs == "volume-follows" and abs(round(planned / asked - 1, 6)) > VOLUME_CHANGE:
        message = said("warn.packs-volume", litres=planned, asked=asked)
        yield finding(facts, "warn", message, KEY, said("fix.packs-exact"))


def whole_packs_may_shift_the_recipe(facts: Facts) -> Iterator[Problem]:
    """Two things whose packs do not go together: one of them becomes more of the drink than is meant."""
    batch = facts.batch
    if batch.whole_packs == "exact":
        return
    groups = gravity_groups(batch, facts.scaled.asked_l)
    used = {line: use.amount for line, use in enumerate(facts.scaled.uses)}
    now = [group.points * sum(used[line] for line in group.lines) / group.wanted for group in groups]
    for group, points in zip(groups, now, strict=True):
        meant, found = group.points / sum(each.points for each in groups), points / sum(now)
        if round(found - meant, 9) > SHARE_CHANGE:
            message = said("warn.packs-shift", name=group.name, now=100 * found, meant=100 * meant)
            yield finding(facts, "warn", message, KEY, said("fix.packs-exact"))
