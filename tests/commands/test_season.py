"""A season at the command line: checked, shown, made, and brew days suggested for its wishes."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path

import jsonschema
import pytest

import sheetgen.planning
from sheetgen import catalogue
from sheetgen.commands import seasons
from sheetgen.planning.season_search import MOST_LOOKS
from tests.planning.seasons import RESTS

from .runner import Run

EXAMPLE = catalogue.our_folder() / "recipes" / "examples" / "season-2028"
TODAY = "2028-01-15"
SCHEMA = json.loads((Path(sheetgen.planning.__path__[0]) / "plan.schema.json").read_text(encoding="utf-8"))


@pytest.fixture
def season(folder: Path) -> str:
    """The example of a season, in a folder of its own."""
    shutil.copytree(EXAMPLE, folder / "season")
    return "season/season.yaml"


def validate(text: str) -> dict[str, object]:
    told: dict[str, object] = json.loads(text)
    jsonschema.Draft202012Validator(SCHEMA).validate(told)
    return told


def test_the_example_is_whole_and_needs_no_warning(run: Run, season: str):
    result = run("check", season, today=TODAY)
    assert result.code == 0
    assert "warn:" not in result.err
    assert result.out.startswith("season.yaml: it can be made, ")


def test_show_has_batches_vessels_bottles_and_what_to_drink_first(run: Run, season: str):
    out = run("show", season, today=TODAY).out
    for words in (
        "Season 2028 · 3 batches",
        "blue bucket",
        "28A fills",
        "Drink first",
        "by Wed 26 Jan 2028  28A",
        "Next: 28A, Brew",
    ):
        assert words in out


def test_its_json_is_as_the_schema_says(run: Run, season: str):
    told = validate(run("show", season, "--json", today=TODAY).out)
    batches = told["batches"]
    assert isinstance(batches, list)
    assert [one["batch"]["code"] for one in batches] == ["28A", "28B", "28C"]
    assert told["wishes"] == ["28D", "28E"]


def test_a_stop_in_a_batch_file_is_told_there_and_nothing_is_written(run: Run, folder: Path, season: str):
    path = folder / "season" / "28a.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("10 L", "10"), encoding="utf-8")
    result = run("make", season, today=TODAY)
    assert result.code == 1
    assert "28a.yaml:4:9: stop:" in result.err
    assert "4 | volume: 10" in result.err
    assert not (folder / "season-2028").exists()
    validate(run("show", season, "--json", today=TODAY).out)


def test_make_writes_every_set_and_what_they_share(run: Run, folder: Path, season: str):
    result = run("make", season, today=TODAY)
    assert result.code == 0, result.err
    names = {path.name for path in (folder / "season-2028").iterdir()}
    sets = {
        f"{code}-{kind}"
        for code in ("28A", "28B", "28C")
        for kind in ("sheets.pdf", "labels.pdf", "calendar.ics", "plan.json")
    }
    shared = {f"season-2028-{kind}" for kind in ("sheets.pdf", "calendar.ics", "plan.json")}
    assert names == sets | shared
    assert "pages: wall, cellar, shopping" in result.out
    validate((folder / "season-2028" / "season-2028-plan.json").read_text(encoding="utf-8"))


def test_the_same_season_gives_the_same_bytes(run: Run, folder: Path, season: str):
    for out in ("one", "two"):
        assert run("make", season, "--out", out, "--only", "plan,calendar", today=TODAY).code == 0
    for path in (folder / "one").iterdir():
        assert path.read_bytes() == (folder / "two" / path.name).read_bytes()


def test_the_text_kept_with_a_set_makes_that_set_again(run: Run, folder: Path, season: str):
    """Vessel, bottles that are free and days that are taken stand in it; the days away do not."""
    loaded = seasons.load(folder / season, date(2028, 1, 15))
    (one,) = [each for each in loaded.batches if each.plan and each.plan.code == "28C"]
    assert one.plan
    text = one.plan.sources[0][1]
    assert "away" not in text
    (folder / "28c.yaml").write_text(text, encoding="utf-8")
    assert run("make", "28c.yaml", "--only", "plan", today=TODAY).code == 0
    again = json.loads((folder / "28C" / "28C-plan.json").read_text(encoding="utf-8"))
    whole = json.loads(seasons.json_bytes(loaded.plan)) if loaded.plan else {}
    for key in ("quantities", "bottles", "dates", "equipment", "carbonation"):
        assert again[key] == whole["batches"][2][key]


def test_suggest_names_a_day_a_vessel_and_what_to_write(run: Run, season: str):
    result = run("suggest", season, "--today", TODAY)
    assert result.code == 0
    assert "28D: brew-day: 2028-" in result.out
    assert "equipment: {vessel: " in result.out


def test_suggestions_for_programs_are_as_the_schema_says(run: Run, season: str):
    told = validate(run("suggest", season, "--json", "--today", TODAY).out)
    assert told["format"] == "sheetgen-suggestions"
    wishes = told["wishes"]
    assert isinstance(wishes, list)
    assert [(one["code"], one["ready_by"], one["late_days"]) for one in wishes] == [
        ("28D", "2028-06-17", 0),
        ("28E", None, 0),
    ]
    assert all(one["brew_day"] < one["bottled"] < one["drink_from"] for one in wishes)


def test_a_season_that_is_stopped_suggests_nothing(run: Run, folder: Path):
    text = (
        WRITTEN_HERE.replace("2028-03-05", "2028-02-06")
        + "wishes: [{batch: 28D, recipe: towrope-mild, volume: 8 L}]\n"
    )
    (folder / "season.yaml").write_text(text, encoding="utf-8")
    result = run("suggest", "season.yaml", "--json", "--today", TODAY)
    assert result.code == 1
    assert "season.yaml:7:" in result.err
    found = validate(result.out)["problems"]
    assert isinstance(found, list)
    assert [one["id"] for one in found if one["level"] == "stop"] == ["stop.vessel-taken"]


def test_a_season_with_rests_of_packs_is_as_the_schema_says(run: Run, folder: Path):
    text = WRITTEN_HERE.replace("towrope-mild", "rests")
    (folder / "season.yaml").write_text(text, encoding="utf-8")
    (folder / "rests.yaml").write_text(RESTS, encoding="utf-8")
    out = run("show", "season.yaml", "--json", today=TODAY).out
    validate(out)
    assert "10 g are left from before; 1 pack of 50 g, 40 g left over" in out.replace("\u202f", " ")


def test_what_was_suggested_can_be_planned(run: Run, folder: Path, season: str):
    out = run("suggest", season, "--today", TODAY).out
    path = folder / season
    text = path.read_text(encoding="utf-8")
    head, wishes = text.split("wishes:")
    for line in wishes.splitlines():
        code = line.split("batch: ")[1][:3] if "batch: " in line else ""
        keys = next(
            (each.split(": ", 1)[1] for each in out.splitlines() if each.startswith(f"  {code}: ")), ""
        )
        if code:
            head += line.replace(", ready-by: 2028-06-17", "").replace("}", f", {keys}}}") + "\n"
    path.write_text(head, encoding="utf-8")
    result = run("check", season, today=TODAY)
    assert result.code == 0, result.err
    assert "stop:" not in result.err


def test_help_and_readme_say_how_long_suggest_looks(run: Run):
    looks = f"{MOST_LOOKS:,} looks"
    assert looks in " ".join(run("suggest", "--help").out.split())
    assert looks in " ".join((Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8").split())


def test_suggest_is_for_seasons(run: Run):
    result = run("suggest", "27a.yaml", "--today", "2027-02-20")
    assert result.code == 2
    assert "is not a season file" in result.err


WRITTEN_HERE = """\
season: 2028
stock: {500 ml returnable glass: 20, caps: 30}
vessels: [{name: blue bucket, holds: 12 L}]
base: {room: {fermenting: 20 C, warm-place: 20 C}, equipment: {pot: 8 L}}
batches:
  - {batch: 28A, recipe: towrope-mild, volume: 8 L, brew-day: 2028-02-05}
  - {batch: 28B, recipe: towrope-mild, volume: 8 L, brew-day: 2028-03-05}
  - {batch: 28C, recipe: towrope-mild, volume: 8 L, brew-day: 2028-05-05}
"""


def test_every_finding_has_its_place_in_the_season_file(run: Run, folder: Path):
    """What the season decided (bottles, a vessel) is said where the file speaks of it."""
    (folder / "season.yaml").write_text(WRITTEN_HERE, encoding="utf-8")
    told = run("check", "season.yaml", today=TODAY).err.splitlines()
    placed = [line for line in told if line[:1].strip() and not line.startswith("note:")]
    assert placed
    assert all(line.startswith("season.yaml:") for line in placed)
    assert sum("too coarse for single doses" in line for line in told) == 1
    assert any(line.startswith("season.yaml:4:") and "too coarse" in line for line in told)


def test_a_shortage_of_the_stock_is_told_once(run: Run, folder: Path):
    """28B finds some bottles, 28C none: neither says besides that its own bottles are too few."""
    (folder / "season.yaml").write_text(WRITTEN_HERE, encoding="utf-8")
    told = run("check", "season.yaml", today=TODAY).err
    assert told.count("are missing on") == 2
    assert "will be ready to bottle" not in told
