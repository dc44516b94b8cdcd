"""Start-up: wall and processor time of `check` and `make` beside an empty program and the bare libraries.

Run: python tests/benchmarks/start_up.py [rounds] [batch file].  Measures the sheetgen of the interpreter
that runs it, so install the program first (compiled files count).  Runs are interleaved: what else the
computer does meets all of them alike.  The ratios are to `python -c pass`; only they compare between
computers.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

EXAMPLE = Path(__file__).resolve().parents[2] / "recipes" / "examples" / "27b.yaml"
LIBRARIES = "import yaml, jinja2.sandbox, reportlab.pdfgen.canvas, reportlab.pdfbase.ttfonts, icalendar"


def measured(command: list[str], folder: str) -> tuple[float, float]:
    """Seconds of one run: on the wall, and of the processor (user and system)."""
    settings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(command, cwd=folder, env=settings, capture_output=True, check=True)
    wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def commands(batch: str, folder: str) -> dict[str, list[str]]:
    """What is compared, by name; the first is what the others are measured by."""
    python, program = [sys.executable], [sys.executable, "-m", "sheetgen"]
    day = ["--today", "2027-02-20"]
    return {
        "python -c pass": [*python, "-c", "pass"],
        "libraries only": [*python, "-c", LIBRARIES],
        "sheetgen --help": [*program, "--help"],
        "sheetgen check": [*program, "check", batch, *day],
        "sheetgen make": [*program, "make", batch, *day, "--out", f"{folder}/set"],
    }


def row(name: str, seconds: list[float], yardstick: float) -> str:
    """One line: least, middle and most, and the middle as a multiple of the yardstick."""
    middle = statistics.median(seconds)
    return f"{name:24}{min(seconds):8.3f}{middle:8.3f}{max(seconds):8.3f}{middle / yardstick:9.1f}"


def main(rounds: int, batch: str) -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder:
        found = commands(batch, folder)
        for command in found.values():  # once for nothing: files are read, compiled files written
            measured(command, folder)
        runs = [[measured(command, folder) for command in found.values()] for _ in range(rounds)]
    for which, title in enumerate(("wall", "processor")):
        print(f"{title + ', seconds':24}{'min':>8}{'median':>8}{'max':>8}{'ratio':>9}")
        columns = [[run[index][which] for run in runs] for index in range(len(found))]
        for name, seconds in zip(found, columns, strict=True):
            print(row(name, seconds, statistics.median(columns[0])))


if __name__ == "__main__":
    main(
        int(sys.argv[1]) if len(sys.argv) > 1 else 7,
        str(Path(sys.argv[2]).resolve()) if len(sys.argv) > 2 else str(EXAMPLE),
    )
