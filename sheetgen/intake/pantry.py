"""The tables that recipes and batches stand on: ingredients, kinds of bottle, sanitisers, ways of keeping.

Comes in: the files under `recipes/pantry`.  Goes out: frozen values by name, with the
problems of their files.  A person's own table of the same name adds to ours.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Generic, TypeVar

from sheetgen import catalogue, units
from sheetgen.intake import data_tables
from sheetgen.intake.fields import Table
from sheetgen.intake.forms import Desk, Form, Place, read_form, shown
from sheetgen.model import AmountUnit, Container, Keeping, Keeps, PantryItem, Sanitiser, SugarPiece
from sheetgen.nodes import Entries, Node, Text
from sheetgen.problems import Problem, Span
from sheetgen.records import record
from sheetgen.units import Grams, Misread, Volumes

T = TypeVar("T")
_NO_DAY = date.min
_LONGEST_CONTACT = 1440.0
_LEAST_DOSE, _MOST_USUAL = 0.05, 1000.0
"""Grams or millilitres for a litre; more is no helper."""
MOST_VOLUMES = 6.0
"""The most gas that any bottle may be said to hold: as much as sparkling wine has (from memory: 12 g/L), and
as much as sugar is reckoned for.
"""
_USUAL = re.compile(r"([\d.,]{1,9})(?: ?(?:-|–|to) ?([\d.,]{1,9}))? ?([a-zA-Z]{1,9})", re.ASCII)

HOW_MEASURED: Mapping[AmountUnit, tuple[str, str]] = MappingProxyType(
    {"g": ("by weight", "500 g"), "ml": ("by volume", "1 L"), "piece": ("in pieces", "2 pieces")}
)
"""How an amount in a unit is called, with an example."""


@record
class Shelf(Generic[T]):
    """A table that was read: things by id, other names to ids, and what is wrong with its file."""

    things: Mapping[str, T]
    aliases: Mapping[str, str]
    problems: tuple[Problem, ...]

    def find(self, name: str) -> T | None:
        """The thing of that name or other name, whatever its capitals and spaces."""
        tidy = " ".join(name.lower().split())
        return self.things.get(self.aliases.get(tidy, tidy))

    def names(self) -> tuple[str, ...]:
        """Every name and other name."""
        return (*self.things, *self.aliases)


def ingredients(beside: Path | None = None) -> Shelf[PantryItem]:
    """All ingredients."""
    return _shelf("ingredients", beside)


def bottle_kinds(beside: Path | None = None) -> Shelf[Container]:
    """All kinds of bottle."""
    return _shelf("bottles", beside)


def sanitisers(beside: Path | None = None) -> Shelf[Sanitiser]:
    """Everything that cleans or sanitises."""
    return _shelf("sanitisers", beside)


def pieces(beside: Path | None = None) -> Mapping[str, SugarPiece]:
    """All pieces of sugar, by name."""
    return _shelf("pieces", beside).things


def keepings(beside: Path | None = None) -> Mapping[str, Keeping]:
    """All classes of keeping, by name."""
    return _shelf("keeping", beside).things


def table_problems(beside: Path | None = None) -> tuple[Problem, ...]:
    """Everything that is wrong with the tables themselves, a person's own among them."""
    shelves = [_shelf(name, beside) for name in _TABLES]
    return tuple(problem for shelf in shelves for problem in shelf.problems)


# From a form to a value


def _ingredient(name: str, form: Form) -> PantryItem:
    points = form.get("points")
    allergens = allergens_of(form)
    if allergens is None and not form.said("allergens"):
        form.place.warn(
            "allergens: is missing: the paper will say that they are not known", "write allergens: none"
        )
    return PantryItem(
        id=name,
        role=form.get("role"),
        points=points,
        points_range=form.get("points-range") or (points, points),
        attenuation=form.get("attenuation"),
        litres_each=form.get("litres-each"),
        unit=form.get("unit"),
        substance=form.get("substance"),
        allergens=allergens,
        source=form.get("source"),
        usual=_usual(form),
        sulphite_mg=form.get("sulphite-mg"),
        keeps=_keeps(form.values.get("keeps")),
    )


