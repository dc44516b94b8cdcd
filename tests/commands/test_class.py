"""A class at the command line: everybody's set, what they share, readings, and what stays private."""

from __future__ import annotations

import json
import re
import shutil
import zlib
from collections.abc import Iterator
from pathlib import Path

import jsonschema
import pypdf
import pytest

import sheetgen.planning
from sheetgen import catalogue
from sheetgen.__main__ import main

from .runner import Run

EXAMPLE = catalogue.our_folder() / "recipes" / "examples" / "class-29"
TODAY, THIRD_WEEK = "2029-02-20", "2029-03-22"
SCHEMA = json.loads((Path(sheetgen.planning.__path__[0]) / "plan.schema.json").read_text(encoding="utf-8"))
PEOPLE = {"29A": "Imke", "29B": "Jonas", "29C": "Zoë", "29D": "Anna", "29E": "Anna", "29F": "O'Neil, Mo"}
JOINT = ("sheets.pdf", "roster.pdf", "calendar.ics", "plan.json")


def make(*more: str, today: str = TODAY, source: Path = EXAMPLE / "class.yaml") -> int:
    return main(["make", str(source), "--today", today, *more])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example, made before brewing."""
    folder = tmp_path_factory.mktemp("class")
    assert make("--out", str(folder)) == 0
    return folder


@pytest.fixture(scope="module")
def third_week(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with what was read in the third week, over the first printing."""
    folder = tmp_path_factory.mktemp("third") / "class"
    shutil.copytree(made, folder)
    assert make("--out", str(folder), "--readings", str(EXAMPLE / "week-3.csv"), today=THIRD_WEEK) == 0
    return folder


def test_days_of_another_year_have_their_room_on_the_roster(tmp_path: Path):
    assert make("--only", "roster", "--out", str(tmp_path), today="2027-02-20") == 0
    assert "2029" in text_of(tmp_path / "class-29-roster.pdf")


@pytest.fixture
def klass(folder: Path) -> Path:
    """A copy of the example that may be changed."""
    shutil.copytree(EXAMPLE, folder / "class")
    return folder / "class" / "class.yaml"


def text_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def titles(path: Path) -> list[str]:
    """The bookmarks of the first level."""
    return [str(one.title) for one in pypdf.PdfReader(path).outline if not isinstance(one, list)]


def outlines(path: Path) -> list[pypdf.generic.Destination]:
    """The bookmarks of the second level: sheets."""
    held = pypdf.PdfReader(path).outline
    return [one for inner in held if isinstance(inner, list) for one in inner]  # type: ignore[misc]


