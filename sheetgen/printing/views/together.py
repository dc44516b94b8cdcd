"""Bought together: packs for the whole class, who gets how much of them, and the bottles that each brings.

Comes in: a `ClassPlan` and `Words`.  Goes out: the view of layouts/documents/together.layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from sheetgen.planning.class_plan import BottlesOf, ClassPlan, Joint, Standing
from sheetgen.planning.lists import packs_said
from sheetgen.planning.plan import Amount
from sheetgen.printing import fonts, measures
from sheetgen.printing.views.class_pages import SMALL, called, fitted, head
from sheetgen.printing.views.common import View, capital, frozen, number_of
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

MOST_IN_LINE = 4
_SHARE = 41.0
_NAMES = {"yeast": "buy.yeast", "sugar": "buy.priming", "caps": "buy.caps", "corks": "buy.corks"}
_GRAMS_IN_A_KILO = 1000.0


def together(found: ClassPlan, words: Words) -> View:
    """What the list shows."""
    words = replace(words, home_year=found.printed.year)
    people = [one for one in found.people if one.stand not in ("in-bottles", "unsafe")]
    return frozen(
        page=head(found, words, "together"),
        things=tuple(_thing(one, words) for one in found.shopping),
        bring=frozen(
            title=words.say("together.bring"),
            rows=tuple(row for one in people for row in _bottles(one, words)),
        ),
        nothing=words.say("together.nothing"),
    )


def _thing(one: Joint, words: Words) -> View:
    return frozen(
        name=capital(words.say(_name(one))),
        amount=number_of(words.quantity(*_amount(one))),
        packs=", ".join(words.say(part) for part in _how(one)),
        by=words.say(said("shop.by", on=one.by)),
        shares=_lines([_share(called(each), each.amount, one, words) for each in one.shares]),
    )


def _name(one: Joint) -> Said:
    if one.kind == "sugar" and one.unit == "piece":
        return said("buy.pieces", sugar=one.name)
    found = _NAMES.get(one.kind, "buy.loose")
    return said(found, **({"sugar": one.name} if one.kind == "sugar" else {"name": one.name}))


def _amount(one: Joint) -> tuple[float, str]:
    """The sum with its measure; of yeast, the sachets that are bought."""
    if one.kind == "yeast":
        return one.amount + one.spare, measures.OF_AMOUNT["piece"]
    litres = one.unit == "ml" and one.amount >= _GRAMS_IN_A_KILO
    amount = Amount(one.amount / _GRAMS_IN_A_KILO, "L") if litres else Amount(one.amount, _unit(one))
    return amount.value, measures.OF_AMOUNT[amount.unit]


def _unit(one: Joint) -> Literal["g", "ml", "piece"]:
    return "g" if one.unit == "g" else "ml" if one.unit == "ml" else "piece"


def _how(one: Joint) -> Iterator[Said]:
    if one.kind == "yeast":
        yield said("together.spare", pack=one.packs[0][1], n=one.spare)
    elif one.packs:
        yield packs_said(one.packs, one.left, one.unit)


def _share(who: str, amount: float, one: Joint, words: Words) -> str:
    measured = words.measure(amount, measures.OF_AMOUNT[_unit(one)])
    return f"{fitted(who, _SHARE - fonts.width_mm(measured, SMALL) - 1.5)} {measured}"


def _lines(texts: list[str]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(texts[at : at + MOST_IN_LINE]) for at in range(0, len(texts), MOST_IN_LINE))


# What everybody brings


def _bottles(one: Standing, words: Words) -> Iterator[View]:
    name = fitted(called(one), 50.0)
    for row in one.bottles:
        yield frozen(name=name, text=_row(row, words), short=_short(row, words))
        name = ""


def _row(row: BottlesOf, words: Words) -> str:
    return words.say(said("together.bottles", have=row.have, ml=row.ml, kind=row.kind, need=row.need))


def _short(row: BottlesOf, words: Words) -> str:
    return words.say(said("together.short", n=row.short)) if row.short else ""
