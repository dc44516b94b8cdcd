"""When an ingredient goes in, as a recipe writes it.

Comes in: the text at `when:`.  Goes out: `model.Moment`, or a `Misread`.
"""

from __future__ import annotations

import re

from sheetgen import units
from sheetgen.model import Moment
from sheetgen.problems import did_you_mean
from sheetgen.units import Misread

_MOMENTS = {
    "into the pot": Moment("pot"),
    "off the heat": Moment("off-heat"),
    "into the vessel": Moment("vessel"),
    "dry hop": Moment("dry-hop"),
}
_MOMENT_FIX = (
    "write into the pot, 60 min before the end, off the heat, into the vessel, day 3, dry hop or at racking 1"
)
LONGEST_DAYS = 365
"""How many days after pitching something may still be planned to go in."""


def moment(value: str) -> Moment | Misread:
    """When an ingredient goes in."""
    tidy = " ".join(value.lower().replace("-", " ").split())
    if tidy in _MOMENTS:
        return _MOMENTS[tidy]
    boil = re.fullmatch(r"(.{1,20}?) before the end(?: of the boil)?", tidy)
    if boil:
        return _boil(boil.group(1))
    day = re.fullmatch(r"day (\d{1,3})", tidy, re.ASCII)
    if day and 0 < int(day.group(1)) <= LONGEST_DAYS:
        return Moment("day", day=int(day.group(1)))
    racking = re.fullmatch(r"at racking ([1-9]\d?)", tidy, re.ASCII)
    if racking:
        return Moment("rack", day=int(racking.group(1)))
    guess = did_you_mean(tidy, _MOMENTS)
    return Misread(f'"{value.strip()[:40]}" does not say when', guess or _MOMENT_FIX)


def _boil(written: str) -> Moment | Misread:
    found = units.minutes(written)
    if isinstance(found, Misread):
        return found
    if not 0 < found <= 240:
        return Misread(
            f"{written} before the end is not possible here", "write from 1 to 240 min before the end"
        )
    return Moment("boil", minutes=found)
