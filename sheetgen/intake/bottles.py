"""Bottles: how many, of which size and kind, as people write them.

Comes in: the node at `bottles:`: a text such as "24 x 500 ml one-way glass", a map such as {500 ml pet: 6},
or a list of texts or of {size, kind, count, for}.  Goes out: rows in the order of the file.  A kind that is
not said or not known counts as one-way glass, with a warning that names the kinds.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from sheetgen import units
from sheetgen.intake import pantry
from sheetgen.intake.batch_tables import BOTTLE
from sheetgen.intake.forms import Place, read_form, shown
from sheetgen.intake.kinds import bottle_size, positive_count
from sheetgen.model import Bottles, Container
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import did_you_mean, said
from sheetgen.records import record
from sheetgen.units import Millilitres, Misread

COMMON = "one-way glass"
COLOURS = frozenset(
    re.findall(
        "[a-z]+",
        "amber black blue brown clear coloured colored colourless colorless dark flint gold green grey "
        "gray orange pink purple red transparent white yellow",
    )
)
_FILLERS = frozenset(("bottle", "bottles", "of", "a", "the", "made", "beer"))
_MATERIALS = frozenset(("glass", "plastic"))
"""Words that fit several kinds: a guess would be a guess at strength."""
_REFUSED_WORDS: Mapping[str, str] = MappingProxyType(
    {
        word: kind
        for kind, words in (
            ("jar", "jar jam jamjar mason preserving canning honey milk demijohn carboy growler jug flask"),
            ("decorative", "decorative decoration ornamental fancy oil vinegar sauce ketchup syrup juice"),
            ("decorative", "carafe decanter spirit spirits liqueur liquor whisky whiskey gin rum vodka"),
            ("square", "square"),
            ("twist-off", "twist screw threaded"),
            ("wine", "wine"),
        )
        for word in words.split()
    }
)
"""A word of a bottle that is not made for pressure, and the kind it is then: stronger than any other word in
a phrase that is no name of a kind (common practice, no source).
"""
_SPARKLING = frozenset(("sparkling", "champagne"))
_SCREWED = frozenset(("screw", "threaded"))
"""What bottles of PET have as well: no sign of weakness there."""
_TIMES = re.compile(r"\s*(\d{1,9})\s*(?:[x×*]|bottles? of)\s*(\S.*)\Z", re.IGNORECASE | re.ASCII | re.DOTALL)
_FIX = "write bottles: 24 x 500 ml one-way glass"
_MOST_WORDS, _MOST_ROWS = 6, 8


@record
class SizeAndKind:
    """A bottle's size and the words for its kind, not yet looked up."""

    ml: Millilitres
    words: str


def read_bottles(node: Node, place: Place) -> tuple[Bottles, ...]:
    """The rows of bottles; what cannot be read is told and left out."""
    parts = _parts(node)
    if len(parts) > _MOST_ROWS:
        found = f"{len(parts)} rows of bottles; the bottling sheet has room for {_MOST_ROWS}"
        place.stop(found, f"write at most {_MOST_ROWS}, those of one kind and size in one row")
        return ()
    rows = [row for index, (part, key) in enumerate(parts) if (row := _row(part, key, place, index))]
    if not rows and not place.desk.problems.stopped:
        place.stop("there are no bottles", _FIX)
    return tuple(rows)


def _parts(node: Node) -> list[tuple[Node, Entry | None]]:
    """Each row's node; for a map of size and kind to count, with its entry."""
    if isinstance(node, Entries):
        if "size" in node.names():
            return [(node, None)]
        return [(entry.key, entry) for entry in node.entries]
    if isinstance(node, Items):
        return [
            part for item in node.items for part in ([(item, None)] if not _is_map(item) else _parts(item))
        ]
    return [(part, None) for part in _split(node)]


def _is_map(item: Node) -> bool:
    """Whether a list's item is a map of size and kind to count, such as {500 ml pet: 6}."""
    keys = set(BOTTLE.keys())
    return isinstance(item, Entries) and bool(item.entries) and not keys & set(item.names())


