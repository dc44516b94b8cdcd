"""Wort that is too warm, or too cold, for the yeast: a bath for the pot, clean ice, or time.

Comes in: a `Kitchen` and the mix that hot and cold water alone make.  Goes out: what each remedy does on its
own (`Remedies`), and the mix with those that the plan takes: the ice that is there, then a bath, then a
wait.  How fast things cool is `sheetgen.brewing.heat`'s one model.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sheetgen.brewing import heat, rounding
from sheetgen.planning.kitchen import Kitchen, Mix
from sheetgen.planning.plan import Bath, Ice, Remedies, Wait
from sheetgen.planning.plan_water import CoolingWay
from sheetgen.records import record

OVER_TAP_C, OVER_ROOM_C = 5.0, 1.5
"""How near a bath comes to the tap's temperature, and a wait to the room's, in a time worth printing."""
LONGEST_WAIT_MIN = 720.0
"""Wort without yeast does not stand longer than half a day (cautious judgement, no source)."""
LEAST_ICE_KG = 0.1
HALF_HOURS_FROM_MIN = 120.0


@record
class Cooled:
    """The mix that the plan makes: with its ice and bath, the wait after it, and the other ways."""

    mix: Mix
    bath: Bath | None
    wait: Wait | None
    remedies: Remedies | None


def _in_litres_of_the_model(litres: float) -> float:
    return min(100.0, max(0.5, litres))


def ice_wanted(kitchen: Kitchen, mix: Mix) -> float:
    """Kilograms that bring the mix to the middle of the window, in place of as much water from the tap,
    then from the fridge; at most all the cold water.
    """
    tap_l, most = kitchen.tap(mix), rounding.down_to(kitchen.cold(mix.hot_l), 0.1)
    wanted = heat.ice_kilograms(kitchen.parts(mix), kitchen.target, kitchen.tap_c)
    if wanted > tap_l:
        rest = kitchen.parts(replace(mix, ice_kg=tap_l))
        wanted = tap_l + heat.ice_kilograms(rest, kitchen.target, kitchen.fridge_c)
    return min(most, rounding.nearest_to(wanted, 0.1))


def iced(kitchen: Kitchen, mix: Mix, kilograms: float) -> Mix:
    """The mix with so much ice in place of cold water."""
    left = rounding.litres_down(max(0.0, kitchen.cold(mix.hot_l) - kilograms))
    return replace(mix, ice_kg=kilograms, fridge_l=min(mix.fridge_l, left))


def ice_of(kitchen: Kitchen, mix: Mix) -> Ice | None:
    """How much clean ice would do, whatever there is; None where no water can give way to it."""
    kilograms = ice_wanted(kitchen, mix)
    if kilograms < LEAST_ICE_KG:
        return None
    return Ice(kilograms, kitchen.mixed(iced(kitchen, mix, kilograms)))


def with_own_ice(kitchen: Kitchen, mix: Mix) -> Mix:
    """As much of the ice at hand as helps."""
    own = rounding.down_to(kitchen.own_ice_kg, 0.1)
    kilograms = min(own, ice_wanted(kitchen, mix)) if own >= LEAST_ICE_KG else 0.0
    return iced(kitchen, mix, kilograms) if kilograms >= LEAST_ICE_KG else mix


def _bath_celsius(kitchen: Kitchen, mix: Mix) -> float:
    """What the pot must come down to for the middle of the window, or as near to it as tap water brings
    it.
    """
    coldest = replace(mix, pot_c=kitchen.tap_c + OVER_TAP_C)
    if kitchen.mixed(coldest) >= kitchen.target:
        return kitchen.tap_c + OVER_TAP_C
    return heat.celsius_for(kitchen.cold_parts(mix), kitchen.pot_parts(mix), kitchen.target)


def bath_of(kitchen: Kitchen, mix: Mix) -> Bath | None:
    """A sink of cold water for the pot; None without a pot, or where it would not cool it."""
    start = kitchen.pot_c(mix)
    if not kitchen.load.heated or start <= kitchen.tap_c + OVER_TAP_C:
        return None
    pot_c = float(math.floor(min(start, _bath_celsius(kitchen, mix))))
    litres = _in_litres_of_the_model(kitchen.pot_litres(mix))
    hours = heat.hours_to_cool(litres, start, pot_c, kitchen.tap_c, "bath")
    minutes = rounding.up_to(hours * 60, 5.0)
    return Bath(pot_c, minutes, kitchen.mixed(replace(mix, pot_c=pot_c))) if minutes > 0 else None


def _printed_minutes(minutes: float) -> float:
    return rounding.up_to(minutes, 15.0 if minutes <= HALF_HOURS_FROM_MIN else 30.0)


def _waited(kitchen: Kitchen, mixed_c: float, hours: float, goal: float, room: float) -> Wait:
    """Hours rounded up; half a day at most, and then what has been reached by then."""
    minutes = _printed_minutes(hours * 60)
    if minutes <= LONGEST_WAIT_MIN:
        return Wait(minutes, goal)
    litres = _in_litres_of_the_model(kitchen.mark_l)
    return Wait(LONGEST_WAIT_MIN, heat.celsius_after(litres, mixed_c, LONGEST_WAIT_MIN / 60, room))


def wait_of(kitchen: Kitchen, mixed_c: float) -> Wait | None:
    """Time in the room until the window is reached, from above or from below, or what the room can do.

    Cooling is reckoned with the warmer end of the room, warming with its cooler end.  None in the window, and
    where the room helps no further.
    """
    (low, high), litres = kitchen.window, _in_litres_of_the_model(kitchen.mark_l)
    cool, warm = kitchen.room_c
    if kitchen.too_warm(mixed_c):
        goal = max(high, warm + OVER_ROOM_C)
        if mixed_c <= goal:
            return None
        return _waited(kitchen, mixed_c, heat.hours_to_cool(litres, mixed_c, goal, warm), goal, warm)
    goal = min(low, cool - OVER_ROOM_C)
    if not kitchen.too_cold(mixed_c) or mixed_c >= goal:
        return None
    return _waited(kitchen, mixed_c, heat.hours_to_warm(litres, mixed_c, goal, cool), goal, cool)


def remedies_of(kitchen: Kitchen, mix: Mix, chosen: tuple[CoolingWay, ...]) -> Remedies:
    """What each way alone makes of a mix that is outside the window."""
    mixed_c = kitchen.mixed(mix)
    warm = kitchen.too_warm(mixed_c)
    return Remedies(
        unaided_c=mixed_c,
        chosen=chosen,
        bath=bath_of(kitchen, mix) if warm else None,
        ice=ice_of(kitchen, mix) if warm else None,
        wait=wait_of(kitchen, mixed_c),
    )


def cooled(kitchen: Kitchen, unaided: Mix) -> Cooled:
    """The remedies that the plan takes, in their order, each only as far as the one before did not do."""
    before = kitchen.mixed(unaided)
    if not kitchen.too_warm(before) and not kitchen.too_cold(before):
        return Cooled(unaided, None, None, None)
    mix, bath = unaided, None
    if kitchen.too_warm(before):
        mix = with_own_ice(kitchen, mix)
        if kitchen.too_warm(kitchen.mixed(mix)):
            bath = bath_of(kitchen, mix)
            mix = replace(mix, pot_c=bath.pot_c) if bath else mix
    wait = wait_of(kitchen, kitchen.mixed(mix))
    taken: tuple[tuple[CoolingWay, bool], ...] = (
        ("ice", mix.ice_kg > 0),
        ("bath", bath is not None),
        ("wait", wait is not None),
    )
    chosen = tuple(name for name, is_taken in taken if is_taken)
    return Cooled(mix, bath, wait, remedies_of(kitchen, unaided, chosen))
