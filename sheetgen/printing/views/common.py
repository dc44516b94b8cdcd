"""What every sheet carries: its head, its foot, and the batch line, the whole batch drawn to scale.

Comes in: a `Plan` and `Words`.  Goes out: frozen mappings and tuples of ready words; places run from 0 to 1.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import reduce
from types import MappingProxyType
from typing import NamedTuple

from sheetgen.planning.hot_days import spells_of
from sheetgen.planning.plan import Amount, Plan, Task
from sheetgen.planning.plan_keeping import HotStay
from sheetgen.printing import fonts, measures
from sheetgen.printing.blocks import PAGE, PAGES
from sheetgen.printing.words import Quantity, Words
from sheetgen.problems import Said, said

View = Mapping[str, object]
LINE_MM = 169.5
_NARROWEST = 0.022
_LONG_UNIT = 3
_HEAD_MM = 170.0
_HEAD_SIZES = MappingProxyType({"quantity": 18.0, "body": 13.5})
_FAR_DAYS = 300
_LABEL_PT = 8


def frozen(**items: object) -> View:
    """A mapping that nobody can change; a layout sees its items by name."""
    return MappingProxyType(items)


def dated(plan: Plan, words: Words) -> Words:
    """The words for this plan: where its days reach far beyond a season, those of another year show it."""
    begins = plan.task("brew").when.expected
    printed = [task.when for task in plan.tasks if not task.id.startswith("best-")]
    ends = [plan.labels.best_from, *(when.latest or when.expected for when in printed)]
    far = (max(ends) - begins).days > _FAR_DAYS
    return replace(words, home_year=begins.year) if far else words


def runs(words: Words, what: Said | str) -> tuple[View, ...]:
    """A sentence cut where its voice changes, for `say` of the parts: text, bold, struck."""
    return tuple(
        frozen(text=run.text, bold=run.voice == "*", struck=run.voice == "~") for run in words.runs(what)
    )


def day_of(words: Words, day: date) -> View:
    """A date in three fixed places; `month_first` says in which order they stand."""
    return frozen(**words.column_parts(day), month_first=words.customs.month_first)


def cautions_of(plan: Plan, words: Words, where: str, said_already: Collection[str] = ()) -> tuple[View, ...]:
    """The batch's cautions for one place, as their first words and the rest, without those already said."""
    places = {name: words.cautions[name]["where"].split() for name in plan.cautions}
    wanted = [name for name in plan.cautions if where in places[name] and name not in said_already]
    parts = [(words.say(f"caution.{name}.head"), words.say(f"caution.{name}.says")) for name in wanted]
    return tuple(frozen(head=head, says=says) for head, says in parts)


def amount_of(words: Words, amount: Amount | None) -> View | None:
    """A number for its column: value, unit, and the same in the other system."""
    if amount is None:
        return None
    quantity = words.quantity(amount.value, measures.OF_AMOUNT[amount.unit])
    return number_of(quantity)


def number_of(quantity: Quantity) -> View:
    """A quantity ready for its column; a unit of many letters stands smaller, to end before the next."""
    size = "body" if len(quantity.unit) > _LONG_UNIT else "quantity"
    return frozen(value=quantity.value, unit=quantity.unit, unit_size=size, other=quantity.other)


def capital(text: str) -> str:
    """The text with a capital at its start: a line of a list that stands alone."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """The text as a sentence of its own: a capital at its start, one full stop at its end."""
    return capital(text if not text or text.endswith((".", "!")) else f"{text}.")


def paired(words: Words, first: str, last: str) -> str:
    """A thing and what is said of it; the thing alone if that is nothing."""
    return words.say(said("list.pair", first=first, last=last)) if last else first


def in_a_row(words: Words, texts: Iterable[str]) -> str:
    """Several things said one after the other in one line."""
    return reduce(lambda first, last: words.say(said("list.next", first=first, last=last)), texts)


def best_until(plan: Plan, words: Words) -> str:
    """The end of the best time; a day of another year is a month."""
    until = plan.labels.best_to
    far = (until - plan.task("brew").when.expected).days > _FAR_DAYS
    return words.say(said("line.best-year" if far else "line.best", on=until))


def page(plan: Plan, words: Words, name: str, frame: tuple[date, date]) -> View:
    """Head, foot and batch line of one sheet; `frame` is the part of the batch that the sheet is for."""
    title = words.say(f"{name}.title")
    return frozen(
        title=title,
        code=plan.code,
        name=plan.name,
        size=_size(plan, words),
        head_size=_head_size(f"{plan.code}  {plan.name}", _size(plan, words)),
        foot=foot(plan, words, title),
        line=batch_line(plan, words, frame),
    )


def _head_size(left: str, right: str) -> str:
    """The largest size in which both ends of the fridge sheet's head stand on one line."""
    for name, points in _HEAD_SIZES.items():
        if fonts.width_mm(left, points, bold=True) + fonts.width_mm(right, points) <= _HEAD_MM:
            return name
    return "small"