def everything_in(path: Path) -> Iterator[str]:
    """A file as it is, each of its streams inflated, and the words of its pages."""
    data = path.read_bytes()
    if path.suffix != ".pdf":
        yield data.decode("utf-8")
        return
    for found in re.finditer(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
        try:
            yield zlib.decompressobj().decompress(found.group(1)).decode("utf-8", "replace")
        except zlib.error:
            continue
    plain = re.sub(rb"stream\r?\n(.*?)endstream", b"", data, flags=re.DOTALL)
    yield plain.decode("utf-8", "replace") + plain.decode("utf-16-be", "replace")
    reader = pypdf.PdfReader(path)
    yield text_of(path) + str(reader.metadata) + str([str(one) for one in reader.outline])


def test_everybody_has_a_folder_and_the_class_its_files(made: Path):
    for code in PEOPLE:
        names = {path.name for path in (made / code).iterdir()}
        assert names == {
            f"{code}-{kind}" for kind in ("sheets.pdf", "labels.pdf", "calendar.ics", "plan.json")
        }
    assert {f"class-29-{kind}" for kind in JOINT} <= {path.name for path in made.iterdir() if path.is_file()}


@pytest.mark.parametrize("code", PEOPLE)
@pytest.mark.parametrize("when", ["made", "third_week"])
def test_nobodys_files_hold_another_name_or_code(code: str, when: str, request: pytest.FixtureRequest):
    others = {one for other, name in PEOPLE.items() for one in (other, name) if other != code}
    others -= {PEOPLE[code]}
    for path in (request.getfixturevalue(when) / code).iterdir():
        for text in everything_in(path):
            assert [one for one in others if re.search(rf"\b{re.escape(one)}\b", text)] == [], path


def test_nobodys_absences_leave_their_own_plan(made: Path):
    """Jonas is away: not even the coach's own files say when, nor the text that goes with his sheets."""
    for path in (*made.glob("*.*"), made / "29B" / "29B-sheets.pdf"):
        assert all("2029-03-16..2029-03-19" not in text for text in everything_in(path)), path
    for code in set(PEOPLE) - {"29B"}:
        plan = json.loads((made / code / f"{code}-plan.json").read_text(encoding="utf-8"))
        assert [one["first"] for one in plan["away"]] == (["2029-03-31"] if code == "29F" else [])


def test_one_person_alone_has_the_same_bytes(made: Path, tmp_path: Path):
    assert make("--out", str(tmp_path), "--person", "jonas") == 0
    written = sorted(path for path in tmp_path.rglob("*") if path.is_file())
    assert [path.name for path in written] == sorted(path.name for path in (made / "29B").iterdir())
    for path in written:
        assert path.read_bytes() == (made / "29B" / path.name).read_bytes()


def test_a_name_of_two_people_asks_for_the_code(run: Run, folder: Path, klass: Path):
    result = run("make", str(klass), "--person", "Anna", today=TODAY)
    assert (result.code, "write 29D or 29E" in result.err) == (2, True)
    assert run("make", str(klass), "--person", "Nobody", today=TODAY).code == 2
    assert not (folder / "class-29").exists()


def test_the_joint_file_has_everybody_on_sheets_of_their_own_and_papers_together(made: Path):
    reader = pypdf.PdfReader(made / "class-29-sheets.pdf")
    assert titles(made / "class-29-sheets.pdf") == [
        *(f"{code} {name}" for code, name in PEOPLE.items() if code != "29C"),
        "29C Zoë",
    ]
    starts = [reader.get_destination_page_number(one) for one in reader.outline if not isinstance(one, list)]
    assert all(start is not None and start % 2 == 0 for start in starts)
    assert len({round(page.mediabox.width) for page in reader.pages[:-6]}) == 1


def test_copies_and_one_sided(tmp_path: Path):
    assert make("--out", str(tmp_path), "--only", "fridge,brew,bottling", "--copies", "2", "--one-sided") == 0
    reader = pypdf.PdfReader(tmp_path / "class-29-sheets.pdf")
    assert len(reader.pages) == 6 * 3 * 2
    assert [page.extract_text() == "" for page in reader.pages] == [False] * 36
    assert "Imke" in reader.pages[3].extract_text()


def test_labels_run_on_from_where_the_last_ones_ended(made: Path, tmp_path: Path):
    whole = text_of(made / "class-29-discs-caps-plain-a4.pdf")
    count = sum(len(re.findall(rf"{code}\b", whole)) for code in PEOPLE)
    assert count == 104
    shared, apart = pypdf.PdfReader(made / "class-29-discs-caps-plain-a4.pdf"), tmp_path
    assert make("--out", str(apart), "--only", "discs", "--new-sheet") == 0
    assert len(shared.pages) == 2
    assert len(pypdf.PdfReader(apart / "class-29-discs-caps-plain-a4.pdf").pages) == 5


def test_the_roster_has_everybody_on_every_day_and_the_list_whole_packs(made: Path):
    text = text_of(made / "class-29-roster.pdf").replace("\u202f", " ").replace("\xa0", " ")
    for code, name in PEOPLE.items():
        assert f"{code} {name}" in text
    assert "6 packs of 1.7 kg" in text
    assert "1 of them to spare" in text
    told = json.loads((made / "class-29-plan.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(SCHEMA).validate(told)
    (extract,) = [one for one in told["shopping"] if one["kind"] == "ingredient"]
    assert sum(one["amount"] for one in extract["shares"]) == pytest.approx(extract["amount"])
    assert sum(one["packs"] * one["size"] for one in extract["packs"]) >= extract["amount"]


def test_the_coachs_calendar_has_everybodys_days_and_rings_for_none(made: Path):
    text = (made / "class-29-calendar.ics").read_bytes().decode().replace("\r\n", "\n")
    own = [(made / code / f"{code}-calendar.ics").read_text(encoding="utf-8") for code in PEOPLE]
    uids = [re.findall(r"^UID:(.*)$", one, re.MULTILINE) for one in own]
    assert sorted(re.findall(r"^UID:(.*)$", text, re.MULTILINE)) == sorted(
        one for each in uids for one in each
    )
    assert "VALARM" not in text
    assert re.search("SUMMARY.*:29B Jonas: Brew", text)


def test_readings_say_who_may_bottle_who_waits_and_who_is_stuck(
    made: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """Two of one name, a decimal comma, a reading without temperature, and one who bottled early."""
    out = ("--out", str(tmp_path), "--only", "roster")
    assert make(*out, "--readings", str(EXAMPLE / "week-3.csv"), today=THIRD_WEEK) == 0
    told = capsys.readouterr()
    lines = told.out.split("Who is where")[1].splitlines()[1:]
    assert [line.split()[0] for line in lines] == ["29E", "29C", "29A", "29F", "29B", "29D"]
    for line, words in zip(
        lines, ("too early", "stuck", "may bottle", "measure again", "wait", "wait"), strict=True
    ):
        assert words in line
    assert "has no temperature" in told.err
    assert "week-3.csv:8:17" in told.err


def test_only_sheets_that_changed_and_are_still_needed_are_printed_again(third_week: Path):
    assert titles(third_week / "class-29-changed.pdf")[0] == "29A Imke"
    text = text_of(third_week / "class-29-changed.pdf")
    assert "Brew sheet" not in [str(one.title) for one in outlines(third_week / "class-29-changed.pdf")]
    assert "Leave the box shut" in text
    assert not (third_week / "29E" / "29E-labels.pdf").exists()
    assert "29E" not in text_of(third_week / "class-29-labels-plain-a4.pdf")


def test_nothing_is_printed_again_where_nothing_changed(third_week: Path, tmp_path: Path):
    again = tmp_path / "class"
    shutil.copytree(third_week, again)
    more = ("--out", str(again), "--readings", str(EXAMPLE / "week-3.csv"))
    assert make(*more, today=THIRD_WEEK) == 0
    assert not (again / "class-29-changed.pdf").exists()


def test_bad_rows_are_all_told_and_nothing_is_written(run: Run, folder: Path, klass: Path):
    table = klass.parent / "people.csv"
    text = table.read_text(encoding="utf-8").replace("12,5;18", "12;8 C").replace("8;17,5", "0,2;17,5")
    table.write_text(text.replace("Volume (L)", "Volume"), encoding="utf-8")
    result = run("make", str(klass), today=TODAY)
    assert result.code == 1
    assert "people.csv:3:13: stop:" in result.err
    assert "in 29B Jonas > volume > column Volume" in result.err
    assert "people.csv:6:7: stop:" in result.err
    assert "nothing was written" in result.err
    assert not (folder / "class-29").exists()


def test_who_can_be_made_is_made_with_skip_bad_and_the_others_are_named(run: Run, folder: Path, klass: Path):
    table = klass.parent / "people.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("12,5;18", "12,5;8"), encoding="utf-8")
    result = run("make", str(klass), "--skip-bad", "--only", "fridge,roster", today=TODAY)
    assert result.code == 0
    assert "nothing was made for 1 person: 29B Jonas" in result.err
    assert {path.name for path in (folder / "class-29").iterdir() if path.is_dir()} == set(PEOPLE) - {"29B"}


def test_a_row_of_readings_that_is_nobodys_is_a_stop_with_its_place(run: Run, klass: Path):
    (klass.parent / "r.csv").write_text("name,date,gravity\nJonnas,2029-03-17,1.012\nAnna,2029-03-17,1012\n")
    result = run("make", str(klass), "--readings", str(klass.parent / "r.csv"), today=THIRD_WEEK)
    assert result.code == 1
    assert "r.csv:2:1: stop:" in result.err
    assert 'did you mean "jonas"?' in result.err
    assert "write one of 29D, 29E" in result.err


def test_a_shared_vessel_is_one_persons_at_a_time(run: Run, klass: Path):
    table = klass.parent / "people.csv"
    lines = table.read_text(encoding="utf-8").splitlines()
    vessels = {1: "blue tub", 2: "", 3: "Blue tub"}
    new = [f"{line};{'shared vessel' if n == 0 else vessels.get(n, '')}" for n, line in enumerate(lines)]
    table.write_text("\n".join(new) + "\n", encoding="utf-8")
    result = run("check", str(klass), today=TODAY)
    assert result.code == 1
    assert "Blue tub is in use by 29A until 2029-03-2" in result.err


def test_what_a_class_has_is_refused_for_a_batch_and_the_other_way_round(run: Run, klass: Path):
    for given in (["--copies", "2"], ["--person", "Imke"], ["--skip-bad"], ["--readings", "r.csv"]):
        result = run("make", "27a.yaml", *given)
        assert (result.code, "none of these files is one" in result.err) == (2, True)
    assert run("make", str(klass), "27a.yaml", today=TODAY).code == 2
    assert run("make", str(klass), "--calendar", "x.ics", today=TODAY).code == 2


def test_show_lists_everybody_and_its_json_is_as_the_schema_says(run: Run, klass: Path):
    out = run("show", str(klass), today=TODAY).out
    assert out.startswith("Class 29 · 6 people · Odile")
    told = json.loads(run("show", str(klass), "--json", today=TODAY).out)
    jsonschema.Draft202012Validator(SCHEMA).validate(told)
    assert [one["batch"]["code"] for one in told["batches"]] == list(PEOPLE)
