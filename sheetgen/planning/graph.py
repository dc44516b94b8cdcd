"""Tasks as a graph of rules: what waits for what, and the days that follow from it.

Comes in: steps in an order in which nothing waits for a later one, links between them, and the days that
work, all as day numbers (day 0 is the day the yeast goes in).  Goes out: the earliest, expected and latest
day of every step, each with the rule that decided it.  Nothing here knows dates, drinks or people.

Three questions, three exact answers:

- *earliest*: the longest way over the least gaps.
- *expected*: the first days that keep every usual gap and fall on days that work.  All rules say "not
  before", so there is a least answer, and asking for more never brings a day forward.
- *latest*: backwards from the last days without worry, over the least gaps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

from sheetgen.model import Work
from sheetgen.problems import Said
from sheetgen.records import record

START = "start"
"""The name of day 0, from which walls are counted."""
PATIENCE_DAYS = 366
"""What has to stay close to something else is not put off longer than this."""


class NoSolution(ValueError):  # noqa: N818 - it is a finding, and reads as one
    """Two steps that must stay close push each other on and on; `args[0]` is the id of the first of them."""


@record
class Step:
    """One thing to do: what kind of work it is ("" takes nobody), whether it takes hands, what it needs, and
    whether it may move to another day.  `on`: the day on which it was done; such a step waits for nothing.
    """

    id: str
    kind: Work | Literal[""] = ""
    hands_on: bool = True
    needs: tuple[str, ...] = ()
    movable: bool = True
    on: int | None = None


@record
class Link:
    """`after` comes at least `least`, usually `usual` days after `before`, and without worry at most `most`.

    None says nothing; a usual gap under the least one counts as the least.  From `START` it is a wall.
    """

    before: str
    after: str
    because: Said
    least: int | None = None
    usual: int | None = None
    most: int | None = None

    @property
    def wait(self) -> int | None:
        """The gap that is planned."""
        if self.least is None or self.usual is None:
            return self.least if self.usual is None else self.usual
        return max(self.least, self.usual)


@record
class Stay:
    """`before` waits until `after` is at most `most` days away."""

    before: str
    after: str
    most: int
    because: Said


class Bound(NamedTuple):
    """A day, and the rule that decided it: None for a fact and for day 0.  `wanted` is the day before those
    that do not work were passed over.

    Hundreds are made for a season, so it is a plain tuple and no record.
    """

    day: int
    by: Link | Stay | None
    wanted: int


NextDay = Callable[[Step, int], int]
"""The first day, from a day on, on which a step can be done; raises if there is none."""

_Edges = dict[str, list[tuple[str, int, Link | Stay]]]
_Days = dict[str, Bound]


def _facts(steps: Iterable[Step]) -> _Days:
    known = {step.id: Bound(step.on, None, step.on) for step in steps if step.on is not None}
    return {START: Bound(0, None, 0), **known}


def _leading_to(edges: Iterable[tuple[str, str, int, Link | Stay]]) -> _Edges:
    """(from, to, days, rule), gathered by where they lead."""
    found: _Edges = {}
    for origin, to, days, rule in edges:
        found.setdefault(to, []).append((origin, days, rule))
    return found


def _strictest(edges: Iterable[tuple[str, int, Link | Stay]], days: _Days) -> Bound | None:
    """The highest of the bounds that lead to one step; of equals the first."""
    best, by = None, None
    for origin, gap, rule in edges:
        start = days.get(origin)
        if start is not None and (best is None or start.day + gap > best):
            best, by = start.day + gap, rule
    return None if best is None else Bound(best, by, best)


def _swept(steps: Iterable[Step], edges: _Edges, days: _Days, moved: NextDay) -> _Days:
    """Every step at its strictest bound, moved on to a day that works; a step is never lower than it was."""
    for step in steps:
        bound, known = _strictest(edges.get(step.id, ()), days), days.get(step.id)
        if bound is not None and (known is None or bound.day > known.day):
            days[step.id] = Bound(moved(step, bound.day), bound.by, bound.day)
    return days


def _open(steps: Sequence[Step], links: Iterable[Link]) -> tuple[list[Step], list[Link]]:
    """What is still to do, and the links that lead to it: what was done waits for nothing.

    Raises ValueError when a link leads back to a step that stands earlier in the list.
    """
    place = {START: -1, **{step.id: number for number, step in enumerate(steps)}}
    todo = [step for step in steps if step.on is None]
    names = {step.id for step in todo}
    live = [link for link in links if link.after in names]
    for link in live:
        if place[link.before] >= place[link.after]:
            raise ValueError(f"{link.after} waits for {link.before}, which stands later")
    return todo, live


def earliest_days(
    steps: Sequence[Step], links: Iterable[Link], floors: Mapping[str, int] | None = None
) -> dict[str, Bound]:
    """The first possible day of every step: the longest way over the least gaps, never before its floor."""
    lowest = floors or {}
    return first_days(steps, links, lambda step, day: max(day, lowest.get(step.id, day)))


def first_days(steps: Sequence[Step], links: Iterable[Link], next_day: NextDay) -> dict[str, Bound]:
    """The first day of every step that works, when all before it is done as soon as it can be.

    Raises what `next_day` raises.
    """
    todo, live = _open(steps, links)
    edges = [(link.before, link.after, link.least, link) for link in live if link.least is not None]
    return _swept(todo, _leading_to(edges), _facts(steps), next_day)


def latest_days(steps: Sequence[Step], links: Iterable[Link]) -> dict[str, Bound]:
    """The last day without worry of every step that has one: not too long after what comes before, and early
    enough for all that follow.

    Day numbers are turned round, so that a sweep finds the largest days that keep every rule.
    """
    todo, live = _open(steps, links)
    forward = [(link.before, link.after, -link.most, link) for link in live if link.most is not None]
    backward = [(link.after, link.before, link.least, link) for link in live if link.least is not None]
    edges = _leading_to([*forward, *backward])
    days = {name: Bound(-fact.day, None, -fact.day) for name, fact in _facts(steps).items()}
    for _ in range(len(todo) + 2):
        before = [bound.day for bound in days.values()]
        _swept([*todo, *reversed(todo)], edges, days, _that_day)
        if before == [bound.day for bound in days.values()]:
            return {name: Bound(-bound.day, bound.by, -bound.day) for name, bound in days.items()}
    raise ValueError("a gap of several links is longer than the longest that one of them allows")


def _that_day(_step: Step, day: int) -> int:
    return day


def expected_days(
    steps: Sequence[Step],
    links: Iterable[Link],
    stays: Iterable[Stay],
    next_day: NextDay,
    patience: int = PATIENCE_DAYS,
) -> dict[str, Bound]:
    """The first days that keep every usual gap and fall on days that work; what would come too long before
    another step waits for it.

    Raises what `next_day` raises, and NoSolution when what must stay close is put off longer than
    `patience`, in days.
    """
    todo, live = _open(steps, links)
    edges = _leading_to((link.before, link.after, link.wait, link) for link in live if link.wait is not None)
    days = _swept(todo, edges, _facts(steps), next_day)
    names = {step.id for step in todo}
    close = [stay for stay in stays if {stay.before, stay.after} <= names]
    if all(kept(stay, days) for stay in close):
        return days
    limits = {stay.before: days[stay.before].day + patience for stay in close}
    for stay in close:
        edges.setdefault(stay.before, []).append((stay.after, -stay.most, stay))
    while not all(kept(stay, days) for stay in close):
        _swept(todo, edges, days, next_day)
        late = next((name for name, limit in limits.items() if days[name].day > limit), None)
        if late is not None:
            raise NoSolution(late)
    return days


def kept(stay: Stay, days: Mapping[str, Bound]) -> bool:
    """Whether the two are as close as they should be."""
    return days[stay.after].day - days[stay.before].day <= stay.most
