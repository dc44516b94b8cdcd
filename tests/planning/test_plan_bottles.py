"""Losses and bottles by hand.

Lost: the larger of 0.4 L and 4 % with the yeast, 0.1 L of dead space, 0.1 L for each of three readings, 6.5
ml a gram of dry hops.  Only whole bottles are filled, in the order of the file.
"""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.commands.common import words_of

from .described import day, ids, plan_of, planned, six


@pytest.mark.parametrize(
    ("volume", "bottling_l", "halves", "thirds"),
    [
        ("3.8 L", 3.0, 6, 9),  # 0.4 + 0.4
        ("5 L", 4.2, 8, 12),
        ("10 L", 9.2, 18, 27),
        ("12 L", 11.12, 22, 33),  # 0.48 + 0.4
        ("20 L", 18.8, 37, 56),
        ("25 L", 23.6, 47, 71),
        ("60 L", 57.2, 114, 173),  # 2.4 + 0.4
    ],
)
def test_what_is_left_to_bottle(volume: str, bottling_l: float, halves: int, thirds: int):
    plan = plan_of(six(volume=volume, bottles="200 x 500 ml pet"))
    assert plan.quantities.bottling_l == pytest.approx(bottling_l)
    assert plan.bottles.filled == halves
    assert plan_of(six(volume=volume, bottles="200 x 330 ml pet")).bottles.filled == thirds


def test_dry_hops_drink_beer():
    # 12 L, 35 g: 0.88 + 35 x 0.0065 = 1.1075
    assert plan_of(six(recipe="slipway-nine-pale")).quantities.loss_l == pytest.approx(1.1075)


def test_every_further_reading_takes_a_bottle_glass():
    readings = [{"on": f"2027-03-{n}", "sg": "1.012 at 20 C"} for n in (13, 14, 15, 16)]
    plan = plan_of(six(actual={"brewed": "2027-03-06", "readings": readings}), day("3-16"))
    assert plan.quantities.loss_l == pytest.approx(0.48 + 0.1 + 0.5)  # four, and brew day's


@pytest.mark.parametrize(
    ("volume", "litres"),
    [
        ("24 x 500 ml", 13.0),  # 0.96 V = 12.4, 12.92
        ("6 x 500 ml", 3.8),  # V - 0.8 = 3
        ("40 x 330 ml", 14.2),  # 0.96 V = 13.6, 14.17
        ("100 x 500 ml", 52.5),  # 0.96 V = 50.4
    ],
)
def test_a_number_of_bottles_is_solved_back(volume: str, litres: float):
    plan = plan_of(six(volume=volume, bottles="200 x 500 ml pet, 200 x 330 ml pet"))
    assert plan.quantities.litres == litres


@settings(max_examples=60, deadline=None)
@given(
    st.integers(4, 120),
    st.sampled_from([250, 330, 500, 750]),
    st.sampled_from(["copper-lane-amber", "slipway-nine-pale"]),
)
def test_that_many_bottles_really_get_full(count: int, ml: int, recipe: str):
    plan, _ = planned(six(recipe=recipe, volume=f"{count} x {ml} ml", bottles=f"500 x {ml} ml pet"))
    if plan is None:  # too little for a pot and a bucket, or too much
        return
    assert count <= plan.bottles.filled
    assert plan.quantities.bottling_l - count * ml / 1000 < 0.1 + 1e-9


def test_what_was_brewed_does_not_grow_with_the_readings():
    readings = [{"on": f"2027-03-{n}", "sg": "1.012 at 20 C"} for n in (13, 14, 15, 16)]
    tree = six(volume="24 x 500 ml", actual={"brewed": "2027-03-06", "readings": readings})
    plan = plan_of(tree, day("3-16"))
    assert plan.quantities.litres == 13.0
    assert plan.bottles.filled == 23  # 13.0 - 0.52 - 0.1 - 0.5 = 11.88: two samples more than planned


