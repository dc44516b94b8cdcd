"""How long the common commands take: medians of whole processes.  Run: python tests/benchmarks.py [times]"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
EXAMPLE = str(ROOT / "recipes/examples/27a.yaml")
TODAY = ("--today", "2027-02-20")


def seconds(*arguments: str) -> float:
    """Processor seconds of one run, user and system."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-m", "sheetgen", *arguments]
    subprocess.run(command, cwd=ROOT, env=dict(os.environ), capture_output=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main(times: int) -> None:
    """Print a line for each command."""
    with tempfile.TemporaryDirectory() as folder:
        commands = {
            "--version": ("--version",),
            "check": ("check", EXAMPLE, *TODAY),
            "show": ("show", EXAMPLE, *TODAY),
            "make": ("make", EXAMPLE, *TODAY, "--out", folder),
        }
        for name, arguments in commands.items():
            found = statistics.median(seconds(*arguments) for _ in range(times))
            sys.stdout.write(f"{name:<10} {found:.3f} s\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 7)
