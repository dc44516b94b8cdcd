"""Hot and cold: how much to boil, how much from the fridge, how much from the tap, so that the mix can be
pitched.

Comes in: a `Batch` and its `Scaled` amounts.  Goes out: `WaterPlan` and the pot that it needs.  All litres
are measured cold (3 L boiled is 3.0 kg).  Search order: the hot water that the extract needs, then the share
of cold water, then a sink bath for the pot, then waiting.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from sheetgen.brewing import heat, rounding
from sheetgen.model import Batch, Substance
from sheetgen.planning.additions import quantity_of
from sheetgen.planning.plan import WaterPlan
from sheetgen.planning.scaling import Scaled
from sheetgen.records import record
from sheetgen.units import Celsius

HOT_LITRES_PER_KG = 1.0
"""Hot water that a kilogram of extract dissolves in (common practice, no source)."""
LEAST_HOT_LITRES = 1.0
LEAST_FRIDGE_LITRES = 0.5
"""Less than this from the fridge changes nothing."""
BOIL_OFF_PER_HOUR = 1.5
"""Litres an hour from a kitchen pot of 20-25 cm (common practice, no source: 1 to 2)."""
POT_FULL = 0.75
BOILED_SHARE = 0.4
"""Of a boiled batch, at least this share of the water is boiled when the pot is ours to choose."""
GRAIN_HOLDS = 0.8
"""Litres of water that a kilogram of steeped grain keeps (common practice, no source)."""
POT_SIZES = (5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0)
NO_BATH_C = 0.5
"""A pot this near to boiling has not stood in a bath."""
OVER_ROOM_C = 1.5
"""How near to the room's temperature a mix can be waited for."""
DOUBT_HOT_L, DOUBT_TAP_C = 0.2, 3.0
"""What is uncertain in a kitchen: 0.2 L of hot water, 3 C of the tap."""


@record
class Load:
    """What goes in besides water: kilograms and litres, by where it goes in (and whether it boils); water the
    grain keeps.
    """

    hot: tuple[tuple[float, Substance, bool], ...]
    hot_litres: float
    pot_litres: float
    cold_litres: float
    kept_litres: float
    extract_kg: float


def _is_hot(stage: str) -> bool:
    return stage in ("pot", "boil", "off-heat")


def load_of(scaled: Scaled) -> Load:
    """Sort the ingredients by where they meet the water."""
    hot: list[tuple[float, Substance, bool]] = []
    litres = {"hot": 0.0, "pot": 0.0, "cold": 0.0, "kept": 0.0, "extract": 0.0}
    for part, use in zip(scaled.ingredients, scaled.uses, strict=True):
        kilograms = quantity_of(part.item, use.amount)
        volume = kilograms * part.item.litres_each
        if part.when.stage in ("day", "dry-hop", "rack"):
            continue
        if part.item.role == "grain":
            litres["kept"] += kilograms * GRAIN_HOLDS
        elif _is_hot(part.when.stage):
            litres["hot"] += volume
            litres["pot"] += volume if part.when.stage != "off-heat" else 0.0
            hot.append((kilograms, part.item.substance, part.when.stage != "off-heat"))
            litres["extract"] += kilograms if part.item.role in ("extract", "honey", "sugar") else 0.0
        else:
            litres["cold"] += volume
    return Load(tuple(hot), litres["hot"], litres["pot"], litres["cold"], litres["kept"], litres["extract"])


def water_needed(scaled: Scaled, load: Load) -> float:
    """Litres of water in the finished wort."""
    return max(0.0, scaled.planned_l - load.hot_litres - load.cold_litres)


def boiled_off(batch: Batch) -> float:
    """Litres that leave as steam."""
    return BOIL_OFF_PER_HOUR * (batch.recipe.boil_minutes or 0.0) / 60


def wanted_hot(batch: Batch, load: Load, needed: float) -> float:
    """Litres at the start that a pot of any size would hold."""
    if not load.hot:
        return 0.0
    by_extract = max(LEAST_HOT_LITRES, HOT_LITRES_PER_KG * load.extract_kg)
    if batch.recipe.boil_minutes:
        by_extract = max(by_extract, BOILED_SHARE * needed) + boiled_off(batch)
    return min(by_extract + load.kept_litres, needed + boiled_off(batch) + load.kept_litres)


def pot_needed(batch: Batch, scaled: Scaled) -> float:
    """The common pot size, in litres, that holds this batch's hot part three quarters full; 0 without
    heat.
    """
    load = load_of(scaled)
    if not load.hot and not load.kept_litres:
        return 0.0
    full = (wanted_hot(batch, load, water_needed(scaled, load)) + load.hot_litres) / POT_FULL
    return next((size for size in POT_SIZES if size >= full - 1e-9), float(math.ceil(full)))


