"""Draws the picture of README.md: four pages of the example batch side by side.

Run it from the top of a checkout: python tests/make_pictures.py
"""

from __future__ import annotations

import io
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image, ImageOps

ROOT = Path(__file__).resolve().parents[1]
TARGET = ROOT / "tests" / "pictures" / "set.png"
HEIGHT, GAP, GREY = 560, 14, 225
SHOWN = (("27A-sheets.pdf", 0), ("27A-sheets.pdf", 2), ("27A-sheets.pdf", 3), ("27A-labels.pdf", 0))


def page_picture(pdf: Path, number: int) -> Image.Image:
    """A page as a grey picture of the wanted height, with a thin frame."""
    document = pypdfium2.PdfDocument(pdf)
    page = document[min(number, len(document) - 1)]
    drawn = page.render(scale=HEIGHT * 2 / page.get_height(), grayscale=True).to_pil().convert("L")
    small = drawn.resize((round(drawn.width * HEIGHT / drawn.height), HEIGHT), Image.Resampling.LANCZOS)
    document.close()
    return ImageOps.expand(small, 1, 170)


def side_by_side(pictures: list[Image.Image]) -> Image.Image:
    """The pictures in a row on light grey."""
    width = sum(picture.width for picture in pictures) + GAP * (len(pictures) + 1)
    row = Image.new("L", (width, pictures[0].height + 2 * GAP), GREY)
    x = GAP
    for picture in pictures:
        row.paste(picture, (x, GAP))
        x += picture.width + GAP
    return row


def picture() -> bytes:
    """The picture's bytes, the same for the same pages."""
    from sheetgen.__main__ import main

    with tempfile.TemporaryDirectory() as folder:
        example = str(ROOT / "recipes/examples/27a.yaml")
        code = main(["make", example, "--today", "2027-02-20", "--out", folder])
        if code:
            sys.exit(code)
        row = side_by_side([page_picture(Path(folder) / name, number) for name, number in SHOWN])
    out = io.BytesIO()
    row.quantize(16).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    TARGET.parent.mkdir(exist_ok=True)
    TARGET.write_bytes(picture())
    sys.stdout.write(f"{TARGET.relative_to(ROOT)}\n")
