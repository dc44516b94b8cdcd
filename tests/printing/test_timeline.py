"""The timeline: lanes true to scale, a calendar with every task, short and long batches on both papers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from itertools import product
from typing import Any

import pytest

from sheetgen.planning import plan as p
from sheetgen.printing import fonts
from sheetgen.printing.marks import Box, Page, Words
from sheetgen.printing.views.timeline import scale_of, timeline
from sheetgen.printing.words import Words as Language
from sheetgen.problems import said

from . import bottling_plans as t
from .sample_plan import BREW

LAST = ("best-from", "best-before")


def _task(task_id: str, day: int, *moves: p.Move) -> p.Task:
    on = BREW + timedelta(days=day)
    return p.Task(task_id, day, p.When(on, on, None), True, "to-do", moves)


MOVED = p.Move(date(2027, 3, 18), said("move.not-my-day", on=date(2027, 3, 18)))


def _tasks() -> tuple[p.Task, ...]:
    """The sample's tasks with hops, a bottling day that moved, and the move to the cool."""
    found = []
    for task in t.PLAN.tasks:
        moves = tuple(
            replace(move, because=said("move.away", until=date(2027, 3, 28))) for move in task.moves
        )
        found.append(replace(task, moves=(MOVED,) if task.id == "bottle" else moves))
    return (*found[:4], _task("dry-hop", 4), *found[4:], _task("move-to-cool", 29))


PLAN = replace(t.PLAN, tasks=_tasks())


def stretched(factor: float) -> p.Plan:
    """The plan, so many times as slow."""

    def moved(day: date) -> date:
        return BREW + timedelta(days=round((day - BREW).days * factor))

    def task(one: p.Task) -> p.Task:
        on = moved(one.when.expected)
        latest = moved(one.when.latest) if one.when.latest else None
        return replace(one, when=p.When(on, on, latest), day=(on - BREW).days, moves=())

    label = t.PLAN.labels
    days = {name: moved(getattr(label, name)) for name in ("filled", "not_before", "best_from", "best_to")}
    return replace(
        PLAN, name=t.LONG_NAME, tasks=tuple(task(one) for one in PLAN.tasks), labels=replace(label, **days)
    )


PLANS = {
    "plain": PLAN,
    "slower": stretched(1.7),
    "twice": stretched(2),
    "long": stretched(3.5),
    "year": stretched(9),
}


def laid(plan: p.Plan, language: Language = t.ENGLISH, paper: str = "a4") -> tuple[Page, ...]:
    return t.laid("timeline", timeline(replace(plan, paper=paper), language), paper)


