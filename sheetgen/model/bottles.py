"""Bottles: their kinds, and rows of them.

Comes in: values that intake has checked.  Goes out: frozen records, which `sheetgen.model` names too.
"""

from __future__ import annotations

from typing import Literal

from sheetgen.records import record
from sheetgen.units import Millilitres, Volumes


@record
class Container:
    """A kind of bottle; `warn` and `refuse` in volumes of CO2, None when it is refused for every primed
    drink.  `again`: a season may count on filling it once more.
    """

    id: str
    warn: Volumes | None
    refuse: Volumes | None
    cap: Literal["crown", "own", "cork"]
    glass: bool
    again: bool = True


@record
class Bottles:
    """So many bottles of one size and kind, in the order in which they are filled; `known` is False if the
    kind
    was not said or not understood, and the weakest common kind was taken."""

    ml: Millilitres
    kind: Container
    count: int
    known: bool = True
    what_for: str = ""
