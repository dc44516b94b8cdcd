"""Reads one mapping of a file against its table of fields.

Comes in: nodes, a `Table`, and the `Desk` with everything of this run.  Goes out: a `Form` of read values
by key; what is wrong goes to the desk's problems, all of it at once, each with its place, its breadcrumb
and what to type.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

from sheetgen.intake import mending
from sheetgen.intake.fields import Field, Table
from sheetgen.intake.kinds import KINDS
from sheetgen.intake.mending import Ways
from sheetgen.intake.other_words import KEYS_INSIDE, OTHER_KEYS, word_meant
from sheetgen.model import Assumption
from sheetgen.nodes import Entries, Entry, Items, Node, Text
from sheetgen.problems import Problems, Said, Span, Suggestion, nearest, said
from sheetgen.records import record
from sheetgen.units import Misread

_SHOWN = 40
_SUCH_AS = re.compile(r"such as ([^;]+?)(?:;|\Z)")


@dataclass
class Desk:
    """What is at hand while a file is read: today, the folder beside the file, and the lists that grow."""

    today: date
    beside: Path | None = None
    problems: Problems = field(default_factory=Problems)
    where: dict[str, Span] = field(default_factory=dict)
    assumptions: list[Assumption] = field(default_factory=list)

    def assume(self, key: str, sentence: Said) -> None:
        """Note a value that was not given."""
        self.assumptions.append(Assumption(key, sentence))


@record
class Place:
    """Where one reads: the breadcrumb, the dotted key for `Batch.where`, and the span."""

    desk: Desk
    crumbs: tuple[str, ...]
    dotted: str
    span: Span

    def at(self, key: str, node: Node, crumb: str | None = None) -> Place:
        """The place of something inside."""
        dotted = f"{self.dotted}.{key}" if self.dotted else key
        return Place(self.desk, (*self.crumbs, key if crumb is None else crumb), dotted, node.span)

    def on(self, span: Span) -> Place:
        """The same place, pointing elsewhere."""
        return replace(self, span=span)

    def stop(self, message: str | Said, fix: str | Said = "", ways: Ways = ()) -> None:
        """A stop at this place; `ways`: what may be written instead."""
        self.desk.problems.stop(message, self.span, fix, self.crumbs, ways)

    def refuse(self, wrong: Misread, node: Node, example: str = "", fix: str = "") -> None:
        """A stop for a value that cannot be read, with what may stand in its place: else the example."""
        ways = mending.instead(node, wrong.ways or ([example] if example else []), wrong.sure)
        fix = wrong.fix or fix
        more = f", such as {example}" if example and not wrong.ways and example not in fix else ""
        self.stop(wrong.message, f"{fix}{more}", ways)

    def warn(self, message: str | Said, fix: str | Said = "") -> None:
        """A warning at this place."""
        self.desk.problems.warn(message, self.span, fix, self.crumbs)

    def note(self, message: str | Said, fix: str | Said = "") -> None:
        """A note at this place."""
        self.desk.problems.note(message, self.span, fix, self.crumbs)

    def mark(self) -> None:
        """Keep this span for `Batch.where`."""
        self.desk.where[self.dotted] = self.span

    def mark_name(self, name: Span) -> None:
        """Keep the span of the name too, for what is said of all that it holds; a part that stands on lines
        of its own is always marked by its name.
        """
        self.desk.where[f"{self.dotted}:"] = name
        if self.span.line != name.line:
            self.desk.where[self.dotted] = name


@record
class Form:
    """The values that were read, by key; `nodes` and `places` of everything that was written, readable or
    not; `meant`: known keys that a misspelt one stands for; `node`: what was read.
    """

    table: Table
    place: Place
    values: dict[str, Any]
    nodes: dict[str, Node]
    places: dict[str, Place]
    meant: set[str] = field(default_factory=set)
    node: Node | None = None

    def said(self, key: str) -> bool:
        """Whether the key was written (and not refused)."""
        return key in self.nodes

    def get(self, key: str) -> Any:
        """The value, or the field's default."""
        if key in self.values:
            return self.values[key]
        found = self.table.field(key)
        return found.default if found else None

    def lists(self, key: str) -> list[Any]:
        """The values of a key that takes many; empty when it is not there."""
        return list(self.values.get(key, ()))

    def place_of(self, key: str) -> Place:
        """Where the key stands, or the whole form."""
        return self.places.get(key, self.place)

    def assume(self) -> None:
        """List the defaults that took the place of keys that were left out."""
        prefix = f"{self.place.dotted}." if self.place.dotted else ""
        for each in self.table.fields:
            if each.assume and each.key not in self.nodes:
                self.place.desk.assume(f"{prefix}{each.key}", said(each.assume, **{each.blank: each.default}))