def cells(view: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return [cell for blocks in view["pages"] for week in blocks for cell in week["cells"]]


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_length_fits_its_paper(name: str, paper: str) -> None:
    pages = laid(PLANS[name], t.ENGLISH if paper == "a4" else t.AMERICAN, paper)
    two = name in {"long", "year"} or (name, paper) == ("twice", "letter")
    assert len(pages) == (2 if two else 1)


@pytest.mark.parametrize("name", PLANS)
def test_every_task_up_to_drinking_stands_in_the_calendar_with_its_date(name: str) -> None:
    plan = PLANS[name]
    view: Mapping[str, Any] = timeline(plan, t.ENGLISH)
    named = [cell for cell in cells(view) if cell["names"]]
    lines = " · ".join(week["quiet"] for blocks in view["pages"] for week in blocks)
    days = {task.when.expected for task in plan.tasks if task.id not in LAST}
    assert len(named) + len({day for day in days if t.ENGLISH.day(day) in lines}) == len(days)
    found = t.text_of(laid(plan))
    for task in plan.tasks:
        assert task.id in LAST or t.ENGLISH.task(task.id) in found


def test_cells_are_wide_enough_to_write_in() -> None:
    """25 millimetres both ways, in batches of every length."""
    for name, paper in product(PLANS, ("a4", "letter")):
        pages = laid(PLANS[name], t.ENGLISH if paper == "a4" else t.AMERICAN, paper)
        boxes = [
            mark
            for page in pages
            for mark in page.marks
            if isinstance(mark, Box) and mark.width == pytest.approx(180 / 7) and mark.weight == 0.5
        ]
        assert len(boxes) >= 28
        assert all(box.height >= 24.99 for box in boxes)


def test_words_keep_clear_of_the_ribbons() -> None:
    for paper, language in (("a4", t.ENGLISH), ("letter", t.AMERICAN)):
        (page,) = laid(PLAN, language, paper)
        ribbons = [mark for mark in page.marks if isinstance(mark, Box) and 1.5 < mark.height < 2.3]
        assert len(ribbons) > 5
        for word in (mark for mark in page.marks if isinstance(mark, Words)):
            left, top, right, _bottom = word.box
            for box in ribbons:
                across = min(right, box.x + box.width) - max(left, box.x)
                down = min(word.y, box.y + box.height) - max(top, box.y)
                assert across <= 0.1 or down <= 0.1, word.text


def test_weeks_begin_as_the_language_says() -> None:
    assert scale_of(PLAN, t.ENGLISH).first == date(2027, 3, 1)
    assert scale_of(PLAN, t.AMERICAN).first == date(2027, 2, 28)
    assert timeline(PLAN, t.AMERICAN)["weekdays"] == ("Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat")


def test_bars_are_true_to_scale() -> None:
    view: Mapping[str, Any] = timeline(PLAN, t.ENGLISH)
    lanes = {lane["name"]: lane for lane in view["lanes"]}
    assert [*lanes] == ["Brew", "Ferment", "Hops", "Test 1", "Test 2", "Bottle", "Fizz", "Drink"]
    assert lanes["Ferment"]["bars"][0]["start"] == pytest.approx(5 / 42, abs=1e-4)
    assert lanes["Ferment"]["bars"][0]["end"] == pytest.approx(20 / 42, abs=1e-4)
    assert lanes["Bottle"]["bars"][0]["end"] == pytest.approx(34 / 42, abs=1e-4)
    assert lanes["Drink"]["marks"][0] == pytest.approx(41.5 / 42, abs=1e-4)
    assert view["away"][0]["start"] == pytest.approx(23 / 42, abs=1e-4)
    assert view["away"][0]["end"] == pytest.approx(28 / 42, abs=1e-4)


def test_what_moved_says_from_where_and_why() -> None:
    (page,) = laid(PLAN)
    found = t.text_of((page,))
    assert "was Thu 18 Mar: not your day" in found
    assert "was Thu 25" in found
    cell = next(cell for cell in cells(timeline(PLAN, t.ENGLISH)) if cell["number"] == "18")
    assert [line[0]["text"] for line in cell["lines"]] == ["Bottle", "not your day"]
    assert cell["lines"][0][0]["struck"]


def test_days_away_are_hatched_and_named_once() -> None:
    hatched = [cell["number"] for cell in cells(timeline(PLAN, t.ENGLISH)) if cell["away"]]
    assert hatched == ["24", "25", "26", "27", "28"]
    (page,) = laid(PLAN)
    assert len([mark for mark in page.marks if isinstance(mark, Words) and mark.text == "Away"]) == 1


def test_what_is_done_is_grey_and_the_next_is_framed() -> None:
    shown = {cell["number"]: cell for cell in reversed(cells(timeline(PLAN, t.ENGLISH)))}
    assert shown["6"]["done"]
    assert shown["6"]["grey"]
    assert [number for number, cell in shown.items() if cell["next"]] == ["17"]


def test_signs_are_explained_once() -> None:
    found = t.text_of(laid(PLAN))
    for sign in ("expected", "may be, or waiting", "away", "a date", "next", "done, grey", "moved"):
        assert sign in found


def test_bottling_is_never_promised() -> None:
    assert "bottle only if the gate is passed" in t.text_of(laid(PLAN))
    assert "last day to bottle" in t.text_of(laid(PLAN))


def test_late_weeks_become_lines_only_to_save_a_second_page() -> None:
    lines = {
        name: [week["quiet"] for blocks in timeline(plan, t.ENGLISH)["pages"] for week in blocks]  # type: ignore[attr-defined]
        for name, plan in PLANS.items()
    }
    assert any("Drink" in line for line in lines["slower"])
    assert not any("Drink" in line for name in ("plain", "long") for line in lines[name])


def test_a_note_without_room_grows_shorter_or_goes() -> None:
    """What moved far leaves no room beside its bar: the lane stays one line high."""
    was = p.Move(date(2027, 3, 9), said("move.not-my-day", on=date(2027, 3, 9)))
    for latest in range(20, 42, 3):
        until = BREW + timedelta(days=latest)
        tasks = [
            replace(one, moves=(was,), when=replace(one.when, earliest=BREW, latest=until))
            if one.id == "bottle"
            else one
            for one in PLAN.tasks
        ]
        lanes: Any = timeline(replace(PLAN, tasks=tuple(tasks)), t.ENGLISH)["lanes"]
        (lane,) = (one for one in lanes if one["name"] == "Bottle")
        width = sum(fonts.width_mm(run["text"], 10.5) for run in lane["note"])
        left = lane["note_at"] - (width if lane["note_align"] == "right" else 0)
        assert left >= 60
        assert left + width <= 195.01


def test_quiet_weeks_are_one_line() -> None:
    view: Mapping[str, Any] = timeline(PLANS["long"], t.ENGLISH)
    quiet = [week["quiet"] for blocks in view["pages"] for week in blocks if week["quiet"]]
    assert quiet
    assert all("without a task" in line or "last day to bottle" in line for line in quiet)
    assert sum("last day to bottle" in line for line in quiet) == 1
    assert all(week["cells"] for blocks in timeline(PLAN, t.ENGLISH)["pages"] for week in blocks)  # type: ignore[attr-defined]


def test_after_filling_the_waiting_is_for_the_fizz() -> None:
    tasks = tuple(replace(one, state="done") if one.id == "bottle" else one for one in PLAN.tasks)
    view: Mapping[str, Any] = timeline(replace(PLAN, tasks=tasks), t.ENGLISH)
    last = view["pages"][0][-1]["ribbons"][-1]
    assert (last["kind"], last["end"]) == ("outline", 7)
    assert "gate" not in t.text_of(laid(replace(PLAN, tasks=tasks))).replace("if gate passed", "gate")


def test_of_many_tests_the_newest_have_a_lane() -> None:
    first = PLAN.task("test-1")
    many = [replace(first, id=f"test-{number}", state="done") for number in range(1, 41)]
    others = [task for task in PLAN.tasks if task.id not in ("test-1", "test-2")]
    plan = replace(PLAN, tasks=tuple(sorted([*others, *many], key=lambda task: task.when.expected)))
    view: Mapping[str, Any] = timeline(plan, t.ENGLISH)
    assert [lane["name"] for lane in view["lanes"]].count("Test") == 3
    assert laid(plan)
