"""Readers of quantities: text in, a number of base units or a `Misread` out; none of them raises.

Each reader takes what a person wrote ("1 lb 4 oz", "23L", "68F", "1½ h") and answers in the unit of its type.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NewType

from sheetgen.problems import did_you_mean
from sheetgen.records import record
from sheetgen.units.factors import AMBIGUOUS, RARE, UNITS, Dimension, Unit, find, spelled
from sheetgen.units.numbers import Misread, bare_number, counts_meant, echo, grouped, number_at, plain, tidied

Litres = NewType("Litres", float)
Millilitres = NewType("Millilitres", float)
Grams = NewType("Grams", float)
Celsius = NewType("Celsius", float)
Gravity = NewType("Gravity", float)
Volumes = NewType("Volumes", float)
Millimetres = NewType("Millimetres", float)
Metres = NewType("Metres", float)
Minutes = NewType("Minutes", float)

GRAMS_PER_LITRE_OF_ONE_VOLUME = 1.977

_UNIT = re.compile(r"[^\d½⅓⅔¼¾⅛⅜⅝⅞,+-]*")
_TEMPERATURE = re.compile(
    r"\s*(?:°|º|deg\.?|degrees?)?\s*(c|f|celsius|centigrade|fahrenheit)\Z", re.IGNORECASE
)
_BETWEEN = re.compile(r"(?<=[\dCFcf½¼¾]) ?(?:-|to|\.\.|…) ?(?=[-+\d½¼¾])")
_RUN_TOGETHER = re.compile(r"\s*([\d.,]{3,7})\s+(?:[^\W\d]{2,4}\s+|[^\w\s]\s*)?(\d.*)\Z", re.ASCII)
_AT = re.compile(r" ?(?:(?<![a-z])at(?![a-z])|@) ?", re.IGNORECASE)


@record
class _Asked:
    """What a reader expects: for its sentences."""

    dimension: Dimension
    noun: str
    example: str
    readings: tuple[str, str]


_VOLUME = _Asked("volume", "a volume", "12 L", ("L", "US gal"))
_SMALL_VOLUME = _Asked("volume", "a volume", "500 ml", ("ml", "US fl oz"))
_MASS = _Asked("mass", "a weight", "1.7 kg", ("g", "oz"))
_LENGTH = _Asked("length", "a length", "99.1 mm", ("mm", "in"))
_HEIGHT = _Asked("length", "a height", "240 m", ("m", "ft"))
_TIME = _Asked("time", "a length of time", "60 min", ("min", "h"))
_MEASURED = {"volume": "a volume", "mass": "a weight", "length": "a length", "time": "a length of time"}


def volume(text: str) -> Litres | Misread:
    """Litres, from "12 L", "5 US gal", "16.9 US fl oz", "1½ UK pints"."""
    read = _amount(text, _VOLUME)
    return read if isinstance(read, Misread) else Litres(float(read))


def millilitres(text: str) -> Millilitres | Misread:
    """Millilitres, for sizes such as "500 ml" or "12 US fl oz"; everything that `volume` reads."""
    read = _amount(text, _SMALL_VOLUME)
    return read if isinstance(read, Misread) else Millilitres(float(read * 1000))


def mass(text: str) -> Grams | Misread:
    """Grams, from "1.7 kg", "3.3 lb", "1 lb 4 oz"."""
    read = _amount(text, _MASS)
    return read if isinstance(read, Misread) else Grams(float(read))


def length_mm(text: str) -> Millimetres | Misread:
    """Millimetres, from "99.1 mm", "4 in", "2 5/8 in"."""
    read = _amount(text, _LENGTH)
    return read if isinstance(read, Misread) else Millimetres(float(read))


def shift_mm(text: str) -> Millimetres | Misread:
    """Millimetres that may be negative, from "-0.5 mm", "1/16 in"."""
    read = _amount(text, _LENGTH, negative=True)
    return read if isinstance(read, Misread) else Millimetres(float(read))


def minutes(text: str) -> Minutes | Misread:
    """Minutes, from "60 min", "1 h", "1 h 30 min"."""
    clock = re.fullmatch(r"\s*(\d{1,2}):(\d{2})\s*", text, re.ASCII)
    if clock:
        first, second = int(clock.group(1)), int(clock.group(2))
        return _either(echo(text), [f"{first} h {second} min", f"{first} min {second} s"])
    read = _amount(text, _TIME)
    return read if isinstance(read, Misread) else Minutes(float(read))


def altitude(text: str) -> Metres | Misread:
    """Metres above the sea (-430 to 9000), from "240 m" or "5280 ft"."""
    read = _amount(text, _HEIGHT, negative=True)
    if isinstance(read, Misread):
        return read
    if not -430 <= read / 1000 <= 9000:
        fix = "write the height above the sea, such as 240 m"
        return Misread(f"{echo(text)}: nobody brews at that height", fix)
    return Metres(float(read / 1000))


def dimension_of(text: str) -> Dimension | None:
    """What the text measures, when it reads as a volume, weight, length or length of time."""
    asked = {"volume": _VOLUME, "mass": _MASS, "length": _LENGTH, "time": _TIME}
    tests = (each for each in asked.values() if not isinstance(_amount(text, each), Misread))
    return next((each.dimension for each in tests), None)


def temperature(text: str) -> Celsius | Misread:
    """Degrees Celsius, from "19 C", "19,5°C", "68F"."""
    tidy = tidied(text)
    if isinstance(tidy, Misread):
        return Misread(tidy.message, "write a temperature, such as 19 C")
    return _temperature(tidy)


def temperature_range(text: str) -> tuple[Celsius, Celsius] | Misread:
    """Lowest and highest degrees Celsius, from "15-20 C", "59 to 68 F", or twice the same from "19 C"."""
    tidy = tidied(text)
    if isinstance(tidy, Misread):
        return Misread(tidy.message, "write a temperature, such as 19 C")
    slashed = re.fullmatch(r"(\d{2})/(\d{2}) ?(\D*)", tidy, re.ASCII)
    if slashed and int(slashed[1]) < int(slashed[2]):
        meant = f"{slashed[1]}-{slashed[2]} {slashed[3] or 'C'}"
        return Misread(f'"{echo(text)}" reads as a part of one degree', f"write {meant}", (meant,))
    parts = _BETWEEN.split(tidy, maxsplit=1)
    if len(parts) == 2 and not re.search(r"[CFcf]", tidy):
        return _either(tidy, [f"{tidy} C", f"{tidy} F"])
    if len(parts) == 2 and not _TEMPERATURE.search(parts[0]):
        found = _TEMPERATURE.search(parts[1])
        parts[0] += found.group() if found else ""
    ends = [_temperature(part) for part in parts]
    for end in ends:
        if isinstance(end, Misread):
            return Misread(end.message, f"{end.fix}; for a range: 15-20 C") if len(parts) == 2 else end
    low, high = float(ends[0]), float(ends[-1])  # type: ignore[arg-type]
    if low > high:
        scale = _TEMPERATURE.search(parts[1])
        both = scale and parts[0].endswith(scale.group())
        last = parts[1][: -len(scale.group())] if scale and both else parts[1]
        turned = f"{last.strip()}-{parts[0].strip()}"
        return Misread(
            f"{echo(text)}: the first is the higher", f"write the lower first: {turned}", (turned,)
        )
    return Celsius(low), Celsius(high)


def gravity(text: str) -> Gravity | Misread:
    """Specific gravity, 0.9 to 1.2, from "1.047" or "1,047"; sugar by weight (Brix, Plato) is refused."""
    if re.search(r"brix|°? ?bx\b|refract", text, re.IGNORECASE):
        return Misread(
            f'"{echo(text)}" is a refractometer reading, and alcohol falsifies it',
            "measure with a hydrometer and write its specific gravity, such as 1.047",
        )
    if re.search(r"\d ?°? ?p(lato)?\b", text, re.IGNORECASE):
        fix = "write the specific gravity, such as 1.047"
        return Misread(f'"{echo(text)}" is in degrees Plato', fix)
    bare = re.sub(r"\b(sg|og|fg)\b", " ", text[:60], flags=re.IGNORECASE).strip()
    tidy = tidied(bare)
    if isinstance(tidy, Misread):
        return Misread(tidy.message, "write a specific gravity, such as 1.047")
    found = number_at(tidy, 0)
    if not found or found[1] != len(tidy):
        return Misread(f'"{echo(text)}" is not a specific gravity', "write a number such as 1.047")
    return _gravity(tidy, found[0])


def gravity_at(text: str) -> tuple[Gravity, Celsius | None] | Misread:
    """A hydrometer reading and the sample's temperature, if said, from "1.047 at 24 C"."""
    parts = _AT.split(text[:80], maxsplit=1)
    read = gravity(parts[0])
    if isinstance(read, Misread):
        return _with_rest(read, parts)
    if len(parts) == 1:
        return read, None
    warmth = temperature(parts[1])
    if isinstance(warmth, Misread):
        ways = tuple(f"{parts[0].strip()} at {way}" for way in warmth.ways)
        return Misread(warmth.message, warmth.fix, ways, warmth.sure)
    return read, warmth


