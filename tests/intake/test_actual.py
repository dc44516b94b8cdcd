"""What really happened: past facts are read, counted, and never refused for being unwise."""

from __future__ import annotations

from datetime import date

import pytest

from intake.told import good, read, said, six_lines, stop

APRIL = date(2027, 4, 1)
TOMORROW = (
    "{pitched: 2027-02-21}",
    "{dry-hopped: 2027-02-21}",
    "{readings: [{on: 2027-02-21, sg: 1.012}]}",
    "{looks: [{on: 2027-02-21, clear: yes, sweet: no}]}",
    "{tasted: [{on: 2027-02-21, gas: right}]}",
    "{added: [{on: 2027-02-21, what: honey, amount: 200 g}]}",
    "{warmed: [{on: 2027-02-21, to: 22 C}]}",
    "{done: [{on: 2027-02-21, what: stir}]}",
    "{bottled: {on: 2027-02-21}}",
)
"""Every fact that has a day, on one that has not come yet."""
TWO = "{1 L pet: 6, 500 ml returnable glass: 18}"


def actual(inside: str, bottles: str = TWO) -> str:
    return six_lines(f"actual: {inside}\n", bottles=bottles)


def test_a_batch_of_which_nothing_is_known() -> None:
    found = good(six_lines()).actual
    assert (found.brewed, found.readings, found.bottled, found.facts) == (None, (), None, 0)


def test_everything_that_can_be_said() -> None:
    text = actual(
        "{brewed: 2027-03-06, pitched: 2027-03-07, og: 1.036 at 24 C, litres: 11.5, "
        "readings: [{on: 2027-03-20, sg: 1.012}, {on: 2027-03-17, sg: 1.013 at 17 C}], "
        "dry-hopped: 2027-03-13, added: [{on: 2027-03-12, what: sugar, amount: 200 g}], "
        "warmed: [{on: 2027-03-18, to: 21 C}], seen: skin, "
        "finish-test: 1.014 at 22 C, warmest-since: 21 C, "
        "bottled: {on: 2027-03-27, litres: 11.0, bottles: {1 L: 6, 500 ml: 10}}}"
    )
    found = good(text, APRIL).actual
    assert (found.brewed, found.pitched, found.dry_hopped) == (
        date(2027, 3, 6), date(2027, 3, 7), date(2027, 3, 13)
    )  # fmt: skip
    assert (found.original_gravity, found.original_celsius, found.litres) == (1.036, 24.0, 11.5)
    assert [(each.on.day, each.sg, each.celsius) for each in found.readings] == [
        (17, 1.013, 17.0),
        (20, 1.012, None),
    ]
    assert all(each.span for each in found.readings)
    assert [(each.what.id if each.what else "", each.amount) for each in found.added] == [
        ("table sugar", 200.0)
    ]
    assert found.warmed == ((date(2027, 3, 18), 21.0),)
    assert (found.skin_seen, found.finish_test, found.finish_celsius, found.warmest) == (
        True,
        1.014,
        22.0,
        21.0,
    )
    assert found.bottled
    assert (found.bottled.on, found.bottled.litres, found.bottled.counts) == (
        date(2027, 3, 27),
        11.0,
        (6, 10),
    )
    assert found.facts == 13


def test_an_original_gravity_that_nobody_measured() -> None:
    found = good(actual("{brewed: 2027-02-10, og: not measured}")).actual
    assert (found.original_gravity, found.facts) == (None, 2)


