"""What is found stands where the file says it: at the value, the name of a part, or the reading."""

from __future__ import annotations

from datetime import date

import pytest

from sheetgen.planning import plan_batch
from sheetgen.problems import Problem, Said

from .described import FEBRUARY, read

BLOCK = """\
batch: 27A
recipe: copper-lane-amber
brew-day: 2027-03-06
volume: 12 L
room: {fermenting: 20 C}
bottles:
  - 2 x 500 ml pet
equipment:
  pot: 4 L
  vessel:
    name: tub
    holds: 13 L
"""
FLOW = BLOCK[: BLOCK.index("equipment")] + "equipment: {pot: 4 L,\n  vessel: {holds: 13 L}}\n"
READINGS = """\
actual:
  brewed: 2027-03-06
  readings:
    - {on: 2027-03-25, sg: 1.015 at 19 C}
    - {on: 2027-03-17, sg: 1.015}
    - {on: 2027-03-21, sg: 1.015 at 19 C}
"""


def marked(text: str, sentence: str, today: date = FEBRUARY) -> str:
    """The characters that the carets of this finding stand under."""
    batch, problems = read(text, today)
    assert batch is not None, list(problems)
    plan_batch(batch, today, problems)
    found: list[Problem] = [
        each for each in problems if isinstance(each.message, Said) and each.message.id == sentence
    ]
    assert len(found) == 1, [each.message for each in problems]
    span = found[0].span
    assert span is not None
    return text.splitlines()[span.line - 1][span.column - 1 :][: span.length]


@pytest.mark.parametrize(
    ("text", "sentence", "expected"),
    [
        (BLOCK, "note.coarse-scales", "equipment"),
        (FLOW, "note.coarse-scales", "equipment"),
        (BLOCK, "warn.few-bottles-of", "bottles"),
    ],
)
def test_a_part_on_lines_of_its_own_is_marked_by_its_name(text: str, sentence: str, expected: str):
    assert marked(text, sentence) == expected


@pytest.mark.parametrize("text", [BLOCK, FLOW])
def test_where_one_value_decides_it_is_that_value(text: str):
    assert marked(text, "stop.vessel") == "13 L"


def test_a_reading_is_marked_wherever_its_line_stands_among_the_others():
    text = BLOCK.replace("13 L", "15 L") + READINGS
    today = date(2027, 3, 26)
    assert marked(text, "warn.with-care", today) == "{on: 2027-03-25, sg: 1.015 at 19 C}"
    assert marked(text, "warn.reading-celsius", today) == "{on: 2027-03-17, sg: 1.015}"
