"""The kitchen on brew day: what meets which water, and what temperature comes of it.

Comes in: a `Batch` and its `Scaled` amounts.  Goes out: `Kitchen`, which gives the litres and the temperature
of any `Mix` that is tried.  All litres are measured cold (3 L boiled is 3.0 kg, a litre is a kilogram).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from sheetgen.brewing import heat, rounding
from sheetgen.model import Batch, Substance
from sheetgen.planning.additions import is_later, litres_of, quantity_of
from sheetgen.planning.plan import Doubt
from sheetgen.planning.scaling import Scaled
from sheetgen.records import record

GRAIN_HOLDS = 0.8
"""Litres of water that a kilogram of steeped grain keeps (common practice, no source)."""
BOIL_OFF_PER_HOUR = 1.5
"""Litres an hour from a kitchen pot of 20-25 cm (common practice, no source: 1 to 2)."""
DOUBT_HOT_L, DOUBT_TAP_C, DOUBT_FRIDGE_C, DOUBT_POT_C = 0.2, 3.0, 2.0, 3.0
"""What is uncertain in a kitchen: 0.2 L of hot water, 3 C of the tap, 2 C of the fridge, and 3 C of a pot
that was cooled in a bath (common practice, no source).
"""
OVER_THE_MARK_L = 0.05
"""What rounding may add to what goes in."""
HOTTEST_C = 100.0
"""Heat is known up to here.  Below the sea water boils at up to 101.4 C: half a degree of a mix, and a note
says so.
"""
DISSOLVES = ("extract", "honey", "sugar")
POT_STAGES = ("pot", "boil")


@record
class Goods:
    """Kilograms of one ingredient and what they are; `boiled`: they are in the pot while it boils."""

    kilograms: float
    substance: Substance
    boiled: bool = False


@record
class Load:
    """What goes in besides water, by where: the hot pot or the vessel; litres as they add to the volume.

    `pot_litres` are in the pot from the start of the boil on, `hot_litres` at its end; `kept_litres` is water
    that the grain carries away, `extract_kg` what the hot water dissolves.
    """

    hot: tuple[Goods, ...]
    cold: tuple[Goods, ...]
    hot_litres: float
    pot_litres: float
    cold_litres: float
    kept_litres: float
    extract_kg: float

    @property
    def heated(self) -> bool:
        """Whether anything needs a pot."""
        return bool(self.hot) or self.kept_litres > 0


@record
class _Entry:
    kilograms: float
    litres: float
    role: str
    stage: str
    substance: Substance

    @property
    def is_hot(self) -> bool:
        """Juice always goes into the vessel as it is."""
        return self.stage in (*POT_STAGES, "off-heat") and self.role != "juice"

    def goods(self, boiled: bool = False) -> Goods:
        """It as a part of the mix."""
        return Goods(self.kilograms, self.substance, boiled and self.stage in POT_STAGES)


def _entries(scaled: Scaled) -> list[_Entry]:
    found = []
    for part, use in zip(scaled.ingredients, scaled.uses, strict=True):
        kilograms = quantity_of(part.item, use.amount)
        if not is_later(part) and kilograms > 0:
            litres = litres_of(part.item, use.amount)
            found.append(
                _Entry(kilograms, litres, part.item.role, part.when.stage, part.item.substance),
            )
    return found


def _litres(entries: Iterable[_Entry]) -> float:
    return sum(entry.litres for entry in entries)


def load_of(batch: Batch, scaled: Scaled) -> Load:
    """Sort the ingredients by where they meet the water."""
    entries, boiled = _entries(scaled), bool(batch.recipe.boil_minutes)
    hot = [entry for entry in entries if entry.is_hot]
    cold = [entry for entry in entries if not entry.is_hot]
    grain = [entry for entry in hot if entry.role == "grain"]
    return Load(
        tuple(entry.goods(boiled) for entry in hot if entry.role != "grain"),
        tuple(entry.goods() for entry in cold),
        _litres(hot),
        _litres(entry for entry in hot if entry.stage != "off-heat"),
        _litres(cold),
        sum(entry.kilograms for entry in grain) * GRAIN_HOLDS,
        sum(entry.kilograms for entry in hot if entry.role in DISSOLVES),
    )


def held_litres(batch: Batch, scaled: Scaled) -> float:
    """Litres that what goes in makes by itself, now and later, without any water."""
    load = load_of(batch, scaled)
    return load.hot_litres + load.cold_litres + scaled.later_l


def boiled_off(batch: Batch) -> float:
    """Litres that leave as steam."""
    said = batch.equipment.boil_off
    hourly = BOIL_OFF_PER_HOUR if said is None else float(said)
    return hourly * (batch.recipe.boil_minutes or 0.0) / 60


@record
class Mix:
    """A trial: litres boiled, from the fridge and as ice; the pot's temperature, if it is cooled first."""

    hot_l: float
    fridge_l: float = 0.0
    ice_kg: float = 0.0
    pot_c: float | None = None


