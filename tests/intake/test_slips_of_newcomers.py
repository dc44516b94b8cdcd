"""What people type the first time, and what they are told to type instead."""

from __future__ import annotations

import pytest

from intake.told import read, said, six_lines, stop


@pytest.mark.parametrize(
    ("other", "fix"),
    [
        ({"brew_day": "Sat 6 March 2027"}, "write 2027-03-06"),
        ({"brew_day": "March 6th, 2027"}, "write 2027-03-06"),
        ({"brew_day": "6. mar 2027"}, "write 2027-03-06"),
        ({"brew_day": "March 2027"}, "such as 2027-03-06"),
        ({"brew_day": "30 February 2027"}, "such as 2027-03-06"),
        ({"brew_day": "2027-03-06 10am"}, "such as 2027-03-06 10:00"),
        ({"brew_day": "2027-03-06 2:30 pm"}, "such as 2027-03-06 14:30"),
        ({"brew_day": "2027-03-06 12 am"}, "such as 2027-03-06 00:00"),
        ({"volume": "24 bottles"}, "write 24 x 500 ml"),
        ({"volume": "10-12 L"}, "write 10 L"),
        ({"volume": "2.6 gallons"}, "write 2.6 US gal or 2.6 UK gal"),
        ({"recipe": "Slipway Nine"}, "write slipway-nine-pale"),
        ({"recipe": "Copper Lane Amber"}, "write copper-lane-amber"),
        ({"recipe": "towrope-mild.yaml"}, "write towrope-mild"),
        ({"recipe": "../wine"}, "write wine"),
        ({"bottles": "24 330 ml longneck"}, "write 24 x 330 ml longneck"),
        ({"bottles": "5 x wine bottle 750 ml"}, "write the size first: 750 ml wine bottle"),
        ({"bottles": "24 x 12 oz longneck"}, "write 12 US fl oz or 12 UK fl oz"),
        ({"more": "my-days: weekends\n"}, "write [sat, sun]"),
        ({"more": "my-days: weekdays\n"}, "write [mon, tue, wed, thu, fri]"),
        ({"more": "equipment: {vessel: 5 gal bucket}\n"}, "write 5 US gal or 5 UK gal"),
        ({"more": "equipment: {vessel: 20 L bucket}\n"}, "write 20 L, or {name: bucket, holds: 20 L}"),
    ],
)
def test_what_to_type_instead(other: dict[str, str], fix: str) -> None:
    assert fix in str(stop(six_lines(**other)).fix)


@pytest.mark.parametrize("written", ["Batch", "brew day", "BrewDay", "Bottles", "Recipe", "brew_day"])
def test_a_key_that_is_nearly_right_is_told_once(written: str) -> None:
    key = {"brew day": "brew-day", "BrewDay": "brew-day", "brew_day": "brew-day"}.get(
        written, written.lower()
    )
    _, problems = read(six_lines().replace(f"{key}:", f"{written}:"))
    assert [said(problem) for problem in problems if problem.level == "stop"] == [
        f'"{written}" is not a key of batch | did you mean "{key}"?'
    ]


def test_a_decimal_comma_in_a_list_of_bottles() -> None:
    _, problems = read(six_lines(bottles="[20 x 0,5 L pet, 8 x 750 ml champagne]"))
    assert any("write 0.5 L pet" in said(problem) for problem in problems)


def test_a_comma_between_days_is_none() -> None:
    _, problems = read(six_lines("away: [2027-03-13,14 March]\n"))
    assert not any("decimal comma" in said(problem) for problem in problems)
