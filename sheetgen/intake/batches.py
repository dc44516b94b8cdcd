"""Batch files: from bytes to `model.Batch`.

Comes in: the path or the bytes of a batch file, today's date, and what the command line wants otherwise.
Goes out: the batch with every default filled in and listed (None when anything stops it), and all problems
of the batch file and of its recipe at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sheetgen import catalogue, nodes
from sheetgen.intake import events, gear, mending, pantry, recipes, rooms
from sheetgen.intake.actual import read_actual
from sheetgen.intake.alarms import read_alarms
from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.bottles import read_bottles
from sheetgen.intake.customs import customs_of
from sheetgen.intake.days import DaysSaid, my_days_of, read_days
from sheetgen.intake.forms import Desk, Form, Place, empty_form, read_form
from sheetgen.intake.overrides import overlaid
from sheetgen.intake.packs import with_packs
from sheetgen.intake.sources import without_absences
from sheetgen.model import Actual, Alarms, Batch, Bottles, Event, FillBy, Labels, Recipe, YeastAtHand
from sheetgen.problems import Problems, Span, did_you_mean, nearest, said
from sheetgen.records import record
from sheetgen.units import Grams, Litres, Millilitres, Volumes

NO_OVERRIDES: Mapping[str, str] = MappingProxyType({})


def read_batch(
    path: Path, today: date, overrides: Mapping[str, str] = NO_OVERRIDES
) -> tuple[Batch | None, Problems]:
    """The batch in a file; recipes and other data are looked for beside it first.

    `overrides` are keys with other values, as a command line gives them ({"paper": "Letter", "start-at":
    "7"}).
    """
    data, problems = catalogue.read_bytes(path)
    if data is None:
        return None, Problems(problems)
    return read_batch_bytes(data, path.name, today, path.parent, overrides)


def read_batch_bytes(
    data: bytes,
    name: str,
    today: date,
    beside: Path | None = None,
    overrides: Mapping[str, str] = NO_OVERRIDES,
) -> tuple[Batch | None, Problems]:
    """The batch in these bytes; `name` is the file's name in messages, `beside` the folder to look in
    first.
    """
    found = catalogue.document(data, name)
    problems = Problems(found.problems)
    if found.node is None:
        return None, problems
    own = (found.name, without_absences(found.text, found.node))
    batch, more = read_batch_tree(found.node, own, today, beside, overrides)
    problems.extend(more)
    return (None if problems.stopped else batch), problems


def read_batch_tree(
    node: nodes.Node,
    own: tuple[str, str],
    today: date,
    beside: Path | None = None,
    overrides: Mapping[str, str] = NO_OVERRIDES,
) -> tuple[Batch | None, Problems]:
    """The batch in a tree of names and values; `own`: name and text of the file that is kept with it."""
    desk = Desk(today, beside)
    if not _is_batch(node, desk):
        return None, desk.problems
    read = _read(overlaid(node, overrides, desk), desk)
    if desk.problems.stopped or read.recipe is None or read.recipe.recipe is None:
        return None, desk.problems
    sources = (own, (read.recipe.name, read.recipe.text))
    return _assembled(read, read.recipe.recipe, desk, sources), desk.problems


def _is_batch(node: nodes.Node, desk: Desk) -> bool:
    kind = nodes.kind_of(node)
    if isinstance(node, nodes.Entries) and (kind in (None, "batch") or node.entry("batch")):
        return True
    here = Span(node.span.file, node.span.line, node.span.column)
    what = f"this file is a {kind}, not a batch" if kind else "this file is not a batch"
    desk.problems.stop(what, here, "write batch: 27A, and what else a batch needs")
    return False


@record
class _Read:
    """Everything that was read, before it is known whether anything stops."""

    form: Form
    recipe: recipes.RecipeFile | None
    bottles: tuple[Bottles, ...]
    room: rooms.RoomSaid
    equipment: gear.EquipmentSaid
    actual: Actual
    alarms: Alarms
    days: DaysSaid
    events: tuple[Event, ...]


def _read(node: nodes.Node, desk: Desk) -> _Read:
    place = Place(desk, (_crumb(node),), "", node.span)
    form = read_form(node, BATCH, place)
    recipe = _sold_here(_recipe_of(form, desk), form)
    events.check_days(form)
    come = events.read_events(form, desk)
    bottles = _bottles_of(form)
    brew = form.values.get("brew-day")
    actual = read_actual(form.values.get("actual"), bottles, brew[0] if brew else None, desk)
    room, equipment = rooms.read_room(form), gear.read_equipment(form.values.get("equipment"))
    _check_stocks(form, desk)
    desk.problems.extend(pantry.table_problems(desk.beside))
    alarms, days = read_alarms(form), read_days(form)
    return _Read(form, recipe, bottles, room, equipment, actual, alarms, days, come)


def _crumb(node: nodes.Node) -> str:
    own = node.get("batch") if isinstance(node, nodes.Entries) else None
    return f"batch {own.value[:20]}".strip() if isinstance(own, nodes.Text) else "batch"


def _recipe_of(form: Form, desk: Desk) -> recipes.RecipeFile | None:
    """The recipe's file; its problems become this batch's, its spans are kept under "recipe."."""
    name = form.values.get("recipe")
    if not name:
        return None
    path = catalogue.find("recipes", name, desk.beside)
    if path is None:
        lost = recipes.missing(name, desk.beside)
        near = nearest(name, recipes.names(desk.beside))
        ways = mending.instead(form.nodes["recipe"], [near] if near else [])
        form.place_of("recipe").stop(lost.message, lost.fix, ways)
        return None
    found = recipes.recipe_file(catalogue.load(path), name, desk.beside)
    desk.problems.extend(found.problems)
    desk.where |= {f"recipe.{key}": span for key, span in found.where.items()}
    return found


def _sold_here(found: recipes.RecipeFile | None, form: Form) -> recipes.RecipeFile | None:
    """The recipe's file with the pack sizes that the batch states."""
    recipe = with_packs(found.recipe if found else None, form)
    return replace(found, recipe=recipe) if found else None


