"""Extracts, sugars and bottles: the pantry beside what is printed about them elsewhere, row by row."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from sheetgen.brewing import alcohol, carbonation, gravity, heat

HERE = Path(__file__).parent
PANTRY = HERE.parents[1] / "recipes" / "pantry"
PER_POUND_AND_GALLON = 3.785411784 / 0.45359237
POUND, GALLON = 0.45359237, 3.785411784


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def entries(name: str) -> dict[str, Any]:
    found: dict[str, Any] = yaml.safe_load((PANTRY / f"{name}.yaml").read_text(encoding="utf-8"))["entries"]
    return found


ITEMS, BOTTLES = entries("ingredients"), entries("bottles")
EXTRACTS = {row["item"]: row for row in rows("extracts_and_sugars.csv")}


def points(name: str) -> float:
    """The pantry's figure, in points per pound and US gallon."""
    return float(ITEMS[name]["points"]) / PER_POUND_AND_GALLON


def gravity_of(kilograms: float, litre_degrees: float, litres: float) -> float:
    return gravity.original([gravity.Part(kilograms * litre_degrees, 0.7, 0.7)], litres)


def by_pound(pounds: float, each: float, gallons: float) -> float:
    return gravity_of(pounds * POUND, each * PER_POUND_AND_GALLON, gallons * GALLON)


def attenuation_ratio() -> float:
    """Real extract fermented over apparent extract fermented, 1.050 to 1.012."""
    original, final = gravity.plato_of(1.050), gravity.plato_of(1.012)
    by_weight = alcohol.percent_by_volume(1.050, 1.012) * 0.78924 / 0.99821 / 1.012
    real = by_weight * (206.65 - 1.0665 * original) / 100
    return real / (original - final)


def dry_over_liquid() -> float:
    return points("dry malt extract") / points("liquid malt extract")


# Row, the value of ours that belongs to it, and by how much it may be outside the row's own range.
OURS: dict[str, tuple[Callable[[], float], float]] = {
    "liquid malt extract": (lambda: points("liquid malt extract"), 0.0),
    # Above the printed range: derived from 96 % of solids, as the pantry says; the row of 97 % is next.
    "dry malt extract": (lambda: points("dry malt extract"), 1.4),
    "dry malt extract from its solids": (lambda: points("dry malt extract") / 0.96 * 0.97, 0.15),
    "liquid malt extract from its solids": (lambda: 0.80 * points("table sugar"), 0.1),
    "table sugar": (lambda: gravity.points_per_kilogram(100) / PER_POUND_AND_GALLON, 0.05),
    "dextrose": (lambda: points("dextrose"), 0.1),
    "lactose": (lambda: points("lactose"), 0.0),
    "honey": (lambda: points("honey"), 0.0),
    "crystal malt": (lambda: points("crystal malt"), 0.0),
    "chocolate malt": (lambda: points("chocolate malt"), 0.1),
    "roasted barley": (lambda: points("roasted barley"), 0.1),
    "litre-degrees per kg for a point per lb per US gal": (lambda: PER_POUND_AND_GALLON, 5e-5),
    "5 lb of 40-point extract in 5 US gal": (lambda: by_pound(5, 40, 5), 1e-9),
    "5.55 lb of 36-point extract in 5 US gal": (lambda: by_pound(5.55, 36, 5), 5e-5),
    "1 lb of 36-point extract in 1 US gal": (lambda: by_pound(1, 36, 1), 1e-9),
    "1 lb of 36-point extract in 3 US gal": (lambda: by_pound(1, 36, 3), 1e-9),
    "1 kg of 300 litre-degrees in 10 L": (lambda: gravity_of(1, 300, 10), 1e-9),
    "1 kg of 300 litre-degrees in 5 L": (lambda: gravity_of(1, 300, 5), 1e-9),
    "100 kg of 280 litre-degrees in 500 L": (lambda: gravity_of(100, 280, 500), 1e-9),
    "malt syrup density": (lambda: heat.MALT_SYRUP_KG_PER_LITRE, 0.005),
    "kilograms of syrup for one of dry extract": (dry_over_liquid, 0.0),
    "apparent attenuation of most brewing yeasts": (lambda: sum(malt_attenuation()) / 2, 0.0),
    "real over apparent attenuation": (attenuation_ratio, 0.002),
}  # fmt: skip


