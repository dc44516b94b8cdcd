"""Water and heat, for other programs.

Comes in: a `WaterPlan`.  Goes out: a dict of plain values.
"""

from __future__ import annotations

from sheetgen.planning.json_pieces import Json, named, plain
from sheetgen.planning.plan import Remedies, WaterPlan


def water_json(water: WaterPlan) -> Json:
    """Litres that close the sum, the mix with its doubt, and how the window is reached."""
    shown = ("kettle_l", "fridge_l", "tap_l", "mixed_c", "plus_minus_c", "cool_pot_to_c", "cool_minutes")
    return {
        **named(water, *shown, "wait_minutes", "boiled_off_l", "pot_gravity"),
        **named(water, "ice_kg", "grain_l", "ingredients_l", "pitch_c"),
        "doubt": named(water.doubt, "hot_c", "tap_c", "fridge_c", "pot_c") if water.doubt else None,
        "remedies": _remedies(water.remedies) if water.remedies else None,
    }


def _remedies(found: Remedies) -> Json:
    return {
        "unaided_c": plain(found.unaided_c),
        "chosen": [*found.chosen],
        "bath": named(found.bath, "pot_c", "minutes", "mixed_c") if found.bath else None,
        "ice": named(found.ice, "kg", "mixed_c") if found.ice else None,
        "wait": named(found.wait, "minutes", "comes_to_c") if found.wait else None,
    }
