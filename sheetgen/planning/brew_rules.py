"""Rules of brew day: room, vessel, pot, the mix, and the day itself; each is named as a sentence.

Comes in: `Facts`.  Goes out: findings.  `sheetgen.planning.rules` says when each rule applies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime, time

from sheetgen.brewing import rounding
from sheetgen.model import Batch
from sheetgen.planning.brew_day_advice import next_brew_day
from sheetgen.planning.cooling import LONGEST_WAIT_MIN
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.kitchen import OVER_THE_MARK_L, held_litres
from sheetgen.planning.life import HOME_DAYS
from sheetgen.planning.plan import WaterPlan
from sheetgen.planning.planner import coldest_known, has_begun, warmest_known
from sheetgen.planning.scaling import LEAST_MARK_L
from sheetgen.planning.strength import vessel_full
from sheetgen.planning.water_plan import pot_fill
from sheetgen.planning.whole_packs import VESSEL_STOP
from sheetgen.problems import Problem, Said, said

POT_WARN, POT_STOP = 0.75, 0.85
"""Shares of the pot, with room for foam (cautious judgement, no source)."""


PITCH_WARN, PITCH_STOP = 25.0, 30.0
"""Wort for the yeast, in C (cautious judgement, no source)."""


EVENING, MORNING = time(22, 0), time(7, 0)
"""The yeast had better be in by the evening, and nobody starts before the morning."""


COLDEST_ROOM, WARMEST_ROOM = 14.0, 30.0
"""For ale yeast, in C (common practice, no source)."""


HANDS_FULL_KG = 15.0
"""More is warned of (cautious judgement, no source)."""


def a_room_below_14_stops_unless_the_yeast_likes_it(facts: Facts) -> Iterator[Problem]:
    """Ale yeast goes to sleep; the batch would stop half done."""
    room, low = float(facts.batch.room.fermenting[0]), coldest_known(facts.batch)
    if room < low:
        message = said("stop.room-cold", celsius=room, low=low)
        warmer = f"{max(low, float(facts.batch.recipe.yeast.celsius[0])):g} C"
        yield finding(facts, "stop", message, "room.fermenting", said("fix.room-cold"), warmer)


def a_room_of_30_stops_unless_the_yeast_likes_it(facts: Facts) -> Iterator[Problem]:
    """It ferments fast, and to solvent."""
    room, yeast_high = float(facts.batch.room.fermenting[1]), float(facts.batch.recipe.yeast.celsius[1])
    if room > warmest_known(facts.batch) or (room >= WARMEST_ROOM and room > yeast_high):
        message = said("stop.room-hot", celsius=room)
        yield finding(facts, "stop", message, "room.fermenting", said("fix.room-hot"), f"{yeast_high:g} C")


def days_in_a_room_beyond_the_tables_are_those_of_its_nearest(facts: Facts) -> Iterator[Problem]:
    """Once it ferments nothing is stopped; but the dates are those of another room."""
    room, low, high = float(facts.batch.room.fermenting[0]), *_known(facts.batch)
    if has_begun(facts.batch) and not low <= room <= high:
        values = {"celsius": room, "as_if": low if room < low else high}
        fix = said("fix.room-cold" if room < low else "fix.room-hot")
        yield finding(facts, "warn", said("warn.room-beyond", **values), "room.fermenting", fix)
    warm = float(facts.batch.room.warm_place)
    if facts.batch.actual.bottled and facts.gas is not None and not COLDEST_ROOM <= warm <= WARMEST_ROOM:
        values = {"celsius": warm, "as_if": COLDEST_ROOM if warm < COLDEST_ROOM else WARMEST_ROOM}
        yield finding(
            facts, "warn", said("warn.warm-place-beyond", **values), "room.warm-place", said("fix.warm-place")
        )


def _known(batch: Batch) -> tuple[float, float]:
    return coldest_known(batch), warmest_known(batch)


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


def a_vessel_needs_room_for_foam(facts: Facts) -> Iterator[Problem]:
    """Up to 80 % (75 % for wheat and strong wort) is fine, over 90 % is not."""
    litres, vessel, full = facts.scaled.litres, facts.vessel_l, vessel_full(facts.batch, facts.found)
    share = round(litres / vessel, 9)
    wanted = rounding.up_to(litres / full, 1.0)
    values = {"litres": litres, "vessel": vessel, "wanted": wanted}
    if share > VESSEL_STOP:
        grown = facts.scaled.planned_l > facts.scaled.asked_l
        fix = said("fix.vessel-packs" if grown else "fix.vessel", wanted=wanted)
        held = "equipment.vessel.holds" in facts.batch.where
        key = "equipment.vessel.holds" if held else "equipment.vessel"
        yield finding(facts, "stop", said("stop.vessel", **values), key, fix, f"{wanted:g} L")
    elif share > full:
        yield finding(
            facts, "warn", said("warn.vessel", **values), "equipment.vessel", said("fix.vessel", **values)
        )


def what_goes_in_is_no_more_than_the_batch(facts: Facts) -> Iterator[Problem]:
    """Juice, syrup and fruit alone may not pass the litres; and something must be there to pitch into."""
    held, litres = held_litres(facts.batch, facts.scaled), facts.scaled.planned_l
    if held > litres + OVER_THE_MARK_L:
        values = {"held": held, "litres": litres}
        fix = said("fix.over-the-mark", wanted=rounding.up_to(held, 0.25))
        yield finding(facts, "stop", said("stop.over-the-mark", **values), "volume", fix)
    elif litres - facts.scaled.later_l < LEAST_MARK_L:
        message = said("stop.nothing-on-brew-day", later=facts.scaled.later_l, litres=litres)
        yield finding(facts, "stop", message, "volume", said("fix.nothing-on-brew-day"))


def a_pot_needs_room_for_foam(facts: Facts) -> Iterator[Problem]:
    """Up to 75 % is fine, over 85 % boils over."""
    if not facts.pot_l or not facts.water.kettle_l:
        return
    share = round(pot_fill(facts.batch, facts.scaled, facts.water, facts.pot_l), 9)
    values = {"litres": share * facts.pot_l, "pot": facts.pot_l, "wanted": share * facts.pot_l / POT_WARN}
    if share > POT_STOP:
        larger, fix = f"{math.ceil(values['wanted'])} L", said("fix.pot", **values)
        yield finding(facts, "stop", said("stop.pot", **values), "equipment.pot", fix, larger)
    elif share > POT_WARN:
        yield finding(facts, "warn", said("warn.pot", **values), "equipment.pot", said("fix.pot", **values))


def yeast_is_never_pitched_hot(facts: Facts) -> Iterator[Problem]:
    """Over 25 C is unwise, over 30 C harms yeast and taste: judged when the yeast goes in.  A mix over
    30 C must get there in half a day.
    """
    water, yeast_high = facts.water, float(facts.batch.recipe.yeast.celsius[1])
    endless = (water.wait_minutes or 0.0) >= LONGEST_WAIT_MIN
    judged = water.mixed_c if endless else water.pitch_c
    if judged > PITCH_STOP and judged > yeast_high:
        yield finding(facts, "stop", said("stop.pitch-hot", celsius=judged), "water", _cooler(water))
        return
    if water.wait_minutes and water.pitch_c < water.mixed_c:
        message = said("warn.mix-warm", celsius=water.mixed_c, minutes=water.wait_minutes)
        yield finding(facts, "warn", message, "water", _ice(water))
    if water.pitch_c > PITCH_WARN:
        message = said("warn.pitch-warm", celsius=water.pitch_c)
        yield finding(facts, "warn", message, "water", _ice(water))


def _cooler(water: WaterPlan) -> Said | str:
    """The advice that cools: ice by its weight where that would do."""
    return _ice(water) or said("fix.pitch-hot")


def _ice(water: WaterPlan) -> Said | str:
    ice = water.remedies.ice if water.remedies else None
    if ice is None or ice.mixed_c > PITCH_WARN or ice.mixed_c > water.pitch_c:
        return ""
    return said("fix.ice", grams=1000 * ice.kg, celsius=ice.mixed_c)


def a_mix_may_be_too_cold_to_pitch(facts: Facts) -> Iterator[Problem]:
    """It warms by itself, in a room that is warm enough."""
    low = float(facts.batch.recipe.drink.pitch[0])
    if facts.water.mixed_c < low - 1:
        yield finding(facts, "warn", said("warn.mix-cold", celsius=facts.water.mixed_c, low=low), "water")


def the_yeast_goes_in_before_midnight(facts: Facts) -> Iterator[Problem]:
    """Tired hands spill; an earlier start is named, if there is one that day."""
    day, at = facts.batch.brew_day, facts.pitching
    if at is None or at.date() <= day or facts.batch.start is None:
        return
    spent = at - datetime.combine(day, facts.batch.start)
    starts = [datetime.combine(day, EVENING) - spent, datetime.combine(day, time(23, 59)) - spent]
    early = next((start for start in starts if start >= datetime.combine(day, MORNING)), None)
    fix = said("fix.cool-faster")
    if early:
        fix = said("fix.start-earlier", at=early.replace(minute=early.minute // 30 * 30))
    yield finding(facts, "warn", said("warn.after-midnight", at=at, on=at.date()), "brew-day", fix)


def a_brew_day_while_away_is_impossible(facts: Facts) -> Iterator[Problem]:
    """Nobody is there to brew."""
    day = facts.batch.brew_day
    if day < facts.today or not facts.life.away_until(day):
        return
    message, other = said("stop.brew-day-away", on=day), next_brew_day(facts)
    start = f" {facts.batch.start:%H:%M}" if facts.batch.start else ""
    on = other.values.get("on") if isinstance(other, Said) else None
    yield finding(facts, "stop", message, "brew-day", other, f"{on}{start}" if on else "")


def a_brew_day_is_one_of_ones_own(facts: Facts) -> Iterator[Problem]:
    """The file says both; either may be meant."""
    day = facts.batch.brew_day
    why = facts.life.hinders(day, "brewing")
    if why is not None and day >= facts.today and not facts.life.away_until(day):
        message = said("warn.brew-day-not-mine", on=day, why=(why,))
        yield finding(facts, "warn", message, "brew-day", next_brew_day(facts))


def somebody_stays_home_for_the_first_three_days(facts: Facts) -> Iterator[Problem]:
    """It may foam over."""
    day = facts.batch.brew_day
    if facts.life.away_until(day) or day < facts.today:
        return
    if not facts.life.is_home(day, HOME_DAYS):
        message = said("warn.first-days-away", on=day)
        yield finding(facts, "warn", message, "brew-day", next_brew_day(facts))


def a_past_brew_day_is_taken_as_brewed(facts: Facts) -> Iterator[Problem]:
    """The file does not say so, and the plan goes on from there."""
    if facts.batch.brew_day < facts.today:
        message = said("warn.past-brew-day", on=facts.batch.brew_day)
        yield finding(
            facts, "warn", message, "brew-day", said("fix.past-brew-day", on=facts.batch.brew_day.isoformat())
        )


def a_full_vessel_is_heavy(facts: Facts) -> Iterator[Problem]:
    """From 15 kg on."""
    if facts.scaled.litres >= HANDS_FULL_KG:
        yield finding(facts, "note", said("note.heavy", grams=1000.0 * round(facts.scaled.litres)), "volume")
