"""What people write as a quantity or a day, and what is made of it."""

from __future__ import annotations

import csv
import subprocess
import sys
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sheetgen import units
from sheetgen.units import Misread
from sheetgen.units.factors import AMBIGUOUS, RARE, UNITS, find

READERS = [getattr(units, name) for name in units.__all__ if name[0].islower()]
REFERENCE = list(
    csv.DictReader((Path(__file__).parent / "reference/units.csv").read_text("utf-8").splitlines())
)


@pytest.mark.parametrize(
    ("reader", "text", "value"),
    [
        (units.volume, "12 L", 12),
        (units.volume, "23L", 23),
        (units.volume, "500 mL", 0.5),
        (units.volume, "1,5 litres", 1.5),
        (units.volume, "0,500 L", 0.5),
        (units.volume, "½ L", 0.5),
        (units.volume, "1½ L", 1.5),
        (units.volume, "1 1/2 L", 1.5),
        (units.volume, "1\u00a01⁄2 L", 1.5),
        (units.volume, "5 US gal", 18.92705892),
        (units.volume, "5 U.S. gallons", 18.92705892),
        (units.volume, "16.9 US fl oz", 0.49979264960625),
        (units.volume, "16 fl. oz. US", 0.473176473),
        (units.volume, "1 UK pint", 0.56826125),
        (units.volume, "1 imperial pint", 0.56826125),
        (units.volume, "2 tsp", 0.01),
        (units.volume, "1 L 500 ml", 1.5),
        (units.millilitres, "500 ml", 500),
        (units.millilitres, "1 L", 1000),
        (units.mass, "1.7 kg", 1700),
        (units.mass, "11,5 g", 11.5),
        (units.mass, "3.3 lb", 1496.854821),
        (units.mass, "1 lb 4 oz", 566.9904625),
        (units.mass, "1 stone 2 lb", 7257.47792),
        (units.temperature, "19 C", 19),
        (units.temperature, "19,5°C", 19.5),
        (units.temperature, "68F", 20),
        (units.temperature, "−5 degrees Celsius", -5),
        (units.temperature, "19 ℃", 19),
        (units.temperature_range, "15-20 C", (15, 20)),
        (units.temperature_range, "15 – 20 °C", (15, 20)),
        (units.temperature_range, "59 to 68 F", (15, 20)),
        (units.temperature_range, "-5-3 C", (-5, 3)),
        (units.temperature_range, "59 F - 20 C", (15, 20)),
        (units.temperature_range, "19 C", (19, 19)),
        (units.gravity, "1.047", 1.047),
        (units.gravity, "1,047", 1.047),
        (units.gravity, "0.996 SG", 0.996),
        (units.gravity_at, "1.047 at 24 C", (1.047, 24)),
        (units.gravity_at, "1.047 @ 77F", (1.047, 25)),
        (units.gravity_at, "1.012", (1.012, None)),
        (units.carbonation, "2.4 volumes", 2.4),
        (units.carbonation, "2,4 vol", 2.4),
        (units.carbonation, "1.977 g/L", 1),
        (units.percent, "5.5 %", 5.5),
        (units.percent, "5,5%", 5.5),
        (units.altitude, "240 m", 240),
        (units.altitude, "5280 ft", 1609.344),
        (units.altitude, "-100 m", -100),
        (units.length_mm, "99.1 mm", 99.1),
        (units.length_mm, "4 in", 101.6),
        (units.length_mm, "2 5/8 in", 66.675),
        (units.length_mm, '2⅝"', 66.675),
        (units.minutes, "60 min", 60),
        (units.minutes, "1 h 30 min", 90),
        (units.minutes, "1½ h", 90),
        (units.count, "24", 24),
        (units.count, "08", 8),
        (units.number, "-1/2", -0.5),
        (units.days, "3 days", 3),
        (units.days, "2 weeks", 14),
        (units.day_date, "2027-03-06", date(2027, 3, 6)),
        (units.day_date, "2028-02-29", date(2028, 2, 29)),
        (units.day_time, "2027-03-06", (date(2027, 3, 6), None)),
        (units.day_time, "2027-03-06 10:00", (date(2027, 3, 6), time(10))),
        (units.date_range, "2027-03-13..2027-03-16", (date(2027, 3, 13), date(2027, 3, 16))),
        (units.date_range, "2027-03-13", (date(2027, 3, 13), date(2027, 3, 13))),
        (units.weekday, "mon", 0),
        (units.weekday, "Saturday", 5),
    ],
)
def test_reads(reader: Any, text: str, value: Any) -> None:
    read = reader(text)
    assert read == (value if not isinstance(value, float) else pytest.approx(value, rel=1e-14))


