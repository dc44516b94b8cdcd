"""How much yeast: by litres and strength, by its date and whether it was open; in whole sachets if near."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import yeast
from sheetgen.planning.as_json import as_json
from sheetgen.problems import Said

from .described import FEBRUARY, RECIPES, ids, plan_of, planned, read, six


def found(tree: dict[str, Any]) -> tuple[float, int, float, float]:
    """Grams, sachets, and the usual range."""
    one = plan_of(tree).quantities
    return one.yeast_grams, one.yeast_packs, one.yeast_low_g, one.yeast_high_g


# 12 L of ale: 0.5 to 0.8 g/L is 6 to 9.6 g, and a sachet of 11 g is within a quarter of 9.6
@pytest.mark.parametrize(
    ("state", "expected"),
    [
        ({}, (11, 1, 6, 9.6)),
        ({"expired": "2027-03"}, (11, 1, 6, 9.6)),  # good until the end of the month of brewing
        ({"expired": "2027-03-06"}, (11, 1, 6, 9.6)),  # and on its last day
        ({"expired": "2027-03-05"}, (11, 1, 9, 14)),  # x 1.5: 14.4 g, a sachet is within a quarter
        ({"expired": "2026-12"}, (11, 1, 9, 14)),
        ({"expired": "2026-03-06"}, (11, 1, 9, 14)),  # 365 days
        ({"expired": "2026-03-05"}, (11, 1, 6, 9.6)),  # over a year: bought fresh
        ({"opened": "yes"}, (22, 2, 12, 19)),  # x 2: 19.2 g, two sachets are within a quarter
        ({"opened": "no"}, (11, 1, 6, 9.6)),
        ({"opened": "yes", "expired": "2026-12"}, (33, 3, 18, 29)),  # x 3: 28.8 g
        ({"opened": "yes", "expired": "2020-12"}, (11, 1, 6, 9.6)),
    ],
)
def test_old_and_opened_yeast_is_needed_in_greater_amounts(
    state: dict[str, str], expected: tuple[float, ...]
):
    assert found(six(yeast=state) if state else six()) == expected


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ({"expired": "2027-12"}, []),
        ({"expired": "2026-12"}, ["warn.yeast-past"]),
        ({"opened": "yes"}, ["warn.yeast-opened"]),
        ({"opened": "yes", "expired": "2026-12"}, ["warn.yeast-past-and-opened"]),
        ({"opened": "yes", "expired": "2025-12"}, ["warn.yeast-too-old"]),
    ],
)
def test_yeast_that_is_not_fresh_is_said(state: dict[str, str], said: list[str]):
    assert [name for name in ids(planned(six(yeast=state))[1], "warn") if "yeast" in name] == said


def test_one_number_where_both_ends_of_the_usual_are_one(tmp_path: Path):
    strong = (RECIPES / "copper-lane-amber.yaml").read_text(encoding="utf-8").replace("12 L", "6 L")
    (tmp_path / "strong.yaml").write_text(strong, encoding="utf-8")
    tree = six(recipe="strong", volume="12 L", yeast={"expired": "2026-12"})
    [message] = [
        p.message
        for p in planned(tree, beside=tmp_path)[1]
        if isinstance(p.message, Said) and p.message.id.startswith("warn.yeast")
    ]
    assert (message.id, dict(message.values)) == ("warn.yeast-past-one", {"grams": 18})  # 12 x 1.0 x 1.5


def test_nothing_is_said_of_it_once_it_is_in():
    tree = six(yeast={"opened": "yes"}, actual={"brewed": "2027-02-19"})
    assert not [name for name in ids(planned(tree)[1], "warn") if "yeast" in name]


def test_the_shopping_list_follows():
    [line] = [
        one
        for one in plan_of(six(yeast={"opened": "yes", "expired": "2026-12"})).lists.buy
        if one.said.id == "buy.yeast"
    ]
    assert line.amount.value == 4  # three to use, one to spare
    assert (line.note.id, dict(line.note.values)) == ("buy.yeast.note-weak", {"packs": 3, "fresh": 1})


def test_the_day_counts_on_which_it_goes_in():
    late = six(yeast={"expired": "2027-03-06"}, actual={"brewed": "2027-03-06", "pitched": "2027-03-07"})
    assert plan_of(late, date(2027, 3, 7)).quantities.yeast_factor == 1.5


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("12/2026", "write 2026-12"),
        ("2026-13", "there is no month 13"),
        ("soon", "is not a day"),
        ("1926-12", "too far away"),
    ],
)
def test_a_date_that_cannot_be_read(written: str, message: str):
    batch, problems = read(six(yeast={"expired": written}))
    assert batch is None
    assert message in " ".join(f"{one.message} {one.fix}" for one in problems)


def test_a_batch_does_not_choose_another_yeast():
    batch, problems = read(six(yeast={"what": "dry lager yeast"}))
    assert batch is None
    assert any("takes the yeast of its recipe" in str(one.message) for one in problems)


def test_the_json_has_what_is_usual():
    mapping = as_json(plan_of(six(yeast={"opened": "yes"})), lambda sentence: sentence.id)["quantities"]
    assert [mapping[f"yeast_{name}"] for name in ("low_g", "high_g", "factor")] == [12, 19, 2]


KIND = """\
recipe-name: Own
drink: {drink}
volume: 10 L
ingredients: [{{what: apple juice, amount: 10 L, when: into the vessel}}]
yeast: {{what: dry yeast, pack: 5 g, range: 12-25 C{kind}}}
"""


@pytest.mark.parametrize(
    ("drink", "kind", "high"),
    [
        ("cider", "", 4),
        ("mead", "", 4),
        ("ale", "", 8),
        ("cider", ", kind: ale", 8),
        ("ale", ", kind: lager", 16),
    ],
)
def test_drinks_that_ferment_out_take_wine_yeast(tmp_path: Path, drink: str, kind: str, high: float):
    (tmp_path / "own.yaml").write_text(KIND.format(drink=drink, kind=kind), encoding="utf-8")
    plan = plan_of(six(recipe="own", volume="10 L"), FEBRUARY, tmp_path)
    assert plan.quantities.yeast_high_g == high


@given(
    litres=st.floats(1, 100),
    original=st.floats(1.0, 1.13),
    kind=st.sampled_from(["ale", "lager", "wine"]),
    sachet=st.floats(0.5, 1000),
    factor=st.sampled_from([1.0, 1.5, 2.0, 3.0]),
)
def test_sachets_hold_what_is_used_and_come_near_what_is_wanted(
    litres: float, original: float, kind: Any, sachet: float, factor: float
):
    low, high = yeast.grams(litres, original, kind)
    assert 0 < low <= high
    packs = yeast.sachets(high * factor, sachet)
    assert packs.open * sachet >= packs.grams - 1e-6
    assert abs(packs.grams - high * factor) <= 0.25 * high * factor + 1e-6
