"""The gate of a batch without a hydrometer, on the bottling sheet: look and taste.

Comes in: a `Plan` and `Words`.  Goes out: a part of the view of layouts/documents/bottling.layout.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.plan import PASSED, GateLook, Plan
from sheetgen.printing.views.common import View, day_of, frozen, runs
from sheetgen.printing.words import Words
from sheetgen.problems import said

_HINTS = ("plastic", "again", "sample", "weaker")


def looks_part(plan: Plan, words: Words, most: int) -> View:
    """The rule, what else belongs to it, and at most so many lines for looks."""
    open_yet = plan.gate.state not in PASSED and plan.labels.filled_is != "actual"
    return frozen(
        rule=runs(words, said("bottling.looks.rule", gap=plan.gate.gap_days)),
        hints=tuple(words.say(f"bottling.looks.{name}") for name in _HINTS) if open_yet else (),
        heads=(words.say("bottling.looks.clear"), words.say("bottling.looks.sweet")),
        rows=look_rows(plan, words)[-most:],
    )


def look_rows(plan: Plan, words: Words) -> tuple[View, ...]:
    """The looks that were taken, then those that are planned."""
    return tuple(_rows(plan, words, plan.gate.state not in PASSED and plan.labels.filled_is != "actual"))


def _rows(plan: Plan, words: Words, open_yet: bool) -> Iterator[View]:
    number = 0
    for look in plan.gate.looks:
        number += look.counts
        yield _taken(look, number, words)
    for task in plan.tasks if open_yet else ():
        if task.id.startswith("taste-") and task.state != "done":
            day = day_of(words, task.when.expected)
            yield frozen(name=words.task(task.id), date=day, done=False, counts=True, clear="", sweet="")


def _taken(look: GateLook, number: int, words: Words) -> View:
    answers = {True: words.say("bottling.looks.yes"), False: words.say("bottling.looks.no")}
    return frozen(
        name=words.task(f"taste-{number}" if look.counts else "taste"),
        date=day_of(words, look.on),
        done=True,
        counts=look.counts,
        clear=answers[look.clear],
        sweet=answers[look.sweet],
    )
