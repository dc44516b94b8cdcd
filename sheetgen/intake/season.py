"""Season files: from bytes to `model.season.Season`, with the tree of every batch in it.

Comes in: the path of a season file, today, and what the command line wants otherwise.  Goes out: the season
(None when anything stops it), the members it was made from, and all problems of all its files at once.
A batch of a season is an ordinary batch: what the season says for it is laid under or over its own tree.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sheetgen import catalogue, nodes
from sheetgen.intake import layers, members, mending
from sheetgen.intake.batches import NO_OVERRIDES, read_batch_tree
from sheetgen.intake.bottles import read_bottles
from sheetgen.intake.customs import customs_of
from sheetgen.intake.forms import Desk, Form, Place, read_form, shown
from sheetgen.intake.kinds import CODE_LETTERS, count_or_none
from sheetgen.intake.members import Member
from sheetgen.intake.overrides import overlaid
from sheetgen.intake.season_tables import MOST_BATCHES, MOST_WISHES, NOT_BOTTLES, SEASON
from sheetgen.intake.written import as_text
from sheetgen.model import Batch, Bottles
from sheetgen.model.season import Season, SharedVessel, Wish
from sheetgen.nodes import Entries, Items, Node, Text
from sheetgen.problems import Problems
from sheetgen.records import record
from sheetgen.units import Litres, Misread, day_date

LONGEST_NAME = 40


@record
class SeasonFile:
    """What a season file gave: the season, and a member for every batch (in their order) and every wish."""

    season: Season | None
    batches: tuple[Member, ...]
    wishes: tuple[Member, ...]
    problems: Problems
    files: Mapping[str, Path]


def read_season(path: Path, today: date, overrides: Mapping[str, str] = NO_OVERRIDES) -> SeasonFile:
    """The season in a file; batch files are looked for beside it and in folders there, nowhere else."""
    found = catalogue.load(path)
    desk = Desk(today, path.parent)
    desk.problems.extend(found.problems)
    if found.node is None:
        return SeasonFile(None, (), (), desk.problems, MappingProxyType({}))
    node = overlaid(found.node, overrides, desk)
    form = read_form(node, SEASON, Place(desk, (_crumb(node),), "", node.span))
    vessels = _vessels(form)
    stock, counted = _stock(form)
    files = members.Files(path.parent, desk.problems)
    laid = layers.Layers(form, vessels)
    batches = tuple(_members(form, "batches", MOST_BATCHES, files, laid))
    wishes = tuple(_members(form, "wishes", MOST_WISHES, files, laid))
    read = [_read(one, today, overrides, desk.problems) for one in batches]
    wished = [_wish(one, today, overrides, desk.problems) for one in wishes]
    _say_twice((*batches, *wishes), desk.problems)
    if not wishes and form.values.get("batches") == Items((), form.place_of("batches").span):
        form.place_of("batches").stop("there is no batch in this season", "write batches: [28a.yaml]")
    season = None
    if not desk.problems.stopped:
        season = _assembled(form, desk, vessels, stock, counted, (read, wished))
    return SeasonFile(season, batches, wishes, desk.problems, files.paths)


def reread(
    member: Member, more: Node, today: date, overrides: Mapping[str, str]
) -> tuple[Batch | None, Problems]:
    """The batch of a member with `more` laid over its tree: what the season decided."""
    tree = nodes.overlay(member.tree, more)
    return read_batch_tree(tree, (member.name, as_text(tree)), today, member.beside, overrides)


def _crumb(node: Node) -> str:
    own = node.get("season") if isinstance(node, Entries) else None
    return f"season {own.value[:20]}".strip() if isinstance(own, Text) else "season"


# Batches and wishes


def _members(form: Form, key: str, most: int, files: members.Files, laid: layers.Layers) -> list[Member]:
    """Every entry of the list as a tree; what is no file and no batch is told."""
    node, place = form.values.get(key), form.place_of(key)
    if node is None:
        return []
    parts = node.items if isinstance(node, Items) else (node,)
    if len(parts) > most:
        place.stop(f"{len(parts)} entries at {key}: are too many", f"write at most {most}")
        return []
    found = []
    for index, part in enumerate(parts):
        one = _member(part, place.at(str(index), part, str(index + 1)), key, files, laid)
        found += [one] if one else []
    return found


def _member(part: Node, place: Place, key: str, files: members.Files, laid: layers.Layers) -> Member | None:
    if isinstance(part, Text) and key == "batches":
        own = files.open(part, place)
        return None if own is None else members.from_file(own, laid)
    if isinstance(part, Entries):
        return members.written_here(part, place, laid, wish=key == "wishes")
    place.stop(
        f"found {shown(part)}; expected a batch", "write {batch: 28A, recipe: …}, or 28a.yaml at batches:"
    )
    return None


def _read(one: Member, today: date, overrides: Mapping[str, str], problems: Problems) -> Batch | None:
    batch, found = read_batch_tree(one.tree, (one.name, ""), today, one.beside, overrides)
    _told_once(found, problems)
    if batch is not None and batch.day_open:
        problems.stop(
            f"{batch.code} has no brew day: a season plans its batches from theirs",
            batch.where.get("event") or batch.where.get("batch"),
            "write brew-day:, or move it to wishes: with ready-by:",
        )
    return batch


def _told_once(found: Problems, problems: Problems) -> None:
    """Add what was found; what the season says for all its batches is told for the first alone."""
    known = {(one.level, one.message, one.span) for one in problems if one.span}
    problems.extend(one for one in found if (one.level, one.message, one.span) not in known)


def _wish(one: Member, today: date, overrides: Mapping[str, str], problems: Problems) -> Wish | None:
    """A wish is read as a batch that is brewed tomorrow; the day is only there to be replaced."""
    tomorrow = Text(str(today + timedelta(days=1)), one.tree.span)
    tree = layers.with_key(one.tree, "brew-day", tomorrow)
    batch, found = read_batch_tree(tree, (one.name, ""), today, one.beside, overrides)
    _told_once(found, problems)
    if one.ready_by is None:
        return Wish(batch, None, one.tree.span) if batch else None
    ready = day_date(one.ready_by.value)
    if isinstance(ready, Misread):
        ways = mending.instead(one.ready_by, ready.ways or ["2027-06-12"], ready.sure)
        problems.stop(ready.message, one.ready_by.span, ready.fix or "write ready-by: 2027-06-12", (), ways)
        return None
    return Wish(batch, ready, one.tree.span) if batch else None


def _say_twice(found: tuple[Member, ...], problems: Problems) -> None:
    """A code is one batch's alone."""
    first: dict[str, Text] = {}
    codes = [one.tree.get("batch") for one in found if isinstance(one.tree, Entries)]
    taken = {code.value for code in codes if isinstance(code, Text)}
    for one in found:
        code = one.tree.get("batch") if isinstance(one.tree, Entries) else None
        if isinstance(code, Text) and first.setdefault(code.value, code) is not code:
            other = first[code.value].span
            free = _free_code(code.value, taken)
            problems.stop(
                f"{code.value[:20]} is a batch of this season already, at {other.file}:{other.line}",
                code.span,
                f"give one of them another code, such as {free}" if free else "give one of them another code",
                (),
                mending.instead(code, [free] if free else []),
            )


