"""Brew day from the hot pot to the closed lid: cooling, cold water, the mark, the yeast.

Comes in: a `BrewDay`.  Goes out: steps with the number each needs; where the plan cools, the other ways that
would do as well.
"""

from __future__ import annotations

from sheetgen.brewing import rounding
from sheetgen.planning.brew_day import BrewDay, amount_of, stir_in
from sheetgen.planning.plan import Amount, Step, WaterPlan
from sheetgen.problems import Said, said

FIRST_TAP_L = 2.0
"""Cold water that stands in the vessel before hot wort meets it."""
HALF_C = 0.5
"""A thermometer is read to whole degrees."""
HOURS_FROM_MIN = 120.0
"""Longer waits are said in hours."""


def _cool_pot(day: BrewDay) -> list[Step]:
    water = day.water
    if water.cool_pot_to_c is None:
        return []
    note = said("step.cool-pot.note", minutes=water.cool_minutes or 0.0)
    return [
        Step(
            said("step.cool-pot"),
            "group.cold",
            Amount(water.cool_pot_to_c, "C"),
            note,
            "burn",
            minutes=water.cool_minutes or 0.0,
            instead=_instead(day, "bath"),
        )
    ]


def _instead(day: BrewDay, at: str) -> tuple[Said, ...]:
    """The ways that the plan does not take and that alone would do as well: said beside the first that it
    does after its ice.
    """
    found = day.water.remedies
    if found is None or next((way for way in found.chosen if way != "ice"), "ice") != at:
        return ()
    enough = max(day.water.pitch_c, day.batch.recipe.drink.pitch[1] + HALF_C)
    ways = []
    short_of_ice = found.ice is not None and day.water.ice_kg < found.ice.kg
    if found.ice and short_of_ice and found.ice.mixed_c <= enough:
        ways.append(said("step.or-ice", grams=1000 * found.ice.kg))
    if found.bath and "bath" not in found.chosen and found.bath.mixed_c <= enough:
        ways.append(said("step.or-bath", celsius=found.bath.pot_c, minutes=found.bath.minutes))
    if found.wait and "wait" not in found.chosen and found.wait.comes_to_c <= enough:
        ways.append(said("step.or-wait", minutes=found.wait.minutes))
    return tuple(ways)


def _ice_steps(day: BrewDay) -> list[Step]:
    if day.water.ice_kg <= 0:
        return []
    grams, note = Amount(1000 * day.water.ice_kg, "g"), said("step.ice.note")
    return [Step(said("step.ice"), "group.cold", grams, note, minutes=3.0, instead=_instead(day, "ice"))]


def _tap_first(water: WaterPlan) -> float:
    """Litres of tap water that wait in the vessel for the hot wort, where none is fridge-cold."""
    return 0.0 if water.fridge_l > 0 or water.tap_l < FIRST_TAP_L else FIRST_TAP_L


def cold_steps(day: BrewDay) -> list[Step]:
    """Cold water and ice first, the hot wort onto them, up to the mark, air."""
    water, group = day.water, "group.cold"
    rinse = said("shop.rinse") if day.batch.equipment.sanitiser.rinse else None
    steps = [Step(said("step.empty"), group, note=rinse, minutes=2.0), *_cool_pot(day)]
    if water.fridge_l > 0:
        steps.append(Step(said("step.fridge-water"), group, Amount(water.fridge_l, "L"), minutes=5.0))
    first = _tap_first(water) if water.kettle_l else 0.0
    if first:
        steps.append(Step(said("step.some-tap-water"), group, Amount(first, "L"), minutes=3.0))
    steps += _ice_steps(day)
    steps += [
        Step(said("step.pour-juice", name=use.name), group, amount_of(use), minutes=5.0)
        for use in day.uses("vessel", "pot", roles=("juice",))
    ]
    if water.kettle_l:
        steps.append(Step(said("step.pour-wort"), group, caution="hot-into-plastic", minutes=5.0))
    others = [use for use in day.uses("vessel") if use.role != "juice"]
    steps += [stir_in(use, group) for use in others]
    if water.kettle_l or water.tap_l > 0:
        note = said("step.top-up.note", litres=day.scaled.mark_l)
        amount = Amount(water.tap_l - first, "L") if water.tap_l > first else None
        steps.append(Step(said("step.top-up"), group, amount, note, minutes=5.0))
    steps.append(Step(said("step.air"), group, Amount(3.0, "min"), minutes=5.0))
    return steps


def pitch_steps(day: BrewDay) -> list[Step]:
    """Read, write down, pitch, close."""
    low, high = day.batch.recipe.drink.pitch
    group = "group.pitch"
    temperature = Step(
        said("step.read-temperature"),
        group,
        note=_temperature_note(day, float(low), float(high)),
        write=Amount(day.water.mixed_c, "C"),
        minutes=5.0,
    )
    gravity = Step(
        said("step.read-gravity"),
        group,
        note=_gravity_note(day),
        write=Amount(day.found.brewed, "SG"),
        minutes=10.0,
    )
    close = Step(said("step.close"), group, None, _place_note(day), "carbon-dioxide", minutes=5.0)
    read = [gravity] if day.batch.equipment.has_hydrometer else []
    return [temperature, *_wait_steps(day), *read, _sprinkle(day), close]


def _gravity_note(day: BrewDay) -> Said:
    """How to read it; and, where more sugar or water goes in later, what all of it together has."""
    whole = day.found.calculated
    if rounding.printed_sg(whole) == rounding.printed_sg(day.found.brewed):
        return said("step.read-gravity.note")
    return said("step.read-gravity.note-later", whole=whole)


def _temperature_note(day: BrewDay, low: float, high: float) -> Said:
    """The window; or, where the room allows no less, what it is to be pitched at."""
    water = day.water
    if rounding.whole_degrees(water.pitch_c) > high:
        return said("step.read-temperature.note-warm", celsius=water.pitch_c, low=low, high=high)
    return said("step.read-temperature.note", low=low, high=high, by=water.plus_minus_c)


def _wait_steps(day: BrewDay) -> list[Step]:
    water = day.water
    minutes = water.wait_minutes or 0.0
    if not minutes:
        return []
    cools = water.pitch_c < water.mixed_c
    hours = minutes > HOURS_FROM_MIN
    amount = Amount(minutes / 60, "h") if hours else Amount(minutes, "min")
    return [
        Step(
            said("step.wait-cool" if cools else "step.wait-warm"),
            "group.pitch",
            amount,
            said("step.wait-cool.note" if cools else "step.wait-warm.note", celsius=water.pitch_c),
            "standing-wort",
            minutes=minutes,
            instead=_instead(day, "wait"),
        )
    ]


def _sprinkle(day: BrewDay) -> Step:
    """Whole sachets, or a weight; how, the sachet says."""
    yeast, group = day.yeast, "group.pitch"
    sentence = said("step.pitch-whole", n=yeast.packs) if yeast.whole else said("step.pitch")
    return Step(sentence, group, Amount(yeast.grams, "g"), minutes=5.0)


def _place_note(day: BrewDay) -> Said:
    grams = 1000.0 * round(day.scaled.mark_l)
    return said("step.close.note", grams=grams, celsius=float(day.batch.room.fermenting[0]))
