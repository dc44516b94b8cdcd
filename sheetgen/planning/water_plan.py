"""Hot and cold: how much to boil, how much from the fridge, how much from the tap, so that the mix can be
pitched.

Comes in: a `Batch` and its `Scaled` amounts.  Goes out: `WaterPlan` and the pot that it needs.  Search order:
the hot water that the extract needs, then the share of cold water, then another amount of hot water, and
then what `sheetgen.planning.cooling` knows.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sheetgen.brewing import heat, rounding
from sheetgen.model import Batch
from sheetgen.planning.boil import mean_pot_gravity
from sheetgen.planning.cooling import cooled
from sheetgen.planning.kitchen import Kitchen, Mix, load_of, spread_of
from sheetgen.planning.plan import WaterPlan
from sheetgen.planning.scaling import Scaled

HOT_LITRES_PER_KG, LEAST_HOT_LITRES_PER_KG = 1.0, 0.5
"""Hot water that a kilogram of extract dissolves in, with ease and at the least (common practice, no
source).
"""
LEAST_HOT_LITRES = 1.0
LEAST_FRIDGE_LITRES = 0.5
"""Less than this from the fridge changes nothing."""
LEAST_COLDER_C = 0.5
"""A fridge that is hardly colder than the tap changes nothing either."""
POT_FULL = 0.75
BOILED_SHARE = 0.4
"""Of a boiled batch, at least this share of the water is boiled when the pot is ours to choose."""
POT_SIZES = (5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0)
HALVINGS = 16
"""Steps of the search for the hot litres: 100 L to the nearest 2 ml."""


def most_hot(kitchen: Kitchen) -> float:
    """All the water there is, and what steam and grain take besides."""
    return kitchen.needed + kitchen.lost


def wanted_hot(kitchen: Kitchen) -> float:
    """Litres at the start that a pot of any size would hold."""
    if not kitchen.load.heated:
        return 0.0
    by_extract = max(LEAST_HOT_LITRES, HOT_LITRES_PER_KG * kitchen.load.extract_kg)
    if kitchen.boils:
        by_extract = max(by_extract, BOILED_SHARE * kitchen.needed)
    return min(by_extract + kitchen.lost, most_hot(kitchen))


def least_hot(kitchen: Kitchen) -> float:
    """Litres at the start that it cannot be done without."""
    by_extract = max(LEAST_HOT_LITRES, LEAST_HOT_LITRES_PER_KG * kitchen.load.extract_kg)
    return min(kitchen.needed, by_extract) + kitchen.lost


def pot_needed(batch: Batch, scaled: Scaled) -> float:
    """The common pot size, in litres, that holds this batch's hot part three quarters full; 0 without
    heat.
    """
    kitchen = Kitchen(batch, scaled, 0.0)
    if not kitchen.load.heated:
        return 0.0
    full = _fullest(rounding.litres(wanted_hot(kitchen)), kitchen) / POT_FULL
    return next((size for size in POT_SIZES if size >= full - 1e-9), float(math.ceil(full)))


def _fullest(hot_l: float, kitchen: Kitchen) -> float:
    """Litres in the pot at its fullest: when it begins to boil, or at the very end, when the last extract is
    in and steam and grain have left.
    """
    return max(hot_l + kitchen.load.pot_litres, hot_l - kitchen.lost + kitchen.load.hot_litres)


def _room_in_pot(kitchen: Kitchen) -> float:
    """Hot litres at the start that leave a quarter of the pot for the foam."""
    room = POT_FULL * kitchen.pot_l
    load = kitchen.load
    return max(0.0, min(room - load.pot_litres, room - load.hot_litres + kitchen.lost))


def hot_water(kitchen: Kitchen) -> float:
    """Litres to heat at the start, within the pot."""
    if not kitchen.load.heated:
        return 0.0
    room, least, wanted = _room_in_pot(kitchen), least_hot(kitchen), wanted_hot(kitchen)
    if least <= room < wanted:
        return max(_printed_up_to(least, room), rounding.litres_down(room))
    return _printed_up_to(least if room < wanted else wanted, most_hot(kitchen))


def _printed_up_to(litres: float, most: float) -> float:
    """The litres as printed, but not over what there is room for."""
    return min(rounding.litres(litres), rounding.litres_down(most))


def _by_fridge(kitchen: Kitchen, hot_l: float) -> Mix:
    """The share of fridge-cold water that brings the mix nearest to the middle of the window."""
    mix, cold = Mix(hot_l), kitchen.cold(hot_l)
    if cold < LEAST_FRIDGE_LITRES or kitchen.fridge_c > kitchen.tap_c - LEAST_COLDER_C:
        return mix
    others = [*kitchen.pot_parts(mix), *kitchen.goods_parts()]
    share = heat.cold_share(others, cold, kitchen.fridge_c, kitchen.tap_c, kitchen.target)
    most = rounding.litres_down(kitchen.fridge_most(hot_l))
    litres = min(most, rounding.litres(cold * min(1.0, max(0.0, share))))
    return replace(mix, fridge_l=litres) if litres >= LEAST_FRIDGE_LITRES else mix


def _excess(kitchen: Kitchen, hot_l: float, fridge_share: float) -> float:
    mix = Mix(hot_l, fridge_share * kitchen.fridge_most(hot_l))
    return heat.excess_kilojoules(kitchen.parts(mix), kitchen.target)


def _other_hot(kitchen: Kitchen, low: float, high: float, fridge_share: float) -> float:
    """The hot litres from low to high that come nearest to the middle of the window: more is warmer."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if _excess(kitchen, middle, fridge_share) > 0 else (middle, high)
    return (low + high) / 2