@pytest.mark.parametrize(
    ("bottles", "fill", "numbers"),
    [
        ("6 x 1 L pet, 18 x 500 ml pet", [6, 10], [(1, 6), (7, 16)]),  # 11.12: 6 L, then 5.12
        ("18 x 500 ml pet, 6 x 1 L pet", [18, 2], [(1, 18), (19, 20)]),  # 9 L, then 2.12
        ("2 x 2 L pet, 4 x 1 L pet, 9 x 330 ml pet", [2, 4, 9], [(1, 2), (3, 6), (7, 15)]),  # 4 + 4 + 2.97
        ("40 x 500 ml pet, 6 x 1 L pet", [22, 0], [(1, 22), (0, 0)]),
    ],
)
def test_several_sizes_in_their_order(bottles: str, fill: list[int], numbers: list[tuple[int, int]]):
    rows = plan_of(six(bottles=bottles)).bottles.rows
    assert [row.fill for row in rows] == fill
    assert [row.numbers for row in rows] == numbers


def test_the_rest_caps_and_labels():
    plan = plan_of(six(bottles="26 x 500 ml returnable glass")).bottles
    assert plan.filled == 22
    assert plan.last_ml == 120  # 11.12 - 11
    assert plan.spares == 2  # 5 % of 22 is 1.1
    assert plan.crown_caps == 25  # 22 x 1.1 = 24.2
    assert plan.labels == 24
    assert (plan.rows[0].need, plan.rows[0].short) == (24, 0)
    assert plan.prepare_l == pytest.approx(11.22)  # nothing left but sediment and samples


@pytest.mark.parametrize(
    ("volume", "spares"), [("10 L", 1), ("12 L", 2), ("60 L", 2)]
)  # 18, 22 and 114 bottles
def test_one_or_two_bottles_to_spare(volume: str, spares: int):
    assert plan_of(six(volume=volume, bottles="200 x 500 ml pet")).bottles.spares == spares


def test_bottles_are_prepared_for_what_may_run_out_of_the_tap():
    # 12 L, 35 g of dry hops: 10.89 L to fill, 21 bottles; 10.89 + 0.1 + 35 x 0.0065 = 11.22 L, 22 bottles
    plan = plan_of(six(recipe="slipway-nine-pale", bottles="40 x 500 ml returnable glass")).bottles
    assert (plan.filled, plan.rows[0].need, plan.spares, plan.labels) == (21, 24, 2, 23)
    assert plan.crown_caps == 24  # 21 x 1.1 = 23.1; and one for each


@pytest.mark.parametrize(
    ("bottles", "needs", "shorts"),
    [
        ("22 x 500 ml pet, 6 x 1 L pet", [22, 2], [0, 0]),  # the spare ones are among the free ones
        ("23 x 500 ml pet, 1 x 1 L pet", [23, 1], [0, 0]),
        ("22 x 500 ml pet", [24], [2]),
        ("20 x 500 ml pet", [25], [5]),  # 20, 3 more, 2 to spare
    ],
)
def test_spare_bottles_are_looked_for_before_they_are_missing(
    bottles: str, needs: list[int], shorts: list[int]
):
    rows = plan_of(six(bottles=bottles)).bottles.rows
    assert ([row.need for row in rows], [row.short for row in rows]) == (needs, shorts)


def test_plastic_bottles_need_no_caps_and_the_first_is_for_testing():
    plan = plan_of(six(bottles="10 x 500 ml returnable glass, 20 x 500 ml pet")).bottles
    assert plan.crown_caps == 11  # 10 x 1.1
    assert plan.test_bottle == 11


def few(bottles: str) -> list[str]:
    """The warning of too few bottles as it is printed, with its way out."""
    words = words_of("en-GB", "metric")
    _, problems = planned(six(bottles=bottles))
    found = [one for one in problems.of("warn") if getattr(one.message, "id", "").startswith("warn.few")]
    return [" ".join(f"{words.say(one.message)}: {words.say(one.fix)}".split()) for one in found]