def _usual(form: Form) -> tuple[float, float] | None:
    """The usual dose for a litre, as that ingredient is measured."""
    written = form.values.get("usual")
    if written is None:
        return None
    found = _USUAL.fullmatch(written[:60])
    ends = [read_amount(f"{end} {found[3]}") for end in (found[1], found[2] or found[1])] if found else []
    amounts = [
        end[0] for end in ends if not isinstance(end, Misread) and end[1] == form.get("unit") != "piece"
    ]
    if len(amounts) != 2 or not 0 < amounts[0] <= amounts[1] <= _MOST_USUAL:
        form.place_of("usual").stop(
            f'"{written[:40]}" is not a usual dose for a litre, measured as this ingredient is',
            "write usual: 0.1-0.3 g, for example",
        )
        return None
    return amounts[0], amounts[1]


def _keeps(form: Form | None) -> Keeps | None:
    return Keeps(form.get("opened"), form.get("how")) if form is not None else None


def allergens_of(form: Form) -> tuple[str, ...] | None:
    """The allergens that a form states: () for none, None when they are not known."""
    stated = form.lists("allergens")
    if not stated or "unknown" in stated:
        return None
    if "none" in stated and len(stated) > 1:
        form.place_of("allergens").stop("none stands beside others", "write none alone, or leave it out")
    return tuple(dict.fromkeys(word for word in stated if word != "none"))


def _container(name: str, form: Form) -> Container:
    held = form.get("pressure")
    warn, refuse = form.get("warn"), form.get("refuse")
    if held and (warn is None or refuse is None or not 0 < warn <= refuse):
        form.place.stop(
            "a bottle that holds pressure needs warn: and refuse:, in that order of size", "write both"
        )
    if held and refuse is not None and refuse > MOST_VOLUMES:
        form.place_of("refuse").stop(
            f"no bottle is reckoned with for {refuse:g} volumes", f"write refuse: {MOST_VOLUMES:g}, or less"
        )
    return Container(
        id=name,
        warn=Volumes(warn or 0.0) if held else None,
        refuse=Volumes(refuse or 0.0) if held else None,
        cap=form.get("cap"),
        glass=form.get("glass"),
        again=form.get("again"),
    )


def _sanitiser(name: str, form: Form) -> Sanitiser:
    dose = read_amount(form.get("dose"))
    if isinstance(dose, Misread):
        form.place_of("dose").stop(dose.message, dose.fix)
    elif not _LEAST_DOSE <= dose[0] <= _MOST_USUAL:
        form.place_of("dose").stop(
            f"{form.get('dose')[:40]} is no dose for a litre", "write dose: 1.5 ml, for example"
        )
    if form.get("minutes")[1] > _LONGEST_CONTACT:
        form.place_of("minutes").stop(
            "nothing soaks for longer than a day", "write minutes: 10-30, for example"
        )
    return Sanitiser(
        name,
        *((1.0, "ml") if isinstance(dose, Misread) else dose),
        form.get("minutes"),
        form.get("rinse"),
        cleans=form.get("use") == "cleans",
        warm=form.get("water") == "warm",
        not_on=tuple(form.lists("not-on")),
        family=form.values.get("family"),
    )


def read_amount(written: str) -> tuple[float, AmountUnit] | Misread:
    """An amount by weight, by volume, or in pieces: grams, millilitres, or a number."""
    dimension = units.dimension_of(written)
    if dimension == "mass":
        grams = units.mass(written)
        return grams if isinstance(grams, Misread) else (grams, "g")
    if dimension == "volume":
        litres = units.volume(written)
        return litres if isinstance(litres, Misread) else (litres * 1000, "ml")
    return _pieces(written)


