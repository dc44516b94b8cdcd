"""The brew day that a batch of a season is told to take works in the season, which is laid out with it."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetgen.problems import Problem, Problems, Said

from .seasons import BLUE, IN_BLUE, JANUARY, WHITE, batch, planned, season


def told(problems: Problems, sentence: str) -> date | None:
    """The day that the finding names, None if it names none."""
    one: Problem = next(p for p in problems if isinstance(p.message, Said) and p.message.id == sentence)
    found = one.fix.values.get("on") if isinstance(one.fix, Said) else None
    assert found is None or isinstance(found, date)
    return found


def clashes(problems: Problems) -> list[str]:
    """What the season says of two things at one time."""
    names = ("stop.vessel-taken", "warn.two-brews", "stop.brew-day-away", "stop.no-day")
    return [p.message.id for p in problems if isinstance(p.message, Said) and p.message.id in names]


def test_a_batch_that_nobody_is_home_for_waits_for_the_vessel_too(tmp_path: Path):
    """Alone it could be brewed on 12 February; but the bucket is full until 27 February, or later."""
    tree = season(
        batch("28A", "2028-02-05", equipment=IN_BLUE),
        batch("28B", "2028-02-09", equipment=IN_BLUE),
        vessels=[BLUE, WHITE],
        my_days=["sat", "sun"],
        away=["2028-02-08..2028-02-10"],
    )
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is None
    on = told(problems, "stop.brew-day-away")
    assert on
    tree["batches"][1]["brew-day"] = on.isoformat()
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is not None
    assert clashes(problems) == []
    before = on - timedelta(days=1 if on.weekday() == 6 else 6)
    tree["batches"][1]["brew-day"] = before.isoformat()
    assert clashes(planned(tree, tmp_path)[1])


def test_a_warning_names_no_day_on_which_somebody_brews_already(tmp_path: Path):
    """28A asks for a day of its own; the next Saturday is 28B's, and 28B is bottled a fortnight later."""
    tree = season(batch("28A", "2028-02-04"), batch("28B", "2028-02-05"), my_days=["sat"])
    on = told(planned(tree, tmp_path)[1], "warn.brew-day-not-mine")
    assert on == date(2028, 2, 12)


def test_two_that_are_told_to_move_are_told_two_days(tmp_path: Path):
    tree = season(
        batch("28A", "2028-02-09", equipment=IN_BLUE),
        batch("28B", "2028-02-10", equipment=IN_BLUE),
        vessels=[BLUE],
        my_days=["sat", "sun"],
        away=["2028-02-08..2028-02-10"],
    )
    problems = planned(tree, tmp_path)[1]
    days = sorted(
        one.fix.values["on"]  # type: ignore[type-var]
        for one in problems.of("stop")
        if isinstance(one.fix, Said) and "on" in one.fix.values
    )
    for one, on in zip(tree["batches"], days, strict=False):
        one["brew-day"] = str(on)
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is not None
    assert clashes(problems) == []


def test_a_life_without_a_day_is_told_one_that_suits_the_season(tmp_path: Path):
    """A month and a year abroad; whoever comes back finds the bucket full of what the other brewed then."""
    tree = season(
        batch("28A", "2029-03-10", equipment=IN_BLUE),
        batch("28B", "2028-02-05", equipment=IN_BLUE),
        vessels=[BLUE],
        my_days=["sat"],
        away=["2028-02-09..2029-03-05"],
    )
    on = told(planned(tree, tmp_path, JANUARY)[1], "stop.no-day")
    tree["batches"][1]["brew-day"] = str(on)
    if on is not None:
        assert clashes(planned(tree, tmp_path)[1]) == []


LIVES = st.fixed_dictionaries(
    {
        "days": st.lists(st.integers(1, 60), min_size=2, max_size=4, unique=True),
        "away": st.integers(1, 50),
        "mine": st.lists(st.sampled_from(["wed", "sat", "sun"]), min_size=1, unique=True),
        "vessels": st.sampled_from([[BLUE], [BLUE, WHITE]]),
    }
)


@settings(max_examples=6, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(LIVES)
def test_whoever_follows_every_stop_has_a_season_that_works(tmp_path: Path, life: dict[str, Any]):
    """Stop after stop is followed; none comes back for the same batch, and no clash is left."""
    away = JANUARY + timedelta(days=life["away"])
    tree = season(
        *(
            batch(f"28{code}", str(JANUARY + timedelta(days=day)))
            for code, day in zip("ABCD", life["days"], strict=False)
        ),
        vessels=life["vessels"],
        my_days=life["mine"],
        away=[f"{away}..{away + timedelta(days=9)}"],
    )
    for _ in range(len(tree["batches"]) + 1):
        plan, problems, _file = planned(tree, tmp_path)
        if plan is not None:
            break
        moved = 0
        for one in problems.of("stop"):
            on = one.fix.values.get("on") if isinstance(one.fix, Said) else None
            if on is None:
                continue
            place = next(
                n for n, each in enumerate(tree["batches"]) if one.path[0] == f"batch {each['batch']}"
            )
            tree["batches"][place]["brew-day"] = str(on)
            moved += 1
        assert moved
    assert plan is not None


def test_the_search_ends_where_a_vessel_is_never_free(tmp_path: Path):
    """Every day of a year is full: no day is named, and none is looked for without end."""
    wine = {"recipe": "plot-eleven-bramble", "equipment": IN_BLUE}
    tree = season(
        batch("28A", "2028-01-20", **wine),
        *(batch(f"28{code}", "2028-02-09", equipment=IN_BLUE) for code in "BCD"),
        vessels=[BLUE],
        away=["2028-02-08..2028-02-10"],
    )
    plan, problems, _ = planned(tree, tmp_path)
    assert plan is None
    assert problems.stopped
