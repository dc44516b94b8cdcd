"""How long it keeps: by class, strength, hops, and bottle; days to taste."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from printing.bench import the_stock

from sheetgen.commands import common
from sheetgen.intake.pantry import keepings
from sheetgen.model import Batch
from sheetgen.planning.keeping import way_of
from sheetgen.printing.views.labels import labels

from .described import day, plan_of, read, six

MIXED = ["9 x 500 ml pet", "40 x 500 ml returnable glass"]


def batch(**changes: object) -> Batch:
    found, _problems = read(six(**changes))
    assert found is not None
    return found


def weeks(percent: float) -> tuple[float, float, float]:
    way = way_of(batch(), percent)
    return way.start / 7, way.until / 7, way.days / 30.4


@pytest.mark.parametrize(
    ("percent", "kept"),
    [
        (4.4, (3, 12, 6)),
        (5.5, (3, 12, 6)),
        (6.25, (4.5, 25.5, 9)),
        (7.0, (6, 39, 12)),
        (8.0, (9.5, 71.5, 18)),
        (9.0, (13, 104, 24)),
        (12.0, (13, 104, 24)),
    ],
)
def test_strength_moves_a_beer_towards_strong_ones(percent: float, kept: tuple[float, float, float]):
    assert weeks(percent) == pytest.approx(kept)


def test_strength_never_jumps():
    found = [weeks(percent / 100) for percent in range(300, 1200)]
    for one, other in pairwise(found):
        assert all(0 <= after - before < 0.5 for before, after in zip(one, other, strict=True))


def test_a_recipe_that_names_its_class_keeps_it():
    assert way_of(batch(recipe="slipway-nine-pale"), 9.5).name == "hop-forward"
    assert way_of(batch(recipe="slipway-nine-pale"), 9.5).days == pytest.approx(3 * 30.4)


def test_cider_keeps_as_cider_does_however_strong():
    assert way_of(batch(recipe="plot-eleven-cider"), 9.5).stronger == 0


def test_the_classes_that_draw_others_on_are_data():
    found = keepings()
    assert (found["strong"].percent, found["very-strong"].percent) == (7, 9)
    assert found["hop-forward"].dry_hops == 5


HOPPY = """recipe-name: My Hoppy
drink: ale
volume: 10 L
ingredients:
  - {what: liquid malt extract, amount: 1.5 kg, when: into the pot}
  - {what: hops, called: aroma hops, amount: AMOUNT g, when: dry hop}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""


@pytest.mark.parametrize(("grams", "months"), [(1, 6.0), (20, 6.0), (35, 4.5), (50, 3.0), (90, 3.0)])
def test_dry_hops_shorten_it(tmp_path: Path, grams: int, months: float):
    (tmp_path / "my-hoppy.yaml").write_text(HOPPY.replace("AMOUNT", str(grams)), encoding="utf-8")
    found, _problems = read(six(recipe="my-hoppy"), beside=tmp_path)
    assert found is not None
    assert way_of(found, 4.5).days / 30.4 == pytest.approx(months)


def test_each_kind_of_bottle_keeps_as_it_does():
    plan = plan_of(six(bottles=MIXED))
    assert plan.keeping is not None
    filled = plan.labels.filled
    kept = {one.kind: (one.best_before - filled).days for one in plan.keeping.bottles}
    assert kept == {"pet": 122, "returnable glass": 182}


def test_plastic_that_stays_empty_shortens_nothing_and_glass_that_stays_empty_lengthens_nothing():
    glass = plan_of(six(bottles=["40 x 500 ml returnable glass", "9 x 500 ml pet"]))
    plastic = plan_of(six(bottles=["40 x 500 ml pet", "9 x 500 ml returnable glass"]))
    for plan, days in ((glass, 182), (plastic, 122)):
        assert plan.labels.best_before - plan.labels.filled == timedelta(days=days)
        assert plan.task("best-before").when.expected == plan.labels.best_before


def test_labels_say_the_best_before_of_their_own_bottle():
    plan = plan_of(six(bottles=MIXED))
    view = labels(plan, common.words_of("en-GB", "metric"), the_stock("plain-a4"))
    said = [str(one["best_before"]) for one in view["bottles"]]  # type: ignore[attr-defined]
    assert len(set(said[:9])) == 1
    assert said[0] != said[9]
    assert said[-1] == said[0]  # a spare label may come on either: the earlier day


def test_tasting_days_follow_filling_and_never_come_before_the_first_day_of_drinking():
    plan = plan_of(six(room={"fermenting": "20 C", "warm-place": "16.5 C", "storing": "12 C"}))
    assert plan.keeping is not None
    wait = plan.labels.wait_days
    assert wait > 14
    days = [(on - plan.labels.filled).days for _weeks, on in plan.keeping.tastings]
    assert days == [wait, 28, 56, 84]


def test_tasting_days_are_days_at_home():
    plan = plan_of(six(away="2027-04-01..2027-04-30"))
    assert plan.keeping is not None
    assert all(not day("4-1") <= on <= day("4-30") for _weeks, on in plan.keeping.tastings)
    days = [on for _weeks, on in plan.keeping.tastings]
    assert days == sorted(set(days))
