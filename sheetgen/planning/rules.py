"""What must not be, and what is unusual: one small function for each rule, named as a sentence.

Comes in: `Facts`, all that was worked out for one batch.  Goes out: findings.  A *stop* is unsafe or
impossible and nothing is written; a *warn* is printed on the sheet and on the screen.  Limits are inclusive
unless a rule says more. What has already happened is never stopped here: see `sheetgen.planning.safety`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from datetime import timedelta

from sheetgen.brewing import gravity, rounding
from sheetgen.model import Batch
from sheetgen.planning import record_rules
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.gatekeeping import is_careful
from sheetgen.planning.life import HORIZON_DAYS
from sheetgen.planning.priming import is_above
from sheetgen.planning.schedule import has_begun, pace_of
from sheetgen.planning.strength import vessel_full
from sheetgen.planning.water_plan import pot_fill
from sheetgen.problems import Problem, Said, SaidValue, said

VESSEL_STOP, POT_WARN, POT_STOP = 0.90, 0.75, 0.85
WARM_BOTTLES = 25.0
"""Bottles warmer than this gain pressure and lose taste (common practice, no source)."""
PITCH_WARN, PITCH_STOP = 25.0, 30.0
LONGEST_WAIT_MIN = 720.0
"""Wort without yeast does not stand longer than half a day (cautious judgement, no source)."""
COLDEST_ROOM, WARMEST_ROOM = 14.0, 30.0
HOPS_LONGEST_DAYS = 10
ABOVE_THREE_VOLUMES = 3.0
BOTTLES_STAND_UNDER_C = 30.0
TOLERABLE, TOLERABLE_UP_TO_C = 1.5, 22.0
"""Half as long again may the beer wait for bottles, in a room up to this warm (common practice, no
source).
"""
STRONGEST = 1.110
HANDS_FULL_KG = 15.0
MOST_BOTTLES = 500


def a_room_below_14_stops_unless_the_yeast_likes_it(facts: Facts) -> Iterator[Problem]:
    """Ale yeast goes to sleep; the batch would stop half done."""
    room, yeast_low = float(facts.batch.room.fermenting[0]), float(facts.batch.recipe.yeast.celsius[0])
    if room < COLDEST_ROOM and room < yeast_low:
        message = said("stop.room-cold", celsius=room, low=max(COLDEST_ROOM, yeast_low))
        yield finding(facts, "stop", message, "room.fermenting", said("fix.room-cold"))


def a_room_of_30_stops_unless_the_yeast_likes_it(facts: Facts) -> Iterator[Problem]:
    """It ferments fast, and to solvent."""
    room, yeast_high = float(facts.batch.room.fermenting[1]), float(facts.batch.recipe.yeast.celsius[1])
    if room >= WARMEST_ROOM and room > yeast_high:
        message = said("stop.room-hot", celsius=room)
        yield finding(facts, "stop", message, "room.fermenting", said("fix.room-hot"))


def a_room_outside_the_yeasts_range_is_unusual(facts: Facts) -> Iterator[Problem]:
    """Slow below, coarse above; the lower end and the upper end of a range are both judged."""
    low, high = facts.batch.room.fermenting
    yeast_low, yeast_high = facts.batch.recipe.yeast.celsius
    if COLDEST_ROOM <= low < yeast_low:
        yield finding(
            facts, "warn", said("warn.room-cool", celsius=float(low), low=float(yeast_low)), "room.fermenting"
        )
    if yeast_high < high < WARMEST_ROOM:
        yield finding(
            facts,
            "warn",
            said("warn.room-warm", celsius=float(high), high=float(yeast_high)),
            "room.fermenting",
        )


def bottles_need_a_warm_place(facts: Facts) -> Iterator[Problem]:
    """Without warmth no fizz; with too much, pressure."""
    warm = float(facts.batch.room.warm_place)
    key, fix = "room.warm-place", said("fix.warm-place")
    if facts.gas is not None and warm < COLDEST_ROOM:
        yield finding(facts, "stop", said("stop.warm-place-cold", celsius=warm), key, fix)
    for key, place in (("room.warm-place", warm), ("room.storing", float(facts.batch.room.storing))):
        if facts.gas is not None and place >= WARMEST_ROOM:
            yield finding(facts, "stop", said("stop.warm-place-hot", celsius=place), key, fix)
        elif facts.gas is not None and place > WARM_BOTTLES:
            yield finding(facts, "warn", said("warn.bottles-warm", celsius=place), key, fix)


def a_vessel_needs_room_for_foam(facts: Facts) -> Iterator[Problem]:
    """Up to 80 % (75 % for wheat and strong wort) is fine, over 90 % is not."""
    litres, vessel, full = facts.scaled.litres, facts.vessel_l, vessel_full(facts.batch, facts.found)
    share = round(litres / vessel, 9)
    wanted = rounding.up_to(litres / full, 1.0)
    values = {"litres": litres, "vessel": vessel, "wanted": wanted}
    if share > VESSEL_STOP:
        yield finding(
            facts, "stop", said("stop.vessel", **values), "equipment.vessel", said("fix.vessel", **values)
        )
    elif share > full:
        yield finding(
            facts, "warn", said("warn.vessel", **values), "equipment.vessel", said("fix.vessel", **values)
        )


def a_pot_needs_room_for_foam(facts: Facts) -> Iterator[Problem]:
    """Up to 75 % is fine, over 85 % boils over."""
    if not facts.pot_l or not facts.water.kettle_l:
        return
    share = round(pot_fill(facts.scaled, facts.water, facts.pot_l), 9)
    values = {"litres": share * facts.pot_l, "pot": facts.pot_l, "wanted": share * facts.pot_l / POT_WARN}
    if share > POT_STOP:
        yield finding(facts, "stop", said("stop.pot", **values), "equipment.pot", said("fix.pot", **values))
    elif share > POT_WARN:
        yield finding(facts, "warn", said("warn.pot", **values), "equipment.pot", said("fix.pot", **values))


def yeast_is_never_pitched_hot(facts: Facts) -> Iterator[Problem]:
    """Over 25 C is unwise, over 30 C kills; a printed wait comes first, if it ends on the same day."""
    mixed, yeast_high = facts.water.mixed_c, float(facts.batch.recipe.yeast.celsius[1])
    wait = facts.water.wait_minutes or 0.0
    if 0 < wait <= LONGEST_WAIT_MIN:
        yield finding(facts, "warn", said("warn.mix-warm", celsius=mixed, minutes=wait), "water")
    elif mixed > PITCH_STOP and mixed > yeast_high:
        yield finding(facts, "stop", said("stop.pitch-hot", celsius=mixed), "water", said("fix.pitch-hot"))
    elif mixed > PITCH_WARN:
        yield finding(facts, "warn", said("warn.pitch-warm", celsius=mixed), "water")


def a_mix_may_be_too_cold_to_pitch(facts: Facts) -> Iterator[Problem]:
    """It warms by itself."""
    low = float(facts.batch.recipe.drink.pitch[0])
    if facts.water.mixed_c < low - 1:
        yield finding(facts, "warn", said("warn.mix-cold", celsius=facts.water.mixed_c, low=low), "water")


def bottles_that_are_not_made_for_pressure_are_refused(facts: Facts) -> Iterator[Problem]:
    """At any level of gas; a still drink may go into them."""
    if not facts.batch.recipe.drink.primed:
        return
    for index, row in enumerate(facts.batch.bottles):
        if row.kind.refuse is None:
            message = said("stop.bottle-kind", ml=float(row.ml), kind=row.kind.id)
            yield finding(facts, "stop", message, f"bottles.{index}", said("fix.bottle-kind"))


def one_batch_fills_500_bottles_at_most(facts: Facts) -> Iterator[Problem]:
    """More are not labelled one by one at a kitchen table."""
    filled = sum(row.fill for row in facts.bottles.rows)
    if filled > MOST_BOTTLES:
        yield finding(facts, "stop", said("stop.many-bottles", n=filled), "bottles", said("fix.many-bottles"))


def priming_above_the_weakest_bottles_limit_is_refused(facts: Facts) -> Iterator[Problem]:
    """By full yield of the printed grams: at a limit is a warning, above it a stop."""
    gas = facts.gas
    if gas is None:
        return
    limits = {row.kind.id: row.kind for row in facts.batch.bottles}
    key = "carbonation" if "carbonation" in facts.batch.where else "bottles"
    for size in gas.sizes:
        kind = limits[size.kind]
        if kind.refuse is None or kind.warn is None:
            continue
        upper = size.volumes_upper
        values: dict[str, SaidValue] = {
            "ml": size.ml,
            "kind": size.kind,
            "volumes": upper,
            "target": max(gas.target_volumes, float(facts.batch.carbonation or 0.0)),
        }
        if is_above(upper, kind.refuse):
            message = said("stop.too-much-gas", limit=float(kind.refuse), **values)
            yield finding(facts, "stop", message, key, said("fix.too-much-gas", target=_safe_target(facts)))
        elif not is_above(kind.warn, upper):
            yield finding(facts, "warn", said("warn.much-gas", limit=float(kind.warn), **values), key)


def _safe_target(facts: Facts) -> float:
    """The highest target, in tenths of a volume, that stays under the weakest bottle's warning."""
    gas = facts.gas
    if gas is None:
        return 0.0
    over = gas.highest_volumes - gas.target_volumes
    return max(0.0, rounding.down_to((gas.warn_volumes - over * 1.05), 0.1))


