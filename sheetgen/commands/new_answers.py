"""What `new` wants to know: usual answers, and what is wrong with others.

Comes in: answers by the keys of a batch, today's date and the folder.  Goes out: usual answers to the
questions that are open, and what the reader of batch files and the planner say to all of them together.
Nothing here knows what a good answer is: whatever is tried is tried as a batch file.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import date, timedelta
from pathlib import Path

from sheetgen import catalogue
from sheetgen.commands import common, found, new_file, places
from sheetgen.intake import read_batch_bytes, read_recipe
from sheetgen.intake.customs import customs_of
from sheetgen.intake.kinds import CODE_LETTERS
from sheetgen.intake.recipes import names
from sheetgen.model import Batch, Recipe
from sheetgen.nodes import Entries, Text
from sheetgen.planning import plan_batch
from sheetgen.problems import Problem, Problems
from sheetgen.records import record

FIRST_RECIPE = "copper-lane-amber"
_SATURDAY, _DAYS_TO_SHOP = 5, 3
_USUAL_ROOM_C = 19
_LITRES_OF_A_US_GALLON = 3.785411784
_PLENTY = 500


@record
class Desk:
    """Where and when the file is to be written; not `named`: under the code of the batch."""

    path: Path
    today: date
    named: bool = True

    @property
    def folder(self) -> Path:
        """The folder of the file."""
        return self.path.parent

    def at(self, code: str) -> Path:
        """Where a batch of that code is to stand."""
        return self.path if self.named else self.folder / f"{code.lower()}.yaml"


@record
class Trial:
    """A batch file that is not written: what it says, and what is to be said to it."""

    loaded: common.Loaded
    text: str
    batch: Batch | None

    @property
    def told(self) -> list[Problem]:
        """Stops and warnings."""
        problems = self.loaded.problems
        return [*problems.of("stop"), *problems.of("warn")]


def tried(answers: Mapping[str, str], desk: Desk) -> Trial:
    """The answers as a batch file, read and planned."""
    return tried_text(new_file.bare(answers), desk)


def tried_text(text: str, desk: Desk) -> Trial:
    """A batch file's text, read and planned."""
    data = text.encode("utf-8", "replace")
    batch, problems = read_batch_bytes(data, desk.path.name, desk.today, desk.folder)
    if batch is None or problems.stopped:
        return Trial(common.Loaded(desk.path, None, problems), text, batch)
    written = places.written_as(catalogue.document(data, desk.path.name).node, batch, desk.folder)
    problems.extend(places.unprintable(written))
    plan = plan_batch(batch, desk.today, problems)
    made = None if problems.stopped else plan
    return Trial(common.Loaded(desk.path, made, problems, written, batch.units), text, batch)


def filled(answers: Mapping[str, str], desk: Desk) -> dict[str, str]:
    """The answers, and the usual ones to whatever is still open, each in view of those before it."""
    known = {key: value for key, value in answers.items() if value}
    for key, usual in _USUAL.items():
        if key not in known:
            known[key] = usual(known, desk)
    return known


# Usual answers


def _usual_recipe(known: Mapping[str, str], desk: Desk) -> str:
    del known
    there = names(desk.folder)
    return FIRST_RECIPE if FIRST_RECIPE in there or not there else there[0]


def _usual_day(known: Mapping[str, str], desk: Desk) -> str:
    """The first Saturday that leaves some days to shop."""
    del known
    soon = desk.today + timedelta(days=_DAYS_TO_SHOP)
    return str(soon + timedelta(days=(_SATURDAY - soon.weekday()) % 7))


def _usual_volume(known: Mapping[str, str], desk: Desk) -> str:
    """What the recipe is written for."""
    path = catalogue.find("recipes", known["recipe"], desk.folder)
    node = catalogue.load(path).node if path else None
    said = node.get("volume") if isinstance(node, Entries) else None
    written = said.value.strip() if isinstance(said, Text) else ""
    recipe = _recipe(known, desk)
    if recipe is None or not written:
        return "12 L"
    if _units(known, desk) == "us" and "gal" not in written:
        return f"{recipe.litres / _LITRES_OF_A_US_GALLON:.1f} US gal"
    return written


def _usual_room(known: Mapping[str, str], desk: Desk) -> str:
    """A usual room, or the nearest temperature that the yeast works in."""
    recipe = _recipe(known, desk)
    low, high = recipe.yeast.celsius if recipe else (_USUAL_ROOM_C, _USUAL_ROOM_C)
    celsius = min(max(_USUAL_ROOM_C, math.ceil(low)), math.floor(high))
    return f"{celsius * 9 / 5 + 32:.0f} F" if _units(known, desk) == "us" else f"{celsius} C"


def _usual_bottles(known: Mapping[str, str], desk: Desk) -> str:
    """As many bottles as this batch needs, of a common size and of the kind that counts if none is named."""
    recipe, us = _recipe(known, desk), _units(known, desk) == "us"
    kind = "one-way glass" if recipe is None or recipe.drink.primed else "wine"
    size = "750 ml" if kind == "wine" else "12 US fl oz" if us else "500 ml"
    plenty = tried({**known, "bottles": f"{_PLENTY} x {size} {kind}"}, desk)
    goal = plenty.batch.bottle_goal if plenty.batch else None
    if goal:
        size = f"{goal[1]:g} ml"
        plenty = tried({**known, "bottles": f"{_PLENTY} x {size} {kind}"}, desk)
    plan = plenty.loaded.plan
    return f"{plan.bottles.rows[0].need if plan else 24} x {size} {kind}"


def _usual_code(known: Mapping[str, str], desk: Desk) -> str:
    """The year and the next letter that no batch in the folder has."""
    year = known.get("brew-day", str(desk.today))[2:4]
    start = year if year.isdigit() else f"{desk.today:%y}"
    taken = _codes_in(desk.folder)
    letters = [*CODE_LETTERS, *(first + second for first in CODE_LETTERS for second in CODE_LETTERS)]
    return next((code for letter in letters if (code := start + letter) not in taken), f"{start}A")


def _codes_in(folder: Path) -> set[str]:
    """The codes of the batch files there, and those that names of files and folders look like."""
    codes = set()
    for path in found.yaml_files(folder):
        node = catalogue.load(path).node
        code = node.get("batch") if isinstance(node, Entries) else None
        codes |= {path.stem.upper(), *([code.value.strip()] if isinstance(code, Text) else [])}
    return codes


def _recipe(known: Mapping[str, str], desk: Desk) -> Recipe | None:
    return read_recipe(known["recipe"], desk.folder)[0]


def _units(known: Mapping[str, str], desk: Desk) -> str:
    return customs_of(known.get("language", common.ENGLISH), desk.folder).get("units", "metric")


Usual = Callable[[Mapping[str, str], Desk], str]
_USUAL: Mapping[str, Usual] = {
    "recipe": _usual_recipe,
    "brew-day": _usual_day,
    "volume": _usual_volume,
    "room": _usual_room,
    "batch": _usual_code,
    "bottles": _usual_bottles,
}
"""In the order in which they rest on one another."""


def new_findings(trial: Trial, before: Trial) -> Problems:
    """What is said to this trial and was not said before."""
    old = {(problem.level, problem.message) for problem in before.told}
    return Problems(problem for problem in trial.told if (problem.level, problem.message) not in old)
