"""show --why: for each day the chain of reasons that leads to it, back to the day the yeast goes in.

Comes in: a `Plan` and `Words`.  Goes out: lines for the terminal.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from sheetgen.commands.show_strength import plain
from sheetgen.planning.plan import Plan, Reason, Task
from sheetgen.printing.views.common import dated
from sheetgen.printing.words import Words

_NAMES = ("earliest", "expected", "latest")
_START = "start"
_USUAL_ROOM = (20.0, 22.0)
"""In C; where a drink's days are as its file has them."""


def why_lines(plan: Plan, words: Words) -> Iterator[str]:
    """Every task with its three days; under each day what it was counted from, and what that was counted
    from.
    """
    yield from (plain(line) for line in _lines(plan, dated(plan, words)))


def _lines(plan: Plan, words: Words) -> Iterator[str]:
    yield from _pace(plan, words)
    for task in plan.tasks:
        yield ""
        yield f"{title(task, words)}, {words.day(task.when.expected, 'long-date')}{_slack(task, words)}"
        yield from _task_lines(plan, task, words)


def _pace(plan: Plan, words: Words) -> Iterator[str]:
    """What the days rest on: room and strength."""
    tempo, room = plan.tempo, words.measure(plan.room_c[0], "temperature")
    if tempo is None:
        return
    times = f"{tempo.ferment_factor:.2f}".rstrip("0").rstrip(".")
    strong = words.measure(round(tempo.strength_ferment_days), "days")
    low, high = (words.measure(celsius, "temperature") for celsius in _USUAL_ROOM)
    usual = f"{low} to {high}"
    yield f"{plan.code} · {plan.name}"
    yield f"  at {room} fermenting takes {times} times as long as at {usual}; strength adds about {strong}"
    if tempo.fizz_days:
        warm = words.measure(plan.warm_place_c, "temperature")
        aged = words.measure(round(tempo.strength_bottle_days), "days")
        fizz = words.measure(ceil(tempo.fizz_days), "days")
        yield f"  the fizz takes {fizz} at {warm}; strength adds about {aged} in the bottle"


def title(task: Task, words: Words) -> str:
    """A task's name; looks with their hours, work that comes again with its number."""
    stem, _, number = task.id.rpartition("-")
    name = words.task(task.id)
    if stem == "look":
        return f"{name} {number}"
    return name if not number.isdigit() or name.endswith(number) else f"{name} {number}"


def _slack(task: Task, words: Words) -> str:
    if task.state == "done":
        return " (done)"
    if task.slack_days is None:
        return " (any later day is fine)"
    return (
        f" ({words.measure(task.slack_days, 'days')} between earliest and latest)" if task.slack_days else ""
    )


def _task_lines(plan: Plan, task: Task, words: Words) -> Iterator[str]:
    chains = {name: list(chain(plan, task, name, words)) for name in _NAMES}
    if chains["earliest"] == chains["expected"] == chains["latest"]:
        yield from _block("", chains["expected"])
        return
    for name in _NAMES:
        if chains[name]:
            yield from _block(f"{name} ", chains[name])


def _block(name: str, lines: list[str]) -> Iterator[str]:
    first, *others = lines
    yield f"  {name}{first}"
    yield from (f"    {line}" for line in others)


def chain(plan: Plan, task: Task, name: str, words: Words) -> Iterator[str]:
    """From one of a task's days back to day 0 or to what was done: one line for each step."""
    tasks = {each.id: each for each in plan.tasks}
    while True:
        reason: Reason | None = getattr(task.reasons, name, None)
        if reason is None:
            return
        yield f"{_day(reason, words)}: {_step(plan, task, reason, words)}"
        if name == "expected":
            yield from _moved(task, words)
        elif name == "earliest" and reason.day < task.first_day:
            yield f"{words.day(task.first_day)}: the first day that works for you"
        if reason.counted_from == _START or task.state == "done" or reason.counted_from not in tasks:
            return
        task = tasks[reason.counted_from]


def _step(plan: Plan, task: Task, reason: Reason, words: Words) -> str:
    """So many days after something, and why."""
    because = words.say(reason.because).rstrip(".")
    if task.state == "done" or task.id == "brew":
        return f"{title(task, words)}, {because}"
    other = next((each for each in plan.tasks if each.id == reason.counted_from), None)
    origin = title(other, words) if other else "the yeast"
    if reason.days == 0:
        return f"{title(task, words)}, the same day as {origin} ({because})"
    side = "after" if reason.days > 0 else "before"
    gap = words.measure(abs(reason.days), "days")
    return f"{title(task, words)}, {gap} {side} {origin} ({because})"


def _moved(task: Task, words: Words) -> Iterator[str]:
    """How the expected day came to stand where it stands."""
    if task.moves:
        whys = "; ".join(words.say(move.because).rstrip(".") for move in task.moves)
        yield f"{words.day(task.when.expected)}: moved there ({whys})"


def _day(reason: Reason, words: Words) -> str:
    return words.day(reason.day)
