"""Whole ranges compared with independent libraries: water, boiling, the growth model, molar masses."""

from __future__ import annotations

from math import exp

import pytest

from sheetgen.brewing import carbonation, fermentation, heat


def test_density_of_water() -> None:
    from iapws import IAPWS95

    for celsius in range(1, 100, 3):
        wanted = IAPWS95(T=celsius + 273.15, P=0.101325).rho / 1000
        assert heat.water_kg_per_litre(celsius) == pytest.approx(wanted, abs=2e-5), celsius


def test_enthalpy_of_water() -> None:
    from iapws import IAPWS95

    at_zero = IAPWS95(T=273.15, P=0.101325).h
    for celsius in [*range(1, 100, 3), 99.9]:
        wanted = IAPWS95(T=celsius + 273.15, P=0.101325).h - at_zero
        assert heat.kilojoules_per_kilogram(celsius) == pytest.approx(wanted, abs=0.08), celsius


def test_mixing_water() -> None:
    """Every pair of temperatures lands where the library's own enthalpy balance lands."""
    from iapws import IAPWS95

    for hot, cold in ((99, 1), (95, 5), (80, 20), (60, 4), (40, 30)):
        half = sum(IAPWS95(T=t + 273.15, P=0.101325).h for t in (hot, cold)) / 2
        mixed = heat.mixed_celsius([heat.Part(2.5, hot), heat.Part(2.5, cold)])
        assert IAPWS95(T=mixed + 273.15, P=0.101325).h == pytest.approx(half, abs=0.1)


def test_vapour_over_water() -> None:
    from iapws import IAPWS95

    for celsius in range(1, 100, 7):
        wanted = IAPWS95(T=celsius + 273.15, x=0).P * 10
        assert heat.water_vapour_bar(celsius) == pytest.approx(wanted, rel=1e-3), celsius


def test_boiling_at_altitude() -> None:
    from iapws import IAPWS95

    for metres in range(-400, 5001, 450):
        wanted = IAPWS95(P=heat.air_bar(metres) / 10, x=0).T - 273.15
        assert heat.boiling_celsius(metres) == pytest.approx(wanted, abs=0.01), metres


PARTS = {
    "VG": (35.77, 22.6), "VM": (16.4, 11.3), "VN": (10.59, 7.16), "KG": (-121.3, -68.6),
    "KM": (-19.15, -14.4), "KN": (-26.78, -19.9), "KiG": (23.33, 10.2), "KiM": (55.61, 26.3),
}  # fmt: skip


def hours_by_library(celsius: float, fractions: tuple[float, ...]) -> list[float]:
    """The published equations by a stiff solver: the hours at which so much sugar (by mass) is left."""
    from scipy.integrate import solve_ivp

    k = {name: exp(a - ea / (0.001987 * (celsius + 273.15))) for name, (a, ea) in PARTS.items()}

    def slopes(_: float, y: list[float]) -> list[float]:
        glucose, maltose, maltotriose, yeast = (max(value, 0.0) for value in y)
        held = k["KiG"] / (k["KiG"] + glucose)
        use_g = k["VG"] * glucose / (k["KG"] + glucose)
        use_m = k["VM"] * maltose / (k["KM"] + maltose) * held
        use_n = k["VN"] * maltotriose / (k["KN"] + maltotriose) * held * k["KiM"] / (k["KiM"] + maltose)
        growth = 0.134 * use_g + 0.268 * use_m + 0.402 * use_n
        return [-use_g * yeast, -use_m * yeast, -use_n * yeast, growth * yeast]

    def mass(y: list[float]) -> float:
        return float(180.156 * y[0] + 342.297 * y[1] + 504.437 * y[2])

    start = [70.0, 220.0, 40.0, 125.0]
    events = [lambda _, y, left=left: mass(y) - left * mass(start) for left in fractions]
    solved = solve_ivp(slopes, (0, 4000), start, method="LSODA", rtol=1e-8, atol=1e-8, events=events)
    return [float(times[0]) for times in solved.t_events]


@pytest.mark.parametrize("celsius", [4, 8, 11, 14, 16, 18, 20, 22, 25, 28, 30])
def test_growth_model(celsius: float) -> None:
    fractions = (0.9, 0.7, 0.5, 0.25, 0.1, 0.05, 0.01, 0.002)
    wanted = hours_by_library(celsius, fractions)
    found = [fermentation.hours_until(left, celsius) for left in fractions]
    assert found == pytest.approx(wanted, rel=3e-3, abs=0.1)


def test_yields_from_molar_masses() -> None:
    from chemicals import MW

    carbon_dioxide, water = MW("124-38-9"), MW("7732-18-5")
    sucrose, glucose = MW("57-50-1"), MW("50-99-7")
    for sugar, mass, molecules in (
        ("table sugar", sucrose, 4),
        ("dextrose anhydrous", glucose, 2),
        ("dextrose", glucose + water, 2),
    ):
        wanted = molecules * carbon_dioxide / mass
        assert carbonation.SUGARS[sugar].usual == pytest.approx(wanted, abs=1e-5)


def test_points_of_sugar_left_by_stoichiometry() -> None:
    """One apparent point is 2.1 g/L of real extract: the figure printed is the safer one, not below."""
    per_point = 2.1 * carbonation.SUGARS["table sugar"].usual / carbonation.GRAMS_PER_VOLUME
    assert carbonation.volumes_from_points(1.0) == pytest.approx(per_point, abs=0.005)
    assert carbonation.volumes_from_points(1.0) >= per_point
