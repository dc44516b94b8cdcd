"""What a batch file may say, and what it then means."""

from __future__ import annotations

from datetime import date, time
from pathlib import Path

import pytest

from intake.told import TODAY, good, read, said, six_lines
from sheetgen.intake import read_batch, read_batch_bytes


def test_six_lines_are_enough() -> None:
    batch = good(six_lines())
    assert (batch.code, batch.recipe.id, batch.litres) == ("27A", "copper-lane-amber", 12.0)
    assert (batch.brew_day, batch.start, batch.my_days) == (date(2027, 3, 6), None, None)
    assert batch.room.fermenting == (19.0, 19.0)
    assert [(row.ml, row.kind.id, row.count) for row in batch.bottles] == [(500.0, "returnable glass", 26)]


def test_every_default_is_an_assumption() -> None:
    keys = {each.key for each in good(six_lines()).assumptions}
    gear = {"hydrometer", "hydrometer.in-water", "cleaner", "sanitiser", "scales"}
    water = {"tap", "fridge", "fridge-space", "altitude"}
    rest = {"my-days", "sugar", "dosing", "paper", "language", "units", "labels.stock"}
    rest |= {"room.warm-place", "room.storing"}
    assert keys == rest | {f"equipment.{key}" for key in gear} | {f"water.{key}" for key in water}


def test_a_room_and_a_volume_that_are_not_said_are_assumed_on_the_cautious_side() -> None:
    batch = good(six_lines(room=None, volume=None))
    assert (batch.room.fermenting, batch.litres) == ((18.0, 18.0), 12.0)
    assert {"room.fermenting", "volume"} <= {each.key for each in batch.assumptions}


def test_what_is_said_is_not_assumed() -> None:
    batch = good(Path("recipes/examples/27b.yaml").read_text(encoding="utf-8"))
    assert batch.assumptions == ()


def test_a_room_range_is_slow_for_fizz_and_warm_for_storing() -> None:
    room = good(six_lines(room="15-20 C")).room
    assert (room.fermenting, room.warm_place, room.storing) == ((15.0, 20.0), 15.0, 20.0)


def test_a_room_as_a_map() -> None:
    room = good(six_lines(room="{fermenting: 59-68 F, warm-place: 21 C, storing: 12 C}")).room
    assert room.fermenting == (pytest.approx(15), pytest.approx(20))
    assert (room.warm_place, room.storing) == (21.0, 12.0)


def test_volume_as_a_number_of_bottles() -> None:
    batch = good(six_lines(volume="24 x 500 ml"))
    assert (batch.litres, batch.bottle_goal) == (None, (24, 500.0))


def test_bottles_that_are_counted_in_the_volume_need_not_be_said_twice() -> None:
    batch, problems = read(six_lines(volume="24 x 500 ml", bottles=None))
    assert batch
    assert [(row.count, row.ml, row.known) for row in batch.bottles] == [(24, 500.0, False)]
    assert [problem.level for problem in problems] == ["warn"]


def test_a_time_of_day_gives_the_start() -> None:
    assert good(six_lines(brew_day="2027-03-06 10:00")).start == time(10, 0)


def test_days_as_a_list_or_as_a_text_with_commas() -> None:
    for written in ("[sat, Sunday, wed]", "sat, Sunday, wed"):
        assert good(six_lines(f"my-days: {written}\n")).my_days == {5, 6, 2}


def test_away_ranges_are_put_in_order_and_joined() -> None:
    away = "away: [2027-04-01, 2027-03-13..2027-03-16, 2027-03-15..2027-03-20]\n"
    days = good(six_lines(away)).away
    assert days == ((date(2027, 3, 13), date(2027, 3, 20)), (date(2027, 4, 1), date(2027, 4, 1)))


def test_equipment_in_short_and_in_full() -> None:
    short = good(six_lines("equipment: {vessel: 15 L, hydrometer: 15 C}\n")).equipment
    full = good(six_lines("equipment: {vessel: {name: tub, holds: 15 L}, hydrometer: {in-water: 0.998}}\n"))
    assert (short.vessel, short.vessel_name, short.hydrometer.calibrated) == (15.0, "", 15.0)
    assert (full.equipment.vessel_name, full.equipment.hydrometer.in_water) == ("tub", 0.998)


