"""What a file may choose from lies beside it as well as among ours: a table of one's own adds to it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sheetgen.intake import read_batch_bytes

TODAY = date(2027, 2, 20)
BATCH = """\
batch: 27A
recipe: {recipe}
brew-day: 2027-03-06
bottles: 26 x 500 ml returnable glass
equipment: {{sanitiser: {sanitiser}}}
"""
OWN_SANITISER = """\
pantry: sanitisers
entries:
  barn door acid: {dose: 2 ml, minutes: 3, rinse: no, source: its label}
"""
OWN_DRINK = """\
drink: barn-ale
primed: yes
ferments-out: no
target: 2.2 volumes
pitch: 17-21 C
vessel-full: 80 %
days: {test-1-earliest: 7, test-1: 11, test-2-gap: 3, bottle-earliest: 10, bottle: 14, bottle-latest: 28}
keeping: barn-keeping
source: ours
"""
OWN_KEEPING = """\
pantry: keeping
entries:
  barn-keeping: {from-weeks: 2, peak-weeks: 3-6, months: 3, source: ours}
"""
OWN_RECIPE = """\
recipe-name: Barn Ale
drink: barn-ale
volume: 10 L
ingredients: [{what: dry malt extract, amount: 1 kg, when: into the pot}]
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
keeping: barn-keeping
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a sanitiser, a drink, a way of keeping and a recipe of its own."""
    files = {
        "pantry/sanitisers.yaml": OWN_SANITISER,
        "pantry/keeping.yaml": OWN_KEEPING,
        "drinks/barn-ale.yaml": OWN_DRINK,
        "barn.yaml": OWN_RECIPE,
    }
    for name, text in files.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def test_a_sanitiser_of_a_table_beside_the_batch_can_be_chosen(folder: Path) -> None:
    text = BATCH.format(recipe="copper-lane-amber", sanitiser="barn door acid")
    batch, problems = read_batch_bytes(text.encode(), "27a.yaml", TODAY, folder)
    assert batch is not None, list(problems)
    assert batch.equipment.sanitiser.dose == 2.0


def test_it_is_not_known_elsewhere_and_ours_still_are(folder: Path) -> None:
    text = BATCH.format(recipe="copper-lane-amber", sanitiser="barn door acid")
    batch, problems = read_batch_bytes(text.encode(), "27a.yaml", TODAY)
    assert batch is None
    assert any("barn door acid" in str(problem.message) for problem in problems.of("stop"))
    ours = BATCH.format(recipe="copper-lane-amber", sanitiser="no-rinse acid")
    assert read_batch_bytes(ours.encode(), "27a.yaml", TODAY, folder)[0] is not None


def test_a_recipe_beside_the_batch_may_use_a_drink_and_a_keeping_beside_it(folder: Path) -> None:
    text = BATCH.format(recipe="barn", sanitiser="no-rinse acid")
    batch, problems = read_batch_bytes(text.encode(), "27a.yaml", TODAY, folder)
    assert batch is not None, list(problems)
    assert batch.recipe.drink.id == "barn-ale"
    assert batch.recipe.drink.keeping.months == 3
