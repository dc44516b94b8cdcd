"""Brew days for wishes: they suit the person, the vessels and the day on which they should be ready."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations, product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetgen.model.season import Season, Wish
from sheetgen.planning.forward import Days
from sheetgen.planning.outline import outline_of
from sheetgen.planning.season import plan_season
from sheetgen.planning.season_runs import settle
from sheetgen.planning.suggest import Suggestions, as_batches, suggest
from sheetgen.problems import Problems

from .seasons import BLUE, IN_BLUE, JANUARY, WHITE, batch, read, season


def wish(code: str, **more: Any) -> dict[str, Any]:
    keys = {key.replace("_", "-"): value for key, value in more.items()}
    return {"batch": code, "recipe": "towrope-mild", "volume": "8 L", **keys}


def read_good(tree: dict[str, Any], folder: Path) -> Season:
    found = read(tree, folder)
    assert found.season is not None, [str(one.message) for one in found.problems]
    return found.season


def suggested(tree: dict[str, Any], folder: Path) -> Suggestions:
    found = suggest(read_good(tree, folder), JANUARY, Problems())
    assert found is not None
    return found


def days(found: Suggestions) -> list[date | None]:
    return [one.brew_day for one in found.found]


def test_a_wish_is_brewed_on_the_first_day_that_suits(tmp_path: Path):
    tree = season(wishes=[wish("28V")], my_days=["sat"], away=["2028-01-18..2028-01-23"])
    assert days(suggested(tree, tmp_path)) == [date(2028, 1, 29)]


def test_two_wishes_share_a_vessel_one_after_the_other(tmp_path: Path):
    tree = season(wishes=[wish("28V"), wish("28W")], vessels=[BLUE], my_days=["sat"])
    first, second = suggested(tree, tmp_path).found
    assert first.bottled
    assert second.brew_day
    assert second.brew_day > first.bottled + timedelta(days=1)


def test_or_take_two_vessels_on_two_days(tmp_path: Path):
    tree = season(wishes=[wish("28V"), wish("28W")], vessels=[BLUE, WHITE], my_days=["sat"])
    found = suggested(tree, tmp_path)
    assert days(found) == [date(2028, 1, 22), date(2028, 1, 29)]
    assert {one.vessel for one in found.found} == {"blue bucket", "white bucket"}


def test_what_is_planned_already_stays(tmp_path: Path):
    planned = batch("28A", "2028-01-22", equipment=IN_BLUE)
    tree = season(planned, wishes=[wish("28V", equipment=IN_BLUE)], vessels=[BLUE, WHITE], my_days=["sat"])
    (one,) = suggested(tree, tmp_path).found
    assert one.vessel == "blue bucket"
    assert one.brew_day
    assert one.brew_day > date(2028, 2, 5)


def test_the_one_that_is_wanted_sooner_goes_first(tmp_path: Path):
    wishes = [wish("28V"), wish("28W", ready_by="2028-02-26")]
    found = suggested(season(wishes=wishes, vessels=[BLUE], my_days=["sat"]), tmp_path)
    first, second = found.found
    assert first.brew_day
    assert second.brew_day
    assert second.brew_day < first.brew_day
    assert second.late == 0
    assert found.proven


def test_days_late_are_told(tmp_path: Path):
    (one,) = suggested(season(wishes=[wish("28V", ready_by="2028-01-20")]), tmp_path).found
    assert one.ready
    assert one.late == (one.ready - date(2028, 1, 20)).days


def test_a_wish_without_a_day_is_none(tmp_path: Path):
    tree = season(wishes=[wish("28V")], away=["2028-01-16..2029-02-20"])
    found = suggest(read_good(tree, tmp_path), JANUARY, Problems())
    assert found is not None
    assert days(found) == [None]


def test_nothing_is_suggested_while_a_batch_of_the_season_is_stopped(tmp_path: Path):
    """Its place in the vessel is not settled: whatever is suggested may be wrong tomorrow."""
    crowd = (batch(code, "2028-02-05", equipment=IN_BLUE) for code in ("28A", "28B"))
    problems = Problems()
    tree = season(*crowd, wishes=[wish("28V")], vessels=[BLUE, WHITE], two_on_a_day="yes")
    assert suggest(read_good(tree, tmp_path), JANUARY, problems) is None
    assert [str(one.path[0]) for one in problems.of("stop")] == ["batch 28B"]


def test_nor_while_a_batch_is_too_large_for_its_vessel(tmp_path: Path):
    problems = Problems()
    large = batch("28A", "2028-02-05", volume="14 L", equipment=IN_BLUE)
    tree = season(large, wishes=[wish("28V")], vessels=[BLUE, WHITE])
    assert suggest(read_good(tree, tmp_path), JANUARY, problems) is None
    assert problems.stopped


# Always


LIVES = st.fixed_dictionaries(
    {
        "my_days": st.lists(st.sampled_from(["mon", "wed", "fri", "sat", "sun"]), min_size=1, unique=True),
        "away": st.lists(st.integers(0, 120), max_size=3).map(
            lambda starts: [
                f"{JANUARY + timedelta(days=start)}..{JANUARY + timedelta(days=start + 5)}"
                for start in starts
            ]
        ),
        "vessels": st.sampled_from(
            [[BLUE], [BLUE, WHITE], [BLUE, WHITE, {"name": "third", "holds": "20 L"}]]
        ),
        "planned": st.lists(st.integers(1, 90), max_size=2, unique=True),
        "wishes": st.integers(1, 3),
    }
)


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(LIVES)
def test_wishes_become_batches_without_a_clash_and_keep_their_days(tmp_path: Path, life: dict[str, Any]):
    batches = [
        batch(f"28{letter}", (JANUARY + timedelta(days=ahead)).isoformat(), equipment={"vessel": "12 L"})
        for letter, ahead in zip("AB", sorted(life["planned"]), strict=False)
    ]
    more = {"away": life["away"]} if life["away"] else {}
    wishes = [wish(f"28{letter}") for letter in "VWX"[: life["wishes"]]]
    tree = season(*batches, wishes=wishes, vessels=life["vessels"], my_days=life["my_days"], **more)
    planned = read_good(tree, tmp_path)
    problems = Problems()
    found = suggest(planned, JANUARY, problems)
    if plan_season(planned, JANUARY, Problems()) is None:
        assert found is None
        assert problems.stopped
        return
    assert found is not None
    whole = replace(planned, batches=(*planned.batches, *as_batches(found.found, planned.vessels)))
    settled = settle(whole, JANUARY, Problems())
    assert settled is not None
    dated = [one for one in found.found if one.brew_day]
    new = settled.days[len(planned.batches) :]
    assert [(one.brewed, one.bottled) for one in new] == [(one.brew_day, one.bottled) for one in dated]
    shared = [one for one in settled.bookings if one.vessel in {vessel.name for vessel in planned.vessels}]
    assert not [
        pair for pair in combinations(shared, 2) if pair[0].vessel == pair[1].vessel and _overlap(*pair)
    ]
    work = [day for one in new for day in (one.brewed, one.bottled)]
    assert len({*work}) == len(work)


def _overlap(one: Any, other: Any) -> bool:
    return bool(one.brewed <= other.busy_until and other.brewed <= one.busy_until)


def test_the_first_day_is_the_first_of_all_days(tmp_path: Path):
    """Every day is tried, by the whole schedule, and the first that suits is the one."""
    tree = season(wishes=[wish("28V")], my_days=["sun"], away=["2028-01-20..2028-02-01"])
    planned = read_good(tree, tmp_path)
    outline = outline_of(planned.wishes[0].batch, JANUARY)
    away = {date(2028, 1, 20) + timedelta(days=n) for n in range(13)}
    suits = [
        day
        for day in (JANUARY + timedelta(days=n) for n in range(1, 60))
        if day.weekday() == 6 and not away & {day + timedelta(days=n) for n in range(4)} and outline.days(day)
    ]
    assert days(suggested(tree, tmp_path)) == [suits[0]]


@pytest.mark.parametrize("ready", [("2028-03-25", "2028-03-18"), ("2028-04-20", None), (None, None)])
def test_two_wishes_for_one_vessel_against_every_pair_of_days(tmp_path: Path, ready: tuple[str | None, ...]):
    """The whole schedule is run for every day, and every pair of them is weighed."""
    keys = [{"ready_by": day} if day else {} for day in ready]
    first = wish("28V", recipe="lantern-shed-stout", **keys[0])
    tree = season(wishes=[first, wish("28W", **keys[1])], vessels=[BLUE], my_days=["sat", "sun"])
    planned = read_good(tree, tmp_path)
    each = [_every_day(one) for one in planned.wishes]
    worths = [
        (one[1] + other[1], (one[0].brewed - JANUARY).days + (other[0].brewed - JANUARY).days)
        for one, other in product(*each)
        if _one_after_the_other(one[0], other[0])
    ]
    found = suggested(tree, tmp_path)
    told = [one for one in found.found if one.brew_day]
    assert found.proven
    assert (
        sum(one.late for one in told),
        sum((one.brew_day - JANUARY).days for one in told if one.brew_day),
    ) == min(worths)


def _every_day(one: Wish) -> list[tuple[Days, int]]:
    outline = outline_of(one.batch, JANUARY)
    days = [JANUARY + timedelta(days=n) for n in range(1, 366)]
    runs = [outline.days(day) for day in days if day.weekday() >= 5]
    wanted = one.ready_by or date.max
    return [(run, max(0, (run.ready - wanted).days)) for run in runs if run]


def _one_after_the_other(one: Days, other: Days) -> bool:
    """In one vessel, which is free again two days after bottling; nothing else is done on those days."""
    first, second = sorted((one, other), key=lambda run: run.brewed)
    return second.brewed > first.bottled + timedelta(days=1)


def test_a_later_brew_day_may_be_ready_sooner_in_a_room_that_gets_warm(tmp_path: Path):
    """Then every day is worked out, and the one that is least late is found all the same."""
    room = {"room": [{"from": "2028-01-01", "at": "15 C"}, {"from": "2028-02-20", "at": "21 C"}]}
    tree = season(wishes=[wish("28V", ready_by="2028-03-01", room=room["room"])], my_days=["sat"])
    planned = read_good(tree, tmp_path)
    outline = outline_of(planned.wishes[0].batch, JANUARY)
    days = (JANUARY + timedelta(days=n) for n in range(1, 366))
    runs = [run for day in days if day.weekday() == 5 and (run := outline.days(day))]
    (found,) = suggested(tree, tmp_path).found
    assert found.ready == min(run.ready for run in runs)
