"""Rounding for paper: the safe side is a property of the quantity.

Doses and ceilings round down, waits and "not before" days round up, the rest to the nearest step. All steps
are taken in decimal arithmetic, after dropping the noise below 0.000000001, so binary fractions never flip
a step.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from .ranges import require

TEASPOON_GRAMS = 4.26
LARGEST_EXCESS = 0.05
_LARGEST = 1e12
_NOISE_DIGITS = 9


def as_decimal(value: float) -> Decimal:
    """`value` (any unit) as a decimal number without binary noise: kept to 9 decimals.

    Range -1e12 to 1e12. Source: definition.
    """
    require("value", value, -_LARGEST, _LARGEST)
    return Decimal(repr(round(float(value), _NOISE_DIGITS)))


def _stepped(value: float, step: float, rounding: str) -> float:
    require("step", step, 1e-6, _LARGEST)
    size = as_decimal(step)
    return float((as_decimal(value) / size).quantize(Decimal(1), rounding=rounding) * size)


def down_to(value: float, step: float) -> float:
    """The largest multiple of `step` not above `value` (both in one unit).

    Range as `as_decimal`. Source: definition.
    """
    return _stepped(value, step, ROUND_FLOOR)


def up_to(value: float, step: float) -> float:
    """The smallest multiple of `step` not below `value` (both in one unit).

    Range as `as_decimal`. Source: definition.
    """
    return _stepped(value, step, ROUND_CEILING)


def nearest_to(value: float, step: float) -> float:
    """The multiple of `step` nearest to `value` (both in one unit), halves away from zero.

    Range as `as_decimal`. Source: definition.
    """
    return _stepped(value, step, ROUND_HALF_UP)


def _nearest_by_size(value: float, steps: tuple[tuple[float, float], ...], otherwise: float) -> float:
    """Nearest multiple of the step for the value's size: (below this, this step), ... else the last."""
    exact = as_decimal(abs(value))
    step = next((step for below, step in steps if exact < as_decimal(below)), otherwise)
    return nearest_to(value, step)


def grams(value: float) -> float:
    """Grams as printed: nearest 0.1 under 10, 1 under 100, 5 under 1000, 10 above.

    Range as `as_decimal`. Common practice, no source.
    """
    return _nearest_by_size(value, ((10.0, 0.1), (100.0, 1.0), (1000.0, 5.0)), 10.0)


def litres(value: float) -> float:
    """Litres as printed: nearest 0.1 to 10, 0.25 to 30, 0.5 above.

    Range as `as_decimal`. Common practice, no source.
    """
    return _nearest_by_size(value, ((10.0, 0.1), (30.0, 0.25)), 0.5)


def litres_down(value: float) -> float:
    """Litres on the steps of `litres`, but never above `value`: what must not pass a mark.

    Range 0 to 1e9. Common practice, no source.
    """
    exact = as_decimal(require("volume", value, 0.0, _LARGEST, "L"))
    return down_to(value, 0.1 if exact < 10 else 0.25 if exact < 30 else 0.5)


def millilitres(value: float) -> float:
    """Millilitres as spoons: nearest half teaspoon (2.5) under 15, tablespoon (15) to 60, 5 to 300, else 10.

    Not for a sanitiser's dose, where a tablespoon is too coarse.
    Range as `as_decimal`. Common practice, no source.
    """
    return _nearest_by_size(value, ((15.0, 2.5), (60.0, 15.0), (300.0, 5.0)), 10.0)


def fine_millilitres(value: float) -> float:
    """Millilitres as a syringe or a jug measures them: nearest 0.5 under 15, 1 under 60, 5 to a litre, else
    10.

    Range as `as_decimal`. Common practice, no source.
    """
    return _nearest_by_size(value, ((15.0, 0.5), (60.0, 1.0), (1000.0, 5.0)), 10.0)


def ounces(value: float) -> float:
    """Ounces (avoirdupois) as printed: nearest 0.01 under 0.1, 0.05 under one, 0.1 above; never for a dose of
    priming sugar.

    Range as `as_decimal`. Common practice, no source: a tenth of an ounce would be a third of a spice.
    """
    return _nearest_by_size(value, ((0.1, 0.01), (1.0, 0.05)), 0.1)


