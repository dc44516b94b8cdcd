"""Every public formula, found by walking the package: no number so large or so small that it is let through.

A formula that is not in `SAMPLES` fails the first test: add one ordinary call of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from sheetgen.brewing import bitterness, gate, gravity, heat, looks, vigour

from .test_house_rules import FUNCTIONS

POT = (bitterness.PotPart(150.0, 0.3, 60.0),)
WATER = (heat.Part(1.0, 20.0),)
MALT = (gravity.Part(500.0, 0.68, 0.76),)
COURSE = vigour.Course(1.048, 1.012, 0.001, 20.0, 11.0)
READ = (gate.Reading(8, 1.012), gate.Reading(12, 1.012))
AGAIN = gate.Verdict("wait", "need-second", next_day=9)
SYRINGE = ((15.0, 0.5), (1e9, 1.0))

SAMPLES: dict[str, dict[str, Any]] = {
    "alcohol.percent_by_volume": {"original": 1.05, "final": 1.01},
    "alcohol.duty_percent": {"original": 1.05, "final": 1.01},
    "alcohol.lowest_final": {"original": 1.05},
    "alcohol.quick_percent": {"original": 1.05, "final": 1.01},
    "alcohol.percent_from_priming": {"g_per_litre": 6.0},
    "alcohol.drink_units": {"litres": 0.5, "percent": 4.5, "country": "UK"},
    "bitterness.mean_pot_sg": {
        "parts": POT, "start_litres": 5.0, "end_litres": 4.0, "boil_minutes": 60.0, "minutes": 30.0,
    },
    "bitterness.utilisation": {"boil_sg": 1.05, "minutes": 30.0},
    "bitterness.ibu": {"grams": 20.0, "alpha_percent": 6.0, "minutes": 30.0, "litres": 12.0, "boil_sg": 1.05},
    "carbonation.sugar_named": {"sugar": "honey"},
    "carbonation.moles_per_litre_atm": {"celsius": 20.0},
    "carbonation.volumes_per_atm": {"celsius": 20.0},
    "carbonation.residual_volumes": {"celsius": 20.0},
    "carbonation.sugar_g_per_litre": {"volumes": 2.4, "residual": 0.85},
    "carbonation.volumes_from_sugar": {"g_per_litre": 6.0},
    "carbonation.volumes_from_points": {"points": 1.0},
    "carbonation.gauge_bar": {"volumes": 2.4, "celsius": 20.0},
    "cleaning.vessel_litres": {"holds": 15.0},
    "cleaning.bottles_litres": {"bottles": 24},
    "cleaning.brew_day_litres": {"vessel_l": 15.0},
    "cleaning.bottling_day_litres": {"bottles": 24, "vessel_l": 15.0},
    "cleaning.step_of": {"dose": 6.0, "steps": SYRINGE},
    "cleaning.measured_mix": {"rate": 1.5, "litres": 4.0, "steps": SYRINGE},
    "colour.mcu": {"kilograms": 1.7, "lovibond": 12.0, "litres": 12.0},
    "colour.srm": {"mcu": 10.0},
    "colour.ebc": {"srm": 10.0},
    "colour.transmitted": {"srm": 10.0, "nanometres": 550.0, "centimetres": 5.0},
    "colour.red_green_blue": {"srm": 10.0, "centimetres": 5.0},
    "doses.sulphite_mg": {"grams": 0.44},
    "doses.must_be_declared": {"mg_per_litre": 12.0},
    "doses.nutrient_factor": {"original": 1.07},
    "doses.is_far_from_usual": {"amount": 1.0, "low": 0.5, "high": 2.0},
    "gravity.attenuation_with_yeast": {"usual": (0.68, 0.76), "yeast": (0.75, 0.80)},
    "keeping.store_factor": {"celsius": 18.0},
    "keeping.kept_days": {"days": 180.0, "store": lambda _day: 18.0},
    "keeping.kept_days_in_spells": {"days": 180.0, "spells": ((0, 18.0), (90, 30.0))},
    "growth.hours_at_decay": {"decay": 1.0, "celsius": 20.0},
    "growth.decay_at_hours": {"hours": 40.0, "celsius": 20.0},
    "growth.rate_constant": {"name": "VM", "celsius": 15.0},
    "doubts.litres_meant": {"calculated": 1.048, "measured": 1.044, "litres": 12.0},
    "doubts.sample_celsius_meant": {
        "shown": 1.044, "right": 1.048, "calibration_celsius": 20.0, "in_water": 1.0,
    },
    "doubts.litre_degrees_missing": {"calculated": 1.048, "measured": 1.044, "litres": 12.0},
    "fermentation.hours_until": {"fraction_left": 0.1, "celsius": 20.0},
    "fermentation.fraction_left": {"celsius": 20.0, "hours": 48.0},
    "fermentation.gravity_at": {"original": 1.05, "final": 1.01, "celsius": 20.0, "hours": 48.0},
    "fermentation.gravity_curve": {"original": 1.05, "final": 1.01, "celsius": 20.0, "hours": 48.0},
    "fermentation.gravity_on_day": {
        "original": 1.05, "final": 1.01, "celsius": 20.0, "day": 3.0, "first_test_day": 11.0,
    },
    "fermentation.shape_celsius": {"room_celsius": 20.0},
    "fermentation.sugar_left_on_day": {
        "room_celsius": 20.0, "day": 3.0, "first_test_day": 11.0, "vigour": 1.0,
    },
    "fermentation.ferment_factor": {"room_celsius": 20.0},
    "fermentation.fizz_days": {"room_celsius": 20.0},
    "fermentation.fizz_days_by_day": {"room_celsius": lambda _day: 20.0},
    "fermentation.strength_days": {"original": 1.06},
    "fermentation.gap_days": {"room_celsius": 20.0},
    "readings_ahead.fewest_more": {"ask": lambda _more: AGAIN, "levels": (1.01,)},
    "gate.first_counted_day": {"woken_days": (3,)},
    "gate.judge": {"readings": READ, "low": 1.008, "high": 1.012, "ceiling": 1.014, "gap_days": 2},
    "gate.steady": {"older": READ[0], "newer": READ[1]},
    "gravity.plato_of": {"sg": 1.05},
    "gravity.sg_of": {"plato": 12.0},
    "gravity.points_of": {"sg": 1.05},
    "gravity.points_per_kilogram": {"grams_per_litre": 100.0},
    "gravity.ten_thousandths": {"sg": 1.05},
    "gravity.corrected_reading": {"sg": 1.05, "celsius": 24.0, "calibration_celsius": 20.0, "in_water": 1.0},
    "gravity.original": {"parts": MALT, "litres": 12.0},
    "gravity.final_range": {"parts": MALT, "litres": 12.0},
    "gravity.fully_fermented_range": {},
    "gravity.ceiling": {"original_gravity": 1.05, "high": 1.013},
    "heat.water_kg_per_litre": {"celsius": 20.0},
    "heat.kilojoules_per_kilogram": {"celsius": 20.0},
    "heat.mixed_celsius": {"parts": WATER},
    "heat.celsius_for": {"others": WATER, "together": WATER, "target_celsius": 30.0},
    "heat.excess_kilojoules": {"parts": WATER, "celsius": 15.0},
    "heat.time_constant_hours": {"litres": 12.0},
    "heat.hours_to_warm": {"litres": 12.0, "start": 10.0, "target": 17.0, "surroundings": 20.0},
    "heat.celsius_after": {"litres": 12.0, "start": 30.0, "hours": 5.0, "surroundings": 20.0},
    "heat.cold_share": {
        "others": WATER, "kilograms": 1.0, "cold_celsius": 4.0, "warm_celsius": 12.0, "target_celsius": 15.0,
    },
    "heat.ice_kilograms": {"parts": WATER, "target_celsius": 10.0},
    "heat.water_vapour_bar": {"celsius": 20.0},
    "heat.air_bar": {"altitude_m": 240.0},
    "heat.boiling_celsius": {"altitude_m": 240.0},
    "heat.hours_to_cool": {"litres": 5.0, "start": 90.0, "target": 30.0, "surroundings": 18.0},
    "looks.judge_by_looks": {"looks": (looks.Look(22, True, False),)},
    "losses.sediment_litres": {"litres": 12.0},
    "losses.sample_litres": {"readings": 3},
    "losses.dry_hop_litres": {"grams": 30.0},
    "losses.extra_litres": {"dry_hop_grams": 35.0},
    "losses.racking_litres": {"litres": 12.0, "rackings": 1},
    "losses.share_litres": {"litres": 12.0, "share": 0.03},
    "losses.loss_litres": {"litres": 12.0, "readings": 3, "dry_hop_grams": 30.0, "rackings": 1},
    "ranges.require": {"name": "x", "value": 1.0, "lowest": 0.0, "highest": 2.0},
    "rounding.as_decimal": {"value": 1.0},
    "rounding.down_to": {"value": 1.0, "step": 0.1},
    "rounding.up_to": {"value": 1.0, "step": 0.1},
    "rounding.nearest_to": {"value": 1.0, "step": 0.1},
    "rounding.grams": {"value": 1.0},
    "rounding.litres": {"value": 1.0},
    "rounding.litres_down": {"value": 1.0},
    "rounding.millilitres": {"value": 1.0},
    "rounding.fine_millilitres": {"value": 1.0},
    "rounding.ounces": {"value": 1.0},
    "rounding.pounds_and_ounces": {"value": 1.0},
    "rounding.bulk_sugar_ounces": {"value": 1.0},
    "rounding.whole_degrees": {"value": 1.0},
    "rounding.printed_sg": {"value": 1.0},
    "rounding.ceiling_sg": {"value": 1.0},
    "rounding.waiting_days": {"value": 1.0},
    "rounding.dose_grams": {"value": 1.0},
    "rounding.teaspoons": {"grams_wanted": 3.0, "grams_each": 4.26},
    "rounding.bulk_sugar_grams": {"value": 1.0},
    "rounding.syringe_millilitres": {"value": 1.0},
    "rounding.whole_pieces": {"grams_wanted": 3.0, "grams_each": 2.3},
    "rounding.ladder_step": {"litres_in_vessel": 12.0},
    "vigour.learned": {"course": COURSE, "readings": ((3.0, 1.030),)},
    "yeast.grams": {"litres": 12.0, "original": 1.05},
    "yeast.condition_factor": {"expired_days": 10},
    "yeast.sachets": {"grams_wanted": 9.6, "sachet_grams": 11.0},
}  # fmt: skip

# Numbers that may be anything: limits that say what is asked, and ages of which any past one is fine.
FREE = {
    ("ranges.require", "lowest"),
    ("ranges.require", "highest"),
}
BEYOND = (1e13, -1e13, float("nan"), float("inf"))


def test_every_formula_has_a_sample():
    assert set(FUNCTIONS) == set(SAMPLES)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_is_answered(name: str):
    FUNCTIONS[name](**SAMPLES[name])


def numbers() -> Iterator[tuple[str, str]]:
    for name, sample in SAMPLES.items():
        for argument, value in sample.items():
            if _is_number(value) and (name, argument) not in FREE:
                yield name, argument


def _is_number(value: Any) -> bool:
    """A number, or a pair of them such as a range."""
    pair = isinstance(value, tuple) and all(isinstance(part, float) for part in value)
    return pair or isinstance(value, int | float)


@pytest.mark.parametrize(("name", "argument"), list(numbers()))
def test_no_number_of_a_formula_goes_on_for_ever(name: str, argument: str):
    """Far outside, and not-a-number: a ValueError that says what is allowed."""
    for value in BEYOND:
        usual = SAMPLES[name][argument]
        wrong = (*usual[:-1], value) if isinstance(usual, tuple) else value
        with pytest.raises(ValueError, match=r"outside|not |cannot be"):
            FUNCTIONS[name](**{**SAMPLES[name], argument: wrong})
