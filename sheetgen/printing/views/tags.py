"""Gift tags, and bands for the necks of bottles that carry no label.

Comes in: a `Plan`, `Words` and the stock.  Goes out: the views of tags.layout and bands.layout.  A tag's
square code holds the tag's own words as plain text, so that any phone reads them without a network.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.plan import Plan
from sheetgen.printing import fonts
from sheetgen.printing.rows import code_modules
from sheetgen.printing.stock import Stock
from sheetgen.printing.views.common import View, frozen
from sheetgen.printing.views.labels import shared
from sheetgen.printing.words import Words
from sheetgen.problems import SaidValue, said

_MOST_MODULES = 53
"""A code of 24.5 mm has modules of 0.46 mm at least: nearly three dots of a coarse printer."""
_PLAIN = str.maketrans({"\u00a0": " ", "\u202f": " "})
_TEXT_AT, _FOR_PT, _LARGE, _SMALL = 9.0, 10.5, 18.0, 14.0
_TAG_DATE_MM, _BAND_DATE_MM, _NAME_MM, _TAG_WORDS_MM = 43.0, 46.0, 58.0, 72.0
_TINY_PT, _BAND_WORDS_MM = 8.0, 120.0
"""A band has two lines for the name and the allergens; a name that is too long for them is left out."""


def tags(plan: Plan, words: Words, stock: Stock) -> View:
    """What gift tags show: one for each bottle that is kept for somebody, for every bottle where none is."""
    common = shared(plan, words, stock)
    for_word = words.say("tag.for")
    return frozen(
        **common,
        tags=tuple(_tags(plan, words)) if plan.labels.allowed else (),
        for_word=for_word,
        for_at=round(_TEXT_AT + fonts.width_mm(for_word, _FOR_PT) + 2, 1),
        date_size=_date_size(common, _TAG_DATE_MM),
        caution=words.say("tag.caution"),
        back=words.say("tag.back"),
        roomy=_lines(plan.name, _NAME_MM) == 1 or _lines(_contains(common), _TAG_WORDS_MM) == 1,
        code_text=_code_text(plan, words, common),
    )


def _tags(plan: Plan, words: Words) -> Iterator[View]:
    given = [row for row in plan.bottles.rows if row.what_for and row.fill]
    counted = {
        row.ml: row.units for row in plan.quantities.drink_units if row.country == words.customs.drink_units
    }
    for row in given or plan.bottles.rows:
        first, last = row.numbers
        what = words.say(said("label.what", ml=row.ml, percent=plan.quantities.percent_by_volume))
        units = words.say(said("tag.units", units=counted[row.ml])) if row.ml in counted else ""
        for number in range(first, last + 1) if row.fill else ():
            name = f"{words.say('tag.title')}, {words.say('label.bottle')} {number}"
            yield frozen(name=name, who=row.what_for, what=what, units=units)


def _lines(text: str, width: float) -> int:
    return int(fonts.width_mm(text, _TINY_PT, bold=True) // width) + 1


def _date_size(common: View, room: float) -> float:
    return _LARGE if fonts.width_mm(str(common["short_date"]), _LARGE, bold=True) <= room else _SMALL


def _code_text(plan: Plan, words: Words, common: View) -> str:
    """The tag's words for a phone, as many as the code holds; "" where not even the fewest find room."""
    label = plan.labels
    values: dict[str, SaidValue] = {
        "code": plan.code,
        "name": plan.name,
        "filled": label.filled,
        "on": label.not_before,
        "until": label.best_before,
        "strength": str(common["strength"]),
        "contains": _contains(common),
    }
    kind = "tag.code-planned" if label.filled_is == "planned" else "tag.code"
    texts = (words.say(said(name, **values)).translate(_PLAIN) for name in (kind, f"{kind}-short"))
    return next((text for text in texts if 0 < code_modules(text) <= _MOST_MODULES), "")


def _contains(common: View) -> str:
    return "".join(str(run["text"]) for run in common["allergens"])  # type: ignore[attr-defined]


def bands(plan: Plan, words: Words, stock: Stock) -> View:
    """What neck bands show: one for each bottle that gets a label."""
    common = shared(plan, words, stock)
    return frozen(
        **common,
        title=words.say("band.title"),
        copies=plan.bottles.labels if plan.labels.allowed else 0,
        glue=words.say("band.glue"),
        date_size=_date_size(common, _BAND_DATE_MM),
        named=fonts.width_mm(f"{plan.name} · {_contains(common)}", _TINY_PT, bold=True) <= _BAND_WORDS_MM,
    )
