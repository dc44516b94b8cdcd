"""What happened to a batch: readings, looks, bottles filled and bottles tried.

Comes in: values that intake has read.  Goes out: frozen records, which `sheetgen.model.Actual` holds.
"""

from __future__ import annotations

from dataclasses import field
from datetime import date
from typing import Literal

from sheetgen.model.bottles import Bottles
from sheetgen.problems import Span
from sheetgen.records import record
from sheetgen.units import Celsius, Gravity, Litres

GasFelt = Literal["flat", "little", "right", "lively"]


@record
class Reading:
    """A hydrometer reading as written; without a temperature the room's is taken."""

    on: date
    sg: Gravity
    celsius: Celsius | None
    span: Span | None = field(default=None, compare=False)


@record
class Bottled:
    """What was filled: litres, and how many of each of the batch's bottle rows (same order as
    `Batch.bottles`); `more` are rows of those that nobody had listed: the last of the batch's.
    """

    on: date
    litres: Litres | None
    counts: tuple[int, ...] | None
    more: tuple[Bottles, ...] = ()


@record
class Looked:
    """A look and a taste of the fermenting drink: was it clear, was it sweet?"""

    on: date
    clear: bool
    sweet: bool


@record
class Tasted:
    """A bottle that was opened to try it: its gas, and what was noted."""

    on: date
    gas: GasFelt
    note: str = ""