def _free_code(code: str, taken: set[str]) -> str:
    """A code like this one that no batch of the season has; or ""."""
    return next((other for end in CODE_LETTERS if (other := code[:-1] + end) not in taken), "")


# What is shared


def _vessels(form: Form) -> tuple[tuple[SharedVessel, Form], ...]:
    found: list[tuple[SharedVessel, Form]] = []
    for one in form.lists("vessels"):
        if "name" not in one.values or "holds" not in one.values:
            continue
        name = " ".join(one.get("name").split())
        if len(name) > LONGEST_NAME:
            one.place_of("name").stop(
                "this name is too long for the wall calendar", f"write at most {LONGEST_NAME} characters"
            )
        if any(other.name == name for other, _ in found):
            one.place_of("name").stop(f"there are two vessels called {name}", "give each a name of its own")
        found.append((SharedVessel(name, Litres(one.get("holds"))), one))
    return tuple(found)


def _stock(form: Form) -> tuple[tuple[Bottles, ...] | None, dict[str, int]]:
    """The rows of bottles, and how many caps and corks there are."""
    node, place = form.values.get("stock"), form.place_of("stock")
    if node is None:
        return None, {}
    if not isinstance(node, Entries):
        place.stop(
            f"found {shown(node)}; expected bottles with their counts", "write stock: {500 ml pet: 12}"
        )
        return None, {}
    counted = {}
    for name in NOT_BOTTLES:
        entry = node.entry(name)
        count = count_or_none(entry.value.value) if entry and isinstance(entry.value, Text) else None
        if isinstance(count, Misread):
            value = entry.value if entry else node
            place.on(value.span).refuse(count, value)
        elif count is not None:
            counted[name] = count
    rows = layers.only_bottles(node)
    return (read_bottles(rows, place) if rows.entries else ()), counted


def _assembled(
    form: Form,
    desk: Desk,
    vessels: tuple[tuple[SharedVessel, Form], ...],
    stock: tuple[Bottles, ...] | None,
    counted: dict[str, int],
    read: tuple[list[Batch | None], list[Wish | None]],
) -> Season:
    language = form.get("language")
    usual = customs_of(language, desk.beside)
    paper: Any = form.values.get("paper") or ("Letter" if usual.get("paper") == "letter" else "A4")
    batches, wishes = read
    return Season(
        name=form.get("season"),
        batches=tuple(one for one in batches if one),
        wishes=tuple(one for one in wishes if one),
        vessels=tuple(one for one, _ in vessels),
        stock=stock,
        caps=counted.get("caps"),
        corks=counted.get("corks"),
        drunk=form.get("drunk") or 0.0,
        warm_bottles=form.get("warm-place"),
        cleaning=form.get("cleaning"),
        two_on_a_day=form.get("two-on-a-day"),
        paper=paper,
        language=language,
        units=form.values.get("units") or usual.get("units", "metric"),
        where=MappingProxyType(dict(desk.where)),
    )