@pytest.mark.parametrize(
    ("reader", "text", "message", "fix"),
    [
        (units.volume, "12", "12: 12 L or 12 US gal?", "write 12 L or 12 US gal"),
        (
            units.volume,
            "5 gal",
            "5 gal: 5 US gal (18.9 L) or 5 UK gal (22.7 L)?",
            "write 5 US gal or 5 UK gal",
        ),
        (units.volume, "1 pt", "1 pt: 1 US pt (473 ml) or 1 UK pt (568 ml)?", "write 1 US pt or 1 UK pt"),
        (units.volume, "2 qt", "2 qt: 2 US qt (1.89 L) or 2 UK qt (2.27 L)?", "write 2 US qt or 2 UK qt"),
        (
            units.volume,
            "1 cup",
            "1 cup: 1 US cup (237 ml) or 1 metric cup (250 ml)?",
            "write 1 US cup or 1 metric cup",
        ),
        (
            units.volume,
            "12 fl oz",
            "12 fl oz: 12 US fl oz (355 ml) or 12 UK fl oz (341 ml)?",
            "write 12 US fl oz or 12 UK fl oz",
        ),
        (
            units.volume,
            "1 tbsp",
            "1 tbsp: 1 US tbsp (14.8 ml) or 1 metric tbsp (15 ml) or 1 AU tbsp (20 ml)?",
            "write 1 US tbsp or 1 metric tbsp or 1 AU tbsp",
        ),
        (units.volume, "1,500 L", "1,500 L: 1.500 L or 1500 L?", "write 1.500 L or 1500 L"),
        (units.volume, "1 000 ml", '"1 000 ml" has its digits in groups', None),
        (units.volume, "12 lb", "12 lb is a weight, not a volume", "write a volume, such as 12 L"),
        (units.volume, "-3 L", "-3 L: less than nothing", None),
        (units.volume, "12 litrs", '"12 litrs" has a unit that is not known here', None),
        (units.volume, "1e3 L", '"1e3 L" is not a volume', None),
        (units.volume, "1/0 L", '"1/0 L" divides by nothing', None),
        (units.volume, "", "nothing is written here", "write a volume, such as 12 L"),
        (units.mass, "4 oz 1 lb", '"4 oz 1 lb" does not read as one amount', None),
        (units.mass, "350", "350: 350 g or 350 oz?", "write 350 g or 350 oz"),
        (units.temperature, "19", "19: 19 C or 19 F?", "write 19 C or 19 F"),
        (units.temperature, "19 K", '"19 K" is not a temperature in C or F', None),
        (units.temperature, "-300 C", "-300 C is colder than anything can be", None),
        (units.temperature_range, "15-20", "15-20: 15-20 C or 15-20 F?", "write 15-20 C or 15-20 F"),
        (units.temperature_range, "20-15 C", "20-15 C: the first is the higher", None),
        (units.gravity, "1012", "1012 is not a specific gravity", "did you mean 1.012?"),
        (units.gravity, "1047", "1047 is not a specific gravity", "did you mean 1.047?"),
        (units.gravity, "47", "47 is not a specific gravity", "did you mean 1.047?"),
        (units.gravity, "12 °P", '"12 °P" is in degrees Plato', None),
        (units.gravity, "12 Brix", '"12 Brix" is a refractometer reading, and alcohol falsifies it', None),
        (units.gravity_at, "1.012 at 18", "18: 18 C or 18 F?", "write 18 C or 18 F"),
        (units.carbonation, "2.4", "2.4: 2.4 volumes or 2.4 g/L?", "write 2.4 volumes or 2.4 g/L"),
        (units.percent, "0.5", "0.5 has no % sign: 0.5 % or 50 %?", "write 0.5 % or 50 %"),
        (units.altitude, "99999 m", "99999 m: nobody brews at that height", None),
        (units.minutes, "1:30", "1:30: 1 h 30 min or 1 min 30 s?", "write 1 h 30 min or 1 min 30 s"),
        (units.count, "24.5", "24.5 is not a whole number from 0 upwards", None),
        (units.days, "3", "3: 3 days or 3 weeks?", "write 3 days or 3 weeks"),
        (
            units.day_date,
            "03/04/2027",
            "03/04/2027: 3 April or 4 March 2027?",
            "write 2027-04-03 or 2027-03-04",
        ),
        (units.day_date, "13/04/2027", "13/04/2027 is not written as year-month-day", "write 2027-04-13"),
        (units.day_date, "2 weeks", '"2 weeks" is a length of time, and a day is expected', None),
        (units.day_date, "2027-02-30", "February 2027 has no day 30", None),
        (units.day_date, "2027-13-01", "there is no month 13", None),
        (units.day_date, "1999-12-31", "the year 1999 is too far away", "write a year from 2000 to 2100"),
        (units.day_time, "2027-03-06 25:00", '"25:00" is not a time of day', None),
        (units.date_range, "2027-03-16..2027-03-13", "2027-03-16 comes after 2027-03-13", None),
        (units.weekday, "satrday", '"satrday" is not a day of the week', None),
    ],
)
def test_says_what_to_type(reader: Any, text: str, message: str, fix: str | None) -> None:
    read = reader(text)
    assert isinstance(read, Misread)
    assert read.message == message
    assert read.fix if fix is None else read.fix == fix