def _size(plan: Plan, words: Words) -> str:
    litres = plan.quantities.litres
    if not plan.brewer:
        return words.say(said("batch.size", litres=litres))
    return words.say(said("batch.size-and-brewer", litres=litres, brewer=plan.brewer))


def foot(plan: Plan, words: Words, title: str) -> View:
    """The last line of a sheet: what it belongs to, its page, and of which printing it is."""
    left = said(
        "foot.left" if plan.brewer else "foot.left-no-name", code=plan.code, brewer=plan.brewer, sheet=title
    )
    paper_id = f"paper.{plan.paper.lower()}"
    count = len(plan.assumptions)
    right = said(
        "foot.right-assumed" if count else "foot.right",
        revision=plan.revision,
        printed=plan.printed,
        paper=words.say(paper_id) if words.has(paper_id) else plan.paper,
        n=count,
    )
    page = words.say(said("foot.page", page=PAGE, pages=PAGES))
    return frozen(left=words.say(left), page=page, right=words.say(right))


class Scale(NamedTuple):
    """Days from brewing to the end of the best time, as fractions of the batch line."""

    first: date
    last: date

    def at(self, day: date) -> float:
        """Where a day stands, 0 to 1, to a thousandth."""
        share = (day - self.first).days / max(1, (self.last - self.first).days)
        return round(min(1.0, max(0.0, share)), 4)


def scale_of(plan: Plan) -> Scale:
    """The scale of the batch line."""
    return Scale(plan.task("brew").when.expected, plan.labels.best_to)


def heat_of(task: Task, plan: Plan) -> HotStay:
    """The spell of heat before which a task such as heat-1 moves the bottles."""
    spells = spells_of(plan.keeping.hot if plan.keeping else ())
    return spells[int(task.id.removeprefix("heat-")) - 1]


def filled_on(plan: Plan) -> date:
    """The day of filling: the one that is printed on the labels."""
    return plan.task("bottle").when.expected if plan.has("bottle") else plan.labels.filled


def batch_line(plan: Plan, words: Words, frame: tuple[date, date]) -> View:
    """The whole batch to scale: fermenting, waiting (outline), best, away (hatched), a frame round now."""
    scale = scale_of(plan)
    bottled, best = scale.at(filled_on(plan)), scale.at(plan.labels.best_from)
    away = [(scale.at(first), scale.at(last + timedelta(days=1))) for first, last in plan.away]
    hatched = tuple(frozen(start=start, end=end) for start, end in away if start < end)
    bars = [("solid", *part) for part in _without(0.0, bottled, away)]
    bars += [("outline", bottled, best)] if bottled < best else []
    bars += [("solid", *part) for part in _without(best, 1.0, away)]
    return frozen(
        bars=tuple(frozen(kind=kind, start=start, end=end) for kind, start, end in bars),
        away=hatched,
        drops=_drops(plan, words, scale),
        best=best_until(plan, words),
        frame=_frame(scale.at(frame[0]), scale.at(frame[1])),
    )


def _without(start: float, end: float, gaps: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of a bar when days away are cut out of it: hatching does not show on a solid bar."""
    parts = []
    for first, last in sorted(gaps):
        if start < first < end:
            parts.append((start, first))
        start = max(start, min(last, end)) if first < end else start
    return [*parts, (start, end)] if start < end else parts


def _frame(start: float, end: float) -> View:
    """The frame, wide enough to be seen and inside the line."""
    middle, half = (start + end) / 2, max(end - start, _NARROWEST) / 2
    return frozen(start=round(middle - half, 4), end=round(middle + half, 4))


def _drops(plan: Plan, words: Words, scale: Scale) -> tuple[View, ...]:
    """Marks under the line; words only where they find room beside the next ones."""
    days = {"brew": scale.first, "bottle": filled_on(plan), "drink": plan.labels.not_before}
    texts = {name: words.say(said(f"line.{name}", on=day)) for name, day in days.items()}
    widest = _share(best_until(plan, words))
    limit, found = 1.0 - widest, []
    for name in reversed(days):
        at = scale.at(days[name])
        fits = at + _share(texts[name]) <= limit
        found.append(frozen(at=at, text=texts[name] if fits else ""))
        limit = at if fits else limit
    return tuple(reversed(found))


def _share(text: str) -> float:
    """How much of the line small words under it take, with air."""
    return (fonts.width_mm(text, _LABEL_PT) + 4) / LINE_MM
