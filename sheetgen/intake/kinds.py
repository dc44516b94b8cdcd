"""The kinds of single values: what each one reads, and what it is called in a sentence.

Comes in: the text of a value.  Goes out: a value in base units, or a `Misread`.  `KINDS` is the whole list;
a `Field` names one of them.  Limits here are those of a possible kitchen; planning judges what is wise.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from sheetgen import catalogue, units
from sheetgen.intake import class_kinds, season_kinds
from sheetgen.intake.event_kinds import drinks_each, event_name
from sheetgen.intake.moments import LONGEST_DAYS, moment
from sheetgen.records import record
from sheetgen.units import Grams, Gravity, Litres, Millilitres, Misread

Reader = Callable[[str], Any]

CODE_LETTERS = "ABCDEFGHJKLMNPRTUVWXY"
_LOOK_ALIKE = "IOQSZ"
_NOT_A_FILE = re.compile(r"(?:PRN|AUX|NUL|LPT[0-9])\Z")
MAX_TEXT = 200


@record
class Kind:
    """A kind of value: its reader, and what is expected, in words."""

    reader: Reader
    what: str


def within(reader: Reader, low: float, high: float, said: str, why: str = "is not possible here") -> Reader:
    """The reader, refusing numbers (or ends of a range) outside the limits; `said` is the range in words,
    `why` what is wrong outside it.
    """

    def read(text: str) -> Any:
        value = reader(text)
        numbers = value if isinstance(value, tuple) else (value,)
        if isinstance(value, Misread) or all(low <= each <= high for each in numbers if each is not None):
            return value
        return Misread(f"{text.strip()[:40]} {why}", f"write {said}")

    return read


def text(value: str) -> str | Misread:
    """Words of at most 200 characters, with single spaces."""
    tidy = " ".join(value.split())
    if len(tidy) > MAX_TEXT:
        return Misread(f"this text is {len(tidy)} characters long", f"write at most {MAX_TEXT}")
    return tidy


def name(value: str) -> str | Misread:
    """The name of a data file."""
    tidy = value.strip()
    if catalogue.is_name(tidy):
        return tidy
    near = re.sub(r"[^a-z0-9]+", "-", tidy.lower().removesuffix(".yaml"))[:60].strip("-")
    expected = "a name is made of a-z, 0-9 and single hyphens, without a folder"
    fix, ways = (f"write {near}", (near,)) if near else ("write such a name", ())
    return Misread(f'"{tidy[:40]}" cannot be a name: {expected}', fix, ways)


def recipe_name(value: str) -> str | Misread:
    """The name of a recipe; where it is written as a title, the name of the file that is meant."""
    found = name(value)
    if not isinstance(found, Misread) or not found.fix.startswith("write ") or " " in found.fix[6:]:
        return found
    near, known = found.fix[6:], catalogue.names("recipes")
    bare = {each.replace("-", ""): each for each in known}
    begun = [each for each in known if each.startswith(near) or near.startswith(each) or near.endswith(each)]
    meant = near if near in known or not begun else begun[0]
    meant = bare.get(near.replace("-", ""), meant)
    sure = near.replace("-", "") == meant.replace("-", "") and meant in known
    return Misread(found.message, f"write {meant}", (meant,), sure)


def code(value: str) -> str | Misread:
    """The code of a batch."""
    tidy = value.strip()
    found = f'"{tidy[:20]}" cannot be a code'
    rule = "2 to 4 characters, digits and capital letters without I, O, Q, S and Z"
    if tidy != tidy.upper() and not isinstance(code(tidy.upper()), Misread):
        return Misread(f"{found}: it is printed in capitals", f"write {tidy.upper()}", (tidy.upper(),), True)
    alike = sorted({letter for letter in tidy if letter in _LOOK_ALIKE})
    if alike:
        return Misread(
            f"{found}: {', '.join(alike)} looks like a digit in handwriting", f"write {rule}, such as 27A"
        )
    if not 2 <= len(tidy) <= 4 or any(sign not in f"0123456789{CODE_LETTERS}" for sign in tidy):
        return Misread(f"{found}: expected {rule}", "write 27A, for example")
    if _NOT_A_FILE.match(tidy):
        return Misread(f"{found}: some computers keep that name for a device", "write 27A, for example")
    return tidy


def alarm_time(value: str) -> Any:
    """A time of the day before at which to ring; not in the small hours, when clocks are changed."""
    found = units.time_of_day(value)
    if isinstance(found, Misread) or found.hour >= _EARLIEST_ALARM:
        return found
    return Misread(f"{value.strip()[:40]} is in the night", "write a time from 04:00 to 23:59, such as 18:00")


_EARLIEST_ALARM = 4


def yes_no(value: str) -> bool | Misread:
    """Yes or no."""
    tidy = value.strip().lower()
    if tidy in ("yes", "no"):
        return tidy == "yes"
    return Misread(f'"{value.strip()[:40]}" is neither yes nor no', "write yes or no")


def turn(value: str) -> tuple[str, int] | Misread:
    """One turn of a round of shifts, such as "early 2": its name in small letters, and its days."""
    words = " ".join(value.lower().split())
    found = re.fullmatch(r"([^\W\d](?:[^\d]{0,38}[^\W\d])?)(?: (\d{1,4})(?: days?)?)?", words)
    if not found:
        turned = re.fullmatch(r"(\d{1,4}) ?(?:x|days?(?: of)?)? ?([^\W\d][^\d]{0,38})", words)
        ways = (f"{turned[2].strip()} {int(turned[1])}",) if turned else ()
        fix = f"write {ways[0]}" if ways else "write a name and its days: early 2"
        return Misread(f'"{value.strip()[:40]}" is not a turn and its number of days', fix, ways, True)
    days = int(found[2] or 1)
    if not 1 <= days <= 60:
        return Misread(
            f"{days} days in one turn are not possible here", "write 1 to 60 days, such as early 2"
        )
    return found[1], days


def weeks(value: str) -> int | Misread:
    """Every so manieth week, 1 to 26, from "2 weeks"."""
    found = units.days(value)
    if isinstance(found, Misread):
        return Misread(found.message, "write every: 2 weeks")
    if found % 7 or not 7 <= found <= 182:
        return Misread(f"{value.strip()[:40]} is not a number of whole weeks from 1 to 26", "write 2 weeks")
    return found // 7


def holiday_code(value: str) -> str | Misread:
    """A country, or a country and a region, such as DE or DE-BY."""
    tidy = "-".join(value.strip().split(maxsplit=1))
    country, hyphen, region = tidy.partition("-")
    if not country.isalpha() or (hyphen and not region.strip()) or len(tidy) > 60:
        return Misread(
            f'"{value.strip()[:40]}" is no country or region', "write DE, or DE-BY with its region"
        )
    short = len(country) == 2
    return f"{country.upper() if short else country}{hyphen}{region.strip() if short else region}"


def positive_count(value: str) -> int | Misread:
    """A whole number from 1 to 9999."""
    found = units.count(value)
    if isinstance(found, Misread) or 1 <= found <= 9999:
        return found
    return Misread(f"{found} is not possible here", "write a whole number from 1 to 9999")


def count_or_none(value: str) -> int | Misread:
    """A whole number from 0 to 9999."""
    return 0 if value.strip() == "0" else positive_count(value)


def batch_volume(value: str) -> Litres | tuple[int, Millilitres] | Misread:
    """Litres in the fermenter, or a number of bottles of one size."""
    times = re.match(r"\s*(\d{1,5})\s*[x×*]\s*(\S.*)\Z", value, re.IGNORECASE | re.ASCII)
    if not times:
        return _litres_of_a_batch(value)
    number, size = positive_count(times.group(1)), bottle_size(times.group(2))
    if isinstance(number, Misread):
        return number
    if isinstance(size, Misread):
        ways = tuple(f"{number} x {way}" for way in size.ways)
        fix = "write 24 x 500 ml, for example; the kind of bottle stands at bottles:"
        return Misread(size.message, f"write {' or '.join(ways)}" if ways else fix, ways or ("24 x 500 ml",))
    if not 1 <= number * size / 1000 <= 100:
        return Misread(
            f"{value.strip()[:40]} is {number * size / 1000:g} L", "write bottles for 1 L to 100 L in all"
        )
    return number, size


_whole_batch = within(units.volume, 1, 100, "a volume from 1 L to 100 L")
_COUNT_ONLY = re.compile(r"\s*(\d{1,4})\s+(?:bottles?|full bottles?)\s*\Z", re.IGNORECASE | re.ASCII)
_FROM_TO = re.compile(r"\s*([\d.,]+)\s*(?:-|–|to)\s*[\d.,]+\s*(\D*)\Z", re.ASCII)


def _litres_of_a_batch(value: str) -> Litres | Misread:
    count, spread = _COUNT_ONLY.match(value[:60]), _FROM_TO.match(value[:60])
    if count:
        whole = f"{count.group(1)} x 500 ml"
        return Misread(f"{value.strip()} does not say of which size", f"write {whole}, for example", (whole,))
    if spread:
        one = f"{spread.group(1)} {spread.group(2).strip() or 'L'}"
        message = f"{value.strip()} is a range, and a batch has one volume"
        return Misread(message, f"write {one}, for example", (one,))
    found = _whole_batch(value)
    return found if isinstance(found, Misread) else Litres(found)


bottle_size = within(units.millilitres, 100, 5000, "a bottle's size from 100 ml to 5 L, such as 500 ml")
celsius = within(units.temperature, -5, 60, "a temperature from -5 C to 60 C")
celsius_range = within(
    units.temperature_range, -5, 60, "a temperature from -5 C to 60 C, or a range such as 15-20 C"
)
_ROOM = "a room's temperature from 0 C to 45 C"
_FROST = "is no place for a drink: frost bursts bottles, and heat kills yeast"
_altitude = within(
    units.altitude,
    -430,
    5000,
    "a height from -430 m to 5000 m",
    "is outside the heights at which the boiling point is known here",
)


def plain_litres(value: str) -> Litres | Misread:
    """Litres, where the key itself says so: a bare number will do."""
    bare = units.number(value)
    read = units.volume(value) if isinstance(bare, Misread) else Litres(bare)
    if isinstance(read, Misread) and not read.ways:
        return Misread(read.message, "write litres, such as 11.2")
    if isinstance(read, Misread) or 0 < read <= 100:
        return read
    return Misread(f"{value.strip()[:40]} is not possible here", "write litres up to 100, such as 11.2")


_litres_at_hand = within(units.volume, 0, 1000, "a volume up to 1000 L, or none")
_mass_at_hand = within(units.mass, 0, 100_000, "a weight up to 100 kg, or none")


def or_none(reader: Reader, nothing: Any) -> Reader:
    """The reader, with "none" for nothing of it."""
    return lambda text: nothing if text.strip().lower() == "none" else reader(text)


_AN_HOUR = re.compile(r"\s*(?:/|an|per)\s*(?:h|hr|hour)\s*\Z", re.IGNORECASE | re.ASCII)
_hourly = within(units.volume, 0, 10, "a volume from 0 L to 10 L an hour")


def boil_off(value: str) -> Litres | Misread:
    """Litres that boil away in an hour; "an hour" may stand behind it."""
    found: Litres | Misread = _hourly(_AN_HOUR.sub("", value))
    return found


def gravity_at_or_not(value: str) -> tuple[Gravity, Any] | Misread | None:
    """A reading with its temperature, or None for "not measured"."""
    if value.strip().lower() in ("not measured", "not-measured"):
        return None
    found = units.gravity_at(value)
    if isinstance(found, Misread):
        fix = found.fix if found.ways else f"{found.fix or 'write 1.047 at 24 C'}; or: not measured"
        return Misread(found.message, fix, found.ways or ("not measured",), found.sure)
    return found


def number_range(value: str) -> tuple[float, float] | Misread:
    """Two numbers, lowest and highest, or one that stands for both."""
    parts = re.split(r"(?<=\d) ?(?:-|–|to) ?(?=\d)", value.strip(), maxsplit=1)
    ends = [units.number(part) for part in parts]
    for end in ends:
        if isinstance(end, Misread):
            return end
    low, high = float(ends[0]), float(ends[-1])  # type: ignore[arg-type]
    return (
        (low, high) if low <= high else Misread(f"{value.strip()[:40]}: the first is the higher", "swap them")
    )


def gravity_range(value: str) -> tuple[Gravity, Gravity] | Misread:
    """Two specific gravities, lowest and highest, such as 1.035-1.060."""
    ends = [
        units.gravity(part) for part in re.split(r"(?<=\d) ?(?:-|–|to) ?(?=\d)", value.strip(), maxsplit=1)
    ]
    for end in ends:
        if isinstance(end, Misread):
            return end
    low, high = ends[0], ends[-1]
    if isinstance(low, Misread) or isinstance(high, Misread) or low <= high:
        return low, high  # type: ignore[return-value]
    return Misread(f"{value.strip()[:40]}: the first is the higher", "swap them")


def percent_range(value: str) -> tuple[float, float] | Misread:
    """Two percentages as fractions of 1, such as 68-76 %."""
    tidy = value.strip()
    if not tidy.endswith("%"):
        return Misread(f'"{tidy[:40]}" has no % sign', "write 68-76 %, for example")
    found = number_range(tidy[:-1].strip())
    return found if isinstance(found, Misread) else (found[0] / 100, found[1] / 100)


def _choice(value: str) -> str:
    return " ".join(value.split())


KINDS: dict[str, Kind] = {
    "text": Kind(text, "words"),
    "name": Kind(name, "a name"),
    "recipe": Kind(recipe_name, "a recipe's name"),
    "code": Kind(code, "a code"),
    "choice": Kind(_choice, "one of the known words"),
    "yes-no": Kind(yes_no, "yes or no"),
    "litres-or-none": Kind(or_none(_litres_at_hand, Litres(0.0)), "a volume, or none"),
    "boil-off": Kind(boil_off, "litres in an hour"),
    "mass-or-none": Kind(or_none(_mass_at_hand, Grams(0.0)), "a weight, or none"),
    "litres": Kind(within(units.volume, 0.1, 1000, "a volume from 0.1 L to 1000 L"), "a volume"),
    "recipe-volume": Kind(_whole_batch, "a volume"),
    "plain-litres": Kind(plain_litres, "litres"),
    "brewed-litres": Kind(within(plain_litres, 0.5, 100, "litres from 0.5 to 100, such as 11.2"), "litres"),
    "millilitres": Kind(bottle_size, "a bottle's size"),
    "batch-volume": Kind(batch_volume, "a volume, or a number of bottles"),
    "piece": Kind(within(units.mass, 0.5, 20, "a piece of 0.5 g to 20 g"), "the weight of a piece"),
    "mass": Kind(within(units.mass, 0.001, 100_000, "a weight over nothing and up to 100 kg"), "a weight"),
    "alpha": Kind(within(units.percent, 0, 25, "a percentage from 0 % to 25 %"), "a percentage"),
    "colour": Kind(within(units.number, 0, 700, "degrees Lovibond from 0 to 700"), "a number"),
    "yeast-range": Kind(
        within(units.temperature_range, 4, 42, "what stands on the sachet, from 4 C to 42 C"),
        "a range of temperatures",
    ),
    "yeast-attenuation": Kind(
        within(percent_range, 0.4, 0.9, "what stands on the sachet, from 40 % to 90 %, such as 72-78 %"),
        "a range of percentages",
    ),
    "sachet": Kind(within(units.mass, 0.5, 1000, "a weight from 0.5 g to 1 kg"), "a weight"),
    "celsius": Kind(celsius, "a temperature"),
    "celsius-range": Kind(celsius_range, "a temperature or a range of them"),
    "room": Kind(within(units.temperature, 0, 45, _ROOM, _FROST), "a temperature"),
    "room-range": Kind(
        within(units.temperature_range, 0, 45, f"{_ROOM}, or a range such as 15-20 C", _FROST),
        "a temperature or a range of them",
    ),
    "water-celsius": Kind(
        within(
            units.temperature,
            0,
            60,
            "the water's temperature, from 0 C to 60 C",
            "is no liquid water at hand",
        ),
        "a temperature",
    ),
    "shift-mm": Kind(
        within(units.shift_mm, -10, 10, "a move of -10 mm to 10 mm, such as 0.5 mm"), "a length"
    ),
    "bar-mm": Kind(
        within(units.length_mm, 90, 110, "what the bar of 100 mm measures, from 90 mm to 110 mm"), "a length"
    ),
    "altitude": Kind(_altitude, "a height above the sea"),
    "gravity": Kind(units.gravity, "a specific gravity"),
    "gravity-at": Kind(units.gravity_at, "a reading of the hydrometer"),
    "gravity-at-or-not": Kind(gravity_at_or_not, "a reading of the hydrometer, or: not measured"),
    "volumes": Kind(within(units.carbonation, 0, 10, "a carbonation up to 10 volumes"), "a carbonation"),
    "percent": Kind(within(units.percent, 0, 100, "a percentage from 0 % to 100 %"), "a percentage"),
    "percent-range": Kind(within(percent_range, 0, 1.2, "from 0 % to 120 %"), "a range of percentages"),
    "number": Kind(within(units.number, 0, 100_000, "a number from 0 to 100000"), "a number"),
    "number-range": Kind(number_range, "a number or a range of them"),
    "count": Kind(positive_count, "a whole number"),
    "guests": Kind(within(positive_count, 1, 999, "from 1 to 999 guests"), "a whole number"),
    "drinks-each": Kind(drinks_each, "what one guest drinks"),
    "event-name": Kind(event_name, "a few words"),
    "count-or-none": Kind(count_or_none, "a whole number"),
    "position": Kind(positive_count, "a whole number from 1"),
    "day-number": Kind(within(positive_count, 1, LONGEST_DAYS, "a number of days, 1 to 365"), "whole days"),
    "cold-days": Kind(within(count_or_none, 0, 7, "a number of days, 0 to 7"), "whole days"),
    "gap-days": Kind(within(positive_count, 2, 60, "a number of days, 2 to 60"), "whole days"),
    "gravity-range": Kind(gravity_range, "a range of specific gravities"),
    "days": Kind(within(units.days, 1, 1000, "from 1 to 1000 days"), "a number of days"),
    "minutes": Kind(within(units.minutes, 1, 240, "from 1 to 240 minutes"), "minutes"),
    "date": Kind(units.day_date, "a date"),
    "printed-date": Kind(units.printed_date, "a month or a day"),
    "day-time": Kind(units.day_time, "a date, with or without a time"),
    "date-range": Kind(units.date_range, "first and last day"),
    "alarm-time": Kind(alarm_time, "a time of day"),
    "time-range": Kind(units.time_range, "from and to a time of day"),
    "weekday": Kind(units.weekday, "a day of the week"),
    "weeks": Kind(weeks, "a number of weeks"),
    "turn": Kind(turn, "a turn and its number of days"),
    "holiday-code": Kind(holiday_code, "a country, or a country and a region"),
    "moment": Kind(moment, "when it goes in"),
    "season-name": Kind(season_kinds.season_name, "a season's name"),
    "a-week": Kind(season_kinds.bottles_a_week, "bottles a week"),
    "bottle-count": Kind(season_kinds.bottle_count, "a number of bottles"),
    "class-code": Kind(class_kinds.class_code, "two characters"),
    "person-name": Kind(class_kinds.person_name, "a name"),
    "start-time": Kind(units.time_of_day, "a time of day"),
    "days-or-none": Kind(season_kinds.days_or_none, "a number of days"),
}
