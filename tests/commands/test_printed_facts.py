"""What a PDF viewer and a printer find in a real set, and that its own attachment makes it again."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

from .runner import SIX_LINES

ROOT = Path(__file__).resolve().parents[2]
MORE = """\
brewer: Imke
labels: {stock: a4-2x7, start-at: 4}
# a remark of one's own
actual:
  brewed: 2027-02-20
  og: 1.042 at 24 C
"""
OWN = """\
recipe-name: My Own
drink: ale
volume: 12 L
ingredients:
  - {what: hopped liquid malt extract, amount: 1.7 kg, pack: 1.7 kg, when: off the heat, colour: 12}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""


def make(folder: Path, name: str = "b.yaml") -> dict[str, bytes]:
    """The set that a process of its own makes of a file in a folder."""
    command = [sys.executable, "-m", "sheetgen", "make", name, "--out", "out", "--today", "2027-02-21"]
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(folder / "nobody")}
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return {path.name: path.read_bytes() for path in sorted((folder / "out").iterdir())}


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """A set of an own recipe, with something that happened."""
    folder = tmp_path_factory.mktemp("first")
    (folder / "own.yaml").write_text(OWN)
    text = SIX_LINES.replace("copper-lane-amber", "own").replace("2027-03-06", "2027-02-20")
    (folder / "b.yaml").write_text(text + MORE)
    return make(folder)


@pytest.fixture(scope="module", params=["27A-sheets.pdf", "27A-labels.pdf"])
def pdf(request: pytest.FixtureRequest, files: dict[str, bytes]) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(files[request.param]))


def test_the_viewer_is_told_title_language_and_not_to_scale(pdf: pypdf.PdfReader):
    root = pdf.trailer["/Root"].get_object()
    assert pdf.metadata is not None
    assert str(pdf.metadata.title).startswith("27A My Own: ")
    assert root["/Lang"] == "en-GB"
    preferences = root["/ViewerPreferences"].get_object()
    assert preferences["/PrintScaling"] == "/None"
    assert preferences["/DisplayDocTitle"]


def test_pages_are_numbered_and_every_document_has_its_bookmark(files: dict[str, bytes]):
    sheets, labels = (
        pypdf.PdfReader(io.BytesIO(files[name])) for name in ("27A-sheets.pdf", "27A-labels.pdf")
    )
    titles = [str(entry.title) for entry in sheets.outline]
    assert titles == ["Fridge sheet", "Shop and gather", "Brew sheet", "Bottling sheet", "Timeline"]
    starts = [sheets.get_destination_page_number(entry) for entry in sheets.outline]
    assert starts == sorted(set(starts))
    assert sheets.page_labels == [str(number + 1) for number in range(len(sheets.pages))]
    assert [str(entry.title) for entry in labels.outline] == ["Labels", "Cap discs"]


def test_every_font_is_embedded_and_only_in_part(pdf: pypdf.PdfReader):
    fonts = {
        str(font.get_object()["/BaseFont"]): font["/DescendantFonts"][0]["/FontDescriptor"].get_object()
        for page in pdf.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert fonts
    for name, descriptor in fonts.items():
        assert re.match(r"/[A-Z]{6}\+", name)
        assert len(descriptor["/FontFile2"].get_object().get_data()) < 60_000


def test_the_attachment_makes_the_same_set_again(files: dict[str, bytes], tmp_path: Path):
    for number, name in enumerate(("27A-sheets.pdf", "27A-labels.pdf")):
        (held,) = pypdf.PdfReader(io.BytesIO(files[name])).attachments.values()
        folder = tmp_path / str(number)
        folder.mkdir()
        for part in held[0].decode().split("---\n"):
            head, _, text = part.partition("\n")
            assert re.fullmatch(r"# [a-z]+\.yaml", head)
            (folder / head[2:]).write_text(text)
        assert sorted(path.name for path in folder.iterdir()) == ["b.yaml", "own.yaml"]
        assert make(folder) == files