def strong_gas_never_stands_warm(facts: Facts) -> Iterator[Problem]:
    """More than three volumes, or bottles that are kept in the heat."""
    gas, room = facts.gas, facts.batch.room
    if gas is None:
        return
    warmest = max(float(room.storing), float(room.warm_place))
    if gas.highest_volumes > ABOVE_THREE_VOLUMES or warmest > BOTTLES_STAND_UNDER_C:
        message = said("warn.never-above-30", volumes=gas.highest_volumes)
        yield finding(
            facts, "warn", message, "room.storing" if warmest > BOTTLES_STAND_UNDER_C else "carbonation"
        )


def sugar_may_not_be_needed(facts: Facts) -> Iterator[Problem]:
    """The gas is there already."""
    gas = facts.gas
    if gas is not None and gas.g_per_litre <= 0:
        values = {"target": gas.target_volumes, "residual": gas.residual_volumes}
        yield finding(facts, "warn", said("warn.no-sugar", **values), "carbonation")


def a_bottle_of_unknown_kind_counts_as_the_weakest(facts: Facts) -> Iterator[Problem]:
    """Its limit is that of thin glass."""
    for index, row in enumerate(facts.batch.bottles):
        if not row.known:
            message = said("warn.bottle-unknown", ml=float(row.ml))
            yield finding(facts, "warn", message, f"bottles.{index}", said("fix.bottle-unknown"))


