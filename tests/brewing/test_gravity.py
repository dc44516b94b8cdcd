"""Gravity: the cubic and its inverse, readings, ranges, the ceiling."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import gravity
from sheetgen.brewing.gravity import Part


@given(st.floats(0.980, 1.130))
def test_plato_and_back(sg: float) -> None:
    assert gravity.sg_of(gravity.plato_of(sg)) == pytest.approx(sg, abs=1e-12)


@given(st.floats(0.980, 1.1299))
def test_more_gravity_is_more_plato(sg: float) -> None:
    assert gravity.plato_of(sg + 0.0001) > gravity.plato_of(sg)


@pytest.mark.parametrize(
    ("celsius", "thousandths"), [(10, -1.5), (15, -1.0), (20, 0.0), (25, 1.0), (30, 2.5)]
)
def test_strip_for_a_20_c_instrument(celsius: float, thousandths: float) -> None:
    added = gravity.corrected_reading(1.010, celsius) - 1.010
    assert round(added * 2000) / 2 == thousandths


def test_own_error_comes_off_first() -> None:
    """It shows 0.998 in water, so it reads 2 points too little."""
    assert gravity.corrected_reading(1.012, 20, in_water=0.998) == pytest.approx(1.014)
    warm = gravity.corrected_reading(1.012, 25, in_water=0.998)
    assert warm == pytest.approx(gravity.corrected_reading(1.014, 25))


@given(st.floats(0, 39), st.floats(0.980, 1.120))
def test_a_warmer_sample_is_corrected_upwards(celsius: float, sg: float) -> None:
    warmer, cooler = celsius + 1, celsius
    if cooler >= 4:  # water is densest at 4 C
        assert gravity.corrected_reading(sg, warmer) > gravity.corrected_reading(sg, cooler)


def test_original_of_a_recipe() -> None:
    """1.7 kg of liquid extract at 300 and 0.3 kg of sugar at 386 in 12 L: (510 + 115.8) / 12 = 52.15
    points.
    """
    parts = [Part(1.7 * 300, 0.68, 0.76), Part(0.3 * 386, 1.0, 1.2)]
    assert gravity.original(parts, 12) == pytest.approx(1.05215)


def test_final_range_of_a_recipe() -> None:
    """The same: low (510 x 0.24 - 115.8 x 0.2) / 12 = 8.27 points; high 510 x 0.32 / 12 = 13.6 points."""
    parts = [Part(1.7 * 300, 0.68, 0.76), Part(0.3 * 386, 1.0, 1.2)]
    found = gravity.final_range(parts, 12)
    assert found.low == pytest.approx(1.00827)
    assert found.high == pytest.approx(1.0136)
    assert found.expected == pytest.approx((1.00827 + 1.0136) / 2)


def test_lactose_stays() -> None:
    found = gravity.final_range([Part(300, 0.7, 0.7), Part(120, 0.0, 0.0)], 10)
    assert (found.low, found.high) == pytest.approx((1.021, 1.021))


def test_nothing_in_water_is_water() -> None:
    assert gravity.original([], 10) == 1.0


@pytest.mark.parametrize(
    ("original", "high", "ceiling"),
    [
        (1.048, 1.01536, 1.017),  # all malt: 15.36 + 2, down
        (1.048, 1.015, 1.017),  # exactly on a step stays there
        (1.040, 1.0128, 1.014),  # 5 % of 40 is 2
        (1.030, 1.0096, 1.011),  # 5 % of 30 is 1.5: 11.1
        (1.010, 1.0032, 1.003),  # no floor
        (1.100, 1.032, 1.034),
    ],
)
def test_ceiling(original: float, high: float, ceiling: float) -> None:
    assert gravity.ceiling(original, high) == ceiling


@given(st.integers(0, 130), st.floats(0, 1))
def test_ceiling_is_close_above_the_range(points: int, share: float) -> None:
    original = 1 + points / 1000
    high = 1 + share * points / 1000
    ceiling = gravity.ceiling(original, high)
    assert high - 0.001 - 1e-9 <= ceiling <= high + 0.002 + 1e-9
    assert gravity.ten_thousandths(ceiling) % 10 == 0


def test_drinks_that_ferment_out() -> None:
    assert gravity.fully_fermented_range() == gravity.FinalRange(0.988, 0.996, 1.000)
    assert gravity.fully_fermented_range(mead=True).low == 0.985


def test_every_written_gravity_is_a_whole_number_of_steps() -> None:
    for level in range(9000, 12001):
        assert gravity.ten_thousandths(level / 10000) == level
        assert gravity.ten_thousandths(float(f"{level / 10000:.4f}")) == level
    assert [gravity.ten_thousandths(sg) for sg in (1.01244, 1.01245, 1.01249)] == [10124, 10125, 10125]


def test_parts_are_checked() -> None:
    for wrong in ((-1, 0.5, 0.6), (100, 0.6, 0.5), (100, 0.5, 1.3)):
        with pytest.raises(ValueError, match="outside"):
            Part(*wrong)
    with pytest.raises(ValueError, match="outside"):
        gravity.original([Part(5000, 0.7, 0.7)], 10)
