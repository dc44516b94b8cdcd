"""How much and in what, for other programs: ingredients, water, strength, gas, bottles.

Comes in: parts of a `Plan`.  Goes out: dicts of plain values.
"""

from __future__ import annotations

from sheetgen.planning.json_pieces import Json, each, named, plain
from sheetgen.planning.json_water import water_json
from sheetgen.planning.plan import (
    BottlePlan,
    BottleRow,
    Carbonation,
    Fermentation,
    PackChoice,
    Purchase,
    Quantities,
    Syrup,
)


def quantities(found: Quantities) -> Json:
    """Ingredients, water and strength."""
    uses = ("id", "name", "role", "amount", "unit", "packs", "pack", "left", "stage", "minutes", "day")
    return {
        **named(found, "litres", "original_gravity", "original_low", "original_high", "measured_original"),
        "final_gravity": named(found.final_gravity, "low", "expected", "high"),
        **named(found, "ceiling_gravity", "percent_by_volume", "bitterness_ibu", "colour_ebc", "swatch"),
        "ingredients": [{**named(use, *uses), "pack_mix": _mix(use.pack_mix)} for use in found.ingredients],
        **named(found, "asked_l", "mark_l", "brewed_gravity"),
        "purchases": [_purchase(bought) for bought in found.purchases],
        "pack_choices": [_choice(choice) for choice in found.pack_choices],
        "pack_fills": [
            {**named(fill, "packs", "litres", "bottles"), "pack_mix": _mix(fill.pack_mix)}
            for fill in found.pack_fills
        ],
        "water": water_json(found.water),
        **named(found, "yeast_name", "yeast_packs", "yeast_grams", "yeast_pack_g", "loss_l", "bottling_l"),
        **named(found, "yeast_low_g", "yeast_high_g", "yeast_factor", "yeast_left_g"),
        **named(found, "sulphites_mg_per_litre"),
    }


def _mix(mix: tuple[tuple[int, float], ...]) -> list[Json]:
    return [{"packs": packs, "size": plain(size)} for packs, size in mix]


def _purchase(bought: Purchase) -> Json:
    shown = named(bought, "id", "name", "role", "unit", "amount", "packs", "bought", "left")
    sizes = [plain(size) for size in bought.sizes]
    packs = {"pack_mix": _mix(bought.pack_mix), "sizes": sizes}
    return {**shown, **packs, **named(bought, "keeps_days", "keeps_how")}


def _choice(choice: PackChoice) -> Json:
    shown = ("way", "chosen", "litres", "original_gravity", "percent_by_volume", "packs", "left_g", "left_ml")
    purchases = [_purchase(bought) for bought in choice.purchases]
    return {**named(choice, *shown, "bottles", "stopped_by"), "purchases": purchases}


def alcohol(found: Quantities) -> Json:
    """Percent by volume: by Balling's relation, by the duty factor and the quick rule, what the sugar in the
    bottle adds, the final gravity that they rest on, and drink units.
    """
    return {
        "balling": plain(found.percent_by_volume),
        "duty": plain(found.percent_duty),
        "quick": plain(found.percent_quick),
        "from_priming": plain(found.percent_from_priming),
        "final": plain(found.percent_final),
        "final_is": found.percent_final_is,
        "units": each(found.drink_units, "country", "name", "ml", "units"),
    }


def fermentation(found: Fermentation) -> Json:
    """How fast it goes beside the usual, where it should be now and where it should end."""
    now = found.expected_now
    return {
        **named(found, "vigour", "vigour_low", "vigour_high", "readings_used"),
        "finish": named(found.finish, "low", "expected", "high"),
        "expected_now": named(now, "low", "expected", "high") if now else None,
    }


def carbonation(gas: Carbonation) -> Json:
    """Gas, sugar and pressure."""
    size = ("ml", "kind", "count", "grams_each", "grams_exact", "teaspoons_each", "volumes_upper")
    way = ("given_g", "syrup_ml", "pieces_each", "volumes_practice")
    limits = ("warn_volumes", "limit_volumes", "verdict", "teaspoons_low_volumes", "teaspoons_high_volumes")
    return {
        **named(
            gas,
            "target_volumes",
            "warmest_c",
            "residual_volumes",
            "sugar",
            "dosing",
            "g_per_litre",
            "total_g",
        ),
        **named(gas, "syrup_water_ml", "limit_volumes", "warn_volumes", "weakest", "highest_volumes"),
        "one_point_volumes": plain(gas.one_point_volumes),
        "pressures": each(gas.pressures, "celsius", "gauge_bar", "with_air_bar"),
        "sizes": each(gas.sizes, *size, *way, *limits),
        "ladder": each(gas.ladder, "litres", "grams"),
        "syrup": _syrup(gas.syrup) if gas.syrup else None,
        "piece_g": plain(gas.piece_g),
    }


def _syrup(syrup: Syrup) -> Json:
    return named(syrup, "grams_per_ml", "sugar_g", "water_ml", "makes_ml", "spare_ml")


def what_ifs(gas: Carbonation) -> list[Json]:
    """What one thing that goes otherwise does to the bottle that is nearest to its limit."""
    added = ("volumes_added", "bar_added_20", "bar_added_30")
    result = ("volumes", "bar_20", "bar_30", "kind", "limit_volumes", "verdict")
    return each(gas.what_ifs, "id", *added, *result)


def bottles(bottles: BottlePlan) -> Json:
    """Totals, and the rows in the order in which they are filled."""
    return {
        "need": sum(row.need for row in bottles.rows),
        "have": sum(row.have for row in bottles.rows),
        "short": sum(row.short for row in bottles.rows),
        "caps": bottles.crown_caps,
        "corks": bottles.corks,
        **named(bottles, "filled", "spares", "labels", "last_ml", "unhoused_l", "more_needed", "test_bottle"),
        **named(bottles, "fill_by", "prepare_l", "numbered"),
        "odd": named(bottles.odd, "ml", "bottle_ml", "kind", "grams", "number") if bottles.odd else None,
        "more_ways": each(bottles.more_ways, "ml", "kind", "count", "at_hand"),
        "rows": [_bottle_row(row) for row in bottles.rows],
    }


def _bottle_row(row: BottleRow) -> Json:
    first, last = row.numbers
    shown = named(row, "ml", "kind", "glass", "have", "fill", "need", "short", "what_for")
    return {**shown, "first_number": first, "last_number": last}
