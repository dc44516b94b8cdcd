"""Class files: from bytes to one tree of a batch for every person.

Comes in: the path of a class file, today, and what the command line wants otherwise.  Goes out: the people,
each with a whole batch of their own as a tree, and all problems of the file and its table at once.  What all
have (a batch file, then the keys of the class itself) lies under what a person has, before anything is read:
so every value is read by the same readers, wherever it was written.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from datetime import date
from pathlib import Path
from types import MappingProxyType

from sheetgen import catalogue, nodes
from sheetgen.intake import mending
from sheetgen.intake import people as table
from sheetgen.intake.batch_tables import BATCH
from sheetgen.intake.batches import NO_OVERRIDES, read_batch_tree
from sheetgen.intake.class_kinds import MOST_PEOPLE, codes, file_beside
from sheetgen.intake.class_tables import CLASS, NOT_FOR_ALL
from sheetgen.intake.columns import laid_over, placed
from sheetgen.intake.customs import customs_of
from sheetgen.intake.fields import Table
from sheetgen.intake.forms import Desk, Form, Place, key_meant, read_form, shown
from sheetgen.intake.layers import with_key, without
from sheetgen.intake.people import Row
from sheetgen.intake.sources import PRIVATE
from sheetgen.intake.written import as_text
from sheetgen.model import Batch
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import Problem, Problems, did_you_mean, nearest
from sheetgen.records import record
from sheetgen.units import Misread

_COACHS = ("language", "paper", "units")


@record
class Person:
    """One person: code and name, the tree of the whole batch, the vessel that is shared ("" for none), and
    what is wrong with what was written about them alone.
    """

    code: str
    name: str
    tree: Node
    beside: Path
    shared_vessel: str = ""
    wrong: tuple[Problem, ...] = ()


@record
class ClassFile:
    """What a class file gave; without people if anything stops them all.  `astray`: rows of readings that are
    nobody's.
    """

    code: str
    coach: str
    people: tuple[Person, ...]
    problems: Problems
    files: Mapping[str, Path]
    readings: tuple[Path, ...] = ()
    language: str = "en-GB"
    paper: str = "A4"
    units: str = "metric"
    astray: Problems = field(default_factory=Problems)


def read_class(path: Path, today: date) -> ClassFile:
    """The class in a file; a batch file and a table are looked for beside it and in folders there only."""
    found = catalogue.load(path)
    desk = Desk(today, path.parent)
    desk.problems.extend(found.problems)
    files: dict[str, Path] = {}
    if not isinstance(found.node, Entries):
        return ClassFile("", "", (), desk.problems, files)
    place = Place(desk, ("class",), "", found.node.span)
    own, for_all = _split(found.node, place)
    form = read_form(own, CLASS, place)
    base = _base(form, for_all, files)
    rows = tuple(_rows(form, files))
    readings = tuple(_tables_of(form, "readings", files))
    if desk.problems.stopped:
        return ClassFile(form.get("class") or "", "", (), desk.problems, files)
    people = _people(form.get("class"), rows, base, path.parent, desk.problems)
    if not people and not desk.problems.stopped:
        form.place_of("people").stop(
            "there is nobody in this class", "write people: people.csv, or [Imke, Ada]"
        )
    return ClassFile(
        form.get("class"),
        form.get("coach"),
        people,
        desk.problems,
        MappingProxyType(files),
        readings,
        *_customs(base, desk),
    )


def _customs(base: Node, desk: Desk) -> tuple[str, str, str]:
    """Language, paper and units of the pages that are the coach's own."""
    wanted = (
        tuple(one for one in base.entries if one.key.value in _COACHS) if isinstance(base, Entries) else ()
    )
    aside = Desk(desk.today, desk.beside)  # what is wrong with them is told with every person's batch
    form = read_form(
        Entries(wanted, base.span),
        Table("class", tuple(BATCH[key] for key in _COACHS)),
        Place(aside, (), "", base.span),
    )
    language = form.get("language") or "en-GB"
    usual = customs_of(language, desk.beside)
    paper = form.values.get("paper") or ("Letter" if usual.get("paper") == "letter" else "A4")
    return language, paper, form.values.get("units") or usual.get("units", "metric")


def read_person(
    person: Person, today: date, overrides: Mapping[str, str] = NO_OVERRIDES
) -> tuple[Batch | None, Problems]:
    """The batch of a person; the text that is kept with it holds nothing of anybody else, and no absences."""
    tree = person.tree
    kept = without(tree, PRIVATE) if isinstance(tree, Entries) else tree
    own = (f"{person.code.lower()}.yaml", as_text(kept))
    return read_batch_tree(tree, own, today, person.beside, overrides)


# What all have


def _split(node: Entries, place: Place) -> tuple[Entries, Entries]:
    """The keys of the class, and those of a batch, which hold for everybody; what is neither is told."""
    own = [one for one in node.entries if CLASS.field(one.key.value)]
    rest = [one for one in node.entries if one not in own]
    for_all = [one for one in rest if BATCH.field(one.key.value) and one.key.value not in NOT_FOR_ALL]
    for one in rest:
        if one not in for_all:
            place.on(one.key.span).stop(*_unknown(one))
    return Entries(tuple(own), node.span), Entries(tuple(for_all), node.span)


