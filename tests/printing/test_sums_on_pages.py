"""No sum on a page is wrong by more than its last printed digit: each is read back off the page, in metric,
US and UK units, and held against the sum of its parts.

What a recipe uses at several times and what is bought of it; packs, less what is left of them; bottles, spare
ones and those that are short; caps; the sugar for each bottle, for the vessel and for the shop.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sheetgen.model import Batch
from sheetgen.planning import plan_batch
from sheetgen.planning.plan import Carbonation, Plan
from sheetgen.printing import measures
from sheetgen.printing.views.bottling import bottling
from sheetgen.printing.views.brew import brew
from sheetgen.printing.views.shop import shop
from sheetgen.printing.words import Words
from sheetgen.problems import Problems
from tests.planning.described import FEBRUARY, example, plan_of
from tests.planning.test_plan_always import batches
from tests.planning.test_plan_sentences import words_of

from .test_measures_always import BASE, in_base, step_of_litres, step_of_mass

QUICK = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
SYSTEMS = st.sampled_from(measures.SYSTEMS)
DUST = 1e-3


def plan_for(batch: Batch) -> Plan:
    problems = Problems()
    plan = plan_batch(batch, FEBRUARY, problems)
    assume(plan is not None)
    assert plan is not None
    return plan


@cache
def words_in(system: str) -> Words:
    return words_of("en-GB", system)


def printed(cell: Any, system: str) -> float:
    """A number of a column in grams, millilitres or pieces."""
    figures, unit = cell["value"].replace("\u202f", " ").replace("\u00a0", " "), cell["unit"]
    if not unit:
        return float(figures)
    if unit.startswith("piece"):
        return float(figures)
    value = in_base(measures.Measure(figures, unit), system)
    return value if unit in ("g", "kg", "oz", "lb") else value * 1000


def step_of(value: float, unit: str, system: str) -> float:
    """The last printed digit of a number of so much, in grams, millilitres or pieces."""
    if unit == "g":
        return step_of_mass(value, system)
    if unit == "ml" and value >= 1000:
        return 1000 * step_of_litres(value / 1000, system)
    if unit == "ml":
        spoon = 5.0 if system == "uk" else 4.92892159375
        coarse = max(0.5 * 3 * spoon, 0.1 * 29.6)
        return (0.5 if value < 15 else 1.0 if value < 60 else 5.0) if system == "metric" else coarse
    return 0.0


@QUICK
@given(batches(), SYSTEMS)
def test_what_is_bought_is_what_goes_in(batch: Batch, system: str):
    """Several additions of one hop are one line in the shop; the grams of the steps are its sum."""
    plan = plan_for(batch)
    lines, found = shop(plan, words_in(system))["buy"]["lines"], plan.quantities
    for bought, line in zip(found.purchases, lines, strict=False):
        parts = [use.amount for use in found.ingredients if (use.id, use.name) == (bought.id, bought.name)]
        shown = printed(line["amount"], system)
        assert abs(shown - sum(parts)) <= step_of(sum(parts), bought.unit, system) + DUST, bought.name


@QUICK
@given(batches(), SYSTEMS)
def test_packs_less_what_is_left_are_what_goes_in(batch: Batch, system: str):
    plan, words = plan_for(batch), words_in(system)
    for bought in plan.quantities.purchases:
        if not bought.pack_mix or bought.left <= 0:
            continue
        packs = sum(number * size for number, size in bought.pack_mix)
        used = sum(
            use.amount
            for use in plan.quantities.ingredients
            if (use.id, use.name) == (bought.id, bought.name)
        )
        kind = measures.OF_AMOUNT[{"g": "g", "ml": "ml"}.get(bought.unit, "piece")]
        value, unit = words.measured(bought.left, kind)
        shown = printed({"value": value, "unit": unit}, system)
        assert abs(shown - (packs - used)) <= step_of(bought.left, bought.unit, system) + DUST, bought.name


@QUICK
@given(batches(), SYSTEMS)
def test_the_steps_of_the_brew_sheet_make_the_batch(batch: Batch, system: str):
    """What the brew sheet says of an ingredient, added up, is what the batch uses of it; each of several
    additions may be half of its last digit off.
    """
    plan = plan_for(batch)
    read: dict[str, list[float]] = {}
    for name, cell in weighed(plan, system):
        read.setdefault(name, []).append(printed(cell, system))
    uses = plan.quantities.ingredients
    for use in uses:
        parts = [one for one in uses if one.name == use.name]
        if len(read.get(use.name, ())) != len(parts):  # grain is put into its bag, and not named again
            continue
        digits = [step_of(one.amount, one.unit, system) for one in parts]
        allowed = max(max(digits), sum(digits) / 2)
        assert abs(sum(read[use.name]) - sum(one.amount for one in parts)) <= allowed + DUST, use.name


def weighed(plan: Plan, system: str) -> list[tuple[str, Any]]:
    """The ingredients of the brew sheet, each with the number in its column."""
    view = brew(plan, words_in(system))
    shown = [step for group in (*view["groups"], *view["later"]) for step in group["steps"]]
    later = [step.group == "group.later" for step in plan.steps]
    steps = sorted(plan.steps, key=lambda step: step.group == "group.later") if any(later) else plan.steps
    pairs = zip(steps, shown, strict=True)
    return [
        (str(step.said.values["name"]), view["amount"])
        for step, view in pairs
        if step.amount is not None and "name" in step.said.values
    ]


def test_the_brew_sheet_names_every_ingredient():
    """Lest the sums above be of nothing."""
    for name in ("27a", "27b", "27n"):
        plan = plan_of(example(name))
        assert {use.name for use in plan.quantities.ingredients} == {name for name, _ in weighed(plan, "us")}


@QUICK
@given(batches(), SYSTEMS)
def test_bottles_and_caps_add_up(batch: Batch, system: str):
    """Short is prepare less have; what the list says is to be bought, and to be collected, comes to as many;
    a cap for every crown-capped bottle that is prepared.
    """
    plan = plan_for(batch)
    view, rows = shop(plan, words_in(system)), plan.bottles.rows
    shorts = []
    for row in view["bottles"]["rows"]:
        short = int(row["short"]) if row["missing"] else 0
        assert short == max(0, int(row["need"]) - int(row["have"]))
        shorts.append(short)
    bought = [
        line.amount.value
        for line in plan.lists.buy
        if line.said.id == "buy.bottles" and line.amount is not None
    ]
    assert sum(bought) == sum(shorts)
    after = view["bottles"]["after"]
    if after:
        numbers = re.findall(r"(?<=Collect )\d+(?= more)|(?<=plus )\d+(?= spare)", after)
        assert sum(map(int, numbers)) == sum(shorts)
    caps = re.search(r"(\d+) crown caps?", view["bottles"]["caps"])
    crowned = {row.kind.id for row in batch.bottles if row.kind.cap == "crown"}
    needed = sum(row.need for row in rows if row.kind in crowned)
    assert (int(caps[1]) if caps else 0) == plan.bottles.crown_caps >= needed
    assert sum(row.fill for row in rows) == plan.bottles.filled


@QUICK
@given(batches(), SYSTEMS)
def test_the_sugar_adds_up(batch: Batch, system: str):
    """On the ladder never more than the litres need, and less by no more than its last digit; in the shop
    enough for every bottle and a tenth more.
    """
    plan = plan_for(batch)
    gas = plan.carbonation
    assume(gas is not None)
    assert gas is not None
    assume(gas.total_g > 0)
    words = words_in(system)
    for rung, shown in zip(gas.ladder, bottling(plan, words)["sugar"]["rungs"], strict=True):
        unit = "g" if system == "metric" else "oz"
        grams = float(shown["grams"]) * BASE[unit]
        # ounces are rounded from grams that were rounded down before
        step = _sugar_step(rung.grams) + (0 if system == "metric" else 0.05 * BASE["oz"])
        exact = gas.g_per_litre * rung.litres
        assert exact - step - DUST <= grams <= exact + DUST
    _the_shop_has_enough(plan, gas, words, system)


def _sugar_step(grams: float) -> float:
    return 0.1 if grams < 20 else 0.5 if grams < 30 else 1.0


def _the_shop_has_enough(plan: Plan, gas: Carbonation, words: Words, system: str) -> None:
    by_size = {(dose.ml, dose.kind): dose for dose in gas.sizes}
    doses = [(by_size[row.ml, row.kind], row.fill) for row in plan.bottles.rows if row.fill]
    named = ("buy.priming", "buy.pieces")
    [index] = [at for at, line in enumerate(plan.lists.buy) if line.said.id in named]
    shown = printed(shop(plan, words)["buy"]["lines"][index]["amount"], system)
    if gas.piece_g:
        assert shown >= 1.1 * sum(count * (dose.pieces_each or 0) for dose, count in doses)
        return
    given_g = sum(count * dose.given_g for dose, count in doses)
    assert shown >= 1.1 * given_g - step_of_mass(shown, system) / 2 - DUST
    assert given_g <= 1.05 * gas.g_per_litre * sum(count * dose.ml for dose, count in doses) / 1000 + DUST


@pytest.mark.parametrize(("system", "figures"), [("metric", "50"), ("us", "1.8"), ("uk", "1.8")])
def test_two_hops_of_one_pack_by_hand(system: str, figures: str):
    """27B: 15 g into the boil and 35 g into the vessel: 50 g, 1.76 oz."""
    lines = shop(plan_of(example("27b")), words_in(system))["buy"]["lines"]
    assert figures in [line["amount"]["value"] for line in lines if "aroma hops" in line["text"].lower()]
