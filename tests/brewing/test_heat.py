"""Mixing, cooling, boiling."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.brewing import heat
from sheetgen.brewing.heat import Part

FLUID = [name for name in heat.SUBSTANCES if name != "ice"]
parts = st.lists(
    st.builds(Part, st.floats(0.1, 20), st.floats(0, 100), st.sampled_from(FLUID)),
    min_size=1,
    max_size=5,
)


@given(parts)
def test_a_mix_lies_between_its_parts(mix: list[Part]) -> None:
    celsius = heat.mixed_celsius(mix)
    coldest, hottest = min(p.celsius for p in mix), max(p.celsius for p in mix)
    assert coldest - 1e-6 <= celsius <= hottest + 1e-6


@given(parts, st.floats(0.1, 20), st.floats(1, 99))
def test_solving_is_the_inverse_of_mixing(mix: list[Part], kilograms: float, celsius: float) -> None:
    target = heat.mixed_celsius([*mix, Part(kilograms, celsius)])
    pot = [Part(kilograms / 2, 0.0), Part(kilograms / 2, 90.0)]
    assert heat.celsius_for(mix, pot, target) == pytest.approx(celsius, abs=1e-4)


@given(parts, st.floats(0.5, 20), st.floats(0, 1))
def test_cold_share_is_the_inverse_of_mixing(mix: list[Part], kilograms: float, share: float) -> None:
    water = [Part(kilograms * share, 4.0), Part(kilograms * (1 - share), 14.0)]
    target = heat.mixed_celsius([*mix, *water])
    assert heat.cold_share(mix, kilograms, 4.0, 14.0, target) == pytest.approx(share, abs=1e-4)


def test_cold_share_says_which_side_is_wrong() -> None:
    hot = [Part(3.0, 99.0)]
    assert heat.cold_share(hot, 9.0, 4.0, 12.0, 19.0) > 1
    assert heat.cold_share([Part(1.0, 30.0)], 9.0, 4.0, 12.0, 19.0) < 0


@pytest.mark.parametrize(("hot_kg", "celsius"), [(2.0, 23.3), (3.0, 30.8), (1.7, 21.1), (1.5, 19.6)])
def test_twelve_litres_with_1_7_kg_of_extract(hot_kg: float, celsius: float) -> None:
    """Extract at 20 C, a kettle at 99 C, 6 L from the fridge at 4 C, the rest from the tap at 12 C."""
    water_kg = 12.0 - 1.7 / heat.MALT_SYRUP_KG_PER_LITRE
    mix = [
        Part(1.7, 20.0, "malt syrup"),
        Part(hot_kg, 99.0),
        Part(6.0, 4.0),
        Part(water_kg - 6.0 - hot_kg, 12.0),
    ]
    assert heat.mixed_celsius(mix) == pytest.approx(celsius, abs=0.4)


@given(st.floats(1, 20), st.floats(21, 100))
def test_ice_brings_water_down(kilograms: float, celsius: float) -> None:
    """What the water gives up is what the ice takes: melting, and warming to the target."""
    ice = heat.ice_kilograms([Part(kilograms, celsius)], 20.0)
    given_up = kilograms * (heat.kilojoules_per_kilogram(celsius) - heat.kilojoules_per_kilogram(20.0))
    assert ice * (333.55 + heat.kilojoules_per_kilogram(20.0)) == pytest.approx(given_up)
    assert heat.mixed_celsius([Part(kilograms, celsius), Part(ice, 0.0, "ice")]) == pytest.approx(20.0)


@given(st.floats(2, 20), st.floats(10, 30), st.floats(0, 1))
def test_ice_in_place_of_water_keeps_the_mass(pot: float, tap: float, share: float) -> None:
    """Exchanged kilogram for kilogram, the mix comes to the target just the same."""
    mix, target = [Part(pot, 60.0), Part(20.0, tap)], 30.0 - 12 * share
    ice = heat.ice_kilograms(mix, target, tap)
    if 0 < ice < 20:
        changed = [Part(pot, 60.0), Part(20.0 - ice, tap), Part(ice, 0.0, "ice")]
        assert heat.mixed_celsius(changed) == pytest.approx(target, abs=1e-6)


def test_a_kilogram_of_ice_by_the_pencil() -> None:
    """10 kg at 30 C and 1 kg of ice: 10 x 4.18 x 30 - 334 = 920 kJ in 11 kg, 20.0 C."""
    assert heat.mixed_celsius([Part(10, 30), Part(1, 0, "ice")]) == pytest.approx(20.0, abs=0.1)


def test_ice_that_is_left_over_keeps_at_0() -> None:
    assert heat.mixed_celsius([Part(1, 10), Part(5, 0, "ice")]) == 0.0


def test_ice_is_never_warm() -> None:
    with pytest.raises(ValueError, match="0 to 0 C"):
        Part(1, 1, "ice")


def test_no_ice_for_cold_water() -> None:
    assert heat.ice_kilograms([Part(5, 10)], 20) == 0.0


@pytest.mark.parametrize(("litres", "tau"), [(20, 9.0), (5, 5.6)])
def test_time_constants_in_air(litres: float, tau: float) -> None:
    """After one time constant a third (1/e) of the difference is left."""
    from math import exp

    target = 18 + 72 * exp(-1)
    assert heat.hours_to_cool(litres, 90, target, 18) == pytest.approx(tau, abs=0.1)


@given(st.floats(1, 50), st.floats(25, 90))
def test_cooling(litres: float, target: float) -> None:
    slow = heat.hours_to_cool(litres, 95, target, 18)
    assert heat.hours_to_cool(litres + 1, 95, target, 18) > slow
    assert heat.hours_to_cool(litres, 95, target - 1, 18) > slow
    assert heat.hours_to_cool(litres, 95, target, 18, "bath") == pytest.approx(slow / 6)


def test_no_time_when_it_is_there_already() -> None:
    assert heat.hours_to_cool(10, 20, 20, 18) == 0.0
    assert heat.hours_to_cool(10, 19, 21, 12) == 0.0  # cooler than it need be


def test_boiling_at_the_sea() -> None:
    assert heat.boiling_celsius(0) == pytest.approx(99.97, abs=0.02)


@given(st.floats(0.5, 100), st.floats(0, 95), st.floats(5, 30), st.floats(0.1, 30))
def test_what_it_comes_to_and_how_long_it_takes_agree(
    litres: float, start: float, room: float, hours: float
) -> None:
    after = heat.celsius_after(litres, start, hours, room)
    assert min(start, room) <= after <= max(start, room)
    if abs(after - room) > 0.01 and abs(start - after) > 0.01:
        solve = heat.hours_to_cool if start > room else heat.hours_to_warm
        assert solve(litres, start, after, room) == pytest.approx(hours, rel=1e-3)


def test_a_cold_vessel_warms_as_a_warm_one_cools() -> None:
    assert heat.hours_to_warm(12, 10, 17, 20) == pytest.approx(heat.hours_to_cool(12, 30, 23, 20))
    assert heat.hours_to_warm(12, 18, 17, 20) == 0.0
    with pytest.raises(ValueError, match="not below its surroundings"):
        heat.hours_to_warm(12, 10, 20, 20)