def too_few_bottles_is_a_warning(facts: Facts) -> Iterator[Problem]:
    """The beer waits without harm; the sentence says how many more would hold the rest."""
    plan = facts.bottles
    if plan.more_needed and facts.batch.actual.bottled is None:
        held = sum(row.fill * row.ml for row in plan.rows) / 1000
        ready = round(facts.scaled.bottling_l, 1)
        left, ml = plan.last_ml + plan.more_needed * plan.rows[-1].ml, plan.rows[-1].ml
        values = {"held": held, "litres": ready, "more": math.ceil(round(left / ml, 6)), "ml": ml}
        yield finding(
            facts, "warn", said("warn.few-bottles", **values), "bottles", said("fix.few-bottles", **values)
        )


def a_brew_day_while_away_is_impossible(facts: Facts) -> Iterator[Problem]:
    """Nobody is there to brew."""
    day = facts.batch.brew_day
    if day < facts.today or not facts.life.away_until(day):
        return
    message = said("stop.brew-day-away", on=day)
    yield finding(facts, "stop", message, "brew-day", _next_brew_day(facts))


def somebody_stays_home_for_the_first_three_days(facts: Facts) -> Iterator[Problem]:
    """It may foam over."""
    day = facts.batch.brew_day
    if facts.life.away_until(day) or day < facts.today:
        return
    if any(facts.life.away_until(day + timedelta(days=n)) for n in (1, 2, 3)):
        message = said("warn.first-days-away", on=day)
        yield finding(facts, "warn", message, "brew-day", _next_brew_day(facts))


def _next_brew_day(facts: Facts) -> Said | str:
    """The advice to brew on the next of one's days with three days at home after it; nothing if there is
    none.
    """
    for offset in range(HORIZON_DAYS):
        tried = facts.batch.brew_day + timedelta(days=offset)
        home = all(facts.life.away_until(tried + timedelta(days=n)) is None for n in range(4))
        if home and facts.life.is_mine(tried):
            return said("fix.brew-day", on=tried)
    return ""


def a_past_brew_day_is_taken_as_brewed(facts: Facts) -> Iterator[Problem]:
    """The file does not say so, and the plan goes on from there."""
    if facts.batch.brew_day < facts.today:
        message = said("warn.past-brew-day", on=facts.batch.brew_day)
        yield finding(
            facts, "warn", message, "brew-day", said("fix.past-brew-day", on=facts.batch.brew_day.isoformat())
        )


def bottling_after_its_latest_day_is_late(facts: Facts) -> Iterator[Problem]:
    """Four weeks, half as long again in a cool room; longer where it is cold or the wort is strong."""
    bottle, batch = facts.task("bottle"), facts.batch
    longer = TOLERABLE if batch.room.fermenting[1] <= TOLERABLE_UP_TO_C else 1.0
    if bottle.day > pace_of(batch, facts.found.strongest).least(
        batch.recipe.drink.days["bottle-latest"] * longer
    ):
        values: dict[str, SaidValue] = {"on": bottle.when.expected, "days": bottle.day}
        key = next((key for key in ("away", "actual.brewed", "brew-day") if key in batch.where), "brew-day")
        yield finding(facts, "warn", said("warn.late-bottling", **values), key)