def malt_attenuation() -> tuple[float, float]:
    low, high = ITEMS["liquid malt extract"]["attenuation"].removesuffix(" %").split("-")
    return float(low) / 100, float(high) / 100


@pytest.mark.parametrize("item", EXTRACTS)
def test_extracts_and_sugars(item: str) -> None:
    found, slack = OURS[item]
    assert float(EXTRACTS[item]["low"]) - slack <= found() <= float(EXTRACTS[item]["high"]) + slack


@pytest.mark.parametrize("name", ["liquid malt extract", "dry malt extract", "table sugar", "dextrose"])
def test_a_range_in_the_pantry_holds_its_own_figure(name: str) -> None:
    low, high = (float(end) for end in str(ITEMS[name]["points-range"]).split("-"))
    assert low <= ITEMS[name]["points"] <= high


def test_attenuation_lies_within_that_of_most_yeasts() -> None:
    row = EXTRACTS["apparent attenuation of most brewing yeasts"]
    low, high = malt_attenuation()
    assert float(row["low"]) <= low < high <= float(row["high"])


def test_volume_of_syrup_is_one_over_its_density() -> None:
    assert ITEMS["liquid malt extract"]["litres-each"] == pytest.approx(
        1 / heat.MALT_SYRUP_KG_PER_LITRE, abs=0.01
    )


# Bottles: our limits lie at or below what is printed elsewhere


def row_of(container: str, what: str) -> dict[str, str]:
    (found,) = [
        row for row in rows("containers.csv") if row["container"] == container and row["what"] == what
    ]
    return found


@pytest.mark.parametrize(
    ("container", "what"),
    [
        ("returnable glass", "designed for no more than"),
        ("one-way glass", "practical ceiling"),
        ("swing-top", "practical ceiling"),
        ("pet", "service"),
    ],
)
def test_no_limit_of_ours_is_above_the_printed_one(container: str, what: str) -> None:
    assert BOTTLES[container]["warn"] < BOTTLES[container]["refuse"] <= float(row_of(container, what)["high"])


def test_plastic_at_its_limit_holds_in_a_hot_car() -> None:
    burst = float(row_of("pet", "usual least burst pressure")["low"])
    assert carbonation.gauge_bar(BOTTLES["pet"]["refuse"], 40) < burst


def test_sugar_of_sparkling_wine_makes_its_printed_pressure() -> None:
    """24 g/L at 12 C: absolute, in atmospheres."""
    row = row_of("thick sparkling-wine glass", "tirage of 24 g/L, at 12 C")
    volumes = carbonation.volumes_from_sugar(24, bound="upper")
    atmospheres = (carbonation.gauge_bar(volumes, 12) + 1.01325) / 1.01325
    assert float(row["low"]) <= atmospheres <= float(row["high"])


def test_thick_glass_stands_more_than_sparkling_wine_must_have() -> None:
    row = row_of("thick sparkling-wine glass", "least excess pressure at 20 C")
    assert carbonation.gauge_bar(BOTTLES["thick sparkling-wine glass"]["warn"], 20) > float(row["low"])


def test_every_row_about_containers_is_asserted() -> None:
    text = Path(__file__).read_text(encoding="utf-8")
    assert all(f'"{row["what"]}"' in text for row in rows("containers.csv"))


def test_gas_of_a_whole_batch() -> None:
    """One kilogram of fermented extract gives 0.463 kg of gas, 234 L at 0 C: Balling; CoolProp."""
    litres = 1000 * 0.9565 / 2.0665 / carbonation.GRAMS_PER_VOLUME
    assert litres == pytest.approx(234, abs=0.5)
