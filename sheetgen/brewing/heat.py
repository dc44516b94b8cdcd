"""Heat: water's density and enthalpy, mixing, boiling, cooling.

In: kilograms, degrees Celsius, metres, litres. Out: degrees Celsius, hours, kilograms, kg/L, bar. Water's own
enthalpy as a function of temperature is used throughout, not a single heat capacity.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt
from types import MappingProxyType

from .ranges import require

KJ_PER_KG_KELVIN = MappingProxyType({"malt syrup": 2.2, "dry solids": 1.3})
"""Heat capacities (kJ/kg K). Syrup of 80 Brix: sugar-technology correlations (2.1 to 2.5); dry: derived."""

MALT_SYRUP_KG_PER_LITRE = 1.40
"""Density of liquid malt extract (1.38 to 1.45 kg/L): USDA National Nutrient Database SR 19352, 332 g a
US cup.
"""

SUBSTANCES = ("water", *KJ_PER_KG_KELVIN, "ice")
MELTING_KJ_PER_KG = 333.55
STANDARD_ATMOSPHERE_BAR = 1.01325
_EXACT_C = 1e-9

HOURS_PER_CUBE_ROOT_LITRE = 3.3
TIMES_FASTER_THAN_AIR = MappingProxyType({"air": 1.0, "bath": 6.0})
"""The one model of cooling (and warming): Newton's law, the difference to the surroundings falls to 1/e in
3.3 h x cube root of litres in "air" (20 L: 9 h, 5 L: 5.6 h), and six times faster in a "bath", a sink of
cold water that is changed when it feels warm. Range: 0.5 to 100 L in an open kitchen, no insulation.
Common practice, no source: rough, and printed with "about".
"""

# Water at one atmosphere, kJ/kg above 0 C: fitted to IAPWS-95 from 0 to 99.9 C, within 0.08.
_ENTHALPY = (4.21621805, -1.32719493e-3, 2.15616811e-5, -1.60182993e-7, 5.20985291e-10)
_KELL = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_REGION_4 = (
    1167.0521452767, -724213.16703206, -17.073846940092, 12020.82470247, -3232555.0322333,
    14.91510861353, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that goes into a mix: `kilograms`, `celsius`, and a substance out of `SUBSTANCES`.

    Ice is taken at 0 C, which is the careful side: from a freezer of -18 C it cools a tenth more.
    """

    kilograms: float
    celsius: float
    substance: str = "water"

    def __post_init__(self) -> None:
        require("mass", self.kilograms, 0.0, 1e6, "kg")
        require("temperature", self.celsius, 0.0, 0.0 if self.substance == "ice" else 100.0, "C")
        _require_substance(self.substance)


def _require_substance(substance: str) -> None:
    if substance not in SUBSTANCES:
        raise ValueError(f"substance {substance!r} is not one of {', '.join(SUBSTANCES)}")


def _polynomial(coefficients: Sequence[float], value: float) -> float:
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * value + coefficient
    return total


def water_kg_per_litre(celsius: float) -> float:
    """Density of air-free water (kg/L) at `celsius`; range 0 to 100 C.

    Source: Kell, J. Chem. Eng. Data 20 (1975) 97-105, coefficients from memory, within 0.02 kg/m3 of
    IAPWS-95.
    """
    require("temperature", celsius, 0.0, 100.0, "C")
    return _polynomial(_KELL, celsius) / (1.0 + 16.879850e-3 * celsius) / 1000.0


def kilojoules_per_kilogram(celsius: float, substance: str = "water") -> float:
    """Heat (kJ/kg) that holds one kilogram of `substance` at `celsius` rather than at 0 C.

    Range 0 to 100 C, ice 0 C only (its melting is still to be paid: a negative heat); substances as
    `SUBSTANCES`. Source: water IAPWS-95; melting 333.55 kJ/kg; others as `KJ_PER_KG_KELVIN`.
    """
    _require_substance(substance)
    require("temperature", celsius, 0.0, 0.0 if substance == "ice" else 100.0, "C")
    if substance == "ice":
        return -MELTING_KJ_PER_KG
    return _melted_heat(celsius, substance)


def _melted_heat(celsius: float, substance: str) -> float:
    """Heat (kJ/kg) at `celsius` once the ice is water; nothing is checked, this is the inmost loop."""
    if substance in KJ_PER_KG_KELVIN:
        return KJ_PER_KG_KELVIN[substance] * celsius
    return celsius * _polynomial(_ENTHALPY, celsius)


def _heat_of(parts: Sequence[Part]) -> float:
    return sum(part.kilograms * kilojoules_per_kilogram(part.celsius, part.substance) for part in parts)


