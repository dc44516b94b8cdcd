"""Numbers with their units, as paper shows them: rounded by their kind, in metric, US or UK units.

Comes in: a number in base units (grams, litres, millilitres, C, SG, volumes, bar) and a system of units.
Goes out: `Measure`, figures and unit apart, with a point as decimal mark; `words` puts in the language's own.
A dose rounds down, a pressure up; nothing else leans.  A gallon, quart, pint or fluid ounce says whose it is.
The steps themselves are those of `brewing.rounding`: the plan and the paper round alike.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from sheetgen.brewing import rounding

SYSTEMS = ("metric", "us", "uk")
OTHER = {"metric": "us", "us": "metric", "uk": "metric"}
OUNCE_G = 28.349523125
POUND_OZ = 16
LEAST_OUNCES = 0.01
TEASPOON_ML = {"metric": 5.0, "us": 4.92892159375, "uk": 5.0}
_FLUID_OUNCE_ML = {"us": 29.5735295625, "uk": 28.4130625}
_GALLON_L = {"us": 3.785411784, "uk": 4.54609}
_FRACTIONS = ("", "¼", "½", "¾")
_DUST = 1e-9
_MOST = 1e12
"""Absurd numbers are written as this, in the sentence that refuses them."""
_HOURS_FROM_MIN = 120


class Measure(NamedTuple):
    """Figures and unit; the unit is "" for a bare number, or the key of a word such as "day" or "tsp"."""

    figures: str
    unit: str


def sized(value: float) -> float:
    """A number that can be rounded and written, whatever it was."""
    return min(max(value, -_MOST), _MOST)


def rounded(value: float, step: float) -> float:
    """The nearest multiple of `step`, halves away from nothing."""
    return rounding.nearest_to(sized(value), step)


def rounded_down(value: float, step: float) -> float:
    """The multiple of `step` at or under the value."""
    return rounding.down_to(sized(value), step)


def rounded_up(value: float, step: float) -> float:
    """The multiple of `step` at or over the value."""
    return rounding.up_to(sized(value), step)


def figures(value: float, decimals: int = 2) -> str:
    """A number without false zeros at its end: 12, 0.5, 11.25."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in {"-0", ""} else text


def quarters(value: float) -> str:
    """A number in quarters: ½, 1¼, 3."""
    whole, part = divmod(round(rounded(value, 0.25) * 4), 4)
    return f"{whole or ''}{_FRACTIONS[part]}" or "0"


def litres(value: float, system: str) -> Measure:
    """Litres; in US and UK units quarts or pints under a gallon, fluid ounces under a quarter of a litre."""
    if system == "metric":
        return Measure(figures(rounding.litres(sized(value))), "L")
    if value < 0.25:
        return fluid_ounces(value * 1000, system)
    gallons, name = value / _GALLON_L[system], system.upper()
    if gallons >= 1:
        return Measure(figures(rounded(gallons, 0.1 if gallons <= 10 else 0.25)), f"{name} gal")
    small, parts = ("qt", 4) if system == "us" else ("pt", 8)
    return Measure(figures(rounded(gallons * parts, 0.1)), f"{name} {small}")


def fluid_ounces(ml: float, system: str) -> Measure:
    """Millilitres as fluid ounces, to a tenth."""
    return Measure(figures(rounded(ml / _FLUID_OUNCE_ML[system], 0.1)), f"{system.upper()} fl oz")


def mass(grams: float, system: str) -> Measure:
    """Grams or kilograms; ounces, or pounds and ounces from a pound on.

    What is under a hundredth of an ounce is in grams everywhere, since it would be nothing in ounces.
    """
    if system != "metric" and (grams <= 0 or grams / OUNCE_G >= LEAST_OUNCES):
        return _avoirdupois(grams)
    value = rounding.grams(sized(grams))
    return Measure(figures(value / 1000), "kg") if value >= 1000 else Measure(figures(value), "g")


