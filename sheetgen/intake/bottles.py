"""Bottles: how many, of which size and kind, as people write them.

Comes in: the node at `bottles:`: a text such as "24 x 500 ml one-way glass", a map such as {500 ml pet: 6},
or a list of texts or of {size, kind, count, for}.  Goes out: rows in the order of the file.  A kind that is
not said or not known counts as one-way glass, with a warning that names the kinds.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from sheetgen import units
from sheetgen.intake import mending, pantry
from sheetgen.intake.batch_tables import BOTTLE
from sheetgen.intake.forms import Place, read_form, shown
from sheetgen.intake.kinds import bottle_size, positive_count
from sheetgen.model import Bottles, Container
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import Problem, Suggestion, nearest, said
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
TIMES = re.compile(r"\s*(\d{1,9})\s*(?:[x×*]|bottles? of)\s*(\S.*)\Z", re.IGNORECASE | re.ASCII | re.DOTALL)
_EXAMPLE = "24 x 500 ml one-way glass"
_FIX = f"write bottles: {_EXAMPLE}"
_MOST_WORDS, MOST_ROWS = 6, 8


@record
class SizeAndKind:
    """A bottle's size and the words for its kind, not yet looked up."""

    ml: Millilitres
    words: str


def read_bottles(node: Node, place: Place) -> tuple[Bottles, ...]:
    """The rows of bottles; what cannot be read is told and left out."""
    parts = parts_of(node)
    if len(parts) > MOST_ROWS:
        found = f"{len(parts)} rows of bottles; the bottling sheet has room for {MOST_ROWS}"
        place.stop(found, f"write at most {MOST_ROWS}, those of one kind and size in one row")
        return ()
    rows = [row for index, (part, key) in enumerate(parts) if (row := _row(part, key, place, index))]
    if not rows and not place.desk.problems.stopped:
        place.stop("there are no bottles", _FIX)
    return tuple(rows)


