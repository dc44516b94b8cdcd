"""Bottles as people write them."""

from __future__ import annotations

from pathlib import Path

import pytest

from intake.told import TODAY, good, read, said, six_lines, stop
from sheetgen.intake import pantry
from sheetgen.planning import plan_batch
from sheetgen.problems import Problems, Said

ONE = (24, 500.0, "one-way glass", True)


@pytest.mark.parametrize(
    ("written", "row"),
    [
        ("24 x 500 ml one-way glass", ONE),
        ("24 × 0.5 L One-Way Glass", ONE),
        ("24 bottles of 50 cl one-way", ONE),
        ("{500 ml one-way glass: 24}", ONE),
        ("[24 x 500 ml longneck]", ONE),
        ("[{size: 500 ml, kind: one-way glass, count: 24}]", ONE),
        ("{size: 500 ml, kind: one-way glass, count: 24}", ONE),
        ('"24 x 0,5 L brown one-way glass"', ONE),
        ("12 x 16.9 US fl oz green swing-top", (12, pytest.approx(499.8, abs=0.1), "swing-top", True)),
        ("6 x 1 L plastic (PET)", (6, 1000.0, "pet", True)),
        ("6 x 1 L plastic", (6, 1000.0, "one-way glass", False)),
        ("6 x 1 L plastic bottles", (6, 1000.0, "one-way glass", False)),
        ("6 x 750 ml champagne", (6, 750.0, "thick sparkling-wine glass", True)),
        ("6 x 750 ml wine", (6, 750.0, "wine", True)),
        ("24 x 500 ml brown glass", (24, 500.0, "one-way glass", False)),
        ("24 x 500 ml", (24, 500.0, "one-way glass", False)),
        ("24 x 500 ml crystal vase", (24, 500.0, "one-way glass", False)),
    ],
)
def test_one_row(written: str, row: tuple[object, ...]) -> None:
    bottles = good(six_lines(bottles=written)).bottles
    assert [(each.count, each.ml, each.kind.id, each.known) for each in bottles] == [row]


@pytest.mark.parametrize(
    "written",
    [
        "[{size: 1 L, kind: pet, count: 6, for: gifts}, {size: 500 ml, kind: returnable glass, count: 18}]",
        "{1 L pet: 6, 500 ml returnable glass: 18}",
        "[6 x 1 L pet, 18 x 500 ml returnable glass]",
        "6 x 1 L pet, 18 x 500 ml returnable glass",
        "[{1 L pet: 6}, 18 x 500 ml returnable glass]",
    ],
)
def test_the_order_is_kept(written: str) -> None:
    bottles = good(six_lines(bottles=written)).bottles
    assert [(each.ml, each.kind.id, each.count) for each in bottles] == [
        (1000.0, "pet", 6),
        (500.0, "returnable glass", 18),
    ]


def test_what_they_are_for() -> None:
    bottles = good(six_lines(bottles="[{size: 1 L, kind: pet, count: 6, for: gifts}]")).bottles
    assert bottles[0].what_for == "gifts"


@pytest.mark.parametrize(
    "written",
    [
        "24 x 500 ml brown glass",
        "24 x 500 ml",
        "24 x 500 ml retunable glass",
        "[{size: 500 ml, count: 24}]",
        "{500 ml bomber: 24}",
    ],
)
def test_an_unknown_kind_is_a_warning_that_planning_repeats_word_for_word(written: str) -> None:
    batch, found = read(six_lines(bottles=written))
    problems = Problems(found)
    before = problems.of("warn")
    assert batch is not None
    plan_batch(batch, TODAY, problems)
    about = [p for p in problems.of("warn") if isinstance(p.message, Said) and "bottle" in p.message.id]
    assert about == before
    assert isinstance(about[0].fix, Said)
    assert about[0].fix.id == "fix.bottle-unknown"


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("jam jar", "jar"),
        ("jars", "jar"),
        ("mason jars", "jar"),
        ("preserving jars", "jar"),
        ("growlers", "jar"),
        ("wine jug", "jar"),
        ("swing-top jar", "jar"),
        ("plastic milk bottle", "jar"),
        ("oil bottle", "decorative"),
        ("oil bottles", "decorative"),
        ("clear vinegar bottles", "decorative"),
        ("swing-top oil bottle", "decorative"),
        ("decorative swing-top", "decorative"),
        ("square swing-top bottles", "square"),
        ("screw-top glass", "twist-off"),
        ("twist-offs", "twist-off"),
        ("wine", "wine"),
        ("red wine bottles", "wine"),
    ],
)
def test_a_word_of_a_weak_bottle_outweighs_every_other(written: str, kind: str) -> None:
    bottles = good(six_lines(bottles=f"6 x 500 ml {written}")).bottles
    assert [(row.kind.id, row.kind.refuse, row.known) for row in bottles] == [(kind, None, True)]


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("champagne bottles", "thick sparkling-wine glass"),
        ("green sparkling wine bottle", "thick sparkling-wine glass"),
        ("swing-tops", "swing-top"),
        ("brown swing-top bottles", "swing-top"),
        ("longnecks", "one-way glass"),
        ("returnable beer bottles", "returnable glass"),
        ("PET bottles", "pet"),
        ("plastic fizzy-drink bottles", "pet"),
    ],
)
def test_plurals_colours_and_fillers_leave_a_strong_kind_as_it_is(written: str, kind: str) -> None:
    bottles = good(six_lines(bottles=f"6 x 500 ml {written}")).bottles
    assert [(row.kind.id, row.known) for row in bottles] == [(kind, True)]


