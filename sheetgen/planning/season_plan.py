"""What is planned for a season, as plain frozen data: lanes, bottles over time, what to drink first.

Comes in: nothing.  Goes out: the records that `sheetgen.planning.season` fills.  Days are dates, both ends
included unless a record says more; bottle sizes are millilitres.
"""

from __future__ import annotations

from datetime import date

from sheetgen.planning.plan import Line, Plan
from sheetgen.problems import Problem
from sheetgen.records import record

Size = tuple[float, str]
"""A bottle's millilitres and kind."""


@record
class Booking:
    """One batch in its vessel: from brew day to bottling, and the last day on which the vessel is not free:
    the day after bottling and the days for cleaning.
    """

    code: str
    vessel: str
    brewed: date
    bottled: date
    busy_until: date

    def overlaps(self, other: Booking) -> bool:
        """Whether both need their vessel on one day."""
        return self.brewed <= other.busy_until and other.brewed <= self.busy_until


@record
class Lane:
    """A vessel over the season; `shared` is False for one that a batch brings along."""

    vessel: str
    litres: float
    bookings: tuple[Booking, ...]
    shared: bool = True


@record
class StockChange:
    """So many bottles of a size fewer (filled) or more (drunk) on a day, and how many are free after it."""

    on: date
    size: Size
    change: int
    free: int
    code: str


@record
class StockLine:
    """One size and kind over the season: how many there are, and every change in order."""

    size: Size
    total: int
    changes: tuple[StockChange, ...]


@record
class WarmDay:
    """How many full bottles stand in the warm place from this day on."""

    on: date
    bottles: int


@record
class CapUse:
    """Caps, or corks, for one batch, and how many are left after it (below 0: so many are short)."""

    code: str
    on: date
    need: int
    left: int


@record
class Trip:
    """What is bought by a day, for the batches of these codes."""

    by: date
    codes: tuple[str, ...]
    lines: tuple[Line, ...]


@record
class Drinking:
    """One line of what to drink first; `emptied`: the day of its last bottle at the stated pace, if known."""

    code: str
    name: str
    bottles: int
    drink_from: date
    best_from: date
    best_to: date
    best_before: date
    emptied: date | None


@record
class SeasonPlan:
    """A season, planned: every batch in the order of the file, and what they share.

    `warnings` are about what is shared; `problems` are all, those of single batches among them.
    """

    name: str
    printed: date
    paper: str
    language: str
    units: str
    batches: tuple[Plan, ...]
    lanes: tuple[Lane, ...]
    stock: tuple[StockLine, ...]
    warm: tuple[WarmDay, ...]
    warm_holds: int | None
    caps: tuple[CapUse, ...]
    drink_first: tuple[Drinking, ...]
    wishes: tuple[str, ...]
    warnings: tuple[Problem, ...]
    problems: tuple[Problem, ...]
    corks: tuple[CapUse, ...] = ()
    shopping: tuple[Trip, ...] = ()
