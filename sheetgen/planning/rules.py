"""What must not be, and what is unusual: one small function for each rule, named as a sentence.

Comes in: `Facts`, all that was worked out for one batch.  Goes out: findings.  A *stop* is unsafe or
impossible and nothing is written; a *warn* is printed on the sheet and on the screen.  Limits are inclusive
unless a rule says more. What has already happened is never stopped here: see `sheetgen.planning.safety`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from sheetgen.model import Batch
from sheetgen.planning import (
    bottling_rules,
    brew_rules,
    cleaning_rules,
    contradictions,
    dose_rules,
    drink_rules,
    event_rules,
    gas_rules,
    hot_days,
    looks_rules,
    pack_rules,
    reading_rules,
    record_rules,
    unused_rules,
)
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.planner import has_begun
from sheetgen.problems import Problem, said


def allergens_that_are_not_known_are_said(facts: Facts) -> Iterator[Problem]:
    """Unknown never looks like none."""
    for part in facts.batch.recipe.ingredients:
        if part.item.allergens is None:
            yield finding(facts, "warn", said("warn.allergens", name=part.name), "recipe")


Rule = Callable[[Facts], Iterable[Problem]]

BREW_DAY_RULES: tuple[Rule, ...] = (
    brew_rules.a_room_below_14_stops_unless_the_yeast_likes_it,
    brew_rules.a_room_of_30_stops_unless_the_yeast_likes_it,
    brew_rules.a_vessel_needs_room_for_foam,
    brew_rules.what_goes_in_is_no_more_than_the_batch,
    brew_rules.a_pot_needs_room_for_foam,
    brew_rules.yeast_is_never_pitched_hot,
    brew_rules.a_mix_may_be_too_cold_to_pitch,
    brew_rules.the_yeast_goes_in_before_midnight,
    dose_rules.yeast_a_year_past_its_date_is_bought_fresh,
    dose_rules.old_or_opened_yeast_is_needed_in_greater_amounts,
    brew_rules.a_brew_day_while_away_is_impossible,
    brew_rules.a_brew_day_is_one_of_ones_own,
    brew_rules.somebody_stays_home_for_the_first_three_days,
    brew_rules.a_past_brew_day_is_taken_as_brewed,
    brew_rules.a_full_vessel_is_heavy,
    pack_rules.whole_packs_need_pack_sizes,
    pack_rules.whole_packs_make_a_batch_of_a_possible_size,
    pack_rules.so_many_bottles_can_be_filled,
    pack_rules.so_many_bottles_are_no_more_than_a_batch,
    pack_rules.whole_packs_may_change_the_strength,
    pack_rules.whole_packs_may_change_the_volume,
    pack_rules.whole_packs_may_shift_the_recipe,
    drink_rules.a_gravity_that_is_unusual_for_the_drink_is_named,
)
"""Rules of what is still to come on brew day: silent once the batch was brewed."""

BOTTLING_RULES: tuple[Rule, ...] = (
    bottling_rules.bottles_need_a_warm_place,
    bottling_rules.bottles_that_are_not_made_for_pressure_are_refused,
    bottling_rules.one_batch_fills_500_bottles_at_most,
    gas_rules.priming_above_a_bottles_limit_is_refused,
    gas_rules.pieces_fit_their_bottles,
    gas_rules.a_heaped_spoon_must_not_be_too_much,
    gas_rules.a_dose_may_be_smaller_than_a_quarter_of_a_spoon,
    gas_rules.sugar_may_not_be_needed,
    gas_rules.only_table_sugar_is_dosed_by_the_spoon,
    bottling_rules.a_bottle_of_unknown_kind_counts_as_the_weakest,
    bottling_rules.too_few_bottles_is_a_warning,
    bottling_rules.fewer_bottles_than_asked_are_said,
    bottling_rules.a_batch_should_fill_a_bottle,
    bottling_rules.bottling_after_its_latest_day_is_late,
    drink_rules.a_job_after_its_last_harmless_day_is_named,
    drink_rules.a_job_whose_day_has_passed_is_taken_as_done,
    bottling_rules.hops_stay_in_ten_days_at_most,
    bottling_rules.a_careful_pass_needs_careful_bottles,
    bottling_rules.very_strong_batches_are_not_for_this_gate,
    record_rules.readings_before_the_dry_hops_do_not_count,
    record_rules.a_pass_lapses_after_two_weeks,
    record_rules.coarse_scales_weigh_ten_doses_together,
    record_rules.a_bottling_vessel_holds_the_batch,
    record_rules.a_careful_pass_says_what_it_could_become,
    looks_rules.without_a_hydrometer_only_plastic_bottles_will_do,
    looks_rules.without_a_hydrometer_little_gas_is_made,
    looks_rules.looks_decide_over_plain_drinks_only,
    looks_rules.a_batch_without_a_hydrometer_goes_the_weaker_way,
    cleaning_rules.a_cleaner_does_not_sanitise,
    cleaning_rules.a_sanitiser_does_not_clean,
    cleaning_rules.bleach_stays_alone,
)
"""Rules of what is still to come on bottling day: silent once bottles were filled (see `safety`)."""

STANDING_RULES: tuple[Rule, ...] = (
    *event_rules.EVENT_RULES,
    brew_rules.a_room_outside_the_yeasts_range_is_unusual,
    brew_rules.days_in_a_room_beyond_the_tables_are_those_of_its_nearest,
    record_rules.an_instrument_beyond_the_tables_is_refused,
    allergens_that_are_not_known_are_said,
    looks_rules.readings_decide_where_there_are_any,
    dose_rules.a_helper_far_from_its_usual_dose_is_named,
    dose_rules.much_sulphite_is_named,
    gas_rules.strong_gas_never_stands_warm,
    reading_rules.a_gravity_that_is_not_the_recipes_is_explained,
    reading_rules.a_reading_above_the_original_gravity_is_explained,
    reading_rules.a_reading_below_all_sugar_gone_is_explained,
    reading_rules.a_reading_that_rose_is_explained,
    reading_rules.readings_of_one_day_that_differ_are_named,
    reading_rules.a_skin_that_was_seen_is_explained,
    reading_rules.a_reading_in_the_cold_is_explained,
    reading_rules.a_reading_far_above_its_day_is_explained,
    record_rules.a_reading_without_a_temperature_takes_the_rooms,
    record_rules.readings_that_cannot_be_corrected_are_left_out,
    record_rules.readings_from_before_the_yeast_are_left_out,
    record_rules.what_was_bottled_should_add_up,
    record_rules.no_more_is_bottled_than_there_was,
    record_rules.no_more_bottles_are_filled_than_there_are,
    record_rules.bottles_closed_before_their_wall_are_named,
    contradictions.yeast_goes_into_wort_that_is_there,
    contradictions.wort_without_yeast_spoils,
    contradictions.bottles_are_filled_after_brewing,
    contradictions.hops_go_in_between_foam_and_filling,
    contradictions.the_gate_does_not_look_into_bottles,
    contradictions.bottles_are_tried_after_filling,
    contradictions.a_bottle_that_foamed_over_is_named,
    contradictions.what_is_added_goes_in_before_filling,
    unused_rules.what_changes_nothing_is_said,
    unused_rules.yeast_before_its_date_counts_as_fresh,
    unused_rules.what_ferments_out_asks_no_yeast_how_far,
    unused_rules.below_the_sea_water_boils_as_at_its_shore,
    unused_rules.work_that_no_plan_asked_for_is_said,
    unused_rules.a_move_to_no_warmer_place_is_no_warm_up,
    unused_rules.a_finish_test_that_did_not_ferment_is_not_believed,
    hot_days.bottles_are_moved_out_of_the_heat,
)
"""Rules that hold at any time."""


def rules_for(batch: Batch) -> tuple[Rule, ...]:
    """The rules that still apply to this batch."""
    brewing = () if has_begun(batch) else BREW_DAY_RULES
    bottling = BOTTLING_RULES if batch.actual.bottled is None else ()
    return brewing + bottling + STANDING_RULES


HANDLING_RULES: tuple[Rule, ...] = (
    *event_rules.EVENT_RULES,
    hot_days.bottles_are_moved_out_of_the_heat,
)
"""Rules that speak of serving or carrying bottles: silent beside a safety sheet."""


def findings(facts: Facts, unsafe: bool = False) -> list[Problem]:
    """What every rule finds, in the order of the rules; `unsafe`: nobody is to touch a bottle."""
    rules = [rule for rule in rules_for(facts.batch) if not (unsafe and rule in HANDLING_RULES)]
    return [problem for rule in rules for problem in rule(facts)]