@pytest.mark.parametrize(
    ("inside", "words"),
    [
        ("{og: 1047}", "did you mean 1.047?"),
        ("{og: 1.047 at 24}", "24 C or 24 F"),
        ("{og: 11.7 Brix}", "refractometer"),
        ("{og: 0.047}", "specific gravity"),
        ("{readings: [{sg: 1.012}]}", "on: is missing"),
        ("{readings: [{on: 2027-02-18}]}", "sg: is missing"),
        ("{readings: [2027-02-18]}", "expected names with values"),
        ("{readings: [{on: 2027-02-18, sg: 1012}]}", "did you mean 1.012?"),
        ("{warmest-since: 40 C}", "from 0 C to 35 C"),
        ("{warmed: [{on: 2027-02-18}]}", "to: is missing"),
        ("{seen: fur}", "write one of: skin"),
        ("{looks: [{on: 2027-02-18, clear: yes}]}", "sweet: is missing"),
        ("{looks: [{on: 2027-02-18, clear: rather, sweet: no}]}", "neither yes nor no"),
        ("{tasted: [{on: 2027-02-18}]}", "gas: is missing"),
        ("{tasted: [{on: 2027-02-18, gas: fizzy}]}", "write one of: flat, little, right, lively"),
        ("{fermented: 2027-02-10}", "is not a key of actual"),
        ("{added: [{on: 2027-02-18, what: honey, amount: 200}]}", "200 g or 200 oz"),
        ("{added: [{on: 2027-02-18, what: honey, amount: 1 L}]}", "measured by weight"),
        ("{brewed: 2027-02-21}", "2027-02-21 has not come yet: today is 2027-02-20"),
        ("{brewed: 2027-02-21}", "a day that is planned is written brew-day:"),
        *((inside, "has not come yet") for inside in TOMORROW),
        ("{bottled: {litres: 11}}", "on: is missing"),
        ("{bottled: {on: 2027-02-18, litres: 0}}", "litres up to 100"),
        (
            "{bottled: {on: 2027-02-18, bottles: {330 ml: 6}}}",
            "listed there are: 1 L pet, 500 ml returnable glass",
        ),
        ("{bottled: {on: 2027-02-18, bottles: {500 ml: six}}}", "whole number"),
        ("{bottled: {on: 2027-02-18, bottles: 11}}", "how many of which size"),
    ],
)
def test_what_cannot_be_read(inside: str, words: str) -> None:
    assert words in said(stop(actual(inside)))


def test_a_key_that_fits_two_kinds_is_a_stop() -> None:
    text = actual(
        "{bottled: {on: 2027-02-18, bottles: {500 ml: 6}}}", "{500 ml pet: 6, 500 ml returnable glass: 18}"
    )
    assert "fits two kinds: 500 ml pet and 500 ml returnable glass" in said(stop(text))


def test_two_rows_of_one_kind_are_filled_in_their_order() -> None:
    rows = "[{size: 1 L, kind: pet, count: 2, for: gifts}, {size: 1 L, kind: pet, count: 8}]"
    found = good(actual("{bottled: {on: 2027-02-18, bottles: 7 x 1 L}}", rows)).actual
    assert found.bottled
    assert found.bottled.counts == (2, 5)


def test_bottles_that_nobody_had_listed_were_filled_all_the_same() -> None:
    batch, problems = read(actual("{bottled: {on: 2027-02-18, bottles: {500 ml: 4, 500 ml pet: 6}}}"))
    assert batch
    assert batch.actual.bottled
    assert [problem.level for problem in problems] == ["warn"]
    assert "no 500 ml pet stands at bottles:" in said(problems[0])
    assert batch.actual.bottled.counts == (0, 4, 6)
    assert [(row.ml, row.kind.id, row.count) for row in batch.bottles] == [
        (1000, "pet", 6), (500, "returnable glass", 18), (500, "pet", 6)
    ]  # fmt: skip


def test_a_row_that_is_not_mentioned_was_not_filled() -> None:
    found = good(actual("{bottled: {on: 2027-02-18, bottles: {500 ml: 18}}}")).actual
    assert found.bottled
    assert found.bottled.counts == (0, 18)


def test_bottles_that_were_not_counted() -> None:
    found = good(actual("{bottled: {on: 2027-02-18}}")).actual
    assert found.bottled
    assert (found.bottled.litres, found.bottled.counts) == (None, None)


@pytest.mark.parametrize(
    ("inside", "words"),
    [
        ("{brewed: 2027-02-10, warmed: [{on: 2027-02-01, to: 22 C}]}", "before the brew day"),
        (
            "{added: [{on: 2027-02-19, what: gooseberries, amount: 1 kg}], brewed: 2027-02-01}",
            "allergens are not known",
        ),
    ],
)
def test_what_cannot_be_is_a_warning_and_no_stop(inside: str, words: str) -> None:
    batch, problems = read(actual(inside))
    assert batch is not None
    assert [problem.level for problem in problems] == ["warn"]
    assert words in said(problems[0])