def test_a_dimension_can_be_asked_for() -> None:
    asked = ["500 g", "5 ml", "4 in", "1 h", "3", "2 gal"]
    assert [units.dimension_of(text) for text in asked] == ["mass", "volume", "length", "time", None, None]


@pytest.mark.parametrize("reader", READERS, ids=lambda reader: reader.__name__)
@given(
    text=st.text(max_size=60) | st.from_regex(r"[-+]?[0-9]{1,4}([.,/ ][0-9½]{1,4})? ?[a-zA-Z°%/.\" ]{0,8}")
)
@example(text="9**9**9")
@example(text="1" * 100_000)
@example(text="x" * 100_000)
@example(text="1 " * 100_000)
@example(text="nan L")
@example(text="inf C")
@example(text="٣ L")
@example(text="1/0")
@example(text="0/0/2027")
@example(text="1e999 kg")
@example(text="\ud800")
def test_any_text_gives_a_value_or_a_misread(reader: Any, text: str) -> None:
    read = reader(text)
    parts = read if isinstance(read, tuple) else (read,)
    for part in parts:
        assert not isinstance(part, float) or abs(part) < 1e12
    if isinstance(read, Misread):
        assert read.message
        assert read.fix
        assert len(read.message) < 250


DIMENSION_READERS = {
    "volume": units.volume,
    "mass": units.mass,
    "length": units.length_mm,
    "time": units.minutes,
}


