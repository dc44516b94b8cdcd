"""Steps and links on one batch's calendar: dates, moves and reasons.

Comes in: a `Case`, the steps and the links of its graph.  Goes out: tasks with earliest, expected and latest
dates, in the order of the steps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from functools import lru_cache

from sheetgen.planning.event_days import event_links
from sheetgen.planning.graph import (
    START,
    Bound,
    Link,
    NoSolution,
    Stay,
    Step,
    earliest_days,
    expected_days,
    first_days,
    latest_days,
)
from sheetgen.planning.life import Life, NoDay
from sheetgen.planning.plan import Move, Reason, Reasons, Task, When
from sheetgen.planning.planner import Planner
from sheetgen.planning.waits import Case, stays_of, way_to_bottling, worry
from sheetgen.problems import said
from sheetgen.records import record

PATTERN_DAYS = 56
"""Weekdays and shifts come round within this."""
_UNTIL_SAID = ("dry-hop", "bottle")
"""What is still to do until the file says that it was done, however late it is; and so is every test."""

_Days = dict[str, Bound]


@record
class _Found:
    """The passes, the expected days as they were before anything had to stay close, and all links, with
    those that end them: the last day for bottling, and the events that are met.
    """

    earliest: _Days
    first_free: _Days
    expected: _Days
    latest: _Days
    at_first: _Days
    links: list[Link]


def waits_for_word(step: Step) -> bool:
    """Whether a step is to do until the file says that it was done: it is never planned for yesterday."""
    return step.id in _UNTIL_SAID or step.kind == "testing"


def _find(plan: Planner, step: Step, day: int) -> int:
    """The first day that works for a step, not before today if it is still to do."""
    on = plan.day(day)
    if on < plan.today and plan.begun and waits_for_word(step):
        on = plan.today
    if not step.kind or not step.movable:
        return day
    return plan.number(plan.life.next_day(on, step.kind)[0])


def _expected(plan: Planner, steps: Sequence[Step], links: Sequence[Link], stays: Sequence[Stay]) -> _Days:
    return expected_days(steps, links, stays, lambda step, day: _find(plan, step, day))


def expected_of(case: Case, steps: Sequence[Step], links: Sequence[Link]) -> _Days:
    """The expected days alone."""
    return _staying_close(case, steps, links, _expected(case.plan, steps, links, ()))


def _worked_out(
    case: Case, steps: Sequence[Step], links: Sequence[Link], usual_bottling: Callable[[], int]
) -> _Found:
    plan = case.plan
    at_first = _expected(plan, steps, links, ())
    expected = _staying_close(case, steps, links, at_first)
    today = plan.number(plan.today)
    floors = {step.id: min(today, expected[step.id].day) for step in steps}
    met = [link for link in event_links(plan) if expected[link.after].day <= (link.most or 0)]
    ends = [*links, worry(case, expected["bottle"].day, usual_bottling), *met]
    return _Found(
        earliest_days(steps, links, floors),
        _first_free(plan, steps, links, floors, expected),
        expected,
        latest_days(steps, ends),
        at_first,
        ends,
    )


def _first_free(
    plan: Planner, steps: Sequence[Step], links: Sequence[Link], floors: dict[str, int], expected: _Days
) -> _Days:
    """The earliest days that work; where a year has none from there on, the expected ones."""
    try:
        return first_days(
            steps, links, lambda step, day: _find(plan, step, max(day, floors.get(step.id, day)))
        )
    except NoDay:
        return expected


def _staying_close(case: Case, steps: Sequence[Step], links: Sequence[Link], at_first: _Days) -> _Days:
    """Hops and the last reading moved towards bottling, where that lies too far behind them.

    Whether they can be kept close is asked of the weekdays alone: otherwise one more day away could end a
    rule, and bring a day forward.
    """
    stays = [stay for stay in stays_of(case) if _apart(stay, at_first) > stay.most]
    if not stays:
        return at_first
    lasting = [stay for stay in stays_of(case) if _weekdays_keep(case, stay)]
    try:
        return _expected(case.plan, steps, links, lasting)
    except NoSolution:
        return at_first


def _apart(stay: Stay, days: _Days) -> int:
    return days[stay.after].day - days[stay.before].day


def _weekdays_keep(case: Case, stay: Stay) -> bool:
    """Whether somebody who is never away could keep the two so close, with slow readings in between."""
    steps, links = way_to_bottling(case, stay)
    return _pattern_keeps(
        case.plan.life.without_single_days(), case.plan.pitched, tuple(steps), tuple(links), stay
    )


@lru_cache(maxsize=256)
def _pattern_keeps(
    life: Life, pitched: date, steps: tuple[Step, ...], links: tuple[Link, ...], stay: Stay
) -> bool:
    """The same for a life of weekdays and shifts; what-ifs ask it again and again."""

    def next_day(step: Step, day: int) -> int:
        return (life.next_day(pitched + timedelta(days=day), step.kind or "looking")[0] - pitched).days

    try:
        expected_days(steps, links, [stay], next_day, PATTERN_DAYS)
    except NoSolution:
        return False
    return True


# Tasks


def timetable(
    case: Case, steps: Sequence[Step], links: Sequence[Link], usual_bottling: Callable[[], int]
) -> list[Task]:
    """A task for each step, dated, with what it waits for and what decided its days.

    `usual_bottling`: the day of bottling by the rules alone; it is asked only where it matters.
    """
    found = _worked_out(case, steps, links, usual_bottling)
    waits: dict[str, list[Link]] = {}
    for link in found.links:
        waits.setdefault(link.after, []).append(link)
    return [_task(case.plan, step, found, waits.get(step.id, ())) for step in steps]


def _task(plan: Planner, step: Step, found: _Found, waits: Sequence[Link]) -> Task:
    expected, reasons = found.expected[step.id], _reasons(plan, step, found)
    latest = None if reasons.latest is None else reasons.latest.day
    because = (reasons.expected.because,)
    return Task(
        id=step.id,
        day=expected.day,
        when=When(reasons.earliest.day, plan.day(expected.day), latest, because),
        hands_on=step.hands_on,
        state="to-do" if step.on is None else "done",
        moves=tuple(_moves(plan, step, expected, found.at_first[step.id].day)),
        kind=step.kind,
        needs=step.needs,
        may_move=step.movable,
        waits=tuple(waits),
        reasons=reasons,
        first_free=plan.day(found.first_free[step.id].day),
    )


def _moves(plan: Planner, step: Step, found: Bound, at_first: int) -> Iterator[Move]:
    """Where it stood and why it could not stay: moved along with another, late already, or no day for it."""
    if step.on is not None or not step.movable or not step.kind:
        return
    wanted = plan.day(found.wanted)
    if isinstance(found.by, Stay):
        yield Move(plan.day(at_first), found.by.because)
    if wanted < plan.today and plan.begun and waits_for_word(step):
        yield Move(wanted, said("move.today", today=plan.today))
    elif found.day != found.wanted:
        yield from plan.life.next_day(wanted, step.kind)[1]


def _reasons(plan: Planner, step: Step, found: _Found) -> Reasons:
    first, expected = found.earliest[step.id], found.expected[step.id]
    if step.on is not None:
        chosen = "why.brew-day" if "brew-day" in plan.batch.where else "why.brew-day-found"
        done = step.movable or plan.begun
        fact = Reason(plan.day(step.on), START, step.on, said("why.done" if done else chosen))
        return Reasons(fact, fact, fact)
    late = found.latest.get(step.id)
    return Reasons(
        _floor(plan, first) if first.day > first.wanted else _reason(plan, step, first, found.earliest),
        _reason(plan, step, expected, found.expected),
        None if late is None else _last(plan, step, late, found),
        plan.day(late.day) if late is not None and late.day < expected.day else None,
    )


def _floor(plan: Planner, first: Bound) -> Reason:
    """What could have been done sooner, and was not."""
    return Reason(plan.day(first.day), START, first.day, said("move.today", today=plan.today))


def _last(plan: Planner, step: Step, late: Bound, found: _Found) -> Reason:
    """The latest day; where life has put the expected one behind it, that one.  What a day is counted from
    may be late itself, and is printed on another day then: what made that one due is named instead.
    """
    expected = found.expected[step.id].day
    if expected > late.day:
        return Reason(plan.day(expected), START, expected, said("why.late", on=plan.day(late.day)))
    origin, rule = _ground(step.id, late)
    while found.expected[origin].day > found.latest[origin].day:
        origin, rule = _ground(origin, found.latest[origin])
    return Reason(plan.day(late.day), origin, late.day - found.latest[origin].day, rule.because)


def _reason(plan: Planner, step: Step, bound: Bound, days: _Days) -> Reason:
    """The rule that decided a day, counted from the day of the same name at its other end."""
    origin, rule = _ground(step.id, bound)
    return Reason(plan.day(bound.wanted), origin, bound.wanted - days[origin].day, rule.because)


def _ground(step_id: str, bound: Bound) -> tuple[str, Link | Stay]:
    """The step at the other end of the rule that decided a day, and the rule."""
    if bound.by is None:
        raise ValueError(f"no rule says when {step_id} is due")
    return bound.by.after if bound.by.before == step_id else bound.by.before, bound.by
