"""The bundled faces inside a PDF: of each the glyphs that are used, and what a viewer must know of them.

Comes in: the characters that were drawn in a face. Goes out: a small TrueType font, and the entries of its
dictionaries. The code of a character on the page is its code point, in two bytes: so the content of a page
does not depend on the file that it stands in, and words that are copied out are the words that went in.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from zlib import crc32

from sheetgen.printing import fonts
from sheetgen.records import record

_TABLES = ("glyf", "head", "hhea", "hmtx", "loca", "maxp")
_COMPOSITE, _WORDS, _MORE, _SCALE, _TWO_SCALES, _MATRIX = -1, 0x1, 0x20, 0x8, 0x40, 0x80
_MAGIC = 0xB1B0AFBA
_BLOCK = 256


@record
class Face:
    """A face taken apart: its tables, where each glyph begins in `glyf`, the glyph of each code point."""

    name: str
    tables: Mapping[str, bytes]
    starts: Sequence[int]
    glyph_of: Mapping[int, int]

    def glyph(self, number: int) -> bytes:
        """The outline of a glyph; nothing for a space."""
        return self.tables["glyf"][self.starts[number] : self.starts[number + 1]]

    def advance(self, number: int) -> bytes:
        """Width and left bearing of a glyph, as they stand in its table."""
        full = struct.unpack(">H", self.tables["hhea"][34:36])[0]
        table = self.tables["hmtx"]
        if number < full:
            return table[4 * number : 4 * number + 4]
        bearing = 4 * full + 2 * (number - full)
        return table[4 * full - 4 : 4 * full - 2] + table[bearing : bearing + 2]


@cache
def face(name: str) -> Face:
    """A bundled face, read once a process."""
    data = (fonts.folder() / fonts.FILES[name]).read_bytes()
    tables = {}
    for index in range(struct.unpack(">H", data[4:6])[0]):
        tag, _sum, start, length = struct.unpack(">4sIII", data[12 + 16 * index : 28 + 16 * index])
        tables[tag.decode("latin-1")] = data[start : start + length]
    count = struct.unpack(">H", tables["maxp"][4:6])[0] + 1
    long = struct.unpack(">h", tables["head"][50:52])[0]
    starts = struct.unpack(f">{count}{'I' if long else 'H'}", tables["loca"][: count * (4 if long else 2)])
    where = starts if long else tuple(2 * start for start in starts)
    return Face(fonts.FILES[name].removesuffix(".ttf"), tables, where, _glyphs(tables["cmap"]))


def _glyphs(table: bytes) -> dict[int, int]:
    """The glyph of every code point up to U+FFFF: the table of format 4, which every face has."""
    for index in range(struct.unpack(">H", table[2:4])[0]):
        start = struct.unpack(">I", table[8 + 8 * index : 12 + 8 * index])[0]
        if struct.unpack(">H", table[start : start + 2])[0] == 4:
            return _segments(table[start:])
    return {}


def _segments(table: bytes) -> dict[int, int]:
    size = struct.unpack(">H", table[6:8])[0]
    at = (14, 16 + size, 16 + 2 * size, 16 + 3 * size)
    ends, begins, deltas, offsets = (struct.unpack(f">{size // 2}H", table[x : x + size]) for x in at)
    found = {}
    for index, (begin, end, delta, offset) in enumerate(zip(begins, ends, deltas, offsets, strict=True)):
        for code in range(begin, min(end, 0xFFFE) + 1):
            glyph = code
            if offset:
                place = at[3] + 2 * index + offset + 2 * (code - begin)
                glyph = struct.unpack(">H", table[place : place + 2])[0]
            if glyph or not offset:
                found[code] = (glyph + delta) & 0xFFFF
    return found


@record
class Subset:
    """A face with few glyphs: its name, its file, the width of each code point, and where its glyph is."""

    name: str
    file: bytes
    widths: Mapping[int, int]
    places: bytes
    box: tuple[int, ...]


@lru_cache(maxsize=8)
def subset(name: str, characters: str) -> Subset:
    """The face with these characters only, each once and in order."""
    whole = face(name)
    codes = {ord(one): whole.glyph_of.get(ord(one), 0) for one in characters}
    glyphs = _needed(whole, codes.values())
    number = {glyph: index for index, glyph in enumerate(glyphs)}
    places = bytearray(2 * (max(codes, default=0) + 1))
    for code, glyph in codes.items():
        places[2 * code : 2 * code + 2] = struct.pack(">H", number[glyph])
    tag = crc32(characters.encode("utf-8", "replace"))
    letters = "".join(chr(65 + tag // 26**power % 26) for power in range(6))
    widths = {code: struct.unpack(">H", whole.advance(glyph)[:2])[0] for code, glyph in codes.items()}
    box = struct.unpack(">4h", whole.tables["head"][36:44])
    return Subset(f"{letters}+{whole.name}", _file(whole, glyphs, number), widths, bytes(places), box)


def _needed(whole: Face, wanted: Iterable[int]) -> list[int]:
    """The glyphs and those that they are put together from, in order, the sign for a missing one first."""
    found, waiting = {0}, list(wanted)
    while waiting:
        glyph = waiting.pop()
        if glyph not in found:
            found.add(glyph)
            waiting += [part for _place, part in _parts(whole.glyph(glyph))]
    return sorted(found)


def _parts(outline: bytes) -> list[tuple[int, int]]:
    """Of a glyph that is put together from others: where the number of each stands, and the number."""
    if not outline or struct.unpack(">h", outline[:2])[0] != _COMPOSITE:
        return []
    found, at, flags = [], 10, _MORE
    while flags & _MORE:
        flags, glyph = struct.unpack(">HH", outline[at : at + 4])
        found.append((at + 2, glyph))
        at += 8 if flags & _WORDS else 6
        at += 2 if flags & _SCALE else 4 if flags & _TWO_SCALES else 8 if flags & _MATRIX else 0
    return found


def _renumbered(outline: bytes, number: Mapping[int, int]) -> bytes:
    parts = _parts(outline)
    if not parts:
        return outline
    changed = bytearray(outline)
    for place, glyph in parts:
        changed[place : place + 2] = struct.pack(">H", number[glyph])
    return bytes(changed)


def _file(whole: Face, glyphs: Sequence[int], number: Mapping[int, int]) -> bytes:
    outlines = [_padded(_renumbered(whole.glyph(glyph), number)) for glyph in glyphs]
    starts = [0]
    for outline in outlines:
        starts.append(starts[-1] + len(outline))
    head, hhea, maxp = (bytearray(whole.tables[name]) for name in ("head", "hhea", "maxp"))
    head[8:12], head[50:52] = bytes(4), struct.pack(">h", 1)
    hhea[34:36] = maxp[4:6] = struct.pack(">H", len(glyphs))
    tables = {
        "glyf": b"".join(outlines),
        "head": bytes(head),
        "hhea": bytes(hhea),
        "hmtx": b"".join(whole.advance(glyph) for glyph in glyphs),
        "loca": struct.pack(f">{len(starts)}I", *starts),
        "maxp": bytes(maxp),
    }
    return _bound(tables)


def _bound(tables: dict[str, bytes]) -> bytes:
    """Tables as a font file, its checksums right."""
    lead = struct.pack(">IHHHH", 0x00010000, len(tables), 64, 2, 16 * len(tables) - 64)
    at, rows, bodies, head_at = len(lead) + 16 * len(tables), [], [], 0
    for name in _TABLES:
        body = _padded(tables[name])
        rows.append(struct.pack(">4sIII", name.encode(), _sum(body), at, len(tables[name])))
        head_at = at if name == "head" else head_at
        bodies.append(body)
        at += len(body)
    whole = bytearray(b"".join([lead, *rows, *bodies]))
    whole[head_at + 8 : head_at + 12] = struct.pack(">I", (_MAGIC - _sum(whole)) & 0xFFFFFFFF)
    return bytes(whole)


def _padded(data: bytes) -> bytes:
    return data + bytes(-len(data) % 4)


def _sum(data: bytes | bytearray) -> int:
    total: int = sum(struct.unpack(f">{len(data) // 4}I", data))
    return total & 0xFFFFFFFF


def widths_entry(widths: Mapping[int, int]) -> str:
    """Widths as a PDF lists them: neighbours in one row."""
    rows: list[tuple[int, list[int]]] = []
    for code in sorted(widths):
        if rows and rows[-1][0] + len(rows[-1][1]) == code:
            rows[-1][1].append(widths[code])
        else:
            rows.append((code, [widths[code]]))
    return " ".join(f"{code} [{' '.join(map(str, row))}]" for code, row in rows)


def to_unicode(codes: Iterable[int]) -> bytes:
    """The table that says of each code that it is its own code point."""
    blocks = sorted({code // _BLOCK for code in codes})
    rows = "\n".join(f"<{block:02X}00> <{block:02X}FF> <{block:02X}00>" for block in blocks)
    return (
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"
        "/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n"
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"
        "1 begincodespacerange <0000> <FFFF> endcodespacerange\n"
        f"{len(blocks)} beginbfrange\n{rows}\nendbfrange\n"
        "endcmap CMapName currentdict /CMap defineresource pop end end"
    ).encode("ascii")
