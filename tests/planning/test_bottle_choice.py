"""Which bottles are filled: the choice against every choice there is, counted out; the odd bottle by hand."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sheetgen.planning.bottle_choice import in_order, least_over
from sheetgen.planning.plan import BottleRow

from .described import plan_of, planned, six

Bottles = list[tuple[int, int]]
"""Size in ml and number of each row."""

SIZES = st.sampled_from([100, 187, 250, 330, 333, 355, 473, 500, 568, 640, 650, 750, 1000, 1500, 2000])
INVENTORY = st.lists(st.tuples(SIZES, st.integers(0, 4)), min_size=1, max_size=4)
LITRES = st.integers(0, 9000)


def every_choice(ml: int, bottles: Bottles) -> tuple[int, ...]:
    """The best of all choices: least left, then fewest bottles, then most of the first row."""
    choices = itertools.product(*(range(count + 1) for _, count in bottles))
    fitting = [(ml - held(choice, bottles), choice) for choice in choices if held(choice, bottles) <= ml]
    return min(fitting, key=lambda one: (one[0], sum(one[1]), [-number for number in one[1]]))[1]


def held(choice: tuple[int, ...] | list[int], bottles: Bottles) -> int:
    return sum(number * ml for number, (ml, _) in zip(choice, bottles, strict=True))


def chosen(way, ml: int, bottles: Bottles) -> list[int]:
    return way(ml, [size for size, _ in bottles], [count for _, count in bottles])


@settings(max_examples=2000, deadline=None)
@given(LITRES, INVENTORY)
def test_nothing_leaves_less_over(ml: int, bottles: Bottles):
    assert chosen(least_over, ml, bottles) == list(every_choice(ml, bottles))


@given(LITRES, st.integers(0, 3000), INVENTORY, st.sampled_from([in_order, least_over]))
def test_more_litres_never_hold_less(ml: int, more: int, bottles: Bottles, way):
    less, greater = chosen(way, ml, bottles), chosen(way, ml + more, bottles)
    assert held(less, bottles) <= held(greater, bottles)
    assert less[0] <= greater[0] or way is least_over


@given(LITRES, st.integers(0, 3000), INVENTORY)
def test_more_litres_never_fill_fewer_bottles_when_the_small_ones_stand_first(
    ml: int, more: int, bottles: Bottles
):
    small_first = sorted(bottles)
    assert sum(chosen(in_order, ml, small_first)) <= sum(chosen(in_order, ml + more, small_first))


@given(LITRES, INVENTORY, SIZES)
def test_another_bottle_never_leaves_more_over(ml: int, bottles: Bottles, size: int):
    more = [*bottles, (size, 1)]
    assert held(chosen(least_over, ml, bottles), bottles) <= held(chosen(least_over, ml, more), more)


def test_a_large_bottle_may_take_the_place_of_small_ones():
    assert in_order(990, [1000, 330], [1, 3]) == [0, 3]
    assert in_order(1000, [1000, 330], [1, 3]) == [1, 0]


@pytest.mark.parametrize(
    ("ml", "bottles", "fill"),
    [
        (11_120, [(330, 20), (500, 18), (1000, 6)], [14, 1, 6]),  # 4.62 + 0.5 + 6 L: nothing is left
        (1000, [(500, 2), (1000, 1)], [0, 1]),  # one bottle rather than two
        (1000, [(330, 3), (250, 4), (500, 2)], [0, 0, 2]),
        (1500, [(500, 3), (750, 2), (500, 1)], [0, 2, 0]),
        (1000, [(500, 1), (500, 1), (500, 1)], [1, 1, 0]),  # of the same, the first
        (99, [(100, 5)], [0]),
        (0, [(330, 5), (500, 5)], [0, 0]),
    ],
)
def test_the_least_over_by_hand(ml: int, bottles: Bottles, fill: list[int]):
    assert chosen(least_over, ml, bottles) == fill


@pytest.mark.parametrize(
    "bottles",
    [
        [
            (100, 9999),
            (110, 9999),
            (330, 9999),
            (500, 9999),
            (750, 9999),
            (1000, 9999),
            (1500, 9999),
            (2000, 9999),
        ],
        [(2 * n + 101, 2000) for n in range(30)],
        [(ml, 9999) for ml in (4993, 4994, 4995, 4996, 4997, 4998, 4999, 5000)],
        [(354.882355, 500), (650.61765, 500), (473.17647, 500)],
    ],
)
def test_absurd_inventories_end_soon(bottles: Bottles):
    for ml in (1_000, 99_999, 1_000_000):
        fill = chosen(least_over, ml, bottles)
        assert 0 <= ml - held(fill, bottles) <= ml


# --- in the plan


def test_the_batch_says_how_its_bottles_are_chosen():
    bottles = "6 x 1 L pet, 20 x 330 ml pet, 18 x 500 ml pet"  # 11.12 L
    ordered, least = (
        plan_of(six(bottles=bottles)).bottles,
        plan_of(six(bottles=bottles, fill="least-over")).bottles,
    )
    assert [row.fill for row in ordered.rows] == [6, 15, 0]
    assert [row.fill for row in least.rows] == [6, 14, 1]
    assert (ordered.last_ml, least.last_ml) == (170, 0)
    assert [row.numbers for row in least.rows] == [(1, 6), (7, 20), (21, 21)]
    assert (ordered.fill_by, least.fill_by) == ("in-order", "least-over")


@settings(max_examples=150, deadline=None)
@given(
    st.integers(20, 400),
    st.lists(st.tuples(SIZES, st.integers(1, 60)), min_size=1, max_size=5, unique_by=lambda row: row[0]),
    st.sampled_from(["in-order", "least-over"]),
)
@example(20, [(1500, 1), (100, 1)], "in-order")
def test_rows_always_add_up(decilitres: int, bottles: Bottles, fill: str):
    rows = ", ".join(f"{count} x {ml} ml {('pet', 'returnable glass')[ml % 3 > 0]}" for ml, count in bottles)
    batch = six(volume=f"{decilitres / 10} L", bottles=rows, fill=fill)
    plan, _ = planned(batch)
    if plan is None:  # too little for a pot and a bucket
        return
    found = plan.bottles
    filled = [row for row in found.rows if row.fill]
    assert all(0 <= row.fill <= row.have for row in found.rows)
    assert all(row.fill <= row.need and row.short == max(0, row.need - row.have) for row in found.rows)
    numbers = [n for row in filled for n in range(row.numbers[0], row.numbers[1] + 1)]
    assert numbers == list(range(1, found.filled + 1))
    left = round(plan.quantities.bottling_l * 1000, 3) - sum(row.fill * row.ml for row in found.rows)
    assert abs(left - found.more_needed * found.rows[-1].ml - found.last_ml) < 1
    assert (found.odd and found.odd.bottle_ml) == odd_by_hand(found.rows, math.floor(left + 1e-6))
    assert all((way.count - 1) * way.ml < left <= way.count * way.ml + 1 for way in found.more_ways)
    crowns = sum(row.need for row in found.rows if row.kind == "returnable glass")
    assert found.crown_caps >= crowns
    assert found.labels == found.numbered + 2
    assert sum(row.need for row in found.rows) >= found.numbered + found.more_needed + found.spares


def odd_by_hand(rows: tuple[BottleRow, ...], left: int) -> float | None:
    """The smallest free plastic bottle that takes what is left and is a third full with it."""
    free = [row.ml for row in rows if row.kind == "pet" and row.fill < row.have]
    return min((ml for ml in free if left <= ml <= 3 * left), default=None)


# --- the odd last bottle


@pytest.mark.parametrize(
    ("bottles", "last_ml", "odd"),
    [
        ("26 x 500 ml pet", 120, None),  # 11.12 - 11: less than a third of 500
        ("40 x 330 ml pet", 230, (230, 330, 1.4, 34)),  # 0.23 x 6.2 g/L = 1.42
        ("11 x 1 L returnable glass, 3 x 330 ml pet", 120, (120, 330, 0.7, 12)),  # a third of 330 is 110
        ("40 x 330 ml returnable glass", 230, None),  # glass is never part filled
        ("33 x 330 ml pet", 230, None),  # none is free
        # 370 ml: a third of 1.5 L is 500, so no free plastic bottle gets full enough
        ("10 x 1 L pet, 2 x 750 ml returnable glass, 4 x 1.5 L pet, 5 x 2 L pet", 370, None),
        # 11.12 - 7 x 1.5: a third of 1.5 L is 500, of 2 L 667; 0.62 x 6.2 g/L = 3.84
        ("10 x 1.5 L pet, 5 x 2 L pet", 620, (620, 1500, 3.8, 8)),
        # 11.12 - 3 x 3.5: a third of 3.5 L is 1167, of 1.5 L 500
        ("4 x 3.5 L pet, 2 x 750 ml returnable glass", 620, None),
        ("6 x 1.5 L pet, 2 x 1 L returnable glass", 120, None),
    ],
)
def test_what_is_left_over(bottles: str, last_ml: int, odd: tuple[float, float, float, int] | None):
    plan = plan_of(six(bottles=bottles))
    found = plan.bottles.odd
    assert plan.bottles.last_ml == last_ml
    assert (found and (found.ml, found.bottle_ml, found.grams, found.number)) == odd


def test_the_odd_bottle_is_numbered_labelled_prepared_and_opened_first():
    found = plan_of(six(bottles="40 x 330 ml pet")).bottles
    assert (found.filled, found.numbered, found.test_bottle, found.labels) == (33, 34, 34, 36)
    assert found.rows[0].need == 36  # 33 full, the odd one, two to spare


def test_sugar_that_is_in_the_drink_already_is_not_added_again():
    plan = plan_of(six(bottles="40 x 330 ml pet", dosing="in-bulk"))
    assert plan.bottles.odd is not None
    assert plan.bottles.odd.grams == 0
    notes = [step.note.id for step in plan.bottling_steps if step.note]
    assert "bottle-step.rest-plastic.mixed" in notes


@pytest.mark.parametrize(
    ("bottles", "step"),
    [
        ("26 x 500 ml pet", "bottle-step.rest-flat"),
        ("40 x 330 ml pet", "bottle-step.rest-plastic"),
        ("20 x 500 ml pet", "bottle-step.rest-waits"),
        ("10 x 1 L pet, 20 x 37 cl returnable glass", None),  # 10 ml
    ],
)
def test_the_bottling_sheet_says_what_becomes_of_the_rest(bottles: str, step: str | None):
    found = [one.said.id for one in plan_of(six(bottles=bottles)).bottling_steps]
    assert [one for one in found if one.startswith("bottle-step.rest")] == ([step] if step else [])


@settings(max_examples=100, deadline=None)
@given(st.integers(50, 300), st.integers(100, 2000), st.sampled_from(["weight", "teaspoons"]))
def test_the_odd_bottle_never_gets_more_than_its_litres_call_for(decilitres: int, ml: int, dosing: str):
    plan, _ = planned(six(volume=f"{decilitres / 10} L", bottles=f"500 x {ml} ml pet", dosing=dosing))
    odd = plan and plan.bottles.odd
    if plan is None or plan.carbonation is None or odd is None:
        return
    exact = plan.carbonation.g_per_litre * odd.ml / 1000
    assert exact - 0.1 < odd.grams <= exact
    assert odd.ml <= odd.bottle_ml
    assert 3 * odd.ml >= ml
