"""The PDF: what it says about itself, what is embedded, where words stand, and that it never changes."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pypdf
import pypdfium2
import pytest

from sheetgen.printing import draw
from sheetgen.printing.draw import Info, sheets_pdf
from sheetgen.printing.ink import hatching
from sheetgen.printing.marks import Area, Box, Disc, Hatch, Page, Square, Stroke, Words

from .bench import A4, INFO, LETTER, blocks

MM = 72 / 25.4
BODY = """<sheet title="Brew sheet – Łódź">
<head><line h="10" size="title" weight="bold"><text>Brew sheet</text></line></head>
<foot><line size="tiny"><text>page <page/> of <pages/></text></line></foot>
<line h="9.7"><tick/><text at="words">Stir in the malt, Ελληνικά, Кириллица ½</text>
<number value="1.5" unit="kg" other="3 lb 5 oz"/></line>
<line h="9.7" tone="grey"><tick state="done"/><text at="words">done</text></line>
</sheet><sheet title="Second"><line><text>second page</text></line></sheet>"""


def drawn(body: str = BODY, info: Info = INFO, paper: object = A4) -> bytes:
    document = sheets_pdf(blocks(body), paper, info)  # type: ignore[arg-type]
    assert not len(document.problems), [*document.problems]
    return document.pdf


def read(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def test_a_document_says_what_it_is() -> None:
    reader = read(drawn())
    assert reader.metadata is not None
    assert reader.metadata.title == "27A Third Thwart Amber"
    assert reader.metadata.author == ""
    assert reader.metadata.subject == "Sheets of batch 27A"
    assert str(reader.metadata.get("/CreationDate")) == "D:20270310000000+00'00'"
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en-GB"  # type: ignore[index]
    preferences = root["/ViewerPreferences"]  # type: ignore[index]
    assert (preferences["/PrintScaling"], preferences["/DisplayDocTitle"]) == ("/None", True)
    assert [item.title for item in reader.outline] == ["Brew sheet – Łódź", "Second"]  # type: ignore[union-attr]
    assert reader.page_labels == ["1", "2"]


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_pages_have_the_papers_size(paper: object) -> None:
    box = read(drawn(paper=paper)).pages[0].mediabox
    assert float(box.width) == pytest.approx(paper.width * MM, abs=0.01)  # type: ignore[attr-defined]
    assert float(box.height) == pytest.approx(paper.height * MM, abs=0.01)  # type: ignore[attr-defined]


def test_every_face_is_embedded_and_cut_down() -> None:
    pdf = drawn()
    for page in read(pdf).pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            descriptor = font["/DescendantFonts"][0]["/FontDescriptor"]
            assert "/FontFile2" in descriptor
            assert "+" in descriptor["/FontName"]
    assert len(pdf) < 40_000


def test_words_come_out_as_they_went_in() -> None:
    text = read(drawn()).pages[0].extract_text()
    for words in ("Stir in the malt, Ελληνικά, Кириллица ½", "1.5", "kg", "3 lb 5 oz", "page 1 of 2"):
        assert words in text


def test_words_stand_where_they_were_placed() -> None:
    with pdfplumber.open(io.BytesIO(drawn())) as pdf:
        found = {(c["text"], round(c["size"], 1)): c for c in pdf.pages[0].chars}
    capital = found["B", 28.0]
    assert capital["x0"] / MM == pytest.approx(15, abs=0.05)
    assert (A4.height - capital["matrix"][5] / MM) == pytest.approx(25, abs=0.05)
    digit = found["5", 18.0]
    assert digit["x1"] / MM == pytest.approx(166, abs=0.05)


def test_the_same_input_gives_the_same_bytes_in_every_process() -> None:
    code = (
        "import sys; sys.path[:0] = sys.argv[1:3];"
        "from printing.test_draw import drawn, INFO; from dataclasses import replace;"
        "sys.stdout.buffer.write(drawn(info=replace(INFO, attachment=('27a.yaml', b'batch: 27A'))))"
    )
    here = Path(__file__).resolve().parents[1]
    outputs = []
    for seed, zone, epoch in (
        ("0", "UTC", ""),
        ("77", "Asia/Kolkata", "1500000000"),
        ("1", "America/Lima", "1"),
    ):
        changed = {"PYTHONHASHSEED": seed, "TZ": zone, "SOURCE_DATE_EPOCH": epoch}
        command = [sys.executable, "-c", code, str(here), str(here.parent)]
        outputs.append(
            subprocess.run(command, env=os.environ | changed, capture_output=True, check=True).stdout
        )
    assert (
        outputs[0]
        == outputs[1]
        == outputs[2]
        == drawn(info=replace(INFO, attachment=("27a.yaml", b"batch: 27A")))
    )


def test_another_day_is_another_document() -> None:
    assert drawn() != drawn(info=replace(INFO, created=INFO.created.replace(day=11)))


def test_an_attached_file_comes_out_unchanged() -> None:
    data = "batch: 27A\nname: Łódź\n".encode()
    reader = read(drawn(info=replace(INFO, attachment=("27a.yaml", data))))
    assert dict(reader.attachments) == {"27a.yaml": [data]}


def test_a_problem_leaves_no_half_document() -> None:
    document = sheets_pdf(
        blocks("<sheet>" + '<line h="10"><text>a</text></line>' * 60 + "</sheet>"), A4, INFO
    )
    assert document.problems.stopped
    assert document.pdf == b""


def test_hatching_stays_inside_its_box_and_leans_right() -> None:
    for (x, y), (x_end, y_end) in hatching(Hatch(10, 20, 30, 8, 1.3)):
        assert 10 <= x <= x_end <= 40
        assert 20 <= y_end <= y <= 28
        assert x_end - x == pytest.approx(y - y_end)


def picture(*marks: object, size: float = 10, dots: int = 10) -> list[str]:
    """A page of `size` millimetres as rows of dots: # dark, + grey, . light, as many as `dots` each way."""
    pdf = draw.pdf([Page(size, size, marks)], INFO)  # type: ignore[arg-type]
    page = pypdfium2.PdfDocument(pdf)[0]
    image = page.render(scale=10 * dots / (size * MM)).to_pil().convert("L")
    places = range(5, 10 * dots, 10)
    return ["".join(shade(image.getpixel((x, y))) for x in places) for y in places]


