"""Bottles over time: free, full, and back when they were drunk.

Comes in: the stock, how many bottles are drunk in a week, and batches as they are filled, in the order
of their days.  Goes out: how many are free on a day, and every change.  What spoils first is drunk first,
nothing before its earliest day.  A bottle that is drunk is free again on the next day.  Kinds that are used
once (the pantry says which) never come back.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from datetime import date, timedelta

from sheetgen.planning.season_plan import Size, StockChange, StockLine
from sheetgen.records import record

_DAY = timedelta(days=1)
_WEEK = 7
LONGEST_DAYS = 4000
"""How long one goes on drinking: nothing of ours keeps for eleven years."""


@record
class Filled:
    """A batch in bottles: how many of each size, and the days that say when it is drunk."""

    code: str
    on: date
    sizes: tuple[tuple[Size, int], ...]
    drink_from: date
    best_from: date
    best_before: date

    @property
    def order(self) -> tuple[date, date, str]:
        """What is drunk first: what keeps least, then what is at its best first."""
        return (self.best_before, self.best_from, self.code)


@dataclass
class _Store:
    """What is left of a batch."""

    filled: Filled
    left: list[Size]


@dataclass
class Cellar:
    """All bottles of a season from a first day on; `pace` is bottles a week, 0 for none."""

    totals: dict[Size, int]
    pace: float
    again: frozenset[str]
    day: date | None = None
    free: dict[Size, int] = field(default_factory=dict)
    changes: list[StockChange] = field(default_factory=list)
    emptied: dict[str, date] = field(default_factory=dict)
    _stores: list[_Store] = field(default_factory=list)
    _thirst: float = 0.0
    _coming_back: list[tuple[Size, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        """All bottles are free at first."""
        self.free = dict(self.totals)

    def fill(self, batch: Filled) -> None:
        """Fill a batch's bottles; days go on to its own, which is not before any other's."""
        self.go_on_to(batch.on)
        self._stores.append(_Store(batch, [size for size, count in batch.sizes for _ in range(count)]))
        self._stores.sort(key=lambda store: store.filled.order)
        for size, count in batch.sizes:
            if count:
                self._change(size, -count, batch.code, batch.on)

    def go_on_to(self, day: date) -> None:
        """Let the days pass up to the morning of `day`; what was drunk on the day before is free then."""
        while self.day is not None and self.day < day:
            if not self._stores:  # nothing is left to drink: the days in between are alike
                self._morning()
                self.day, self._thirst = day, 0.0
                break
            self._drink(self.day)
            self.day += _DAY
            self._morning()
        self.day = max(self.day or day, day)

    def drink_up(self) -> None:
        """Go on until all is drunk, or until nobody drinks."""
        end = (self.day or date.min) + timedelta(days=LONGEST_DAYS) if self.day else None
        while self.day and end and self.pace and self._stores and self.day < end:
            self.go_on_to(self.day + _DAY)

    def first_day(self, size: Size, count: int, until: date) -> date | None:
        """The first day on which so many of a size are free, up to a last one; None if there is none."""
        ahead = deepcopy(self)
        while ahead.day and ahead.day <= until:
            if ahead.free.get(size, 0) >= count:
                return ahead.day
            ahead.go_on_to(ahead.day + _DAY)
        return None

    def _morning(self) -> None:
        back, self._coming_back = self._coming_back, []
        for size, code in back:
            self._change(size, 1, code, self.day or date.min)

    def _drink(self, day: date) -> None:
        """One day's drinking: what keeps least of what may be drunk."""
        ready = [store for store in self._stores if store.filled.drink_from <= day]
        self._thirst = self._thirst + self.pace if ready else 0.0
        for store in ready:
            while self._thirst >= _WEEK and store.left:
                self._thirst -= _WEEK
                size = store.left.pop(0)
                if size[1] in self.again:
                    self._coming_back.append((size, store.filled.code))
            if not store.left:
                self.emptied.setdefault(store.filled.code, day)
        self._stores = [store for store in self._stores if store.left]

    def _change(self, size: Size, count: int, code: str, on: date) -> None:
        self.free[size] = self.free.get(size, 0) + count
        self.changes.append(StockChange(on, size, count, self.free[size], code))


def stock_lines(cellar: Cellar, sizes: Iterable[Size]) -> tuple[StockLine, ...]:
    """Every size with its changes, those of one day and batch taken together."""
    return tuple(
        StockLine(
            size, cellar.totals.get(size, 0), _joined([one for one in cellar.changes if one.size == size])
        )
        for size in sizes
    )


def _joined(changes: Sequence[StockChange]) -> tuple[StockChange, ...]:
    found: list[StockChange] = []
    for one in changes:
        last = found[-1] if found else None
        if last and (last.on, last.code) == (one.on, one.code) and last.change * one.change > 0:
            found[-1] = StockChange(one.on, one.size, last.change + one.change, one.free, one.code)
        else:
            found.append(one)
    return tuple(found)
