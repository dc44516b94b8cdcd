"""The search for brew days: which wish is brewed when, and in which vessel.

Comes in: for every wish the days on which it could be brewed, with what each would take; and what is taken
already.  Goes out: the best choice, and whether it is proven to be the best.  All days are whole numbers; no
plan is known here, so that trying everything can check it.

What is best, in this order: as few wishes as may be without a day; as few days as may be, in all, after the
days on which they should be ready; as early brew days as may be, in all.  Among equals the one that is found
first, which depends on the order of wishes, days and vessels alone.

Days that are taken are the bits of one whole number for each vessel, and of one for the person's days of
work; so looking at a day is two comparisons.  What a day would take is asked for only when it is looked at.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate

from sheetgen.planning.season_bounds import least_late, least_start
from sheetgen.records import record

MOST_LOOKS = 700_000
"""So often is a day looked at for a wish, two seconds' work; what is best by then is told as not proven."""
_LATE, _NONE = 10_000, 10**12
"""What a day of lateness, and a wish without a day, weigh against a brew day that is a day later."""
Busy = tuple[tuple[int, int], ...]


@record
class Slot:
    """A day on which a wish could be brewed: `start` and `end` bound the vessel's busy days, both included;
    it is bottled on `filled`, and is `late` days too late at the end.
    """

    start: int
    filled: int
    end: int
    late: int = 0


@record
class Wanted:
    """A wish: the days on which it might be brewed, rising, what each would take (None: nothing comes of
    it), and the numbers of the vessels that it may take.  Wishes of one `kind` are alike.

    `shortest`: it keeps a vessel busy for so many days at least.  `worry`: brewed on a day after this one it
    is late by the days in between, at least; None if it is wanted by no day.  `late_from`: the least lateness
    on every day and those after it; None where a later brew day is never less late.
    """

    starts: tuple[int, ...]
    slot: Callable[[int], Slot | None]
    vessels: tuple[int, ...]
    kind: object
    shortest: int = 1
    worry: int | None = None
    late_from: tuple[int, ...] | None = None


def listed(slots: Sequence[Slot], vessels: tuple[int, ...]) -> Wanted:
    """A wish whose slots are all known, by rising start, whatever their lateness is."""
    known = {slot.start: slot for slot in slots}
    return Wanted(
        tuple(known),
        known.get,
        vessels,
        (tuple(slots), vessels),
        min((slot.end - slot.start + 1 for slot in slots), default=1),
        max((slot.start - slot.late for slot in slots), default=None),
        tuple(accumulate((slot.late for slot in reversed(slots)), min))[::-1],
    )


@record
class Taken:
    """What is settled: busy days of every vessel, and days on which nothing else is brewed or bottled (None:
    several things may be done on one day).
    """

    vessels: tuple[Busy, ...]
    days: frozenset[int] | None


@record
class Choice:
    """A slot and a vessel for a wish."""

    slot: Slot
    vessel: int


@record
class Answer:
    """A choice for every wish, None for one without a day; `proven`: nothing better exists; `looks`: how
    often a day was looked at.
    """

    choices: tuple[Choice | None, ...]
    proven: bool
    looks: int


class _Enough(Exception):  # noqa: N818 - no error: the search has looked at as many days as it may
    """The search ends before everything is proven."""


def best_choice(wanted: Sequence[Wanted], taken: Taken, most: int = MOST_LOOKS) -> Answer:
    """The best choice of days and vessels, looked for until `most` days were looked at."""
    first = min((one.starts[0] for one in wanted if one.starts), default=0)
    search = _Search([_Days(one, first) for one in wanted], taken.days is not None, most)
    vessels = tuple(_bits((day for span in busy for day in range(span[0], span[1] + 1)), first)
                    for busy in taken.vessels)  # fmt: skip
    proven = True
    try:
        search.go(tuple(range(len(wanted))), 0, 0, vessels, _bits(taken.days or (), first))
    except _Enough:
        proven = False
    return Answer(search.best, proven, search.looks)


def _bits(days: Sequence[int] | frozenset[int] | Iterator[int], first: int) -> int:
    found = 0
    for day in days:
        if day >= first:
            found |= 1 << (day - first)
    return found


@record
class _Fit:
    """A slot as bits: the days on which the vessel is busy, those of work; all days count from the first."""

    slot: Slot
    start: int
    busy: int
    work: int


class _Days:
    """The days of one wish, counted from the first of all; what each would take is asked for once."""

    def __init__(self, wanted: Wanted, first: int) -> None:
        self.wanted, self.first = wanted, first
        self.starts = [start - first for start in wanted.starts]
        self.worry = None if wanted.worry is None else wanted.worry - first
        self.known: list[_Fit | bool | None] = [False] * len(self.starts)

    def at(self, place: int) -> _Fit | None:
        """What the day at that place would take, or None."""
        found = self.known[place]
        if isinstance(found, bool):
            found = self.known[place] = self._fit(self.wanted.slot(self.wanted.starts[place]))
        return found

    def _fit(self, slot: Slot | None) -> _Fit | None:
        if slot is None:
            return None
        start = slot.start - self.first
        busy = ((1 << (slot.end - slot.start + 1)) - 1) << start
        return _Fit(slot, start, busy, 1 << start | 1 << (slot.filled - self.first))

    def late(self, place: int) -> int:
        """The least lateness on the day at that place, which is one that works, or later."""
        told, fit = self.wanted.late_from, self.at(place)
        if told is not None:
            return told[place]
        return fit.slot.late if fit else 0


