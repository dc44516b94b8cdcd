"""Everybody of a class, one after the other.

Comes in: people and what is wanted.  Goes out: what was made for each, in their order.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sheetgen.commands.class_people import Made, Wanted, make_person
from sheetgen.intake.classes import Person


def everybody(people: Sequence[Person], wanted: Wanted) -> Iterator[Made]:
    """What was made for each of them, in their order."""
    for person in people:
        yield make_person(person, wanted)