def test_vessel_and_pot_stay_open_when_they_are_not_said() -> None:
    assert (good(six_lines()).equipment.vessel, good(six_lines()).equipment.pot) == (None, None)


def test_words_may_be_written_with_capitals_spaces_and_hyphens() -> None:
    batch = good(six_lines("dosing: in bulk\nsugar: Table-Sugar\npaper: letter\n"))
    assert (batch.dosing, batch.sugar, batch.paper) == ("in-bulk", "table sugar", "Letter")


def test_paper_and_units_follow_the_language() -> None:
    batch = good(six_lines("language: en-US\n"))
    assert (batch.paper, batch.units) == ("Letter", "us")


def test_the_command_line_wins_over_the_file() -> None:
    text = six_lines("paper: A4\nlabels: {stock: a4-2x7, start-at: 4}\n").encode()
    batch, _ = read_batch_bytes(text, "test.yaml", TODAY, None, {"paper": "Letter", "start-at": "7"})
    assert batch
    assert (batch.paper, batch.labels.start_at, batch.labels.stock) == ("Letter", 7, "a4-2x7")


@pytest.mark.parametrize("value", ["", "A3", "\x1b[31m", "4\n5"])
def test_a_bad_value_on_the_command_line_is_told(value: str) -> None:
    batch, problems = read_batch_bytes(six_lines().encode(), "test.yaml", TODAY, None, {"paper": value})
    assert batch is None
    assert [str(problem.span) for problem in problems.of("stop")] == ["--paper:1:1"]


def test_places_are_kept_for_later_stages() -> None:
    batch = good(six_lines("equipment: {vessel: 15 L}\n"))
    places = {key: f"{span.line}:{span.column}" for key, span in batch.where.items()}
    assert places["bottles"] == "6:10"
    assert (places["bottles.0"], places["room.fermenting"], places["equipment.vessel"]) == (
        "6:11",
        "5:7",
        "7:21",
    )
    assert batch.where["recipe.ingredients.0"].file == "copper-lane-amber.yaml"


def test_sources_hold_batch_and_recipe_but_no_absences() -> None:
    text = six_lines("away: [2027-03-13..2027-03-16]   # Rome\nbrewer: Joram\n")
    sources = good(text).sources
    assert [name for name, _ in sources] == ["test.yaml", "copper-lane-amber.yaml"]
    assert sources[0][1] == six_lines("brewer: Joram\n")


def test_absences_over_several_lines_are_left_out_too() -> None:
    text = six_lines("away:\n  - 2027-03-13..2027-03-16\n  - 2027-04-01\n")
    assert good(text).sources[0][1] == six_lines()


def test_a_file_on_one_line_with_absences_is_not_attached() -> None:
    text = "{batch: 27A, recipe: towrope-mild, brew-day: 2027-03-06, away: 2027-03-13, bottles: 9 x 1 L pet}"
    assert good(text).sources[0][1] == ""


def test_a_recipe_beside_the_batch_comes_first(tmp_path: Path) -> None:
    own = Path("recipes/copper-lane-amber.yaml").read_text(encoding="utf-8").replace("Copper", "Tin")
    (tmp_path / "copper-lane-amber.yaml").write_text(own, encoding="utf-8")
    (tmp_path / "27a.yaml").write_text(six_lines(), encoding="utf-8")
    batch, _ = read_batch(tmp_path / "27a.yaml", TODAY)
    assert batch
    assert batch.recipe.name == "Tin Lane Amber"


def test_a_damaged_recipe_is_told_with_its_own_place(tmp_path: Path) -> None:
    (tmp_path / "copper-lane-amber.yaml").write_text("recipe-name: X\ndrink: tea\n", encoding="utf-8")
    batch, problems = read(six_lines(), beside=tmp_path)
    assert batch is None
    assert {problem.span.file for problem in problems if problem.span} == {"copper-lane-amber.yaml"}
    assert any('"tea" is not known as drink' in said(problem) for problem in problems)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    batch, problems = read_batch(tmp_path / "27a.yaml", TODAY)
    assert batch is None
    assert problems.stopped
