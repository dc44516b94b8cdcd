"""Readers of the values that only a season has: text in, a value or a `Misread` out."""

from __future__ import annotations

import re
from pathlib import PurePosixPath

from sheetgen import units
from sheetgen.units import Misread

_SEASON = re.compile(r"[0-9A-Za-z]+(?:-[0-9A-Za-z]+)*\Z", re.ASCII)
_A_WEEK = re.compile(r"(\d{1,3})\s*(?:bottles?\s*)?(?:a|per|/)\s*(day|week)\Z", re.IGNORECASE | re.ASCII)
_BOTTLES = re.compile(r"(?:holds\s+)?(\d{1,4})(?:\s*bottles?)?\Z", re.IGNORECASE | re.ASCII)
_NONE = ("none", "no", "0", "0 days")
_FILE = re.compile(r"\w[\w .-]{0,80}(?:/\w[\w .-]{0,80}){0,5}\.ya?ml\Z")
MOST_CLEANING = 30


def season_name(value: str) -> str | Misread:
    """The name of a season: letters, digits and hyphens, since files are named after it."""
    tidy = value.strip()
    if len(tidy) <= 20 and _SEASON.match(tidy):
        return tidy
    return Misread(
        f'"{tidy[:40]}" cannot name a season: files are named after it',
        "write at most 20 letters, digits and hyphens, such as 2027 or spring-2027",
    )


def bottles_a_week(value: str) -> float | Misread:
    """How many bottles are drunk in a week, from "6 a week" or "1 a day"."""
    found = _A_WEEK.match(" ".join(value.split()))
    if found and 0 < int(found.group(1)) <= 500:
        return float(int(found.group(1)) * (7 if found.group(2).lower() == "day" else 1))
    return Misread(f'"{value.strip()[:40]}" does not say how many bottles a week', "write 6 a week")


def bottle_count(value: str) -> int | Misread:
    """So many bottles, from "40 bottles" or "40"."""
    found = _BOTTLES.match(" ".join(value.split()))
    if found and int(found.group(1)):
        return int(found.group(1))
    return Misread(f'"{value.strip()[:40]}" does not say how many bottles', "write 40 bottles")


def days_or_none(value: str) -> int | Misread:
    """Whole days, 0 for "none"."""
    found = 0 if value.strip().lower() in _NONE else units.days(value)
    if isinstance(found, Misread) or 0 <= found <= MOST_CLEANING:
        return found
    return Misread(
        f"{value.strip()[:40]} is not possible here", f"write none, or from 1 day to {MOST_CLEANING} days"
    )


def file_name(value: str) -> str | Misread:
    """The name of a batch file beside the season's own, or in a folder there; it never leads out."""
    tidy = value.strip()
    steps = PurePosixPath(tidy).parts
    if _FILE.match(tidy) and not any(step.strip(". ") == "" for step in steps):
        return tidy
    return Misread(
        f'"{tidy[:60]}" cannot be a batch file here: it must lie beside this file or in a folder there',
        "write 28a.yaml, for example",
    )
