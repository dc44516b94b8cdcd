"""Rows on pages: what fits stays, what does not shrinks to its least, breaks between groups, or is a stop."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.printing import flow
from sheetgen.printing.blocks import Run, Sheet
from sheetgen.printing.desk import Area
from sheetgen.printing.marks import Box, Page, Words, outside, overlaps
from sheetgen.printing.paper import Paper
from sheetgen.printing.wrap import fitted, plain, wrapped

from .bench import A4, LETTER, blocks

ELASTIC = "h='10' least='{}'"
AREA = Area(15, 195)
HEAD = '<head><line h="10" size="title"><text>Head</text></line></head>'
FOOT = '<foot><line h="5" size="tiny"><text>page <page/> of <pages/></text></line></foot>'


def pages_of(body: str, paper: object = A4) -> tuple[Page, ...]:
    made, problems = flow.pages(blocks(body), paper)  # type: ignore[arg-type]
    assert not len(problems), [*problems]
    return made


def baselines(page: Page) -> dict[str, float]:
    return {mark.text: round(mark.y, 2) for mark in page.marks if isinstance(mark, Words)}


def rows(count: int, attributes: str = "h='10'") -> str:
    return "".join(f"<line {attributes}><text>row {number}</text></line>" for number in range(1, count + 1))


def test_heights_are_from_baseline_to_baseline() -> None:
    (page,) = pages_of(
        f'<sheet>{HEAD}<line h="7.5"><text>a</text></line><space h="5"/><line><text>b</text></line></sheet>'
    )
    assert baselines(page) == {"Head": 25.0, "a": 32.5, "b": 43.5}


def test_the_foot_stands_at_the_lower_edge_of_every_paper() -> None:
    for paper in (A4, LETTER):
        (page,) = pages_of(f"<sheet>{FOOT}{rows(1)}</sheet>", paper)
        assert baselines(page)["page 1 of 1"] == pytest.approx(paper.height - 13.2)


def test_sheets_are_centred_on_other_papers() -> None:
    (page,) = pages_of("<sheet><line><text at='words'>a</text></line></sheet>", LETTER)
    (words,) = page.marks
    assert isinstance(words, Words)
    assert words.x == pytest.approx(60 + 2.95)


def test_what_fits_keeps_its_heights() -> None:
    (page,) = pages_of(f"<sheet>{rows(20, ELASTIC.format(5))}</sheet>")
    assert baselines(page)["row 20"] == pytest.approx(15 + 200)


def test_what_does_not_fit_shrinks_in_proportion() -> None:
    body = f'<sheet>{rows(30, ELASTIC.format(8))}<line h="20"><text>last</text></line></sheet>'
    (page,) = pages_of(body)
    found = baselines(page)
    assert found["last"] == pytest.approx(297 - 13.2 - 1.5, abs=0.02)
    assert found["row 2"] - found["row 1"] == pytest.approx((297 - 13.2 - 1.5 - 15 - 20) / 30, abs=0.02)


def test_spare_room_stretches_to_the_most_only() -> None:
    (page,) = pages_of('<sheet><space h="5" most="9"/><line><text>a</text></line></sheet>')
    assert baselines(page) == {"a": 30.0}


def test_a_sheet_that_must_be_one_page_is_refused_with_how_much_too_long() -> None:
    sheets = blocks(f'<sheet title="Brew sheet">{rows(40)}</sheet>')
    _, problems = flow.pages(sheets, A4)
    (problem,) = problems.of("stop")[:1]
    assert problem.message == 'the sheet "Brew sheet" is 132.7 mm too long for one page of A4'
    assert problem.span is not None
    assert problem.span.line == 5


def test_a_sheet_that_may_go_on_breaks_between_groups() -> None:
    group = f"<group>{rows(7)}</group>"
    first, second = pages_of(
        f'<sheet overflow="continue" continued="continued">{HEAD}{FOOT}{group * 5}</sheet>'
    )
    for page, count, number in ((first, 3, 1), (second, 2, 2)):
        found = [mark.text for mark in page.marks if isinstance(mark, Words)]
        assert found.count("row 7") == found.count("row 1") == count
        assert found[0] == "Head"
        assert f"page {number} of 2" in found
    assert "continued" in baselines(second)
    assert "continued" not in baselines(first)


def test_a_group_longer_than_a_page_is_refused_even_where_pages_may_break() -> None:
    _, problems = flow.pages(blocks(f'<sheet overflow="continue"><group>{rows(40)}</group></sheet>'), A4)
    assert problems.stopped


def test_columns_are_as_high_as_the_highest() -> None:
    columns = f"<columns><column>{rows(2)}</column><column at='120'>{rows(3)}</column></columns>"
    (page,) = pages_of(f"<sheet>{columns}<line h='1'><text>z</text></line></sheet>")
    assert baselines(page)["z"] == 46.0


def test_words_wrap_before_what_stands_to_their_right_and_push_rows_down() -> None:
    long = "Stir the tinned malt into the hot water until nothing sticks to the pot"
    (page,) = pages_of(
        f'<sheet><line><text at="words">{long}</text><number value="1.5" unit="kg"/></line>'
        '<line h="9"><text>next</text></line></sheet>'
    )
    words = [mark for mark in page.marks if isinstance(mark, Words) and mark.x == 60]
    assert [round(mark.y, 1) for mark in words] == [21.0, 26.6]
    number = next(mark for mark in page.marks if isinstance(mark, Words) and mark.text == "1.5")
    assert max(mark.x + mark.width for mark in words) <= number.x - 2
    assert baselines(page)["next"] == pytest.approx(26.6 + 9)


def test_a_word_that_cannot_fit_is_a_stop_that_names_it() -> None:
    sheets = blocks('<sheet title="A"><line>\n<text at="60" to="70">Braunbierbrauerei</text></line></sheet>')
    _, problems = flow.pages(sheets, A4)
    (problem,) = problems
    assert str(problem.message).startswith('"Braunbierbrauerei" does not fit: it is 37.6 mm')
    assert problem.span is not None
    assert (problem.span.line, problem.path) == (6, ("A",))


def test_more_lines_than_allowed_is_a_stop() -> None:
    sheets = blocks(
        '<sheet><line><text at="60" to="90" lines="1">two words and some more</text></line></sheet>'
    )
    assert flow.pages(sheets, A4)[1].stopped


def test_shrinking_stops_at_the_floor() -> None:
    runs = (Run("Wednesday 17 September"),)
    assert fitted(runs, 66, True, 300, 44).size == 66
    assert 44 < fitted(runs, 66, True, 230, 44).size < 66
    setting = fitted(runs, 66, True, 100, 44)
    assert setting.size == 44
    assert len(setting.lines) > 1
    sheets = blocks(
        '<sheet><line h="30"><text size="66" shrink-to="44" to="100" lines="1">'
        "Wednesday 17 September</text></line></sheet>"
    )
    assert flow.pages(sheets, A4)[1].stopped


def test_a_character_that_no_face_has_is_a_stop() -> None:
    _, problems = flow.pages(blocks("<sheet><line><text>Tilda \U0001f37a</text></line></sheet>"), A4)
    (problem,) = problems
    assert (
        problem.message
        == "\"Tilda \U0001f37a\" holds a character that cannot be printed: '\U0001f37a' (U+1F37A)"
    )


def test_frames_begin_and_end_where_their_rows_do() -> None:
    (page,) = pages_of(
        '<sheet><frame kind="next"><line h="12"><text at="25">a</text></line><space h="8"/></frame></sheet>'
    )
    assert Box(12.5, 15, 185, 20, 1.5) in page.marks


def test_page_numbers_run_through_all_sheets() -> None:
    made = pages_of(f'<sheet title="A">{FOOT}</sheet><sheet title="B">{FOOT}</sheet>')
    assert [page.bookmark for page in made] == ["A", "B"]
    assert [list(baselines(page)) for page in made] == [["page 1 of 2"], ["page 2 of 2"]]


def test_bars_are_cut_at_the_ends_of_their_scale() -> None:
    (page,) = pages_of('<sheet><track at="20" to="120"><bar start="-1" end=".5"/></track></sheet>')
    (box,) = page.marks
    assert isinstance(box, Box)
    assert (box.x, box.width) == (pytest.approx(20.1, abs=0.05), pytest.approx(49.8, abs=0.05))


def test_labels_of_a_picture_never_touch() -> None:
    body = "".join(f'<label at="{at}">on this day</label>' for at in (0.5, 0.51, 0.9, 1))
    (page,) = pages_of(f"<sheet><track>{body}</track></sheet>")
    assert not overlaps(page.marks)
    assert [mark.text for mark in page.marks] == ["on this day"] * 2  # type: ignore[union-attr]


def test_cells_stand_edge_to_edge() -> None:
    body = (
        '<cells columns="30 30 45" at="60" height="9">'
        + "<cell/>" * 5
        + '<ribbon row="2" start="0" end="2"/></cells>'
    )
    (page,) = pages_of(f"<sheet>{body}</sheet>")
    boxes = [mark for mark in page.marks if isinstance(mark, Box) and mark.weight == 0.5]
    assert [(box.x, box.y, box.width) for box in boxes] == [
        (60, 15, 30), (90, 15, 30), (120, 15, 45), (60, 24, 30), (90, 24, 30),
    ]  # fmt: skip


def test_words_that_fill_more_than_their_cell_are_a_stop() -> None:
    row = '<line h="5"><text>a</text></line>'
    body = f'<sheet><cells height="8"><cell>{row}{row}</cell></cells></sheet>'
    (problem,) = flow.pages(blocks(body), A4)[1]
    assert problem.message == "the words in a cell are 2.0 mm too high"


def test_a_paper_too_narrow_for_the_columns_is_one_stop() -> None:
    made, problems = flow.pages(
        blocks("<sheet><line><text>a</text></line></sheet>"), Paper("a5", "A5", 148, 210)
    )
    assert made == ()
    assert [problem.message for problem in problems] == ["A5 is 148 mm wide; sheets need at least 205 mm"]


def test_words_in_the_margin_are_found() -> None:
    page = Page(210, 297, (Words(10, 50, "a", 12), Words(20, 50, "b", 12)))
    assert [mark.text for mark in outside(page, 12.5)] == ["a"]


def test_words_over_words_are_found() -> None:
    assert overlaps((Words(20, 50, "ab", 12), Words(22, 51, "cd", 12), Words(22, 60, "e", 12))) == [
        ("ab", "cd")
    ]


@given(st.lists(st.text("abcdefgh", min_size=1, max_size=12), min_size=1, max_size=40), st.floats(30, 150))
def test_wrapping_keeps_every_word_in_order_and_inside(words: list[str], room: float) -> None:
    setting = wrapped((Run(" ".join(words)),), 10.5, False, room)
    assert " ".join("".join(piece.text for piece in line) for line in setting.lines).split() == words
    assert setting.fits
    narrower = wrapped((Run(" ".join(words)),), 10.5, False, room * 2)
    assert len(narrower.lines) <= len(setting.lines)


def test_wrapped_lines_are_even() -> None:
    setting = wrapped((Run("one two three four five six seven"),), 10.5, False, 42)
    assert len(setting.lines) == 2
    assert setting.width(1) > 0.6 * setting.width(0)


def test_a_number_keeps_its_unit() -> None:
    setting = wrapped((Run("aaaa aaaa 12\u202fL 12\u00a0L"),), 10.5, False, 22)
    assert all(line[0].text not in ("L", "12") for line in setting.lines)


def test_a_very_long_word_costs_nothing() -> None:
    assert plain((Run("x" * 100_000),)) == "x" * 100_000
    assert not wrapped((Run("x" * 100_000),), 10.5, False, 50).fits


@given(st.lists(st.tuples(st.floats(1, 20), st.floats(0, 1), st.floats(1, 2)), min_size=1, max_size=30))
def test_the_solver_never_overfills_and_never_leaves_the_limits(
    parts: list[tuple[float, float, float]],
) -> None:
    body = "".join(
        f'<space h="{h:.3f}" least="{h * low:.3f}" most="{h * high:.3f}"/>' for h, low, high in parts
    )
    (sheet,) = blocks(f"<sheet>{body}</sheet>")
    assert isinstance(sheet, Sheet)
    least, most = (flow.total(sheet.content, AREA, share) for share in (-1, 1))
    share = flow.solve(lambda at: flow.total(sheet.content, AREA, at), 100)
    height = flow.total(sheet.content, AREA, share)
    assert -1 <= share <= 1
    assert least - 1e-9 <= height <= most + 1e-9
    assert height <= 100 + 1e-6 or share == -1


def test_a_group_that_no_page_holds_is_taken_apart_between_its_entries() -> None:
    """Its heading stays with the first entry, and the rows of an entry stay together."""
    first, second = (
        '<line h="12"><tick/><text>entry {0}</text></line>',
        '<line h="6"><text>of {0}</text></line>',
    )
    entry = first + second
    many = "".join(entry.format(number) for number in range(40))
    heading = '<line h="10" weight="bold"><text>Much to do</text></line>'
    made = pages_of(f'<sheet title="It" overflow="continue"><group>{heading}{many}</group></sheet>')
    assert len(made) == 3
    tops = [next(mark.text for mark in page.marks if isinstance(mark, Words)) for page in made]
    assert tops[0] == "Much to do"
    assert all(top.startswith("entry ") for top in tops[1:])
