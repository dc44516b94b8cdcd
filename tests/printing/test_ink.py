"""Fast drawing against slow drawing: the same ink in the same place, the same words; small, true faces."""

from __future__ import annotations

import io
import zlib
from dataclasses import replace
from datetime import date
from itertools import cycle

import numpy as np
import pdfplumber
import pypdfium2
import pytest
from fontTools.ttLib import TTFont

from sheetgen.catalogue import our_folder
from sheetgen.commands.common import words_of
from sheetgen.intake import read_batch
from sheetgen.planning import plan_batch
from sheetgen.printing import draw, faces, fonts, ink
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Area, Box, Disc, Hatch, Page, Raster, Square, Stroke, Words
from sheetgen.printing.picture import read as read_picture

from . import slow_pen
from .bench import INFO

LOGO = read_picture(our_folder() / "layouts" / "trials", "logo.png")
EVERY_MARK = Page(
    120,
    100,
    (
        Words(10, 15, "Boil 1.5 L (hot) \\ Łódź ½ Ωмега", 13.5),
        Words(10, 25, "bold, 20\u202f°C", 18, bold=True),
        Words(60, 25, "grey", 18, grey=True),
        Stroke(((10, 30), (60, 30), (70, 35)), 0.8),
        Stroke(((10, 33), (60, 33)), 1.6, dots=True),
        Stroke(((10, 36), (60, 36)), 0.5, grey=True),
        Box(10, 40, 30, 10),
        Box(12, 42, 10, 6, 0, "water"),
        Stroke(((12, 45), (22, 45)), 0.8, white=True),
        Box(45, 40, 30, 10, 0.3, radius=2.5),
        Box(80, 40, 20, 10, 0.8, "#ab4b00", radius=1),
        Box(80, 10, 20, 10, 0, "pale"),
        Hatch(10, 55, 30, 8),
        Area(((45, 55), (75, 55), (60, 65))),
        Disc(90, 60, 6, 0.5),
        Square(10, 68, 22, "27A Third Thwart Amber"),
        Raster(40, 68, 20, 10, LOGO.data),
        Words(40, 90, "after all that", 8),
    ),
)


def sample_pages() -> list[Page]:
    """Every mark there is, and the pages and labels of a whole batch."""
    batch, problems = read_batch(our_folder() / "recipes" / "examples" / "27b.yaml", date(2027, 2, 20))
    assert batch is not None
    plan = plan_batch(batch, date(2027, 2, 20), problems)
    laid = printed_set.lay_out(plan, words_of("en-GB", "metric"), only=("all",))
    return [EVERY_MARK, *(page for part in (*laid.sheets, *laid.labels) for page in part.pages)]


PAGES = sample_pages()
FAST, SLOW = draw.pdf(PAGES, INFO), slow_pen.pdf(PAGES)


def picture(pdf: bytes, number: int) -> np.ndarray:
    return np.array(pypdfium2.PdfDocument(pdf)[number].render(scale=2).to_pil().convert("L")).astype(int)


@pytest.mark.parametrize("number", range(len(PAGES)))
def test_the_same_ink_lies_in_the_same_place(number: int) -> None:
    fast, slow = picture(FAST, number), picture(SLOW, number)
    assert fast.shape == slow.shape
    assert abs(fast - slow).mean() < 0.3  # places are rounded to a hundredth of a point
    assert abs(fast.mean() - slow.mean()) < 0.05


@pytest.mark.parametrize("number", [0, 1])
def test_the_same_letters_stand_in_the_same_place(number: int) -> None:
    with pdfplumber.open(io.BytesIO(FAST)) as fast, pdfplumber.open(io.BytesIO(SLOW)) as slow:
        mine, theirs = (
            [(one["text"], one["x0"], one["top"], one["x1"], one["size"]) for one in file.pages[number].chars]
            for file in (fast, slow)
        )
    spaces = [one for one in mine if one[0] == " "]
    mine = [one for one in mine if one not in spaces]
    theirs = [one for one in theirs if one[0] != " "]
    assert [one[0] for one in mine] == [one[0] for one in theirs]
    assert np.allclose([one[1:] for one in mine], [one[1:] for one in theirs], atol=0.02)


def test_a_page_without_tags_looks_the_same_and_has_no_brackets() -> None:
    plain, tagged = (zlib.decompress(ink.inked(PAGES[1], tagged).content) for tagged in (False, True))
    assert b"EMC" in tagged
    assert b"EMC" not in plain
    assert ink.inked(PAGES[1], tagged=False).pieces == ()


def test_a_page_that_comes_again_is_drawn_once() -> None:
    once, often = (draw.pdf([PAGES[0]] * count, INFO) for count in (1, 50))
    assert len(pypdfium2.PdfDocument(often)) == 50
    assert len(often) - len(once) < 50 * 200


def test_a_drawing_can_be_put_into_several_files() -> None:
    drawing = ink.inked(EVERY_MARK)
    assert draw.pdf([drawing], INFO) == draw.pdf([EVERY_MARK], INFO)
    other = draw.pdf([drawing, ink.inked(PAGES[1])], replace(INFO, title="another"))
    assert "after all that" in pypdfium2.PdfDocument(other)[0].get_textpage().get_text_range()


@pytest.mark.parametrize("name", fonts.FILES)
def test_a_face_that_was_cut_down_has_the_same_letters(name: str) -> None:
    whole = TTFont(fonts.folder() / fonts.FILES[name])
    letters = whole.getBestCmap()
    wanted = "".join(chr(code) for code, _ in zip(letters, cycle("x"), strict=False) if code % 3 == 0)
    made = faces.subset(name, wanted)
    cut = TTFont(io.BytesIO(made.file), checkChecksums=2)
    places = np.frombuffer(made.places, ">u2")
    order = cut.getGlyphOrder()
    for character in wanted:
        glyph, mine = letters[ord(character)], order[places[ord(character)]]
        assert cut["hmtx"][mine] == whole["hmtx"][glyph]
        assert made.widths[ord(character)] == whole["hmtx"][glyph][0]
        theirs = whole["glyf"][glyph].getCoordinates(whole["glyf"])
        assert list(cut["glyf"][mine].getCoordinates(cut["glyf"])[0]) == list(theirs[0])


def test_a_face_holds_what_is_used_and_nothing_else() -> None:
    one = faces.subset(fonts.REGULAR, "e")
    assert len(TTFont(io.BytesIO(one.file)).getGlyphOrder()) == 2
    assert len(one.file) < 1000
    assert one.name != faces.subset(fonts.REGULAR, "f").name
