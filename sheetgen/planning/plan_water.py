"""The part of the plan that says how hot and how cold: the water, the mix, and how it is cooled.

Comes in: what `sheetgen.planning.water_plan` worked out.  Goes out: records that `Plan` is made of; see
`sheetgen.planning.plan` for their units.
"""

from __future__ import annotations

from typing import Literal

from sheetgen.records import record

CoolingWay = Literal["ice", "bath", "wait"]
"""How a mix that is too warm is brought down."""


@record
class Doubt:
    """How far each uncertain thing may shift the mix, in C: 0.2 L more hot water, a tap 3 C warmer, a fridge
    2 C warmer, a cooled pot 3 C warmer.
    """

    hot_c: float
    tap_c: float
    fridge_c: float
    pot_c: float


@record
class Bath:
    """A sink of cold water for the pot: what the pot comes down to, in how many minutes (rough), and the mix
    that follows.
    """

    pot_c: float
    minutes: float
    mixed_c: float


@record
class Ice:
    """Clean ice in place of as much cold water, and the mix that follows."""

    kg: float
    mixed_c: float


@record
class Wait:
    """Minutes in the room (rough), and what the vessel has come to by then."""

    minutes: float
    comes_to_c: float


@record
class Remedies:
    """A mix outside the window: its temperature, and what each way alone makes of it (None: no help).

    `chosen` are those that the plan takes, out of "ice", "bath" and "wait", in this order; together they may
    each be less than alone.
    """

    unaided_c: float
    chosen: tuple[CoolingWay, ...]
    bath: Bath | None
    ice: Ice | None
    wait: Wait | None


@record
class WaterPlan:
    """Litres, all measured cold: boiled in the pot, from the fridge, from the tap, as ice (a kilogram is a
    litre); and the mix that results.

    `mixed_c` is the predicted temperature in the vessel, `plus_minus_c` its uncertainty, whose parts are
    `doubt`.  `cool_pot_to_c` and `cool_minutes`: what the pot must come down to in a sink of cold water
    first, or None.  `wait_minutes`: how long the vessel stands until it has come to `comes_to_c`.
    `boiled_off_l` leaves as steam, `grain_l` with the bag, and malt, sugar and juice add `ingredients_l`:
    kettle - steam - grain + fridge + tap + ice + ingredients is the planned volume.  `pot_gravity` is the
    wort's in the pot, over the whole boil.
    """

    kettle_l: float
    fridge_l: float
    tap_l: float
    mixed_c: float
    plus_minus_c: float
    cool_pot_to_c: float | None
    cool_minutes: float | None
    boiled_off_l: float
    pot_gravity: float | None
    wait_minutes: float | None = None
    ice_kg: float = 0.0
    grain_l: float = 0.0
    ingredients_l: float = 0.0
    comes_to_c: float | None = None
    doubt: Doubt | None = None
    remedies: Remedies | None = None

    @property
    def pitch_c(self) -> float:
        """The temperature at which the yeast goes in."""
        return self.mixed_c if self.comes_to_c is None else self.comes_to_c
