"""Readers of days and times of day: text in, a date or a `Misread` out; none of them raises."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, time

from sheetgen.units import days_meant
from sheetgen.units.numbers import Misread, echo

FIRST_YEAR, LAST_YEAR = 2000, 2100
_EXAMPLE = "write year-month-day, such as 2027-03-06"
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_SHORT = {"tues": 1, "thur": 3, "thurs": 3} | {name[:3]: index for index, name in enumerate(_WEEKDAYS)}
WEEKDAY_NAMES = (*_WEEKDAYS, *_SHORT)
"""Every name of a day of the week, in small letters."""
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_MONTHS_LOWER = tuple(month.lower() for month in _MONTHS)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})", re.ASCII)
_SLASHED = re.compile(r"(\d{1,2})[/.-](\d{1,2})[/.-](\d{4}|\d{2})", re.ASCII)


def day_date(text: str) -> date | Misread:
    """A day from 2000 to 2100, written year-month-day; nothing else, since 03/04/2027 has two readings."""
    tidy = text.strip()
    found = _ISO.fullmatch(tidy)
    if not found:
        return _not_iso(tidy)
    year, month, day = (int(part) for part in found.groups())
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return Misread(f"the year {year} is too far away", f"write a year from {FIRST_YEAR} to {LAST_YEAR}")
    return _real_day(year, month, day)


def printed_date(text: str) -> date | Misread:
    """The last good day of what has a date printed on it: a day, or the end of a month such as 2026-12."""
    month = re.fullmatch(r"(\d{4})-(\d{1,2})", text.strip(), re.ASCII)
    turned = re.fullmatch(r"(\d{1,2})[/.-](\d{4})", text.strip(), re.ASCII)
    if turned and 1 <= int(turned[1]) <= 12:
        meant = f"{turned[2]}-{int(turned[1]):02d}"
        return Misread(f'"{echo(text)}" is not written as year-month', f"write {meant}", (meant,), True)
    if not month:
        return day_date(text)
    first = day_date(f"{text.strip()}-01")
    return first if isinstance(first, Misread) else first.replace(day=monthrange(first.year, first.month)[1])


def day_time(text: str) -> tuple[date, time | None] | Misread:
    """A day and, if said, a time on the 24-hour clock, from "2027-03-06 10:00" or "2027-03-06"."""
    parts = re.split(r"[ T]+", text.strip(), maxsplit=1)
    day = day_date(parts[0]) if _ISO.fullmatch(parts[0]) else day_date(text)
    if isinstance(day, Misread):
        return _day_and_time(text, day)
    if len(parts) == 1:
        return day, None
    found = re.fullmatch(r"(\d{1,2})[:.](\d{2})(:00)?", parts[1].strip(), re.ASCII)
    if not found or int(found.group(1)) > 23 or int(found.group(2)) > 59:
        message = f'"{echo(parts[1])}" is not a time of day'
        meant = days_meant.time_meant(re.sub(r"\A(?:at|um|à) ", "", parts[1].strip()))
        whole = f"{day} {meant or '10:00'}"
        fix = f"write hours and minutes on the 24-hour clock, such as {whole}"
        return Misread(message, fix, (whole,), bool(meant))
    return day, time(int(found.group(1)), int(found.group(2)))


def time_of_day(text: str) -> time | Misread:
    """A time on the 24-hour clock, such as 18:00."""
    tidy = text.strip()
    found = re.fullmatch(r"(\d{1,2})[:.](\d{2})", tidy, re.ASCII)
    if not found or int(found.group(1)) > 23 or int(found.group(2)) > 59:
        meant = days_meant.time_meant(tidy)
        fix = f"write hours and minutes on the 24-hour clock, such as {meant or '18:00'}"
        sure = bool(meant) and not tidy.isdigit()
        return Misread(f'"{echo(tidy)}" is not a time of day', fix, (meant or "18:00",), sure)
    return time(int(found.group(1)), int(found.group(2)))


def time_range(text: str) -> tuple[time, time] | Misread:
    """From and to a time of day, from "21:00..07:00"; it may run over midnight."""
    parts = re.split(r"\.\.\.?|…| ?- ?| ?– ?| to ", text.strip(), maxsplit=1)
    ends = [time_of_day(part) for part in parts]
    first, last = ends[0], ends[-1]
    if isinstance(first, Misread) or isinstance(last, Misread) or len(parts) == 1:
        return Misread(f'"{echo(text)}" does not say from when to when', "write 21:00..07:00")
    if first == last:
        return Misread(f"{parts[0].strip()} to {parts[1].strip()} is the whole day", "write 21:00..07:00")
    return first, last


def date_range(text: str) -> tuple[date, date] | Misread:
    """First and last day, both included, from "2027-03-13..2027-03-16"; one day stands for itself."""
    parts = [part.strip() for part in re.split(r"\.\.\.?|…| to | – ", text.strip(), maxsplit=1)]
    ends = [day_date(part) for part in parts]
    first, last = ends[0], ends[-1]
    if len(parts) == 2 and not parts[1] and not isinstance(first, Misread):
        fix = f"write {first}..{first}, with the last day behind the dots"
        return Misread("the last day is missing", fix, (f"{first}..{first}",))
    if isinstance(first, Misread):
        return _range_meant(text) or _for_a_range(first)
    if isinstance(last, Misread):
        return _range_meant(text) or _for_a_range(last)
    if first > last:
        turned = f"{last}..{first}"
        return Misread(f"{first} comes after {last}", f"write the earlier day first: {turned}", (turned,))
    return first, last


def weekday(text: str) -> int | Misread:
    """0 for Monday to 6 for Sunday, from "sat", "Saturday"."""
    word = text.strip().lower().rstrip(".")
    full = {name: index for index, name in enumerate(_WEEKDAYS)}
    found = full.get(word, _SHORT.get(word))
    if found is not None:
        return found
    if word.rstrip("s") in ("weekend", "weekday"):
        fix = "write [sat, sun]" if "end" in word else "write [mon, tue, wed, thu, fri]"
        return Misread(f'"{echo(text)}" is not a day of the week', fix, (fix.removeprefix("write "),), True)
    fix, meant = "write mon, tue, wed, thu, fri, sat or sun", days_meant.weekday_meant(word, WEEKDAY_NAMES)
    if meant.startswith("["):
        return Misread(f'"{echo(text)}" is more than one day of the week', f"write {meant}", (meant,), True)
    guess = f'{fix}; did you mean "{meant}"?' if meant else fix
    return Misread(f'"{echo(text)}" is not a day of the week', guess, (meant or "sat",))


def _for_a_range(wrong: Misread) -> Misread:
    fix = f"{wrong.fix}; from and to: 2027-03-13..2027-03-16"
    return Misread(wrong.message, fix, wrong.ways, wrong.sure)


def _range_meant(text: str) -> Misread | None:
    """The refusal of a range whose days, or the sign between them, are written otherwise."""
    ways, sure = days_meant.range_meant(text)
    ends = days_meant.ends_of(text)
    if not ways and ends:
        days = [day_date(end) for end in ends]
        parts = [_only(day, end) for day, end in zip(days, ends, strict=True)]
        ways = ("..".join(parts),) if all(parts) else ()
        sure = all(day.sure for day in days if isinstance(day, Misread))
    if not ways:
        return None
    return Misread(f'"{echo(text)}" does not read as first and last day', f"write {ways[0]}", ways, sure)


def _only(day: date | Misread, written: str) -> str:
    """The day as it is to be written, if there is one way alone."""
    if not isinstance(day, Misread):
        return written
    return day.ways[0] if len(day.ways) == 1 else ""


def _day_and_time(text: str, wrong: Misread) -> Misread:
    """The refusal of a day; with the time that stands behind it, if it is one."""
    written, at = days_meant.day_time_meant(text)
    day = day_date(written) if written else wrong
    if not at or not (meant := _only(day, written)):
        return wrong
    whole = f"{meant} {at}"
    sure = not isinstance(day, Misread) or day.sure
    return Misread(f'"{echo(text)}" is not written as day and time', f"write {whole}", (whole,), sure)


def _real_day(year: int, month: int, day: int) -> date | Misread:
    try:
        return date(year, month, day)
    except ValueError:
        pass
    near = days_meant.nearest_day(year, month, day)
    fix, ways = (f"write year-month-day, such as {near}", (near,)) if near else (_EXAMPLE, ())
    if not 1 <= month <= 12:
        return Misread(f"there is no month {month}", fix, ways)
    return Misread(f"{_MONTHS[month - 1]} {year} has no day {day}", fix, ways)


def _not_iso(tidy: str) -> Misread:
    ways, sure = days_meant.day_meant(tidy[:20])
    if ways:
        return Misread(
            f'"{echo(tidy)}" is not written as year-month-day', f"write {' or '.join(ways)}", ways, sure
        )
    found = _SLASHED.fullmatch(tidy[:20])
    if found:
        return _slashed(tidy, *(int(part) for part in found.groups()))
    spoken = _spoken(tidy[:40])
    if spoken:
        return Misread(f'"{echo(tidy)}" is not written as year-month-day', f"write {spoken}", (spoken,), True)
    if re.search(r"\b(days?|weeks?|months?|years?)\b", tidy[:80], re.IGNORECASE):
        return Misread(f'"{echo(tidy)}" is a length of time, and a day is expected', _EXAMPLE)
    return Misread(f'"{echo(tidy)}" is not a day' if tidy else "nothing is written here", _EXAMPLE)


def _spoken(tidy: str) -> str:
    """The day that `Sat 6 March 2027` or `March 6th, 2027` names, as it is to be written; or ""."""
    words = re.findall(r"[a-z]+|\d+", tidy.lower())
    named = [name[:3] for name in _MONTHS_LOWER]
    months = [named.index(word[:3]) + 1 for word in words if word[:3] in named and len(word) > 2]
    numbers = [int(word) for word in words if word.isdigit()]
    years, days = [n for n in numbers if n >= FIRST_YEAR], [n for n in numbers if n <= 31]
    if len(months) != 1 or len(years) != 1 or len(days) != 1 or len(numbers) != 2:
        return ""
    found = _real_day(years[0], months[0], days[0])
    return "" if isinstance(found, Misread) or years[0] > LAST_YEAR else str(found)


def _slashed(tidy: str, first: int, second: int, year: int) -> Misread:
    year += 2000 if year < 100 else 0
    ways = []
    for day, month in dict.fromkeys(((first, second), (second, first))):
        real = _real_day(year, month, day) if year else None
        if isinstance(real, date):
            ways.append((f"{day} {_MONTHS[month - 1]}", str(real)))
    if not ways:
        return Misread(f'"{echo(tidy)}" is not a day', _EXAMPLE)
    if len(ways) == 1:
        return Misread(f"{tidy} is not written as year-month-day", f"write {ways[0][1]}", (ways[0][1],), True)
    asked, typed = " or ".join(way[0] for way in ways), " or ".join(way[1] for way in ways)
    return Misread(f"{tidy}: {asked} {year}?", f"write {typed}", tuple(way[1] for way in ways))
