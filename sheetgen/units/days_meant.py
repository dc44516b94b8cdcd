"""Days and times that are written otherwise than they are read: what was meant, where that can be told.

Comes in: a text that is no day, range or time of day.  Goes out: what may be written in its place, and
whether that is beyond doubt: `(ways, sure)`.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Sequence

from sheetgen.problems import nearest

Meant = tuple[tuple[str, ...], bool]
NOTHING: Meant = ((), False)
_LATEST = 2100
_DASHES = str.maketrans("—–−‐‑／", "-----/")
_YEAR_FIRST = re.compile(r"(\d{4})\s?[-/. ]\s?(\d{1,2})\s?[-/. ]\s?(\d{1,2})\s?[T.,]?", re.ASCII)
_TOGETHER = re.compile(r"(20\d\d)(\d\d)(\d\d)", re.ASCII)
_TWO_DIGITS = re.compile(r"(\d{2})-(\d{1,2})-(\d{1,2})", re.ASCII)
_LETTERS_FOR_DIGITS = str.maketrans("OoIl", "0011")
_BEFORE_TIME = re.compile(r"(.*?\d)(?:\s+(?:at|um|à)\s+|\s*[,;@]\s*|\s+|T)(\d{1,2}\s?(?:[:.h]|[ap]\.?m|$).*)")
_HOUR = re.compile(
    r"(\d{1,2})(?:[:.h ](\d{2}))? ?(?:([ap])\.?m\.?|h|hrs?|uhr|o['’]?clock)?(?: ?(?:h|uhr))?", re.ASCII
)
_ISO = r"\d{4}-\d{1,2}-\d{1,2}"
_TWO_DAYS = re.compile(rf"({_ISO})\s?(?:-|–|—|/|to|until|till|bis|\.+)\s?({_ISO})", re.ASCII)
_SHORT_END = re.compile(r"(\d{4}-\d{1,2})-(\d{1,2})\s?(?:\.\.\.?|-|–|—|/|to)\s?(\d{1,2})", re.ASCII)
_BOUNDS = re.compile(r"\s*(?:\.\.\.?|…|\s(?:to|until|till|bis|-|–)\s)\s*")


def written(year: int, month: int, day: int) -> str:
    """The day as it is to be written; "" if there is none such."""
    if not (2000 <= year <= _LATEST and 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]):
        return ""
    return f"{year}-{month:02d}-{day:02d}"


def day_meant(text: str) -> Meant:
    """What is meant by a day with other signs between its numbers, or letters in place of digits."""
    tidy = text.strip().translate(_DASHES)
    digits = tidy.translate(_LETTERS_FOR_DIGITS) if re.search(r"\d{3}", tidy) else tidy
    found = _YEAR_FIRST.fullmatch(digits) or _TOGETHER.fullmatch(digits)
    if found:
        way = written(*(int(part) for part in found.groups()))
        return ((way,), True) if way else NOTHING
    short = _TWO_DIGITS.fullmatch(digits)
    if short:
        first, month, last = (int(part) for part in short.groups())
        ways = (written(2000 + first, month, last), written(2000 + last, month, first))
        return tuple(way for way in dict.fromkeys(ways) if way), False
    return NOTHING


def nearest_day(year: int, month: int, day: int) -> str:
    """A day in place of one that is not: with month and day in turn, else the nearest of the same month."""
    turned = written(year, day, month)
    if turned or not 1 <= month <= 12:
        return turned
    return written(year, month, min(max(day, 1), monthrange(year, month)[1]))


def day_time_meant(text: str) -> tuple[str, str]:
    """The day and the time of a text that has both, with another sign between them; "" for each not there."""
    found = _BEFORE_TIME.fullmatch(text.strip()[:60])
    return (found[1], time_meant(found[2])) if found else ("", "")


def time_meant(text: str) -> str:
    """The time on the 24-hour clock that `10am`, `2:30 pm` or `18h` names; or ""."""
    found = _HOUR.fullmatch(" ".join(text.strip().lower().split())[:20])
    if not found:
        return ""
    hour, minute, half = int(found[1]), int(found[2] or 0), found[3]
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "p" else 0)
    return f"{hour:02d}:{minute:02d}" if hour <= 23 and minute <= 59 else ""


def range_meant(text: str) -> Meant:
    """From and to a day that are written with another sign, or whose end is only a number."""
    tidy = text.strip()[:60]
    whole, short = _TWO_DAYS.fullmatch(tidy), _SHORT_END.fullmatch(tidy)
    if whole:
        return (f"{whole[1]}..{whole[2]}",), True
    if short and int(short[2]) <= int(short[3]):
        return (f"{short[1]}-{short[2]}..{short[1]}-{int(short[3]):02d}",), True
    return NOTHING


def weekday_meant(word: str, known: Sequence[str]) -> str:
    """The day of the week that is nearly written, or in German or French; several as a list; or ""."""
    parts = word.split()
    if len(parts) > 1 and all(part in known for part in parts):
        return f"[{', '.join(parts)}]"
    return _IN_OTHER_LANGUAGES.get(word) or nearest(word, known)


_IN_OTHER_LANGUAGES = {
    name: day
    for day, names in (
        ("mon", "mo montag lun lundi"),
        ("tue", "di dienstag mar mardi"),
        ("wed", "mi mittwoch mer mercredi"),
        ("thu", "do donnerstag jeu jeudi"),
        ("fri", "fr freitag ven vendredi"),
        ("sat", "sa samstag sonnabend sam samedi"),
        ("sun", "so sonntag dim dimanche"),
    )
    for name in names.split()
}


def ends_of(text: str) -> tuple[str, str] | None:
    """First and last of a range in words, the year of the last given to the first if that has none."""
    parts = [part for part in _BOUNDS.split(text.strip()[:80]) if part]
    if len(parts) != 2:
        return None
    first, last = parts
    year = re.search(r"\b20\d\d\b", last)
    return (first if re.search(r"\d{4}", first) or not year else f"{first} {year[0]}"), last
