"""One shopping list for a season: whole packs by date, rests of packs while they keep, closures over time."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetgen.planning.plan import Line
from sheetgen.planning.season_plan import SeasonPlan

from .seasons import GLASS, RESTS, batch, plan_of, planned, season, with_rests

HOPS = "own hops"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "rests.yaml").write_text(RESTS, encoding="utf-8")
    return tmp_path


def of(plan: SeasonPlan, name: str) -> list[Line]:
    """The lines about one thing, trip by trip."""
    lines = [line for trip in plan.shopping for line in trip.lines]
    return [line for line in lines if name in (line.said.values.get("name"), line.said.id)]


def notes(lines: list[Line]) -> list[str]:
    return [line.note.id if line.note else "" for line in lines]


def amounts(lines: list[Line]) -> list[float | None]:
    return [line.amount.value if line.amount else None for line in lines]


def test_a_trip_is_three_days_before_brewing(folder: Path):
    plan = plan_of(with_rests("2028-02-05", "2028-03-04"), folder)
    assert [(trip.by, trip.codes) for trip in plan.shopping] == [
        (date(2028, 2, 2), ("28A",)),
        (date(2028, 3, 1), ("28B",)),
    ]


def test_what_is_left_goes_into_a_later_batch(folder: Path):
    """20 g each of packs of 50 g: the second batch needs none, the third 10 g more than there are."""
    lines = of(plan_of(with_rests("2028-02-05", "2028-02-19", "2028-03-04"), folder), HOPS)
    assert notes(lines) == ["buy.left-over-g", "buy.left-enough-g", "buy.after-left-g"]
    assert amounts(lines) == [20, None, 20]
    assert lines[2].note
    assert lines[2].note.values["used"] == 10


def test_what_does_not_keep_so_long_is_bought_again(folder: Path):
    """Isinglass keeps 60 days once opened, hops 180, vanilla a year."""
    plan = plan_of(with_rests("2028-02-05", "2028-04-08"), folder)
    assert notes(of(plan, "isinglass")) == ["buy.left-over-ml", "buy.left-over-ml"]
    assert notes(of(plan, HOPS)) == ["buy.left-over-g", "buy.left-enough-g"]


@pytest.mark.parametrize(("days", "note"), [(55, "buy.after-left-ml"), (56, "buy.left-over-ml")])
def test_the_day_on_which_it_goes_in_counts(folder: Path, days: int, note: str):
    """It goes in on day 5, the sixtieth after it was opened at the latest."""
    later = date(2028, 2, 5) + timedelta(days=days)
    plan = plan_of(with_rests("2028-02-05", later.isoformat()), folder)
    assert notes(of(plan, "isinglass"))[1] == note


def test_another_hop_is_another_thing(folder: Path):
    other = RESTS.replace(HOPS, "other hops")
    (folder / "others.yaml").write_text(other, encoding="utf-8")
    tree = season(batch("28A", "2028-02-05", recipe="rests"), batch("28B", "2028-02-19", recipe="others"))
    assert notes(of(plan_of(tree, folder), "other hops")) == ["buy.left-over-g"]


def test_two_batches_of_one_day_are_bought_for_together(folder: Path):
    plan = plan_of(with_rests("2028-02-05", "2028-02-05", two_on_a_day="yes"), folder)
    (trip,) = plan.shopping
    assert trip.codes == ("28A", "28B")
    assert amounts(of(plan, HOPS)) == [40]
    (yeast,) = of(plan, "dry ale yeast")
    assert amounts([yeast]) == [sum(one.quantities.yeast_packs for one in plan.batches) + 1]


@pytest.mark.parametrize(("second", "trips"), [("2028-02-09", 1), ("2028-02-10", 2)])
def test_one_trip_is_enough_for_batches_of_a_few_days(folder: Path, second: str, trips: int):
    plan = plan_of(with_rests("2028-02-05", second), folder)
    assert len(plan.shopping) == trips
    assert plan.shopping[0].by == date(2028, 2, 2)


def test_the_spare_sachet_stays_for_the_next_batch(folder: Path):
    lines = of(plan_of(with_rests("2028-02-05", "2028-02-19"), folder), "dry ale yeast")
    assert amounts(lines) == [2, 1]
    assert notes(lines) == ["buy.yeast.note", "buy.yeast.note-spare"]


def test_what_was_brewed_is_not_bought_again(folder: Path):
    tree = with_rests("2028-01-08", "2028-02-05")
    tree["batches"][0]["actual"] = {"brewed": "2028-01-08"}
    assert [trip.codes for trip in plan_of(tree, folder).shopping] == [("28B",)]


def test_only_the_caps_that_are_lacking_are_bought(folder: Path):
    days = ("2028-02-05", "2028-03-04", "2028-04-01")
    plan = plan_of(with_rests(*days, stock={GLASS: 90, "caps": 25}), folder)
    needs = [use.need for use in plan.caps]
    assert amounts(of(plan, "buy.caps")) == [needs[0] + needs[1] - 25, needs[2]]


def test_without_a_count_every_batch_buys_its_caps(folder: Path):
    plan = plan_of(with_rests("2028-02-05", "2028-03-04"), folder)
    assert amounts(of(plan, "buy.caps")) == [one.bottles.crown_caps for one in plan.batches]


def test_corks_are_counted_over_time_like_caps(tmp_path: Path):
    wine = [batch(f"28{x}", day, recipe="plot-eleven-bramble") for x, day in zip(
        "AB", ("2028-02-05", "2028-02-12"), strict=True)]  # fmt: skip
    tree = season(*wine, stock={"750 ml wine bottle": 40, "corks": 15})
    plan, problems, _ = planned(tree, tmp_path)
    assert plan
    needs = [one.bottles.corks for one in plan.batches]
    assert [use.left for use in plan.corks] == [15 - needs[0], 15 - sum(needs)]
    assert any("warn.corks" in str(one.message) for one in problems)
    assert sum(value or 0 for value in amounts(of(plan, "buy.corks"))) == sum(needs) - 15


def bottles_bought(plan: SeasonPlan) -> dict[str, float]:
    """Bottles to buy for each batch, where every trip is for one."""
    return {
        trip.codes[0]: line.amount.value
        for trip in plan.shopping
        for line in trip.lines
        if line.said.id == "buy.bottles" and line.amount
    }


def test_bottles_that_were_bought_once_come_back(tmp_path: Path):
    """Worked out by hand.  Of 8 L 7.2 come to the bottles: 14 of half a litre get full, 15 if less is lost,
    and one is to spare: 16 are wanted, 10 are there, so 6 are bought for 28A.  All 14 are drunk in a
    fortnight at 7 a week, long before 28B is bottled: then 16 stand there, and none is bought again.
    """
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-06-10"), stock={GLASS: 10}, drunk="7 a week")
    plan = plan_of(tree, tmp_path)
    assert [one.bottles.rows[0].need for one in plan.batches] == [16, 16]
    assert [one.bottles.rows[0].have for one in plan.batches] == [10, 10]
    assert bottles_bought(plan) == {"28A": 6}


def test_those_that_are_still_full_are_bought(tmp_path: Path):
    """28B is bottled 21 days after 28A, of which one a day is drunk from the day on its label on."""
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-02-26"), stock={GLASS: 10}, drunk="7 a week")
    plan = plan_of(tree, tmp_path)
    first, second = plan.batches
    filled, empty = 14, 2
    days = (second.task("bottle").when.expected - first.labels.not_before).days
    back = min(filled, max(0, days))
    assert 0 < back < filled
    assert bottles_bought(plan) == {"28A": 6, "28B": 16 - empty - back}


def test_nothing_comes_back_where_nobody_drinks_or_a_bottle_is_for_one_use(tmp_path: Path):
    """Two that were bought for 28A stay empty: 14 are bought for 28B."""
    days = (batch("28A", "2028-02-05"), batch("28B", "2028-06-10"))
    assert bottles_bought(plan_of(season(*days, stock={GLASS: 10}), tmp_path)) == {"28A": 6, "28B": 14}
    once = season(*days, stock={"500 ml one-way glass": 10}, drunk="7 a week")
    assert bottles_bought(plan_of(once, tmp_path)) == {"28A": 6, "28B": 14}


def test_bottles_of_a_batchs_own_are_bought_by_itself(tmp_path: Path):
    own = batch("28A", "2028-02-05", bottles="10 x 330 ml returnable glass")
    plan = plan_of(season(own, stock={GLASS: 40}), tmp_path)
    assert bottles_bought(plan) == {"28A": sum(row.short for row in plan.batches[0].bottles.rows)}


GAPS = st.lists(st.integers(0, 90), min_size=1, max_size=5)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(GAPS)
def test_there_is_always_enough_and_nothing_too_old(folder: Path, gaps: list[int]):
    """Packs are opened and emptied by hand, what spoils first before the others."""
    day, days = date(2028, 1, 20), []
    for gap in gaps:
        day += timedelta(days=gap)
        days.append(day)
    tree: Any = with_rests(*(each.isoformat() for each in days), two_on_a_day="yes")
    plan = plan_of(tree, folder)
    things = ((HOPS, 20.0, 50.0, 180), ("isinglass", 30.0, 50.0, 55), ("vanilla pod", 2.0, 5.0, 360))
    for name, each, pack, keeps in things:
        assert packs_told(plan, name) == packs_by_hand(days, each, pack, keeps)


def packs_told(plan: SeasonPlan, name: str) -> list[int]:
    found = []
    for line in of(plan, name):
        values = dict(line.note.values) if line.note else {}
        inner = values.get("packs")
        number = dict(inner[0].values)["packs"] if isinstance(inner, tuple) else values.get("packs", 0)
        found.append(int(str(number)))
    return found


def packs_by_hand(days: list[date], each: float, pack: float, keeps: int) -> list[int]:
    at_home: list[list[Any]] = []
    found = []
    for trip in trips_of(days):
        wanted, bought, day = each * len(trip), 0, trip[-1]
        at_home = [[left, until] for left, until in at_home if day <= until and left > 0]
        for rest in sorted(at_home, key=lambda one: one[1]):
            part = min(rest[0], wanted)
            rest[0] -= part
            wanted -= part
        while wanted > 0:
            bought += 1
            part = min(pack, wanted)
            wanted -= part
            at_home.append([pack - part, trip[0] + timedelta(days=keeps)])
        found.append(bought)
    return found


def trips_of(days: list[date]) -> list[list[date]]:
    """Brew days that are at most four days after the first of their trip."""
    found: list[list[date]] = []
    for day in days:
        if found and day <= found[-1][0] + timedelta(days=4):
            found[-1].append(day)
        else:
            found.append([day])
    return found
