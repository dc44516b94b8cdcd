"""How a problem looks on the screen."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sheetgen.problems import Problem, Said, Span, said
from sheetgen.report import WIDEST, text_of, width_of


def say(sentence: str | Said) -> str:
    return sentence if isinstance(sentence, str) else sentence.id


def shown(problem: Problem, *lines: str) -> str:
    return text_of(problem, say, lambda name: list(lines) if lines else None)


def test_place_message_line_caret_and_what_to_type() -> None:
    problem = Problem(
        "warn",
        "30 bottles of 330 ml hold 9.9 L, but about 11.2 L will be ready to bottle",
        Span("27a.yaml", 6, 10, 24),
        "4 more bottles of 330 ml, or 1 of 1.5 L, would hold it",
    )
    lines = ["", "", "", "", "", "bottles: {330 ml brown glass: 30}"]
    assert shown(problem, *lines) == (
        "27a.yaml:6:10: warn: 30 bottles of 330 ml hold 9.9 L, but about 11.2 L will be ready to bottle\n"
        "  6 | bottles: {330 ml brown glass: 30}\n"
        "    |          ^^^^^^^^^^^^^^^^^^^^^^^^ 4 more bottles of 330 ml, or 1 of 1.5 L, would hold it"
    )


def test_each_of_several_ways_out_has_a_line() -> None:
    place, ways = Span("a.yaml", 1, 1, 1), (said("way.warm-place"), said("way.room"))
    several = Problem("stop", "late", place, said("fix.event", ways=ways))
    assert shown(several, "x").splitlines()[2:] == ["    | ^", "  - way.warm-place", "  - way.room"]
    one = Problem("stop", "late", place, said("fix.event", ways=ways[:1]))
    assert shown(one, "x").splitlines()[2:] == ["    | ^ fix.event"]


def test_a_breadcrumb_says_which_thing_it_is_about() -> None:
    problem = Problem("stop", "no", Span("a.yaml", 1, 1, 1), path=("batch 27A", "ingredients", "honey"))
    assert shown(problem, "x").splitlines()[1] == "  in batch 27A > ingredients > honey"


def test_a_table_names_the_column() -> None:
    problem = Problem("stop", "no", Span("class.csv", 2, 5, 2, cell="room"), path=("Ann",))
    assert shown(problem, "name,room", "Ann,19").splitlines()[1] == "  in Ann > column room"


def test_without_a_place_there_is_no_caret() -> None:
    assert shown(Problem("note", "assumed", fix="write it")) == "note: assumed\n  write it"
    assert shown(Problem("note", said("wait-more"))) == "note: wait-more"


def test_a_file_that_cannot_be_shown_still_gives_the_advice() -> None:
    assert shown(Problem("stop", "no", Span("a.yaml", 3, 1), "type it")) == "a.yaml:3:1: stop: no\n  type it"


def test_a_mark_longer_than_the_line_ends_with_the_line() -> None:
    assert shown(Problem("stop", "no", Span("a", 1, 3, 99)), "abcd").endswith("    |   ^^")


def test_a_mark_after_the_line_stands_at_its_end() -> None:
    assert shown(Problem("stop", "no", Span("a", 1, 50)), "abcd").endswith("    |     ^")


def test_wide_and_combining_characters_are_counted_as_they_are_seen() -> None:
    text = shown(Problem("stop", "no", Span("a", 1, 9, 2)), "梅酒 e\u0301: 12 L")
    assert text.splitlines()[2] == "    | " + " " * 9 + "^^"
    wide = shown(Problem("stop", "no", Span("a", 1, 1, 2)), "梅酒: x")
    assert wide.splitlines()[2] == "    | ^^^^"


def test_nothing_can_steer_the_terminal() -> None:
    evil = "a: \x1b[2Jx\x07\u202e\x9b\r"
    text = shown(Problem("stop", evil, Span("\x1bf", 1, 4, 1), evil, path=(evil,)), evil)
    assert not any((ord(sign) < 32 and sign != "\n") or sign in "\x7f\x9b\u202e" for sign in text)
    assert "␛[2Jx␇" in text


def test_a_very_long_line_is_shown_around_the_mark() -> None:
    line = "a" * 5000 + "HERE" + "b" * 5000
    first, second = shown(Problem("stop", "no", Span("a", 1, 5001, 4)), line).splitlines()[1:]
    assert len(first) <= WIDEST + 10
    at = second.index("^")
    assert first[at : at + 4] == "HERE"
    assert second[at:] == "^^^^"


@given(
    line=st.text(max_size=300),
    column=st.integers(1, 400),
    length=st.integers(0, 400),
    message=st.text(max_size=50),
)
def test_any_line_gives_a_caret_under_the_mark(line: str, column: int, length: int, message: str) -> None:
    text = shown(Problem("stop", message, Span("a", 1, column, length)), line)
    parts = text.split("\n")
    assert len(parts) == 3
    assert "^" in parts[2]
    assert width_of(parts[2]) <= WIDEST + 10
    assert not any(ord(sign) < 32 for part in parts for sign in part)