@pytest.mark.parametrize("name", pantry.bottle_kinds().names())
def test_every_name_of_a_kind_is_understood(name: str) -> None:
    meant = pantry.bottle_kinds().find(name)
    for written in (name, name.title(), f"brown {name}"):
        bottles = good(six_lines(bottles=f"6 x 500 ml {written}")).bottles
        assert [row.kind for row in bottles] == [meant]


def test_jars_and_oil_bottles_stop_a_primed_batch() -> None:
    batch, found = read(six_lines(bottles="[6 x 1 L jam jar, 30 x 500 ml oil bottle]"))
    problems = Problems(found)
    assert batch is not None
    plan_batch(batch, TODAY, problems)
    told = [p.message.values["kind"] for p in problems.of("stop") if isinstance(p.message, Said)]
    assert told == ["jar", "decorative"]


@pytest.mark.parametrize(
    ("written", "fix"),
    [
        ("glass", ""),
        ("brown glass", ""),
        ("retunable glass", 'did you mean "returnable glass"?'),
        ("swng top", 'did you mean "swing top"?'),
    ],
)
def test_only_kinds_made_for_pressure_are_suggested(written: str, fix: str) -> None:
    _, problems = read(six_lines(bottles=f"24 x 500 ml {written}"))
    assert [problem.fix for problem in problems if problem.level == "note"] == [fix]


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("26", "does not say how many bottles"),
        ("500 ml returnable glass", "does not say how many bottles"),
        ("24 x returnable glass", "size"),
        ("24 x 500 returnable glass", "500 ml"),
        ("24 x 1 pint glass", "UK pt"),
        ("24 x 5 ml pet", "100 ml to 5 L"),
        ("0 x 500 ml pet", "1 to 9999"),
        ("99999 x 500 ml pet", "1 to 9999"),
        ("{500 ml pet: many}", "whole number"),
        ("{500 ml pet: 2.5}", "whole number"),
        ("{500 ml pet: [1, 2]}", "found a list"),
        ("[[24 x 500 ml]]", "found a list"),
        ("[]", "there are no bottles"),
        ("{}", "there are no bottles"),
        ("[{size: 500 ml, kind: pet}]", "count: is missing"),
        ("[{size: 500 ml, kind: pet, cuont: 3, count: 3}]", 'did you mean "count"?'),
    ],
)
def test_rows_that_cannot_be_read(written: str, words: str) -> None:
    assert words in said(stop(six_lines(bottles=written)))


@pytest.mark.parametrize(
    ("kind", "warn", "refuse"),
    [
        ("one-way glass", 2.5, 3.0),
        ("returnable glass", 3.0, 3.5),
        ("swing-top", 3.0, 3.5),
        ("thick sparkling-wine glass", 4.5, 5.0),
        ("pet", 3.5, 4.0),
        ("twist-off", None, None),
        ("wine", None, None),
        ("jar", None, None),
        ("square", None, None),
        ("decorative", None, None),
    ],
)
def test_the_limits_of_each_kind(kind: str, warn: float | None, refuse: float | None) -> None:
    found = pantry.bottle_kinds().things[kind]
    assert (found.warn, found.refuse) == (warn, refuse)


def test_there_are_no_other_kinds() -> None:
    assert len(pantry.bottle_kinds().things) == 10


@pytest.mark.parametrize(("refuse", "stopped"), [("6", False), ("6.01", True), ("8", True), ("1000", True)])
def test_no_bottle_may_be_said_to_hold_more_than_six_volumes(
    tmp_path: Path, refuse: str, stopped: bool
) -> None:
    """Sugar is reckoned for six at most: a higher limit would be taken for as much without a word."""
    (tmp_path / "pantry").mkdir()
    entry = f"{{pressure: yes, warn: 5, refuse: {refuse}, cap: own, glass: yes, source: mine}}"
    text = f"pantry: bottles\nentries:\n  iron bottle: {entry}\n"
    (tmp_path / "pantry" / "bottles.yaml").write_text(text, encoding="utf-8")
    _, problems = read(six_lines(bottles="30 x 500 ml iron bottle"), beside=tmp_path)
    found = [said(one) for one in problems if one.level == "stop"]
    assert any("write refuse: 6, or less" in words for words in found) == stopped, found
    assert bool(found) == stopped
