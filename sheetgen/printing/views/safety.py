"""The safety sheet: what happened, and what to do now, in order.  It replaces the whole set.

Comes in: a `Plan` whose `safety` is set, and `Words`.  Goes out: the view of layouts/documents/safety.layout.
It bears no dates to wait for and no batch line: nothing on it invites anybody to handle a bottle.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.plan import Plan
from sheetgen.printing.views.common import View, foot, frozen, sentence
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

MOST_REASONS = 4
_SLIPS = (
    *("warn.bottled-before", "warn.pitched-before", "warn.hops-before", "warn.hops-after"),
    *("warn.reading-after", "warn.added-after", "warn.bottled-more"),
)


def safety(plan: Plan, words: Words) -> View:
    """What the safety sheet shows."""
    title = words.say("safety.title")
    because = plan.safety.because if plan.safety else ()
    return frozen(
        title=title,
        code=plan.code,
        name=plan.name,
        first=words.say("safety.first"),
        instead=words.say(said("safety.instead", code=plan.code)),
        what=words.say("safety.what"),
        because=tuple(reason_of(reason, words) for reason in (*because, *_slips(plan, len(because)))),
        now=words.say("safety.now"),
        steps=tuple(_steps(words)),
        last=tuple(words.say(f"safety.{name}") for name in ("never", "doubt", "dates")),
        foot=foot(plan, words, title),
    )


def _slips(plan: Plan, said_already: int) -> list[Said]:
    """Facts that contradict one another, as many as find room: one of them may be what is wrong."""
    found = [one.message for one in plan.problems if isinstance(one.message, Said)]
    return [one for one in found if one.id in _SLIPS][: max(0, MOST_REASONS - said_already)]


def reason_of(reason: Said, words: Words) -> str:
    """A reason as a sentence of its own; the gate's as it was when the bottles were filled."""
    then = Said(f"{reason.id}.filled", reason.values)
    return sentence(words.say(then if words.has(then.id) else reason))


def _steps(words: Words) -> Iterator[View]:
    number = 1
    while words.has(f"safety.do.{number}"):
        yield frozen(number=str(number), text=words.say(f"safety.do.{number}"))
        number += 1
