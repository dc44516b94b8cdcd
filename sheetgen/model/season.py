"""A season as described: several batches that share vessels, bottles, a warm place and one person's days.

Comes in: values that intake has read and checked.  Goes out: frozen records for planning.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from types import MappingProxyType

from sheetgen.model import Batch, Bottles
from sheetgen.problems import Span
from sheetgen.records import record
from sheetgen.units import Litres


@record
class SharedVessel:
    """A vessel that several batches use in turn; things with one name are one thing."""

    name: str
    litres: Litres


@record
class Wish:
    """A batch that has no brew day yet, and the day on which it should be ready to drink, if any.

    `batch.brew_day` means nothing; `batch.equipment.vessel_name` is a shared vessel's, or "" for any.
    """

    batch: Batch
    ready_by: date | None = None
    span: Span | None = field(default=None, compare=False)


@record
class Season:
    """Several batches of one person.

    `stock`: all bottles that there are, or None: each batch has its own.  `caps`, `corks`: as many as there
    are, None: not counted.  `drunk`: bottles drunk in a week, 0: not said, and none comes back.
    `warm_bottles`: how many the warm place holds, None: enough.  `cleaning`: days between two batches in a
    vessel.  `two_on_a_day`: whether two batches may be brewed or bottled on one day.  `where`: dotted key
    to the place that said it.
    """

    name: str
    batches: tuple[Batch, ...]
    wishes: tuple[Wish, ...]
    vessels: tuple[SharedVessel, ...]
    stock: tuple[Bottles, ...] | None
    caps: int | None
    corks: int | None
    drunk: float
    warm_bottles: int | None
    cleaning: int
    two_on_a_day: bool
    paper: str
    language: str
    units: str
    where: Mapping[str, Span] = field(default_factory=lambda: MappingProxyType({}), compare=False)
