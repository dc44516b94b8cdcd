"""The shopping sheet: what to buy and set out, the bottles, the cleaning, and all that was taken for granted.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/shop.layout.
"""

from __future__ import annotations

from datetime import date, timedelta

from sheetgen.planning.bottling import enough_bottles, spares_missing
from sheetgen.planning.plan import BottlePlan, BottleRow, Cleaning, Line, Plan
from sheetgen.printing import measures
from sheetgen.printing.views.common import (
    View,
    amount_of,
    capital,
    cautions_of,
    frozen,
    in_a_row,
    number_of,
    page,
    paired,
    runs,
    sentence,
)
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

COLUMNS = 3
FAR_DAYS = 70
"""Further off, a month says enough."""
_FOR_THE_FILE = ("fix.past-brew-day", "fix.bottle-unknown", "fix.no-day")
_BESIDE_THE_BOTTLES = "fix.few-bottles"


def shop(plan: Plan, words: Words) -> View:
    """What the shopping sheet shows."""
    brewing = plan.task("brew").when.expected
    eve = brewing - timedelta(days=1)
    lists = plan.lists
    usual = lists.buy[0].by or eve if lists.buy else eve
    return frozen(
        page=page(plan, words, "shop", (brewing, brewing)),
        subtitle=runs(words, said("shop.subtitle", on=usual)),
        continued=words.say("shop.continued"),
        buy=_list(words.say("shop.buy"), lists.buy, words, usual),
        left=_left_overs(plan, words),
        about_packs=" ".join(words.say(sentence) for sentence in lists.about_packs),
        evening=_list(words.say(said("shop.evening", on=eve)), lists.evening_before, words, eve),
        cautions=cautions_of(plan, words, "shop"),
        set_out=_list(words.say("shop.set-out"), lists.set_out, words, eve),
        bottles=_bottles(plan, words),
        cleaning=_cleaning(lists.cleaning, words),
        tag=_tag(plan, words),
        assumed=_assumed(plan, words),
        warned=_warned(plan, words),
    )


def _list(title: str, lines: tuple[Line, ...], words: Words, usual: date) -> View:
    """A list; a line's day is printed only where it is not the usual one, which stands above."""
    return frozen(title=title, lines=tuple(line_of(line, words, usual) for line in lines))


def line_of(line: Line, words: Words, usual: date) -> View:
    """A line of a list; its day where it is not the `usual` one."""
    by = words.say(said("shop.by", on=line.by)) if line.by and line.by != usual else ""
    note = words.say(line.note) if line.note else ""
    return frozen(
        text=capital(words.say(line.said)),
        amount=amount_of(words, line.amount),
        note=", ".join(text for text in (by, note) if text),
    )


def _left_overs(plan: Plan, words: Words) -> View:
    """What is left of opened packs, one short line each, and whose word counts."""
    opened = plan.task("brew").when.expected
    lines = tuple(_left(line, words, opened) for line in plan.lists.left_overs)
    return frozen(title=words.say("shop.left"), lines=lines, label=capital(words.say("shop.left-label")))


def _left(line: Line, words: Words, opened: date) -> View:
    """What it is, and how it keeps: to a day, or to a month that is far."""
    how = words.say(line.note) if line.note else ""
    if line.by:
        far = (line.by - opened).days > FAR_DAYS
        how = words.say(said("shop.left-until-month" if far else "shop.left-until", how=how, on=line.by))
    name = words.say(line.said)
    amount = line.amount
    measured = words.measure(amount.value, measures.OF_AMOUNT[amount.unit]) if amount else ""
    return frozen(text=paired(words, " ".join(part for part in (measured, name) if part), how))


def _bottles(plan: Plan, words: Words) -> View:
    bottles = plan.bottles
    on, ways = plan.task("bottle").when.expected, bottles.more_ways
    enough = enough_bottles(ways, on, spares_missing(bottles)) if ways else None
    return frozen(
        title=words.say("shop.bottles"),
        heads=tuple(words.say(f"shop.{name}") for name in ("have", "need", "short")),
        rows=tuple(_bottle_row(row, words) for row in bottles.rows),
        caps=words.say(caps_and_labels(bottles)),
        after=sentence(words.say(enough)) if enough else "",
    )


