"""What a batch is brewed for: a day, and the guests who come.

Comes in: values that intake has read and checked.  Goes out: frozen records for planning.
"""

from __future__ import annotations

from datetime import date

from sheetgen.records import record
from sheetgen.units import Millilitres


@record
class Serving:
    """What one guest drinks: so many drinks of so many millilitres."""

    drinks: int
    ml: Millilitres


@record
class Event:
    """A day that the drink shall be ready for.

    `name`: what it is called, "" if the file does not say.  `guests` None: the file names none, so the event
    asks for a day but for no volume; `each` is what each of them drinks.
    """

    on: date
    name: str = ""
    guests: int | None = None
    each: Serving | None = None

    @property
    def ml(self) -> float:
        """What all guests drink together, in millilitres; 0 without guests."""
        return (self.guests or 0) * self.each.drinks * self.each.ml if self.each else 0.0