def _bottles_of(form: Form) -> tuple[Bottles, ...]:
    """The rows of bottles; without any, those that the volume is counted in."""
    volume = form.values.get("volume")
    if form.said("bottles"):
        node = form.values.get("bottles")
        return read_bottles(node, form.place_of("bottles")) if node is not None else ()
    if isinstance(volume, tuple):
        node = form.nodes["volume"]
        form.place.desk.where["bottles"] = node.span
        return read_bottles(node, form.place_of("volume"))
    if "bottles" in form.meant or any(inside.said("guests") for inside in form.lists("event")):
        return ()  # planning takes what the guests need
    first = form.place.on(Span(form.place.span.file, form.place.span.line, form.place.span.column))
    example = "24 x 500 ml one-way glass"
    ways = mending.added(form.node, "bottles", example) if form.node else ()
    first.stop("bottles: is missing: the bottles at hand", f"write bottles: {example}", ways)
    return ()


def _check_stocks(form: Form, desk: Desk) -> None:
    """Whether the sheets of labels are known, when there is anything to know them by."""
    inside = form.values.get("labels")
    known = catalogue.names("layouts/stocks", desk.beside)
    for key in ("stock", "discs") if isinstance(inside, Form) and known else ():
        name = inside.values.get(key) if inside else None
        if name and name not in known and inside:
            near = nearest(name, known)
            fix = f"{did_you_mean(name, known)} Known are: {', '.join(known)}".strip()
            ways = mending.instead(inside.nodes[key], [near] if near else [])
            inside.place_of(key).stop(f'there is no stock of labels "{name}"', fix, ways)


# All is well: fill in what was not said


def _assembled(read: _Read, recipe: Recipe, desk: Desk, sources: tuple[tuple[str, str], ...]) -> Batch:
    form, days = read.form, read.days
    guests = events.decide_the_volume(form, read.events)
    volume = None if guests else _volume(form, recipe, desk)
    brewing = events.brew_day_of(form, read.events)
    form.assume()
    language = form.get("language")
    paper, units = _customs(form, desk, language)
    return Batch(
        code=form.get("batch"),
        recipe=recipe,
        brewer=form.get("brewer"),
        litres=Litres(volume) if isinstance(volume, float | int) else None,
        bottle_goal=volume if isinstance(volume, tuple) else None,
        brew_day=brewing.day,
        start=brewing.start,
        room=rooms.room_of(read.room, desk),
        water=gear.water_of(form),
        equipment=gear.equipment_of(read.equipment, form, desk),
        bottles=(*read.bottles, *(read.actual.bottled.more if read.actual.bottled else ())),
        my_days=my_days_of(days, recipe, form),
        extra_days=days.extra_days,
        away=days.away,
        carbonation=Volumes(form.get("carbonation")) if form.said("carbonation") else None,
        sugar=form.get("sugar"),
        dosing=form.get("dosing"),
        paper=paper,
        labels=_labels(form, desk),
        language=language,
        units=units,
        actual=read.actual,
        yeast=_yeast_at_hand(form),
        whole_packs=form.get("whole-packs"),
        fill=_fill(form, read.bottles, desk),
        assumptions=tuple(desk.assumptions),
        where=MappingProxyType(dict(desk.where)),
        sources=sources,
        piece=_piece(form, desk),
        alarms=read.alarms,
        keepings=tuple(pantry.keepings(desk.beside).values()),
        containers=tuple(pantry.bottle_kinds(desk.beside).things.values()),
        work_days=days.work_days,
        extra_spans=days.extra_spans,
        public_days=days.public_days,
        shifts=days.shifts,
        events=read.events,
        day_open=brewing.is_open,
        taken=frozenset(form.lists("taken")),
        cold_days=int(form.get("cold-days")) if form.said("cold-days") else recipe.drink.cold_days,
    )