def hot_and_cold(kitchen: Kitchen) -> Mix:
    """Fridge water first; then less hot water when the mix is too warm, more when it is too cold.  Only where
    nothing is boiled: a boil keeps its water.
    """
    hot_l = hot_water(kitchen)
    mix = _by_fridge(kitchen, hot_l)
    mixed_c = kitchen.mixed(mix)
    low, high = kitchen.window
    if low <= mixed_c <= high or kitchen.boils or not kitchen.load.heated:
        return mix
    if mixed_c > high:
        found = _other_hot(kitchen, min(least_hot(kitchen), hot_l), hot_l, 1.0)
    else:
        most = max(hot_l, min(most_hot(kitchen), _room_in_pot(kitchen)))
        found = _other_hot(kitchen, hot_l, most, 0.0)
    return _by_fridge(kitchen, _printed_up_to(found, most_hot(kitchen)))


def water_plan(batch: Batch, scaled: Scaled, pot_l: float) -> WaterPlan:
    """The split for this kitchen; `pot_l` is the pot's whole volume in litres."""
    kitchen = Kitchen(batch, scaled, pot_l)
    found = cooled(kitchen, hot_and_cold(kitchen))
    mix, bath, wait = found.mix, found.bath, found.wait
    doubt = kitchen.doubt(mix)
    return WaterPlan(
        kettle_l=mix.hot_l,
        fridge_l=mix.fridge_l,
        tap_l=rounding.litres(kitchen.tap(mix)),
        mixed_c=kitchen.mixed(mix),
        plus_minus_c=spread_of(doubt),
        cool_pot_to_c=bath.pot_c if bath else None,
        cool_minutes=bath.minutes if bath else None,
        boiled_off_l=kitchen.steam,
        pot_gravity=mean_pot_gravity(batch, scaled, mix.hot_l),
        wait_minutes=wait.minutes if wait else None,
        ice_kg=mix.ice_kg,
        grain_l=kitchen.load.kept_litres,
        ingredients_l=kitchen.load.hot_litres + kitchen.load.cold_litres,
        comes_to_c=wait.comes_to_c if wait else None,
        doubt=doubt,
        remedies=found.remedies,
    )


def pot_fill(batch: Batch, scaled: Scaled, water: WaterPlan, pot_l: float) -> float:
    """How full the pot stands at its fullest, as a share of its volume."""
    load = load_of(batch, scaled)
    end = water.kettle_l - water.boiled_off_l - load.kept_litres + load.hot_litres
    return max(water.kettle_l + load.pot_litres, end) / pot_l if pot_l > 0 else 0.0