def shade(value: int) -> str:
    return "#" if value < 100 else "+" if value < 245 else "."


def test_a_box_is_where_it_was_put() -> None:
    assert picture(Box(2, 3, 5, 4, 0, "water")) == [
        "..........",
        "..........",
        "..........",
        "..#####...",
        "..#####...",
        "..#####...",
        "..#####...",
        "..........",
        "..........",
        "..........",
    ]


def test_an_area_is_pale_and_a_stroke_is_black() -> None:
    made = picture(Area(((0, 0), (10, 0), (10, 5), (0, 5))), Stroke(((0, 2.5), (10, 2.5)), 2.9))
    assert made[0] == made[4] == "+" * 10
    assert made[2] == "#" * 10
    assert made[5] == "." * 10


def test_dots_are_a_broken_line() -> None:
    line = Stroke(((0, 5.05), (10, 5.05)), 0.5)
    whole, dotted = picture(line, dots=100), picture(replace(line, dots=True), dots=100)
    assert "." not in whole[50]
    assert 0 < 100 - dotted[50].count(".") < 50


def test_a_disc_is_round() -> None:
    made = picture(Disc(5, 5, 4, 2), dots=21)
    assert made[2][10] == made[10][2] == made[18][10] == "#"
    assert made[2][2] == made[10][10] == "."


def test_a_square_code_can_be_seen() -> None:
    made = picture(Square(0, 0, 10, "27A"), dots=21)
    assert made[0][:7] == "#######"
    assert made[1][1:6] == "....."


def test_nothing_is_drawn_in_the_standard_fonts() -> None:
    pdf = draw.pdf([Page(50, 50, (Words(5, 20, "a", 10),))], INFO)
    assert b"Helvetica" not in pdf


@pytest.mark.parametrize("tool", [["qpdf", "--check"], ["pdfinfo"], ["mutool", "info"]])
def test_checkers_are_content(tool: list[str], tmp_path: Path) -> None:
    path = tmp_path / "set.pdf"
    path.write_bytes(drawn(info=replace(INFO, attachment=("27a.yaml", b"batch: 27A"))))
    found = subprocess.run([*tool, str(path)], capture_output=True, text=True, check=False)
    assert (found.returncode, found.stderr) == (0, "")
