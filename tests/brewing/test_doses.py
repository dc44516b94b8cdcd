"""Sulphite by its atoms, nutrient by strength, and what is far from usual."""

from __future__ import annotations

import pytest

from sheetgen.brewing import doses
from sheetgen.intake import pantry


def test_metabisulphite_is_two_dioxides_by_weight() -> None:
    # K2S2O5: 2 x 39.098 + 2 x 32.06 + 5 x 15.999 = 222.311; 2 SO2: 128.116
    assert doses.sulphite_mg(1) == pytest.approx(576.29, abs=0.01)
    # the sodium salt weighs 190.095
    assert doses.sulphite_mg(1, "sodium") == pytest.approx(673.96, abs=0.01)
    assert doses.sulphite_mg(0) == 0


def test_its_atoms_weigh_what_others_say() -> None:
    chemicals = pytest.importorskip("chemicals")
    for salt, formula in (("potassium", "K2S2O5"), ("sodium", "Na2S2O5")):
        whole = chemicals.elements.molecular_weight(chemicals.elements.simple_formula_parser(formula))
        dioxide = chemicals.elements.molecular_weight(chemicals.elements.simple_formula_parser("SO2"))
        assert doses.sulphite_mg(1, salt) == pytest.approx(2000 * dioxide / whole, rel=1e-4)


def test_the_pantry_says_the_same() -> None:
    shelf = pantry.ingredients()
    per_unit = {
        "potassium metabisulphite": doses.sulphite_mg(1),
        "sodium metabisulphite": doses.sulphite_mg(1, "sodium"),
        "sulphite tablet": doses.sulphite_mg(0.44),
    }
    for name, milligrams in per_unit.items():
        item = shelf.find(name)
        assert item is not None
        assert item.sulphite_mg == pytest.approx(milligrams, abs=0.5)


@pytest.mark.parametrize(
    ("mg", "declared"), [(0, False), (9.999, False), (10, False), (10.001, True), (50, True)]
)
def test_sulphites_are_declared_above_ten_milligrams(mg: float, declared: bool) -> None:
    assert doses.must_be_declared(mg) == declared


@pytest.mark.parametrize(("sg", "factor"), [(1.0, 1), (1.050, 1), (1.075, 1.5), (1.100, 2), (1.130, 2)])
def test_strong_must_wants_more_nutrient(sg: float, factor: float) -> None:
    assert doses.nutrient_factor(sg) == pytest.approx(factor)


@pytest.mark.parametrize(
    ("amount", "far"), [(0.049, True), (0.05, False), (0.2, False), (0.6, False), (0.601, True)]
)
def test_far_is_under_half_or_over_double(amount: float, far: bool) -> None:
    assert doses.is_far_from_usual(amount, 0.1, 0.3) == far


def test_what_cannot_be_is_refused() -> None:
    for call in (
        lambda: doses.sulphite_mg(-1),
        lambda: doses.sulphite_mg(1, "calcium"),
        lambda: doses.must_be_declared(-0.1),
        lambda: doses.nutrient_factor(1.2),
        lambda: doses.is_far_from_usual(1, 2, 1),
    ):
        with pytest.raises(ValueError, match=r"outside|not one of|upside down|range"):
            call()
