"""The trouble card: what the drink may do, and what to do then, with this batch's numbers.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/trouble.layout.
"""

from __future__ import annotations

from sheetgen.planning.plan import Plan, Trouble, TroubleCard
from sheetgen.printing.views.common import View, capital, frozen, page, runs
from sheetgen.printing.words import Words
from sheetgen.problems import Said


def trouble(plan: Plan, words: Words) -> View:
    """What the trouble card shows."""
    begins = plan.task("brew").when.expected
    card = plan.trouble or TroubleCard((), (), (), ())
    places = (("vessel", card.vessel), ("bottles", card.bottles), ("any-day", card.any_day))
    here = any(one.now for _name, troubles in places for one in troubles)
    return frozen(
        page=page(plan, words, "trouble", (begins, plan.labels.best_from)),
        subtitle=runs(words, "trouble.subtitle-now" if here else "trouble.subtitle"),
        continued=words.say("trouble.continued"),
        facts=tuple(runs(words, fact) for fact in card.facts),
        groups=tuple(
            frozen(title=words.say(f"trouble.{name}"), rows=tuple(_row(one, words) for one in troubles))
            for name, troubles in places
            if troubles
        ),
        first=words.say("trouble.first"),
    )


def _row(one: Trouble, words: Words) -> View:
    return frozen(
        when=capital(words.say(one.when)),
        then=_together(one.then, words),
        head=words.say(f"caution.{one.caution}.head") if one.caution else "",
        says=words.say(f"caution.{one.caution}.says") if one.caution else "",
        now=one.now,
    )


def _together(sentences: tuple[Said, ...], words: Words) -> tuple[View, ...]:
    """Sentences after one another, in their voices."""
    found: list[View] = []
    for number, sentence in enumerate(sentences):
        found += [frozen(text=" ", bold=False, struck=False)] if number else []
        found += runs(words, sentence)
    return tuple(found)
