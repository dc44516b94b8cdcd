"""What people write by mistake: each is one stop, at its place, with what to type."""

from __future__ import annotations

import pytest

from intake.told import read, said, six_lines, stop

CODES = ["27a", "2", "27ABC", "O7", "I1", "27Q", "5S", "Z2", "2-7", "../a", "27Ä", "NUL", "LPT1", "АВ"]
ROWS = [
    # the line; where the stop stands; words that must stand in its message or fix
    ("volume: 12", "1:9", "12 L or 12 US gal"),
    ("volume: 3 gal", "1:9", "US gal"),
    ("volume: 0 L", "1:9", "1 L to 100 L"),
    ("volume: 5000 L", "1:9", "1 L to 100 L"),
    ("volume: a bucket", "1:9", "12 L"),
    ("volume: 24 x 500", "1:9", "24 x 500 ml"),
    ("volume: [12 L]", "1:9", "found a list"),
    ("volume: {litres: 12}", "1:9", "found names with values"),
    ("volume:", "1:1", "nothing stands after volume:"),
    ("volumes: 12 L", "1:1", 'did you mean "volume"?'),
    ("Volume: 12 L", "1:1", 'did you mean "volume"?'),
    ("brew_day: 2027-03-06", "1:1", 'did you mean "brew-day"?'),
    ("brew-day: 03/04/2027", "1:11", "2027-04-03 or 2027-03-04"),
    ("brew-day: in 2 weeks", "1:11", "2027-03-06"),
    ("brew-day: 2027-02-30", "1:11", "no day 30"),
    ("brew-day: 2027-03-06 25:00", "1:11", "24-hour clock"),
    ("room: 19", "1:7", "19 C or 19 F"),
    ("room: 190 C", "1:7", "0 C to 45 C"),
    ("room: 20-15 C", "1:7", "15-20 C"),
    ("room: {ferment: 19 C}", "1:8", 'did you mean "fermenting"?'),
    ("room: [19 C, 33 C]", "1:14", "write [19 C, {from: 2027-05-01, at: 33 C}]"),
    ("room: [19 C, {from: 2027-05-09, at: 33 C}, {from: 2027-05-01, at: 20 C}]", "1:7", "in their order"),
    ("room: {storing: [12 C]}", "1:17", "in their order"),
    ("room: {storing: [12 C, {from: 2027-05-01}]}", "1:24", "write at: 33 C"),
    ("room: {storing: [120 C, {from: 2027-05-01, at: 33 C}]}", "1:18", "0 C to 45 C"),
    ("recipe: ../../etc/passwd", "1:9", "without a folder"),
    ("recipe: copper-lane-ambre", "1:9", 'did you mean "copper-lane-amber"?'),
    ("recipe: Copper Lane Amber", "1:9", "write copper-lane-amber"),
    ("paper: A3", "1:8", "A4, Letter"),
    ("language: en-UK", "1:11", "en-GB"),
    ("units: imperial", "1:8", "metric, us, uk"),
    ("sugar: dextrin", "1:8", 'did you mean "dextrose"?'),
    ("sugar-piece: 3", "1:14", "3 g"),
    ("sugar-piece: 300 g", "1:14", "0.5 g to 20 g"),
    ("whole-packs: volume-folows", "1:14", 'did you mean "volume-follows"?'),
    ("carbonation: 2.4", "1:14", "2.4 volumes"),
    ("carbonation: 24 volumes", "1:14", "up to 10 volumes"),
    ("my-days: [sat, soon]", "1:16", "mon, tue"),
    ("away: [2027-03-16..2027-03-13]", "1:8", "earlier day first"),
    ("holidays: 26 March", "1:11", "2027-03-06"),
    ("labels: {stock: my-labels}", "1:17", "a4-2x7"),
    ("labels: {start-at: 0}", "1:20", "1 to 9999"),
    ("labels: {start: 4}", "1:10", 'did you mean "start-at"?'),
    ("equipment: {vessel: none}", "1:21", "without a vessel"),
    ("equipment: {hydrometer: {in-water: 1.5}}", "1:36", "between 0.9 and 1.2"),
    ("equipment: {hydrometer: {in-water: 1.050}}", "1:36", "in plain water is not possible"),
    ("equipment: {vessel: {name: tub}}", "1:21", "holds: is missing"),
    ("equipment: {pot: 0 L}", "1:18", "0.1 L"),
    ("equipment: {sanitiser: soap}", "1:24", "no-rinse acid"),
    ("equipment: 15 L", "1:12", "expected names with values"),
    ("water: {tap: cold}", "1:14", "19 C"),
    ("event: {name: supper}", "1:8", "date: is missing"),
    ("event: {date: 2027-06-12, guests: 0}", "1:35", "not possible"),
    ("event: {date: 2027-06-12, guests: 8, drinks-each: 2}", "1:51", "does not say of which size"),
    ("event: {date: 2027-06-12, guests: 8, drinks-each: 0 x 330 ml}", "1:51", "not what one guest drinks"),
    ("event: {date: 2027-06-12, name: the night of the longest and merriest table}", "1:33", "at most 32"),
    ("events: [{date: 2027-06-12}]", "1:1", "one key for one event or several"),
    ("guests: 18", "1:1", "guests come to an event"),
    ("packs: {hopps: 50 g}", "1:9", 'did you mean "hops"?'),
    ("packs: {hops: 50 ml}", "1:15", "measured by weight"),
    ("packs: {hops: [50 g, 0.001 g]}", "1:22", "not possible"),
    ("packs: {hops: []}", "1:15", "1 to 4 sizes"),
    ("packs: 50 g", "1:8", "write packs: {hops: 50 g}"),
    ("drinks-each: 2", "1:1", "belongs to an event"),
    ("looks: []", "1:1", "not offered"),
    ("extends: 26Z", "1:1", "not offered yet"),
    ("format: 2", "1:9", "write one of: 1"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "place", "words"), ROWS, ids=[row[0] for row in ROWS])
