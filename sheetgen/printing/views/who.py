"""Who is where: a page for the coach, with those on top who need somebody to look after them first.

Comes in: a `ClassPlan` and `Words`.  Goes out: the view of layouts/documents/who.layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sheetgen.planning.class_plan import ORDER, ClassPlan, Stand, Standing
from sheetgen.printing.views.class_pages import fitted, head
from sheetgen.printing.views.common import View, capital, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import said

_NAME, _COMING = 40.0, 60.0
_WITH_REASON = ("unsafe", "stuck", "measure-again", "wait")


def who(found: ClassPlan, words: Words) -> View:
    """What the page shows: a part for each way to stand, its people by the day of what is next."""
    words = replace(words, home_year=found.printed.year)
    return frozen(page=head(found, words, "who"), parts=tuple(_parts(found, words)))


def _parts(found: ClassPlan, words: Words) -> Iterator[View]:
    for stand in ORDER:
        people = sorted((one for one in found.people if one.stand == stand), key=lambda one: one.turn)
        if people:
            yield frozen(
                title=words.say(f"stand.{stand}"),
                do=words.say(f"stand.do.{stand}"),
                rows=tuple(_row(one, stand, words) for one in people),
            )


def _row(one: Standing, stand: Stand, words: Words) -> View:
    reasons = [words.say(reason).rstrip(".") for reason in one.because] if stand in _WITH_REASON else []
    return frozen(
        code=one.code,
        name=fitted(one.name, _NAME),
        read=words.say(said("who.read", sg=one.read[1], on=one.read[0])) if one.read else "",
        coming=fitted(_coming(one, stand, words), _COMING),
        reason=capital("; ".join(reasons)),
    )


def _coming(one: Standing, stand: Stand, words: Words) -> str:
    """What is next, and on which day."""
    if stand in ("unsafe", "stuck") or one.next is None:
        return ""
    return words.say(said("who.coming", task=one.next.id, on=one.next.on))
