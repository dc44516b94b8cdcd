"""What labels may say, and the lists for the shop: dates by hand, allergens, what to buy."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from .described import day, example, ids, plan_of, planned, six

READY = [{"on": "2027-03-17", "sg": "1.012 at 20 C"}, {"on": "2027-03-20", "sg": "1.012 at 20 C"}]


def test_before_bottling_a_label_is_a_plan_with_fourteen_other_days():
    labels = plan_of(six()).labels  # filled on day 14, Saturday 20 March, and 14 days of fizz
    assert (labels.filled_is, labels.filled, labels.not_before) == ("planned", day("3-20"), day("4-3"))
    assert labels.fill_choices[0] == (day("3-20"), day("4-3"))
    assert labels.fill_choices[-1] == (day("4-2"), day("4-16"))
    assert len(labels.fill_choices) == 14


def test_after_bottling_it_counts_from_the_day_itself():
    actual = {"brewed": "2027-03-06", "readings": READY, "bottled": {"on": "2027-03-25"}}
    labels = plan_of(six(actual=actual), day("3-25")).labels
    assert (labels.filled_is, labels.filled, labels.not_before) == ("actual", day("3-25"), day("4-8"))


def test_what_follows_filling():
    plan = plan_of(six(bottles="40 x 500 ml pet"))  # filled on Saturday 20 March
    assert plan.task("squeeze").when.expected == day("3-24")  # day 4
    assert plan.task("test-bottle").when.expected == day("3-27")  # day 7
    assert plan.task("move-to-cool").when.expected == day("4-3")  # 14 days of fizz at 20 C
    assert plan.task("drink-from").when.expected == plan.labels.not_before
    assert plan.task("best-from").when.expected == plan.labels.best_from
    assert plan.task("best-before").when.expected == plan.labels.best_before


@pytest.mark.parametrize(
    ("storing", "bottles", "days"),
    [
        ("12 C", "40 x 500 ml returnable glass", 182),  # six months of 30.4 days: 182.4
        ("20 C", "40 x 500 ml returnable glass", 182),
        ("24.9 C", "40 x 500 ml returnable glass", 93),  # 182.4 x 0.51
        ("25 C", "40 x 500 ml returnable glass", 91),  # half
        ("8 C", "40 x 500 ml returnable glass", 274),  # half as long again: 273.6
        ("10 C", "40 x 500 ml returnable glass", 228),  # half way between 12 and 8 C: 182.4 x 1.25
        ("29 C", "40 x 500 ml returnable glass", 73),  # from half at 25 C to a quarter at 35 C: 182.4 x 0.4
        ("12 C", "40 x 500 ml pet", 122),  # plastic: four months at most, 121.6
        ("4 C", "40 x 500 ml pet", 122),
        ("25 C", "40 x 500 ml pet", 61),  # two months in the warmth
        ("12 C", ["9 x 500 ml pet", "40 x 500 ml returnable glass"], 182),  # glass keeps what is in glass
    ],
)
def test_best_before_follows_the_store(storing: str, bottles: str | list[str], days: int):
    room = {"fermenting": "20 C", "warm-place": "20 C", "storing": storing}
    labels = plan_of(six(room=room, bottles=bottles)).labels
    assert labels.best_before - labels.filled == timedelta(days=days)
    assert labels.best_from - labels.filled == timedelta(days=21)  # three weeks, whatever the store


@pytest.mark.parametrize(
    ("recipe", "allergens"),
    [
        ("copper-lane-amber", ("barley",)),
        ("ferry-steps-wheat", ("barley", "wheat")),
        ("plot-eleven-cider", ()),
    ],
)
def test_allergens_of_the_recipe(recipe: str, allergens: tuple[str, ...]):
    labels = plan_of(six(recipe=recipe)).labels
    assert (labels.allergens, labels.allergens_known) == (allergens, True)


@pytest.mark.parametrize(
    ("what", "amount", "allergens", "known"),
    [
        ("lactose", "200 g", ("barley", "milk"), True),
        ("wine tannin", "2 g", ("barley",), False),
        ("dragon fruit", "1 kg", ("barley",), False),
    ],
)
def test_what_was_added_counts_for_allergens(what: str, amount: str, allergens: Any, known: bool):
    added = [{"on": "2027-03-08", "what": what, "amount": amount}]
    labels = plan_of(six(actual={"brewed": "2027-03-06", "added": added}), day("3-9")).labels
    assert (labels.allergens, labels.allergens_known) == (allergens, known)


def lines(plan: Any) -> dict[str, tuple[float, str]]:
    return {
        str(line.said.values.get("name", line.said.id)): (line.amount.value, line.amount.unit)
        for line in plan.lists.buy
    }


def test_the_shopping_list():
    plan = plan_of(example("27b"))
    found = lines(plan)
    assert found["aroma hops"] == (50, "g")  # 15 g into the boil, 35 g into the vessel: one pack of 50 g
    assert found["pale dry malt extract"] == (1500, "g")
    assert found["dry ale yeast"] == (2, "piece")  # one, and one to spare
    assert found["buy.priming"] == (75, "g")  # 10.89 L x 6.09 g/L = 66 g, and a tenth: 72.6, to the next 5 g
    assert found["buy.caps"] == (11, "piece")  # nine crown-cap bottles, perhaps ten, and one to spare
    assert {line.by for line in plan.lists.buy} == {day("3-3")}


def test_bottles_that_are_missing_are_on_the_list():
    plan = plan_of(six(bottles="20 x 500 ml pet"))  # 11.12 L: 3 more, and 2 to spare
    [line] = [line for line in plan.lists.buy if line.said.id == "buy.bottles"]
    assert line.amount.value == 5
    assert line.by == plan.task("bottle").when.expected


@pytest.mark.parametrize(("volume", "warned"), [("14.9 L", False), ("15 L", True)])
def test_a_full_vessel_is_heavy(volume: str, warned: bool):
    assert ("note.heavy" in ids(planned(six(volume=volume))[1], "note")) == warned


def test_cold_water_is_put_away_the_evening_before():
    plan = plan_of(six())
    [line] = [line for line in plan.lists.evening_before if line.said.id == "evening.fridge-water"]
    assert (line.by, line.amount.value) == (day("3-5"), plan.quantities.water.fridge_l)
