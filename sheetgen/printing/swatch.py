"""The element that shows a colour, such as that of the beer.

Comes in: nothing. Goes out: the block class and its mark.
"""

from __future__ import annotations

from sheetgen.printing.attributes import of
from sheetgen.printing.blocks import Item
from sheetgen.printing.marks import Box
from sheetgen.records import named_record

EDGE = 0.6


@named_record
class Swatch(Item):
    """A small field in a colour; its outline survives a photocopier, so say the colour in words too."""

    at: float | str = of("x", "left", "left edge")
    width: float = of("mm", 8.0, "of the field")
    height: float = of("mm", 3.5, "of the field, centred on the capitals")
    value: str = of("colour", "#ffffff", "its colour, as # and two digits each for red, green and blue")

    def box(self, x: float, middle: float) -> Box:
        """Its mark, from `x` on and centred on `middle`, in millimetres."""
        return Box(x, middle - self.height / 2, self.width, self.height, EDGE, self.value)
