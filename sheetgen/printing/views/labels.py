"""Labels for bottles, and discs for their caps.

Comes in: a `Plan`, `Words` and the stock.  Goes out: the views of labels.layout and discs.layout.
How much a label says hangs on the height inside its margins, in three tiers; allergens are never dropped.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.planning.plan import LabelPlan, Plan
from sheetgen.printing import fonts
from sheetgen.printing.labels import inner_size
from sheetgen.printing.stock import Stock
from sheetgen.printing.views.common import View, frozen, runs
from sheetgen.printing.words import Words
from sheetgen.problems import said

FULL_MM, MIDDLE_MM = 45.0, 27.0
MARGINS = {"full": 4.5, "middle": 3.2, "small": 3.2}
_ROUND_MARGIN = 4.5
_MOST_MONTHS = 9
_LONG_DAYS, _YEARS_FROM_DAYS = 330, 500
_CEREALS = ("barley", "wheat", "rye", "oats")
_FULL_HEIGHT, _NAME_SHARE, _NAME_PT, _TINY_PT = 49.6, 0.70, 10.5, 8.0


def labels(plan: Plan, words: Words, stock: Stock) -> View:
    """What the bottle labels show: one for each bottle in the order of filling, then the spare ones."""
    tier = tier_of(stock)
    return frozen(
        tier=tier,
        margin=_ROUND_MARGIN if stock.round else MARGINS[tier],
        place="middle" if stock.round else "top",
        strip=tier == "full" and _strip_fits(plan, words, stock),
        bottles=tuple(_bottles(plan, words)) if plan.labels.allowed else (),
        **shared(plan, words, stock),
    )


def tier_of(stock: Stock) -> str:
    """How much the label holds: "full", "middle" or "small", by its height inside the margins."""
    if inner_size(stock, MARGINS["full"])[1] >= FULL_MM and not stock.round:
        return "full"
    if inner_size(stock, MARGINS["middle"])[1] >= MIDDLE_MM and not stock.round:
        return "middle"
    return "small"


def _strip_fits(plan: Plan, words: Words, stock: Stock) -> bool:
    """Whether the strip of months finds room beside a long name and long allergens."""
    width, height = inner_size(stock, MARGINS["full"])
    allergens = "".join(str(run["text"]) for run in _allergens(plan, words))
    lines = fonts.width_mm(allergens, _TINY_PT, bold=True) // width
    name = fonts.width_mm(plan.name, _NAME_PT, bold=True) > width * _NAME_SHARE
    return height >= _FULL_HEIGHT + 4.0 * lines + 5.2 * name


def shared(plan: Plan, words: Words, stock: Stock) -> dict[str, object]:
    """What all labels, tags and bands of the batch share."""
    label, width = plan.labels, inner_size(stock, MARGINS[tier_of(stock)])[0]
    planned = label.filled_is == "planned"
    keeps = _keeps_long(label)
    pour = "label.pour" if plan.carbonation else "label.pour-still"
    return {
        "planned": planned,
        "not_before": words.say("label.not-before-planned" if planned else "label.not-before"),
        "or": words.say("label.or"),
        "date": words.day(label.not_before, "full-date" if keeps else "long-date"),
        "short_date": words.day(label.not_before, "full-date" if keeps else "date"),
        "code": plan.code,
        "name": plan.name,
        "filled": words.say(said("label.filled-planned" if planned else "label.filled", on=label.filled)),
        "strength": words.say(said("label.strength", percent=plan.quantities.percent_by_volume)),
        "swatch": plan.quantities.swatch,
        "colour": words.say(said("label.colour", ebc=round(plan.quantities.colour_ebc or 0))),
        **_kept(label, words),
        "allergens": _allergens(plan, words),
        "pour": words.say(pour),
        "keep": words.say("label.keep-lying" if plan.bottles.corks else "label.keep"),
        "home_made": words.say("label.home-made"),
        "wide": width >= 70.0,
    }


def _keeps_long(label: LabelPlan) -> bool:
    """Whether a day without its year could be read as one of another year."""
    return (label.best_before - label.filled).days > _LONG_DAYS


def _allergens(plan: Plan, words: Words) -> tuple[View, ...]:
    """What it contains; when not everything is known, whom to ask."""
    names = _names(plan.labels.allergens, words)
    brewer = plan.brewer or words.say("label.the-brewer")
    if not plan.labels.allergens_known:
        known = "label.contains-and-unknown" if names else "label.allergens-unknown"
        return runs(words, said(known, names=", ".join(names), brewer=brewer))
    return runs(words, said("label.contains", names=", ".join(names)) if names else "label.no-allergen")


def _names(allergens: tuple[str, ...], words: Words) -> list[str]:
    """The allergens in words, the cereals first and together, for they share the gluten."""
    named = {one: words.say(f"allergen.{one}") if words.has(f"allergen.{one}") else one for one in allergens}
    cereals = [named[one] for one in allergens if one in _CEREALS]
    others = [named[one] for one in allergens if one not in _CEREALS]
    gluten = [words.say(said("label.gluten", names=", ".join(cereals)))] if cereals else []
    return gluten + others


def _bottles(plan: Plan, words: Words) -> Iterator[View]:
    total, odd = plan.bottles.numbered, plan.bottles.odd
    for row in plan.bottles.rows:
        first, last = row.numbers
        kept = _kept(_label_of(plan, row.kind), words)
        for number in range(first, last + 1) if row.fill else ():
            size = words.say(said("label.what", ml=row.ml, percent=plan.quantities.percent_by_volume))
            yield _bottle(number, total, size, words, kept)
    strength = words.say(said("label.strength", percent=plan.quantities.percent_by_volume))
    if odd is not None:
        yield _bottle(odd.number, total, strength, words, _kept(_label_of(plan, odd.kind), words))
    spare = _kept(_label_of(plan), words)
    for _spare in range(max(0, plan.bottles.labels - total)):
        yield _bottle(0, total, strength, words, spare)


def _label_of(plan: Plan, kind: str = "") -> LabelPlan:
    """The label's days for one kind of bottle; a spare one, for any kind, has the earliest of all."""
    kept = plan.keeping.bottles if plan.keeping else ()
    mine = [one for one in kept if one.kind == kind] or [one for one in kept if one.filled]
    if not mine:
        return plan.labels
    first = min(mine, key=lambda one: one.best_before)
    return replace(plan.labels, best_to=first.best_to, best_before=first.best_before)