def pounds_and_ounces(value: float) -> tuple[int, float]:
    """Ounces as whole pounds and ounces to the nearest quarter ounce. Range 0 to 1e12 oz. Common
    practice, no source.
    """
    quarters = nearest_to(require("weight", value, 0.0, _LARGEST, "oz"), 0.25)
    return int(quarters // 16), quarters % 16


def bulk_sugar_ounces(value: float) -> float:
    """Ounces of priming sugar for a whole batch: 0.05 oz, rounded down; less than nothing is 0.

    Range as `as_decimal`. Source: the safe side.
    """
    return max(down_to(value, 0.05), 0.0)


def whole_degrees(value: float) -> int:
    """A temperature (Celsius or Fahrenheit) as printed: the nearest whole degree.

    Range as `as_decimal`. Common practice, no source.
    """
    return int(nearest_to(value, 1.0))


def printed_sg(value: float) -> float:
    """A specific gravity as printed: three decimals, nearest. Limits use `ceiling_sg`.

    Range as `as_decimal`. Common practice, no source.
    """
    return nearest_to(value, 0.001)


def ceiling_sg(value: float) -> float:
    """An upper limit of gravity (SG) as printed: rounded down to 0.001.

    Range as `as_decimal`. Source: the safe side.
    """
    return down_to(value, 0.001)


def waiting_days(value: float) -> int:
    """A wait in days as printed: rounded up to whole days.

    Range as `as_decimal`. Source: the safe side.
    """
    return int(up_to(value, 1.0))


def dose_grams(value: float) -> float:
    """Priming sugar (g) for one bottle: 0.1 g, rounded down; nothing wanted or less is 0.

    Range as `as_decimal`. Source: the safe side.
    """
    return max(down_to(value, 0.1), 0.0)


def teaspoons(grams_wanted: float, grams_each: float = TEASPOON_GRAMS) -> float:
    """Level 5 ml teaspoons for a dose of sugar (g): the nearest quarter, or the one below if that is 5 %
    too much.

    May be 0 for a dose smaller than a quarter. `grams_each` is one level spoon: granulated sugar 4.26 g per
    5 ml, from 4.2 g per US teaspoon of 4.93 ml (USDA National Nutrient Database SR 19335). Range: dose 0 to
    1000 g, spoon 0.5 to 20 g. Source of the rule: the safe side.
    """
    require("dose", grams_wanted, 0.0, 1000.0, "g")
    require("grams in a spoon", grams_each, 0.5, 20.0, "g")
    wanted, each = as_decimal(grams_wanted), as_decimal(grams_each)
    spoons = as_decimal(nearest_to(float(wanted / each), 0.25))
    too_much = spoons * each > wanted * (1 + as_decimal(LARGEST_EXCESS))
    return float(spoons - Decimal("0.25") if too_much else spoons)


def ladder_step(litres_in_vessel: float) -> float:
    """Step (L) of the sugar ladder at this volume (L): 0.1 to 6 L, 0.25 to 12 L, 0.5 above.

    Range 0 to 1000 L. Chosen so that one step is never much over 5 %; common practice, no source.
    """
    require("volume", litres_in_vessel, 0.0, 1000.0, "L")
    if litres_in_vessel <= 6.0:
        return 0.1
    return 0.25 if litres_in_vessel <= 12.0 else 0.5


def bulk_sugar_grams(value: float) -> float:
    """Priming sugar (g) for a whole batch: rounded down to tenths under 20 g, halves under 30, else grams.

    Range as `as_decimal`; less than nothing is 0. Source: the safe side.
    """
    require("sugar", value, -_LARGEST, _LARGEST, "g")
    return down_to(max(value, 0.0), 0.1 if value < 20.0 else 0.5 if value < 30.0 else 1.0)


def syringe_millilitres(value: float) -> float:
    """Syrup (ml) for one bottle: half millilitres up to 10, whole ones above, rounded down.

    Range as `as_decimal`; less than nothing is 0. Source: the safe side, and the marks of a 10 ml syringe.
    """
    require("syrup", value, -_LARGEST, _LARGEST, "ml")
    return down_to(max(value, 0.0), 0.5 if value < 10.0 else 1.0)


def whole_pieces(grams_wanted: float, grams_each: float) -> int:
    """Whole pieces of sugar for a dose (g), rounded down; one that is over by 5 % at most counts as fitting.

    Range: dose 0 to 1000 g, piece 0.5 to 20 g. Source: the safe side.
    """
    require("dose", grams_wanted, 0.0, 1000.0, "g")
    require("grams in a piece", grams_each, 0.5, 20.0, "g")
    return int(as_decimal(grams_wanted) * (1 + as_decimal(LARGEST_EXCESS)) / as_decimal(grams_each))
