"""A season: vessels, days, bottles, caps and the warm place that several batches share."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import combinations
from pathlib import Path

import pytest

from sheetgen.planning.season_plan import Lane, SeasonPlan
from sheetgen.problems import Problem, Problems, Said

from .seasons import BLUE, GLASS, IN_BLUE, WHITE, batch, plan_of, planned, season


def ids(problems: Problems, level: str) -> list[str]:
    return [one.message.id for one in problems if one.level == level and isinstance(one.message, Said)]


def found(problems: Problems, sentence: str) -> Problem:
    return next(one for one in problems if isinstance(one.message, Said) and one.message.id == sentence)


def fix_of(problems: Problems, sentence: str) -> Said:
    fix = found(problems, sentence).fix
    assert isinstance(fix, Said)
    return fix


def lane(plan: SeasonPlan, name: str) -> Lane:
    return next(one for one in plan.lanes if one.vessel == name)


# Vessels


def test_a_vessel_is_busy_until_the_day_after_bottling(tmp_path: Path):
    plan = plan_of(season(batch("28A", "2028-02-05", equipment=IN_BLUE), vessels=[BLUE]), tmp_path)
    (booking,) = lane(plan, "blue bucket").bookings
    bottled = plan.batches[0].task("bottle").when.expected
    assert (booking.brewed, booking.bottled) == (date(2028, 2, 5), bottled)
    assert booking.busy_until == bottled + timedelta(days=1)


def test_days_for_cleaning_come_after_that(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05", equipment=IN_BLUE), vessels=[BLUE], cleaning="2 days")
    (booking,) = lane(plan_of(tree, tmp_path), "blue bucket").bookings
    assert booking.busy_until == booking.bottled + timedelta(days=3)


def test_two_batches_in_one_vessel_are_a_stop_with_the_first_day_that_works(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05", equipment=IN_BLUE),
        batch("28B", "2028-02-12", equipment=IN_BLUE),
        vessels=[BLUE],
        my_days=["sat", "sun"],
    )
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is None
    assert ids(problems, "stop") == ["stop.vessel-taken"]
    on = fix_of(problems, "stop.vessel-taken").values["on"]
    assert isinstance(on, date)
    tree["batches"][1]["brew-day"] = on.isoformat()
    assert plan_of(tree, tmp_path)
    tree["batches"][1]["brew-day"] = (on - timedelta(days=7)).isoformat()
    assert planned(tree, tmp_path)[0] is None


def test_the_stop_names_a_vessel_that_is_free(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05", equipment=IN_BLUE),
        batch("28B", "2028-02-12", equipment=IN_BLUE),
        vessels=[BLUE, WHITE],
    )
    problems = planned(tree, tmp_path)[1]
    assert fix_of(problems, "stop.vessel-taken").values["vessel"] == "white bucket"


def test_a_clash_of_what_was_done_already_is_only_told(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05", equipment=IN_BLUE),
        batch("28B", "2028-02-12", equipment=IN_BLUE),
        vessels=[BLUE],
    )
    plan, problems, _ = planned(tree, tmp_path, date(2028, 2, 20))
    assert plan is not None
    assert "stop.vessel-taken" in ids(problems, "warn")


def test_a_batch_that_names_no_vessel_takes_the_smallest_that_is_free(tmp_path: Path):
    small, large = {"name": "small", "holds": "11 L"}, {"name": "large", "holds": "25 L"}
    plan = plan_of(
        season(batch("28A", "2028-02-05"), batch("28B", "2028-02-12"), vessels=[large, small]), tmp_path
    )
    assert [one.code for one in lane(plan, "small").bookings] == ["28A"]
    assert [one.code for one in lane(plan, "large").bookings] == ["28B"]
    assert [one.vessel_name for one in plan.batches] == ["small", "large"]


def test_a_short_batch_leaves_the_small_vessel_to_a_long_one(tmp_path: Path):
    """Taking the smallest that is free, one after another, would leave the third without a vessel."""
    small, large = {"name": "small", "holds": "11 L"}, {"name": "large", "holds": "16 L"}
    tree = season(
        batch("28A", "2028-02-05"),
        batch("28B", "2028-02-12", recipe="lantern-shed-winter"),
        batch("28C", "2028-02-26", volume="12 L"),
        vessels=[small, large],
    )
    plan = plan_of(tree, tmp_path)
    assert [one.code for one in lane(plan, "small").bookings] == ["28B"]
    assert [one.code for one in lane(plan, "large").bookings] == ["28A", "28C"]


def test_a_vessel_that_only_one_batch_has_is_no_clash(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05", equipment={"vessel": "12 L"}),
        batch("28B", "2028-02-12", equipment={"vessel": "12 L"}),
    )
    plan = plan_of(tree, tmp_path)
    assert [(one.vessel, one.shared) for one in plan.lanes] == [("28A", False), ("28B", False)]


# One person's days


def test_nobody_bottles_two_batches_on_one_day(tmp_path: Path):
    plan = plan_of(
        season(batch("28A", "2028-02-05"), batch("28B", "2028-02-06"), my_days=["sat", "sun"]), tmp_path
    )
    first, second = (one.task("bottle") for one in plan.batches)
    assert first.when.expected < second.when.expected
    assert [move.because.id for move in second.moves][-1:] == ["move.other-batch"]
    assert second.when.expected.weekday() >= 5


def test_unless_told_so(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05"), batch("28B", "2028-02-06"), my_days=["sat", "sun"], two_on_a_day="yes"
    )
    first, second = (one.task("bottle").when.expected for one in plan_of(tree, tmp_path).batches)
    assert first == second


def test_no_batch_is_bottled_on_anothers_brew_day(tmp_path: Path):
    alone = plan_of(season(batch("28A", "2028-02-05")), tmp_path).batches[0].task("bottle").when.expected
    plan = plan_of(season(batch("28A", "2028-02-05"), batch("28B", alone.isoformat())), tmp_path)
    assert plan.batches[0].task("bottle").when.expected > alone


def test_two_brew_days_on_one_are_a_warning_with_the_first_free_one(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-02-05"), my_days=["sat"])
    problems = planned(tree, tmp_path)[1]
    assert fix_of(problems, "warn.two-brews").values["on"] == date(2028, 2, 12)


def test_the_seasons_days_hold_for_every_batch(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05", my_days=["mon"]), my_days=["sat"], away=["2028-02-19..2028-02-27"]
    )
    plan = plan_of(tree, tmp_path)
    assert plan.batches[0].task("test-1").when.expected == date(2028, 3, 4)
    assert plan.batches[0].away == ((date(2028, 2, 19), date(2028, 2, 27)),)


# Bottles, caps, the warm place


def test_bottles_are_busy_from_filling_until_they_are_drunk(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-03-11"), stock={GLASS: 40}, drunk="7 a week")
    plan = plan_of(tree, tmp_path)
    first, second = plan.batches
    assert first.bottles.rows[0].have == 40
    drunk = (second.task("bottle").when.expected - first.labels.not_before).days
    assert second.bottles.rows[0].have == 40 - first.bottles.filled + min(drunk, first.bottles.filled)


def test_without_a_pace_no_bottle_comes_back(tmp_path: Path):
    plan = plan_of(
        season(batch("28A", "2028-02-05"), batch("28B", "2028-06-10"), stock={GLASS: 40}), tmp_path
    )
    first, second = plan.batches
    assert second.bottles.rows[0].have == 40 - first.bottles.filled


def test_bottles_for_one_use_never_come_back(tmp_path: Path):
    stock = {"500 ml one-way glass": 40}
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-06-10"), stock=stock, drunk="20 a week")
    first, second = plan_of(tree, tmp_path).batches
    assert second.bottles.rows[0].have == 40 - first.bottles.filled


def test_too_few_bottles_are_a_warning_with_the_first_day_on_which_there_are_enough(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-02-12"), stock={GLASS: 20}, drunk="7 a week")
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is not None
    (first, second), warned = plan.batches, found(problems, "warn.stock")
    free = 20 - first.bottles.filled
    lacking = second.bottles.more_ways[0].count
    fix = fix_of(problems, "warn.stock")
    assert isinstance(warned.message, Said)
    assert warned.message.values["n"] == lacking
    assert second.bottles.filled == free
    assert fix.values["on"] == first.labels.not_before + timedelta(days=lacking)


def test_a_batch_may_take_one_kind_of_the_stock(tmp_path: Path):
    stock = {GLASS: 40, "330 ml one-way glass": 60}
    tree = season(batch("28A", "2028-02-05", bottles="1 x 500 ml returnable glass"), stock=stock)
    plan = plan_of(tree, tmp_path)
    assert [(row.ml, row.have) for row in plan.batches[0].bottles.rows] == [(500.0, 40)]


def test_a_batch_that_names_no_bottles_takes_those_made_for_its_drink(tmp_path: Path):
    stock = {"750 ml wine bottle": 20, GLASS: 40}
    beer, wine = batch("28A", "2028-02-05"), batch("28B", "2028-02-12", recipe="plot-eleven-bramble")
    first, second = plan_of(season(beer, wine, stock=stock), tmp_path).batches
    assert [row.ml for row in first.bottles.rows] == [500.0]
    assert [row.ml for row in second.bottles.rows] == [750.0, 500.0]


def test_no_caps_at_all_is_a_count_too(tmp_path: Path):
    plan = plan_of(season(batch("28A", "2028-02-05"), stock={GLASS: 40, "caps": 0}), tmp_path)
    (use,) = plan.caps
    assert use.left == -use.need < 0


def test_what_the_stock_does_not_know_is_the_batchs_own(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05", bottles="30 x 330 ml returnable glass"), stock={GLASS: 40})
    plan = plan_of(tree, tmp_path)
    assert [(row.ml, row.have) for row in plan.batches[0].bottles.rows] == [(330.0, 30)]


def test_caps_run_out_once_for_the_season(tmp_path: Path):
    days = ("2028-02-05", "2028-03-11", "2028-04-15")
    tree = season(
        *(batch(f"28{x}", day) for x, day in zip("ABC", days, strict=True)), stock={GLASS: 90, "caps": 20}
    )
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is not None
    needs = [one.bottles.crown_caps for one in plan.batches]
    assert [use.left for use in plan.caps] == [20 - sum(needs[: n + 1]) for n in range(3)]
    message = found(problems, "warn.caps").message
    assert isinstance(message, Said)
    assert message.values["n"] == sum(needs) - 20


def test_the_warm_place_counts_full_bottles_until_they_move(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05"), batch("28B", "2028-02-12"), warm_place="20 bottles")
    for one in tree["batches"]:
        one["bottles"] = "30 x 500 ml returnable glass"
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is not None
    first, second = (one.bottles.numbered for one in plan.batches)
    assert [day.bottles for day in plan.warm] == [first, first + second, second, 0]
    assert (
        fix_of(problems, "warn.warm-place-full").values["on"]
        == plan.batches[0].task("move-to-cool").when.expected
    )


# What to drink first


def test_what_keeps_least_is_drunk_first(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-05", recipe="lantern-shed-stout"), batch("28B", "2028-03-11"), stock={GLASS: 60}
    )
    plan = plan_of(tree, tmp_path)
    assert [one.code for one in plan.drink_first] == ["28B", "28A"]
    assert plan.drink_first[0].best_before <= plan.drink_first[1].best_before


def test_the_last_bottle_at_a_stated_pace(tmp_path: Path):
    tree = season(batch("28A", "2028-02-05"), stock={GLASS: 30}, drunk="7 a week")
    (line,) = plan_of(tree, tmp_path).drink_first
    assert line.emptied == line.drink_from + timedelta(days=line.bottles - 1)


# Always


@pytest.mark.parametrize("gap", [0, 1, 3, 7])
def test_nothing_is_booked_twice(tmp_path: Path, gap: int):
    codes = "ABCDEFGH"
    tree = season(
        *(
            batch(f"28{code}", (date(2028, 2, 5) + timedelta(days=gap * n)).isoformat())
            for n, code in enumerate(codes)
        ),
        vessels=[{"name": f"bucket {n}", "holds": "12 L"} for n in range(8)],
        stock={GLASS: 200},
        my_days=["sat", "sun"],
    )
    plan = plan_of(tree, tmp_path)
    for one in plan.lanes:
        for first, second in combinations(one.bookings, 2):
            assert not first.overlaps(second)
    bottled = [one.task("bottle").when.expected for one in plan.batches]
    brewed = {one.task("brew").when.expected for one in plan.batches}
    assert len({*bottled}) == len(bottled)
    assert not brewed & {*bottled}


def test_the_days_of_the_outline_are_those_of_the_plan(tmp_path: Path):
    plan = plan_of(season(batch("28A", "2028-02-05"), batch("28B", "2028-02-06"), my_days=["sat"]), tmp_path)
    for one, line in zip(plan.batches, plan.lanes, strict=True):
        assert line.bookings[0].bottled == one.task("bottle").when.expected