def shown(node: Node) -> str:
    """What was found, for a sentence."""
    if isinstance(node, Items):
        return "a list"
    if isinstance(node, Entries):
        return "names with values"
    tidy = " ".join(node.value.split())
    return f'"{tidy if len(tidy) <= _SHOWN else tidy[: _SHOWN - 1] + "…"}"'


def empty_form(table: Table, place: Place) -> Form:
    """A form in which nothing is said."""
    return Form(table, place, {}, {}, {})


def read_form(node: Node, table: Table, place: Place) -> Form:
    """The form that stands at `node`; where it is no mapping, an empty one and a stop."""
    form = Form(table, place, {}, {}, {}, node=node)
    if not isinstance(node, Entries):
        example = ", ".join(f"{each.key}: {each.example}" for each in table.fields[:2])
        place.stop(
            f"found {shown(node)}; expected names with values",
            f"write {{{example}}}",
            mending.instead(node, [f"{{{example}}}"]),
        )
        return form
    form.meant.update(_read_entry(entry, form) for entry in node.entries)
    for each in table.fields:
        if each.required and each.key not in form.nodes and each.key not in form.meant:
            first = node.entries[0].key.span if node.entries and not place.dotted else node.span
            ways = mending.added(node, each.key, each.example)
            said_so = f"{each.key}: is missing: {each.help}"
            place.on(first).stop(said_so, f"write {each.key}: {each.example}", ways)
    return form


def _read_entry(entry: Entry, form: Form) -> str:
    """Read one entry; the key that was meant, if it is another than the one that was written."""
    key = entry.key.value
    known = form.table.field(key)
    place = form.place.at(key, entry.value)
    if known is None:
        return _unknown(entry, form)
    if _is_empty(entry.value, known):
        form.nodes[key] = entry.value
        place.on(entry.key.span).stop(
            f"nothing stands after {key}:",
            f"write {key}: {known.example}, or delete it",
            mending.filled_in(entry.key, known.example),
        )
    else:
        form.nodes[key], form.places[key] = entry.value, place
        place.mark()
        if not isinstance(entry.value, Text):
            place.mark_name(entry.key.span)
        value = read_value(known, entry.value, place)
        if not isinstance(value, Misread):
            form.values[key] = value
    return ""


def _is_empty(node: Node, known: Field) -> bool:
    """Whether nothing is written; "" in quotation marks is something unless the key is needed."""
    return isinstance(node, Text) and not node.value.strip() and (known.required or not node.quoted)


def _unknown(entry: Entry, form: Form) -> str:
    """A stop for a key that is not known; the known one that was meant, or ""."""
    key, place = entry.key.value, form.place.on(entry.key.span)
    later = form.table.not_offered.get(key)
    if later:
        message, _, fix = later.partition(": ")
        meant = key_meant(key, form.table.keys())
        ways = mending.key_instead(entry.key, meant if meant in (key[:-1], f"{key}s") else "")
        place.stop(f"{key}: {message}", fix, ways or mending.entry_instead(entry, fix))
        return meant if ways else ""
    keys = form.table.keys()
    meant = key_meant(key, keys)
    name = key if len(key) <= _SHOWN else key[: _SHOWN - 1] + "…"
    fix = f'did you mean "{meant}"?' if meant else f"delete it; known are: {', '.join(keys)}"
    sure = meant.replace("-", "") == _bare(key)
    ways = mending.key_instead(entry.key, meant, sure) if meant else mending.left_out(entry)
    place.stop(f'"{name}" is not a key of {form.table.called}', fix, ways)
    return meant


def _bare(key: str) -> str:
    return re.sub(r"[\s_-]+", "", key[:60].lower())


def key_meant(key: str, keys: tuple[str, ...]) -> str:
    """The known key that is nearest: capitals, spaces and hyphens do not matter; "" if none is near."""
    bare = _bare(key)
    same = next((known for known in keys if known.replace("-", "") == bare), "")
    written = "-".join(re.split(r"[\s_-]+", key[:60].lower().strip()))
    others = (OTHER_KEYS.get(written, ""), *KEYS_INSIDE.get(written, ()))
    return same or next((other for other in others if other in keys), "") or nearest(key, keys)


def read_value(known: Field, node: Node, place: Place) -> Any:
    """The value of a field, or a `Misread` whose problem has been told."""
    if known.kind == "node":
        return node
    if known.many:
        return _read_many(known, node, place)
    return _read_one(known, node, place)


def _read_one(known: Field, node: Node, place: Place) -> Any:
    if known.kind == "table" and known.table:
        return read_form(node, known.table, place)
    if not isinstance(node, Text):
        alone = _as_one(known, node, place)
        ways = (Suggestion(node.span, alone),) if node.span.length > 1 else ()
        message = f"found {shown(node)}; expected {KINDS[known.kind].what}"
        place.stop(message, f"write {known.key}: {alone}", ways)
        return Misread("")
    return read_text(known, node, place)


