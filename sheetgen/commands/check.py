"""check: what is wrong, unusual or assumed, in the files and on the paper, without drawing anything."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sheetgen import clock
from sheetgen.commands import common

if TYPE_CHECKING:
    from sheetgen.commands.classes import LoadedClass
    from sheetgen.commands.seasons import LoadedSeason


def run(options: argparse.Namespace) -> int:
    """Check every file; 0 if all can be made, 1 if one is stopped."""
    wrong = common.unusable(options.files)
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    today = options.today or clock.today()
    good = [_check(Path(name), today) for name in options.files]
    return common.FINE if all(good) else common.INPUT


def _check(path: Path, today: date) -> bool:
    if common.is_season(path):
        return _check_season(path, today)
    if common.is_class(path):
        return _check_class(path, today)
    loaded = common.load(path, today)
    common.lay_out(loaded)
    common.tell(loaded.problems, path, units=loaded.units)
    common.out(f"{path.name}: {_verdict(loaded)}")
    return loaded.good


def _check_season(path: Path, today: date) -> bool:
    from sheetgen.commands import seasons

    loaded = seasons.load(path, today)
    seasons.lay_out(loaded)
    seasons.lay_out_shared(loaded)
    seasons.tell(loaded)
    common.out(f"{path.name}: {_verdict(loaded)}")
    return loaded.good


def _check_class(path: Path, today: date) -> bool:
    from sheetgen.commands import classes

    loaded = classes.load(path, classes.Order(today, {}), lay_out=True)
    classes.tell(loaded.problems, path, loaded.file)
    common.out(f"{path.name}: {_verdict(loaded)}")
    return not loaded.problems.stopped


def _verdict(loaded: common.Loaded | LoadedSeason | LoadedClass) -> str:
    stops, warnings, notes = (len(loaded.problems.of(level)) for level in ("stop", "warn", "note"))
    found = [common.count(number, one) for number, one in ((warnings, "warning"), (notes, "note")) if number]
    if stops:
        return ", ".join([common.count(stops, "problem must be solved", "problems must be solved"), *found])
    return ", ".join(["it can be made", *found])
