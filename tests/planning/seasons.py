"""Seasons described in YAML, and what the planner makes of them."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import yaml

from sheetgen.intake.season import SeasonFile, read_season
from sheetgen.planning.season import not_planned, plan_season
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.problems import Problems

JANUARY = date(2028, 1, 15)


class _Plain(yaml.SafeDumper):
    """Writes everything out, however often it occurs."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def batch(code: str, brew_day: str, **more: Any) -> dict[str, Any]:
    """A batch that is written in the season file."""
    keys = {key.replace("_", "-"): value for key, value in more.items()}
    return {"batch": code, "recipe": "towrope-mild", "brew-day": brew_day, "volume": "8 L", **keys}


def season(*batches: Any, **more: Any) -> dict[str, Any]:
    """A season of these batches in a room of 20 C."""
    keys = {key.replace("_", "-"): value for key, value in more.items()}
    base: dict[str, Any] = {"room": {"fermenting": "20 C", "warm-place": "20 C"}, "equipment": {"pot": "8 L"}}
    if "stock" not in keys:
        base["bottles"] = "40 x 500 ml returnable glass"
    return {"season": "2028", "base": base, "batches": list(batches), **keys}


def read(tree: dict[str, Any], folder: Path, today: date = JANUARY) -> SeasonFile:
    """The season in a file of that folder."""
    path = folder / "season.yaml"
    path.write_text(yaml.dump(tree, Dumper=_Plain, sort_keys=False), encoding="utf-8")
    return read_season(path, today)


def planned(
    tree: dict[str, Any], folder: Path, today: date = JANUARY
) -> tuple[SeasonPlan | None, Problems, SeasonFile]:
    """The plan, None if something stops it, all problems, and what was read."""
    found = read(tree, folder, today)
    assert found.season is not None, [(str(each.span), str(each.message)) for each in found.problems]
    plan = plan_season(found.season, today, found.problems)
    waiting = not_planned(found.season)
    if waiting:
        found.problems.add(waiting)
    return plan, found.problems, found


def plan_of(tree: dict[str, Any], folder: Path, today: date = JANUARY) -> SeasonPlan:
    """The plan of a season that nothing stops."""
    plan, problems, _ = planned(tree, folder, today)
    assert plan is not None, [str(each.message) for each in problems.of("stop")]
    return plan


BLUE = {"name": "blue bucket", "holds": "12 L"}
WHITE = {"name": "white bucket", "holds": "12 L"}
IN_BLUE = {"vessel": "blue bucket"}
GLASS = "500 ml returnable glass"

RESTS = """\
recipe-name: Rests
drink: ale
volume: 8 L
ingredients:
  - {what: liquid malt extract, amount: 1 kg, when: into the pot}
  - {what: hops, called: own hops, amount: 20 g, pack: 50 g, when: off the heat}
  - {what: isinglass, amount: 30 ml, pack: 50 ml, when: day 5}
  - {what: vanilla pod, amount: 2 pieces, pack: 5 pieces, when: day 5}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""
"""A recipe, `rests.yaml`, that leaves more than half of its packs."""


def with_rests(*days: str, **more: Any) -> dict[str, Any]:
    """A season of that recipe."""
    named = zip("ABCDEF", days, strict=False)
    return season(*(batch(f"28{x}", day, recipe="rests") for x, day in named), **more)


WINE = {"recipe": "plot-eleven-bramble", "equipment": IN_BLUE}
A_FULL_YEAR = (
    batch("28A", "2028-02-05", **WINE),
    batch("28B", "2028-02-12", equipment=IN_BLUE),
    batch("28C", "2028-07-31", **WINE),
    batch("28D", "2029-01-25", **WINE),
)
"""A vessel that is full of wine for a year, and a batch that finds no day in it."""

IN_BOTTLES = {
    "brewed": "2027-12-01",
    "readings": [{"on": "2027-12-18", "sg": "1.008 at 20 C"}, {"on": "2027-12-21", "sg": "1.008 at 20 C"}],
    "bottled": {"on": "2027-12-22", "litres": 7.0, "bottles": {GLASS: 14}},
}
"""Facts of a batch that was filled after its gate was passed."""

SAYING: tuple[dict[str, Any], ...] = (
    # one vessel, brewed into twice; a year full of it; another vessel that is free, then the day as well
    season(
        batch("28A", "2028-02-05", equipment=IN_BLUE),
        batch("28B", "2028-02-12", equipment=IN_BLUE),
        vessels=[BLUE],
    ),
    season(
        batch("28A", "2028-02-05", equipment=IN_BLUE),
        batch("28B", "2028-02-12", equipment=IN_BLUE),
        vessels=[BLUE, WHITE],
    ),
    season(*A_FULL_YEAR, vessels=[BLUE]),
    season(*A_FULL_YEAR, vessels=[BLUE, WHITE]),
    # two brew days on one; bottling gives way; bottles, caps and room run out; wishes wait
    season(
        batch("28A", "2028-02-05"),
        batch("28B", "2028-02-05"),
        {**batch("28C", "2028-02-05"), "recipe": "copper-lane-amber"},
        stock={GLASS: 20, "caps": 20},
        drunk="6 a week",
        warm_place="20 bottles",
        wishes=[{"batch": "28V", "recipe": "towrope-mild"}],
    ),
    season(
        batch("28A", "2028-02-05"),
        batch("28B", "2028-02-05"),
        stock={GLASS: 20},
        drunk="1 a week",
        warm_place="10 bottles",
    ),
    season(batch("28A", "2028-02-05"), batch("28B", "2028-02-12"), stock={GLASS: 20}, my_days=["sat"]),
    season(batch("28A", "2028-02-05"), batch("28B", "2028-02-19"), stock={GLASS: 20}, drunk="2 a day"),
    # two batches were in one vessel, as it is written: the first is still in it, or in bottles
    season(
        batch("28A", "2028-01-03", equipment=IN_BLUE, actual={"brewed": "2028-01-03"}),
        batch("28B", "2028-01-08", equipment=IN_BLUE, actual={"brewed": "2028-01-08"}),
        vessels=[BLUE],
    ),
    season(
        batch("28A", "2027-12-01", equipment=IN_BLUE, actual=IN_BOTTLES),
        batch("28B", "2027-12-20", equipment=IN_BLUE, actual={"brewed": "2027-12-20"}),
        vessels=[BLUE],
    ),
    # wine in bottles that want corks, of which there are too few; rests of packs for later batches
    season(
        batch("28A", "2028-02-05", recipe="plot-eleven-bramble"), stock={"750 ml wine bottle": 30, "corks": 5}
    ),
    with_rests("2028-02-05", "2028-02-19", "2028-03-04"),
    # no day within a year
    season(batch("28A", "2028-02-05"), away=["2028-02-09..2029-06-01"]),
)
"""Seasons that between them say all that a season can say."""
