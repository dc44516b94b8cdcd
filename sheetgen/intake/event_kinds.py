"""How what is said of an event is read: what one guest drinks, what it is called.

Comes in: the text of a value.  Goes out: a value in base units, or a `Misread`.
"""

from __future__ import annotations

import re

from sheetgen import units
from sheetgen.model import Serving
from sheetgen.units import Misread

MOST_NAME = 32
"""Characters of an event's name."""
MOST_EACH_ML = 10_000
"""What one guest may be planned to drink: a party of several days."""
DRINK_ML = (50.0, 5000.0)
_FIX = "write 2 x 330 ml, or 500 ml"


def drinks_each(value: str) -> Serving | Misread:
    """What one guest drinks: a number of drinks of one size, or an amount."""
    times = re.match(r"\s*(\d{1,3})\s*[x×*]\s*(\S.*)\Z", value, re.IGNORECASE | re.ASCII)
    if not isinstance(units.number(value), Misread):
        return Misread(f"{value.strip()[:20]} does not say of which size", _FIX)
    drinks, size = (int(times.group(1)), times.group(2)) if times else (1, value)
    ml = units.millilitres(size)
    if isinstance(ml, Misread):
        return Misread(ml.message, _FIX)
    if not (drinks and DRINK_ML[0] <= ml <= DRINK_ML[1] and drinks * ml <= MOST_EACH_ML):
        return Misread(f"{value.strip()[:40]} is not what one guest drinks", _FIX)
    return Serving(drinks, ml)


def event_name(value: str) -> str | Misread:
    """What an event is called: short enough for the fridge sheet."""
    found = " ".join(value.split())
    if len(found) <= MOST_NAME:
        return found
    return Misread(f"this name is {len(found)} characters long", f"write at most {MOST_NAME}")
