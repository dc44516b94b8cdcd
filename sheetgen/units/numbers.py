"""Numbers as people write them.

Comes in: a short text.  Goes out: exact fractions, or a `Misread` that says what to type instead.
"""

from __future__ import annotations

import re
from fractions import Fraction

from sheetgen.records import record

MOST_CHARACTERS = 48


@record
class Misread:
    """A text that is not what was expected: what was found, and what to type.  A value, not an exception.

    `ways`: what may stand in its place; `sure`: it is what was meant, only written otherwise.
    """

    message: str
    fix: str = ""
    ways: tuple[str, ...] = ()
    sure: bool = False


_VULGAR = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}
_SIGNS = str.maketrans(
    {"\u00a0": " ", "\u202f": " ", "\u2009": " ", "−": "-", "–": "-", "⁄": "/", "℃": "C", "℉": "F"}
    | {"″": '"', "”": '"', "′": "'", "\u2019": "'"}
)
_VULGARS = "".join(_VULGAR)
_NUMBER = re.compile(
    rf"(?P<sign>[+-]?)(?:(?P<whole>\d{{1,7}}) (?P<top>\d{{1,3}})/(?P<under>\d{{1,3}})"
    rf"|(?P<top2>\d{{1,3}})/(?P<under2>\d{{1,3}})"
    rf"|(?P<mixed>\d{{1,7}}) ?(?P<vulgar>[{_VULGARS}])"
    rf"|(?P<vulgar2>[{_VULGARS}])"
    rf"|(?P<decimal>\d{{1,7}}(?:[.,]\d{{1,8}})?|[.,]\d{{1,8}}))(?![\d.,/{_VULGARS}])",
    re.ASCII,
)
_THOUSANDS = re.compile(r"(?<![\d.,])[1-9]\d{0,2},\d{3}(?![\d.,])", re.ASCII)
_GROUPED = re.compile(r"\d[ '_’]\d{3}(?![\d/])|\d[.,]\d+[.,]\d|\d_\d", re.ASCII)


def echo(text: str) -> str:
    """What was found, short enough to repeat in a sentence."""
    tidy = " ".join(text.split())
    return tidy if len(tidy) <= MOST_CHARACTERS else tidy[: MOST_CHARACTERS - 1] + "…"


def tidied(text: str) -> str | Misread:
    """The text with single spaces and plain signs; refused when empty or longer than a quantity is."""
    if len(text) > MOST_CHARACTERS:
        return Misread(
            f'"{echo(text)}" is too long to be a quantity', "write a number and a unit, such as 12 L"
        )
    tidy = " ".join(text.translate(_SIGNS).split())
    return tidy or Misread("nothing is written here", "write a number and a unit, such as 12 L")


def plain(value: Fraction | float) -> str:
    """A number for a sentence: no needless zeros, at most six digits after the point."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def number_at(text: str, start: int) -> tuple[Fraction, int] | None:
    """The number that begins at `start` of a tidied text, and where it ends; None when there is none."""
    found = _NUMBER.match(text, start)
    value = _value(found) if found else None
    return (value, found.end()) if found and value is not None else None


def _value(found: re.Match[str]) -> Fraction | None:
    part = found.groupdict()
    under = int(part["under"] or part["under2"] or 1)
    if under == 0:
        return None
    value = Fraction(int(part["top"] or part["top2"] or 0), under) + int(part["whole"] or part["mixed"] or 0)
    value += _VULGAR.get(part["vulgar"] or part["vulgar2"] or "", Fraction(0))
    if part["decimal"]:
        value = Fraction("0" + part["decimal"].replace(",", "."))
    return -value if part["sign"] == "-" else value


def grouped(text: str) -> Misread | None:
    """A refusal when digits seem to be set in groups of three, which has two readings."""
    found = _THOUSANDS.search(text)
    if found:
        digits = found.group()
        one, other = digits.replace(",", "."), digits.replace(",", "")
        ways = f"{text.replace(digits, one)} or {text.replace(digits, other)}"
        both = (text.replace(digits, one), text.replace(digits, other))
        return Misread(f"{echo(text)}: {ways}?", f"write {ways}", both)
    if _GROUPED.search(text):
        return Misread(
            f'"{echo(text)}" has its digits in groups', "write the digits together, such as 1500 g"
        )
    return None


def bare_number(text: str) -> Fraction | Misread:
    """A number with nothing after it."""
    tidy = tidied(text)
    if isinstance(tidy, Misread):
        return Misread("nothing is written here", "write a number") if not text.strip() else tidy
    found = number_at(tidy, 0)
    if found and found[1] == len(tidy):
        return grouped(tidy) or found[0]
    if re.search(r"/ ?0+(?!\d)", tidy):
        return Misread(f'"{echo(text)}" divides by nothing', "write a number such as 1/2")
    fix = "write a number such as 12 or 1.5"
    return grouped(tidy) or Misread(f'"{echo(text)}" is not a number', fix)


_COUNTED = re.compile(
    r"(\d{1,5}) ?(?:x|×|pieces?|pcs?\.?|bottles?|caps?|corks?|people|guests?|days?)", re.IGNORECASE | re.ASCII
)
_IN_WORDS = (
    *("one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)


def counts_meant(text: str) -> tuple[tuple[str, ...], bool]:
    """The number in "26 pieces" or "six", or both in "6-8"; and whether there is one alone."""
    tidy = " ".join(text[:40].lower().split())
    alone, both = _COUNTED.fullmatch(tidy), re.fullmatch(r"(\d{1,4}) ?(?:-|–|to) ?(\d{1,4})", tidy)
    if both:
        return (both[1], both[2]), False
    word = str(_IN_WORDS.index(tidy) + 1) if tidy in _IN_WORDS else ""
    found = alone[1] if alone else word
    return ((found,), True) if found else ((), False)