def _with_rest(wrong: Misread, parts: list[str]) -> Misread:
    """What is wrong with the number, and the whole reading as it may be written."""
    if len(parts) == 1 and (two := _RUN_TOGETHER.match(parts[0])):
        whole = f"{two.group(1)} at {two.group(2)}"
        if not isinstance(gravity_at(whole), Misread):
            return Misread(wrong.message, f"write {whole}", (whole,), True)
    if len(parts) == 1 or not wrong.ways:
        return wrong
    ways = tuple(f"{way} at {parts[1].strip()}" for way in wrong.ways)
    return Misread(wrong.message, f"write {' or '.join(ways)}", ways, wrong.sure)


def carbonation(text: str) -> Volumes | Misread:
    """Volumes of carbon dioxide, from "2.4 volumes" or "4.7 g/L" (1.977 g/L is one volume)."""
    fix = "write 2.4 volumes or 4.7 g/L"
    tidy = tidied(text)
    found = number_at(tidy, 0) if isinstance(tidy, str) else None
    if isinstance(tidy, Misread) or not found:
        return tidy if isinstance(tidy, Misread) else Misread(f'"{echo(text)}" is not a carbonation', fix)
    value, unit = found[0], tidy[found[1] :].strip().lower()
    if not unit:
        return _either(plain(value), [f"{plain(value)} volumes", f"{plain(value)} g/L"])
    if value < 0 or grouped(tidy):
        return grouped(tidy) or Misread(f"{echo(text)}: less than nothing", fix)
    if re.fullmatch(r"v|vols?\.?|volumes?( of)?( co2)?|vols? co2", unit):
        return Volumes(float(value))
    if re.fullmatch(r"g ?/ ?(l|litre|liter)( co2)?|grams? per lit(re|er)", unit):
        return Volumes(float(value) / GRAMS_PER_LITRE_OF_ONE_VOLUME)
    return Misread(f'"{echo(unit)}" is not a unit of carbonation', fix)


