"""Whoever wrote something wrong is told where, and what to type: it helps, as it stands.

The corpus is `slips.txt`.
"""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from intake.told import read, six_lines

from sheetgen.intake.kinds import KINDS
from sheetgen.problems import Said
from sheetgen.units import Misread
from slips.told import BASES, Slip, applied, corpus, fix_of, found, mended, new, right_text

SLIPS = corpus()
LEAST = 0.95
NOT_MENDED = {
    "batch: 27A\nrecipe: copper-lane-amber => batch: copper-lane-amber\nrecipe: 27A",
    "\nbottles: => \nguests: 18\nbottles:",
    "on: 2027-03-20 => on: 2027-04-20",
    "bottled: {on: 2027-03-27 => bottled: {on: 2027-04-27",
    "Anna;11:00 => ;11:00",
}
"""What nobody but the writer can know."""


def _ids(slip: Slip) -> str:
    return slip.id


def test_there_are_many_and_no_two_are_the_same() -> None:
    assert len({(slip.base, slip.text) for slip in SLIPS}) == len(SLIPS) >= 200


@pytest.mark.parametrize("base", BASES)
def test_the_right_files_can_be_made(base: str) -> None:
    assert [one for one in found(base, right_text(base)) if one.level == "stop"] == []


@pytest.mark.parametrize("slip", SLIPS, ids=_ids)
def test_a_slip_is_told_on_its_line_and_can_be_mended_by_what_is_said(slip: Slip) -> None:
    told = new(slip.base, slip.text)
    assert slip.line in [one.span.line for one in told if one.span], told
    assert any(one.fix for one in told), told
    good = mended(slip.base, slip.text) is not None
    assert good == (f"{slip.right} => {slip.wrong}" not in NOT_MENDED)


def test_nearly_all_are_mended() -> None:
    assert len(NOT_MENDED) <= (1 - LEAST) * len(SLIPS)


@pytest.mark.parametrize("slip", SLIPS, ids=_ids)
def test_what_is_sure_is_right_by_itself_and_stands_in_the_message(slip: Slip) -> None:
    for problem in new(slip.base, slip.text):
        for way in problem.suggestions:
            whole = way.span.column == 1 or not way.text  # a line written anew, or nothing in its place
            assert whole or isinstance(problem.fix, Said) or _is_worded(way.text, fix_of(problem)), problem
            if way.sure:
                assert new(slip.base, applied(slip.text, way)) == []
                assert len(problem.suggestions) == 1


def _is_worded(text: str, fix: str) -> bool:
    """Whether the words to type stand in the sentence: the whole value, or what changes in it."""
    plain = text.strip(' ,"\n')
    parts = [
        part for part in re.split(r"write (?:the \w+ \w+: )?| or |, |: |such as |\"", fix) if len(part) > 1
    ]
    return plain in fix or any(part.strip("?") in plain for part in parts)


_DAY = st.dates(date(2026, 6, 1), date(2028, 12, 31))
_WRITTEN = st.sampled_from(
    [
        "%d.%m.%Y",
        "%m/%d/%Y",
        "%Y/%m/%d",
        "%d %B %Y",
        "%B %d, %Y",
        "%a %d %b %Y",
        "%Y%m%d",
        "%Y.%m.%d",
        "%y-%m-%d",
    ]
)


@given(_DAY, _WRITTEN)
def test_a_day_written_otherwise_is_among_what_is_offered_and_alone_if_sure(day: date, form: str) -> None:
    wrong = KINDS["date"].reader(day.strftime(form))
    assert isinstance(wrong, Misread)
    assert str(day) in wrong.ways
    assert not wrong.sure or wrong.ways == (str(day),)


_KEYS = st.sampled_from(
    ["volume", "room", "brew-day", "bottles", "batch", "recipe", "cold-days", "away", "my-days", "alarms"]
)
_GARBLED = st.text(alphabet="0123456789 .,:;x-LlmCF/{}[]\"'#&*!|>%@abc\t", min_size=1, max_size=14)


@given(_KEYS, _GARBLED)
def test_whatever_is_suggested_with_certainty_leaves_no_stop_on_that_line(key: str, value: str) -> None:
    text = six_lines(f"{key}: {value}\n", **{key.replace("-", "_"): None})
    stops = [one for one in read(text)[1] if one.level == "stop"]
    for problem in stops:
        for way in problem.suggestions:
            assert way.span.line >= 1
            after = applied(text, way)
            if way.sure and len(stops) == 1:
                told = [(one.message, one.span) for one in read(after)[1]]
                assert (problem.message, problem.span) not in told
