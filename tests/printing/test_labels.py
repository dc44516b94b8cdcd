"""Labels: stocks lie on their paper, labels land on the stock, what does not fit names its label."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.printing import draw, labels, stock
from sheetgen.printing.labels import Feed
from sheetgen.printing.marks import Box, Disc, Page, Stroke, Words, overlaps

from .bench import INFO, blocks, paper_sizes, stock_names, the_paper, the_stock

LABEL = """<sticker name="bottle {number}">
<line h="4.5" least="3" size="small"><text>Not before</text>
<text at="right" align="right" weight="bold">27A</text></line>
<line h="7" least="5" size="{size}" weight="bold"><text shrink-to="8" lines="1">Sun 11 April</text></line>
</sticker>"""
DISC = """<sticker name="cap" margin="1.5" place="middle">
<line h="5" size="12" weight="bold"><text at="middle" align="center">27A</text></line>
<line h="4" size="tiny"><text at="middle" align="center">from 11 Apr</text></line></sticker>"""
SQUARE = [name for name in stock_names() if "round" not in name and "caps" not in name]


def pages(body: str, name: str, feed: Feed | None = None) -> tuple[Page, ...]:
    chosen = the_stock(name)
    made, problems = labels.pages(
        blocks(body, kind="labels"), chosen, the_paper(chosen.paper), feed or Feed()
    )
    assert not problems.stopped, [*problems]
    return made


def stops(body: str, name: str, feed: Feed | None = None) -> list[str]:
    chosen = the_stock(name)
    _, problems = labels.pages(blocks(body, kind="labels"), chosen, the_paper(chosen.paper), feed or Feed())
    return [str(problem.message) for problem in problems.of("stop")]


def words(page: Page, text: str) -> list[tuple[float, float]]:
    return [(mark.x, mark.y) for mark in page.marks if isinstance(mark, Words) and mark.text == text]


@pytest.mark.parametrize("name", stock_names())
def test_every_stock_is_symmetrical_on_its_paper(name: str) -> None:
    chosen = the_stock(name)
    paper = the_paper(chosen.paper)
    right = paper.width - chosen.left - (chosen.columns - 1) * chosen.across - chosen.width
    below = paper.height - chosen.top - (chosen.rows - 1) * chosen.down - chosen.height
    assert right == pytest.approx(chosen.left, abs=0.06)
    assert below == pytest.approx(chosen.top, abs=0.06)


@pytest.mark.parametrize("name", stock_names())
def test_every_stock_prints_a_full_sheet_inside_its_labels(name: str) -> None:
    chosen = the_stock(name)
    body = (DISC if chosen.round else LABEL.format(number=1, size=14)) * chosen.count
    (page,) = pages(body, name)
    assert not overlaps(page.marks)
    inside = [mark for mark in page.marks if isinstance(mark, Words) and mark.text in ("27A", "from 11 Apr")]
    corners = list(chosen.corners())
    margin = labels.ROUND_MARGIN if chosen.round else stock.SAFE_MARGIN
    for mark in inside:
        left, top, right, bottom = mark.box
        assert any(
            x + margin <= left
            and right <= x + chosen.width - margin
            and y + margin <= top
            and bottom <= y + chosen.height - margin
            for x, y in corners
        ), mark


def test_labels_go_row_by_row_from_the_first_free_one() -> None:
    body = "".join(LABEL.format(number=number, size=14) for number in range(1, 11))
    first, second = pages(body, "a4-2x4", Feed(start_at=3))
    places = words(first, "Not before")
    assert len(places), len(words(second, "Not before")) == (6, 4)
    assert places[0] == pytest.approx((4.65 + 5, 13.1 + 67.7 + 5 + 4.5))
    assert places[1] == pytest.approx((4.65 + 101.6 + 5, 13.1 + 67.7 + 5 + 4.5))


@pytest.mark.parametrize("start", [0, 9])
def test_a_first_label_that_is_not_there_is_a_stop(start: int) -> None:
    found = stops(LABEL.format(number=1, size=14), "a4-2x4", Feed(start_at=start))
    assert found == [f"the first free label must be from 1 to 8, not {start}"]


def test_corrections_move_and_stretch_everything() -> None:
    body = LABEL.format(number=1, size=14)
    (plain,) = pages(body, "a4-2x4")
    (moved,) = pages(body, "a4-2x4", Feed(shift=(1.5, -0.5), stretch=(1.01, 0.99)))
    for before, after in zip(plain.marks, moved.marks, strict=True):
        if isinstance(before, Words) and isinstance(after, Words):
            assert (after.x, after.y) == pytest.approx((before.x * 1.01 + 1.5, before.y * 0.99 - 0.5))


def test_words_that_do_not_fit_at_the_floor_name_the_label_and_the_words() -> None:
    row = '<line h="8" size="28"><text shrink-to="14" lines="1">{}</text></line>'
    body = f'<sticker name="bottle 7">{row}</sticker>'
    assert stops(body.format("Sun 11 April"), "a4-3x7") == []
    (found,) = stops(body.format("Wednesday 17 September 2027"), "a4-3x7")
    assert found.startswith('"Wednesday 17 September 2027" does not fit')
    chosen = the_stock("a4-3x7")
    made = blocks(body.format("Wednesday 17 September 2027"), kind="labels")
    _, problems = labels.pages(made, chosen, the_paper("a4"), Feed())
    assert next(iter(problems)).path == ("bottle 7",)


def test_rows_too_high_for_a_label_name_the_label() -> None:
    body = '<sticker name="bottle 7">' + '<line h="5" least="4"><text>a</text></line>' * 9 + "</sticker>"
    assert stops(body, "a4-3x7") == [
        "bottle 7: its rows are 8.5 mm too high for a label of A4, 3 x 7 labels of 63.5 x 38.1 mm"
    ]
    assert stops(body, "a4-2x4") == []


def test_words_may_not_leave_a_disc() -> None:
    row = '<line h="3" size="12"><text at="middle" align="center">27A 27A</text></line>'
    body = f'<sticker name="cap" margin="1.5">{row}</sticker>'
    (found,) = stops(body, "caps-plain-a4")
    assert found.startswith('cap: "27A 27A" leaves the disc by')


def test_labels_to_the_papers_edge_are_a_warning() -> None:
    chosen = the_stock("a4-3x8")
    _, problems = labels.pages(
        blocks(LABEL.format(number=1, size=14), kind="labels"), chosen, the_paper("a4"), Feed()
    )
    assert [problem.level for problem in problems] == ["warn"]


def test_copies_are_the_same_label() -> None:
    (page,) = pages(DISC.replace("<sticker ", '<sticker copies="24" '), "caps-plain-a4")
    assert len(words(page, "27A")) == 24
    assert len([mark for mark in page.marks if isinstance(mark, Disc)]) == 24


def test_plain_paper_has_marks_to_cut_along_outside_the_labels() -> None:
    (page,) = pages(LABEL.format(number=1, size=14), "plain-a4")
    strokes = [mark for mark in page.marks if isinstance(mark, Stroke) and mark.weight == 0.5]
    upright = {mark.points[0][0] for mark in strokes if mark.points[0][0] == mark.points[1][0]}
    level = {mark.points[0][1] for mark in strokes if mark.points[0][1] == mark.points[1][1]}
    assert upright == {15, 105, 195}
    assert level == {28.5, 88.5, 148.5, 208.5, 268.5}
    assert not any(15 < x < 195 and 28.5 < y < 268.5 for mark in strokes for x, y in mark.points)


@pytest.mark.parametrize("name", ["plain-a4", "plain-letter", "a4-2x4", "letter-2x3", "caps-plain-a4"])
def test_there_is_a_bar_of_100_mm_where_there_is_room(name: str) -> None:
    (page,) = pages(DISC if the_stock(name).round else LABEL.format(number=1, size=14), name)
    bars = [mark.points for mark in page.marks if isinstance(mark, Stroke) and mark.weight == 0.8]
    assert any(end[0] - start[0] == pytest.approx(100) for start, end in bars)


def ink(pdf: bytes, dots_per_mm: int = 20) -> tuple[float, float, float, float]:
    """Left, top, right and bottom in millimetres of what a renderer inked on the first page."""
    page = pypdfium2.PdfDocument(pdf)[0]
    dark = np.array(page.render(scale=dots_per_mm * 25.4 / 72).to_pil().convert("L")) < 128
    rows, columns = np.where(dark.any(axis=1))[0], np.where(dark.any(axis=0))[0]
    return tuple(edge / dots_per_mm for edge in (columns[0], rows[0], columns[-1] + 1, rows[-1] + 1))  # type: ignore[return-value]


@pytest.mark.parametrize("name", ["a4-2x4", "letter-3x10", "plain-letter"])
def test_rendered_places_are_true_to_a_fifth_of_a_millimetre(name: str) -> None:
    chosen = replace(the_stock(name), cut="outline")
    paper = the_paper(chosen.paper)
    for index, (x, y) in enumerate(chosen.corners()):
        if index not in (0, chosen.count - 1):
            continue
        page = Page(paper.width, paper.height, (Box(x, y, chosen.width, chosen.height, 0, "water"),))
        found = ink(draw.pdf([page], INFO))
        assert found == pytest.approx((x, y, x + chosen.width, y + chosen.height), abs=0.2)


def test_the_rendered_bar_is_100_mm_long() -> None:
    (page,) = pages(LABEL.format(number=1, size=14), "a4-2x4")
    bar = [mark for mark in page.marks if isinstance(mark, Stroke) and mark.weight == 0.8]
    left, _, right, _ = ink(draw.pdf([replace(page, marks=tuple(bar))], INFO))
    assert right - left == pytest.approx(100.3, abs=0.2)  # with the thickness of its two end strokes


def stock_file(**changed: object) -> bytes:
    usual: dict[str, object] = {
        "stock": "mine", "title": "mine", "paper": "a4", "columns": 2, "rows": 4, "width": 99.1,
        "height": 67.7, "left": 4.65, "top": 13.1, "pitch-across": 101.6, "pitch-down": 67.7,
    }  # fmt: skip
    return "".join(f"{name}: {value}\n" for name, value in (usual | changed).items()).encode()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"width": 120}, "the labels reach 226.25 mm, but the paper's width is 210 mm"),
        ({"rows": 5}, "the labels reach 351.60 mm, but the paper's height is 297 mm"),
        ({"pitch-across": 90}, "the labels lie over each other"),
        ({"shape": "round"}, "a round label is as wide as it is high"),
        ({"shape": "rund"}, "`shape` cannot be 'rund'"),
        ({"columns": "two"}, "`columns` must be a number from 1 to 30, not 'two'"),
        ({"width": "99.1 cm"}, "`width` must be a number from 5 to 2000, not '99.1 cm'"),
        ({"paper": "a5"}, "`paper` cannot be 'a5'"),
        ({"colour": "white"}, "unknown name `colour`"),
    ],
)
def test_a_wrong_stock_is_a_problem(changed: dict[str, object], said: str) -> None:
    made, problems = stock.read(stock_file(**changed), "mine.yaml", paper_sizes())
    assert made is None
    assert said in [str(problem.message) for problem in problems]


@given(
    st.integers(1, 5),
    st.integers(1, 8),
    st.floats(10, 60),
    st.floats(10, 60),
    st.floats(0, 20),
    st.floats(0, 20),
)
def test_accepted_stocks_never_leave_the_paper_or_overlap(
    columns: int, rows: int, width: float, height: float, left: float, top: float
) -> None:
    wide, high = round(width, 2), round(height, 2)
    grid = {"columns": columns, "rows": rows, "left": round(left, 2), "top": round(top, 2)}
    pitch = {"pitch-across": wide + 1, "pitch-down": high}
    data = stock_file(width=wide, height=high, **grid, **pitch)
    made, _ = stock.read(data, "mine.yaml", paper_sizes())
    if made is None:
        return
    corners = list(made.corners())
    assert len(set(corners)) == made.count
    assert all(x + made.width <= 210.05 and y + made.height <= 297.05 for x, y in corners)
