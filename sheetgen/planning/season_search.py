"""The search for brew days: which wish is brewed when, and in which vessel.

Comes in: for every wish the days on which it could be brewed, with what each would take; and what is taken
already.  Goes out: the best choice, and whether it is proven to be the best.  All days are whole numbers; no
plan is known here, so that trying everything can check it.

What is best, in this order: as few wishes as may be without a day; as few days as may be, in all, after the
days on which they should be ready; as early brew days as may be, in all.  Among equals the one that is found
first, which depends on the order of wishes, days and vessels alone.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import accumulate

from sheetgen.records import record

MOST_STEPS = 12_000
"""So many choices are looked at, a few seconds' work; what is best by then is told as not proven."""
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

    @property
    def cost(self) -> int:
        """Lateness first, then the brew day."""
        return self.late * _LATE + self.start


@record
class Wanted:
    """A wish: its slots by rising start, and the numbers of the vessels that it may take."""

    slots: tuple[Slot, ...]
    vessels: tuple[int, ...]

    @cached_property
    def starts(self) -> list[int]:
        """The first day of every slot."""
        return [slot.start for slot in self.slots]

    @cached_property
    def least_late(self) -> list[int]:
        """The least lateness of every slot and those after it."""
        return _least_from([slot.late for slot in self.slots])

    @cached_property
    def least_cost(self) -> list[int]:
        """The least cost of every slot and those after it."""
        return _least_from([slot.cost for slot in self.slots])

    @cached_property
    def shortest(self) -> int:
        """The fewest days that it keeps a vessel busy."""
        return min((slot.end - slot.start + 1 for slot in self.slots), default=1)


def _least_from(values: list[int]) -> list[int]:
    return list(accumulate(reversed(values), min))[::-1]


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
    """A choice for every wish, None for one without a day; `proven`: nothing better exists."""

    choices: tuple[Choice | None, ...]
    proven: bool
    steps: int


def best_choice(wanted: Sequence[Wanted], taken: Taken, most: int = MOST_STEPS) -> Answer:
    """The best choice of days and vessels, looked for until `most` steps are done."""
    search = _Search(tuple(wanted), most)
    nothing: tuple[Choice | None, ...] = (None,) * len(wanted)
    search.go(_State(tuple(range(len(wanted))), -(10**9), 0, nothing, taken.vessels, taken.days))
    return Answer(search.best, search.steps <= most, min(search.steps, most))


@record
class _State:
    """A choice half made, in the order of brew days: the wishes left, the last brew day so far, what it cost,
    what is chosen, and what is taken by now.
    """

    left: tuple[int, ...]
    last: int
    cost: int
    chosen: tuple[Choice | None, ...]
    vessels: tuple[Busy, ...]
    days: frozenset[int] | None

    @property
    def first(self) -> int:
        """The first day on which the next brew day may fall."""
        return self.last if self.days is None else self.last + 1

    def free(self, slot: Slot) -> bool:
        """Whether the slot's days are free for work."""
        return self.days is None or (slot.start not in self.days and slot.filled not in self.days)

    def holds(self, vessel: int, slot: Slot) -> bool:
        """Whether the vessel is free for the slot."""
        return all(end < slot.start or slot.end < start for start, end in self.vessels[vessel])

    def after(self, index: int, choice: Choice) -> _State:
        """The state with one wish more settled."""
        slot, vessels = choice.slot, list(self.vessels)
        vessels[choice.vessel] = (*vessels[choice.vessel], (slot.start, slot.end))
        return _State(
            tuple(other for other in self.left if other != index),
            slot.start,
            self.cost + slot.cost,
            (*self.chosen[:index], choice, *self.chosen[index + 1 :]),
            tuple(vessels),
            None if self.days is None else self.days | {slot.start, slot.filled},
        )


