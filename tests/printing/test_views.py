"""Views: frozen, made of words and fractions only, and never too much for the door."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta

import pytest

from sheetgen.planning.plan import Amount, Line, Plan
from sheetgen.printing import fonts
from sheetgen.printing.views.brew import brew
from sheetgen.printing.views.common import batch_line
from sheetgen.printing.views.fridge import MOST_ROWS, chosen_rows, fridge
from sheetgen.printing.views.shop import shop
from sheetgen.printing.words import Words
from sheetgen.problems import Problem, said

from .sample_plan import BREW, FERMENTING, PLAN, TASKS, words

VIEWS: tuple[Callable[[Plan, Words], Mapping[str, object]], ...] = (fridge, shop, brew)
ENGLISH = words()
VERB_MM = 43.0


def _plain(value: object, path: str = "view") -> list[str]:
    """The paths of everything in a view that a layout should not get."""
    if isinstance(value, Mapping):
        changeable = [path] if hasattr(value, "__setitem__") else []
        return changeable + [wrong for key, item in value.items() for wrong in _plain(item, f"{path}.{key}")]
    if isinstance(value, tuple):
        return [wrong for index, item in enumerate(value) for wrong in _plain(item, f"{path}[{index}]")]
    fraction = isinstance(value, int | float) and 0 <= value <= 1
    outside = isinstance(value, float) and path.endswith(("frame.start", "frame.end"))
    return [] if value is None or isinstance(value, str | bool) or fraction or outside else [path]


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("plan", [PLAN, FERMENTING])
def test_views_hold_words_and_fractions_that_nobody_can_change(view, plan: Plan):
    assert _plain(view(plan, ENGLISH)) == []


@pytest.mark.parametrize("language", ["en-GB", "en-US"])
def test_verbs_fit_between_dates_and_notes(language: str):
    spoken = words(language)
    verbs = [pattern for key, pattern in spoken.table.items() if key.startswith("task.")]
    assert [verb for verb in verbs if fonts.width_mm(verb, 28) > VERB_MM] == []


def test_the_door_shows_the_next_thing_first():
    hero = fridge(FERMENTING, ENGLISH)["hero"]
    assert (hero["date"], hero["action"], hero["range"]) == (
        "Wed\u00a017\u00a0March",
        "Test 1",
        "1.010–1.015",
    )


def test_a_date_too_long_for_the_paper_gives_up_its_month():
    late = _shifted(FERMENTING, 189)
    assert fridge(late, ENGLISH)["hero"]["date"] == "Wed\u00a022\u00a0Sep"


def _shifted(plan: Plan, days: int) -> Plan:
    shift = timedelta(days=days)
    tasks = tuple(
        replace(
            task,
            when=replace(task.when, earliest=task.when.earliest + shift, expected=task.when.expected + shift),
        )
        for task in plan.tasks
    )
    return replace(plan, tasks=tasks, away=())


def test_a_moved_day_says_where_it_stood_and_why():
    row = next(row for row in fridge(FERMENTING, ENGLISH)["rows"] if row["verb"] == "Squeeze")
    said_runs = [(run["text"], run["struck"]) for run in row["lines"][0]]
    assert said_runs == [("was ", False), ("Thu\u00a025\u00a0Mar", True), (": away", False)]


@pytest.mark.parametrize("done", range(len(TASKS)))
def test_never_more_than_nine_rows_and_the_next_is_among_them(done: int):
    tasks = tuple(
        replace(task, state="done" if index < done else "next" if index == done else "to-do")
        for index, task in enumerate(TASKS)
    )
    weeks = tuple((BREW + timedelta(days=7 * n), BREW + timedelta(days=7 * n + 2)) for n in range(1, 5))
    plan = replace(PLAN, tasks=tasks, away=weeks)
    rows = chosen_rows(plan)
    assert len(rows) <= MOST_ROWS
    assert [row.on for row in rows] == sorted(row.on for row in rows)
    shown = [row.task.id for row in rows if row.task]
    assert TASKS[done].id in shown or TASKS[done].id.startswith(("look", "best"))
    assert "bottle" in shown


def test_the_gate_prints_the_number_that_passes():
    assert fridge(FERMENTING, ENGLISH)["gate"]["number"] == "1.015"
    stuck = replace(FERMENTING, gate=replace(FERMENTING.gate, state="stuck"))
    assert fridge(stuck, ENGLISH)["gate"]["number"] == "1.017"


@pytest.mark.parametrize("state", ["not-yet", "wait", "measure-again", "pass", "pass-with-care", "stuck"])
def test_every_state_of_the_gate_fits_its_line(state):
    gate = fridge(replace(FERMENTING, gate=replace(FERMENTING.gate, state=state, gap_days=28)), ENGLISH)[
        "gate"
    ]
    assert fonts.width_mm(gate["says"], 13.5) <= 125


def test_the_batch_line_is_to_scale_and_cuts_days_away_out_of_solid_bars():
    plan = replace(PLAN, away=((BREW + timedelta(days=3), BREW + timedelta(days=4)),))
    line = batch_line(plan, ENGLISH, (BREW, BREW))
    spans = [(bar["kind"], bar["start"], bar["end"]) for bar in line["bars"]]
    days = (PLAN.labels.best_to - BREW).days
    assert spans[0] == ("solid", 0.0, round(3 / days, 4))
    assert spans[1][:2] == ("solid", round(5 / days, 4))
    assert spans[-1] == ("solid", round(43 / days, 4), 1.0)


@pytest.mark.parametrize("days", [20, 99, 400, 1500])
def test_words_under_the_batch_line_keep_apart(days: int):
    plan = replace(PLAN, labels=replace(PLAN.labels, best_to=BREW + timedelta(days=days)))
    line = batch_line(plan, ENGLISH, (BREW, BREW))
    ends = [
        (drop["at"], drop["at"] + fonts.width_mm(drop["text"], 8) / 169.5)
        for drop in line["drops"]
        if drop["text"]
    ]
    starts = [start for start, _end in ends[1:]] + [1 - fonts.width_mm(line["best"], 8) / 169.5]
    assert all(end < start for (_start, end), start in zip(ends, starts, strict=True))


def test_every_assumption_is_printed_and_counted():
    view = shop(PLAN, ENGLISH)
    assert sum(len(column) for column in view["assumed"]["columns"]) == len(PLAN.assumptions)
    assert "4 assumptions" in view["page"]["foot"]["right"]


def test_warnings_that_may_stand_on_paper_do():
    written = replace(
        PLAN, problems=(*PLAN.problems, Problem("warn", "27a.yaml says so"), Problem("note", said("x")))
    )
    assert len(shop(written, ENGLISH)["warned"]["lines"]) == 2


def test_a_line_says_its_day_only_if_it_is_another_than_the_one_above():
    notes = [line["note"] for line in shop(PLAN, ENGLISH)["buy"]["lines"]]
    assert [note for note in notes if "by " in note] == ["by Sat\u00a020\u00a0Mar"]


def test_what_is_left_keeps_to_a_day_or_to_a_month_that_is_far():
    malt, hops = said("left.name", name="malt"), said("left.name", name="hops")
    left = (
        Line(malt, Amount(850, "g"), date(2027, 3, 20), said("left.cold")),
        Line(hops, Amount(32, "g"), date(2027, 9, 2), said("left.frozen")),
        Line(malt, Amount(1.5, "L"), None, said("left.label")),
    )
    about = (
        said("packs.volume-follows", litres=12.0),
        said("packs.strength-follows", litres=13.0, percent=4.1),
    )
    lists = replace(PLAN.lists, left_overs=left, about_packs=about)
    view = shop(replace(PLAN, lists=lists), ENGLISH)
    assert [line["text"] for line in view["left"]["lines"]] == [
        "850\u202fg malt: in the fridge, covered, until Sat\u00a020\u00a0Mar",
        "32\u202fg hops: in the freezer, airtight, until Sep\u00a02027",
        "1.5\u202fL malt: as its label says",
    ]
    assert view["about_packs"] == (
        "Whole packs, just as strong: 12\u202fL. Whole packs in 13\u202fL: about 4.1\u202f%."
    )


def test_steps_are_numbered_through_all_groups():
    groups = brew(PLAN, ENGLISH)["groups"]
    numbers = [int(step["number"]) for group in groups for step in group["steps"]]
    assert numbers == list(range(1, len(PLAN.steps) + 1))


def test_minutes_left_are_said_beside_the_clock():
    late = replace(PLAN.steps[3], left_min=15.0)
    groups = brew(replace(PLAN, steps=(late, replace(late, left_min=0.0), *PLAN.steps[4:])), ENGLISH)[
        "groups"
    ]
    assert [step["left"] for step in groups[0]["steps"][:2]] == ["15\u202fmin left", "at the end"]


def test_printed_dates_are_the_plan_s():
    assert PLAN.labels.not_before == date(2027, 4, 11)
    drops = [drop["text"] for drop in batch_line(PLAN, ENGLISH, (BREW, BREW))["drops"]]
    assert drops == ["6\u00a0Mar brew", "21\u00a0Mar bottle", "11\u00a0Apr drink"]


def test_cautions_that_no_step_carries_are_said_where_they_belong():
    plan = replace(PLAN, cautions=("hot-wort", "raw-juice", "airlock", "alcohol"))
    assert [caution["head"] for caution in brew(plan, ENGLISH)["cautions"]] == [
        "A blocked airlock lifts the lid."
    ]
    assert [caution["head"] for caution in shop(plan, ENGLISH)["cautions"]] == ["Only pasteurised juice."]
