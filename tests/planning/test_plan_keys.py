"""Every key of a batch file changes the plan, by an amount that can be worked out with a pencil.

The base is our example 27B: 12 L of a pale with 35 g of dry hops, in a room of 19 C.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
import yaml

from sheetgen.planning.plan import Plan

from .described import changed, day, example, gas_left, ids, plan_of, planned

Value = Callable[[Plan], Any]


def of(task: str) -> Value:
    return lambda plan: plan.task(task).when.expected


def amount(name: str, stage: str) -> Value:
    def found(plan: Plan) -> float:
        return next(u.amount for u in plan.quantities.ingredients if u.name == name and u.stage == stage)

    return found


def grams(ml: float) -> Value:
    return lambda plan: next(size.grams_each for size in plan.carbonation.sizes if size.ml == ml)


def fills(plan: Plan) -> list[int]:
    return [row.fill for row in plan.bottles.rows]


def close(value: float) -> Any:
    return pytest.approx(value, abs=0.0006)


# key, new value, what it changes, and to what.  The pencil's work stands in the comment above each line.
KEYS: list[tuple[str, Any, Value, Any]] = [
    ("batch", "28C", lambda p: p.code, "28C"),
    # 1.7 kg x 300 / 12 = 42.5 points
    ("recipe", "copper-lane-amber", lambda p: p.quantities.original_gravity, close(1.0425)),
    ("brewer", "Jon", lambda p: p.brewer, "Jon"),
    # 1000 g x 8/12 = 666.7, to 5 g
    ("volume", "8 L", amount("pale dry malt extract", "off-heat"), 665),
    # sediment 0.4 + dead space 0.1 + three samples 0.3 + 6.5 ml x 35 g x 8/12 = 0.152
    ("volume", "8 L", lambda p: p.quantities.loss_l, close(0.4 + 0.1 + 0.3 + 0.1517)),
    # 12 x 0.5 = 6 L; V - 0.8 - 0.0065 x 35/12 x V = 6, so V = 6.8 / 0.98104 = 6.93, up to 7.0
    ("volume", "12 x 500 ml", lambda p: p.quantities.litres, 7.0),
    # two weeks later: day 12 (11 x 1.0667) is Thu 1 April, next my-day Sat 3 April; hops 3 days before,
    # Wed 31 March
    ("brew-day", "2027-03-20 10:00", of("test-1"), day("4-3")),
    ("brew-day", "2027-03-20 10:00", of("dry-hop"), day("3-31")),
    ("brew-day", "2027-03-06 9:00", lambda p: f"{p.start:%d %H:%M}", "06 09:00"),
    ("brew-day", "2027-03-06 9:00", lambda p: f"{p.steps[0].clock:%d %H:%M}", "06 09:00"),
    # under 16 C readings are 4 days apart
    ("room.fermenting", "15 C", lambda p: p.gate.gap_days, 4),
    # a range: the cooler end gives the gas left for the dose
    ("room.fermenting", "17-20 C", lambda p: p.carbonation.residual_volumes, close(gas_left(17))),
    # 26 days of fizz at 16.5 C
    ("room.warm-place", "16.5 C", lambda p: p.labels.wait_days, 26),
    # hop-forward keeps 3 months; from 25 C on half: 1.5 x 30.4 = 45.6 days
    ("room.storing", "25 C", lambda p: (p.labels.best_before - p.labels.filled).days, 46),
    # The pot is poured at t: 5.3 - 0.75 steam - 0.12 in the grain = 4.43 L and 1.5 kg of dry malt, as much
    # heat as in 1.5 x 1.3 / 4.19 = 0.465 L: 4.895.  12 - 1.5 x 0.63 - 0.15 x 0.2 - 4.43 = 6.595 L are
    # cold.  Wanted 19 C.  As it stands: 4.895 (t - 19) = 6 x 15 + 0.595 x 7, t = 38.2
    ("water.tap", "12 C", lambda p: p.quantities.water.cool_pot_to_c, 38),
    # 4.895 (t - 19) = 6 x 15 - 0.595 x 1, t = 37.3
    ("water.tap", "20 C", lambda p: p.quantities.water.cool_pot_to_c, 37),
    # 4.895 (t - 19) = 6 x 9 + 0.595 x 7, t = 30.9
    ("water.fridge", "10 C", lambda p: p.quantities.water.cool_pot_to_c, 30),
    # 4.895 (t - 19) = 4 x 15 + 2.595 x 7, t = 35.0; to the polynomial of water's heat, 34.97
    ("water.fridge-space", "4 L", lambda p: p.quantities.water.cool_pot_to_c, 34),
    # 1 kg of ice for 0.6 L at 12 C and 0.4 L at 4 C: 334 + 0.6 x 50 + 0.4 x 17 = 371 kJ, 88.5 L x C;
    # 4.895 (t - 19) = 94.2 + 88.5, t = 56.3
    ("water.ice", "1 kg", lambda p: p.quantities.water.cool_pot_to_c, 56),
    ("water.ice", "1 kg", lambda p: p.quantities.water.ice_kg, 1.0),
    # boils at 90.0 C, and 1 kg of malt at 19 C makes that 4.43 x 4.19 + 0.65 + 1.3: 85.5 C;
    # 3.3 h x cube root of 5.405 L / 6 = 0.965 h; x ln(73.5 / 26) = 60.2 min
    ("water.altitude", "3000 m", lambda p: p.quantities.water.cool_minutes, 65),
    (
        "equipment.vessel",
        "{name: red tub, holds: 18 L}",
        lambda p: (p.vessel_name, p.vessel_l),
        ("red tub", 18),
    ),
    # 40 % of 11.025 L + 0.75 steam + 0.12 in the grain = 5.28
    ("equipment.pot", "20 L", lambda p: p.quantities.water.kettle_l, 5.3),
    # three quarters of 7 L, less 0.5 x 0.63 + 0.15 x 0.2 when the boil begins: 4.905
    ("equipment.pot", "7 L", lambda p: p.quantities.water.kettle_l, 4.9),
    # 4 L x 0.5 h; 4.41 + 2 + 0.12 = 6.53, over 6 - 0.345 = 5.655: as much as the pot holds
    ("equipment.boil-off", "4 L", lambda p: p.quantities.water.kettle_l, 5.6),
    ("equipment.boil-off", "1 L an hour", lambda p: p.quantities.water.boiled_off_l, 0.5),
    ("equipment.hydrometer", "15 C", lambda p: dict(p.gate.correction_strip)[15.0], 0),
    ("equipment.hydrometer.in-water", "0.998", lambda p: dict(p.gate.correction_strip)[20.0], 2.0),
    # 4 g/L x 4 L
    ("equipment.sanitiser", "percarbonate cleaner", lambda p: p.lists.sanitising.brew_day_dose, 16),
    ("equipment.cleaner", "percarbonate cleaner", lambda p: p.lists.cleaning[0].dose, 16),
    # 10.89 L: six of 1 L leave 4.89 L, nine of 500 ml
    ("bottles", "6 x 1 L pet, 18 x 500 ml returnable glass", fills, [6, 9]),
    ("bottles", "8 x 1 L pet, 18 x 500 ml returnable glass", fills, [8, 5]),
    ("bottles", "18 x 500 ml returnable glass, 6 x 1 L pet", fills, [18, 1]),
    ("bottles", "6 x 1 L pet, 18 x 330 ml returnable glass", fills, [6, 14]),
    ("bottles", "6 x 1 L pet, 18 x 500 ml one-way glass", lambda p: p.carbonation.limit_volumes, 3.0),
    (
        "bottles",
        [{"size": "500 ml", "kind": "pet", "count": "24", "for": "Ann"}],
        lambda p: p.bottles.rows[0].what_for,
        "Ann",
    ),
    # Mondays: test 1 would be Mon 22, so hops on Fri 19, moved to Mon 22; test 1 three days
    # on, Thu 25, moved to the holiday on Fri 26; test 2 and bottling on Mon 29
    ("my-days", ["mon"], of("bottle"), day("3-29")),
    # test 2 is due on Tue 23
    ("holidays", ["2027-03-23"], of("test-2"), day("3-23")),
    # Thu 18 moves to Wed 24, so hops Wed 24, test 1 Sat 27, test 2 Wed 31 (3 days on is Tue)
    ("away", ["2027-03-20..2027-03-21"], of("test-2"), day("3-31")),
    # (2.0 - 0.877) x 4 = 4.49 g/L
    ("carbonation", "2.0 volumes", grams(500), 2.2),
    # (2.4 - 0.877) x 4 = 6.09 g/L of table sugar, x 0.51429 / 0.44416 = 7.05
    ("sugar", "dextrose", grams(500), 3.5),
    # 6.09 / 4.26 = 1.43, so 1.5 (4.9 % over); 1.5 x 4.26 g in a plastic litre, and 0.75
    # heaped in half a litre of glass
    (
        "dosing",
        "teaspoons",
        lambda p: p.carbonation.sizes[0].volumes_upper,
        close(gas_left(19) + 6.39 * 0.26014),
    ),
    (
        "dosing",
        "teaspoons",
        lambda p: p.carbonation.sizes[1].volumes_upper,
        close(gas_left(19) + 7.668 * 0.26014),
    ),
    ("dosing", "in-bulk", lambda p: [s.said.id for s in p.bottling_steps].count("bottle-step.syrup"), 1),
    ("paper", "Letter", lambda p: p.paper, "Letter"),
    ("labels.stock", "a4-3x7", lambda p: p.stock, "a4-3x7"),
    ("labels.start-at", "7", lambda p: p.start_at, 7),
    ("language", "en-US", lambda p: p.language, "en-US"),
    ("units", "us", lambda p: p.units, "us"),
]


@pytest.mark.parametrize(
    ("key", "value", "what", "expected"), KEYS, ids=[f"{k[0]}={k[1]}"[:40] for k in KEYS]
)
def test_a_key_changes_the_plan(key: str, value: Any, what: Value, expected: Any):
    if isinstance(value, str) and value.startswith("{"):
        value = yaml.load(value, yaml.BaseLoader)
    tree = example("27b")
    if key == "equipment.hydrometer.in-water":
        tree = changed(tree, "equipment.hydrometer", {"calibrated": "20 C"})
    assert what(plan_of(changed(tree, key, value))) == expected


# What really happened, entered on Monday 22 March.
FACTS: list[tuple[str, Any, Value, Any]] = [
    ("brewed", "2027-03-07", of("brew"), day("3-7")),
    # never before day 7 x 1.0667 = 7.47, day 8; but today is later than that
    ("brewed", "2027-03-09", lambda p: p.task("test-1").when.earliest, day("3-22")),
    ("pitched", "2027-03-09", lambda p: p.task("test-1").when.earliest, day("3-22")),
    ("pitched", "2027-03-08", lambda p: p.task("brew").day, -2),
    ("og", "1.044 at 20 C", lambda p: p.quantities.original_gravity, close(1.044)),
    # 44/48 of 15.85 points = 14.53, + 2, down
    ("og", "1.044 at 20 C", lambda p: p.gate.ceiling, 1.016),
    # a higher one raises no limit: 15.85 + 2, down
    ("og", "1.053 at 20 C", lambda p: (p.quantities.original_gravity, p.gate.ceiling), (close(1.053), 1.017)),
    # 0.99821 / 0.99730 of water's density, from 20 to 24 C
    ("og", "1.044 at 24 C", lambda p: p.quantities.original_gravity, close(1.044 * 0.99821 / 0.99730)),
    # seven points under the recipe's: not mixed
    ("og", "1.041 at 20 C", lambda p: p.quantities.original_gravity, close(1.048)),
    # 576 / 11
    ("litres", "11", lambda p: p.quantities.original_gravity, close(1.05236)),
    # 11 - 0.44 - 0.1 - 0.3 - 0.0065 x 35/12 x 11
    ("litres", "11", lambda p: p.quantities.bottling_l, close(9.9515)),
    ("dry-hopped", "2027-03-20", of("dry-hop"), day("3-20")),
    # three days after the hops is Tue 23, next my-day Wed 24
    ("dry-hopped", "2027-03-20", of("test-1"), day("3-24")),
    # 0.2 kg x 290 = 58; (576 + 58) / (12 + 0.14)
    (
        "added",
        [{"on": "2027-03-12", "what": "honey", "amount": "200 g"}],
        lambda p: p.quantities.original_gravity,
        close(1.05222),
    ),
    (
        "added",
        [{"on": "2027-03-21", "what": "honey", "amount": "200 g"}],
        lambda p: p.gate.next_date,
        day("3-24"),
    ),
    ("warmed", [{"on": "2027-03-21", "to": "22 C"}], lambda p: p.gate.next_date, day("3-24")),
    ("seen", "skin", lambda p: p.gate.gap_days, 14),
    ("finish-test", "1.020 at 20 C", lambda p: (round(p.gate.high, 4), p.gate.ceiling), (1.020, 1.021)),
    # (2.4 - 0.8002) x 4 = 6.399
    ("warmest-since", "22 C", grams(1000), 6.3),
    (
        "bottled",
        {"on": "2027-03-21"},
        lambda p: (p.labels.filled_is, p.labels.filled),
        ("actual", day("3-21")),
    ),
    ("bottled", {"on": "2027-03-21", "litres": "8", "bottles": {"1 L": "4", "500 ml": "8"}}, fills, [4, 8]),
]


@pytest.mark.parametrize(
    ("key", "value", "what", "expected"), FACTS, ids=[f"{f[0]}={f[1]}"[:40] for f in FACTS]
)
def test_a_fact_changes_the_plan(key: str, value: Any, what: Value, expected: Any):
    tree = changed(example("27b"), "actual", {"brewed": "2027-03-06", "dry-hopped": "2027-03-13"})
    today = date(2027, 3, 22)
    plan = plan_of(changed(tree, f"actual.{key}", value), today)
    assert what(plan) == expected


def test_readings_that_agree_pass_the_gate():
    tree = changed(example("27b"), "actual", {"brewed": "2027-03-06", "dry-hopped": "2027-03-13"})
    readings = [{"on": "2027-03-17", "sg": "1.014 at 20 C"}, {"on": "2027-03-20", "sg": "1.014 at 20 C"}]
    plan = plan_of(changed(tree, "actual.readings", readings), date(2027, 3, 20))
    assert plan.gate.state == "pass"
    assert plan.task("bottle").when.expected == day("3-20")  # the same Saturday, after the reading


@pytest.mark.parametrize(
    ("key", "value", "level", "words"),
    [
        ("equipment.scales", "1 g", "note", "note.coarse-scales"),
        ("equipment.bottling-vessel", "10 L", "warn", "warn.bottling-vessel"),
        ("equipment.vessel", "14 L", "warn", "warn.vessel"),
        ("room.storing", "31 C", "warn", "warn.never-above-30"),
    ],
)
def test_a_key_that_asks_for_care_says_so(key: str, value: str, level: str, words: str):
    assert words not in ids(planned(example("27b"))[1], level)
    assert words in ids(planned(changed(example("27b"), key, value))[1], level)
