"""Planning alone: time from a batch that is read to its plan, for each example, after imports.

Run: python tests/benchmarks/plan_time.py [rounds] [batch files].  It measures the checkout that it stands in.
`cold` is the first plan of a fresh process that has only read its file; `warm` are the plans after it.  The
ratios are to a fixed loop of pure arithmetic in the same process; only they compare between computers.
`--profile` prints where the first plan of the first file spends its time.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "recipes" / "examples"
sys.path.insert(0, str(ROOT))
TODAY = date(2027, 2, 20)
WARM = 20


def yardstick() -> float:
    """Milliseconds of a hundred thousand steps of a logistic map, the best of five."""
    found = []
    for _ in range(5):
        begun, x = time.perf_counter(), 0.3
        for _ in range(100_000):
            x = 3.9 * x * (1.0 - x)
        found.append(1000 * (time.perf_counter() - begun))
    return min(found)


def once(file: Path, count: int) -> list[float]:
    """Milliseconds of `count` plans of one file in this process, the first one cold; imports come before."""
    from sheetgen.intake import read_batch
    from sheetgen.planning import plan_batch
    from sheetgen.problems import Problems

    found = []
    for _ in range(count):
        batch, problems = read_batch(file, TODAY)
        if batch is None:
            raise SystemExit(f"{file} cannot be planned: {[str(each.message) for each in problems]}")
        begun = time.perf_counter()
        plan_batch(batch, TODAY, Problems())
        found.append(1000 * (time.perf_counter() - begun))
    return found


def profile(file: Path) -> None:
    """Where the first plan spends its time."""
    import cProfile
    import pstats

    from sheetgen.intake import read_batch
    from sheetgen.planning import plan_batch

    batch, problems = read_batch(file, TODAY)
    with cProfile.Profile() as watched:
        plan_batch(batch, TODAY, problems)
    pstats.Stats(watched).sort_stats("cumulative").print_stats(30)


def row(name: str, found: list[float], unit: float) -> str:
    """One line: least, middle and most, and the middle as a multiple of the yardstick."""
    middle = statistics.median(found)
    return f"{name:24}{min(found):9.2f}{middle:9.2f}{max(found):9.2f}{middle / unit:9.2f}"


def main(rounds: int, files: list[Path]) -> None:
    """Print the table: each round is a process of its own."""
    here = [sys.executable, __file__, "--once"]
    print(f"{'milliseconds':24}{'min':>9}{'median':>9}{'max':>9}{'ratio':>9}")
    for file in files:
        runs = []
        for _ in range(rounds):
            told = subprocess.run([*here, str(file)], capture_output=True, text=True, check=True).stdout
            runs.append([float(part) for part in told.split()])
        unit = statistics.median(run[0] for run in runs)
        print(row(f"{file.stem} cold", [run[1] for run in runs], unit))
        print(row(f"{file.stem} warm", [value for run in runs for value in run[2:]], unit))


if __name__ == "__main__":
    given = sys.argv[1:]
    if given[:1] == ["--once"]:
        print(yardstick(), *once(Path(given[1]), WARM + 1))
    elif given[:1] == ["--profile"]:
        profile(Path(given[1]) if len(given) > 1 else EXAMPLES / "27b.yaml")
    else:
        chosen = [Path(name).resolve() for name in given[1:]] or sorted(EXAMPLES.glob("*.yaml"))
        main(int(given[0]) if given else 5, chosen)