def _kept(label: LabelPlan, words: Words) -> dict[str, object]:
    """The days until which it is good, in words and as a strip of months."""
    best = "label.best" if label.best_to.year == label.filled.year else "label.best-year"
    return {
        "best": words.say(said(best, from_day=label.best_from, to_day=label.best_to)),
        "best_before": words.say(said("label.best-before", on=label.best_before)),
        "months": _months(label, words),
    }


def _bottle(number: int, total: int, what: str, words: Words, kept: dict[str, object]) -> View:
    """One label's own words; number 0 is a spare one, its number left to write."""
    name = f"{words.say('label.bottle')} {number}" if number else words.say("label.title")
    return frozen(
        **kept,
        name=name,
        blank=number == 0,
        word=words.say("label.bottle"),
        of=words.say(said("label.blank-number", total=total)),
        number=words.say(said("label.number", n=number, total=total)),
        short=words.say(said("label.number-short", n=number, total=total)),
        what=what,
    )


def _months(label: LabelPlan, words: Words) -> View:
    """The strip of months from filling to best before: waiting, best, still good; a mark at the first day."""
    last = max(label.best_before, label.best_to)
    days = max(1, (last - label.filled).days)

    def at(day: date) -> float:
        return round(min(1.0, max(0.0, (day - label.filled).days / days)), 4)

    starts, years = list(_first_days(label.filled, last)), days > _YEARS_FROM_DAYS
    if years:
        starts = [day for day in starts if day.month == 1]
    step = -(-len(starts) // _MOST_MONTHS) or 1
    return frozen(
        best_from=at(label.best_from),
        best_to=at(label.best_to),
        not_before=at(label.not_before),
        starts=tuple(
            frozen(at=at(day), text=words.date_parts(day)["year" if years else "month"])
            for day in starts[step - 1 :: step]
            if at(day) < 0.95
        ),
    )


def _first_days(start: date, end: date) -> Iterator[date]:
    """The first day of every month after a start and up to an end."""
    day = (start.replace(day=1) + timedelta(days=32)).replace(day=1)
    while day <= end:
        yield day
        day = (day + timedelta(days=32)).replace(day=1)


def discs(plan: Plan, words: Words, stock: Stock) -> View:
    """What the cap discs show: the code, and once the batch is bottled the first day of drinking."""
    actual = plan.labels.filled_is == "actual"
    if _keeps_long(plan.labels):
        words = replace(words, home_year=plan.labels.not_before.year - 1)  # every day shows its year
    wide = stock.width >= 22
    return frozen(
        name=words.say("disc.title"),
        copies=plan.bottles.labels if plan.labels.allowed else 0,
        code=plan.code,
        size=18 if wide else 15,
        date=words.say(said("disc.from", on=plan.labels.not_before)) if actual else "",
    )
