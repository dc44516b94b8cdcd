"""What an editor can check of single values: for every kind, its types and its pattern.

Comes in: the names of `kinds.KINDS`.  Goes out: pieces of JSON Schema.  An editor sees `1.012` as a number
and `2027-03-06` as a text; a program that reads all as text sees `"1.012"`: both are let pass.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from sheetgen.intake import patterns as p
from sheetgen.intake.kinds import CODE_LETTERS

Json = dict[str, Any]


def text_of(piece: str) -> Json:
    """A text of that pattern."""
    return {"type": "string", "pattern": p.whole(piece)}


def number_or(piece: str, low: float | None = None, high: float | None = None, whole: bool = False) -> Json:
    """A bare number within limits, or a text of that pattern."""
    found: Json = {"type": ["integer" if whole else "number", "string"], "pattern": p.whole(piece)}
    limits = {"minimum": low, "maximum": high}
    return found | {name: value for name, value in limits.items() if value is not None}


def words(most: int) -> Json:
    """A few words; what reads as a number or as true is a word too."""
    return {"type": ["string", "number", "boolean"], "pattern": rf"^(?:\s*\S){{0,{most}}}\s*$"}


def _name(piece: str) -> Json:
    """A short name that may look like a number, such as 27."""
    return {"type": ["string", "number"], "pattern": p.whole(piece)}


def _count(low: int, high: int | None) -> Json:
    return number_or(p.COUNT, low, high, whole=True)


_FILE_NAME = "[a-z0-9]+(?:-[a-z0-9]+)*|[a-z]{2}-[A-Z]{2}"
_NONE = p.plain("none")
_HOUR = rf"(?:\s*(?:/|{p.plain('an')}|{p.plain('per')})\s*(?:[Hh]|[Hh][Rr]|{p.plain('hour')}))?"
_PERCENT = rf"(?:\s?%|\s?{p.plain('per')}\s?{p.plain('cent')}|\s?{p.plain('pct')})"
_TO = rf"\s?(?:-|–|{p.plain('to')})\s?"
_NUMBERS = rf"{p.NUMBER}(?:{_TO}{p.NUMBER})?|[0-9.,]+{_TO}[0-9.,]+"
_GAS = p.one_of((r"[Vv]", rf"{p.plain('vol')}[sS]?\.?", rf"{p.plain('volume')}[sS]?(?:\s{p.plain('of')})?"))
_GRAMS_A_LITRE = rf"[Gg]\s?/\s?(?:[Ll]|{p.plain('litre')}|{p.plain('liter')})"
_IN_WORDS = rf"{p.plain('gram')}[sS]?\s{p.plain('per')}\s(?:{p.plain('litre')}|{p.plain('liter')})"
_CODE = rf"(?!(?:PRN|AUX|NUL|LPT[0-9])\s*$)[0-9{CODE_LETTERS}]{{2,4}}"
_A_WEEK = rf"[0-9]{{1,3}}\s*(?:{p.plain('bottle')}[sS]?\s*)?(?:[Aa]|{p.plain('per')}|/)\s*"
_GAP = r"[\s-]+"
_MOMENT = p.one_of(
    (
        *(p.plain(word, _GAP) for word in ("into the pot", "off the heat", "into the vessel", "dry hop")),
        rf"{p.plain('day')}\s+[0-9]{{1,3}}",
        rf"{p.plain('at racking', _GAP)}\s+[1-9][0-9]?",
        rf".+[\s-]{p.plain('before the end', _GAP)}(?:[\s-]+{p.plain('of the boil', _GAP)})?",
    )
)
PIECES = rf"{p.NUMBER}\s+{p.plain('piece')}[sS]?"
AMOUNT = rf"{p.NO_GROUPS}(?:{p.amount('mass')}|{p.amount('volume')}|{PIECES})"
"""By weight, by volume or in pieces."""

SCHEMAS: Mapping[str, Json] = MappingProxyType(
    {
        "text": words(200),
        "name": _name(_FILE_NAME),
        "recipe": _name(_FILE_NAME),
        "code": _name(_CODE),
        "yes-no": text_of(p.word_of(("yes", "no"))),
        "litres-or-none": text_of(f"{p.VOLUME}|{_NONE}"),
        "boil-off": text_of(p.VOLUME + _HOUR),
        "mass-or-none": text_of(f"{p.MASS}|{_NONE}"),
        **dict.fromkeys(("litres", "recipe-volume", "millilitres"), text_of(p.VOLUME)),
        **dict.fromkeys(("piece", "mass", "sachet"), text_of(p.MASS)),
        "plain-litres": number_or(f"{p.NUMBER}|{p.VOLUME}", 0, 100),
        "brewed-litres": number_or(f"{p.NUMBER}|{p.VOLUME}", 0.5, 100),
        "batch-volume": text_of(rf"[0-9]{{1,5}}\s*{p.TIMES}\s*{p.amount('volume')}|{p.VOLUME}"),
        "drinks-each": text_of(rf"[0-9]{{1,3}}\s*{p.TIMES}\s*{p.amount('volume')}|{p.VOLUME}"),
        "alpha": text_of(p.NUMBER + _PERCENT),
        "percent": text_of(p.NUMBER + _PERCENT),
        **dict.fromkeys(("percent-range", "yeast-attenuation"), text_of(rf"(?:{_NUMBERS})\s*%")),
        "colour": number_or(p.NUMBER, 0, 700),
        "number": number_or(p.NUMBER, 0, 100_000),
        "number-range": number_or(_NUMBERS, 0),
        **dict.fromkeys(("celsius", "room", "water-celsius"), text_of(p.WARMTH)),
        **dict.fromkeys(("celsius-range", "room-range", "yeast-range"), text_of(p.WARMTHS)),
        **dict.fromkeys(("shift-mm", "bar-mm", "altitude"), text_of(p.LENGTH)),
        "gravity": number_or(p.GRAVITY, 0.9, 1.2),
        "gravity-at": number_or(p.GRAVITY_AT, 0.9, 1.2),
        "gravity-at-or-not": number_or(
            rf"{p.GRAVITY_AT}|{p.plain('not')}[\s-]{p.plain('measured')}", 0.9, 1.2
        ),
        "gravity-range": number_or(rf"{p.GRAVITY}(?:{_TO}{p.GRAVITY})?", 0.9, 1.2),
        "volumes": text_of(rf"{p.NUMBER}\s*(?:{_GAS}|{_GRAMS_A_LITRE}|{_IN_WORDS})(?:\s?[Cc][Oo]2)?"),
        "count": _count(1, 9999),
        "guests": _count(1, 999),
        "event-name": words(32),
        "count-or-none": _count(0, 9999),
        "position": _count(1, 9999),
        "day-number": _count(1, 365),
        "cold-days": _count(0, 7),
        "gap-days": _count(2, 60),
        **dict.fromkeys(("days", "weeks"), text_of(p.SO_MANY_DAYS)),
        "minutes": text_of(p.TIME_SPAN),
        "date": text_of(p.DAY),
        "printed-date": text_of(f"{p.DAY}|{p.MONTH}"),
        "day-time": text_of(p.DAY_TIME),
        "date-range": text_of(p.DAYS),
        "alarm-time": text_of(p.EVENING),
        "time-range": text_of(p.TIMES_OF_DAY),
        "start-time": text_of(p.TIME),
        "weekday": text_of(p.WEEKDAY),
        "turn": text_of(rf"[^0-9]+(?:\s[0-9]{{1,4}}(?:\s{p.plain('day')}[sS]?)?)?"),
        "holiday-code": text_of("[^0-9].{0,60}"),
        "moment": text_of(_MOMENT),
        "season-name": _name("[0-9A-Za-z]+(?:-[0-9A-Za-z]+)*"),
        "a-week": text_of(rf"{_A_WEEK}(?:{p.plain('day')}|{p.plain('week')})"),
        "bottle-count": number_or(
            rf"(?:{p.plain('holds')}\s+)?[0-9]{{1,4}}(?:\s*{p.plain('bottle')}[sS]?)?", 1, 9999, whole=True
        ),
        "class-code": _name(f"[0-9{CODE_LETTERS}]{{2}}"),
        "person-name": words(40),
        "days-or-none": number_or(
            rf"{p.SO_MANY_DAYS}|{p.word_of(('none', 'no', '0'))}(?:\s{p.plain('days')})?", 0, 0, whole=True
        ),
        "amount": text_of(AMOUNT),
    }
)
"""By kind; `choice` is made from its words, `amount` is a form of its own."""
