"""The faces: the table of widths is the font, what is missing is found, the licence is there."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from fontTools.ttLib import TTFont

from sheetgen.printing import fonts

from . import slow_pen

FACES = [TTFont(fonts.folder() / name) for name in fonts.FILES.values()]


def test_the_table_of_widths_is_the_font() -> None:
    table = json.loads((fonts.folder() / fonts.WIDTHS).read_text())
    for index, face in enumerate(FACES):
        advances = face["hmtx"].metrics
        found = {f"{code:X}": advances[glyph][0] for code, glyph in face.getBestCmap().items()}
        assert found == {code: pair[index] for code, pair in table.items()}
        assert face["head"].unitsPerEm == 1000


def test_heights_are_those_of_the_faces() -> None:
    for face in FACES:
        assert face["OS/2"].sCapHeight == pytest.approx(fonts.CAP_HEIGHT * 1000)
        assert face["OS/2"].fsType == 0
        depth = -face["glyf"][face.getBestCmap()[ord("g")]].yMin
        assert depth <= fonts.DESCENT * 1000 + 30


def test_figures_of_one_face_have_one_width() -> None:
    for bold in (False, True):
        assert len({fonts.width_mm(figure, 10, bold) for figure in "0123456789"}) == 1


def test_look_alikes_are_different_glyphs() -> None:
    for face in FACES:
        names = face.getBestCmap()
        outlines = [
            face["glyf"][names[ord(character)]].getCoordinates(face["glyf"])[0] for character in "1lI0O"
        ]
        assert len({tuple(outline) for outline in outlines}) == 5


def test_the_characters_of_european_languages_are_there() -> None:
    wanted = "éßøŁőŽçñäöüÅœ Ελληνικά Кириллица ½⅓¼¾⅛⅔ °•–—“”‘’„«»×±·…€£\u00a0\u202f\u2009²³₂"
    assert fonts.missing(wanted) == []
    assert fonts.missing("a🍺b→a\n") == ["\n", "→", "🍺"]


def test_the_licence_and_the_source_are_shipped() -> None:
    licence = (fonts.folder() / "OFL.txt").read_text()
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "TERMINATION" in licence
    sources = (fonts.folder() / "SOURCES.txt").read_text()
    assert all(name in sources for name in fonts.FILES.values())


def test_faces_are_small_and_hold_no_hinting() -> None:
    for name, face in zip(fonts.FILES.values(), FACES, strict=True):
        assert (fonts.folder() / name).stat().st_size < 130_000
        assert not {"fpgm", "prep", "cvt ", "GSUB", "GPOS"} & set(face.keys())


def test_width_is_the_librarys() -> None:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    slow_pen.register()
    text = "Wed 17 March, 1.012 at 20\u202f°C · Łódź"
    for name, bold in ((fonts.REGULAR, False), (fonts.BOLD, True)):
        assert fonts.width_mm(text, 13.5, bold) == pytest.approx(
            stringWidth(text, name, 13.5) * 25.4 / 72, abs=1e-6
        )


def test_measuring_loads_no_pdf_library() -> None:
    code = (
        "import sys; from sheetgen.printing import flow, labels, fonts, draw; fonts.width_mm('a', 10);"
        "sys.exit(any(name.split('.')[0] == 'reportlab' for name in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_damaged_face_is_a_sentence(tmp_path, monkeypatch) -> None:
    monkeypatch.setattr(fonts, "folder", lambda: tmp_path)
    problem = fonts.trouble()
    assert problem is not None
    assert problem.message == "the font file widths.json is missing or damaged"
