"""What a renderer makes of our PDF, measured in the picture: labels stand where their stock says.

The edges are not printed on bought labels; the test has them drawn, and finds them again in the pixels.
"""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray

from sheetgen.printing import draw, labels
from sheetgen.printing.stock import Stock
from sheetgen.printing.views.labels import labels as label_view

from . import bottling_plans as t
from .bench import INFO, the_paper, the_stock

DPI = 300
TRUE_TO_MM = 0.2
DARK = 200


def picture(stock: Stock) -> NDArray[np.uint8]:
    """The first sheet of labels with their edges, rendered in grey."""
    view = label_view(t.PLAN, t.ENGLISH, stock)
    edged = replace(stock, cut="outline", corner=0.0)
    pages, problems = labels.pages(
        t.stickers("labels", view), edged, the_paper(stock.paper), labels.Feed(start_at=1)
    )
    assert not problems.stopped, [*problems]
    with pypdfium2.PdfDocument(io.BytesIO(draw.pdf(pages[:1], INFO))) as document:
        return np.asarray(document[0].render(scale=DPI / 72, grayscale=True).to_numpy()).squeeze()


def edges(dark: NDArray[np.bool_]) -> list[float]:
    """The middles, in millimetres, of runs of dark pixels."""
    places = np.flatnonzero(dark)
    runs = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    return [float((run[0] + run[-1] + 1) / 2 / DPI * 25.4) for run in runs if run.size]


def nearest(found: list[float], wanted: float) -> float:
    return min(abs(place - wanted) for place in found)


@pytest.mark.parametrize("name", ["a4-2x4", "a4-2x7", "letter-2x3", "letter-2x5"])
def test_labels_stand_in_the_picture_where_their_stock_says(name: str) -> None:
    stock = the_stock(name)
    shown = picture(stock) < DARK
    mm = DPI / 25.4
    for x, y in [*stock.corners()][:6]:
        inside = 1.5  # between the edge and the words, so that only edges are crossed
        row = shown[round((y + inside) * mm), :]
        column = shown[:, round((x + inside) * mm)]
        for edge in (x, x + stock.width):
            assert nearest(edges(row), edge) <= TRUE_TO_MM
        for edge in (y, y + stock.height):
            assert nearest(edges(column), edge) <= TRUE_TO_MM


@pytest.mark.parametrize("name", ["a4-2x4", "letter-2x5"])
def test_the_bar_of_100_mm_is_100_mm_long(name: str) -> None:
    stock = the_stock(name)
    shown = picture(stock) < DARK
    above = shown[: int((stock.top - 0.5) * DPI / 25.4)]
    longest = max(
        (int(run.size) for row in above for run in _runs(np.flatnonzero(row))), default=0
    )  # the bar, and half the 0.8 points of each end
    assert longest / DPI * 25.4 == pytest.approx(100 + 0.8 * 25.4 / 72, abs=TRUE_TO_MM)


def _runs(places: NDArray[np.intp]) -> list[NDArray[np.intp]]:
    return np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
