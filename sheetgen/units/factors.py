"""The units people write, and how many of our base units each is.

Base units: litres, grams, millimetres, minutes.  The common ones are a table; a few rare ones go through
pint, which is slow to start and is therefore imported only when one of them is met.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Literal

from sheetgen.records import record

Dimension = Literal["volume", "mass", "length", "time"]


@record
class Unit:
    """A unit: what it measures, how many base units it is, and its name as we write it."""

    dimension: Dimension
    factor: Fraction
    name: str


_TABLE: tuple[tuple[Dimension, str, str, str], ...] = (
    ("volume", "1", "L", "l litre litres liter liters ltr"),
    ("volume", "0.1", "dl", "dl decilitre decilitres deciliter deciliters"),
    ("volume", "0.01", "cl", "cl centilitre centilitres centiliter centiliters"),
    ("volume", "0.001", "ml", "ml millilitre millilitres milliliter milliliters cc"),
    ("volume", "100", "hl", "hl hectolitre hectolitres hectoliter hectoliters"),
    ("volume", "3.785411784", "US gal", "us gal|us gals|us gallon|us gallons"),
    ("volume", "0.946352946", "US qt", "us qt|us qts|us quart|us quarts"),
    ("volume", "0.473176473", "US pt", "us pt|us pts|us pint|us pints"),
    ("volume", "0.2365882365", "US cup", "us cup|us cups"),
    ("volume", "0.0295735295625", "US fl oz", "us fl oz|us fluid ounce|us fluid ounces|us floz"),
    ("volume", "0.01478676478125", "US tbsp", "us tbsp|us tablespoon|us tablespoons"),
    ("volume", "0.00492892159375", "US tsp", "us tsp|us teaspoon|us teaspoons"),
    ("volume", "4.54609", "UK gal", "uk gal|uk gals|uk gallon|uk gallons"),
    ("volume", "1.1365225", "UK qt", "uk qt|uk qts|uk quart|uk quarts"),
    ("volume", "0.56826125", "UK pt", "uk pt|uk pts|uk pint|uk pints"),
    ("volume", "0.0284130625", "UK fl oz", "uk fl oz|uk fluid ounce|uk fluid ounces|uk floz"),
    ("volume", "0.25", "metric cup", "metric cup|metric cups"),
    ("volume", "0.015", "metric tbsp", "metric tbsp|metric tablespoon|metric tablespoons"),
    ("volume", "0.02", "AU tbsp", "au tbsp|au tablespoon|au tablespoons"),
    ("volume", "0.005", "tsp", "tsp teaspoon teaspoons|metric tsp|metric teaspoon|metric teaspoons"),
    ("mass", "1", "g", "g gram grams gramme grammes"),
    ("mass", "0.001", "mg", "mg milligram milligrams"),
    ("mass", "1000", "kg", "kg kgs kilo kilos kilogram kilograms"),
    ("mass", "453.59237", "lb", "lb lbs pound pounds"),
    ("mass", "28.349523125", "oz", "oz ounce ounces"),
    ("length", "1", "mm", "mm millimetre millimetres millimeter millimeters"),
    ("length", "10", "cm", "cm centimetre centimetres centimeter centimeters"),
    ("length", "1000", "m", "m metre metres meter meters"),
    ("length", "25.4", "in", 'in inch inches "'),
    ("length", "304.8", "ft", "ft foot feet '"),
    ("length", "127/360", "pt", "pt pts point points"),
    ("time", "1/60", "s", "s sec secs second seconds"),
    ("time", "1", "min", "min mins minute minutes"),
    ("time", "60", "h", "h hr hrs hour hours"),
    ("time", "1440", "days", "d day days"),
)

AMBIGUOUS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("gal", "gals", "gallon", "gallons"), ("us gal", "uk gal")),
    **dict.fromkeys(("qt", "qts", "quart", "quarts"), ("us qt", "uk qt")),
    **dict.fromkeys(("pt", "pts", "pint", "pints"), ("us pt", "uk pt")),
    **dict.fromkeys(("fl oz", "floz", "fluid ounce", "fluid ounces"), ("us fl oz", "uk fl oz")),
    **dict.fromkeys(("cup", "cups"), ("us cup", "metric cup")),
    **dict.fromkeys(("tbsp", "tablespoon", "tablespoons"), ("us tbsp", "metric tbsp", "au tbsp")),
}

RARE: dict[str, tuple[Dimension, str]] = {
    "us gill": ("volume", "gill"),
    "uk gill": ("volume", "imperial_gill"),
    "us barrel": ("volume", "beer_barrel"),
    "uk barrel": ("volume", "imperial_barrel"),
    "uk cup": ("volume", "imperial_cup"),
    "us dram": ("volume", "fluid_dram"),
    "stone": ("mass", "stone"),
    "grain": ("mass", "grain"),
    "grains": ("mass", "grain"),
}
_RARE_BASE: dict[Dimension, str] = {
    "volume": "litre",
    "mass": "gram",
    "length": "millimetre",
    "time": "minute",
}
_DEFINITIONS = """
gram = [mass]
metre = [length]
litre = 0.001 * metre ** 3
inch = 0.0254 * metre
gallon = 231 * inch ** 3
gill = gallon / 32
fluid_dram = gallon / 1024
beer_barrel = 31 * gallon
imperial_gallon = 4.54609 * litre
imperial_gill = imperial_gallon / 32
imperial_cup = imperial_gallon / 16
imperial_barrel = 36 * imperial_gallon
grain = 0.06479891 * gram
pound = 7000 * grain
stone = 14 * pound
"""


PLACES = {
    **dict.fromkeys(("us", "usa", "american"), "us"),
    **dict.fromkeys(("uk", "imp", "imperial", "british"), "uk"),
    **dict.fromkeys(("au", "aus", "australian"), "au"),
    "metric": "metric",
}
"""How a place is written before or behind its unit, and its name in the tables."""


def _named() -> dict[tuple[Dimension, str], Unit]:
    named: dict[tuple[Dimension, str], Unit] = {}
    for dimension, factor, name, spellings in _TABLE:
        unit = Unit(dimension, Fraction(factor), name)
        for part in spellings.split("|"):
            for spelling in [part] if " " in part and part.split()[0] in PLACES else part.split():
                named[dimension, spelling] = unit
    return named


UNITS = _named()


def spelled(unit: str) -> str:
    """A unit's name in the spelling of the table: lower case, no full stops, `us`/`uk` in front."""
    words = unit.lower().replace(".", " " if len(unit) > 3 else "").split()
    if words[:2] == ["u", "s"] or words[:2] == ["u", "k"]:
        words[:2] = ["".join(words[:2])]
    if len(words) > 1 and words[-1] in PLACES:
        words = [words[-1], *words[:-1]]
    if words:
        words[0] = PLACES.get(words[0], words[0])
    return " ".join(words)


def find(dimension: Dimension, unit: str) -> Unit | None:
    """The unit of that name (already `spelled`) for that dimension, or None."""
    known = UNITS.get((dimension, unit))
    if known:
        return known
    rare = RARE.get(unit)
    return _rare(unit, *rare) if rare and rare[0] == dimension else None


@cache
def _rare(name: str, dimension: Dimension, definition: str) -> Unit:
    factor = _registry().Quantity(1, definition).to(_RARE_BASE[dimension]).magnitude  # type: ignore[attr-defined]
    return Unit(dimension, Fraction(factor), name)


@cache
def _registry() -> object:
    import pint  # a fifth of a second, for the few who write a stone or a gill

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction, cache_folder=None)
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    return registry
