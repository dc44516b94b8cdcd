"""The ruler page: what is measured on it is there to 0.2 mm, and what it says to write corrects a printer."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from sheetgen.commands import common, ruler
from sheetgen.intake import read_batch
from sheetgen.printing import labels
from sheetgen.printing.labels import Feed
from sheetgen.printing.marks import Box, Stroke, Words
from sheetgen.printing.views.ruler import CROSS_MM, EDGES_MM, EXAMPLE, FITTED_MM, Bare, written

from .asked_for import SHORTEST, the_pages
from .bench import the_paper, the_stock
from .sample_plan import LANGUAGES

DAY = date(2027, 2, 20)
DPI, DARK, TRUE_TO_MM = 300, 160, 0.2
PAPERS = ("A4", "Letter")
SPOKEN = sorted(path.stem for path in LANGUAGES.glob("*.yaml"))


def picture(paper: str) -> NDArray[np.bool_]:
    """Which pixels of the page are dark."""
    data = ruler.made(Bare(paper, "en-GB", DAY))
    with pypdfium2.PdfDocument(io.BytesIO(data)) as document:
        shown = document[0].render(scale=DPI / 72, grayscale=True).to_numpy()
    return np.asarray(shown).squeeze() < DARK


def edges(dark: NDArray[np.bool_]) -> list[float]:
    """The middles, in millimetres, of runs of dark pixels."""
    places = np.flatnonzero(dark)
    runs = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    return [float((run[0] + run[-1] + 1) / 2 / DPI * 25.4) for run in runs if run.size]


def at(mm: float) -> int:
    return round(mm / 25.4 * DPI)


def the_bars(paper: str) -> tuple[float, float]:
    """Where both bars begin: the corner of the two strokes of 100 mm."""
    page = the_pages("ruler", "shortest", paper)[0]
    long = [mark for mark in page.marks if isinstance(mark, Stroke) and _length(mark.points) > 99]
    assert len(long) == 2
    return long[0].points[0]


def _length(points: Sequence[tuple[float, float]]) -> float:
    return max(abs(points[-1][0] - points[0][0]), abs(points[-1][1] - points[0][1]))


@pytest.mark.parametrize("paper", PAPERS)
def test_both_bars_are_100_mm_long_in_the_picture(paper: str) -> None:
    shown, (left, top) = picture(paper), the_bars(paper)
    inside = 4.3  # only the ends reach so far from the bars
    across = edges(shown[at(top + inside), at(left - 2) : at(left + 103)])
    down = edges(shown[at(top - 2) : at(top + 103), at(left + inside)])
    assert across[-1] - across[0] == pytest.approx(100, abs=TRUE_TO_MM)
    assert down[-1] - down[0] == pytest.approx(100, abs=TRUE_TO_MM)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_millimetre_has_its_mark(paper: str) -> None:
    shown, (left, top) = picture(paper), the_bars(paper)
    marks = edges(shown[at(top + 1), at(left + 6.4) : at(left + 100.6)])
    assert len(marks) == 94
    assert marks[-1] - marks[0] == pytest.approx(93, abs=TRUE_TO_MM)


@pytest.mark.parametrize("paper", PAPERS)
def test_cross_and_frames_stand_where_they_say(paper: str) -> None:
    shown, size = picture(paper), the_paper(paper.lower())
    cross = edges(shown[at(CROSS_MM + 2), : at(12)]), edges(shown[: at(12), at(CROSS_MM + 2)])
    for found in cross:
        assert min(abs(place - CROSS_MM) for place in found) <= TRUE_TO_MM
    rows, columns = edges(shown[at(size.height / 3), :]), edges(shown[:, at(size.width - 17.5)])
    for mm in EDGES_MM:
        for found, length in ((rows, size.width), (columns, size.height)):
            for place in (mm, length - mm):
                assert min(abs(edge - place) for edge in found) <= TRUE_TO_MM


def the_example(tmp_path: Path) -> Feed:
    """What the page prints as an example, typed into a batch file and read as any other."""
    page = the_pages("ruler", "shortest")[0]
    typed = [mark for mark in page.marks if isinstance(mark, Words) and mark.bold and ":" in mark.text]
    lines = [f"{'  ' if mark.x > typed[0].x else ''}{mark.text}" for mark in typed]
    path = tmp_path / "batch.yaml"
    path.write_text(SHORTEST + "\n".join(lines) + "\n", encoding="utf-8")
    batch, problems = read_batch(path, DAY)
    assert batch is not None, [*problems]
    across, down = batch.labels.bars_mm
    return Feed(shift=batch.labels.shift_mm, stretch=(100 / across, 100 / down))


def test_the_example_corrects_the_printer_that_it_was_measured_on(tmp_path: Path) -> None:
    feed, stock = the_example(tmp_path), the_stock("a4-2x7")
    across, down, left, top = EXAMPLE
    shares = (across / 100, down / 100)
    shifts = (left - CROSS_MM * shares[0], top - CROSS_MM * shares[1])
    slots = [(Box(0, 0, stock.width, stock.height),)] * stock.count
    sent = [
        mark
        for mark in labels.sheet(slots, stock, the_paper("a4"), feed, 0).marks
        if isinstance(mark, Box) and mark.width > 50
    ]
    assert len(sent) == stock.count
    for (x, y), box in zip(stock.corners(), sent, strict=True):
        corners = ((x, y), (x + stock.width, y + stock.height))
        printed = ((box.x, box.y), (box.x + box.width, box.y + box.height))
        for wanted, got in zip(corners, printed, strict=True):
            on_paper = [
                share * place + shift for share, place, shift in zip(shares, got, shifts, strict=True)
            ]
            assert on_paper == pytest.approx(wanted, abs=TRUE_TO_MM)


@given(bar=st.integers(int(10 * FITTED_MM[0]), int(10 * FITTED_MM[1])), cross=st.integers(65, 135))
def test_whatever_was_measured_the_corner_comes_to_its_place(bar: int, cross: int) -> None:
    share, measured = bar / 1000, cross / 10
    shift = measured - CROSS_MM * share
    right = float(written(100, 100, measured, 10)[1][1].split("right: ")[1].split(" mm")[0])
    on_paper = share * (CROSS_MM / share + right) + shift
    assert on_paper == pytest.approx(CROSS_MM, abs=TRUE_TO_MM)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("language", SPOKEN)
def test_without_a_batch_it_is_the_same_page_but_for_its_foot(paper: str, language: str) -> None:
    from sheetgen.printing import set as printed_set

    laid = printed_set.lay_out_ruler(Bare(paper, language, DAY), common.words_of(language))
    assert not len(laid.problems), [*laid.problems]
    (page,) = laid.sheets[0].pages
    (other,) = the_pages("ruler", "shortest", paper, "", language)
    low = page.height - 22

    def body(marks: Sequence[object]) -> list[object]:
        return [mark for mark in marks if not (isinstance(mark, Words) and mark.y > low)]

    assert body(page.marks) == body(other.marks)
