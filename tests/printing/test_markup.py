"""The vocabulary: what a layout may write becomes blocks; the rest is a problem with its own line."""

from __future__ import annotations

import dataclasses

import pytest

from sheetgen.printing import blocks as tree
from sheetgen.printing.blocks import Line, Run, Sheet, Text
from sheetgen.printing.vocabulary import ELEMENTS, reference
from sheetgen.problems import Span

from .bench import blocks, fill, only


def test_elements_become_blocks() -> None:
    (sheet,) = blocks(
        '<sheet title="Brew sheet"><line h="9.7" least="8" size="quantity">'
        '<text at="words">Stir <b>hard</b></text></line></sheet>'
    )
    assert sheet == Sheet(
        title="Brew sheet",
        content=(
            Line(
                h=9.7,
                least=8.0,
                size=18.0,
                content=(Text(at="words", content=(Run("Stir "), Run("hard", bold=True))),),
            ),
        ),
    )


def test_space_between_words_is_one_space() -> None:
    (sheet,) = blocks(
        "<sheet><line><text>\n   Take  <b> a jar </b>\n of beer <br/> and read\n</text></line></sheet>"
    )
    words = [run.words for run in sheet.content[0].content[0].content]
    assert words == ["Take ", "a jar ", "of beer ", "\n", "and read"]


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("<sheet>\n<lime/>\n</sheet>", 'page.layout:6 unknown element <lime> | did you mean "line"?'),
        ("<sheet>\n\n<line heigth='3'/></sheet>", "page.layout:7 <line> has no attribute `heigth` | "),
        ('<sheet><line><text at="word">a</text></line></sheet>', 'did you mean "words"?'),
        ('<sheet><line size="bodi"/></sheet>', 'did you mean "body"?'),
        (
            '<sheet>\n<line\n h="5 mm"/></sheet>',
            'page.layout:7 `h="5 mm"` in <line>: expected a plain number',
        ),
        ('<sheet><frame kind="nxet"/></sheet>', 'did you mean "next"?'),
        ("<sheet>words</sheet>", "words cannot stand directly in <sheet>"),
        (
            "<sheet><text>a</text></sheet>",
            "<text> cannot stand in <sheet> | <sheet> may hold: head, foot, line",
        ),
        ("<sheet><line><text><u>a</u></text></line></sheet>", "<u> cannot stand inside words"),
        ("<sheet><head/><head/></sheet>", "<sheet> may hold one <head> only"),
        ('<sheet overflow="maybe"/>', "expected one of never, continue"),
        ('<sheet><line><tick state="1"/></line></sheet>', "expected one of open, done, away, check"),
        ('<sheet><line><text lines="-1">a</text></line></sheet>', "expected a whole number"),
        ('<sheet><chart><curve points="0,1 2"/></chart></sheet>', "expected a plain number"),
        ("<sticker/>", "<sticker> cannot stand in a layout"),
    ],
)
def test_what_is_unknown_is_a_problem_with_its_line(body: str, said: str) -> None:
    assert said in only(fill(body)[1])


def test_column_names_are_not_places_of_a_label() -> None:
    body = '<sticker><line><text at="words">a</text></line></sticker>'
    assert "expected a column (left, middle, right)" in only(fill(body, kind="labels")[1])


@pytest.mark.parametrize(
    "body",
    [
        '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]><sheet/>',
        "<sheet><line><text>&undefined;</text></line></sheet>",
        "<?xml-stylesheet href='http://example.org'?><sheet/>",
        "<sheet><line></sheet>",
        "<sheet",
        "</layout><layout><sheet/>",
        "<sheet>" * 200,
    ],
)
def test_what_is_not_plain_markup_is_refused_without_a_traceback(body: str) -> None:
    made, problems = fill(body)
    assert problems.stopped
    assert made == ()


def test_every_problem_is_found_at_once() -> None:
    _, problems = fill('<sheet>\n<line size="x"/>\n<lin/>\n<space h="a"/></sheet>')
    assert [problem.span.line for problem in problems if problem.span] == [6, 7, 8]


def test_the_column_of_a_problem_points_at_the_word() -> None:
    _, problems = fill('<sheet><line h="1" size="bodi"/></sheet>')
    (problem,) = problems
    assert problem.span is not None
    assert (problem.span.column, problem.span.length) == (20, 5)


def test_table_and_classes_agree() -> None:
    made = {element.block for element in ELEMENTS.values()}
    every = {item for item in vars(tree).values() if dataclasses.is_dataclass(item) and item is not Span}
    assert every - made == {tree.Block, tree.Item, tree.Flow, tree.Run}
    for name, element in ELEMENTS.items():
        assert element.help, name
        assert set(element.children) <= set(ELEMENTS)
        element.block()


def test_the_reference_names_every_element_and_attribute() -> None:
    text = reference()
    for name, element in ELEMENTS.items():
        assert f"<{name}>" in text
        assert all(f"    {attribute} = " in text for attribute in element.attributes)
