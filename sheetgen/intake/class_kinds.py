"""Readers of the values that only a class has, and the codes of its people.

Comes in: text.  Goes out: a value or a `Misread`; codes in their order.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from itertools import product
from pathlib import PurePosixPath

from sheetgen.units import Misread

LETTERS = "ABCDEFGHJKLMNPRTUVWXY"
"""Capital letters that look like no digit in handwriting."""
_CODE = re.compile(f"[0-9{LETTERS}]{{2}}\\Z")
_FILE = re.compile(r"\w[\w .-]{0,80}(?:/\w[\w .-]{0,80}){0,5}\.(\w{1,5})\Z")
_DEVICES = ("PRN", "AUX", "NUL")
LONGEST_NAME = 40
MOST_PEOPLE = len(LETTERS) * (len(LETTERS) + 1)


def class_code(value: str) -> str | Misread:
    """The two characters that every code of a class begins with."""
    tidy = value.strip()
    if _CODE.match(tidy):
        return tidy
    if _CODE.match(tidy.upper()):
        return Misread(f'"{tidy[:20]}" is printed in capitals', f"write {tidy.upper()}")
    rule = "two characters, digits and capital letters without I, O, Q, S and Z"
    return Misread(
        f'"{tidy[:20]}" cannot begin the codes of a class: expected {rule}', "write 27, for example"
    )


def person_name(value: str) -> str | Misread:
    """A name of at most 40 characters, with single spaces."""
    tidy = " ".join(value.split())
    if len(tidy) <= LONGEST_NAME:
        return tidy
    return Misread(
        f"this name has {len(tidy)} characters", f"write at most {LONGEST_NAME}; a first name is enough"
    )


def codes(begin: str, taken: Collection[str]) -> Iterator[str]:
    """Codes that begin so: with one letter more, then with two; those that are taken are passed over."""
    ends = (*LETTERS, *("".join(pair) for pair in product(LETTERS, repeat=2)))
    for end in ends:
        if (code := begin + end) not in taken and code not in _DEVICES:
            yield code


def file_beside(value: str, *endings: str) -> str | Misread:
    """The name of a file beside another, or in a folder there; it never leads out."""
    tidy = value.strip()
    found = _FILE.match(tidy)
    steps = PurePosixPath(tidy).parts
    if found and found[1].lower() in endings and not any(step.strip(". ") == "" for step in steps):
        return tidy
    return Misread(
        f'"{tidy[:60]}" cannot be a file here: it must lie beside this one or in a folder there',
        f"write the name of a file that ends in .{endings[0]}",
    )