def _heat_at(parts: Sequence[Part], celsius: float) -> float:
    return sum(part.kilograms * _melted_heat(celsius, part.substance) for part in parts)


def excess_kilojoules(parts: Sequence[Part], celsius: float) -> float:
    """Heat (kJ) that `parts` must give up to come to `celsius` together, all ice melted; below 0: what they
    lack.

    Range 0 to 100 C. Source: as `mixed_celsius`.
    """
    require("target", celsius, 0.0, 100.0, "C")
    return _heat_of(parts) - _heat_at(parts, celsius)


def mixed_celsius(parts: Sequence[Part | tuple[float, float, str]]) -> float:
    """Temperature (C) of everything in `parts` stirred together, no heat lost to vessel or air.

    A part may be written as (kilograms, celsius, substance). Litres are turned into kilograms by the caller:
    1 L at 95 C is 0.9619 kg. Range: parts from 0 to 100 C, at least one of them heavier than nothing; 0 where
    ice would be left over. Source: IAPWS-95 enthalpies; see `KJ_PER_KG_KELVIN`.
    """
    mixed = [part if isinstance(part, Part) else Part(*part) for part in parts]
    if sum(part.kilograms for part in mixed) <= 0:
        raise ValueError("mass 0 is outside more than 0 kg")
    return _celsius_holding(mixed, _heat_of(mixed))


def _celsius_holding(parts: Sequence[Part], kilojoules: float) -> float:
    """The temperature at which `parts` hold this much heat, from 0 to 100 C.

    Heat is all but straight over temperature, so each step along the mean slope leaves about a hundredth
    of the error.
    """
    slope = _heat_at(parts, 100.0) / 100.0
    celsius = kilojoules / slope
    for _ in range(8):
        step = (kilojoules - _heat_at(parts, min(100.0, max(0.0, celsius)))) / slope
        celsius += step
        if abs(step) < _EXACT_C:
            break
    return min(100.0, max(0.0, celsius))


def celsius_for(others: Sequence[Part], together: Sequence[Part], target_celsius: float) -> float:
    """Temperature (C) that all of `together` must have so that mixed with `others` they reach the target.

    What `together` is at now does not matter. Range: target 0 to 100 C, more than 0 kg; ValueError if that
    would need less than 0 or more than 100 C. Source: as `mixed_celsius`.
    """
    require("mass", sum(part.kilograms for part in together), 1e-6, 1e6, "kg")
    missing = _heat_at(together, target_celsius) - excess_kilojoules(others, target_celsius)
    if not 0.0 <= missing <= _heat_at(together, 100.0):
        raise ValueError(f"{target_celsius:g} C cannot be reached with water or solids of 0 to 100 C")
    return _celsius_holding(together, missing)


def cold_share(
    others: Sequence[Part],
    kilograms: float,
    cold_celsius: float,
    warm_celsius: float,
    target_celsius: float,
) -> float:
    """Which fraction of `kilograms` of water must be the cold one (fridge), the rest the warm one (tap).

    Mixed with `others` the result is `target_celsius`. Below 0: too cold even without any cold water. Above
    1: too warm even if all of it is cold. Range: 0 to 100 C, cold below warm, more than 0 kg. Source: as
    `mixed_celsius`.
    """
    require("mass", kilograms, 1e-6, 1e6, "kg")
    require("cold water", cold_celsius, 0.0, warm_celsius - 0.01, "C")
    cold, warm = kilojoules_per_kilogram(cold_celsius), kilojoules_per_kilogram(warm_celsius)
    excess = excess_kilojoules([*others, Part(kilograms, warm_celsius)], target_celsius)
    return excess / kilograms / (warm - cold)


def ice_kilograms(
    parts: Sequence[Part], target_celsius: float, instead_of_celsius: float | None = None
) -> float:
    """Ice at 0 C (kg) that brings `parts` down to `target_celsius`; 0 if they are already as cold.

    It comes on top of `parts`, or, with `instead_of_celsius`, takes the place of as much water of that
    temperature that is among them. Range 0 to 100 C. Source: heat of melting 333.55 kJ/kg; otherwise as
    `mixed_celsius`.
    """
    excess = excess_kilojoules(parts, target_celsius)
    removed = target_celsius if instead_of_celsius is None else instead_of_celsius
    return max(excess, 0.0) / (MELTING_KJ_PER_KG + kilojoules_per_kilogram(removed))