def _split(node: Text) -> list[Node]:
    """One text may hold several rows: "6 x 1 L pet, 18 x 500 ml returnable glass"."""
    starts = [
        found.start() for found in re.finditer(r"(?:(?<=,)|(?<=\+)|(?<=;)|\A)\s*\d{1,9}\s*[x×*]", node.value)
    ]
    if len(starts) < 2:
        return [node]
    ends = [*starts[1:], len(node.value)]
    return [
        Text(node.value[a:b].strip(" ,;+"), node.span, node.quoted) for a, b in zip(starts, ends, strict=True)
    ]


def _row(node: Node, entry: Entry | None, place: Place, index: int) -> Bottles | None:
    span = node.span if entry is None else entry.key.span
    inside = place.at(str(index), node, str(index + 1)).on(span)
    inside.mark()
    if entry is not None:
        return _counted(entry, inside)
    if isinstance(node, Entries):
        return _spelled_out(node, inside)
    if isinstance(node, Text):
        return _written(node.value, inside)
    inside.stop(f"found {shown(node)}; expected bottles", _FIX)
    return None


def _counted(entry: Entry, place: Place) -> Bottles | None:
    """A row such as `500 ml returnable glass: 26`."""
    name, value = entry.key.value, entry.value
    if _TIMES.match(name) and isinstance(value, Text) and not value.value:
        return _written(name, place)
    if not isinstance(value, Text) or not value.value:
        place.stop(
            f"found {shown(value)} for {shown(entry.key)}; expected how many", f"write {{{name[:40]}: 24}}"
        )
        return None
    count = positive_count(value.value)
    if isinstance(count, Misread):
        place.on(value.span).stop(count.message, count.fix)
    found = read_size_and_kind(name)
    if isinstance(found, Misread):
        place.stop(found.message, found.fix)
        return None
    return None if isinstance(count, Misread) else _made(found, count, "", place)


def _written(text: str, place: Place) -> Bottles | None:
    """A row such as `24 x 500 ml one-way glass`."""
    times = _TIMES.match(text)
    if not times:
        wrong = f"{shown(Text(text, place.span))} does not say how many bottles of which size"
        place.stop(wrong, _meant(text) or _FIX)
        return None
    count, found = positive_count(times.group(1)), read_size_and_kind(times.group(2))
    for misread in (count, found):
        if isinstance(misread, Misread):
            place.stop(misread.message, misread.fix)
    if isinstance(count, Misread) or isinstance(found, Misread):
        return None
    return _made(found, count, "", place)


def _meant(text: str) -> str:
    """What to type for a count and a size without an x between them, such as `24 330 ml pet`; or ""."""
    parts = re.match(r"\s*(\d{1,4})\s+(\d.*)\Z", text[:60], re.ASCII | re.DOTALL)
    return f"write {parts.group(1)} x {' '.join(parts.group(2).split())}" if parts else ""


def _spelled_out(node: Entries, place: Place) -> Bottles | None:
    """A row such as {size: 1 L, kind: pet, count: 6, for: gifts}."""
    form = read_form(node, BOTTLE, place)
    if "size" not in form.values or "count" not in form.values:
        return None
    found = SizeAndKind(form.get("size"), form.get("kind"))
    return _made(found, form.get("count"), form.get("for"), form.place_of("kind"), place)


def _made(found: SizeAndKind, count: int, what_for: str, place: Place, row: Place | None = None) -> Bottles:
    """The row; `place` is where its kind stands, `row` where it stands itself, if that is another."""
    kind = kind_of(found.words, place)
    if kind is not None:
        return Bottles(found.ml, kind, count, what_for=what_for)
    kinds = pantry.bottle_kinds(place.desk.beside)
    _warn_of_kind(found, kinds, place, row or place)
    return Bottles(found.ml, kinds.things[COMMON], count, known=False, what_for=what_for)


