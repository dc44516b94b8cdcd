"""Tables out of spreadsheets: whatever sign, letters and quotation marks they were saved with."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.intake.columns import column_of, meant_by
from sheetgen.intake.spreadsheet import Grid, read_grid
from sheetgen.problems import Problem, Problems


def read(data: bytes | str) -> tuple[Grid | None, list[Problem]]:
    problems = Problems()
    raw = data if isinstance(data, bytes) else data.encode()
    return read_grid(raw, "people.csv", lambda name: column_of(name) is not None, problems), list(problems)


def values(grid: Grid | None) -> list[list[str]]:
    assert grid is not None
    return [[cell.value for cell in row] for row in (grid.heading, *grid.rows)]


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_the_sign_between_the_cells_is_found(sign: str):
    text = "name,volume,room\nImke,10 L,19 C\n".replace(",", sign)
    assert values(read(text)[0]) == [["name", "volume", "room"], ["Imke", "10 L", "19 C"]]


def test_what_a_spreadsheet_says_of_its_own_sign_counts():
    assert values(read("sep=;\r\nname;volume\r\nImke;12,5 L\r\n")[0]) == [
        ["name", "volume"],
        ["Imke", "12,5 L"],
    ]


def test_a_mark_at_the_start_of_the_file_is_passed_over():
    assert values(read("\ufeffname;room\nImke;19 C\n".encode())[0])[0] == ["name", "room"]


def test_older_letters_are_read_and_that_is_said():
    grid, told = read("name;room\nGünther;19 C\n".encode("cp1252"))
    assert values(grid)[1][0] == "Günther"
    assert "not saved as UTF-8" in str(told[0].message)
    assert "Günther" in str(told[0].message)


def test_two_byte_letters_are_read_and_that_is_said():
    grid, told = read("name\troom\nZoë\t19 C\n".encode("utf-16"))
    assert values(grid)[1] == ["Zoë", "19 C"]
    assert [one.level for one in told] == ["note"]


@pytest.mark.parametrize("data", [b"PK\x03\x04 something", b"\xd0\xcf\x11\xe0 something"])
def test_a_spreadsheets_own_file_is_named_as_that(data: bytes):
    assert "save it there as CSV" in str(read(data)[1][0].fix)


def test_empty_rows_are_passed_over_and_places_stay_true():
    grid, told = read("\n;;\nname;room\n\nImke;19 C\n;;\nAda;20 C\n")
    assert told == []
    assert grid
    (ada,) = [row for row in grid.rows if row[0].value == "Ada"]
    assert (ada[1].span.line, ada[1].span.column, ada[1].span.length, ada[1].span.cell) == (7, 5, 4, "room")


def test_a_cell_may_hold_line_ends_and_marks_and_the_sign():
    grid, _ = read('name,bottles\n"O\'Neil, ""Mo""","6 x 1 L pet\n12 x 500 ml pet"\nAda,\n')
    assert values(grid)[1] == ['O\'Neil, "Mo"', "6 x 1 L pet\n12 x 500 ml pet"]
    assert grid is not None
    assert grid.rows[1][0].span.line == 4


def test_a_mark_that_is_not_closed_is_told_where_it_opens():
    _, told = read('name,room\nImke,"19 C\nAda,20 C\n')
    assert (str(told[0].span), "not closed" in str(told[0].message)) == ("people.csv:2:6", True)


def test_a_decimal_comma_between_commas_is_told_with_the_number_that_was_meant():
    _, told = read("name,date,gravity,temperature\nImke,2027-03-17,1,012,18 C\n")
    assert '"1,012"' in str(told[0].fix)


def test_a_short_row_has_empty_cells():
    assert values(read("name,room,volume\nImke\n")[0])[1] == ["Imke", "", ""]


def test_a_formula_stays_what_somebody_wrote():
    assert values(read("name,room\n=1+1,@SUM(A1)\n")[0])[1] == ["=1+1", "@SUM(A1)"]


@pytest.mark.parametrize(
    ("heading", "path", "unit"),
    [
        ("Name", ("name",), ""),
        ("Volume (L)", ("volume",), "L"),
        ("Brew Day", ("brew-day",), ""),
        ("room °C", ("room",), "C"),
        ("Room.Fermenting", ("room", "fermenting"), ""),
        ("pot", ("equipment", "pot"), ""),
        ("warm place [C]", ("room", "warm-place"), "C"),
        ("start_at", ("labels", "start-at"), ""),
        ("actual.og", ("actual", "og"), ""),
        ("code", ("batch",), ""),
    ],
)
def test_headings_mean_keys(heading: str, path: tuple[str, ...], unit: str):
    found = column_of(heading)
    assert found
    assert (found.path, found.unit) == (path, unit)


@pytest.mark.parametrize(
    ("heading", "meant"), [("Volumne", "volume"), ("Botles", "bottles"), ("Rooom (C)", "room")]
)
def test_a_heading_that_is_not_known_is_told_the_nearest(heading: str, meant: str):
    assert column_of(heading) is None
    assert f'"{meant}"' in meant_by(heading)


CELLS = st.text(st.sampled_from('ab1,;"\n é'), max_size=6)


@given(st.lists(st.lists(CELLS, min_size=2, max_size=4), min_size=1, max_size=5), st.sampled_from(",;"))
def test_what_a_spreadsheet_writes_is_read_as_it_was(rows: list[list[str]], sign: str):
    """The standard library writes the table; single spaces and no spaces at the ends are ours."""
    out = io.StringIO()
    heading = ["name", "room", "volume", "away"]
    csv.writer(out, delimiter=sign, lineterminator="\n").writerows([heading, *rows])

    wanted = [[" ".join(one.split()) for one in [*row, "", ""][:4]] for row in rows]
    found = [[" ".join(one.split()) for one in row] for row in values(read(out.getvalue())[0])[1:]]
    assert found == [row for row in wanted if any(row)]


@given(st.binary(max_size=200) | st.text(max_size=100).map(str.encode))
def test_no_bytes_raise(data: bytes):
    grid, told = read(data)
    assert grid is not None or any(one.level == "stop" for one in told)
    assert grid is None or all(len(row) == len(grid.heading) for row in grid.rows)