@given(
    key=st.sampled_from(sorted(UNITS)),
    thousandths=st.integers(1, 9_999_999),
    comma=st.booleans(),
    glued=st.booleans(),
)
def test_what_is_written_in_any_unit_reads_back(
    key: tuple[str, str], thousandths: int, comma: bool, glued: bool
) -> None:
    dimension, spelling = key
    shown = f"{thousandths / 1000:.4f}"  # four digits: "1,500" would be ambiguous
    text = shown.replace(".", ",") if comma else shown
    read = DIMENSION_READERS[dimension](f"{text}{'' if glued else ' '}{spelling}")
    assert read == pytest.approx(thousandths / 1000 * float(UNITS[key].factor), rel=1e-12)


@given(first=st.integers(-40, 100), wide=st.integers(0, 60), scale=st.sampled_from("CF"))
def test_a_range_of_temperatures_reads_back(first: int, wide: int, scale: str) -> None:
    ends = [float(end) if scale == "C" else (end - 32) / 1.8 for end in (first, first + wide)]
    assert units.temperature_range(f"{first}-{first + wide} {scale}") == pytest.approx(tuple(ends))


@given(day=st.dates(date(2000, 1, 1), date(2100, 12, 31)))
def test_every_day_reads_back(day: date) -> None:
    assert units.day_date(day.isoformat()) == day
    assert units.day_time(f"{day} 23:59") == (day, time(23, 59))


@pytest.mark.parametrize("row", REFERENCE, ids=lambda row: row["unit"])
def test_factors_are_those_of_the_reference(row: dict[str, str]) -> None:
    per = {"ml": ("volume", 1000), "g": ("mass", 1), "mm": ("length", 1)}[row["in"]]
    unit = find(per[0], row["unit"].removesuffix(" of type"))  # type: ignore[arg-type]
    assert unit is not None
    assert float(unit.factor * per[1]) == pytest.approx(float(row["value"]), rel=1e-13)


PINT_NAMES = {
    "US gal": "gallon",
    "US qt": "quart",
    "US pt": "pint",
    "US cup": "cup",
    "US fl oz": "fluid_ounce",
    "US tbsp": "tablespoon",
    "US tsp": "teaspoon",
    "UK gal": "imperial_gallon",
    "UK qt": "imperial_quart",
    "UK pt": "imperial_pint",
    "UK fl oz": "imperial_fluid_ounce",
    "metric cup": "metric_cup",
    "lb": "pound",
    "oz": "ounce",
    "in": "inch",
    "ft": "foot",
    "min": "minute",
    "h": "hour",
    "days": "day",
    "pt": "0.013888888888888888 * inch",
    "metric tbsp": "15 ml",
    "AU tbsp": "20 ml",
    "tsp": "5 ml",
}
BASE = {"volume": "litre", "mass": "gram", "length": "mm", "time": "minute"}


@pytest.fixture(scope="module")
def pint_registry() -> Any:
    import pint

    registry = pint.UnitRegistry()
    registry.define("metric_cup = 0.25 * liter")
    return registry


def test_factors_are_those_of_pint(pint_registry: Any) -> None:
    for unit in set(UNITS.values()):
        theirs = pint_registry(PINT_NAMES.get(unit.name, unit.name)).to(BASE[unit.dimension]).magnitude
        assert float(unit.factor) == pytest.approx(theirs, rel=1e-12), unit.name


def test_rare_units_are_those_of_pint(pint_registry: Any) -> None:
    for name, (dimension, definition) in RARE.items():
        unit = find(dimension, name)
        assert unit is not None
        theirs = pint_registry(definition).to(BASE[dimension]).magnitude
        assert float(unit.factor) == pytest.approx(theirs, rel=1e-12), name


def test_the_readings_of_an_ambiguous_unit_are_all_known() -> None:
    assert all(("volume", spelling) in UNITS for readings in AMBIGUOUS.values() for spelling in readings)
    assert not any(("volume", spelling) in UNITS for spelling in AMBIGUOUS)


def test_pint_is_not_started_for_common_units() -> None:
    code = "import sys; from sheetgen import units; units.mass('1 lb 4 oz'); sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