def water_vapour_bar(celsius: float) -> float:
    """Pressure of water vapour (bar, absolute) over pure water at `celsius`; range 0.01 to 100 C, 0 taken
    as 0.01.

    Source: IAPWS-IF97, region 4, saturation-pressure equation.
    """
    require("temperature", celsius, 0.0, 100.0, "C")
    n = _REGION_4
    kelvin = max(celsius, 0.01) + 273.15
    theta = kelvin + n[8] / (kelvin - n[9])
    a = theta * theta + n[0] * theta + n[1]
    b = n[2] * theta * theta + n[3] * theta + n[4]
    c = n[5] * theta * theta + n[6] * theta + n[7]
    ratio: float = (2.0 * c / (-b + sqrt(b * b - 4.0 * a * c))) ** 4
    return 10.0 * ratio


def air_bar(altitude_m: float) -> float:
    """Usual pressure of the air (bar, absolute) at `altitude_m` metres; range -450 to 5000 m.

    Source: US Standard Atmosphere 1976.
    """
    require("altitude", altitude_m, -450.0, 5000.0, "m")
    ratio: float = (1.0 - 0.0065 * altitude_m / 288.15) ** 5.25588
    return STANDARD_ATMOSPHERE_BAR * ratio


def boiling_celsius(altitude_m: float) -> float:
    """Boiling point of water (C) at `altitude_m` metres in usual weather; range -450 to 5000 m.

    Source: US Standard Atmosphere 1976; IAPWS-IF97, region 4, saturation-temperature equation.
    """
    n = _REGION_4
    beta = sqrt(sqrt(air_bar(altitude_m) / 10.0))
    e = beta * beta + n[2] * beta + n[5]
    f = n[0] * beta * beta + n[3] * beta + n[6]
    g = n[1] * beta * beta + n[4] * beta + n[7]
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    total = n[9] + d
    return (total - sqrt(total * total - 4.0 * (n[8] + n[9] * d))) / 2.0 - 273.15


def time_constant_hours(litres: float, medium: str = "air") -> float:
    """Hours in which `litres` lose all but 1/e of their difference to the surroundings.

    Range 0.5 to 100 L; medium "air" or "bath". Common practice, no source: `TIMES_FASTER_THAN_AIR`.
    """
    require("volume", litres, 0.5, 100.0, "L")
    if medium not in TIMES_FASTER_THAN_AIR:
        raise ValueError(f"medium {medium!r} is not one of {', '.join(TIMES_FASTER_THAN_AIR)}")
    hours: float = HOURS_PER_CUBE_ROOT_LITRE * litres ** (1 / 3) / TIMES_FASTER_THAN_AIR[medium]
    return hours


def hours_to_cool(
    litres: float, start: float, target: float, surroundings: float, medium: str = "air"
) -> float:
    """Hours until `litres` standing at `start` have cooled to `target` in `surroundings` (all C).

    0 when the start is not above the target. Rough: print it as such. Range: 0.5 to 100 L, 0 to 100 C, and
    the target above the surroundings. Model and source: `TIMES_FASTER_THAN_AIR`.
    """
    hours = time_constant_hours(litres, medium)
    _require_celsius(start=start, target=target, surroundings=surroundings)
    if start <= target:
        return 0.0
    if target <= surroundings:
        raise ValueError(f"target {target:g} C is not above its surroundings, {surroundings:g} C")
    return hours * log((start - surroundings) / (target - surroundings))


def hours_to_warm(litres: float, start: float, target: float, surroundings: float) -> float:
    """Hours until `litres` standing at `start` have warmed to `target` in the air of a room (all C).

    0 when the start is not below the target. Range: as `hours_to_cool`, and the target below the
    surroundings. Model and source: `TIMES_FASTER_THAN_AIR`.
    """
    hours = time_constant_hours(litres)
    _require_celsius(start=start, target=target, surroundings=surroundings)
    if start >= target:
        return 0.0
    if target >= surroundings:
        raise ValueError(f"target {target:g} C is not below its surroundings, {surroundings:g} C")
    return hours * log((surroundings - start) / (surroundings - target))


def celsius_after(litres: float, start: float, hours: float, surroundings: float) -> float:
    """What `litres` that stood at `start` have come to after `hours` in the air of a room (all C).

    Range: as `hours_to_cool`, 0 to 1000 h. Model and source: `TIMES_FASTER_THAN_AIR`.
    """
    _require_celsius(start=start, surroundings=surroundings)
    require("time", hours, 0.0, 1000.0, "h")
    return surroundings + (start - surroundings) * exp(-hours / time_constant_hours(litres))


def _require_celsius(**temperatures: float) -> None:
    for name, value in temperatures.items():
        require(name, value, 0.0, 100.0, "C")
