"""What is left of a sachet that was opened: named with how long it keeps, unless it is old already."""

from __future__ import annotations

from sheetgen.planning.plan import Line

from .described import day, plan_of, six


def left(**words: object) -> list[Line]:
    lines = plan_of(six(**words)).lists.left_overs
    return [line for line in lines if "yeast" in str(line.said.values["name"])]


def test_the_rest_of_a_sachet_keeps_a_week_from_the_day_it_was_opened():
    # 6 L at 1.0425: 0.8 g/L, 4.8 of the 11 g of a sachet
    [line] = left(volume="6 L")
    assert line.amount is not None
    assert (line.amount.value, line.amount.unit) == (6.2, "g")
    assert line.by == day("3-13")
    assert line.note is not None
    assert line.note.id == "left.yeast"
    assert plan_of(six(volume="6 L")).quantities.yeast_left_g == 6.2


def test_a_whole_sachet_leaves_nothing():
    assert left(volume="12 L") == []  # 9.6 g: the whole sachet


def test_yeast_that_is_not_fresh_is_not_kept_again():
    assert left(volume="5 L", yeast={"opened": "yes"}) == []
    assert left(volume="5 L", yeast={"expired": "2026-12"}) == []
