"""What a season says for its batches, laid under or over their trees.

Comes in: the season's form and its vessels.  Goes out: trees.  Under a batch lie the words that it may leave
out (brewer, paper, language, units, the bottles); over it lie the days of the one person.  A vessel that is
named as the season names it is that vessel.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from sheetgen import nodes, units
from sheetgen.intake import mending
from sheetgen.intake.forms import Form
from sheetgen.intake.season_tables import FOR_ALL, IF_SILENT, NOT_BOTTLES
from sheetgen.model.season import SharedVessel
from sheetgen.nodes import Entries, Entry, Node, Text
from sheetgen.problems import did_you_mean, nearest
from sheetgen.records import record


def with_key(node: Node, key: str, value: Node) -> Node:
    """The tree with a key's value replaced, or added."""
    if not isinstance(node, Entries):
        return node
    entry = Entry(Text(key, value.span), value)
    kept = tuple(entry if one.key.value == key else one for one in node.entries)
    return replace(node, entries=kept if node.entry(key) else (*kept, entry))


def without(node: Entries, keys: Collection[str]) -> Entries:
    """The tree without some keys."""
    return replace(node, entries=tuple(one for one in node.entries if one.key.value not in keys))


def only_bottles(stock: Entries) -> Entries:
    """The stock without caps and corks."""
    return without(stock, NOT_BOTTLES)


@record
class Layers:
    """The season's form and vessels, ready to be laid round a batch."""

    form: Form
    vessels: Sequence[tuple[SharedVessel, Form]]

    def on(self, tree: Node) -> Node:
        """The whole tree of a batch."""
        if not isinstance(tree, Entries):
            return tree
        below = self._entries(key for key in IF_SILENT if key in self.form.nodes)
        whole: Node = nodes.overlay(Entries(tuple(below), tree.span), tree) if below else tree
        for entry in self._entries(key for key in FOR_ALL if key in self.form.nodes):
            whole = with_key(whole, entry.key.value, entry.value)
        whole = self._with_stock(whole)
        return self._with_vessel(replace(whole, span=tree.span) if isinstance(whole, Entries) else whole)

    def over_base(self, part: Node) -> Node:
        """A batch that is written in the season file, over what its batches have in common."""
        base = self.form.values.get("base")
        if isinstance(base, Entries) and isinstance(part, Entries):
            joined = nodes.overlay(base, part)
            return replace(joined, span=part.span) if isinstance(joined, Entries) else joined
        return part

    def _entries(self, keys: Iterable[str]) -> list[Entry]:
        return [Entry(Text(key, self.form.nodes[key].span), self.form.nodes[key]) for key in keys]

    def _with_stock(self, tree: Node) -> Node:
        """A batch that names no bottles may take any of the stock."""
        stock = self.form.values.get("stock")
        if not isinstance(stock, Entries) or not isinstance(tree, Entries) or tree.entry("bottles"):
            return tree
        rows = only_bottles(stock)
        return with_key(tree, "bottles", rows) if rows.entries else tree

    def _with_vessel(self, tree: Node) -> Node:
        """A vessel that is named as one of the season's is that one."""
        gear = tree.get("equipment") if isinstance(tree, Entries) else None
        own = gear.get("vessel") if isinstance(gear, Entries) else None
        name = _name_of(own)
        if not name or gear is None or own is None:
            return tree
        shared = next((form for vessel, form in self.vessels if vessel.name == name), None)
        if shared is None:
            return self._unknown(tree, own, name)
        known = Entries(
            tuple(Entry(Text(key, own.span), node) for key, node in shared.nodes.items()), own.span
        )
        return with_key(tree, "equipment", with_key(gear, "vessel", self._same(known, own, name)))

    def _same(self, known: Entries, own: Node, name: str) -> Node:
        """The season's vessel; what the batch says of it besides must be the same."""
        holds, other = (node.get("holds") if isinstance(node, Entries) else None for node in (known, own))
        both = (holds, other) if isinstance(holds, Text) and isinstance(other, Text) else None
        if both and units.volume(both[0].value) != units.volume(both[1].value):
            there, here = both
            self.form.place.on(here.span).stop(
                f"{name} holds {there.value} at {there.span.file}:{there.span.line}, and {here.value} here",
                "things with one name are one thing: give it another name, or correct one",
            )
        return known

    def _unknown(self, tree: Node, own: Node, name: str) -> Node:
        """A name alone that no vessel has is told; one with its volume is a vessel of its own."""
        if isinstance(own, Text):
            known = [vessel.name for vessel, _ in self.vessels]
            fix = did_you_mean(name, known) or f"vessels: names {', '.join(known) or 'none yet'}"
            near = nearest(name, known)
            ways = mending.instead(own, [near] if near else known)
            self.form.place.on(own.span).stop(f'no vessel of this season is called "{name[:40]}"', fix, ways)
            return with_key(tree, "equipment", without(_gear(tree), ("vessel",)))
        return tree


def _gear(tree: Node) -> Entries:
    gear = tree.get("equipment") if isinstance(tree, Entries) else None
    return gear if isinstance(gear, Entries) else Entries((), tree.span)


def _name_of(own: Node | None) -> str:
    """The vessel's name: a text that does not begin like a volume, or the name in its map."""
    named = own.get("name") if isinstance(own, Entries) else own
    text = " ".join(named.value.split()) if isinstance(named, Text) else ""
    amount = text[:1].isdigit() or text[:1] in "½¼¾⅓⅔.," or text.lower() == "none"
    return "" if isinstance(own, Text) and amount else text