def percent(text: str) -> float | Misread:
    """Percent, from "5.5 %"; the sign is needed, since 0.5 could be a half."""
    tidy = tidied(text)
    if isinstance(tidy, Misread):
        return Misread(tidy.message, "write a number with a % sign, such as 5.5 %")
    body = re.sub(r" ?(%|per ?cent|pct)\Z", "", tidy, flags=re.IGNORECASE)
    value = bare_number(body)
    if isinstance(value, Misread):
        return Misread(f'"{echo(text)}" is not a percentage', "write a number with a % sign, such as 5.5 %")
    if value < 0:
        return Misread(f"{echo(text)}: less than nothing", "write a percentage from 0 % upwards")
    if body == tidy:
        shown, share = plain(value), plain(value * 100)
        both = f"{shown} % or {share} %" if value <= 1 else f"{shown} %"
        return Misread(f"{shown} has no % sign: {both}?", f"write {both}", tuple(both.split(" or ")))
    return float(value)


def count(text: str) -> int | Misread:
    """A whole number from 0 to 9 999 999."""
    value = bare_number(text)
    if isinstance(value, Misread):
        ways, sure = counts_meant(text)
        fix = f"write a whole number: {' or '.join(ways)}" if ways else "write a whole number, such as 24"
        return Misread(value.message, fix, ways or ("24",), sure)
    if value < 0 or value.denominator != 1:
        return Misread(
            f"{echo(text)} is not a whole number from 0 upwards", "write a whole number, such as 24"
        )
    return int(value)