def parts_of(node: Node) -> list[tuple[Node, Entry | None]]:
    """Each row's node; for a map of size and kind to count, with its entry."""
    if isinstance(node, Entries):
        if "size" in node.names():
            return [(node, None)]
        return [(entry.key, entry) for entry in node.entries]
    if isinstance(node, Items):
        return [
            part for item in node.items for part in ([(item, None)] if not _is_map(item) else parts_of(item))
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
        return _written(node, inside)
    inside.stop(f"found {shown(node)}; expected bottles", _FIX)
    return None


def _counted(entry: Entry, place: Place) -> Bottles | None:
    """A row such as `500 ml returnable glass: 26`."""
    name, value = entry.key.value, entry.value
    if TIMES.match(name) and isinstance(value, Text) and not value.value:
        return _written(entry.key, place)
    if not isinstance(value, Text) or not value.value:
        equal = re.match(r"(.*\S)\s*=\s*(\d+)\s*\Z", name[:80])
        whole = f"{equal[1]}: {equal[2]}" if equal else f"{name[:40]}: 24"
        message = f"found {shown(value)} for {shown(entry.key)}; expected how many"
        place.stop(message, f"write {{{whole}}}", _as_written(entry.key, whole))
        return None
    count, found = positive_count(value.value), read_size_and_kind(name)
    if isinstance(count, Misread):
        if not isinstance(positive_count(name), Misread):
            _turned(entry, value, place)
            return None
        place.on(value.span).refuse(count, value)
    if isinstance(found, Misread):
        place.refuse(found, entry.key)
        return None
    return None if isinstance(count, Misread) else _made(found, count, "", place, entry.key)


def _as_written(key: Text, whole: str) -> tuple[Suggestion, ...]:
    return (Suggestion(key.span, whole),) if mending.is_whole(key) else ()


def _turned(entry: Entry, value: Text, place: Place) -> None:
    """The count stands where the size should, and the size where the count should."""
    whole = f"{value.value}: {entry.key.value}"
    end = value.span.column + value.span.length
    ways = (Suggestion(replace(entry.key.span, length=end - entry.key.span.column), whole),)
    place.stop("the count stands before the size", f"write {{{whole[:60]}}}", ways)


def _written(node: Text, place: Place) -> Bottles | None:
    """A row such as `24 x 500 ml one-way glass`."""
    text = node.value
    times = TIMES.match(text)
    if not times:
        wrong, (meant, sure) = f"{shown(node)} does not say how many bottles of which size", _meant(text)
        ways = mending.instead(node, [meant or _EXAMPLE], sure)
        place.stop(wrong, f"write {meant}" if meant else _FIX, ways)
        return None
    count, found = positive_count(times.group(1)), read_size_and_kind(times.group(2))
    if isinstance(count, Misread):
        place.stop(count.message, count.fix)
    if isinstance(found, Misread):
        rows = tuple(f"{times.group(1)} x {way}" for way in found.ways)
        place.stop(found.message, found.fix, mending.instead(node, rows, found.sure))
    if isinstance(count, Misread) or isinstance(found, Misread):
        return None
    return _made(found, count, "", place, node)


def _meant(text: str) -> tuple[str, bool]:
    """What to type for a row without an x between count and size, such as `24 330 ml pet`, with both in turn
    or without a size, or ""; and whether there is no doubt.
    """
    tidy = " ".join(text[:60].split())
    both = re.match(r"(\d{1,4}) (\d.*)\Z", tidy, re.ASCII)
    turned = re.match(r"(.{1,12}?) ?[x×*] ?(\d{1,4})\b ?(.*)\Z", tidy, re.ASCII)
    bare = re.match(r"(\d{1,4}) ?(?:[x×*] ?)?([^\d\s].*)\Z", tidy, re.ASCII)
    if both and not isinstance(read_size_and_kind(both[2]), Misread):
        return f"{both[1]} x {both[2]}", True
    if turned and not isinstance(bottle_size(turned[1]), Misread):
        return f"{turned[2]} x {turned[1]} {turned[3]}".strip(), True
    return (f"{bare[1]} x 500 ml {bare[2]}", False) if bare else ("", False)


def _spelled_out(node: Entries, place: Place) -> Bottles | None:
    """A row such as {size: 1 L, kind: pet, count: 6, for: gifts}."""
    form = read_form(node, BOTTLE, place)
    if "size" not in form.values or "count" not in form.values:
        return None
    found = SizeAndKind(form.get("size"), form.get("kind"))
    where, row = form.place_of("kind"), (place, form.nodes.get("kind"))
    return _made(found, form.get("count"), form.get("for"), where, row[1], row[0])


def _made(
    found: SizeAndKind, count: int, what_for: str, place: Place, node: Node | None, row: Place | None = None
) -> Bottles:
    """The row; `place` is where its kind stands, in `node`; `row` where it stands itself, if elsewhere."""
    kind = kind_of(found.words, place)
    words = mending.span_of(node, found.words)
    if words is not None and row is None:
        place.desk.where[f"{place.dotted}.kind"] = words
    if kind is not None:
        return Bottles(found.ml, kind, count, what_for=what_for)
    kinds = pantry.bottle_kinds(place.desk.beside)
    _warn_of_kind(found, kinds, place, row or place, node)
    return Bottles(found.ml, kinds.things[COMMON], count, known=False, what_for=what_for)


def _warn_of_kind(
    found: SizeAndKind, kinds: pantry.Shelf[Container], place: Place, row: Place, node: Node | None
) -> None:
    """Say that the row counts as the weakest; suggested are only kinds that are made for pressure."""
    rest, crumbs = plain_words(found.words), (*row.crumbs[:1], "bottles")
    message, fix = said("warn.bottle-unknown", ml=float(found.ml)), said("fix.bottle-unknown")
    strong = [name for name in kinds.names() if kinds.find(name) in _made_for_pressure(kinds)]
    guess = nearest(rest, strong) if rest not in _MATERIALS else ""
    ways = mending.part_of(node, found.words, guess) if node is not None and guess else ()
    # the very words of planning: told once
    place.desk.problems.add(Problem("warn", message, row.span, fix, crumbs, ways))
    if rest:
        place.desk.problems.note(
            f'"{rest[:40]}" is not a known kind of bottle',
            place.span,
            f'did you mean "{guess}"?' if guess else "",
            place.crumbs,
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
            meant = f"500 ml {' '.join(words[count:])}".strip()
            return Misread(found.message, found.fix, (meant,)) if isinstance(found, Misread) else best
        if "?" in reason.message:
            return _of_a_bottle(reason, words[:count], " ".join(words[count:]))
    return _size_after(words) or best


def _of_a_bottle(reason: Misread, size: list[str], rest: str) -> Misread:
    """Of several ways to read a size those that a bottle can have: bare 0.5 is half a litre."""
    bare = units.number(" ".join(size))
    if not isinstance(bare, Misread) and 0.1 <= bare <= 5:
        meant = f"{bare:g} L"
        return Misread(f"{bare:g} has no unit: {meant}?", f"write {meant}", (f"{meant} {rest}".strip(),))
    good = tuple(way for way in reason.ways if not isinstance(bottle_size(way), Misread))
    return Misread(reason.message, reason.fix, tuple(f"{way} {rest}".strip() for way in good))


def _size_after(words: list[str]) -> Misread | None:
    """The answer to a size that stands after the kind."""
    for first in range(1, min(len(words), _MOST_WORDS)):
        size, kind = " ".join(words[first:]), " ".join(words[:first])
        if not isinstance(bottle_size(size), Misread):
            whole = f"{size} {kind}"[:60]
            return Misread("the size stands after the kind", f"write the size first: {whole}", (whole,), True)
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