def _unknown(entry: Entry) -> tuple[str, str, mending.Ways]:
    key = entry.key.value
    if key in NOT_FOR_ALL:
        gone = mending.left_out(entry)
        return f"{key}: is each person's own in a class", "delete it; the table of people says it", gone
    meant = key_meant(key, (*CLASS.keys(), *BATCH.keys()))
    fix = (
        f'did you mean "{meant}"?'
        if meant
        else f"a class has {', '.join(CLASS.keys())}, and all keys of a batch"
    )
    return f'"{key[:40]}" is not a key of class', fix, mending.key_instead(entry.key, meant)


def _base(form: Form, for_all: Entries, files: dict[str, Path]) -> Node:
    """What everybody's batch begins with."""
    place = form.place_of("batch-file")
    path = _opened(form.values.get("batch-file"), place, files, "yaml", "yml")
    if path is None:
        return for_all
    found = catalogue.load(path)
    place.desk.problems.extend(found.problems)
    kind = nodes.kind_of(found.node)
    if not isinstance(found.node, Entries) or kind not in (None, "batch"):
        place.stop(
            f"{path.name} is not a batch", "name a file that says batch: 27A, and what else a batch needs"
        )
        return for_all
    joined = laid_over(without(found.node, NOT_FOR_ALL), for_all)
    return Entries(joined.entries, for_all.span) if isinstance(joined, Entries) else for_all


def _opened(name: str | None, place: Place, files: dict[str, Path], *endings: str) -> Path | None:
    """A file beside this one; None, with its reason, if there is none."""
    if name is None:
        return None
    told, folder = file_beside(name, *endings), place.desk.beside or Path()
    if isinstance(told, Misread):
        likely = f"{name.strip()}.{endings[0]}"
        near = likely if _inside(folder / likely, folder) else ""
        place.stop(told.message, f"write {near}" if near else told.fix, _written_so(place, name, near))
        return None
    path = folder / told
    if not _inside(path, folder):
        beside = [one.name for ending in endings for one in folder.glob(f"*.{ending}")]
        ways, guess = _written_so(place, name, nearest(told, beside)), did_you_mean(told, beside)
        place.stop(f"there is no file {told} beside this one", guess or "check its name", ways)
        return None
    files[path.name] = path
    return path


def _written_so(place: Place, name: str, near: str) -> mending.Ways:
    """The name of a file in place of another, where one stands alone."""
    return mending.instead(Text(name, place.span), [near]) if near else ()


def _inside(path: Path, folder: Path) -> bool:
    try:
        return path.is_file() and path.resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError):
        return False


def _tables_of(form: Form, key: str, files: dict[str, Path]) -> Iterator[Path]:
    for name in form.lists(key):
        path = _opened(name, form.place_of(key), files, "csv", "tsv", "txt")
        if path:
            yield path


# People


def _rows(form: Form, files: dict[str, Path]) -> Iterable[Row]:
    """Everybody, from a table or from the list in the file."""
    node, place = form.values.get("people"), form.place_of("people")
    if node is None:
        return ()
    if isinstance(node, Text):
        path = _opened(node.value, place, files, "csv", "tsv", "txt")
        return table.from_table(path, form.lists("ignore"), place) if path else ()
    if isinstance(node, Items):
        return table.from_list(node, place)
    place.stop(f"found {shown(node)}; expected a table or a list", "write people: people.csv, or [Imke, Ada]")
    return ()


def _people(
    begin: str, rows: Sequence[Row], base: Node, beside: Path, problems: Problems
) -> tuple[Person, ...]:
    """Everybody who is still there, with the codes of the table, else the next in the order of rows."""
    if len(rows) > MOST_PEOPLE:
        problems.stop(
            f"there are {len(rows)} people in this class",
            rows[-1].span,
            f"codes reach for {MOST_PEOPLE}; make two classes",
        )
        return ()
    given = [row.code for row in rows if row.code]
    free, found, first = codes(begin, given), list[Person](), dict[str, Row]()
    for row in rows:
        code = row.code or next(free)
        other = first.setdefault(code, row)
        twice = [] if other is row else [_twice(code, row, other)]
        if not row.gone:
            found.append(_person(code, row, base, beside, (*row.wrong, *twice)))
    _same_names(found, problems)
    return tuple(found)


def _person(code: str, row: Row, base: Node, beside: Path, wrong: tuple[Problem, ...]) -> Person:
    own = laid_over(base, row.own)
    whole = with_key(own, "brewer", Text(row.name, row.span, True))
    tree = laid_over(placed(("batch",), Text(code, row.span, True)), whole)
    tree, more = table.started(tree, row)
    tree, still = table.in_shared_vessel(tree, row)
    return Person(code, row.name, tree, beside, row.shared_vessel, (*wrong, *more, *still))


def _twice(code: str, row: Row, other: Row) -> Problem:
    said = f"{code} is the code of {other.name} already, at {other.span.file}:{other.span.line}"
    return Problem("stop", said, row.span, "give one of them another code", (row.name, "code"))


def _same_names(people: Sequence[Person], problems: Problems) -> None:
    """A note for each name that several people have: their codes tell them apart."""
    held: dict[str, list[str]] = {}
    for one in people:
        held.setdefault(one.name.casefold(), []).append(one.code)
    for one in people:
        mine = held.pop(one.name.casefold(), [])
        if len(mine) > 1 and one.name:
            problems.note(f"{len(mine)} people are called {one.name}: their codes are {', '.join(mine)}")
