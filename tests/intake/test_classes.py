"""A class: one batch for all and a table of people; who differs, in what, and what is wrong with whom."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sheetgen.intake.class_kinds import MOST_PEOPLE, codes
from sheetgen.intake.classes import ClassFile, read_class, read_person
from sheetgen.model import Batch

TODAY = date(2027, 2, 20)
BASE = """class: 27
recipe: copper-lane-amber
brew-day: 2027-03-06
volume: 10 L
room: 19 C
equipment: {vessel: 15 L, pot: 8 L}
bottles: 24 x 500 ml returnable glass
people: people.csv
"""


def klass(folder: Path, table: str, base: str = BASE) -> ClassFile:
    (folder / "class.yaml").write_text(base, encoding="utf-8")
    (folder / "people.csv").write_bytes(table.encode())
    return read_class(folder / "class.yaml", TODAY)


def batch(found: ClassFile, code: str) -> Batch:
    (person,) = [one for one in found.people if one.code == code]
    read, problems = read_person(person, TODAY)
    assert read is not None, list(problems)
    return read


def stops(found: ClassFile) -> list[str]:
    own = [*found.problems.of("stop"), *(one for each in found.people for one in each.wrong)]
    read = [one for each in found.people for one in read_person(each, TODAY)[1].of("stop")]
    return [f"{one.span}: {'>'.join(one.path[:1])}: {one.message} | {one.fix}" for one in [*own, *read]]


def test_everybody_has_the_base_and_what_is_their_own(tmp_path: Path):
    found = klass(tmp_path, "name;volume;room\nImke;;\nJonas;12,5 L;17 C\n")
    assert stops(found) == []
    imke, jonas = batch(found, "27A"), batch(found, "27B")
    assert (imke.brewer, imke.litres, imke.room.fermenting[0]) == ("Imke", 10.0, 19.0)
    assert (jonas.brewer, jonas.litres, jonas.room.fermenting[0]) == ("Jonas", 12.5, 17.0)
    assert jonas.brew_day == imke.brew_day


def test_columns_may_stand_in_any_order_and_be_called_as_people_call_them(tmp_path: Path):
    found = klass(
        tmp_path,
        "Bottles,Room (C),START,Away,Vessel,Name,my days\n"
        '"6 x 1 L pet, 12 x 500 ml returnable glass",18,10:30,2027-03-13..2027-03-16,14 L,Ada,"sat, sun"\n',
    )
    assert stops(found) == []
    ada = batch(found, "27A")
    assert [(row.ml, row.count) for row in ada.bottles] == [(1000.0, 6), (500.0, 12)]
    assert (ada.room.fermenting[0], str(ada.start), ada.equipment.vessel) == (18.0, "10:30:00", 14.0)
    assert ada.away == ((date(2027, 3, 13), date(2027, 3, 16)),)
    assert ada.my_days == frozenset((5, 6))


def test_ones_own_bottles_replace_those_of_all(tmp_path: Path):
    base = BASE.replace("24 x 500 ml returnable glass", "{500 ml returnable glass: 24}")
    found = klass(tmp_path, "name;bottles\nAda;{1 L pet: 12}\n", base)
    assert [(row.ml, row.count) for row in batch(found, "27A").bottles] == [(1000.0, 12)]


def test_a_warm_place_of_ones_own_leaves_the_room_as_it_is(tmp_path: Path):
    room = batch(klass(tmp_path, "name,warm place\nAda,22 C\n"), "27A").room
    assert (room.fermenting[0], room.warm_place) == (19.0, 22.0)


def test_two_of_one_name_are_told_apart_by_their_codes(tmp_path: Path):
    found = klass(tmp_path, "name\nAnna\nBo\nAnna\n")
    assert [(one.code, one.name) for one in found.people] == [("27A", "Anna"), ("27B", "Bo"), ("27C", "Anna")]
    assert [str(one.message) for one in found.problems] == [
        "2 people are called Anna: their codes are 27A, 27C"
    ]


def test_who_is_gone_keeps_the_code_and_so_does_everybody_else(tmp_path: Path):
    found = klass(tmp_path, "name,gone\nAda,\nBo,yes\n\nCleo,\n")
    assert [(one.code, one.name) for one in found.people] == [("27A", "Ada"), ("27C", "Cleo")]


def test_a_code_may_be_given_and_nobody_else_gets_it(tmp_path: Path):
    found = klass(tmp_path, "name,code\nAda,\nBo,27A\n")
    assert [(one.code, one.name) for one in found.people] == [("27B", "Ada"), ("27A", "Bo")]
    assert "27A is the code of Ada already" in stops(klass(tmp_path, "name,code\nAda,27A\nBo,27A\n"))[0]


def test_codes_have_no_look_alikes_and_reach_for_a_large_class():
    every = list(codes("27", ()))
    assert (every[0], every[20], every[21], len(every)) == ("27A", "27Y", "27AA", MOST_PEOPLE)
    assert not set("IOQSZ") & set("".join(every))
    assert "NUL" not in list(codes("NU", ()))


def test_what_is_wrong_names_row_person_and_column(tmp_path: Path):
    found = klass(tmp_path, "name;volume;room\nAda;;\n\nBo;12;19\n;11 L;\n")
    (bare, cold, nameless) = sorted(stops(found))
    assert bare.startswith("people.csv:4:4: batch 27B: ")
    assert cold.startswith("people.csv:4:7: batch 27B: ")
    assert nameless.startswith("people.csv:5:1: no name: nobody's name stands in this row")
    (person,) = [one for one in found.people if one.name == "Bo"]
    assert [one.span.cell for one in read_person(person, TODAY)[1].of("stop") if one.span] == [
        "volume",
        "room",
    ]


def test_a_column_that_is_not_known_is_a_stop_until_it_is_set_aside(tmp_path: Path):
    table = "name,volme,phone\nAda,10 L,0123\n"
    near, far = stops(klass(tmp_path, table))
    assert near.startswith("people.csv:1:6:")
    assert 'did you mean "volume"?' in near
    assert "ignore: [phone]" in far
    assert stops(klass(tmp_path, table.replace("volme", "volume"), f"{BASE}ignore: [Phone]\n")) == []


def test_a_key_that_is_not_known_is_told_once_and_not_for_everybody(tmp_path: Path):
    (told,) = stops(klass(tmp_path, "name\nAda\nBo\n", BASE.replace("room:", "roome:")))
    assert 'did you mean "room"?' in told


@pytest.mark.parametrize(
    "name", ["../people.csv", "/etc/people.csv", "people.exe", "a/../../people.csv", ".people.csv"]
)
def test_no_table_is_read_outside_the_folder(tmp_path: Path, name: str):
    (tmp_path / "people.csv").write_text("name\nAda\n")
    inside = tmp_path / "inside"
    inside.mkdir()
    found = klass(inside, "name\nAda\n", BASE.replace("people: people.csv", f"people: {name}"))
    assert "must lie beside this one" in str(found.problems.of("stop")[0].message)


def test_a_link_out_of_the_folder_is_no_table(tmp_path: Path):
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "secret.csv").write_text("name\nAda\n")
    (inside / "others.csv").symlink_to(tmp_path / "secret.csv")
    found = klass(inside, "name\nAda\n", BASE.replace("people.csv", "others.csv"))
    assert found.problems.stopped


def test_people_may_stand_in_the_class_file(tmp_path: Path):
    people = "people:\n  - Ada\n  - {name: Bo, room: {fermenting: 18 C}, vessel: 12 L}\n"
    found = klass(tmp_path, "", BASE.replace("people: people.csv\n", people))
    assert stops(found) == []
    assert batch(found, "27B").equipment.vessel == 12.0
    assert batch(found, "27B").room.fermenting[0] == 18.0


def test_all_may_begin_with_a_batch_file(tmp_path: Path):
    head, tail = BASE.split("recipe:")
    (tmp_path / "base.yaml").write_text(
        f"batch: 27Y\nbrewer: Odile\nrecipe:{tail}".replace("people: people.csv\n", "")
    )
    found = klass(tmp_path, "name\nAda\n", f"{head}batch-file: base.yaml\nvolume: 8 L\npeople: people.csv\n")
    assert stops(found) == []
    assert (batch(found, "27A").litres, batch(found, "27A").brewer) == (8.0, "Ada")


def test_the_text_that_is_kept_with_a_set_is_ones_own_and_has_no_absences(tmp_path: Path):
    table = "name,away,room\nAda,2027-03-13..2027-03-16,18 C\nBo,2027-04-01,17 C\n"
    text = batch(klass(tmp_path, table), "27A").sources[0][1]
    assert "Ada" in text
    assert "18 C" in text
    for other in ("Bo", "17 C", "away", "2027-03-13", "people"):
        assert other not in text


def test_a_shared_vessel_is_of_the_volume_that_all_have(tmp_path: Path):
    found = klass(tmp_path, "name,shared vessel\nAda,blue tub\nBo,blue tub\n")
    gear = batch(found, "27B").equipment
    assert (gear.vessel_name, gear.vessel) == ("blue tub", 15.0)