def test_a_slip_is_one_stop_with_what_to_type(line: str, place: str, words: str) -> None:
    key = line.partition(":")[0].replace("-", "_")
    wrong = key.lower()
    twin = {"volumes": "volume", "brew_day": "brew_day"}.get(wrong, wrong)
    found = stop(f"{line}\n" + six_lines(**({twin: None} if line.partition(":")[0] in _OWN else {})))
    assert str(found.span) == f"test.yaml:{place}"
    assert words in said(found)


_OWN = ("volume", "brew-day", "room", "recipe")


@pytest.mark.parametrize("code", CODES)
def test_codes_that_cannot_be(code: str) -> None:
    found = stop(six_lines(batch=code))
    assert "cannot be a code" in said(found)


@pytest.mark.parametrize("code", ["27A", "01", "0000", "ABCD", "R2D2", "9U"])
def test_codes_that_can(code: str) -> None:
    assert read(six_lines(batch=code))[0] is not None


@pytest.mark.parametrize("key", ["recipe", "brew-day", "bottles"])
def test_what_is_needed_and_missing_is_told_with_an_example(key: str) -> None:
    found = stop(six_lines(**{key: None}))
    assert f"{key}: is missing" in said(found)
    assert f"write {key}: " in said(found)


def test_six_slips_are_six_stops_in_the_order_of_the_file() -> None:
    text = "batch: 27O\nrecipe: nowhere\nbrew-day: 03/04/2027\nvolume: 12\nroom: 19\nbottles: some\n"
    batch, problems = read(text)
    assert batch is None
    assert [problem.span.line for problem in problems if problem.span] == [1, 2, 3, 4, 5, 6]
    assert all(problem.level == "stop" and problem.fix for problem in problems)


def test_the_breadcrumb_goes_by_the_things_own_names() -> None:
    found = stop(six_lines("actual: {readings: [{on: 2027-02-18, sg: 1012}]}\n"))
    assert found.path == ("batch 27A", "actual", "readings", "2027-02-18", "sg")
    assert "1.012" in said(found)


def test_an_unknown_key_inside_is_never_ignored() -> None:
    found = stop(six_lines("water: {tab: 12 C}\n"))
    assert 'did you mean "tap"?' in said(found)


def test_a_key_said_twice() -> None:
    batch, problems = read(six_lines("volume: 10 L\n"))
    assert batch is None
    assert problems[0].span
    assert problems[0].span.line == 7


@pytest.mark.parametrize(
    "text",
    ["just words", "- a\n- b\n", "class: C\n", "season: S\n", "recipe-name: X\n", "stock: a\n", "", "1"],
)
def test_a_file_of_another_kind(text: str) -> None:
    batch, problems = read(text)
    assert batch is None
    assert problems


def test_decimal_comma_inside_braces() -> None:
    batch, problems = read(six_lines(bottles="{0,5 L returnable glass: 24}"))
    assert batch is None
    assert any("0.5 L" in said(problem) for problem in problems)