def caps_and_labels(bottles: BottlePlan) -> Said:
    """How many caps and labels go with the bottles, and how many of the bottles are spare."""
    if bottles.corks:
        both = "shop.closures-and-labels" if bottles.crown_caps else "shop.corks-and-labels"
        return said(both, caps=bottles.crown_caps, corks=bottles.corks, n=bottles.labels)
    sentence = "shop.caps-and-labels" if bottles.crown_caps else "shop.labels"
    if bottles.spares:
        sentence = "shop.caps-labels-spare" if bottles.crown_caps else "shop.labels-spare"
    return said(sentence, caps=bottles.crown_caps, n=bottles.labels, spare=bottles.spares)


def _bottle_row(row: BottleRow, words: Words) -> View:
    return frozen(
        name=words.say(said("shop.bottle-row", ml=row.ml, kind=row.kind)),
        have=str(row.have),
        need=str(row.need),
        short=str(row.short) if row.short else words.say("shop.none-short"),
        missing=row.short > 0,
    )


def _cleaning(rows: tuple[Cleaning, ...], words: Words) -> tuple[View, ...]:
    """How much of each product for both days, and how to use it: a cleaner that soaks has its own part."""
    soaking = [row for row in rows if row.what == "clean" and row.soaks]
    sanitising = [row for row in rows if row.what == "sanitise"]
    quick = [row for row in rows if row.what == "clean" and not row.soaks]
    parts = [_product("shop.cleaner", soaking, [], words)] if soaking else []
    return (*parts, _product("shop.sanitiser", sanitising, quick[:1], words))


def _product(title: str, rows: list[Cleaning], before: list[Cleaning], words: Words) -> View:
    first = rows[0]
    low, high = first.minutes
    contact = said("shop.contact-one" if low == high else "shop.contact", low=low, high=high)
    rinse = Said("shop.rinse" if first.rinse else "shop.no-rinse")
    washed = [words.say(said("shop.wash-first", product=row.product, water=row.water)) for row in before]
    use = (contact, rinse, *([] if title == "shop.cleaner" else [Said("shop.label-wins")]))
    return frozen(
        title=words.say(said(title, product=first.product)),
        rows=tuple(_mix(row, words) for row in rows),
        use=(*washed, in_a_row(words, (words.say(part) for part in use))),
    )


def _mix(row: Cleaning, words: Words) -> View:
    text = words.say(said(f"shop.mix-{row.day}", litres=row.litres, water=row.water))
    unit = row.dose_unit if row.dose_unit in ("g", "ml") else "piece"
    return frozen(text=text, amount=number_of(words.quantity(row.dose, measures.OF_AMOUNT[unit])))


def _assumed(plan: Plan, words: Words) -> View:
    lines = tuple(capital(words.say(sentence)) for _key, sentence in plan.assumptions)
    rows = -(-len(lines) // COLUMNS)
    columns = tuple(lines[start : start + rows] for start in range(0, len(lines), rows or 1))
    return frozen(title=words.say(said("shop.assumed", n=len(lines))), columns=columns)


def _warned(plan: Plan, words: Words) -> View:
    """The findings that may stand on paper; plain English ones concern the file and stay on the screen."""
    found = [one for one in plan.problems if one.level == "warn" and isinstance(one.message, Said)]
    lines = []
    for problem in found:
        fix = words.say(problem.fix) if isinstance(problem.fix, Said) and _is_useful(problem.fix) else ""
        lines.append(paired(words, capital(words.say(problem.message)), fix))
    return frozen(title=words.say("shop.warned"), lines=tuple(lines))


def _is_useful(fix: Said) -> bool:
    """Whether a way out belongs here: not what is written into the file, nor what stands in another box."""
    return fix.id not in _FOR_THE_FILE and not fix.id.startswith(_BESIDE_THE_BOTTLES)


def _tag(plan: Plan, words: Words) -> View:
    """What hangs on the vessel until it is opened."""
    later = (task.when.expected for task in plan.tasks if task.day > 0 and task.hands_on)
    return frozen(
        title=words.say("shop.tag"),
        brewed=words.say(said("shop.tag-brewed", on=plan.task("brew").when.expected)),
        closed=words.say(said("shop.tag-closed", on=next(later, plan.labels.filled))),
    )