def _warn_of_kind(found: SizeAndKind, kinds: pantry.Shelf[Container], place: Place, row: Place) -> None:
    """Say that the row counts as the weakest; suggested are only kinds that are made for pressure."""
    rest, crumbs = plain_words(found.words), (*row.crumbs[:1], "bottles")
    message, fix = said("warn.bottle-unknown", ml=float(found.ml)), said("fix.bottle-unknown")
    place.desk.problems.warn(message, row.span, fix, crumbs)  # the very words of planning: told once
    if rest:
        strong = [name for name in kinds.names() if kinds.find(name) in _made_for_pressure(kinds)]
        guess = did_you_mean(rest, strong) if rest not in _MATERIALS else ""
        place.desk.problems.note(
            f'"{rest[:40]}" is not a known kind of bottle', place.span, guess, place.crumbs
        )


def _made_for_pressure(kinds: pantry.Shelf[Container]) -> list[Container]:
    return [kind for kind in kinds.things.values() if kind.refuse is not None]


def read_size_and_kind(text: str) -> SizeAndKind | Misread:
    """The size that begins the text, and the words after it."""
    words = text.split()
    for count in range(min(len(words), _MOST_WORDS), 0, -1):
        size = bottle_size(" ".join(words[:count]))
        if not isinstance(size, Misread):
            return SizeAndKind(size, " ".join(words[count:]))
    return _no_size(words)


def _no_size(words: list[str]) -> Misread:
    """The most telling of the reasons why no beginning of the text is a size."""
    best = Misread("a bottle's size is missing", "write the size first: 500 ml returnable glass")
    for count in range(min(len(words), _MOST_WORDS), 0, -1):
        reason = units.millilitres(" ".join(words[:count]))
        if not isinstance(reason, Misread):
            found = bottle_size(" ".join(words[:count]))
            return found if isinstance(found, Misread) else best
        if "?" in reason.message:
            return reason
    return _size_after(words) or best


def _size_after(words: list[str]) -> Misread | None:
    """The answer to a size that stands after the kind."""
    for first in range(1, min(len(words), _MOST_WORDS)):
        size, kind = " ".join(words[first:]), " ".join(words[:first])
        if not isinstance(bottle_size(size), Misread):
            return Misread("the size stands after the kind", f"write the size first: {size} {kind}"[:80])
    return None


def plain_words(words: str) -> str:
    """The words for a kind without colours and fillers: a colour says nothing of strength."""
    rest = [word for word in re.sub(r"[,;()]", " ", words.lower()).split() if word not in COLOURS | _FILLERS]
    return " ".join(rest)


def kind_of(words: str, place: Place) -> Container | None:
    """The kind of bottle that the words name, or None: a name as it is written, or without colours, fillers
    and plurals; else the kind that one of the words warns of.
    """
    kinds = pantry.bottle_kinds(place.desk.beside)
    whole = [word for word in re.sub(r"[,;()]", " ", words.lower()).split() if word not in COLOURS]
    for tried in (words, " ".join(whole), _singular(" ".join(whole))):
        for name in (tried, plain_words(tried)):
            if (kind := kinds.find(name)) is not None:
                return kind
    return kinds.find(_refused_kind(words))


def _singular(words: str) -> str:
    return re.sub(r"(?<=[^\Ws])s\b", "", words)


def _refused_kind(words: str) -> str:
    """The kind, made without pressure in mind, that a word of the phrase tells of; or ""."""
    said_words = re.findall("[a-z]+", words.lower())
    found = {word for each in said_words for word in (each, _singular(each)) if word in _REFUSED_WORDS}
    if "pet" in said_words:
        found -= _SCREWED
    if _SPARKLING & set(said_words):
        found.discard("wine")
    return next((kind for word, kind in _REFUSED_WORDS.items() if word in found), "")


# What was filled


