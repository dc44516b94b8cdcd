"""Limits that an exact look from outside found wanting: each once wrong, and held from then on."""

from __future__ import annotations

from typing import Any

import pytest

from sheetgen.brewing import heat
from sheetgen.planning.packs import cover, number_of

from .described import ids, plan_of, planned, six

POUND = 453.59237


@pytest.mark.parametrize(("pounds", "packs"), [(1, 1), (2, 2), (3, 3), (8, 8), (40, 40)])
def test_pounds_are_bought_in_as_many_packs_of_a_pound(pounds: int, packs: int):
    assert number_of(cover(pounds * POUND, (POUND,))) == packs


def test_a_lower_reading_on_brew_day_never_raises_the_ceiling():
    """Also where the reading is too far off to be believed."""
    ceilings = []
    for thousandths in range(1046, 1009, -1):
        plan = plan_of(six(actual={"brewed": "2027-02-15", "og": f"{thousandths / 1000:.3f} at 20 C"}))
        ceilings.append((plan.gate.ceiling, plan.gate.high))
    assert ceilings == sorted(ceilings, reverse=True)
    assert ceilings[-1] < ceilings[0]


def test_what_goes_in_never_passes_the_mark():
    words = {"recipe": "plot-eleven-cider", "volume": "10 L", "packs": {"apple juice": "1.5 L"}}
    assert ids(planned(six(**words))[1], "stop") == []
    _, problems = planned(six(**words, **{"whole-packs": "strength-follows"}))
    assert "stop.over-the-mark" in ids(problems, "stop")


@pytest.mark.parametrize(("volume", "most"), [("5.2 L", 110), ("10 L", 110), ("11 L", 110)])
def test_sulphite_is_never_rounded_up_to_twice(volume: str, most: float):
    words: dict[str, Any] = {"recipe": "plot-eleven-bramble", "volume": volume, "bottles": "20 x 750 ml wine"}
    assert plan_of(six(**words)).quantities.sulphites_mg_per_litre <= most


def test_stirring_starts_the_count_again_in_any_drink():
    readings = [{"on": "2027-02-10", "sg": "1.011 at 20 C"}, {"on": "2027-02-13", "sg": "1.011 at 20 C"}]
    actual: dict[str, Any] = {"brewed": "2027-01-20", "readings": readings}
    assert plan_of(six(actual=actual)).gate.state == "pass"
    stirred = {**actual, "done": [{"on": "2027-02-12", "what": "stir"}]}
    assert plan_of(six(actual=stirred)).gate.state != "pass"


def test_a_part_of_a_mix_may_be_written_as_three_values():
    assert heat.mixed_celsius([(1.0, 80.0, "water"), (1.0, 20.0, "water")]) == pytest.approx(50, abs=0.3)
