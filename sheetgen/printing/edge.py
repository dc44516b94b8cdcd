"""The element that stands at the edges of the paper: a thin frame or a cross, to measure a printer by.

Comes in: nothing. Goes out: the block class and its marks.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.printing import fonts
from sheetgen.printing.attributes import of
from sheetgen.printing.blocks import Flow
from sheetgen.printing.marks import Box, Stroke, Words
from sheetgen.records import named_record

HAIR, THICK = 0.3, 0.8
_ARM, _WORDS_FROM, _TINY = 4.0, 16.0, 8.0


@named_record
class Edge(Flow):
    """A thin line round the page, or a cross in its upper left corner; it takes no height."""

    kind: str = of("choice", "frame", "round the page, or in the corner", "frame", "cross")
    inset: float = of("mm", 10.0, "from the edges of the paper")
    says: str = of("words", "", "small words above the lower line, joined to it")
    says_at: float = of("mm", 20.0, "middle of the words, from the left edge of the paper")

    def marks(self, width: float, height: float) -> Iterator[Box | Stroke | Words]:
        """Its marks on a paper of that size in millimetres."""
        at = self.inset
        if self.kind == "cross":
            yield Stroke(((at - _ARM, at), (at + _ARM, at)), THICK)
            yield Stroke(((at, at - _ARM), (at, at + _ARM)), THICK)
            return
        yield Box(at, at, width - 2 * at, height - 2 * at, HAIR)
        if self.says:
            low = height - max(_WORDS_FROM, at + 1)
            yield Stroke(((self.says_at, height - at), (self.says_at, low)), THICK)
            left = self.says_at - fonts.width_mm(self.says, _TINY) / 2
            yield Words(left, low - 0.7, self.says, _TINY)