Filled = tuple[tuple[int, ...] | None, tuple[Bottles, ...]]
"""How many of each row were filled, None if that cannot be told; and rows that nobody had listed."""


def read_filled(node: Node, rows: tuple[Bottles, ...], place: Place) -> Filled:
    """How many of each row were filled; a key that fits no row is a row of its own if its kind is known, and
    else told, as is one that fits two.
    """
    counts, more = [0] * len(rows), list[Bottles]()
    good = bool(rows)
    for index, (part, entry) in enumerate(_parts(node)):
        inside = place.at(str(index), part, str(index + 1))
        found = _filled_part(part, entry, inside)
        known = (*rows, *more)
        new = _unlisted(*found, known, inside) if found and rows and len(known) < _MOST_ROWS else None
        if new is not None:
            more.append(new)
            counts.append(new.count)
            continue
        chosen = _fitting(found[0], known, inside) if found and rows else None
        if found is None or chosen is None:
            good = False
        else:
            _spread(found[1], chosen, known, counts)
    return (tuple(counts) if good else None), tuple(more)


def _unlisted(found: SizeAndKind, count: int, rows: tuple[Bottles, ...], place: Place) -> Bottles | None:
    """What was filled although it was never listed: it happened, so it is taken as it is written."""
    kind = kind_of(found.words, place) if found.words else None
    if kind is None or not count or any(abs(row.ml - found.ml) < 0.5 and row.kind == kind for row in rows):
        return None
    name = f"{_size_of(found.ml)} {kind.id}"
    place.warn(
        f"no {name} stands at bottles:, yet {count} were filled; they are taken as filled",
        f"add {count} x {name} to bottles:, or correct what was filled",
    )
    return Bottles(found.ml, kind, count)


def _filled_part(part: Node, entry: Entry | None, place: Place) -> tuple[SizeAndKind, int] | None:
    if entry is not None and isinstance(part, Text):
        size, number = (
            read_size_and_kind(part.value),
            entry.value.value if isinstance(entry.value, Text) else "",
        )
    elif isinstance(part, Text) and (times := _TIMES.match(part.value)):
        size, number = read_size_and_kind(times.group(2)), times.group(1)
    else:
        place.stop(f"found {shown(part)}; expected how many of which size", "write {500 ml: 10}")
        return None
    count = units.count(number)
    for wrong in (size, count):
        if isinstance(wrong, Misread):
            place.stop(wrong.message, wrong.fix)
    return None if isinstance(size, Misread) or isinstance(count, Misread) else (size, count)


def _fitting(found: SizeAndKind, rows: tuple[Bottles, ...], place: Place) -> list[int] | None:
    """The rows of the one kind and size that is meant."""
    kind = kind_of(found.words, place)
    fits = [i for i, row in enumerate(rows) if abs(row.ml - found.ml) < 0.5 and kind in (None, row.kind)]
    names = [_name_of(rows[i]) for i in fits]
    if not fits:
        listed = ", ".join(_name_of(row) for row in rows)
        size = f"{_size_of(found.ml)} {plain_words(found.words)}".strip()
        place.stop(f"no {size} stands at bottles:", f"listed there are: {listed}")
        return None
    if len(set(names)) > 1:
        place.stop(f"this fits two kinds: {' and '.join(dict.fromkeys(names))}", f"write {names[0]}")
        return None
    return fits


def _name_of(row: Bottles) -> str:
    return f"{_size_of(row.ml)} {row.kind.id}"


def _size_of(ml: float) -> str:
    return f"{ml / 1000:g} L" if ml >= 1000 else f"{ml:g} ml"


def _spread(count: int, chosen: list[int], rows: tuple[Bottles, ...], counts: list[int]) -> None:
    """Fill rows of one kind in their order; what is over goes to the last."""
    for index in chosen[:-1]:
        taken = min(count, max(0, rows[index].count - counts[index]))
        counts[index] += taken
        count -= taken
    counts[chosen[-1]] += count
