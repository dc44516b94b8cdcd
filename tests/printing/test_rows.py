"""What stands in a line and in a picture, as placed marks."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.printing import draw, flow, fonts, ink, layout, markup, rows
from sheetgen.printing.marks import Area, Box, Hatch, MarkOnPage, Square, Stroke, Words, overlaps
from sheetgen.problems import Span

from .bench import A4, HEAD, INFO, blocks


def marks(body: str) -> tuple[MarkOnPage, ...]:
    (page,), problems = flow.pages(blocks(f"<sheet>{body}</sheet>"), A4)
    assert not len(problems), [*problems]
    return page.marks


def words(body: str) -> dict[str, Words]:
    return {mark.text: mark for mark in marks(body) if isinstance(mark, Words)}


def of(kind: type, body: str) -> list[MarkOnPage]:
    return [mark for mark in marks(body) if isinstance(mark, kind)]


def right(mark: Words) -> float:
    return round(mark.x + mark.width, 2)


@pytest.mark.parametrize("size", [28, 13.5])
def test_a_date_stands_in_three_fixed_places(size: float) -> None:
    body = '<line h="10" size="{}"><date weekday="{}" day="{}" month="{}"/></line>'
    one, other = words(body.format(size, "Wed", "17", "Mar")), words(body.format(size, "Sun", "4", "Apr"))
    assert one["Wed"].x == other["Sun"].x == 25
    assert right(one["17"]) == right(other["4"])
    assert one["Mar"].x == other["Apr"].x
    assert not overlaps(one.values())


def test_the_month_may_come_first() -> None:
    found = words(
        '<line size="28" h="10"><date weekday="Wed" month="Mar" day="17" month-first="yes"/></line>'
    )
    assert [*sorted(found, key=lambda text: found[text].x)] == ["Wed", "Mar", "17"]
    assert not overlaps(found.values())


def test_a_weekday_too_long_for_its_place_is_a_stop() -> None:
    body = '<sheet><line size="28" h="10"><date weekday="Wednesday" day="17" month="Mar"/></line></sheet>'
    assert flow.pages(blocks(body), A4)[1].stopped


def test_numbers_end_and_units_begin_at_one_place() -> None:
    one = words('<line><number value="6.0" unit="L" other="1.6 US gal"/></line>')
    other = words('<line><number value="200" unit="g" other="7.1 oz"/></line>')
    assert right(one["6.0"]) == right(other["200"]) == 166.0
    assert one["L"].x == pytest.approx(other["g"].x)
    assert right(one["1.6 US gal"]) == right(other["7.1 oz"]) == 195.0
    assert (one["6.0"].bold, one["L"].bold, one["1.6 US gal"].size) == (True, False, 10.5)


def test_a_number_that_would_touch_its_other_unit_is_a_stop() -> None:
    body = '<sheet><line><number value="6.0" unit="teelepels" other="1.6 US gallons"/></line></sheet>'
    assert flow.pages(blocks(body), A4)[1].stopped


def test_grey_rows_are_grey_and_never_bold_numbers() -> None:
    found = words('<line tone="grey"><text>done</text><number value="6.0"/></line>')
    assert all(mark.grey and not mark.bold for mark in found.values())


def test_a_tick_box_stands_on_the_middle_of_the_capitals() -> None:
    (box,) = of(Box, '<line h="20" size="title"><tick size="6"/></line>')
    assert isinstance(box, Box)
    assert box.y + 3 == pytest.approx(35 - fonts.cap_mm(28) / 2)


@pytest.mark.parametrize(("state", "kinds"), [
    ("open", [Box]), ("done", [Box, Stroke]), ("away", [Box, Hatch]), ("check", [Stroke]),
])  # fmt: skip
def test_states_are_told_apart_without_colour(state: str, kinds: list[type]) -> None:
    assert [type(mark) for mark in marks(f'<line><tick state="{state}"/></line>')] == kinds


def test_a_blank_has_its_unit_inside_and_what_is_expected_grey_beside_it() -> None:
    body = '<line h="12"><blank unit="°C" expected="19 °C|66 °F"/></line>'
    found, (box,) = words(body), of(Box, body)
    assert isinstance(box, Box)
    assert (box.x, box.width, box.height) == (150, 28, 9.5)
    assert right(found["°C"]) <= 178
    assert (found["19 °C"].grey, right(found["19 °C"])) == (True, 195.0)
    assert found["19 °C"].y < found["66 °F"].y


def test_blanks_that_fill_their_rows_make_a_table() -> None:
    boxes = of(
        Box, '<line h="9"><blank height="0"/></line><line h="9"><blank height="0" value="1.046"/></line>'
    )
    first, second = (box for box in boxes if isinstance(box, Box))
    assert first.y + first.height == pytest.approx(second.y)


def test_what_moved_is_struck_through() -> None:
    body = "<line><text>was <s>Thu 25 Mar</s>: away</text></line>"
    (stroke,), struck = of(Stroke, body), words(body)["Thu 25 Mar"]
    assert isinstance(stroke, Stroke)
    assert stroke.points[0][0] < struck.x < right(struck) < stroke.points[1][0]
    assert struck.y - fonts.cap_mm(13.5) < stroke.points[0][1] < struck.y
    assert len(of(Stroke, '<line><text strike="yes">Thu 25</text></line>')) == 1


def test_several_lines_may_stand_centred_on_their_row() -> None:
    note = '<text at="135" size="body" rise="yes">one<br/>two</text>'
    body = f'<line h="20" size="title"><text at="90">Bottle</text>{note}</line>'
    found = words(body)
    top, bottom = found["one"].y - fonts.cap_mm(13.5), found["two"].y
    assert (top + bottom) / 2 == pytest.approx(found["Bottle"].y - fonts.cap_mm(28) / 2)


def test_a_frame_round_a_row_takes_no_height() -> None:
    with_frame = marks('<line h="14" frame="next"><text>a</text></line><line><text>b</text></line>')
    without = marks('<line h="14"><text>a</text></line><line><text>b</text></line>')
    assert [mark for mark in with_frame if isinstance(mark, Words)] == [*without]
    (box,) = (mark for mark in with_frame if isinstance(mark, Box))
    assert (box.x, box.x + box.width, box.weight) == (12.5, 197.5, 1.5)


def test_white_behind_words_over_hatching() -> None:
    row = '<line h="7"><text clear="yes">Test</text><date at="60" day="1" clear="yes"/></line>'
    body = f'<lanes><bar kind="hatch" start="0" end="1"/>{row}</lanes>'
    assert [type(mark) for mark in marks(body)] == [Hatch, Box, Words, Box, Words, Words, Words]


def test_lanes_share_one_scale() -> None:
    scale = '<track at="15" to="195" height="3.4"><bar start="{}" end="{}"/><mark at=".5"/></track>'
    row = f'<line h="7">{scale}</line>'
    found = marks(f'<lanes><mark kind="grid" at=".5"/>{row.format(0, 0.5)}{row.format(0.5, 1)}</lanes>')
    bars = [mark for mark in found if isinstance(mark, Box)]
    assert bars[0].x + bars[0].width == pytest.approx(105, abs=0.2)
    assert bars[1].x == pytest.approx(105, abs=0.2)
    assert {mark.points[0][0] for mark in found if isinstance(mark, Stroke)} == {105}


def test_a_frame_of_the_batch_line_can_be_seen_however_short() -> None:
    (box,) = of(Box, '<track><bar kind="frame" start=".5" end=".5"/></track>')
    assert isinstance(box, Box)
    assert (box.width, box.weight) == (pytest.approx(3.7), 1.5)


def test_every_kind_of_bar_looks_different() -> None:
    body = "<track>{}</track>"
    looks = {
        repr(
            [
                (type(mark), getattr(mark, "weight", 0), getattr(mark, "fill", ""))
                for mark in marks(body.format(bar))
            ]
        )
        for bar in (
            f'<bar kind="{kind}" start=".2" end=".6"/>'
            for kind in ("solid", "outline", "hatch", "frame", "pale")
        )
    }
    assert len(looks) == 5


@pytest.mark.parametrize("kind", ["date", "drop", "tick", "minor", "grid"])
def test_marks_are_upright(kind: str) -> None:
    (stroke,) = of(Stroke, f'<track at="20" to="120"><mark kind="{kind}" at=".25"/></track>')
    assert isinstance(stroke, Stroke)
    assert {x for x, _ in stroke.points} == {45}


def test_calendar_cells_hold_words_ticks_hatching_frames_and_ribbons() -> None:
    day = '<cell tone="grey" tick="yes"><line h="5"><text>6</text></line></cell>'
    away = '<cell hatch="yes" frame="yes"><line h="5"><text>7</text></line></cell>'
    found = marks(
        f'<cells columns="2" height="25">{day}{away}<ribbon start="0" end="2" kind="outline"/></cells>'
    )
    assert [type(mark) for mark in found] == [Box, Stroke, Words, Box, Hatch, Words, Box, Box]
    ribbon, frame = found[-2:]
    assert isinstance(ribbon, Box)
    assert isinstance(frame, Box)
    assert frame.weight == 1.5
    assert 15 < ribbon.x < ribbon.x + ribbon.width < 195
    assert 15 + 15 < ribbon.y < 15 + 25


def test_a_chart_is_drawn_in_the_order_written() -> None:
    found = marks(
        '<chart at="30" to="130" h="50"><curve fill="yes" points="0,1 1,0 0,0"/><patch left=".5" right=".6"/>'
        '<patch kind="solid" left="1" right="1.02"/><note x="0" y="0" align="right" clear="yes">1.005</note>'
        '<cross x="0" y="1"/></chart>'
    )
    assert [type(mark) for mark in found] == [Area, Stroke, Hatch, Box, Box, Words, Stroke, Stroke]
    assert isinstance(found[0], Area)
    assert found[0].points == ((30, 15), (130, 65), (30, 65))
    assert isinstance(found[5], Words)
    assert right(found[5]) == 30


def test_a_code_keeps_words_away() -> None:
    body = '<line h="30"><text>' + "word " * 40 + '</text><code value="27A" size="20"/></line>'
    (code,) = of(Square, body)
    assert isinstance(code, Square)
    assert code.x == 175
    assert not overlaps(marks(body))


@pytest.mark.parametrize("length", [1, 14, 15, 62, 63, 152, 300, 666])
def test_a_codes_modules_are_never_more_than_reckoned(length: int) -> None:
    text = "é" * (length // 2) + "x" * (length % 2)
    assert len(ink.modules(text)) <= rows.code_modules(text)


@pytest.mark.parametrize("length", [300, 700])
def test_a_code_too_fine_for_a_phone_is_a_stop(length: int) -> None:
    body = f'<sheet><line h="30"><code size="20" value="{"a" * length}"/></line></sheet>'
    (problem,) = flow.pages(blocks(body), A4)[1]
    assert problem.message == "the code's text is too long for 20 mm: a phone could not read it"


@settings(max_examples=60, deadline=None)
@given(
    st.text(
        st.characters(min_codepoint=0x20, max_codepoint=0x24F, exclude_categories=["Cc", "Cf"]), max_size=60
    )
)
def test_any_printable_text_comes_out_unchanged(text: str) -> None:
    import io

    import pypdf

    read, _ = layout.read("page.layout", (HEAD.format(kind="sheets") + LINE).encode(), lambda _: None)
    assert read is not None
    made, problems = layout.fill(read, {"text": text})
    assert not len(problems)
    pages, problems = flow.pages(made, A4)  # type: ignore[arg-type]
    if problems.stopped:
        return
    found = pypdf.PdfReader(io.BytesIO(draw.pdf(pages, INFO))).pages[0].extract_text()
    written = " ".join(mark.text for mark in pages[0].marks if isinstance(mark, Words))
    assert "".join(found.split()) == "".join(written.split())
    assert "".join(written.split()) == "".join(text.split())


LINE = '<sheet><line size="tiny"><text>{{ text }}</text></line></sheet>'


@settings(max_examples=150, deadline=None)
@given(st.text('<>/"=&; linetxshwordab{}%0123456789.-\n', max_size=80))
def test_no_markup_gives_anything_but_blocks_or_problems(text: str) -> None:
    made, problems = markup.read(text, "sheets", lambda stamp, near: Span("page.layout", 1, 1))
    assert made or problems.stopped or not text.strip() or text.strip("\n ").startswith("<!--")


@settings(max_examples=100, deadline=None)
@given(st.text("{}%# ifendorblckatsmcro().[]|'+-*/<>sheet\n", max_size=60))
def test_no_template_gives_anything_but_a_layout_or_problems(text: str) -> None:
    read, problems = layout.read("page.layout", (HEAD.format(kind="sheets") + text).encode(), lambda _: None)
    assert (read is None) == problems.stopped
    if read is not None:
        layout.fill(read, {"a": "b"})
