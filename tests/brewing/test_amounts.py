"""Yeast, losses, and rounding for paper."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import losses, rounding, yeast
from sheetgen.brewing.yeast import Sachets


def test_yeast_for_ten_litres() -> None:
    assert yeast.grams(10, 1.048) == (5, 8)
    assert yeast.grams(10, 1.060) == (5, 8)
    assert yeast.grams(10, 1.061) == (10, 10)
    assert yeast.grams(10, 1.048, "lager") == (8, 16)
    assert yeast.grams(10, 1.048, "wine") == (2, 4)


def test_old_and_opened_yeast() -> None:
    assert [yeast.condition_factor(days) for days in (-30, 0, 1, 365)] == [1.0, 1.0, 1.5, 1.5]
    assert yeast.condition_factor(0, opened=True) == 2.0
    assert yeast.condition_factor(100, opened=True) == 3.0


@pytest.mark.parametrize(
    ("wanted", "sachets"),
    [
        (9.2, Sachets(1, 11.5, whole=True)),  # exactly 25 % over
        (9.19, Sachets(1, 9.19, whole=False)),
        (11.5, Sachets(1, 11.5, whole=True)),
        (15.3, Sachets(1, 11.5, whole=True)),  # just under 25 % short
        (15.4, Sachets(2, 15.4, whole=False)),
        (20.0, Sachets(2, 23.0, whole=True)),
        (2.0, Sachets(1, 2.0, whole=False)),
    ],
)
def test_sachets(wanted: float, sachets: Sachets) -> None:
    assert yeast.sachets(wanted, 11.5) == sachets


@given(st.floats(0.1, 200), st.floats(2, 20))
def test_sachets_hold_what_is_used(wanted: float, each: float) -> None:
    found = yeast.sachets(wanted, each)
    assert found.grams <= found.open * each * (1 + 1e-9)
    assert 0.75 * wanted - 1e-6 <= found.grams <= 1.25 * wanted + 1e-6


def test_losses_of_twelve_litres() -> None:
    """0.48 sediment, 0.1 + 3 x 0.1, 20 g of hops 0.13: 1.01 L."""
    assert losses.loss_litres(12, 3, dry_hop_grams=20) == pytest.approx(1.01)


def test_least_sediment_and_rackings() -> None:
    assert losses.sediment_litres(4.5) == 0.4
    assert losses.sediment_litres(20) == pytest.approx(0.8)
    assert losses.racking_litres(10, 2) == pytest.approx(0.6)


GRAMS = [
    (2.05, 2.1), (2.04, 2.0), (9.94, 9.9), (9.97, 10), (10.4, 10), (10.5, 11), (99.4, 99), (99.6, 100),
    (102.4, 100), (102.5, 105), (997.4, 995), (997.5, 1000), (1004, 1000), (1005, 1010), (0, 0),
]  # fmt: skip
LITRES = [
    (4.34, 4.3),
    (4.35, 4.4),
    (9.96, 10),
    (10.1, 10),
    (10.125, 10.25),
    (29.9, 30),
    (30.2, 30),
    (30.25, 30.5),
]
MILLILITRES = [
    (1.2, 0),
    (1.25, 2.5),
    (4.9, 5),
    (14.9, 15),
    (20, 15),
    (22.5, 30),
    (59, 60),
    (61, 60),
    (298, 300),
    (306, 310),
]
DOSES = [(2.05, 2.0), (2.1, 2.1), (3.0999999999, 3.1), (3.0999, 3.0), (0.3, 0.3), (0.09, 0), (0, 0), (-1, 0)]
STEPS = [(0, 0.1), (4.3, 0.1), (6.0, 0.1), (6.01, 0.25), (12.0, 0.25), (12.01, 0.5), (23, 0.5)]


@pytest.mark.parametrize(
    ("function", "table"),
    [
        (rounding.grams, GRAMS),
        (rounding.litres, LITRES),
        (rounding.millilitres, MILLILITRES),
        (rounding.dose_grams, DOSES),
        (rounding.ladder_step, STEPS),
        (rounding.ounces, [(2.05, 2.1), (0.96, 0.95), (0.98, 1.0), (0.12, 0.1)]),
        (rounding.ounces, [(0.04, 0.04), (0.02, 0.02), (0.004, 0.0)]),
        (rounding.fine_millilitres, [(7.4, 7.5), (14.9, 15), (22.4, 22), (61, 60), (298, 300), (1004, 1000)]),
        (rounding.bulk_sugar_ounces, [(2.09, 2.05), (2.05, 2.05), (-1, 0)]),
        (rounding.whole_degrees, [(19.5, 20), (19.4, 19), (-0.4, 0)]),
        (rounding.printed_sg, [(1.0125, 1.013), (1.0124, 1.012)]),
        (rounding.ceiling_sg, [(1.0179, 1.017), (1.017, 1.017)]),
        (rounding.waiting_days, [(14, 14), (14.000000000001, 14), (14.01, 15), (0, 0)]),
        (rounding.pounds_and_ounces, [(16, (1, 0)), (33.3, (2, 1.25)), (15.9, (1, 0)), (15.8, (0, 15.75))]),
    ],
)  # fmt: skip
def test_steps(function, table) -> None:  # type: ignore[no-untyped-def]
    assert [function(value) for value, _ in table] == [wanted for _, wanted in table]


def test_binary_floats_never_flip_a_step() -> None:
    for count in range(10_000):
        for step in (0.1, 0.25, 0.001, 0.05):
            exact = float(f"{count * step:.3f}")
            noisy = exact + (1e-12 if count % 2 else -1e-12)
            assert rounding.down_to(noisy, step) == exact
            assert rounding.up_to(noisy, step) == exact
            assert rounding.nearest_to(noisy, step) == exact


@given(st.floats(0, 1e5), st.sampled_from([0.001, 0.05, 0.1, 0.25, 0.5, 1.0, 5.0]))
def test_down_near_up(value: float, step: float) -> None:
    down, near, up = (f(value, step) for f in (rounding.down_to, rounding.nearest_to, rounding.up_to))
    assert down - 1e-8 <= value <= up + 1e-8
    assert near in (down, up)
    assert up - down <= step + 1e-9
    assert rounding.down_to(down, step) == down


@given(st.floats(0, 50))
def test_a_dose_is_never_more_than_wanted(grams: float) -> None:
    assert grams - 0.1 - 1e-9 <= rounding.dose_grams(grams) <= grams + 1e-9


@pytest.mark.parametrize(
    ("grams", "spoons"),
    [
        (2.0, 0.25),
        (2.02, 0.25),
        (2.03, 0.5),
        (3.1, 0.75),
        (4.26, 1.0),
        (4.6, 1.0),
        (1.0, 0.0),
        (1.02, 0.25),
        (1.6, 0.25),
        (6.2, 1.5),
        (0.3, 0.0),
    ],
)
def test_teaspoons(grams: float, spoons: float) -> None:
    """Nearest quarter, unless that is more than 5 % over, then the quarter below."""
    assert rounding.teaspoons(grams) == spoons


@given(st.floats(0, 100))
def test_teaspoons_are_never_five_per_cent_over(grams: float) -> None:
    spoons = rounding.teaspoons(grams)
    assert spoons * 4.26 <= grams * 1.05 + 1e-6
    assert spoons * 4 == int(spoons * 4)
    assert (spoons + 0.5) * 4.26 > grams


def test_exactly_five_per_cent_over_is_allowed() -> None:
    """A spoon of 4.2 g for 4.0 g is 5 % over, for 3.997 g a little more."""
    assert [rounding.teaspoons(grams, 4.2) for grams in (4.0, 3.997)] == [1.0, 0.75]


@pytest.mark.parametrize("litres", [1.9 + n / 10 for n in range(1, 300)])
def test_a_ladder_rung_is_close(litres: float) -> None:
    """Taking the smaller of two lines never gives much over 5 % too little from 2 L up."""
    assert rounding.ladder_step(litres) / litres <= 0.0501
