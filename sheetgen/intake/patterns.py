"""Regular expressions for what the readers take, for editors that check a file while it is typed.

Comes in: the tables of units that the readers use.  Goes out: pieces of patterns without anchors, and
`whole`, which anchors one.  A pattern lets pass whatever its reader takes, and as little else as it can;
what it cannot know (a number's size, the year of a leap day) the reader says.  They hold for Python and for
the `u` flag of ECMAScript: no digits but 0-9, no flags, no needless backslashes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from sheetgen.units.dates import WEEKDAY_NAMES
from sheetgen.units.factors import PLACES, RARE, UNITS, Dimension

_VULGAR = "½⅓⅔¼¾⅛⅜⅝⅞"
_SYNTAX = set("^$\\.*+?()[]{}|/")
_SIGN = "[+−–-]?"
NUMBER = (
    rf"{_SIGN}(?:[0-9]{{1,7}}\s+[0-9]{{1,3}}[/⁄][0-9]{{1,3}}|[0-9]{{1,3}}[/⁄][0-9]{{1,3}}"
    rf"|[0-9]{{1,7}}\s?[{_VULGAR}]|[{_VULGAR}]|[0-9]{{1,7}}(?:[.,][0-9]{{1,8}})?|[.,][0-9]{{1,8}})"
    rf"(?![0-9.,/{_VULGAR}])"
)
"""A number as people write it: 12, 1.5, 1,5, 1 1/2, ½."""
NO_GROUPS = r"(?!(?:.*[^0-9.,])?[1-9][0-9]{0,2},[0-9]{3}(?![0-9.,]))"
"""Ahead of an amount: 1,500 g has two readings."""
TIMES = "[xX×*]"


def whole(piece: str) -> str:
    """The pattern of a text that is this piece and nothing else, spaces round it aside."""
    return rf"^\s*(?:{piece})\s*$"


def plain(words: str, between: str = r"\s+") -> str:
    """These words in capitals or small letters, with `between` where they have a space."""
    return between.join("".join(_letter(sign) for sign in word) for word in words.split())


def _letter(sign: str) -> str:
    if sign.lower() != sign.upper():
        return f"[{sign.upper()}{sign.lower()}]"
    return f"\\{sign}" if sign in _SYNTAX else sign


def one_of(pieces: Iterable[str]) -> str:
    """Any of these pieces, the longest first."""
    return f"(?:{'|'.join(sorted(dict.fromkeys(pieces), key=lambda piece: (-len(piece), piece)))})"


def word_of(words: Iterable[str]) -> str:
    """One of these words; capitals do not matter, nor whether a space or a hyphen stands inside."""
    return one_of(plain(re.sub(r"[\s_-]+", " ", word), r"[\s_-]+") for word in words)


def listed(piece: str) -> str:
    """One or several of these with commas between them, in one text."""
    return rf"[\s,]*(?:{piece})(?:\s*,[\s,]*(?:{piece}))*[\s,]*"


# Amounts


@cache
def amount(dimension: Dimension) -> str:
    """A number with a unit of that dimension; up to three of them, as in 1 lb 4 oz."""
    return rf"(?:{NUMBER}[\s.]*{_unit(dimension)}[\s.]*){{1,3}}"


def _unit(dimension: Dimension) -> str:
    """Every name of every unit of that dimension."""
    names = [name for kind, name in UNITS if kind == dimension]
    names += [name for name, (kind, _) in RARE.items() if kind == dimension]
    bare, of_a_place = list[str](), dict[str, list[str]]()
    for name in names:
        place, _, rest = name.partition(" ")
        if rest and place in PLACES.values():
            of_a_place.setdefault(place, []).append(rest)
        elif name[-1:] != "s" or name[:-1] not in names or len(name) < 3:
            bare.append(_short(name) + ("[Ss]?" if len(name) > 1 and f"{name}s" in names else ""))
    return one_of([*bare, *(_placed(place, rests) for place, rests in of_a_place.items())])


def _short(name: str) -> str:
    """A unit's name; full stops may stand in and behind short ones."""
    signs = {'"': '["″”]', "'": "['′’]"}
    if name in signs:
        return signs[name]
    return r"\.?".join(_letter(sign) for sign in name) if len(name) <= 2 else plain(name, r"[\s.]+")