def _hot_water(batch: Batch, load: Load, needed: float, pot_l: float) -> float:
    if not load.hot:
        return 0.0
    room = POT_FULL * pot_l - load.hot_litres
    least = min(needed, LEAST_HOT_LITRES) + boiled_off(batch) + load.kept_litres
    wanted = wanted_hot(batch, load, needed)
    if least <= room < wanted:
        return rounding.down_to(room, 0.1)
    return rounding.litres(max(least, wanted if wanted <= room else 0.0))


def _parts(
    batch: Batch, load: Load, hot_l: float, fridge_l: float, tap_l: float, pot_c: float
) -> list[heat.Part]:
    """Everything that is mixed.  What boiled, or stood in the bath with the pot, is as hot as the pot; what
    is stirred into boiling water comes from the room.
    """
    room = batch.room.fermenting[1]
    bathed = pot_c < heat.boiling_celsius(batch.water.altitude) - NO_BATH_C
    malt = [
        heat.Part(kilograms, pot_c if bathed or (boiled and batch.recipe.boil_minutes) else room, substance)
        for kilograms, substance, boiled in load.hot
        if kilograms > 0
    ]
    cold = [heat.Part(fridge_l, batch.water.fridge, "water"), heat.Part(tap_l, batch.water.tap, "water")]
    if load.cold_litres:
        cold.append(heat.Part(load.cold_litres, room, "water"))
    return [part for part in [heat.Part(hot_l, pot_c, "water"), *malt, *cold] if part.kilograms > 0]


def _mixed(batch: Batch, load: Load, hot_l: float, fridge_l: float, tap_l: float, pot_c: float) -> float:
    parts = _parts(batch, load, hot_l, fridge_l, tap_l, pot_c)
    return heat.mixed_celsius(parts) if parts else batch.room.fermenting[1]


def _solve(value: Callable[[float], float], target: float, low: float, high: float) -> float:
    """The x in [low, high] where a steadily rising or falling function meets `target`, or the end that is
    nearest.
    """
    at_low, at_high = value(low), value(high)
    if not min(at_low, at_high) <= target <= max(at_low, at_high):
        return low if abs(at_low - target) <= abs(at_high - target) else high
    rising = at_high >= at_low
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (middle, high) if (value(middle) < target) == rising else (low, middle)
    return (low + high) / 2


@record
class _Mix:
    """A trial: hot litres at the start, fridge litres, the pot's temperature when it is poured."""

    hot_l: float
    fridge_l: float
    pot_c: float


class _Kitchen:
    """One batch's mixing problem; `mixed` gives the temperature of a trial."""

    def __init__(self, batch: Batch, scaled: Scaled, pot_l: float) -> None:
        self.batch, self.load = batch, load_of(scaled)
        self.needed = water_needed(scaled, self.load)
        self.lost = boiled_off(batch) + self.load.kept_litres if self.load.hot else 0.0
        self.pot_l = pot_l
        self.boiling = heat.boiling_celsius(batch.water.altitude)
        low, high = batch.recipe.drink.pitch
        self.window, self.target = (float(low), float(high)), (low + high) / 2

    def cold(self, hot_l: float) -> float:
        """Litres of cold water that fill up to the mark."""
        return max(0.0, self.needed - max(0.0, hot_l - self.lost))

    def fridge_most(self, hot_l: float) -> float:
        """Litres that can come from the fridge."""
        return min(float(self.batch.water.fridge_space), self.cold(hot_l))

    def mixed(self, mix: _Mix, warmer_tap: float = 0.0) -> float:
        """Temperature of the mix in the vessel."""
        tap_l = max(0.0, self.cold(mix.hot_l) - mix.fridge_l)
        batch = self.batch
        if warmer_tap:
            batch = replace(batch, water=replace(batch.water, tap=Celsius(batch.water.tap + warmer_tap)))
        return _mixed(batch, self.load, max(0.0, mix.hot_l - self.lost), mix.fridge_l, tap_l, mix.pot_c)

    def doubt(self, mix: _Mix) -> float:
        """Uncertainty of the mix, in C: hot litres and tap together."""
        here = self.mixed(mix)
        by_hot = self.mixed(replace(mix, hot_l=mix.hot_l + DOUBT_HOT_L)) - here if self.load.hot else 0.0
        return math.hypot(by_hot, self.mixed(mix, DOUBT_TAP_C) - here)


def _by_fridge(kitchen: _Kitchen, hot_l: float, pot_c: float) -> _Mix:
    most = kitchen.fridge_most(hot_l)
    share = _solve(lambda f: kitchen.mixed(_Mix(hot_l, f, pot_c)), kitchen.target, 0.0, most)
    litres = min(rounding.down_to(most, 0.1), rounding.litres(share))
    return _Mix(hot_l, litres if litres >= LEAST_FRIDGE_LITRES else 0.0, pot_c)


