"""How long a season takes: twenty batches in four vessels over two years, read and planned; and brew days for
its wishes; three wishes beside four batches; and eight wishes that all want two vessels before the summer.
Prints seconds of the processor and ratios; only the ratios compare between machines.

    .venv/bin/python tests/benchmarks/season_time.py
"""

from __future__ import annotations

import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

from sheetgen.intake.season import read_season
from sheetgen.model.season import Season
from sheetgen.planning import plan_batch
from sheetgen.planning.season import plan_season
from sheetgen.planning.suggest import suggest
from sheetgen.problems import Problems

TODAY = date(2028, 1, 15)
RECIPES = ("towrope-mild", "towrope-bitter", "copper-lane-amber", "lantern-shed-stout", "slipway-nine-pale")
LETTERS = "ABCDEFGHJKLMNPRTUVWX"
HEAD = """season: two-years
base: {room: {fermenting: 20 C, warm-place: 20 C}, equipment: {pot: 10 L}}
vessels: [{name: one, holds: 15 L}, {name: two, holds: 15 L}, {name: three, holds: 15 L},
  {name: four, holds: 15 L}]
stock: {500 ml returnable glass: 150, caps: 600}
drunk: 8 a week
my-days: [sat, sun]
"""


def season_text(batches: int = 20, wishes: int = 4, ready_by: str = "") -> str:
    """A season of so many batches, one every five weeks."""
    wanted_by = f", ready-by: {ready_by}" if ready_by else ""
    days = [date(2028, 2, 5) + timedelta(days=35 * n) for n in range(batches)]
    lines = [
        f"  - {{batch: 2{letter}, recipe: {RECIPES[n % 5]}, volume: 8 L, brew-day: {days[n]}}}"
        for n, letter in enumerate(LETTERS[:batches])
    ]
    wanted = [
        f"  - {{batch: 3{letter}, recipe: {RECIPES[n % 5]}, volume: 8 L{wanted_by}}}"
        for n, letter in enumerate(LETTERS[:wishes])
    ]
    return "\n".join([HEAD + "batches:", *lines, "wishes:", *wanted, ""])


def best_of(work: object, times: int = 3) -> float:
    """The shortest of some runs, in seconds."""
    found = []
    for _ in range(times):
        begun = time.process_time()
        work()  # type: ignore[operator]
        found.append(time.process_time() - begun)
    return min(found)


def read(text: str) -> Season:
    """The season that is written so."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "season.yaml"
        path.write_text(text, encoding="utf-8")
        found = read_season(path, TODAY)
    if found.season is None:
        raise SystemExit("the season of this measurement cannot be read")
    return found.season


def suggesting(season: Season) -> float:
    """Seconds for its wishes."""
    return best_of(lambda: suggest(season, TODAY, Problems()))


def main() -> int:
    """Measure and print."""
    whole = read(season_text())
    two = season_text(4, 8, "2028-06-17").replace(
        """, {name: three, holds: 15 L},
  {name: four, holds: 15 L}""",
        "",
    )
    one = best_of(lambda: plan_batch(whole.batches[0], TODAY, Problems()))
    for name, seconds in (
        ("one batch planned", one),
        ("season of twenty read", best_of(lambda: read(season_text()))),
        ("season of twenty planned", best_of(lambda: plan_season(whole, TODAY, Problems()))),
        ("brew days for four wishes beside it", suggesting(whole)),
        ("three wishes beside four batches", suggesting(read(season_text(4, 3)))),
        ("eight for two vessels by a day", suggesting(read(two))),
    ):
        sys.stdout.write(f"{name:<37}{seconds:8.3f} s {seconds / one:8.1f} x\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
