"""Files of names and values as a tree of text, each piece with the place where it was said.

Comes in: the bytes of a YAML file.  Goes out: a tree of `Text`, `Items` and `Entries`, and problems as
values; nothing here raises for what a person wrote.
"""

from sheetgen.nodes.decoding import MAX_BYTES
from sheetgen.nodes.reading import MAX_DEPTH, MAX_NODES, load
from sheetgen.nodes.tree import Entries, Entry, Items, Node, Text, kind_of, overlay

__all__ = [
    "MAX_BYTES",
    "MAX_DEPTH",
    "MAX_NODES",
    "Entries",
    "Entry",
    "Items",
    "Node",
    "Text",
    "kind_of",
    "load",
    "overlay",
]