def load(grams: float, system: str) -> Measure:
    """What somebody carries, rounded up: whole kilograms, or whole pounds."""
    if system == "metric":
        return Measure(figures(rounded_up(grams / 1000, 1), 0), "kg")
    return Measure(figures(rounded_up(grams / OUNCE_G / POUND_OZ, 1), 0), "lb")


def _avoirdupois(grams: float) -> Measure:
    ounces = sized(grams / OUNCE_G)
    if ounces < POUND_OZ - 0.05:
        return Measure(figures(rounding.ounces(ounces)), "oz")
    pounds, rest = rounding.pounds_and_ounces(ounces)
    return Measure(f"{pounds} lb {quarters(rest)}", "oz") if rest else Measure(str(pounds), "lb")


def bulk_sugar(grams: float, system: str) -> Measure:
    """Priming sugar for a whole vessel, rounded down: grams (halves under 30, tenths under 20), or twentieths
    of an ounce.
    """
    if system == "metric":
        return Measure(figures(rounding.bulk_sugar_grams(sized(grams))), "g")
    return Measure(figures(rounding.bulk_sugar_ounces(sized(grams / OUNCE_G))), "oz")


def dose(grams: float, system: str) -> Measure:  # noqa: ARG001 - every kind is called alike
    """Sugar for one bottle: grams to a tenth, rounded down, in every system; the tenth is always shown, it
    is meant.
    """
    return Measure(f"{rounding.dose_grams(sized(grams)):.1f}", "g")


def exact_millilitres(ml: float, system: str) -> Measure:  # noqa: ARG001 - a syringe is marked in ml, everywhere
    """Millilitres as a syringe or a jug shows them, to a half; never rounded up."""
    return Measure(figures(rounded_down(ml, 0.5), 1), "ml")


_COARSE = 0.05
"""Up to three tablespoons, teaspoons are said instead where halves of a tablespoon are this far off."""


def millilitres(ml: float, system: str) -> Measure:
    """A small volume: ml by halves of a teaspoon; spoons, then fluid ounces."""
    if system == "metric":
        value = rounding.fine_millilitres(sized(ml))
        return Measure(figures(value / 1000), "L") if value >= 1000 else Measure(figures(value), "ml")
    spoon = TEASPOON_ML[system]
    tablespoons = rounded(ml / (3 * spoon), 0.5)
    coarse = abs(tablespoons * 3 * spoon - ml) > _COARSE * ml
    if ml < 3 * spoon - _DUST or (coarse and ml < 9 * spoon):
        return Measure(quarters(max(0.25, rounded(ml / spoon, 0.5))), "tsp")
    if ml <= 12 * spoon:
        return Measure(quarters(tablespoons), f"{system.upper()} tbsp")
    return fluid_ounces(ml, system)


def bottle(ml: float, system: str) -> Measure:  # noqa: ARG001 - a bottle says its own size, everywhere in ml
    """The size of a bottle: 330 ml, 1 L, 1.5 L."""
    return Measure(figures(ml / 1000, 3), "L") if ml >= 1000 else Measure(figures(ml, 0), "ml")


def temperature(celsius: float, system: str) -> Measure:
    """Whole degrees: Fahrenheit in US units only."""
    if system == "us":
        return Measure(str(rounding.whole_degrees(sized(celsius * 1.8 + 32))), "°F")
    return Measure(str(rounding.whole_degrees(sized(celsius))), "°C")


def near_temperature(celsius: float, system: str) -> Measure:
    """A temperature beside its limit: with a decimal where whole degrees would make them look alike."""
    if system == "us":
        return Measure(figures(rounded(celsius * 1.8 + 32, 0.1), 1), "°F")
    return Measure(figures(rounded(celsius, 0.01), 2), "°C")


