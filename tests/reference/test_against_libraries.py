"""Whole ranges compared with independent libraries: water, boiling, gas, the growth model, molar masses."""

from __future__ import annotations

import csv
import warnings
from itertools import pairwise
from math import exp
from pathlib import Path

import pytest

from sheetgen.brewing import alcohol, carbonation, colour, doses, fermentation, gravity, heat


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


@pytest.mark.parametrize("celsius", [4, 6, *range(8, 31)])
def test_growth_model(celsius: float) -> None:
    fractions = (0.9, 0.7, 0.5, 0.25, 0.1, 0.05, 0.01, 0.002)
    wanted = hours_by_library(celsius, fractions)
    found = [fermentation.hours_until(left, celsius) for left in fractions]
    assert found == pytest.approx(wanted, rel=1e-3)


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


# Water once more, by a second library

BAR, ATMOSPHERE = 1e5, 101325.0


def water(wanted: str, celsius: float, bar: float = 1.01325) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(wanted, "T", celsius + 273.15, "P", bar * BAR, "Water"))


def vapour_bar(celsius: float) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("P", "T", max(celsius, 0.01) + 273.15, "Q", 0, "Water")) / BAR


def test_density_and_heat_of_water_by_a_second_library() -> None:
    zero = water("H", 0.01)
    for tenths in range(1, 1000, 13):
        celsius = tenths / 10
        assert heat.water_kg_per_litre(celsius) == pytest.approx(water("D", celsius) / 1000, abs=2e-5), (
            celsius
        )
        kilojoules = (water("H", celsius) - zero) / 1000 + 0.042
        assert heat.kilojoules_per_kilogram(celsius) == pytest.approx(kilojoules, abs=0.1), celsius


def test_vapour_and_boiling_by_a_second_library() -> None:
    from CoolProp.CoolProp import PropsSI

    for celsius in range(101):
        assert heat.water_vapour_bar(celsius) == pytest.approx(vapour_bar(celsius), rel=1e-3), celsius
    for metres in range(-450, 5001, 50):
        pascal = ATMOSPHERE * (1 - 0.0065 * metres / 288.15) ** 5.25588
        boils = float(PropsSI("T", "P", pascal, "Q", 0, "Water")) - 273.15
        assert heat.boiling_celsius(metres) == pytest.approx(boils, abs=0.02), metres


def test_hydrometers_of_every_make_at_every_temperature() -> None:
    """A hydrometer floats by the water's density; from the library's density alone."""
    for made_for in (4, 15, 15.5556, 20, 25, 30):
        for celsius in range(1, 41):
            for read in (0.99, 1.01, 1.05, 1.1):
                wanted = read * water("D", made_for) / water("D", celsius)
                found = gravity.corrected_reading(read, celsius, made_for)
                assert found == pytest.approx(wanted, abs=3e-5), (made_for, celsius)


# Gas


def moles_per_litre() -> list[float]:
    """Solubility of CO2 in fresh water at 0 to 40 C, in mol/(L atm)."""
    import PyCO2SYS

    degrees = list(range(41))
    per_kilogram = PyCO2SYS.sys(
        par1=400, par1_type=9, par2=8, par2_type=3, salinity=0, temperature=degrees
    )["k_CO2"]  # fmt: skip
    return [float(k) * water("D", max(t, 0.01)) / 1000 for t, k in zip(degrees, per_kilogram, strict=True)]


def test_solubility_of_the_gas() -> None:
    for celsius, wanted in enumerate(moles_per_litre()):
        assert carbonation.moles_per_litre_atm(celsius) == pytest.approx(wanted, rel=2e-3), celsius


def test_gas_left_in_the_drink() -> None:
    for celsius, moles in enumerate(moles_per_litre()):
        wanted = moles * 44.0095 / 1.977 * (1 - vapour_bar(celsius) / 1.01325)
        assert carbonation.residual_volumes(celsius) == pytest.approx(wanted, rel=2e-3), celsius


def test_pressure_in_a_bottle() -> None:
    """Henry's law put together from two libraries, 0 to 40 C and 0.5 to 6 volumes."""
    for celsius, moles in enumerate(moles_per_litre()):
        for halves in range(1, 13):
            absolute = halves / 2 * 1.977 / 44.0095 / moles * 1.01325 + vapour_bar(celsius)
            found = carbonation.gauge_bar(halves / 2, celsius)
            assert found == pytest.approx(absolute - 1.01325, rel=3e-3, abs=3e-3), (celsius, halves)


def test_one_volume_of_gas() -> None:
    from CoolProp.CoolProp import PropsSI

    density = float(PropsSI("D", "T", 273.15, "P", ATMOSPHERE, "CarbonDioxide"))
    assert pytest.approx(density, abs=5e-4) == carbonation.GRAMS_PER_VOLUME


# Sugar and alcohol


