"""What really happened: the `actual:` part of a batch file.

Comes in: its form.  Goes out: `model.Actual`.  Past facts are never refused for being unwise; only what
cannot be read is a stop, and a day that has not come yet: nothing has happened on it, so it is a slip, and no
date, gate or label may rest on it.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from sheetgen.intake import mending, pantry
from sheetgen.intake.filled import read_filled
from sheetgen.intake.forms import Desk, Form
from sheetgen.intake.pantry import HOW_MEASURED
from sheetgen.model import Actual, Added, Bottled, Bottles, Looked, PantryItem, Reading, Tasted
from sheetgen.problems import did_you_mean
from sheetgen.units import Celsius, Gravity, Litres, Misread

WARMEST = (0.0, 35.0)
_EXPLAINED = frozenset(("pitched", "dry-hopped", "bottling", "bottle tried", "reading"))
"""What planning explains in full when it comes before the brew day."""
_NOT_YET = {
    "brewed": "write brewed: when it is done; a day that is planned is written brew-day:, outside actual:",
    "on": "write the day on which it happened, or leave the line out until it has",
}
"""What to type instead of a day that has not come yet."""
MOST_ADDED = 100_000.0
"""Grams or millilitres: no more goes into a batch than the largest one holds."""


def read_actual(form: Form | None, bottles: tuple[Bottles, ...], brew_day: date | None, desk: Desk) -> Actual:
    """The facts of a batch; an empty one where nothing was entered."""
    if form is None:
        return Actual()
    _check_days(form, brew_day, desk)
    original: tuple[Any, Any] = form.get("og") or (None, None)
    finish: tuple[Any, Any] = form.get("finish-test") or (None, None)
    return Actual(
        brewed=form.get("brewed"),
        pitched=form.get("pitched"),
        original_gravity=original[0],
        original_celsius=original[1],
        litres=form.get("litres"),
        readings=_readings(form),
        dry_hopped=form.get("dry-hopped"),
        added=tuple(each for inside in form.lists("added") if (each := _added(inside, desk))),
        warmed=_warmed(form),
        skin_seen="skin" in form.lists("seen"),
        finish_test=finish[0],
        finish_celsius=finish[1],
        warmest=_warmest(form),
        bottled=_bottled(form, bottles),
        facts=_facts(form),
        done=_done(form),
        looks=_looks(form),
        tasted=_tasted(form),
    )


def _facts(form: Form) -> int:
    """How much was entered: each key once, each line of a list once."""
    return sum(len(value) if isinstance(value, list) else 1 for value in form.values.values())


def _readings(form: Form) -> tuple[Reading, ...]:
    found = []
    for inside in form.lists("readings"):
        if "on" in inside.values and "sg" in inside.values:
            sg, celsius = inside.get("sg")
            found.append(Reading(inside.get("on"), Gravity(sg), celsius, inside.place.span))
    in_order = tuple(sorted(found, key=lambda reading: reading.on))
    spans = {f"actual.readings.{n}": one.span for n, one in enumerate(in_order) if one.span}
    form.place.desk.where.update(spans)  # by their days, as everybody counts them from here on
    return in_order


def _warmed(form: Form) -> tuple[tuple[date, Celsius], ...]:
    whole = [inside for inside in form.lists("warmed") if "on" in inside.values and "to" in inside.values]
    return tuple(sorted((inside.get("on"), inside.get("to")) for inside in whole))


def _done(form: Form) -> tuple[tuple[str, date], ...]:
    whole = [inside for inside in form.lists("done") if "on" in inside.values and "what" in inside.values]
    return tuple(sorted((inside.get("what"), inside.get("on")) for inside in whole))


def _whole(form: Form, key: str, *needed: str) -> list[Form]:
    """The lines of a list in which everything that must be there could be read."""
    return [inside for inside in form.lists(key) if all(name in inside.values for name in needed)]


def _looks(form: Form) -> tuple[Looked, ...]:
    whole = _whole(form, "looks", "on", "clear", "sweet")
    found = [Looked(inside.get("on"), inside.get("clear"), inside.get("sweet")) for inside in whole]
    return tuple(sorted(found, key=lambda look: look.on))


def _tasted(form: Form) -> tuple[Tasted, ...]:
    whole = _whole(form, "tasted", "on", "gas")
    found = [Tasted(inside.get("on"), inside.get("gas"), inside.get("note")) for inside in whole]
    return tuple(sorted(found, key=lambda one: one.on))


def _added(form: Form, desk: Desk) -> Added | None:
    name, on, written = (form.values.get(key) for key in ("what", "on", "amount"))
    amount = pantry.read_amount(written) if written is not None else Misread("")
    if isinstance(amount, Misread):
        if written is not None:
            form.place_of("amount").stop(amount.message, amount.fix)
        return None
    if name is None or on is None:
        return None
    item = _item(name, form, desk)
    if item is not None and item.unit != amount[1]:
        message = f'{item.id} is measured {HOW_MEASURED[item.unit][0]}; found "{written}"'
        form.place_of("amount").stop(message, f"write amount: {HOW_MEASURED[item.unit][1]}")
        return None
    if amount[0] > MOST_ADDED:
        form.place_of("amount").stop(f"{written} is not possible here", "write what went in, such as 200 g")
        return None
    return Added(on, item, name, amount[0])


def _item(name: str, form: Form, desk: Desk) -> PantryItem | None:
    shelf = pantry.ingredients(desk.beside)
    item = shelf.find(name)
    if item is None:
        message = f'the pantry has no "{name[:60]}": what it adds to gravity and its allergens are not known'
        guess = did_you_mean(name, shelf.names())
        form.place_of("what").warn(
            message, guess or "use a name of the pantry, or add it to a table of your own"
        )
    return item


def _warmest(form: Form) -> Celsius | None:
    found: Celsius | None = form.values.get("warmest-since")
    if found is not None and not WARMEST[0] <= found <= WARMEST[1]:
        form.place_of("warmest-since").stop(
            f"{found:g} C is not possible here: the gas left in the drink is known from 0 C to 35 C",
            "write the warmest that the drink itself has been since it stopped fermenting, such as 21 C",
        )
    return found


def _bottled(form: Form, rows: tuple[Bottles, ...]) -> Bottled | None:
    inside = form.values.get("bottled")
    if not isinstance(inside, Form):
        return None
    node = inside.values.get("bottles")
    counts, more = read_filled(node, rows, inside.place_of("bottles")) if node is not None else (None, ())
    on = inside.values.get("on")
    litres: Litres | None = inside.values.get("litres")
    return Bottled(on, litres, counts, more) if on else None


# Days that cannot be


def _check_days(form: Form, brew_day: date | None, desk: Desk) -> None:
    brewed = form.values.get("brewed")
    began = brewed if brewed and brewed <= desk.today else brew_day or brewed
    for day, owner, key in _days(form):
        place = owner.place_of(key)
        if day > desk.today:
            fix, turned = _NOT_YET.get(key, _NOT_YET["on"]), _turned(day)
            past = turned if turned and began and began <= turned <= desk.today else None
            fix = f"{fix}; {past}, if month and day have changed places" if past else fix
            node = owner.nodes.get(key)
            ways = mending.instead(node, [str(past)]) if past and node else ()
            place.stop(f"{day} has not come yet: today is {desk.today}", fix, ways)
        elif began and day < began and not {owner.table.called, key} & _EXPLAINED:
            place.warn(f"{day} is before the brew day, {began}", "write the day on which it happened")


def _turned(day: date) -> date | None:
    """The day with month and day in turn; None if there is none."""
    return day.replace(month=day.day, day=day.month) if day.day <= 12 else None


def _days(form: Form) -> list[tuple[date, Form, str]]:
    own = [(form.values[key], form, key) for key in ("brewed", "pitched", "dry-hopped") if key in form.values]
    keys = ("readings", "added", "warmed", "done", "looks", "tasted")
    lists = [inside for key in keys for inside in form.lists(key)]
    bottled = form.values.get("bottled")
    lists += [bottled] if isinstance(bottled, Form) else []
    return own + [(inside.values["on"], inside, "on") for inside in lists if "on" in inside.values]
