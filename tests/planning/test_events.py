"""Planning back from an event: in examples, and against a calendar kept with pencil and paper.

`Pencil` works out the days of an ordinary ale at 20 C by itself, from the numbers of the trade: tests on day
11 and three days later, bottling from day 14, two weeks of fizz, two days in the fridge; each on the first
free day.  It imports nothing from planning.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.model import Batch, Event, Room, Shifts, Weekly
from sheetgen.planning import plan_batch
from sheetgen.planning.forward import Forward, can_brew
from sheetgen.planning.plan import EventPlan, Plan
from sheetgen.problems import Problems, Said
from sheetgen.units import Celsius

from .described import FEBRUARY, at_strength, ids, plan_of, planned, read, six
from .parties import party

DAY = timedelta(days=1)
ALE = {"test_1": 11, "gap": 3, "bottle": 14, "fizz": 14}


class Pencil:
    """An ordinary ale in an ordinary room, and the days of somebody who writes them on paper."""

    def __init__(self, mine: frozenset[int] | None, away: list[tuple[date, date]], today: date) -> None:
        self.mine, self.today = mine, today
        self.gone = {first + DAY * n for first, last in away for n in range((last - first).days + 1)}

    def free(self, day: date) -> bool:
        return day not in self.gone and (self.mine is None or day.weekday() in self.mine)

    def next_free(self, day: date) -> date:
        while not self.free(day):
            day += DAY
        return day

    def can_brew(self, day: date) -> bool:
        return self.free(day) and not {day + DAY, day + 2 * DAY, day + 3 * DAY} & self.gone

    def ready(self, brewed: date) -> date:
        first = self.next_free(brewed + ALE["test_1"] * DAY)
        second = self.next_free(first + ALE["gap"] * DAY)
        filled = self.next_free(max(brewed + ALE["bottle"] * DAY, second))
        return filled + ALE["fizz"] * DAY

    def fridge(self, event: date) -> date:
        day = event - 2 * DAY
        while day in self.gone:
            day -= DAY
        return day

    def brew_by(self, event: date) -> date | None:
        """Every day from today to the event is tried."""
        days = [self.today + DAY * n for n in range((event - self.today).days + 1)]
        good = [day for day in days if self.can_brew(day) and self.ready(day) <= self.fridge(event)]
        return max(good, default=None)


@cache
def ale() -> Batch:
    batch, _ = read(six())
    assert batch is not None
    return batch


def for_event(on: date, batch: Batch | None = None, **changes: Any) -> Batch:
    return replace(batch or ale(), brew_day=on, events=(Event(on, "supper"),), day_open=True, **changes)


def met(batch: Batch, today: date) -> tuple[Plan | None, EventPlan | None]:
    plan = plan_batch(batch, today, Problems())
    return plan, plan.events[0] if plan else None


TODAYS = st.sampled_from([date(2027, 2, 20), date(2027, 11, 20), date(2028, 1, 25), date(2027, 9, 1)])
SPANS = st.lists(st.tuples(st.integers(0, 110), st.integers(0, 24)), max_size=4)
WEEKDAYS = st.none() | st.frozensets(st.integers(0, 6), min_size=1)


def spans(today: date, found: list[tuple[int, int]]) -> list[tuple[date, date]]:
    """Absences in order, none touching the next, as intake leaves them."""
    gone = sorted({today + DAY * (start + n) for start, length in found for n in range(length + 1)})
    firsts = [day for day in gone if day - DAY not in gone]
    lasts = [day for day in gone if day + DAY not in gone]
    return list(zip(firsts, lasts, strict=True))


# Against the pencil


@settings(max_examples=80)
@given(today=TODAYS, days=st.integers(20, 120), mine=WEEKDAYS, gone=SPANS)
def test_the_last_brew_day_is_that_of_a_calendar_kept_by_pencil(
    today: date, days: int, mine: frozenset[int] | None, gone: list[tuple[int, int]]
) -> None:
    away, on = spans(today, gone), today + DAY * days
    pencil = Pencil(mine, away, today)
    brew_by = pencil.brew_by(on)
    spare = pencil.brew_by(brew_by) if brew_by else None
    plan, event = met(for_event(on, my_days=mine, away=tuple(away)), today)
    assert (event is not None) == (brew_by is not None)
    if plan is not None and event is not None:
        assert (event.brew_by, event.spare_try_by) == (brew_by, spare)
        assert plan.task("brew").when.expected == (spare or brew_by)
        assert plan.brew_day_is == ("spare-try" if spare else "last-safe")
        assert event.ready == pencil.ready(spare or brew_by or on)
        assert event.margin_days == (pencil.fridge(on) - event.ready).days >= 0


@settings(max_examples=30)
@given(today=TODAYS, days=st.integers(30, 120), mine=WEEKDAYS, gone=SPANS, more=SPANS)
def test_more_days_away_never_make_the_last_brew_day_later(
    today: date,
    days: int,
    mine: frozenset[int] | None,
    gone: list[tuple[int, int]],
    more: list[tuple[int, int]],
) -> None:
    on = today + DAY * days
    _, less = met(for_event(on, my_days=mine, away=tuple(spans(today, gone))), today)
    _, busy = met(for_event(on, my_days=mine, away=tuple(spans(today, gone + more))), today)
    assert busy is None or (less is not None and busy.brew_by <= less.brew_by)  # type: ignore[operator]


# Backwards, then forwards

RECIPES = ("copper-lane-amber", "slipway-nine-pale", "plot-eleven-cider", "ferry-steps-lager")


@cache
def of_recipe(name: str) -> Batch:
    batch, _ = read(six(recipe=name))
    assert batch is not None
    return batch


@settings(max_examples=20)
@given(
    name=st.sampled_from(RECIPES),
    room=st.integers(16, 24),
    warm=st.integers(15, 25),
    points=st.integers(36, 90),
    days=st.integers(60, 220),
    mine=WEEKDAYS,
    gone=SPANS,
)
def test_backwards_then_forwards_meets_the_event_and_a_day_later_misses_it(
    name: str,
    room: int,
    warm: int,
    points: int,
    days: int,
    mine: frozenset[int] | None,
    gone: list[tuple[int, int]],
) -> None:
    batch, on = of_recipe(name), FEBRUARY + DAY * days
    if batch.recipe.drink.id != "cider":
        batch = at_strength(batch, points)
    place = Room((Celsius(room), Celsius(room)), Celsius(warm), Celsius(12))
    away = tuple(spans(FEBRUARY, gone))
    batch = replace(batch, room=place, my_days=mine, away=away)
    plan, event = met(for_event(on, batch), FEBRUARY)
    if plan is None or event is None:
        return
    assert event.met
    assert plan.labels.not_before == event.ready <= on - 2 * DAY
    assert event.brew_by is not None
    forwards, again = met(replace(for_event(on, batch), brew_day=event.brew_by, day_open=False), FEBRUARY)
    assert forwards is not None
    assert again is not None
    assert again.met
    pencil = Pencil(mine, list(away), FEBRUARY)
    later = next(
        (event.brew_by + DAY * n for n in range(1, 60) if pencil.can_brew(event.brew_by + DAY * n)), None
    )
    if later is not None:
        assert met(replace(for_event(on, batch), brew_day=later, day_open=False), FEBRUARY)[1] is None


WEEKS = st.integers(1, 5)


@settings(max_examples=20)
@given(
    name=st.sampled_from((*RECIPES, "ferry-steps-mead", "plot-eleven-bramble")),
    room=st.integers(16, 24),
    mine=WEEKDAYS,
    bottling=st.tuples(st.integers(0, 6), WEEKS),
    round_=st.lists(st.booleans(), min_size=2, max_size=8).filter(any),
    gone=SPANS,
    start=st.integers(0, 80),
)
def test_a_later_brew_day_never_makes_a_drink_ready_sooner(
    name: str,
    room: int,
    mine: frozenset[int] | None,
    bottling: tuple[int, int],
    round_: list[bool],
    gone: list[tuple[int, int]],
    start: int,
) -> None:
    """So the last brew day may be looked for by halving, whatever the life."""
    place = Room((Celsius(room), Celsius(room)), Celsius(20), Celsius(12))
    turns = Weekly(frozenset([bottling[0]]), bottling[1], date(2027, 1, 4))
    batch = replace(
        of_recipe(name),
        room=place,
        my_days=mine,
        work_days=(("bottling", turns),),
        shifts=(Shifts(date(2027, 1, 4), tuple(round_)),),
        away=tuple(spans(FEBRUARY, gone)),
    )
    forward = Forward(batch, FEBRUARY)
    runs = [forward.from_day(FEBRUARY + DAY * (start + n)) for n in range(12)]
    ready = [run.ready for run in runs if run]
    assert ready == sorted(ready)


@settings(max_examples=8)
@given(days=st.integers(30, 120), mine=WEEKDAYS, bottling=st.tuples(st.integers(0, 6), WEEKS), gone=SPANS)
def test_halving_finds_what_trying_every_day_finds(
    days: int, mine: frozenset[int] | None, bottling: tuple[int, int], gone: list[tuple[int, int]]
) -> None:
    turns = Weekly(frozenset([bottling[0]]), bottling[1], date(2027, 1, 4))
    away, target = tuple(spans(FEBRUARY, gone)), FEBRUARY + DAY * days
    forward = Forward(replace(ale(), my_days=mine, work_days=(("bottling", turns),), away=away), FEBRUARY)
    tried = [
        forward.from_day(target - DAY * n)
        for n in range(days + 1)
        if can_brew(forward.life, target - DAY * n)
    ]
    slow = next((run for run in tried if run and run.ready <= target), None)
    assert forward.last_brew_day(target) == slow


def test_a_year_without_a_day_is_not_brewed_across():
    """Before it no batch can be finished, after it one can: the last brew day is after it."""
    tree = {**party("2029-09-01"), "away": ["2027-03-10..2029-06-10"]}
    (event,) = plan_of(tree).events
    assert event.brew_by == date(2029, 8, 2)
    assert planned({**party("2029-07-01"), "away": ["2027-03-10..2029-06-10"]})[0] is None


def test_the_second_try_begins_where_the_first_was_tasted():
    plan = plan_of(party("2027-06-12"))
    (event,) = plan.events
    assert (event.brew_by, event.spare_try_by) == (date(2027, 5, 13), date(2027, 4, 13))
    assert plan.brew_day_is == "spare-try"
    first = plan_of({**party("2027-05-13"), "brew-day": "2027-04-13"})
    assert first.events[0].met
    assert first.events[0].margin_days == 0


@pytest.mark.parametrize(
    ("on", "brew_by"),
    [
        ("2028-03-30", date(2028, 2, 29)),  # a leap day
        ("2027-01-15", date(2026, 12, 16)),  # over the end of a year
        ("2027-04-10", date(2027, 3, 11)),  # over the night on which clocks go forward
        ("2027-11-20", date(2027, 10, 21)),  # and back
        ("2028-01-04", date(2027, 12, 5)),
    ],
)
def test_thirty_days_are_thirty_days(on: str, brew_by: date):
    today = brew_by - DAY
    plan, _ = planned(party(on), today)
    assert plan is not None
    assert (plan.events[0].brew_by, plan.brew_day_is) == (brew_by, "last-safe")
    assert plan.events[0].margin_days == 0


def test_the_last_test_leaves_just_the_wait_and_the_fridge():
    plan = plan_of({**party("2027-06-12"), "my-days": ["sat"]})
    (event,) = plan.events
    assert event.last_test == date(2027, 5, 22)  # a Saturday; the 29th and two weeks are later than 10 June
    assert event.chill == date(2027, 6, 10)


def test_bottles_go_into_the_fridge_before_a_journey():
    plan = plan_of({**party("2027-06-12"), "away": ["2027-06-08..2027-06-11"]})
    assert plan.events[0].chill == date(2027, 6, 7)
    assert plan.task("chill").when.expected == date(2027, 6, 7)
    assert plan.events[0].brew_by == date(2027, 5, 10)


# Guests


def test_guests_decide_how_much_is_brewed():
    plan = plan_of(party("2027-06-12", bottles="60 x 330 ml one-way glass"))
    (event,) = plan.events
    assert (event.drinks_ml, event.bottles) == (18 * 660, 36)
    assert plan.bottles.filled >= 36 + 3
    assert plan.bottles.filled < 36 + 3 + 2
    assert "event.guests" in dict(plan.assumptions)
    assert "event.drinks-each" in dict(plan.assumptions)


@pytest.mark.parametrize(
    ("each", "bottles", "drunk"),
    [
        ("500 ml", "60 x 500 ml pet", 18),
        ("2 x 330 ml", "60 x 500 ml pet", 24),
        ("1 x 500 ml", "60 x 330 ml swing-top", 28),
        ("1 L", "60 x 500 ml pet", 36),
    ],
)
def test_drinks_are_poured_from_what_bottles_there_are(each: str, bottles: str, drunk: int):
    tree = party("2027-06-12", bottles=bottles)
    tree["event"]["drinks-each"] = each
    plan = plan_of(tree)
    assert plan.events[0].bottles == drunk
    assert plan.bottles.filled >= drunk + 3


def test_a_still_drink_keeps_only_a_spare_bottle():
    tree = party("2028-09-12", recipe="plot-eleven-bramble", bottles="30 x 750 ml wine bottle", guests="12")
    plan = plan_of(tree)
    assert plan.events[0].bottles == 11  # 12 guests, 660 ml each
    assert plan.bottles.filled == 12


def test_bottles_may_be_left_out_with_guests():
    tree = {key: value for key, value in party("2027-06-12").items() if key != "bottles"}
    plan = plan_of(tree)
    assert [(row.ml, row.kind) for row in plan.bottles.rows] == [(330, "one-way glass")]
    assert "bottles" in dict(plan.assumptions)
    assert not plan.bottles.more_ways


def test_several_events_are_brewed_for_together_and_the_first_decides_the_day():
    tree = party("2027-06-12", bottles="90 x 330 ml one-way glass")
    tree["event"] = [
        {"date": "2027-07-10", "name": "regatta", "guests": "6", "drinks-each": "3 x 330 ml"},
        {"date": "2027-06-12", "name": "supper", "guests": "18"},
    ]
    plan = plan_of(tree)
    supper, regatta = plan.events
    assert (supper.name, regatta.name) == ("supper", "regatta")
    assert (supper.bottles, regatta.bottles) == (36, 18)
    assert plan.bottles.filled >= 36 + 18 + 3
    assert plan.task("brew").when.expected == supper.spare_try_by
    assert regatta.margin_days == supper.margin_days + 28
    assert [task.id for task in plan.tasks if task.id.partition("-")[0] in ("chill", "event")] == [
        "chill",
        "event",
        "chill-2",
        "event-2",
    ]


def test_a_volume_that_is_too_little_for_the_guests_is_said():
    _, problems = planned(party("2027-06-12", volume="12 L", guests="30"))
    assert "warn.event-short" in ids(problems, "warn")
    _, problems = planned(party("2027-06-12", volume="12 L", guests="12"))
    assert "warn.event-short" not in ids(problems, "warn")


# What cannot be


def ways(tree: dict[str, Any], today: date = FEBRUARY) -> dict[str, list[Said]]:
    """What the stop offers, by kind."""
    plan, problems = planned(tree, today)
    assert plan is None
    found: dict[str, list[Said]] = {}
    stops = [one for one in problems.of("stop") if isinstance(one.fix, Said) and one.fix.id == "fix.event"]
    for stop in stops:
        assert isinstance(stop.fix, Said)
        offered = stop.fix.values["ways"]
        assert isinstance(offered, tuple)
        for way in offered:
            found.setdefault(way.id.removeprefix("way."), []).append(way)
    return found


def test_a_brew_day_that_is_too_late_names_the_last_one():
    tree = party("2027-04-10", brew_day="2027-03-20")
    found = ways(tree)
    assert found["brew-by"][0].values["on"] == date(2027, 3, 11)
    assert found["another-date"][0].values["on"] == date(2027, 4, 19)
    assert plan_of({**tree, "brew-day": "2027-03-11"}).events[0].met
    assert plan_of(party("2027-04-19", brew_day="2027-03-20")).events[0].met
    assert ways(party("2027-04-18", brew_day="2027-03-20"))


def test_a_warmer_place_is_the_least_that_is_enough():
    tree = party("2027-04-01", room="17 C")
    found = ways(tree)
    place, room = found["warm-place"][0].values["celsius"], found["room"][0].values["celsius"]
    for celsius, met_so in ((place, True), (float(str(place)) - 1, False)):
        plan, _ = planned(
            {**tree, "room": {"fermenting": "17 C", "warm-place": f"{celsius} C", "storing": "17 C"}}
        )
        assert (plan is not None) == met_so
    for celsius, met_so in ((room, True), (float(str(room)) - 1, False)):
        plan, _ = planned(
            {**tree, "room": {"fermenting": f"{celsius} C", "warm-place": "17 C", "storing": "17 C"}}
        )
        assert (plan is not None) == met_so


def test_both_are_offered_only_where_neither_is_enough():
    tree = party("2027-03-22", room="17 C")
    found = ways(tree)
    assert not {"warm-place", "room"} & set(found)
    celsius = found["both"][0].values["celsius"]
    assert plan_of({**tree, "room": f"{celsius} C"}).events[0].met


def test_a_weaker_batch_is_as_strong_as_it_can_be():
    tree = party("2027-05-02", recipe="lantern-shed-winter", brew_day="2027-02-20")
    (weaker,) = ways(tree)["weaker"]
    percent = int(float(str(weaker.values["percent"])))
    batch, _ = read(tree)
    assert batch is not None
    for less, met_so in ((percent, True), (percent - 1, False)):
        parts = tuple(
            replace(part, amount=part.amount * (100 - less) / 100)
            if part.item.role in ("extract", "sugar", "honey", "grain")
            else part
            for part in batch.recipe.ingredients
        )
        thin = replace(batch, recipe=replace(batch.recipe, ingredients=parts))
        assert (met(thin, FEBRUARY)[0] is not None) == met_so


def test_other_recipes_are_planned_before_they_are_named():
    tree = party("2027-04-05", recipe="lantern-shed-winter", room="18 C")
    found = ways(tree)["recipe"]
    assert 1 <= len(found) <= 3
    for way in found:
        other = plan_of({**tree, "recipe": way.values["recipe"], "brew-day": "2027-02-20"})
        assert other.events[0].met
        assert other.events[0].ready == way.values["on"]


def test_an_ordinary_ale_is_never_made_weaker_to_hurry_it():
    assert "weaker" not in ways(party("2027-03-10"))


def test_a_past_event_is_a_stop_until_the_batch_is_brewed():
    _, problems = planned(party("2027-02-19"))
    assert "stop.event-past" in ids(problems, "stop")
    brewed = party("2027-04-20", brew_day="2027-03-06", actual={"brewed": "2027-03-06"})
    plan, problems = planned(brewed, date(2027, 4, 25))
    assert plan is not None
    assert not problems.of("stop")
    assert plan.task("event").state == "done"


def test_what_is_brewed_is_never_stopped_for_an_event():
    plan, problems = planned(party("2027-03-20", actual={"brewed": "2027-03-06"}), date(2027, 3, 8))
    assert plan is not None
    assert "warn.event-late" in ids(problems, "warn")
    assert not plan.events[0].met
    assert plan.events[0].brew_by is None
    assert not plan.has("chill")
    assert plan.has("event")


def test_without_brew_day_or_event_the_brew_day_is_missing():
    batch, problems = read({key: value for key, value in six().items() if key != "brew-day"})
    assert batch is None
    assert [str(one.message)[:20] for one in problems.of("stop")] == ["brew-day: is missing"]


def test_the_brew_day_of_an_event_is_the_day_it_was_brewed():
    plan = plan_of(party("2027-06-12", actual={"brewed": "2027-03-09"}), date(2027, 3, 12))
    assert plan.brew_day_is == "given"
    assert plan.task("brew").when.expected == date(2027, 3, 9)


def test_readings_without_a_brew_day_ask_for_it():
    readings = [{"on": "2027-03-20", "sg": "1.012 at 20 C"}]
    batch, problems = read(party("2027-06-12", actual={"readings": readings}), date(2027, 3, 21))
    assert batch is None
    assert "when it was brewed" in str(problems.of("stop")[0].message)


# Lives without an end, and numbers beyond all measure


@pytest.mark.parametrize(
    "tree",
    [
        party("2100-12-31"),
        {**party("2029-06-12"), "away": ["2027-02-20..2029-06-30"]},
        {
            **party("2027-12-12"),
            "away": [f"2027-{m:02}-{d:02}" for m in range(3, 12) for d in range(2, 29, 3)],
        },
        {
            **party("2027-12-12", recipe="ferry-steps-mead"),
            "my-days": ["mon"],
            "away": ["2027-03-01..2027-12-01"],
        },
        party("2027-06-12", guests="999", bottles="1 x 100 ml pet"),
    ],
)
def test_it_ends_in_a_plan_or_in_a_sentence(tree: dict[str, Any]):
    plan, problems = planned(tree)
    assert (plan is None) == problems.stopped