def most_gas(volumes: float, system: str) -> Measure:  # noqa: ARG001 - volumes are the same everywhere
    """The most gas that may come about: up to the next hundredth of what limits are compared in,
    thousandths; so that nothing above its limit ever looks like the limit.
    """
    return Measure(figures(rounded_up(round(volumes, 3), 0.01)), "volume")


def degrees(celsius: float, system: str) -> Measure:
    """How far off a temperature may be, rounded up: half degrees of Celsius, or whole ones of Fahrenheit."""
    if system == "us":
        return Measure(figures(rounded_up(celsius * 1.8, 1), 0), "°F")
    return Measure(figures(rounded_up(celsius, 0.5), 1), "°C")


def cooler(celsius: float, system: str) -> Measure:
    """By how much something is cooler, nearest: half degrees of Celsius, or whole ones of Fahrenheit."""
    if system == "us":
        return Measure(figures(rounded(celsius * 1.8, 1), 0), "°F")
    return Measure(figures(rounded(celsius, 0.5), 1), "°C")


def length(mm: float, system: str) -> Measure:
    """Millimetres, or quarters of an inch."""
    if system == "us":
        return Measure(quarters(max(0.25, mm / 25.4)), "in")
    return Measure(figures(rounded(mm, 1), 0), "mm")


def gravity(sg: float, system: str) -> Measure:  # noqa: ARG001 - every kind is called alike
    """Specific gravity with its three decimals, or a step of it such as 0.001."""
    return Measure(f"{rounding.printed_sg(sized(sg)):.3f}", "")


def bar(value: float, system: str) -> Measure:
    """Gauge pressure, rounded up: tenths of a bar, or whole psi."""
    if system == "us":
        return Measure(figures(rounded_up(value * 14.5038, 1), 0), "psi")
    return Measure(figures(rounded_up(value, 0.1), 1), "bar")


def duration(minutes: float, system: str) -> Measure:  # noqa: ARG001 - every kind is called alike
    """A rough length of time, rounded up: minutes by fives, or from two hours on half hours."""
    if minutes < _HOURS_FROM_MIN:
        return Measure(figures(rounded_up(minutes, 5), 0), "minute")
    return Measure(figures(rounded_up(minutes / 60, 0.5), 1), "hour")


def _decimals(count: int, unit: str) -> Callable[[float, str], Measure]:
    return lambda value, _system: Measure(figures(rounded(value, 10**-count), count), unit)


def teaspoons(count: float, system: str) -> Measure:  # noqa: ARG001 - every kind is called alike
    """Level teaspoons, in quarters rounded down."""
    return Measure(quarters(rounded_down(count, 0.25)), "tsp")


KINDS: dict[str, Callable[[float, str], Measure]] = {
    "litres": litres,
    "mass": mass,
    "load": load,
    "bulk-sugar": bulk_sugar,
    "dose": dose,
    "ml": millilitres,
    "exact-ml": exact_millilitres,
    "bottle": bottle,
    "temperature": temperature,
    "near-temperature": near_temperature,
    "degrees": degrees,
    "cooler": cooler,
    "millimetres": length,
    "sg": gravity,
    "bar": bar,
    "percent": _decimals(1, "%"),
    "volumes": _decimals(1, "volume"),
    "gas": _decimals(2, "volume"),
    "most-gas": most_gas,
    "teaspoons": teaspoons,
    "min": _decimals(0, "min"),
    "minutes": _decimals(0, "minute"),
    "h": _decimals(1, "h"),
    "duration": duration,
    "hours": _decimals(0, "hour"),
    "days": _decimals(0, "day"),
    "weeks": _decimals(0, "week"),
    "months": _decimals(0, "month"),
    "number": _decimals(2, ""),
    "drink-units": _decimals(1, ""),
}
OF_AMOUNT = {
    "g": "mass",
    "ml": "ml",
    "L": "litres",
    "C": "temperature",
    "min": "min",
    "h": "h",
    "piece": "number",
    "SG": "sg",
}