def _placed(place: str, names: list[str]) -> str:
    """Units of a country: it stands before or behind them."""
    units = [
        _short(name) + ("[Ss]?" if f"{name}s" in names else "") for name in names if name[:-1] not in names
    ]
    words = [plain(word) for word, known in PLACES.items() if known == place]
    dotted = [r"\.?\s?".join(_letter(sign) for sign in place) + r"\.?"] if len(place) == 2 else []
    there, unit = one_of([*words, *dotted]), one_of(units)
    return rf"(?:{there}[\s.]+{unit}|{unit}[\s.]+{there})"


VOLUME, MASS, LENGTH, TIME_SPAN = (
    NO_GROUPS + amount(dimension) for dimension in ("volume", "mass", "length", "time")
)


# Temperatures and gravities

_SCALE = one_of(plain(word) for word in ("c", "f", "celsius", "centigrade", "fahrenheit"))
_DEGREES = rf"(?:°|º|{plain('deg')}\.?|{plain('degree')}[sS]?)?"
WARMTH = rf"{NUMBER}(?:\s*{_DEGREES}\s*{_SCALE}|\s*[℃℉])"
WARMTHS = rf"(?:{NUMBER}\s*{_DEGREES}\s*(?:{_SCALE}|[℃℉])?\s?(?:[–−-]|{plain('to')}|\.\.|…)\s?)?{WARMTH}"
_SG = one_of(plain(word) for word in ("sg", "og", "fg"))
_GRAVITY = (
    rf"\+?(?:0*[.,]9[0-9]{{0,7}}|0*1(?:[.,](?:[01][0-9]{{0,7}}|20{{0,7}}))?|[0-9]?\s?[0-9]{{1,3}}/[0-9]{{1,3}}"
    rf"|1\s?[{_VULGAR}])(?![0-9.,/])"
)
GRAVITY = rf"(?:{_SG}\s*)*{_GRAVITY}(?:\s*{_SG})*"
GRAVITY_AT = rf"{GRAVITY}(?:\s*(?:{plain('at')}|@)\s*{WARMTH})?"

# Days and times

_YEAR = "(?:20[0-9][0-9]|2100)"
_MONTH = "(?:0?[1-9]|1[0-2])"
DAY = (
    f"(?:{_YEAR}-(?:(?:0?[13578]|1[02])-(?:0?[1-9]|[12][0-9]|3[01])"
    "|(?:0?[469]|11)-(?:0?[1-9]|[12][0-9]|30)|0?2-(?:0?[1-9]|[12][0-9])))"
)
MONTH = f"{_YEAR}-{_MONTH}"
TIME = "(?:[01]?[0-9]|2[0-3])[:.][0-5][0-9]"
EVENING = "(?:0?[4-9]|1[0-9]|2[0-3])[:.][0-5][0-9]"
DAY_TIME = rf"{DAY}(?:[ T]+{TIME}(?::00)?)?"
DAYS = rf"{DAY}(?:\s*(?:\.\.\.?|…|{plain('to')}|–)\s*{DAY})?"
TIMES_OF_DAY = rf"{TIME}(?:\.\.\.?|…|\s?[–-]\s?|\s{plain('to')}\s){TIME}"
SO_MANY_DAYS = rf"[0-9]{{1,4}}\s*{one_of(plain(word) for word in ('d', 'day', 'days', 'w', 'week', 'weeks'))}"
WEEKDAY = one_of(rf"{plain(name)}\.*" for name in WEEKDAY_NAMES)

# Bottles

COUNT = NUMBER
ROW = rf"[0-9]{{1,9}}\s*(?:{TIMES}|{plain('bottle')}[sS]?\s{plain('of')})\s*{amount('volume')}(?:[\s,;+].*)?"
"""24 x 500 ml, whatever follows: another word for a kind is a warning."""
SIZED = rf"{amount('volume')}(?:\s.*)?"
"""500 ml and a kind."""