def _with_other_hot(kitchen: _Kitchen, hot_l: float) -> _Mix:
    """Less hot water when the mix is too warm, more when it is too cold; only where nothing is boiled
    away.
    """
    mix = _by_fridge(kitchen, hot_l, kitchen.boiling)
    warm = kitchen.mixed(mix)
    low, high = kitchen.window
    if low <= warm <= high or kitchen.lost or not kitchen.load.hot:
        return mix
    most = min(kitchen.needed, max(hot_l, POT_FULL * kitchen.pot_l - kitchen.load.hot_litres))
    ends = (min(LEAST_HOT_LITRES, hot_l), hot_l) if warm > high else (hot_l, most)
    share = 1.0 if warm > high else 0.0

    def mixed(hot: float) -> float:
        return kitchen.mixed(_Mix(hot, share * kitchen.fridge_most(hot), kitchen.boiling))

    found = _solve(mixed, kitchen.target, *ends)
    return _by_fridge(kitchen, rounding.litres(found), kitchen.boiling)


def _with_bath(kitchen: _Kitchen, mix: _Mix) -> _Mix:
    """Cool the pot in a sink of cold water first, when the mix would be too warm."""
    if kitchen.mixed(mix) <= kitchen.window[1] or not kitchen.load.hot:
        return mix
    coldest = min(kitchen.boiling, float(kitchen.batch.water.tap) + 5.0)
    pot_c = _solve(lambda c: kitchen.mixed(replace(mix, pot_c=c)), kitchen.target, coldest, kitchen.boiling)
    return replace(mix, pot_c=float(math.floor(pot_c)))


def _bath_minutes(kitchen: _Kitchen, mix: _Mix) -> float | None:
    if mix.pot_c >= kitchen.boiling - NO_BATH_C:
        return None
    litres = max(0.5, mix.hot_l - kitchen.lost + kitchen.load.hot_litres)
    hours = heat.hours_to_cool(
        min(100.0, litres), kitchen.boiling, mix.pot_c, kitchen.batch.water.tap, "bath"
    )
    return float(5 * math.ceil(hours * 12))


def _wait_minutes(kitchen: _Kitchen, mixed_c: float, litres: float) -> float | None:
    """Minutes until the mix has come down to the window's top, or to a little over a room that is warmer."""
    room = float(kitchen.batch.room.fermenting[0])
    high = max(kitchen.window[1], room + OVER_ROOM_C)
    if mixed_c <= high + 0.5:
        return None
    return float(15 * math.ceil(heat.hours_to_cool(min(100.0, litres), mixed_c, high, room, "air") * 4))


def pot_gravity(scaled: Scaled, hot_l: float, lost: float) -> float | None:
    """Mean gravity of the boiling pot: points of what is in it over its middle volume."""
    pairs = [
        (part.item, quantity_of(part.item, use.amount))
        for part, use in zip(scaled.ingredients, scaled.uses, strict=True)
        if part.when.stage in ("pot", "boil") and part.item.role != "hops"
    ]
    volume = hot_l - lost / 2 + sum(kilograms * item.litres_each for item, kilograms in pairs)
    points = sum(kilograms * item.points for item, kilograms in pairs)
    return 1 + points / volume / 1000 if volume > 0 else None


def water_plan(batch: Batch, scaled: Scaled, pot_l: float) -> WaterPlan:
    """The split for this kitchen; `pot_l` is the pot's whole volume in litres."""
    kitchen = _Kitchen(batch, scaled, pot_l)
    hot_l = _hot_water(batch, kitchen.load, kitchen.needed, pot_l)
    mix = _with_bath(kitchen, _with_other_hot(kitchen, hot_l))
    mixed_c = kitchen.mixed(mix)
    cooled = mix.pot_c < kitchen.boiling - NO_BATH_C
    return WaterPlan(
        kettle_l=mix.hot_l,
        fridge_l=mix.fridge_l,
        tap_l=rounding.litres(max(0.0, kitchen.cold(mix.hot_l) - mix.fridge_l)),
        mixed_c=mixed_c,
        plus_minus_c=max(1.0, kitchen.doubt(mix)),
        cool_pot_to_c=mix.pot_c if cooled else None,
        cool_minutes=_bath_minutes(kitchen, mix),
        boiled_off_l=boiled_off(batch),
        pot_gravity=pot_gravity(scaled, mix.hot_l, kitchen.lost) if batch.recipe.boil_minutes else None,
        wait_minutes=_wait_minutes(kitchen, mixed_c, scaled.planned_l),
    )


def pot_fill(scaled: Scaled, water: WaterPlan, pot_l: float) -> float:
    """How full the pot stands at its fullest, as a share of its volume: when it begins to boil, or at the
    very end, when the last extract is in and steam and grain have left.
    """
    load = load_of(scaled)
    end = water.kettle_l - water.boiled_off_l - load.kept_litres + load.hot_litres
    return max(water.kettle_l + load.pot_litres, end) / pot_l if pot_l > 0 else 0.0