def _pieces(written: str) -> tuple[float, AmountUnit] | Misread:
    number, _, word = written.strip().partition(" ")
    pieces = units.count(number)
    if isinstance(pieces, Misread) or word.strip().lower() not in ("piece", "pieces"):
        tried = units.mass(written)
        wrong = tried if isinstance(tried, Misread) else Misread(f'"{written[:40]}" is not an amount')
        fix = "write a weight (500 g), a volume (1 L) or a number of pieces (2 pieces)"
        if wrong.ways:
            fix = f"write {' or '.join(wrong.ways)}"
        return Misread(wrong.message, fix, wrong.ways, wrong.sure)
    return float(pieces), "piece"


LIGHTEST_PIECE, HEAVIEST_PIECE = 0.5, 20.0


def _piece(name: str, form: Form) -> SugarPiece:
    grams = form.get("grams")
    if not LIGHTEST_PIECE <= grams <= HEAVIEST_PIECE:
        form.place_of("grams").stop(f"a piece of {grams:g} g is not possible", "write 0.5 to 20")
    return SugarPiece(name, Grams(grams), form.get("sugar"))


def _keeping(name: str, form: Form) -> Keeping:
    return Keeping(
        name,
        form.get("from-weeks"),
        form.get("peak-weeks"),
        form.get("months"),
        form.get("percent"),
        form.get("dry-hops"),
    )


# From a file to a shelf

_TABLES: dict[str, tuple[Table, Callable[[str, Form], Any]]] = {
    "ingredients": (data_tables.INGREDIENT, _ingredient),
    "bottles": (data_tables.CONTAINER, _container),
    "sanitisers": (data_tables.SANITISER, _sanitiser),
    "keeping": (data_tables.KEEPING, _keeping),
    "pieces": (data_tables.PIECE, _piece),
}


def _shelf(name: str, beside: Path | None) -> Shelf[Any]:
    paths = catalogue.layers("recipes/pantry", name, beside)
    return _read_shelf(
        name, tuple((path, path.stat().st_mtime_ns, path.stat().st_size) for path in paths), beside
    )


@lru_cache(maxsize=64)
def _read_shelf(name: str, stamps: object, beside: Path | None) -> Shelf[Any]:
    del stamps  # they only tell a changed file from the one that is remembered
    table, build = _TABLES[name]
    found = catalogue.overlaid("recipes/pantry", name, beside)
    desk = Desk(_NO_DAY, beside)
    desk.problems.extend(found.problems)
    entries = _entries_of(found.node, name, desk)
    things: dict[str, Any] = {}
    aliases: dict[str, str] = {}
    for key, node in entries:
        before = len(desk.problems)
        form = read_form(node, table, Place(desk, (name, key), key, node.span))
        if len(desk.problems) == before:
            things[key] = build(key, form)
            aliases |= {" ".join(other.lower().split()): key for other in form.lists("also")}
    return Shelf(MappingProxyType(things), MappingProxyType(aliases), tuple(desk.problems))


def _entries_of(node: Node | None, name: str, desk: Desk) -> list[tuple[str, Node]]:
    """The names of a table with what stands there."""
    if not isinstance(node, Entries):
        return []
    for entry in node.entries:
        if entry.key.value not in ("pantry", "entries", "format"):
            desk.problems.stop(
                f'"{entry.key.value[:40]}" is not a key of such a table', entry.key.span, "delete it"
            )
    kind, inside = node.get("pantry"), node.get("entries")
    if not isinstance(kind, Text) or kind.value != name:
        desk.problems.stop("this is another kind of table", node.span, f"write pantry: {name}")
    if isinstance(inside, Entries):
        return [(" ".join(entry.key.value.lower().split()), entry.value) for entry in inside.entries]
    where = inside.span if inside else Span(node.span.file, 1, 1)
    desk.problems.stop(
        f"found {shown(inside) if inside else 'no entries'}; expected names", where, "write entries:"
    )
    return []