def hops_stay_in_ten_days_at_most(facts: Facts) -> Iterator[Problem]:
    """Longer can taste of grass."""
    if not any(task.id == "dry-hop" for task in facts.tasks):
        return
    days = (facts.task("bottle").when.expected - facts.task("dry-hop").when.expected).days
    if days > HOPS_LONGEST_DAYS:
        yield finding(facts, "warn", said("warn.hops-long", days=days), "brew-day")


def very_strong_batches_are_not_for_this_gate(facts: Facts) -> Iterator[Problem]:
    """Its range and its walls are not made for them."""
    if gravity.ten_thousandths(facts.found.original) > gravity.ten_thousandths(STRONGEST):
        yield finding(facts, "stop", said("stop.too-strong", sg=facts.found.original), "volume")


def allergens_that_are_not_known_are_said(facts: Facts) -> Iterator[Problem]:
    """Unknown never looks like none."""
    for part in facts.batch.recipe.ingredients:
        if part.item.allergens is None:
            yield finding(facts, "warn", said("warn.allergens", name=part.name), "recipe")


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


def a_full_vessel_is_heavy(facts: Facts) -> Iterator[Problem]:
    """From 15 kg on."""
    if facts.scaled.litres >= HANDS_FULL_KG:
        yield finding(facts, "note", said("note.heavy", grams=1000.0 * round(facts.scaled.litres)), "volume")


Rule = Callable[[Facts], Iterable[Problem]]

BREW_DAY_RULES: tuple[Rule, ...] = (
    a_room_below_14_stops_unless_the_yeast_likes_it,
    a_room_of_30_stops_unless_the_yeast_likes_it,
    a_vessel_needs_room_for_foam,
    a_pot_needs_room_for_foam,
    yeast_is_never_pitched_hot,
    a_mix_may_be_too_cold_to_pitch,
    a_brew_day_while_away_is_impossible,
    somebody_stays_home_for_the_first_three_days,
    a_past_brew_day_is_taken_as_brewed,
    a_full_vessel_is_heavy,
)
"""Rules of what is still to come on brew day: silent once the batch was brewed."""

BOTTLING_RULES: tuple[Rule, ...] = (
    bottles_need_a_warm_place,
    bottles_that_are_not_made_for_pressure_are_refused,
    one_batch_fills_500_bottles_at_most,
    priming_above_the_weakest_bottles_limit_is_refused,
    sugar_may_not_be_needed,
    a_bottle_of_unknown_kind_counts_as_the_weakest,
    too_few_bottles_is_a_warning,
    bottling_after_its_latest_day_is_late,
    hops_stay_in_ten_days_at_most,
    a_careful_pass_needs_careful_bottles,
    very_strong_batches_are_not_for_this_gate,
    record_rules.an_instrument_beyond_the_tables_is_refused,
    record_rules.readings_before_the_dry_hops_do_not_count,
    record_rules.a_pass_lapses_after_two_weeks,
    record_rules.coarse_scales_weigh_ten_doses_together,
    record_rules.a_bottling_vessel_holds_the_batch,
    record_rules.only_table_sugar_is_dosed_by_the_spoon,
    record_rules.a_careful_pass_says_what_it_could_become,
)
"""Rules of what is still to come on bottling day: silent once bottles were filled (see `safety`)."""

STANDING_RULES: tuple[Rule, ...] = (
    a_room_outside_the_yeasts_range_is_unusual,
    allergens_that_are_not_known_are_said,
    strong_gas_never_stands_warm,
    record_rules.a_gravity_that_cannot_be_right_is_named,
    record_rules.a_reading_without_a_temperature_takes_the_rooms,
    record_rules.readings_that_cannot_be_corrected_are_left_out,
    record_rules.readings_from_before_the_yeast_are_left_out,
    record_rules.what_was_bottled_should_add_up,
    record_rules.bottles_closed_before_their_wall_are_named,
)
"""Rules that hold at any time."""


def rules_for(batch: Batch) -> tuple[Rule, ...]:
    """The rules that still apply to this batch."""
    brewing = () if has_begun(batch) else BREW_DAY_RULES
    bottling = BOTTLING_RULES if batch.actual.bottled is None else ()
    return brewing + bottling + STANDING_RULES


def findings(facts: Facts) -> list[Problem]:
    """What every rule finds, in the order of the rules."""
    return [problem for rule in rules_for(facts.batch) for problem in rule(facts)]
