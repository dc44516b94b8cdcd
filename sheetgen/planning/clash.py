"""When not everything can be kept: a smallest set of rules that clash.

Comes in: steps, and rules: links, what has to stay close, days on which something cannot be done.  Goes out:
rules that cannot all be kept, of which none can be left out; or none at all.

The answer is exact.  Links ask for days in one direction and closed days for the next open one, so the first
days that keep every rule are found by raising all of them until none rises; past the horizon there are none.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sheetgen.planning.graph import START, Link, Stay, Step
from sheetgen.problems import Said
from sheetgen.records import record

HORIZON_DAYS = 366


@record
class Closed:
    """A reason why some steps cannot be done on some days: whether it closes a day for a step."""

    because: Said
    closes: Callable[[Step, int], bool]


Rule = Link | Stay | Closed


def possible(steps: Sequence[Step], rules: Sequence[Rule], horizon: int = HORIZON_DAYS) -> bool:
    """Whether there are days from 0 to `horizon` that keep every rule.  Only least and longest gaps are
    rules; what is usual is no must, and a step that was done waits for nothing.
    """
    days = {START: 0, **{step.id: step.on for step in steps if step.on is not None}}
    todo = [step for step in steps if step.on is None]
    held = [each for each in _held(rules) if each[1] in {step.id for step in todo}]
    closed = [rule for rule in rules if isinstance(rule, Closed)]
    low = dict.fromkeys((step.id for step in todo), 0)
    while True:
        before = dict(low)
        for step in todo:
            day = _open_day(step, _least(step.id, held, {**days, **low}), closed, horizon)
            if day is None:
                return False
            low[step.id] = day
        found = {**days, **low}
        if any(most is not None and found[b] + most < found[a] for b, a, _, most in held if b in days):
            return False
        if before == low:
            return True


_Held = tuple[str, str, int | None, int | None]


def _held(rules: Sequence[Rule]) -> list[_Held]:
    """(before, after, least, most) of every link and of all that has to stay close."""
    links = [(rule.before, rule.after, rule.least, rule.most) for rule in rules if isinstance(rule, Link)]
    return links + [(rule.before, rule.after, None, rule.most) for rule in rules if isinstance(rule, Stay)]


def _least(name: str, held: Sequence[_Held], days: dict[str, int]) -> int:
    """The highest of what the others ask of a step, and where it stands already."""
    asked = [days[before] + least for before, after, least, _ in held if after == name and least is not None]
    back = [days[after] - most for before, after, _, most in held if before == name and most is not None]
    return max([days[name], *asked, *back])


def _open_day(step: Step, day: int, closed: Sequence[Closed], horizon: int) -> int | None:
    for on in range(day, horizon + 1):
        if not any(rule.closes(step, on) for rule in closed):
            return on
    return None


def clash(steps: Sequence[Step], rules: Sequence[Rule], horizon: int = HORIZON_DAYS) -> tuple[Rule, ...]:
    """Rules that cannot all be kept, in the order given, none of which can be left out; () if all can.

    One after another is left out for good if the rest clashes without it; the first rules go first, so the
    last ones are those that are named in preference.
    """
    if possible(steps, rules, horizon):
        return ()
    kept = list(rules)
    for rule in rules:
        others = [other for other in kept if other is not rule]
        if not possible(steps, others, horizon):
            kept = others
    return tuple(kept)


def not_after(step_id: str, day: int, because: Said) -> Link:
    """A deadline, as a rule."""
    return Link(START, step_id, because, most=day)