def number(text: str) -> float | Misread:
    """A number without a unit; may be negative."""
    value = bare_number(text)
    return value if isinstance(value, Misread) else float(value)


def days(text: str) -> int | Misread:
    """A whole number of days, from "3 days" or "2 weeks"."""
    found = re.fullmatch(
        r"(\d{1,4}) ?(d|days?|w|weeks?)", " ".join(text[:60].split()), re.IGNORECASE | re.ASCII
    )
    if found:
        return int(found.group(1)) * (7 if found.group(2).lower().startswith("w") else 1)
    bare = bare_number(text)
    if isinstance(bare, Misread):
        return Misread(f'"{echo(text)}" is not a number of days', "write 3 days or 2 weeks, for example")
    if bare < 0 or bare.denominator != 1:
        return Misread(f"{echo(text)} is not a whole number of days", "write 3 days or 2 weeks, for example")
    return _either(plain(bare), [f"{bare} days", f"{bare} weeks"])


def _amount(text: str, asked: _Asked, *, negative: bool = False) -> Fraction | Misread:
    """The sum of the parts ("1 lb 4 oz") in base units; parts come in falling size."""
    tidy = tidied(text)
    if isinstance(tidy, Misread):
        return Misread(tidy.message, f"write {asked.noun}, such as {asked.example}")
    parts = _parts(tidy, asked)
    if isinstance(parts, Misread):
        return parts
    if any(value < 0 for value, _ in parts) and not (negative and len(parts) == 1):
        return Misread(f"{echo(text)}: less than nothing", f"write {asked.noun}, such as {asked.example}")
    sizes = [unit.factor for _, unit in parts]
    if sizes != sorted(set(sizes), reverse=True) or len(parts) > 3:
        fix = f"write the larger unit first, such as 1 lb 4 oz, or one amount, such as {asked.example}"
        return Misread(f'"{echo(text)}" does not read as one amount', fix)
    return sum((value * unit.factor for value, unit in parts), Fraction(0))


def _parts(tidy: str, asked: _Asked) -> list[tuple[Fraction, Unit]] | Misread:
    parts: list[tuple[Fraction, Unit]] = []
    at = 0
    while at < len(tidy):
        found = number_at(tidy, at)
        if not found:
            return grouped(tidy) or _no_number(tidy, asked)
        value, end = found
        word = _UNIT.match(tidy, end)
        name = word.group().strip() if word else ""
        unit = _unit(value, name, asked)
        if isinstance(unit, Misread):
            odd = (
                end < len(tidy)
                and name
                and word
                and word.end() < len(tidy)
                and spelled(name) not in AMBIGUOUS
            )
            return grouped(tidy) or (_no_number(tidy, asked) if odd else unit)
        parts.append((value, unit))
        at = word.end() if word else end
    return grouped(tidy) or parts


