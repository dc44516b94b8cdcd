"""Which libraries a command does without: what is not imported costs nothing."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = str(ROOT / "recipes" / "examples" / "27b.yaml")
_CODE = """
import json, sys
from sheetgen.__main__ import main
assert main(sys.argv[1:]) == 0
sys.__stdout__.write("\\n" + json.dumps(sorted(sys.modules)))
"""
_ALWAYS = {
    "pint",
    "jsonschema",
    "icalendar",
    "zoneinfo",
    "dateutil",
    "reportlab",
    "PIL",
    "difflib",
    "asyncio",
}
_WITHOUT = {
    ("--help",): _ALWAYS | {"yaml", "jinja2", "dataclasses"},
    ("check", EXAMPLE, "--today", "2027-02-20"): _ALWAYS,
    ("show", EXAMPLE, "--today", "2027-02-20"): _ALWAYS | {"jinja2"},
    ("list",): _ALWAYS - {"difflib"},  # it plans every recipe, and some amounts need a second look
}


@pytest.mark.parametrize("arguments", _WITHOUT, ids=lambda arguments: arguments[0])
def test_a_command_does_not_import_what_it_does_not_use(arguments: tuple[str, ...]):
    done = subprocess.run(
        [sys.executable, "-c", _CODE, *arguments], cwd=ROOT, capture_output=True, text=True, check=True
    )
    loaded = {name.partition(".")[0] for name in json.loads(done.stdout.rpartition("\n")[2])}
    assert loaded & _WITHOUT[arguments] == set()


def test_only_the_calendar_needs_its_library(tmp_path: Path):
    make = ("make", EXAMPLE, "--today", "2027-02-20", "--out", str(tmp_path), "--only", "fridge")
    done = subprocess.run(
        [sys.executable, "-c", _CODE, *make], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert "icalendar" not in json.loads(done.stdout.rpartition("\n")[2])