class Kitchen:
    """One batch's mixing problem: litres that fill up to the mark, and the temperature of a trial."""

    def __init__(self, batch: Batch, scaled: Scaled, pot_l: float) -> None:
        self.load, self.pot_l, self.mark_l = load_of(batch, scaled), pot_l, scaled.mark_l
        self.needed = max(0.0, scaled.mark_l - self.load.hot_litres - self.load.cold_litres)
        self.steam = boiled_off(batch) if self.load.heated else 0.0
        self.lost = self.steam + self.load.kept_litres
        self.boils = bool(batch.recipe.boil_minutes)
        self.boiling = min(HOTTEST_C, heat.boiling_celsius(batch.water.altitude))
        self.tap_c, self.fridge_c = float(batch.water.tap), float(batch.water.fridge)
        self.room_c = (float(batch.room.fermenting[0]), float(batch.room.fermenting[1]))
        low, high = batch.recipe.drink.pitch
        self.window, self.target = (float(low), float(high)), (low + high) / 2
        self.fridge_space, self.own_ice_kg = float(batch.water.fridge_space), batch.water.ice / 1000

    def poured(self, hot_l: float) -> float:
        """Litres of water that are left of the pot's when it is emptied."""
        return max(0.0, hot_l - self.lost)

    def cold(self, hot_l: float) -> float:
        """Litres of cold water that fill up to the mark."""
        return max(0.0, self.needed - self.poured(hot_l))

    def tap(self, mix: Mix) -> float:
        """Litres from the tap: what is still missing."""
        return max(0.0, self.cold(mix.hot_l) - mix.fridge_l - mix.ice_kg)

    def fridge_most(self, hot_l: float) -> float:
        """Litres that can come from the fridge."""
        return min(self.fridge_space, self.cold(hot_l))

    def pot_parts(self, mix: Mix) -> list[heat.Part]:
        """What is poured out of the pot: boiling, with whatever was stirred in at the room's warmth; or all
        of it at the temperature that it was cooled to.
        """
        warm, room = self.boiling, self.room_c[1]
        parts = [(self.poured(mix.hot_l), warm, "water")] if self.load.heated else []
        parts += [(one.kilograms, warm if one.boiled else room, one.substance) for one in self.load.hot]
        cooled = mix.pot_c
        return [
            heat.Part(kilograms, celsius if cooled is None else cooled, substance)
            for kilograms, celsius, substance in parts
            if kilograms > 0
        ]

    def goods_parts(self) -> list[heat.Part]:
        """What goes into the vessel without having seen the pot."""
        return [heat.Part(one.kilograms, self.room_c[1], one.substance) for one in self.load.cold]

    def cold_parts(self, mix: Mix) -> list[heat.Part]:
        """What the pot is poured onto, and what fills up."""
        water = ((mix.fridge_l, self.fridge_c), (self.tap(mix), self.tap_c))
        parts = [heat.Part(litres, celsius) for litres, celsius in water if litres > 0]
        ice = [heat.Part(mix.ice_kg, 0.0, "ice")] if mix.ice_kg > 0 else []
        return [*self.goods_parts(), *parts, *ice]

    def parts(self, mix: Mix) -> list[heat.Part]:
        """Everything in the vessel."""
        return [*self.pot_parts(mix), *self.cold_parts(mix)]

    def mixed(self, mix: Mix) -> float:
        """Temperature of the mix in the vessel."""
        parts = self.parts(mix)
        return heat.mixed_celsius(parts) if parts else self.room_c[1]

    def pot_c(self, mix: Mix) -> float:
        """Temperature of the pot once all is stirred in, before any bath."""
        parts = self.pot_parts(replace(mix, pot_c=None))
        return heat.mixed_celsius(parts) if parts else self.boiling

    def pot_litres(self, mix: Mix) -> float:
        """What is in the pot when it is emptied."""
        return self.poured(mix.hot_l) + self.load.hot_litres

    def too_warm(self, celsius: float) -> bool:
        """Above the window, as a whole degree is read."""
        return rounding.whole_degrees(celsius) > self.window[1]

    def too_cold(self, celsius: float) -> bool:
        """Below the window, as a whole degree is read."""
        return rounding.whole_degrees(celsius) < self.window[0]

    def with_water(self, tap_c: float, fridge_c: float) -> Kitchen:
        """The same kitchen with other cold water."""
        made = object.__new__(Kitchen)
        made.__dict__.update(self.__dict__, tap_c=tap_c, fridge_c=fridge_c)
        return made

    def doubt(self, mix: Mix) -> Doubt:
        """How far each thing that is uncertain may shift the mix, in C."""
        here = self.mixed(mix)
        warmer_tap = self.with_water(self.tap_c + DOUBT_TAP_C, self.fridge_c)
        warmer_fridge = self.with_water(self.tap_c, self.fridge_c + DOUBT_FRIDGE_C)
        heated, cooled = self.load.heated, mix.pot_c
        more_hot = replace(mix, hot_l=mix.hot_l + DOUBT_HOT_L) if heated else mix
        warmer_pot = mix if cooled is None else replace(mix, pot_c=min(100.0, cooled + DOUBT_POT_C))
        return Doubt(
            hot_c=abs(self.mixed(more_hot) - here),
            tap_c=warmer_tap.mixed(mix) - here,
            fridge_c=warmer_fridge.mixed(mix) - here,
            pot_c=self.mixed(warmer_pot) - here,
        )


def spread_of(doubt: Doubt) -> float:
    """The parts of the doubt together, in C, as independent errors add; at least 1 C, the thermometer's."""
    return max(1.0, math.hypot(doubt.hot_c, doubt.tap_c, doubt.fridge_c, doubt.pot_c))
