"""Every row of checks.csv, asserted under its id against the formulas, within the row's own tolerance.

Rows about paper, dates and units are in test_paper_and_calendar_rows.py; a row that nothing asserts yet must
stand in skipped.csv with its reason. `WIDEST` repeats the tolerances: loosening one shows in two places.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from sheetgen.brewing import (
    alcohol,
    bitterness,
    carbonation,
    colour,
    fermentation,
    gravity,
    growth,
    heat,
    rounding,
)

HERE = Path(__file__).parent
ELSEWHERE = HERE / "test_paper_and_calendar_rows.py"


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = {row["id"]: row for row in rows("checks.csv")}
SKIPPED = {row["id"]: row["reason"] for row in rows("skipped.csv")}

WIDEST = {
    "gravity-1": "3e-5", "gravity-2": "3e-5", "gravity-3": "0.005", "gravity-4": "1.0",
    "alcohol-1": "exact", "alcohol-2": "exact", "alcohol-3": "0.08", "alcohol-4": "0.2", "hops-1": "0.0005",
    "hops-2": "0.0005", "hops-3": "0.5", "hops-4": "exact", "colour-1": "0.01", "colour-2": "0.005",
    "gas-1": "0.02", "gas-2": "1e-4", "gas-3": "1e-4", "gas-4": "0.03", "gas-5": "0.02", "gas-6": "0.1",
    "gas-7": "2 %", "house-1": "exact", "unit-1": "1e-9", "unit-2": "1e-4", "heat-1": "0.3",
    "heat-2": "0.05", "heat-3": "range", "heat-4": "range", "time-1": "0.02", "time-2": "property",
    "cal-1": "exact", "cal-2": "exact", "paper-1": "0.1", "paper-2": "minimum", "paper-3": "minimum",
    "paper-4": "minimum",
}  # fmt: skip

US_TEASPOON, US_CUP = 4.92892159375, 236.5882365


def sucrose_points() -> list[float]:
    """The mean of the whole range, and every value from 21 g/L on; at 20 the cubic's last digit is worth
    0.5.
    """
    mean = sum(gravity.points_per_kilogram(grams) for grams in range(20, 121)) / 101
    return [mean, *(gravity.points_per_kilogram(grams) for grams in range(21, 121))]


def worked_recipe() -> list[float]:
    ounce, gallons = 28.349523125, 5 * 3.785411784
    return [
        bitterness.ibu(1.5 * ounce, 6.4, 60, gallons, 1.080),
        bitterness.ibu(1.0 * ounce, 4.6, 15, gallons, 1.080),
    ]


def bitterness_of_nothing() -> list[float]:
    return [bitterness.ibu(0, 6.4, 60, 19, 1.05), bitterness.ibu(40, 6.4, 0, 19, 1.05)]


def printed_household_sugar() -> list[float]:
    """A level US teaspoon and a US cup of the sugar that the 5 ml spoon is reckoned with, as printed."""
    per_ml = rounding.TEASPOON_GRAMS / 5.0
    return [rounding.grams(per_ml * US_TEASPOON), rounding.grams(per_ml * US_CUP)]


def q10_of_maltose() -> float:
    return growth.rate_constant("VM", 25) / growth.rate_constant("VM", 15)


def warmer_is_never_slower() -> bool:
    fractions = (0.9, 0.5, 0.25, 0.1, 0.05, 0.01)
    by_degree = [[fermentation.hours_until(left, celsius) for left in fractions] for celsius in range(8, 25)]
    return all(
        warm < cool for one, other in pairwise(by_degree)
        for cool, warm in zip(one, other, strict=True)
    )  # fmt: skip


ASSERTED: dict[str, Callable[[], float | list[float] | bool]] = {
    "gravity-1": lambda: gravity.sg_of(10),
    "gravity-2": lambda: gravity.sg_of(12),
    "gravity-3": lambda: gravity.plato_of(1.040),
    "gravity-4": sucrose_points,
    "alcohol-1": lambda: alcohol.duty_percent(1.045, 1.010),
    "alcohol-2": lambda: alcohol.duty_percent(1.057, 1.018),
    "alcohol-3": lambda: alcohol.percent_by_volume(1.050, 1.010),
    "alcohol-4": lambda: alcohol.ETHANOL_KG_PER_LITRE * 1000,
    "hops-1": lambda: bitterness.utilisation(1.050, 30),
    "hops-2": lambda: bitterness.utilisation(1.060, 30),
    "hops-3": worked_recipe,
    "hops-4": bitterness_of_nothing,
    "colour-1": lambda: colour.srm(10),
    "colour-2": lambda: colour.ebc(1.0),
    "gas-1": lambda: carbonation.GRAMS_PER_VOLUME,
    "gas-2": lambda: carbonation.SUGARS["table sugar"].usual,
    "gas-3": lambda: [carbonation.SUGARS[name].usual for name in ("dextrose anhydrous", "dextrose")],
    "gas-4": lambda: carbonation.residual_volumes(20),
    "gas-5": lambda: carbonation.volumes_per_atm(10),
    "gas-6": lambda: carbonation.gauge_bar(2.5, 20),
    "gas-7": lambda: carbonation.sugar_g_per_litre(2.4, residual=0.9),
    "house-1": printed_household_sugar,
    "heat-1": lambda: heat.mixed_celsius([heat.Part(0.9619, 95), heat.Part(1.0000, 5)]),
    "heat-2": lambda: heat.boiling_celsius(1609),
    "heat-3": lambda: heat.KJ_PER_KG_KELVIN["malt syrup"],
    "heat-4": lambda: heat.MALT_SYRUP_KG_PER_LITRE,
    "time-1": q10_of_maltose,
    "time-2": warmer_is_never_slower,
}


def numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?(?:e-?\d+)?", text)]


def wanted(row: dict[str, str], count: int) -> list[float]:
    values = numbers(row["value"])
    return values * count if len(values) == 1 else values


def allowed(row: dict[str, str], value: float) -> float:
    if row["tolerance"] == "exact":
        return 0.0
    (tolerance,) = numbers(row["tolerance"])
    return value * tolerance / 100 if row["tolerance"].endswith("%") else tolerance


@pytest.mark.parametrize("check", ASSERTED)
def test_check(check: str) -> None:
    row, found = ROWS[check], ASSERTED[check]()
    if row["tolerance"] == "property":
        assert found is True
        return
    values = found if isinstance(found, list) else [found]
    if row["tolerance"] == "range":
        low, high = numbers(row["value"])[-2:]
        assert all(low <= value <= high for value in values)
        return
    for value, expected in zip(values, wanted(row, len(values)), strict=True):
        assert abs(value - expected) <= allowed(row, expected), (check, value, expected)


def test_the_other_worked_figures_of_gas_7() -> None:
    """The same source's 4.5 g per 750 ml and 138 g per 23 L, within the same 2 %."""
    dose = carbonation.sugar_g_per_litre(2.4, residual=0.9)
    assert dose * 0.75 == pytest.approx(4.5, rel=0.02)
    assert dose * 23 == pytest.approx(138, rel=0.02)


def test_no_tolerance_has_grown() -> None:
    assert {check: row["tolerance"] for check, row in ROWS.items()} == WIDEST


def test_no_row_is_forgotten(capsys: pytest.CaptureFixture[str]) -> None:
    elsewhere = set(re.findall(r"def test_([a-z]+)_(\d+)", ELSEWHERE.read_text(encoding="utf-8")))
    there = {f"{subject}-{number}" for subject, number in elsewhere}
    with capsys.disabled():
        for check, reason in SKIPPED.items():
            print(f"\nnot asserted: {check}: {reason}")
    assert set(ROWS) == set(ASSERTED) | there | set(SKIPPED)
    assert not set(SKIPPED) & (set(ASSERTED) | there)