def test_molar_masses_of_every_sugar_in_the_table() -> None:
    from chemicals import MW

    water_, gas, spirit = MW("7732-18-5"), MW("124-38-9"), MW("64-17-5")
    sucrose, glucose = MW("57-50-1"), MW("50-99-7")
    masses = {  # how many molecules of hexose, and what was added to or taken from them
        "sucrose C12H22O11": (2, sucrose),
        "maltose anhydrous C12H22O11": (2, sucrose),
        "glucose anhydrous C6H12O6": (1, glucose),
        "fructose C6H12O6": (1, glucose),
        "maltose monohydrate": (2, sucrose + water_),
        "glucose monohydrate C6H12O6.H2O": (1, glucose + water_),
        "maltotriose C18H32O16": (3, 3 * glucose - 2 * water_),
    }
    with (Path(__file__).parent / "stoichiometry.csv").open(encoding="utf-8", newline="") as file:
        table = {row["sugar"]: row for row in csv.DictReader(file)}
    assert set(table) == {*masses, "extract (Balling mass balance)"}
    for sugar, (hexoses, mass) in masses.items():
        row = table[sugar]
        assert mass == pytest.approx(float(row["molar_mass_g_per_mol"]), abs=2e-3), sugar
        assert 2 * hexoses * gas / mass == pytest.approx(float(row["g_co2_per_g"]), abs=1e-5), sugar
        assert 2 * hexoses * spirit / mass == pytest.approx(float(row["g_ethanol_per_g"]), abs=2e-5), sugar


@pytest.mark.parametrize(("salt", "number"), [("potassium", "16731-55-8"), ("sodium", "7681-57-4")])
def test_sulphur_dioxide_in_a_tablet(salt: str, number: str) -> None:
    """Each metabisulphite gives two molecules of sulphur dioxide."""
    from chemicals import MW

    for grams in (0.1, 0.44, 5.0):
        wanted = 1000 * grams * 2 * MW("7446-09-5") / MW(number)
        assert doses.sulphite_mg(grams, salt) == pytest.approx(wanted, rel=3e-4)


def test_density_of_alcohol() -> None:
    from CoolProp.CoolProp import PropsSI

    density = float(PropsSI("D", "T", 293.15, "P", ATMOSPHERE, "Ethanol")) / 1000
    assert pytest.approx(density, abs=5e-4) == alcohol.ETHANOL_KG_PER_LITRE


@pytest.mark.parametrize("column", ["sg_lincoln_asbc", "sg_nbs_c440", "sg_icumsa_in_air"])
def test_plato_between_the_rows_of_each_printed_table(column: str) -> None:
    """A polynomial through each source's own values, walked from 0 to 24 degrees Plato."""
    import numpy as np

    with (Path(__file__).parent / "gravity_plato.csv").open(encoding="utf-8", newline="") as file:
        table = [(float(row["plato"]), float(row[column])) for row in csv.DictReader(file)]
    fitted = np.polynomial.Polynomial.fit([at for at, _ in table], [sg for _, sg in table], 4)
    for tenths in range(241):
        assert gravity.sg_of(tenths / 10) == pytest.approx(float(fitted(tenths / 10)), abs=7e-5), tenths


def test_strength_by_two_ways_over_the_whole_range() -> None:
    """Balling's balance lies above the table of the duty by up to a tenth, never below it."""
    for points in range(30, 111, 5):
        for attenuation in (0.65, 0.70, 0.75, 0.80):
            original, final = 1 + points / 1000, 1 + points * (1 - attenuation) / 1000
            balance, duty = alcohol.percent_by_volume(original, final), alcohol.duty_percent(original, final)
            assert 0.0 < balance - duty < 0.11 * duty, (points, attenuation)


def test_the_colour_of_beer_on_a_screen() -> None:
    """The same spectrum, integrated by a colour library with its own observer, daylight and sRGB."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it misses a drawing library that is not needed here
        import colour as science

        observer = science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy()
        observer = observer.align(science.SpectralShape(380, 780, 5))
        daylight = science.SDS_ILLUMINANTS["D65"].copy().align(observer.shape)
        for srm in (0, 2, 3, 5, 8, 12, 20, 30, 45, 80):
            passed = {nm: colour.transmitted(srm, float(nm)) for nm in range(380, 781, 5)}
            seen = science.sd_to_XYZ(science.SpectralDistribution(passed), observer, daylight) / 100
            wanted = [255 * min(1.0, max(0.0, each)) for each in science.XYZ_to_sRGB(seen)]
            assert colour.red_green_blue(srm) == pytest.approx(wanted, abs=4), srm


def test_darker_beer_is_never_lighter() -> None:
    looks = [colour.red_green_blue(srm / 2) for srm in range(101)]
    for lighter, darker in pairwise(looks):
        assert all(a >= b for a, b in zip(lighter, darker, strict=True))
    assert looks[0] == (255, 255, 255)
