"""The ways out of a vessel that is taken: what has to leave, when it can be brewed, where else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from hypothesis import given, settings

from sheetgen.model.season import Season
from sheetgen.planning import lanes
from sheetgen.planning.season_days import Settled
from sheetgen.planning.season_ways import ways_out
from sheetgen.problems import Problem, Problems, Said

from .seasons import BLUE, IN_BLUE, WHITE, batch, plan_of, planned, season
from .test_season_always import DAYS, booked_twice, seasons, settled


def stops(problems: Problems) -> list[Problem]:
    return problems.of("stop")


def fix(problem: Problem) -> Said:
    assert isinstance(problem.fix, Said)
    return problem.fix


def codes(found: list[Problem]) -> list[str]:
    return [one.path[0].removeprefix("batch ") for one in found]


def in_blue(*days: str) -> list[dict[str, Any]]:
    """28A, 28B and so on, all in the blue bucket."""
    return [batch(f"28{x}", day, equipment=IN_BLUE) for x, day in zip("ABC", days, strict=False)]


def test_a_batch_that_has_to_leave_is_in_nobodys_way(tmp_path: Path):
    """28B stands in 28A's time; 28C only in that of 28B, which leaves."""
    problems = planned(
        season(*in_blue("2028-02-05", "2028-02-12", "2028-03-04"), vessels=[BLUE], my_days=["sat", "sun"]),
        tmp_path,
    )[1]
    assert codes(stops(problems)) == ["28B"]


def test_its_first_day_does_not_wait_for_one_that_leaves_too(tmp_path: Path):
    crowd = in_blue("2028-02-05", "2028-02-12", "2028-02-13")
    tree = season(*crowd, vessels=[BLUE], my_days=["sat", "sun"])
    first, second = stops(planned(tree, tmp_path)[1])
    alone = season(*crowd[:2], vessels=[BLUE], my_days=["sat", "sun"])
    (only,) = stops(planned(alone, tmp_path)[1])
    assert fix(first).values["on"] == fix(only).values["on"]
    tree["batches"][1]["brew-day"] = str(fix(first).values["on"])
    tree["batches"][2]["brew-day"] = str(fix(second).values["on"])
    assert plan_of(tree, tmp_path)


def test_a_free_vessel_is_offered_once(tmp_path: Path):
    crowd = in_blue("2028-02-05", "2028-02-12", "2028-02-13")
    first, second = stops(planned(season(*crowd, vessels=[BLUE, WHITE]), tmp_path)[1])
    assert fix(first).values["vessel"] == "white bucket"
    assert "vessel" not in fix(second).values


def test_what_was_brewed_is_never_stopped_and_says_what_to_do(tmp_path: Path):
    brewed = batch("28B", "2028-02-12", equipment=IN_BLUE, actual={"brewed": "2028-02-12"})
    plan, problems, _ = planned(
        season(*in_blue("2028-02-05"), brewed, vessels=[BLUE]), tmp_path, date(2028, 2, 12)
    )
    assert plan is not None
    (told,) = [
        one for one in problems if isinstance(one.message, Said) and one.message.id == "stop.vessel-taken"
    ]
    assert (told.level, codes([told])) == ("warn", ["28B"])
    assert fix(told).id == "fix.vessel-was-taken"


def test_a_plan_gives_way_to_what_was_brewed_on_its_day(tmp_path: Path):
    """Both say the same day; only one of them has happened."""
    brewed = batch("28B", "2028-02-12", equipment=IN_BLUE, actual={"brewed": "2028-02-12"})
    wanted = batch("28A", "2028-02-12", equipment=IN_BLUE)
    problems = planned(season(wanted, brewed, vessels=[BLUE]), tmp_path, date(2028, 2, 12))[1]
    assert codes(stops(problems)) == ["28A"]


# Always


def leaving(found: Settled) -> list[int]:
    return [place for place, _ in lanes.clashes(found.bookings)]


def moved(found: Season, days: dict[int, date | None]) -> Season:
    batches = [
        replace(one, brew_day=days.get(place) or one.brew_day) for place, one in enumerate(found.batches)
    ]
    return replace(found, batches=tuple(batches))


def only(found: Season, places: Sequence[int]) -> Season:
    return replace(found, batches=tuple(found.batches[place] for place in places))


@settings(max_examples=60)
@given(seasons())
def test_all_days_together_work(found: Season):
    before = settled(found)
    ways = ways_out(found, before, leaving(before))
    kept = [place for place in range(len(found.batches)) if place not in ways or ways[place].on]
    after = settled(only(moved(found, {place: way.on for place, way in ways.items()}), kept))
    assert not booked_twice(list(after.bookings))


@settings(max_examples=40)
@given(seasons())
def test_the_day_named_first_is_the_first_of_all(found: Season):
    """Every day is tried by hand, with the whole season laid out anew."""
    before = settled(found)
    ways = ways_out(found, before, leaving(before))
    if not ways:
        return
    place, way = next(iter(ways.items()))
    kept = [other for other in range(len(found.batches)) if other not in ways]
    wanted = before.days[place].brewed
    works = (day for day in (wanted + DAYS(n) for n in range(200)) if suits(found, place, kept, day))
    assert way.on == next(works, None)


def suits(found: Season, place: int, kept: list[int], day: date) -> bool:
    one = found.batches[place]
    home = all(not first <= day + DAYS(n) <= last for n in range(4) for first, last in one.away)
    mine = one.my_days is None or day.weekday() in one.my_days
    others = settled(only(found, kept)) if kept else None
    work = {each for days in (others.days if others else ()) for each in (days.brewed, days.bottled)}
    if not (home and mine) or (not found.two_on_a_day and day in work):
        return False
    return not booked_twice(list(settled(only(moved(found, {place: day}), [*kept, place])).bookings))


def test_many_batches_in_one_vessel_are_answered_in_bounds(tmp_path: Path):
    """Sixty on one day: each finds another day, or none within a year."""
    names = [f"{n}{letter}" for n in range(20, 26) for letter in "ABCDEFGHJK"]
    tree: dict[str, Any] = season(*(batch(name, "2028-02-05") for name in names), vessels=[BLUE])
    found = stops(planned(tree, tmp_path)[1])
    assert len(found) == len(names) - 1
    days = [fix(one).values.get("on") for one in found]
    dated = [day for day in days if day]
    assert dated == sorted(set(dated))  # type: ignore[type-var]