@pytest.mark.parametrize(
    ("bottles", "sentence"),
    [
        (  # 9.9 of 11.12: 1.22 L, 3.7 bottles
            "30 x 330 ml pet",
            (
                "30 bottles of 330 ml hold 9.9 L, but about 11 L will be ready to bottle: "
                "collect 4 more of 330 ml, or 1 of 1.5 L plastic (PET), plus 2 spare, by Sat 20 Mar"
            ),
        ),
        (  # 10 of 11.12
            "20 x 500 ml returnable glass",
            (
                "20 bottles of 500 ml hold 10 L, but about 11 L will be ready to bottle: "
                "collect 3 more of 500 ml, or 1 of 1.5 L plastic (PET), plus 2 spare, by Sat 20 Mar"
            ),
        ),
        (  # 8 of 11.12: 3.12 L
            "2 x 1 L pet, 12 x 500 ml returnable glass",
            (
                "the bottles hold 8 L, but about 11 L will be ready to bottle: collect 7 more of 500 ml, "
                "or 4 of 1 L plastic (PET), or 3 of 1.5 L plastic (PET), plus 2 spare, by Sat 20 Mar"
            ),
        ),
        (  # 0.62 L
            "7 x 1.5 L pet",
            (
                "7 bottles of 1.5 L hold 10.5 L, but about 11 L will be ready to bottle: "
                "collect 1 more of 1.5 L plastic (PET), plus 1 spare, by Sat 20 Mar"
            ),
        ),
    ],
)
def test_too_few_bottles_is_a_warning_that_says_what_would_hold_it(bottles: str, sentence: str):
    """The bottles to collect and the spare ones are together what the table calls short."""
    assert few(bottles) == [sentence]
    more, spare = re.findall(r"(?<=collect )\d+(?= more)|(?<=plus )\d+(?= spare)", sentence)
    short = sum(row.short for row in plan_of(six(bottles=bottles)).bottles.rows)
    assert int(more) + int(spare) == short


@pytest.mark.parametrize(
    "bottles",
    ["33 x 330 ml pet", "20 x 500 ml pet, 4 x 1.5 L pet", "20 x 500 ml pet, 2 x 1 L returnable glass"],
)
def test_less_than_a_bottle_or_a_free_plastic_one_is_no_shortage(bottles: str):
    assert few(bottles) == []


def test_every_way_to_hold_the_rest_is_exact():
    ways = plan_of(six(bottles="2 x 1 L pet, 12 x 500 ml returnable glass")).bottles.more_ways
    assert [(way.count, way.ml, way.kind, way.at_hand) for way in ways] == [
        (7, 500, "returnable glass", True),
        (4, 1000, "pet", True),
        (10, 330, "pet", False),
        (7, 500, "pet", False),
        (5, 750, "pet", False),
        (3, 1500, "pet", False),
    ]


def test_fewer_bottles_than_asked_are_said():
    tree = six(volume="24 x 500 ml", actual={"brewed": "2027-03-06", "litres": "12"})
    _, problems = planned(tree, day("3-8"))
    [found] = [one.message for one in problems if getattr(one.message, "id", "") == "warn.fewer-than-asked"]
    assert found.values == {"n": 24, "ml": 500.0, "litres": pytest.approx(11.12), "full": 22}
    assert "warn.fewer-than-asked" not in ids(planned(six(volume="24 x 500 ml"))[1], "warn")


def test_what_was_really_filled_stands():
    bottled = {"on": "2027-03-27", "litres": "11.0", "bottles": {"500 ml": "20", "1 L": "1"}}
    readings = [{"on": "2027-03-17", "sg": "1.012 at 20 C"}, {"on": "2027-03-20", "sg": "1.012 at 20 C"}]
    tree = six(
        bottles="6 x 1 L pet, 24 x 500 ml returnable glass",
        actual={"brewed": "2027-03-06", "readings": readings, "bottled": bottled},
    )
    plan = plan_of(tree, date(2027, 3, 27))
    assert [row.fill for row in plan.bottles.rows] == [1, 20]
    assert (plan.bottles.labels, plan.bottles.spares) == (21, 0)
    assert plan.safety is None
