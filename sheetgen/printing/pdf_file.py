"""The file format: numbered objects one after the other, and where each begins (ISO 32000-1, 7.5).

Comes in: objects as text, streams as bytes. Goes out: the bytes of a file, the same for the same objects.
"""

from __future__ import annotations

import hashlib
import zlib

_HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"


class PdfFile:
    """A file that grows object by object."""

    def __init__(self) -> None:
        self._pieces, self._length = [_HEADER], len(_HEADER)
        self._starts: list[int] = [0]

    def new(self) -> int:
        """The number of an object that is put in later."""
        self._starts.append(0)
        return len(self._starts) - 1

    def put(self, number: int, body: str) -> None:
        """The object of a number that was given before."""
        self._write(number, body.encode("latin-1"))

    def add(self, body: str) -> int:
        """An object; its number comes back."""
        number = self.new()
        self.put(number, body)
        return number

    def stream(self, data: bytes, entries: str = "", packed: bool = False) -> int:
        """A stream, compressed here if it is not yet; its number comes back."""
        number, held = self.new(), data if packed else zlib.compress(data)
        head = f"<<{entries}/Filter/FlateDecode/Length {len(held)}>>\nstream\n"
        self._write(number, b"".join((head.encode("latin-1"), held, b"\nendstream")))
        return number

    def _write(self, number: int, body: bytes) -> None:
        piece = b"%d 0 obj\n%s\nendobj\n" % (number, body)
        self._starts[number] = self._length
        self._pieces.append(piece)
        self._length += len(piece)

    def finish(self, root: int, info: int, seed: str) -> bytes:
        """The whole file; its identity comes from its content and the seed."""
        identity = hashlib.md5(seed.encode(), usedforsecurity=False)
        for piece in self._pieces:
            identity.update(piece)
        name = identity.hexdigest()
        table = "".join(f"{start:010d} 00000 n \n" for start in self._starts[1:])
        tail = (
            f"xref\n0 {len(self._starts)}\n0000000000 65535 f \n{table}"
            f"trailer\n<</Size {len(self._starts)}/Root {root} 0 R/Info {info} 0 R/ID[<{name}><{name}>]>>\n"
            f"startxref\n{self._length}\n%%EOF\n"
        )
        return b"".join([*self._pieces, tail.encode("ascii")])


def text(words: str) -> str:
    """Words as the file has them: as they are, if they are plain; else in UTF-16."""
    if words.isascii() and words.isprintable():
        return "(" + words.replace("\\", r"\\").replace("(", r"\(").replace(")", r"\)") + ")"
    return f"<feff{words.encode('utf-16-be', 'replace').hex()}>"
