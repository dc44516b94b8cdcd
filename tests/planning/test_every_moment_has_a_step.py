"""Whatever goes in, and whenever: a step names it, or the recipe is refused with what to write."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.intake import pantry
from sheetgen.planning import plan_batch

from .described import FEBRUARY, read, six

AMOUNTS = {"g": "20 g", "ml": "20 ml", "piece": "2 pieces"}
ROLES = {item.role: item for item in pantry.ingredients().things.values()}
MOMENTS = (
    "into the pot",
    "10 min before the end",
    "off the heat",
    "into the vessel",
    "day 5",
    "dry hop",
    "at racking 1",
)
REFUSED = {
    ("grain", "off the heat"): "write when: into the pot",
    ("juice", "off the heat"): "write when: into the vessel",
    ("juice", "10 min before the end"): "write when: into the vessel",
}


def recipe(drink: str, boil: bool, role: str, when: str) -> str:
    item = ROLES[role]
    return f"""recipe-name: One of each
drink: {drink}
volume: 10 L
{"boil: 30 min" if boil else "about: nothing is boiled"}
ingredients:
  - {{what: dry malt extract, amount: 1 kg, when: off the heat}}
  - {{what: {item.id}, called: the thing, amount: {AMOUNTS[item.unit]}, when: {when}}}
yeast: {{what: dry yeast, pack: 11 g, range: 15-25 C}}
"""


@pytest.mark.parametrize("when", MOMENTS)
@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize(("drink", "boil"), [("ale", False), ("ale", True), ("country-wine", False)])
def test_a_step_names_it_or_it_is_refused(drink: str, boil: bool, role: str, when: str, tmp_path: Path):
    if ("before" in when and not boil) or ("racking" in when and drink == "ale"):
        return
    (tmp_path / "one.yaml").write_text(recipe(drink, boil, role, when), encoding="utf-8")
    batch, problems = read(six(recipe="one", volume="10 L"), beside=tmp_path)
    refused = REFUSED.get((role, when))
    assert [str(problem.fix) for problem in problems.of("stop")] == ([refused] if refused else [])
    plan = plan_batch(batch, FEBRUARY, problems) if batch else None
    if not refused and plan is not None:
        assert any("the thing" in step.said.values.values() for step in plan.steps)
