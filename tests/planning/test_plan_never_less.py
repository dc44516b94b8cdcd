"""Two kitchens that differ in one thing: which way the plan may move, and which way it never does.

Beside the pairs of `test_plan_always`: a warmer room, a higher one, stronger wort, thirstier yeast, weaker
bottles.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetgen.model import Batch, Bottles, Room
from sheetgen.planning import plan_batch
from sheetgen.planning.kitchen import Kitchen, Mix
from sheetgen.planning.plan import Plan
from sheetgen.planning.pressure import verdict_of
from sheetgen.planning.priming import priming
from sheetgen.planning.scaling import scale
from sheetgen.problems import Problems
from sheetgen.units import Celsius, Litres, Metres, Millilitres, Volumes

from .described import FEBRUARY, at_strength
from .test_plan_always import PRIMED, base, batches, tenths

FEW = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
ENDS = ("earliest", "expected", "latest")
WORSE = ("fine", "warn", "refuse")


def plan_of(batch: Batch) -> Plan | None:
    return plan_batch(batch, FEBRUARY, Problems())


def days(plan: Plan, task: str) -> list[Any]:
    return [getattr(plan.task(task).when, end) for end in ENDS]


def in_room(batch: Batch, celsius: float) -> Batch:
    room = Celsius(celsius)
    return replace(batch, room=Room((room, room), batch.room.warm_place, batch.room.storing))


def without_warm_rest(batch: Batch) -> Batch:
    """A lager in a cool room is stood in the warmth for some days, one in a warm room is not."""
    drink = batch.recipe.drink
    jobs = tuple(job for job in drink.jobs if job.what != "warm")
    return replace(batch, recipe=replace(batch.recipe, drink=replace(drink, jobs=jobs)))


@FEW
@given(batches().map(without_warm_rest), tenths(0.5, 8))
def test_a_warmer_room_is_never_slower_and_leaves_no_more_gas(batch: Batch, more: float):
    room = min(29.0, float(batch.recipe.yeast.celsius[1]), float(batch.room.fermenting[0]) + more)
    here, there = plan_of(batch), plan_of(in_room(batch, max(room, float(batch.room.fermenting[0]))))
    if here is None or there is None:
        return
    for task in ("test-1", "test-2", "bottle", "drink-from"):
        ends = 2 if task == "test-1" else 3  # readings closer together leave the first one more time
        for later, sooner in zip(days(here, task)[:ends], days(there, task)[:ends], strict=True):
            assert sooner <= later, task
    if here.carbonation and there.carbonation:
        assert there.carbonation.residual_volumes <= here.carbonation.residual_volumes
        assert there.carbonation.g_per_litre >= here.carbonation.g_per_litre


@FEW
@given(batches(), tenths(0.5, 8))
def test_a_warmer_place_for_the_bottles_is_never_slower(batch: Batch, more: float):
    warm = Celsius(min(25.0, float(batch.room.warm_place) + more))
    here, there = plan_of(batch), plan_of(replace(batch, room=replace(batch.room, warm_place=warm)))
    if here and there:
        assert there.task("drink-from").when.expected <= here.task("drink-from").when.expected


@FEW
@given(batches(), st.integers(0, 3000), st.integers(1, 3000), tenths(1, 5))
def test_the_same_water_is_never_hotter_in_a_higher_kitchen(batch: Batch, low: int, more: int, hot: float):
    kitchens = (
        replace(batch, water=replace(batch.water, altitude=Metres(float(at))))
        for at in (low, min(3000, low + more))
    )
    below, above = (Kitchen(one, scale(one), 10.0) for one in kitchens)
    assert above.boiling <= below.boiling
    assert above.mixed(Mix(hot)) <= below.mixed(Mix(hot)) + 1e-9


@FEW
@given(batches(), tenths(1, 12))
def test_thirstier_yeast_never_ends_higher(batch: Batch, more: float):
    """Nor is its ceiling higher, nor the drink weaker."""
    plans = [
        plan_of(
            replace(batch, recipe=replace(batch.recipe, yeast=replace(batch.recipe.yeast, attenuation=at)))
        )
        for at in ((0.62, 0.70), (0.62 + more / 100, 0.70 + more / 100))
    ]
    less, thirsty = plans
    if less is None or thirsty is None:
        return
    for end in ("low", "expected", "high"):
        ends = [getattr(plan.quantities.final_gravity, end) for plan in (thirsty, less)]
        assert ends[0] <= ends[1]
    assert thirsty.gate.ceiling <= less.gate.ceiling
    assert thirsty.quantities.percent_by_volume >= less.quantities.percent_by_volume - 1e-9


@FEW
@given(batches(), st.integers(32, 100), st.integers(1, 8))
def test_stronger_wort_is_never_sooner_weaker_or_given_less_yeast(batch: Batch, points: int, more: int):
    here, there = plan_of(at_strength(batch, points)), plan_of(at_strength(batch, points + more))
    if here is None or there is None or batch.recipe.drink.ferments_out:
        return
    for task in ("test-1", "bottle", "drink-from"):
        assert there.task(task).when.expected >= here.task(task).when.expected
    one, other = here.quantities, there.quantities
    assert other.percent_by_volume >= one.percent_by_volume
    assert other.ceiling_gravity >= one.ceiling_gravity
    assert other.yeast_high_g >= one.yeast_high_g


@FEW
@given(batches(), tenths(1, 6), tenths(1, 6))
def test_a_weaker_bottle_is_never_allowed_more_gas(batch: Batch, wish: float, volumes: float):
    """Whatever a weak kind lets through, a stronger one does; for the same sugar, and for any gas."""
    kinds = [row.kind for row in base(batch.recipe.id).bottles if row.kind.refuse is not None]
    kinds.sort(key=lambda kind: float(kind.refuse or 0))
    verdicts = [WORSE.index(verdict_of(volumes, kind)) for kind in kinds]
    assert verdicts == sorted(verdicts, reverse=True)
    made = []
    for kind in kinds:
        row = Bottles(Millilitres(500.0), kind, 9)
        found = priming(replace(batch, carbonation=Volumes(wish), bottles=(row,)), 10.0)
        made += [found.sizes[0]] if found else []
    assert len({one.grams_each for one in made}) <= 1
    verdicts = [WORSE.index(one.verdict) for one in made]
    assert verdicts == sorted(verdicts, reverse=True)


@FEW
@given(batches(), tenths(0.1, 10))
def test_more_volume_is_never_fewer_bottles_of_one_size_nor_less_gear(batch: Batch, more: float):
    """Nor less to be prepared, wetted, boiled, or carried."""
    row = replace(batch.bottles[0], count=999)
    batch = replace(batch, bottles=(row,))
    larger = replace(batch, litres=Litres(float(batch.litres or 0) + more))
    small, large = plan_of(batch), plan_of(larger)
    if small is None or large is None:
        return
    assert large.bottles.filled >= small.bottles.filled
    assert large.bottles.rows[0].need >= small.bottles.rows[0].need
    assert large.bottles.crown_caps >= small.bottles.crown_caps
    assert large.bottles.labels >= small.bottles.labels - 1, "an odd bottle may have become a full one"
    assert large.vessel_l >= small.vessel_l
    assert large.pot_l >= small.pot_l
    for less, greater in zip(small.lists.cleaning, large.lists.cleaning, strict=True):
        assert greater.litres >= less.litres


@pytest.mark.parametrize("weak", range(len(PRIMED)))
def test_every_kind_of_the_table_has_its_place_in_the_order(weak: int):
    kind = base("copper-lane-amber").bottles[weak].kind
    assert kind.warn is not None
    assert kind.refuse is not None
    assert verdict_of(float(kind.warn) - 0.001, kind) == "fine"
    assert verdict_of(float(kind.warn), kind) == "warn"
    assert verdict_of(float(kind.refuse), kind) == "warn"
    assert verdict_of(float(kind.refuse) + 0.001, kind) == "refuse"