def _as_one(known: Field, node: Node, place: Place) -> str:
    """What to write in place of a list or a mapping: its only item, if that can be read."""
    alone = node.items[0] if isinstance(node, Items) and len(node.items) == 1 else None
    good = isinstance(alone, Text) and not isinstance(_value(known, alone.value, place), Misread)
    return alone.value if good and isinstance(alone, Text) else known.example


def _value(known: Field, text: str, place: Place) -> Any:
    value = KINDS[known.kind].reader(text)
    return choose(value, known, place.desk.beside) if known.kind == "choice" else value


def read_text(known: Field, node: Text, place: Place) -> Any:
    """The value of a single text, or a `Misread` whose problem has been told."""
    value = _value(known, node.value, place)
    if isinstance(value, Misread):
        fix = _fix(known, value, place)
        good = [way for way in value.ways if _is_good(known, way, place)]
        sure = value.sure and len(good) == len(value.ways)
        example = _example(known, fix, place)
        ways = mending.instead(node, good or [example], sure)
        fix = fix if good or example in fix or example[:1] == "[" else f"{fix}, such as {example}"
        place.stop(value.message, fix, mending.in_a_list(ways) if _is_item(place) else ways)
    return value


def _is_item(place: Place) -> bool:
    return place.dotted.rpartition(".")[2].isdigit()


def _is_good(known: Field, way: str, place: Place) -> bool:
    """Whether it would be read; a list in place of one value is."""
    return way[:1] == "[" or not isinstance(_value(known, way, place), Misread)


def _example(known: Field, fix: str, place: Place) -> str:
    """The example that the sentence ends with, or the key's own."""
    example = _SUCH_AS.search(fix)
    return example[1] if example and _is_good(known, example[1], place) else known.example


def _fix(known: Field, wrong: Misread, place: Place) -> str:
    """What to write: the reader's own example, unless this key would refuse it."""
    example = _SUCH_AS.search(wrong.fix)
    if not wrong.fix or (example and isinstance(_value(known, example.group(1), place), Misread)):
        return f"write {known.key}: {known.example}"
    return wrong.fix


def _read_many(known: Field, node: Node, place: Place) -> Any:
    parts = node.items if isinstance(node, Items) else _parted(node) if known.commas else (node,)
    if len(parts) > known.most:
        place.stop(f"{len(parts)} entries at {known.key}: are too many", f"write at most {known.most}")
        return Misread("")
    values = []
    for index, part in enumerate(parts):
        inside = place.at(str(index), part, _name_of(part, known.table, index))
        inside.mark()
        values.append(_read_one(known, part, inside))
    return [value for value in values if not isinstance(value, Misread)]


def _parted(node: Node) -> tuple[Node, ...]:
    """The parts of a text with commas, each with its own span."""
    if not isinstance(node, Text) or "," not in node.value:
        return (node,)
    found: list[Node] = []
    for part in re.finditer(r"[^,\s](?:[^,]*[^,\s])?", node.value):
        at = node.span.column + part.start() + int(node.quoted)
        found.append(Text(part.group(), replace(node.span, column=at, length=len(part.group())), node.quoted))
    return tuple(found) or (node,)


def _name_of(node: Node, table: Table | None, index: int) -> str:
    """What a thing in a list is called in a breadcrumb: by its own name, else by its number."""
    own = node.get(table.named_by) if table and isinstance(node, Entries) and table.named_by else None
    return " ".join(own.value.split())[:_SHOWN] if isinstance(own, Text) and own.value else str(index + 1)


def choose(value: str, known: Field, beside: Path | None = None) -> str | Misread:
    """The allowed word that was meant: capitals, spaces and hyphens do not matter."""
    allowed = known.allowed(beside)
    plain = {re.sub(r"[\s_-]+", " ", word).lower(): word for word in allowed}
    found = plain.get(re.sub(r"[\s_-]+", " ", value).strip().lower())
    if found:
        return found
    if value.lower() in known.later:
        return Misread(
            f"{known.key}: {value} is not offered yet", f"write {known.key}: {known.example}, or leave it out"
        )
    meant = word_meant(known.key, value, allowed)
    near = meant or nearest(value, allowed)
    guess = f'did you mean "{near}"?' if near else ""
    said_value = value if len(value) <= _SHOWN else value[: _SHOWN - 1] + "…"
    some = ", ".join(allowed[:24]) + (" …" if len(allowed) > 24 else "")
    fix = f"{guess} Known are: {some}" if guess else f"write one of: {some}"
    return Misread(f'"{said_value}" is not known as {known.key}', fix, (near,) if near else (), bool(meant))
