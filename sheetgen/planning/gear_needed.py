"""Vessel and pot: those of the file, or what the batch needs.

Comes in: a `Batch`, its amounts and strength.  Goes out: litres, and what was assumed.
"""

from __future__ import annotations

from sheetgen.brewing import rounding
from sheetgen.model import Assumption, Batch
from sheetgen.planning.kitchen import BOIL_OFF_PER_HOUR
from sheetgen.planning.scaling import Scaled
from sheetgen.planning.strength import Strength, vessel_full
from sheetgen.planning.water_plan import pot_needed
from sheetgen.problems import said

VESSEL_SIZES = (5.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 33.0, 40.0, 50.0, 60.0)
"""Litres of vessels that are sold (common practice, no source)."""


def vessel_needed(litres: float, full: float) -> float:
    """The common vessel size, in litres, that leaves room for foam: at most so full, as a share."""
    wanted = rounding.up_to(litres / full, 1.0)
    return next((size for size in VESSEL_SIZES if size >= wanted), wanted)


def gear_of(batch: Batch, scaled: Scaled, found: Strength) -> tuple[float, float, tuple[Assumption, ...]]:
    """Vessel and pot in litres; what the file does not say is what the batch needs, and an assumption."""
    assumed = []
    vessel, pot = batch.equipment.vessel, batch.equipment.pot
    if vessel is None:
        vessel_l = vessel_needed(scaled.planned_l, vessel_full(batch, found))
        assumed.append(Assumption("equipment.vessel", said("assume.vessel", litres=vessel_l)))
    else:
        vessel_l = float(vessel)
    pot_l = pot_needed(batch, scaled) if pot is None else float(pot)
    if pot is None and pot_l:
        assumed.append(Assumption("equipment.pot", said("assume.pot", litres=pot_l)))
    if batch.recipe.boil_minutes and batch.equipment.boil_off is None:
        assumed.append(Assumption("equipment.boil-off", said("assume.boil-off", litres=BOIL_OFF_PER_HOUR)))
    return vessel_l, pot_l, tuple(assumed)
