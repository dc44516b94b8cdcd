"""What the phone gets: the hands-on days, each with the numbers of that day."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from sheetgen.planning.plan import Plan, Safety, Task
from sheetgen.printing.calendar_file import Event, calendar_bytes
from sheetgen.printing.views.calendar import calendar_name, events
from sheetgen.problems import said

from .sample_plan import PLAN, words

WORDS = words()


def found(given: Plan, task_id: str) -> Event:
    return next(event for event in events(given, WORDS) if event.uid_key.endswith(f"/{task_id}"))


def hands_off(given: Plan, *ids: str) -> Plan:
    return replace(given, tasks=tuple(replace(task, hands_on=task.id not in ids) for task in given.tasks))


def with_task(given: Plan, task_id: str, **changes: object) -> Plan:
    def changed(task: Task) -> Task:
        return replace(task, **changes) if task.id == task_id else task

    return replace(given, tasks=tuple(map(changed, given.tasks)))


def with_gate(given: Plan, **changes: object) -> Plan:
    return replace(given, gate=replace(given.gate, **changes))


def plain(text: str) -> str:
    return text.replace("\u202f", " ").replace("\u00a0", " ")


def test_only_hands_on_days_are_in_it():
    given = hands_off(PLAN, "look-12h", "look-24h", "look-48h", "best-from", "best-before", "drink-from")
    ids = [event.uid_key.rpartition("/")[2] for event in events(given, WORDS)]
    assert ids == ["brew", "test-1", "test-2", "bottle", "squeeze", "test-bottle"]


def test_a_reading_that_was_taken_is_no_event():
    ids = [event.uid_key for event in events(with_task(PLAN, "test-1", state="done"), WORDS)]
    assert "27A/test-1" not in ids
    assert "27A/test-2" in ids


def test_titles_begin_with_the_code():
    assert all(event.summary.startswith("27A: ") for event in events(PLAN, WORDS))
    assert calendar_name(PLAN, WORDS).startswith("27A ")


def test_a_day_is_the_expected_one_and_its_range_is_said():
    event = found(PLAN, "bottle")
    assert (event.on, event.last) == (date(2027, 3, 21), date(2027, 3, 21))
    assert "and Sat 3 Apr" in plain(event.description)


def test_identity_survives_a_new_plan():
    moved = with_task(PLAN, "test-1", when=replace(PLAN.task("test-1").when, expected=date(2027, 3, 20)))
    assert found(moved, "test-1").uid_key == found(PLAN, "test-1").uid_key
    assert found(moved, "test-1").on == date(2027, 3, 20)
    assert (
        found(replace(PLAN, revision=7, printed=date(2027, 3, 9)), "brew").uid_key
        == found(PLAN, "brew").uid_key
    )


def test_another_batch_is_another_event():
    others = (PLAN, replace(PLAN, code="27B"))
    assert len({found(other, "brew").uid_key for other in others}) == 2


def test_a_renamed_recipe_is_the_same_event():
    assert found(replace(PLAN, recipe="amber"), "brew").uid_key == found(PLAN, "brew").uid_key == "27A/brew"


def test_a_moved_day_says_where_it_stood_and_why():
    assert "Was Thu 25 Mar: you are away" in plain(found(PLAN, "squeeze").description)


def test_done_days_stay_without_an_alarm_and_without_advice_on_when():
    event = found(with_task(PLAN, "brew", state="done"), "brew")
    assert not event.alarm
    assert "Between" not in event.description
    assert "Not before" not in event.description
    assert found(PLAN, "brew").alarm


def test_brew_day_has_its_litres():
    assert "12 L" in plain(found(PLAN, "brew").description)


def test_tests_carry_the_gates_numbers():
    for name in ("test-1", "test-2"):
        text = plain(found(PLAN, name).description)
        assert "at most 1.015" in text
        assert "1.017" in text
        assert "2 days apart" in text


def test_sugar_stands_behind_the_gate():
    text = plain(found(PLAN, "bottle").description)
    assert text.index("Only if the gate is passed") < text.index("3.0 g")
    assert "500 ml" in text
    assert "1 L" in text


@pytest.mark.parametrize("state", ["pass", "pass-with-care"])
def test_a_passed_gate_is_said(state: str):
    text = plain(found(with_gate(PLAN, state=state), "bottle").description)
    assert "Only if" not in text
    assert "3.0 g" in text


def test_a_stuck_batch_has_no_sugar_in_it():
    text = plain(found(with_gate(PLAN, state="stuck"), "bottle").description)
    assert "Do not bottle" in text
    assert not re.search(r"\d g\b", text)


def test_pet_only_is_said():
    assert "Only plastic" in found(with_gate(PLAN, pet_only=True), "bottle").description


def test_a_still_drink_has_no_sugar():
    assert not re.search(r"\d g\b", plain(found(replace(PLAN, carbonation=None), "bottle").description))


def test_in_bulk_gives_one_weight():
    gas = replace(PLAN.carbonation, dosing="in-bulk")
    text = plain(found(replace(PLAN, carbonation=gas), "bottle").description)
    assert "68 g" in text
    assert "3.0 g" not in text


def test_when_glass_was_sealed_too_early_every_coming_day_says_so_and_nothing_else():
    given = with_task(replace(PLAN, safety=Safety((said("sample.away"),), ())), "brew", state="done")
    coming = [event for event in events(given, WORDS) if not event.uid_key.endswith("/brew")]
    assert coming
    assert all("safety sheet" in event.description for event in coming)
    assert not any(re.search(r"\d", event.description) for event in coming)
    assert [event.uid_key for event in events(given, WORDS)] == [
        event.uid_key for event in events(PLAN, WORDS)
    ]


def test_every_sentence_is_short():
    sentences = [
        sentence
        for event in events(PLAN, WORDS)
        for line in event.description.splitlines()
        for sentence in re.split(r"[.;:] ", line)
    ]
    assert max(len(sentence.split()) for sentence in sentences) <= 20


def test_the_file_can_be_written():
    given = events(PLAN, WORDS)
    assert calendar_bytes("27A", given, date(2027, 2, 20), "en-GB").count(b"BEGIN:VEVENT") == len(given)
