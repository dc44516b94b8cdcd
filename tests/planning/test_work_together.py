"""What goes in on the day of a drink's job goes in with it, wherever life moves that day."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from .described import FEBRUARY, day, plan_of, six

WEEK = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


def mead(**changes: object) -> dict[str, object]:
    return six(recipe="ferry-steps-mead", volume="5 L", **changes)


def test_nutrient_goes_in_with_the_degassing_on_a_day_that_is_not_mine():
    """Brewed on a Saturday, days 1 and 3 are Sunday and Tuesday; degassing needs only somebody at home."""
    plan = plan_of(mead(**{"my-days": ["sat"]}))
    assert plan.task("add-day-1").when.expected == plan.task("degas-1").when.expected == day("3-7")
    assert plan.task("add-day-3").when.expected == plan.task("degas-3").when.expected == day("3-9")


def test_both_move_to_the_day_after_an_absence():
    plan = plan_of(mead(away=["2027-03-09..2027-03-10"]))
    assert plan.task("add-day-3").when.expected == plan.task("degas-3").when.expected == day("3-11")
    assert plan.task("add-day-3").moves == plan.task("degas-3").moves


@settings(max_examples=60, deadline=None)
@given(mine=st.sets(st.sampled_from(WEEK), min_size=1), first=st.integers(1, 12), length=st.integers(0, 9))
def test_they_are_never_apart(mine: set[str], first: int, length: int):
    gone = [day("3-6") + timedelta(days=n) for n in (first, first + length)]
    plan = plan_of(mead(away=[f"{gone[0]}..{gone[1]}"], **{"my-days": sorted(mine)}), FEBRUARY)
    degassed = {task.when.expected for task in plan.tasks if task.id.startswith("degas-")}
    assert {task.when.expected for task in plan.tasks if task.id.startswith("add-day-")} <= degassed