class _Search:
    """Every order of brewing is tried, and every day for each, unless nothing better can come of it."""

    def __init__(self, wishes: Sequence[_Days], one_a_day: bool, most: int) -> None:
        self.wishes, self.apart, self.most, self.looks = wishes, 1 if one_a_day else 0, most, 0
        self.chosen: list[Choice | None] = [None] * len(wishes)
        self.best: tuple[Choice | None, ...] = tuple(self.chosen)
        self.bound = 10**18
        self.seen: dict[object, int] = {}

    def go(self, left: tuple[int, ...], first: int, cost: int, vessels: tuple[int, ...], work: int) -> None:
        """All that can come of a choice half made: the wishes left, none brewed before `first`, what it cost,
        and what is taken by now.
        """
        if cost + _NONE * len(left) < self.bound:
            self.bound, self.best = cost + _NONE * len(left), tuple(self.chosen)
        begins = [(self._place(index, first, vessels, work), index) for index in self._different(left)]
        ready = [(self.wishes[index].starts[place], index, place) for place, index in begins if place >= 0]
        for _, index, place in sorted(ready):
            others = tuple(other for other in left if other != index)
            self._each(index, place, others, cost, vessels, work)

    def _each(
        self, index: int, place: int, others: tuple[int, ...], cost: int, vessels: tuple[int, ...], work: int
    ) -> None:
        """One wish next, on every day from a place on that may still be better."""
        one = self.wishes[index]
        for at in range(place, len(one.starts)):
            self._look()
            fit = one.at(at)
            if fit is None:
                continue
            least = cost + _LATE * one.late(at) + fit.start
            if least + self._least(others, fit.start, vessels, work) >= self.bound:
                return
            if fit.work & work:
                continue
            after, first = cost + _LATE * fit.slot.late + fit.start, fit.start + self.apart
            days = work | fit.work if self.apart else work
            for vessel in self._vessels(one, fit, others, vessels):
                taken = (*vessels[:vessel], vessels[vessel] | fit.busy, *vessels[vessel + 1 :])
                if not self._is_new(others, first, after, taken, days):
                    continue
                if after + self._least(others, first, taken, days) < self.bound:
                    self.chosen[index] = Choice(fit.slot, vessel)
                    self.go(others, first, after, taken, days)
                    self.chosen[index] = None

    def _look(self) -> None:
        self.looks += 1
        if self.looks >= self.most:
            raise _Enough

    def _different(self, left: tuple[int, ...]) -> Iterator[int]:
        """The wishes left, of those alike the first."""
        known = set()
        for index in left:
            kind = self.wishes[index].wanted.kind
            if kind not in known:
                known.add(kind)
                yield index

    def _vessels(
        self, one: _Days, fit: _Fit, others: tuple[int, ...], vessels: tuple[int, ...]
    ) -> Iterator[int]:
        """Vessels that are free for the slot; of those that are alike for all that is still to come one."""
        known = set()
        for vessel in one.wanted.vessels:
            if not vessels[vessel] & fit.busy:
                users = tuple(other for other in others if vessel in self.wishes[other].wanted.vessels)
                later = vessels[vessel] >> fit.start
                if (users, later) not in known:
                    known.add((users, later))
                    yield vessel

    def _is_new(
        self, left: tuple[int, ...], first: int, cost: int, vessels: tuple[int, ...], work: int
    ) -> bool:
        """Whether nothing alike was reached at no more cost; vessels that serve the same wishes are alike."""
        later: dict[tuple[int, ...], list[int]] = {}
        for vessel, busy in enumerate(vessels):
            users = tuple(other for other in left if vessel in self.wishes[other].wanted.vessels)
            if users:
                later.setdefault(users, []).append(busy >> first)
        alike = tuple((users, tuple(sorted(busy))) for users, busy in sorted(later.items()))
        key = (left, first, alike, work >> first)
        if self.seen.get(key, self.bound) <= cost:
            return False
        self.seen[key] = cost
        return True

    def _place(self, index: int, first: int, vessels: tuple[int, ...], work: int) -> int:
        """The place of the first day from `first` on that is free for a wish as things stand, or -1."""
        one = self.wishes[index]
        mine = [vessels[vessel] for vessel in one.wanted.vessels]
        for place in range(bisect_left(one.starts, first), len(one.starts)):
            self._look()
            fit = one.at(place)
            if fit is not None and not fit.work & work and not all(busy & fit.busy for busy in mine):
                return place
        return -1

    def _least(self, left: tuple[int, ...], first: int, vessels: tuple[int, ...], work: int) -> int:
        """What the wishes left will cost at least, if none is brewed before `first`."""
        places = [(self.wishes[index], self._place(index, first, vessels, work)) for index in left]
        begun = [(one, place) for one, place in places if place >= 0]
        if not begun:
            return _NONE * len(left)
        numbers = {vessel for one, _ in begun for vessel in one.wanted.vessels}
        starts, total = least_start(
            [one.starts[place] for one, place in begun],
            [one.wanted.shortest for one, _ in begun],
            [_first_free(vessels[vessel], first) for vessel in numbers],
            self.apart,
        )
        late = sum(one.late(place) for one, place in begun)
        late = max(late, least_late(starts, [one.worry for one, _ in begun]))
        return _NONE * (len(left) - len(begun)) + _LATE * late + total


def _first_free(busy: int, first: int) -> int:
    """The first day from `first` on that is no bit of a number."""
    free = ~(busy >> first)
    return first + (free & -free).bit_length() - 1
