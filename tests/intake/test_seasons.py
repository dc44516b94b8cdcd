"""Season files: what they may say, where batches may lie, and what is told when something is wrong."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sheetgen.intake.season import SeasonFile, read_season, reread
from sheetgen.intake.written import as_text
from sheetgen.nodes import load

TODAY = date(2028, 1, 15)
BATCH = """batch: 28A
recipe: towrope-mild
brew-day: 2028-02-05
volume: 8 L
room: 20 C
bottles: 30 x 500 ml returnable glass
"""
INLINE = "{batch: 28B, recipe: towrope-mild, brew-day: 2028-03-04, volume: 8 L, bottles: 30 x 500 ml pet}"


def read(folder: Path, text: str) -> SeasonFile:
    path = folder / "season.yaml"
    path.write_text(text, encoding="utf-8")
    return read_season(path, TODAY)


def told(found: SeasonFile) -> list[tuple[str, str]]:
    return [(str(one.span), str(one.message)) for one in found.problems.of("stop")]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "28a.yaml").write_text(BATCH, encoding="utf-8")
    (tmp_path / "spring").mkdir()
    (tmp_path / "spring" / "28c.yaml").write_text(BATCH.replace("28A", "28C"), encoding="utf-8")
    return tmp_path


def test_batches_from_files_from_folders_and_written_out(folder: Path):
    found = read(folder, f"season: 2028\nbatches:\n  - 28a.yaml\n  - spring/28c.yaml\n  - {INLINE}\n")
    assert told(found) == []
    assert found.season
    assert [one.code for one in found.season.batches] == ["28A", "28C", "28B"]


@pytest.mark.parametrize(
    "name",
    [
        "../28a.yaml",
        "/etc/passwd",
        "spring/../28a.yaml",
        "28a",
        "~/28a.yaml",
        "a\\b.yaml",
        ".hidden.yaml",
        "28z.yaml",
    ],
)
def test_no_file_outside_the_folder_is_opened(folder: Path, name: str):
    inner = folder / "inner"
    inner.mkdir()
    found = read(inner, f"season: 2028\nbatches: ['{name}']\n")
    assert found.season is None
    assert found.files == {}
    assert len(told(found)) == 1
    assert told(found)[0][0].startswith("season.yaml:2:")


def test_nor_through_a_link(folder: Path):
    inner = folder / "inner"
    inner.mkdir()
    (inner / "28a.yaml").symlink_to(folder / "28a.yaml")
    assert "there is no file" in told(read(inner, "season: 2028\nbatches: [28a.yaml]\n"))[0][1]


def test_all_problems_of_all_files_are_told_at_once_each_in_its_file(folder: Path):
    (folder / "28a.yaml").write_text(BATCH.replace("8 L", "8"), encoding="utf-8")
    (folder / "spring" / "28c.yaml").write_text(BATCH.replace("room", "rom"), encoding="utf-8")
    found = read(folder, "season: 2028\ndrunk: a lot\nbatches: [28a.yaml, spring/28c.yaml]\n")
    assert [place.rpartition(":")[0] for place, _ in told(found)] == [
        "28a.yaml:4",
        "season.yaml:2",
        "spring/28c.yaml:1",
        "spring/28c.yaml:5",
    ]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("batches: []", "there is no batch"),
        ("batches: 12", "cannot be a batch file"),
        ("batches: [28a.yaml, 28a.yaml]", "in this season already"),
        ("batches: [[a]]", "expected a batch"),
        ("batches: [28a.yaml]\ncleaning: 99 days", "not possible"),
        ("batches: [28a.yaml]\nstock: 12", "expected bottles"),
        ("batches: [28a.yaml]\nstock: {caps: many}", "many"),
        ("batches: [28a.yaml]\nwarm-place: large", "how many bottles"),
        ("batches: [28a.yaml]\ndrunk: 0 a week", "how many bottles a week"),
        ("batches: [28a.yaml]\nvessels: [{name: a, holds: 9 L}, {name: a, holds: 9 L}]", "two vessels"),
        ("batches: [28a.yaml]\nbottles: 3", "not a key of season"),
    ],
)
def test_what_is_wrong_is_one_sentence_with_its_line(folder: Path, text: str, message: str):
    found = read(folder, f"season: 2028\n{text}\n")
    assert found.season is None
    assert any(message in sentence for _, sentence in told(found))


def test_a_season_is_named_by_letters_digits_and_hyphens(folder: Path):
    assert "cannot name a season" in told(read(folder, "season: ../x\nbatches: [28a.yaml]\n"))[0][1]


def test_a_file_of_another_kind_is_no_batch(folder: Path):
    (folder / "other.yaml").write_text("season: 2029\nbatches: []\n", encoding="utf-8")
    assert "is a season, not a batch" in told(read(folder, "season: 2028\nbatches: [other.yaml]\n"))[0][1]


def test_a_batch_of_a_season_has_a_brew_day(folder: Path):
    event = "event: {date: 2028-09-02, guests: 10}"
    (folder / "28a.yaml").write_text(BATCH.replace("brew-day: 2028-02-05", event), encoding="utf-8")
    assert any(
        "has no brew day" in sentence
        for _, sentence in told(read(folder, "season: 1\nbatches: [28a.yaml]\n"))
    )


def test_very_many_batches_are_refused_soon(folder: Path):
    many = ", ".join(["28a.yaml"] * 5000)
    assert "too many" in told(read(folder, f"season: 2028\nbatches: [{many}]\n"))[0][1]


# One thing has one name


def test_a_vessel_is_known_by_its_name(folder: Path):
    (folder / "28a.yaml").write_text(BATCH + "equipment: {vessel: blue bucket}\n", encoding="utf-8")
    found = read(folder, "season: 2028\nbatches: [28a.yaml]\nvessels: [{name: blue bucket, holds: 15 L}]\n")
    assert found.season
    gear = found.season.batches[0].equipment
    assert (gear.vessel_name, gear.vessel) == ("blue bucket", 15.0)


def test_one_vessel_has_one_volume(folder: Path):
    (folder / "28a.yaml").write_text(
        BATCH + "equipment: {vessel: {name: blue bucket, holds: 12 L}}\n", encoding="utf-8"
    )
    found = read(folder, "season: 2028\nbatches: [28a.yaml]\nvessels: [{name: blue bucket, holds: 15 L}]\n")
    assert told(found) == [("28a.yaml:7:48", "blue bucket holds 15 L at season.yaml:3, and 12 L here")]


def test_a_vessel_that_nobody_has(folder: Path):
    (folder / "28a.yaml").write_text(BATCH + "equipment: {vessel: blue buckett}\n", encoding="utf-8")
    found = read(folder, "season: 2028\nbatches: [28a.yaml]\nvessels: [{name: blue bucket, holds: 15 L}]\n")
    (problem,) = found.problems.of("stop")
    assert str(problem.fix) == 'did you mean "blue bucket"?'


def test_a_code_is_one_batchs_alone(folder: Path):
    found = read(folder, f"season: 2028\nbatches: [28a.yaml, {INLINE.replace('28B', '28A')}]\n")
    assert any("28A is a batch of this season already" in sentence for _, sentence in told(found))


def test_what_is_written_out_here_stands_on_the_base(folder: Path):
    text = f"season: 2028\nbase: {{room: 18 C, brewer: Imke}}\nbrewer: Noor\nbatches: [28a.yaml, {INLINE}]\n"
    found = read(folder, text)
    assert found.season
    assert [(one.brewer, one.room.warm_place) for one in found.season.batches] == [
        ("Noor", 20.0),
        ("Imke", 18.0),
    ]


# What is kept with the paper


def test_the_kept_text_reads_as_the_same_batch_without_the_days_away(folder: Path):
    found = read(
        folder, f"season: 2028\naway: [2028-02-19..2028-02-20]\nmy-days: [sat]\nbatches: [{INLINE}]\n"
    )
    (member,) = found.batches
    text = as_text(member.tree)
    assert "away" not in text
    (folder / "alone.yaml").write_text(text, encoding="utf-8")
    again = read(folder, "season: 2028\naway: [2028-02-19..2028-02-20]\nbatches: [alone.yaml]\n")
    assert again.season
    assert found.season
    assert again.season.batches == found.season.batches


def test_what_the_season_decides_is_kept_too(folder: Path):
    found = read(folder, f"season: 2028\nbatches: [{INLINE}]\n")
    more, _ = load(b"bottles: [{size: 500 ml, kind: pet, count: 0}]\ntaken: [2028-03-18]\n", "x")
    assert more
    batch, _ = reread(found.batches[0], more, TODAY, {})
    assert batch
    assert [row.count for row in batch.bottles] == [0]
    assert batch.taken == {date(2028, 3, 18)}
    assert "2028-03-18" in batch.sources[0][1]