@dataclass
class _Search:
    """Every order of brewing is tried, and every day for each, unless nothing better can come of it."""

    wanted: tuple[Wanted, ...]
    most: int
    steps: int = 0
    best: tuple[Choice | None, ...] = ()
    bound: int = 10**18
    seen: dict[object, int] = field(default_factory=dict)

    def go(self, state: _State) -> None:
        """All that can come of a state."""
        cost = state.cost + _NONE * len(state.left)
        if cost < self.bound:
            self.bound, self.best = cost, state.chosen
        earliest = [(self._earliest(index, state), index) for index in self._different(state)]
        for start, index in sorted((start, index) for start, index in earliest if start is not None):
            self._each(index, start, state)

    def _each(self, index: int, start: int, state: _State) -> None:
        """One wish next, on every day that may still be better."""
        one = self.wanted[index]
        for at in range(bisect_left(one.starts, start), len(one.slots)):
            slot = one.slots[at]
            others = tuple(other for other in state.left if other != index)
            if state.cost + one.least_cost[at] + self._least(others, slot.start, state) >= self.bound:
                return
            for vessel in self._vessels(one, slot, others, state) if state.free(slot) else ():
                self.steps += 1
                if self.steps > self.most:
                    return
                after = state.after(index, Choice(slot, vessel))
                if self._is_new(after) and after.cost + self._least(others, after.first, after) < self.bound:
                    self.go(after)

    def _different(self, state: _State) -> Iterator[int]:
        """The wishes left, of those alike the first."""
        known: list[Wanted] = []
        for index in state.left:
            if not any(self.wanted[index] == other for other in known):
                known.append(self.wanted[index])
                yield index

    def _vessels(self, one: Wanted, slot: Slot, others: tuple[int, ...], state: _State) -> Iterator[int]:
        """Vessels that are free for the slot; of those that are alike for all that is still to come one."""
        known = set()
        for vessel in one.vessels:
            if state.holds(vessel, slot):
                users = tuple(other for other in others if vessel in self.wanted[other].vessels)
                later = tuple(sorted(span for span in state.vessels[vessel] if span[1] >= slot.start))
                if (users, later) not in known:
                    known.add((users, later))
                    yield vessel

    def _is_new(self, state: _State) -> bool:
        """Whether nothing alike was reached at no more cost."""
        vessels = tuple(
            tuple(sorted(span for span in busy if span[1] >= state.last)) for busy in state.vessels
        )
        days = None if state.days is None else frozenset(day for day in state.days if day >= state.last)
        key = (state.left, state.last, vessels, days)
        if self.seen.get(key, self.bound) <= state.cost:
            return False
        self.seen[key] = state.cost
        return True

    def _earliest(self, index: int, state: _State, first: int | None = None) -> int | None:
        """The first day from `first` on that is free for a wish as things stand, or None."""
        one = self.wanted[index]
        for at in range(bisect_left(one.starts, state.first if first is None else first), len(one.slots)):
            slot = one.slots[at]
            if state.free(slot) and any(state.holds(vessel, slot) for vessel in one.vessels):
                return slot.start
        return None

    def _least(self, left: tuple[int, ...], first: int, state: _State) -> int:
        """What the wishes left will cost at least, if none is brewed before `first`."""
        total, starts = 0, []
        for index in left:
            one, start = self.wanted[index], self._earliest(index, state, first)
            if start is None:
                total += _NONE
            else:
                starts.append(start)
                total += _LATE * one.least_late[bisect_left(one.starts, start)]
        return total + self._spaced(left, sorted(starts), state)

    def _spaced(self, left: tuple[int, ...], starts: list[int], state: _State) -> int:
        """The least sum of brew days: so many vessels hold so many batches at a time."""
        vessels = len({vessel for index in left for vessel in self.wanted[index].vessels})
        shortest = min((self.wanted[index].shortest for index in left), default=1)
        apart = 0 if state.days is None else 1
        found: list[int] = []
        for place, start in enumerate(starts):
            least = [start]
            least += [found[-1] + apart] if found else []
            least += [found[place - vessels] + shortest] if place >= vessels else []
            found.append(max(least))
        return sum(found)
