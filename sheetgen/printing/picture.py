"""Pictures of people's own: the element that shows one, and the reading of its file.

Comes in: the folder of a layout and a name. Goes out: an `Image`, decoded once and written anew, small enough
for paper.  A name is a file of that folder, never a way to another; what is large, or claims to be large
inside, is refused before it is decoded.  The library that decodes comes with the PDF library and is loaded
only here.
"""

from __future__ import annotations

import io
import re
import struct
import warnings
import zlib
from collections.abc import Callable
from dataclasses import field
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from sheetgen.printing.attributes import ALIGNS, of
from sheetgen.printing.blocks import Item
from sheetgen.records import named_record, record

if TYPE_CHECKING:
    from PIL.Image import Image as Decoded

MOST_BYTES = 1024 * 1024
MOST_SIDE, MOST_PIXELS = 4000, 4_000_000
_LIMITS = f"a picture of at most {MOST_SIDE} pixels a side and {MOST_PIXELS // 1_000_000} million in all"
PRINTED_SIDE = 700
"""Pixels of a side on paper at most: 300 to an inch on a picture of 59 mm."""
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,60}\.(?:png|jpg|jpeg)\Z", re.IGNORECASE)
_FAULTS = (OSError, SyntaxError, ValueError, EOFError, MemoryError, struct.error, zlib.error, Warning)
"""Whatever the decoder may raise for a damaged or hostile file."""


@record
class Image:
    """A picture as it is printed: PNG or JPEG bytes, its size in pixels."""

    width: int
    height: int
    data: bytes = field(repr=False)


Pictures = Callable[[str, str], Image]
"""From the name of a layout's file and of a picture to the picture; ValueError("expected|what to do")."""


def no_pictures(_file: str, _name: str) -> Image:
    """Where a layout has no folder."""
    raise ValueError("no picture, as this layout is not in a folder|")


@named_record
class Picture(Item):
    """A picture of your own, PNG or JPEG, from the layout's folder; it stands on the line's baseline."""

    file: Image | None = of("picture", None, "its name, such as `logo.png`, in the folder of the layout")
    at: float | str = of("x", "left", "left edge; right edge or middle if so aligned")
    height: float = of("mm", 12.0, "of the picture; its width follows")
    lift: float = of("mm", 0.0, "raises it above the baseline")
    align: str = of("choice", "left", "which edge `at` is", *ALIGNS)
    says: str = of("words", "", "what it shows, for people who cannot see it")

    @property
    def width(self) -> float:
        """Millimetres."""
        return self.height * self.file.width / self.file.height if self.file else 0.0


def read(folder: Path, name: str) -> Image:
    """The picture of that name in a folder; ValueError("expected|what to do") if it cannot be printed."""
    if not _NAME.match(name):
        raise ValueError(
            "the name of a PNG or JPEG file in the layout's own folder|write `logo.png`, for example"
        )
    path = folder / name
    try:
        if path.resolve().parent != folder.resolve():
            raise ValueError(
                "a file that is in the layout's own folder, not a link out of it|copy the picture"
            )
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError:
        raise ValueError(f"a file {name} beside the layout|put it into the folder of the layout") from None
    if len(data) > MOST_BYTES:
        raise ValueError("a picture of at most 1 MB|save it smaller")
    return _image(data)


@lru_cache(maxsize=16)
def _image(data: bytes) -> Image:
    """The picture made ready for paper: upright, on white, no larger than paper shows."""
    from PIL import Image as Pillow
    from PIL import ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Pillow.open(io.BytesIO(data), formats=("PNG", "JPEG")) as opened:
                _check_size(*opened.size)
                kind = opened.format or "PNG"
                shown = _on_white(ImageOps.exif_transpose(opened))
        shown.thumbnail((PRINTED_SIDE, PRINTED_SIDE))
        out = io.BytesIO()
        shown.save(out, kind, **({"quality": 85} if kind == "JPEG" else {}))
    except _RefusedError as refused:
        raise ValueError(str(refused)) from None
    except (Pillow.DecompressionBombError, Pillow.DecompressionBombWarning):
        raise ValueError(f"{_LIMITS}|save it smaller") from None
    except _FAULTS:
        raise ValueError("a PNG or JPEG picture that can be read|save it once more as PNG") from None
    return Image(*shown.size, out.getvalue())


def pixels(data: bytes) -> tuple[int, int, bool, bytes]:
    """Of a picture made ready by `read`: width, height, whether it is grey, and its pixels row by row."""
    from PIL import Image as Pillow

    with Pillow.open(io.BytesIO(data), formats=("PNG", "JPEG")) as opened:
        shown = opened.convert("L" if opened.mode == "L" else "RGB")
    return *shown.size, shown.mode == "L", shown.tobytes()


class _RefusedError(Exception):
    """A picture that is sound, and not for us."""


def _check_size(width: int, height: int) -> None:
    if max(width, height) > MOST_SIDE or width * height > MOST_PIXELS:
        raise _RefusedError(f"{_LIMITS}; this has {width} x {height}|save it smaller")


def _on_white(picture: Decoded) -> Decoded:
    """The picture in grey or in colours, without transparency."""
    from PIL import Image as Pillow

    if picture.mode in ("L", "1"):
        return picture.convert("L")
    clear = picture.convert("RGBA")
    white = Pillow.new("RGBA", clear.size, "white")
    return Pillow.alpha_composite(white, clear).convert("RGB")