def _unit(value: Fraction, name: str, asked: _Asked) -> Unit | Misread:
    shown, spelling = plain(value), spelled(name)
    if not spelling:
        return _either(shown, [f"{shown} {unit}" for unit in asked.readings])
    unit = find(asked.dimension, spelling)
    if unit:
        return unit
    if asked.dimension == "volume" and spelling in AMBIGUOUS:
        return _two_readings(value, name, AMBIGUOUS[spelling])
    if asked.dimension == "volume" and spelling in ("oz", "ounce", "ounces"):
        return _two_readings(value, name, AMBIGUOUS["fl oz"])
    return _wrong_unit(f"{shown} {name}", spelling, asked)


def _two_readings(value: Fraction, name: str, spellings: tuple[str, ...]) -> Misread:
    units = [UNITS["volume", spelling] for spelling in spellings]
    shown = plain(value)
    sized = [f"{shown} {unit.name} ({_metric(value * unit.factor)})" for unit in units]
    ways = tuple(f"{shown} {unit.name}" for unit in units)
    return Misread(f"{shown} {name}: {' or '.join(sized)}?", f"write {' or '.join(ways)}", ways)


def _either(found: str, ways: list[str]) -> Misread:
    """The refusal of a text with several readings, each as it would be typed."""
    return Misread(f"{found}: {' or '.join(ways)}?", f"write {' or '.join(ways)}", tuple(ways))


def _metric(litres: Fraction) -> str:
    size = abs(float(litres))
    return f"{size:.3g} L" if size >= 1 else f"{size * 1000:.3g} ml"


def _wrong_unit(found: str, spelling: str, asked: _Asked) -> Misread:
    fix = f"write {asked.noun}, such as {asked.example}"
    kinds: list[Dimension] = [kind for kind, name in UNITS if name == spelling]
    kinds += [RARE[spelling][0]] if spelling in RARE else []
    if kinds:
        return Misread(f"{echo(found)} is {_MEASURED[kinds[0]]}, not {asked.noun}", fix)
    guess = did_you_mean(
        spelling, (name for kind, name in UNITS if kind == asked.dimension and len(name) > 2)
    )
    return Misread(f'"{echo(found)}" has a unit that is not known here', f"{fix}; {guess}" if guess else fix)


def _no_number(tidy: str, asked: _Asked) -> Misread:
    message = f'"{echo(tidy)}" is not {asked.noun}'
    if re.search(r"\d ?/ ?0+(?!\d)", tidy):
        message = f'"{echo(tidy)}" divides by nothing'
    return Misread(message, f"write a number and a unit, such as {asked.example}")


def _temperature(tidy: str) -> Celsius | Misread:
    found = number_at(tidy, 0)
    if not found or grouped(tidy):
        return grouped(tidy) or Misread(
            f'"{echo(tidy)}" is not a temperature', "write a temperature, such as 19 C"
        )
    value, rest = found[0], tidy[found[1] :].strip()
    if rest in ("", "°", "º", "deg", "degrees"):
        shown = plain(value)
        return _either(shown, [f"{shown} C", f"{shown} F"])
    scale = _TEMPERATURE.fullmatch(rest)
    if not scale:
        return Misread(
            f'"{echo(tidy)}" is not a temperature in C or F', "write a temperature, such as 19 C or 66 F"
        )
    celsius = (value - 32) * 5 / 9 if scale.group(1).lower().startswith("f") else value
    if celsius < Fraction("-273.15"):
        return Misread(f"{echo(tidy)} is colder than anything can be", "write a temperature, such as 19 C")
    return Celsius(float(celsius))


def _gravity(tidy: str, value: Fraction) -> Gravity | Misread:
    if Fraction("0.9") <= value <= Fraction("1.2"):
        return Gravity(float(value))
    meant = value / 1000 if 900 <= value <= 1200 else None
    if 1 <= value <= 150 and value.denominator == 1:
        meant = 1 + value / 1000
    if meant is not None:
        shown = f"{float(meant):.3f}"
        return Misread(
            f"{echo(tidy)} is not a specific gravity", f"did you mean {shown}?", (shown,), value > 150
        )
    return Misread(
        f"{echo(tidy)} is not a specific gravity: those lie between 0.9 and 1.2", "write 1.047, for example"
    )
