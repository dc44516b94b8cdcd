"""The published and recomputed tables beside this file, row by row."""

from __future__ import annotations

import csv
from math import exp
from pathlib import Path

import pytest

from sheetgen.brewing import alcohol, carbonation, fermentation, gravity, growth, rounding

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows("gravity_plato.csv"), ids=lambda row: row["plato"])
def test_gravity_of_plato(row: dict[str, str]) -> None:
    sg = gravity.sg_of(float(row["plato"]))
    assert sg == pytest.approx(float(row["sg_lincoln_asbc"]), abs=6e-6)
    assert sg == pytest.approx(float(row["sg_nbs_c440"]), abs=5e-5)
    assert sg == pytest.approx(float(row["sg_icumsa_in_air"]), abs=5e-5)
    assert gravity.plato_of(sg) == pytest.approx(float(row["plato"]), abs=1e-9)


@pytest.mark.parametrize("row", rows("co2_solubility.csv"), ids=lambda row: row["celsius"])
def test_co2_solubility(row: dict[str, str]) -> None:
    celsius = float(row["celsius"])
    moles = carbonation.moles_per_litre_atm(celsius)
    assert moles == pytest.approx(float(row["mol_per_litre_atm_weiss"]), rel=1e-4)
    assert moles == pytest.approx(float(row["mol_per_kg_atm_pyco2sys"]), rel=0.008)  # per kilogram, not litre
    assert carbonation.volumes_per_atm(celsius) == pytest.approx(float(row["bunsen_volumes"]), rel=2e-4)
    residual = carbonation.residual_volumes(celsius)
    assert residual == pytest.approx(float(row["bunsen_times_dry_fraction"]), abs=2e-4)
    for column, known, tolerance in (
        ("bunsen_murray_riley_1971", carbonation.volumes_per_atm(celsius), 0.0075),
        ("hibberd_residual_volumes", residual, 0.035),
    ):
        if row[column]:
            assert known == pytest.approx(float(row[column]), abs=tolerance)


@pytest.mark.parametrize("row", rows("hydrometer_15C.csv"), ids=lambda row: row["celsius"])
def test_hydrometer_of_15_c(row: dict[str, str]) -> None:
    added = gravity.corrected_reading(1.000, float(row["celsius"]), calibration_celsius=15.0) - 1.000
    assert added == pytest.approx(float(row["add_to_reading"]), abs=0.00006)


@pytest.mark.parametrize("row", rows("kinetics_times.csv"), ids=lambda row: row["celsius"])
def test_fermentation_times(row: dict[str, str]) -> None:
    for column, left in (
        ("hours_to_50pct_sugar_left", 0.50),
        ("hours_to_25pct", 0.25),
        ("hours_to_10pct", 0.10),
        ("hours_to_5pct", 0.05),
    ):
        hours = fermentation.hours_until(left, float(row["celsius"]))
        assert hours == pytest.approx(float(row[column]), abs=0.1), column


@pytest.mark.parametrize("row", rows("duty_factors.csv"), ids=lambda row: row["og_minus_pg_from"])
def test_duty_factors(row: dict[str, str]) -> None:
    """Both ends of each band, to the tenth of a degree."""
    for degrees in (float(row["og_minus_pg_from"]), float(row["og_minus_pg_to"])):
        found = alcohol.duty_percent(1.0 + degrees / 1000 + 0.001, 1.001)
        assert found == pytest.approx(degrees * float(row["factor"]), abs=1e-9)


def test_stoichiometry_of_the_sugars() -> None:
    table = {row["sugar"]: row for row in rows("stoichiometry.csv")}
    for ours, theirs in (
        ("table sugar", "sucrose C12H22O11"),
        ("dextrose", "glucose monohydrate C6H12O6.H2O"),
        ("dextrose anhydrous", "glucose anhydrous C6H12O6"),
    ):
        assert carbonation.SUGARS[ours].usual == pytest.approx(float(table[theirs]["g_co2_per_g"]), abs=1e-9)
    ethanol = float(table["extract (Balling mass balance)"]["g_ethanol_per_g"])
    assert pytest.approx(ethanol, abs=1e-5) == 1 / alcohol.BALLING_EXTRACT_PER_ALCOHOL


@pytest.mark.parametrize("row", rows("priming_sugars.csv"), ids=lambda row: row["sugar"])
def test_priming_sugars(row: dict[str, str]) -> None:
    """The usual yield lies in the range; the yield for limits is its upper end."""
    sucrose = carbonation.SUGARS["table sugar"].usual
    yields = carbonation.SUGARS[row["sugar"]]
    assert yields.highest / sucrose == pytest.approx(float(row["of_sucrose_high"]), abs=1e-4)
    assert yields.usual / sucrose >= float(row["of_sucrose_low"]) - 1e-4
    assert yields.usual <= yields.highest


def test_every_priming_sugar_has_a_row() -> None:
    assert {row["sugar"] for row in rows("priming_sugars.csv")} == set(carbonation.SUGARS)


def test_practice_is_96_per_cent_of_theory() -> None:
    practice = carbonation.volumes_from_sugar(10.0)
    upper = carbonation.volumes_from_sugar(10.0, bound="upper")
    assert practice / upper == pytest.approx(
        float(rows("priming_sugars.csv")[0]["of_sucrose_low"]), abs=0.002
    )


def test_level_teaspoon() -> None:
    weights = {(row["food"], row["measure"]): row["grams"] for row in rows("household_mass.csv")}
    us_teaspoon_ml = 4.92892159375
    per_five_ml = float(weights["Sugars, granulated", "tsp"]) / us_teaspoon_ml * 5
    assert per_five_ml == pytest.approx(rounding.TEASPOON_GRAMS, abs=0.005)


RATES = [row for row in rows("kinetics_gee_ramirez.csv") if row["unit"] == "ln A"]


@pytest.mark.parametrize("row", RATES, ids=lambda row: row["symbol"])
def test_constants_of_the_growth_model(row: dict[str, str]) -> None:
    """Each rate constant is exp(a - Ea / RT) with the published a and Ea."""
    kelvin = 288.15
    wanted = exp(float(row["a_or_value"]) - float(row["activation_kcal_per_mol"]) / (0.001987 * kelvin))
    assert growth.rate_constant(row["symbol"], 15.0) == pytest.approx(wanted, rel=1e-12)