def _yeast_at_hand(form: Form) -> YeastAtHand:
    inside = form.values.get("yeast")
    return (
        YeastAtHand(inside.get("expired"), inside.get("opened"))
        if isinstance(inside, Form)
        else YeastAtHand()
    )


def _piece(form: Form, desk: Desk) -> Grams:
    """What one piece of the sugar weighs: as said, else as our table has it; 0 where none is asked for."""
    said_own, dosed = form.values.get("sugar-piece"), form.get("dosing") == "pieces"
    if said_own is not None and not dosed:
        form.place_of("sugar-piece").warn(
            "sugar-piece: is only used with dosing: pieces", "write dosing: pieces, or delete it"
        )
    if not dosed:
        return Grams(0.0)
    if said_own is not None:
        return Grams(said_own)
    known = next((one for one in pantry.pieces(desk.beside).values() if one.sugar == form.get("sugar")), None)
    if known is None:
        form.place_of("dosing").stop(
            f"what a piece of {form.get('sugar')} weighs is not known",
            "write sugar-piece: 3 g, or dosing: weight",
        )
        return Grams(0.0)
    desk.assume("sugar-piece", said("assume.sugar-piece", piece=known.id, grams=float(known.grams)))
    return known.grams


def _volume(form: Form, recipe: Recipe, desk: Desk) -> Litres | tuple[int, Millilitres]:
    found: Litres | tuple[int, Millilitres] | None = form.values.get("volume")
    if found is None:
        desk.assume("volume", said("assume.volume", litres=recipe.litres))
        return recipe.litres
    return found


def _fill(form: Form, rows: tuple[Bottles, ...], desk: Desk) -> FillBy:
    """How bottles are chosen; with one row of them there is nothing to choose, nor to assume."""
    if len(rows) > 1 and not form.said("fill"):
        desk.assume("fill", said("assume.fill"))
    chosen: FillBy = form.get("fill")
    return chosen


def _labels(form: Form, desk: Desk) -> Labels:
    inside: Any = form.values.get("labels") or empty_form(BATCH, form.place)
    found = Labels(
        stock=inside.values.get("stock"),
        discs=inside.values.get("discs"),
        start_at=inside.values.get("start-at", 1),
        discs_start_at=inside.values.get("discs-start-at", 1),
        tags=inside.values.get("tags"),
        bands=inside.values.get("bands"),
        shift_mm=_two_ways(inside, "shift", ("right", "down"), 0.0),
        bars_mm=_two_ways(inside, "bars", ("across", "down"), 100.0),
    )
    if found.stock is None:
        desk.assume("labels.stock", said("assume.labels"))
    return found


def _two_ways(inside: Any, key: str, ways: tuple[str, str], usual: float) -> tuple[float, float]:
    """Millimetres along and down the page, `usual` where nothing is said."""
    found = inside.values.get(key)
    across, down = (float(found.values.get(way, usual)) if found else usual for way in ways)
    return across, down


def _customs(form: Form, desk: Desk, language: str) -> tuple[str, Any]:
    """Paper and units: as said, else as the language's own file has it."""
    usual = customs_of(language, desk.beside)
    paper = form.values.get("paper") or ("Letter" if usual.get("paper") == "letter" else "A4")
    units = form.values.get("units") or usual.get("units", "metric")
    if not form.said("language"):
        desk.assume("language", said("assume.language", language=language))
    if not form.said("paper"):
        desk.assume("paper", said("assume.paper", paper=paper))
    if not form.said("units"):
        desk.assume("units", said("assume.units", units=units))
    return paper, units
