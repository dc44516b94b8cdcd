"""The longest bottling day that we thought of fits its paper: seven kinds of bottle, soak, bleach, syrup."""

from __future__ import annotations

from pathlib import Path

import pytest

from .runner import Run

BATCH = """\
batch: 27H
recipe: lantern-shed-stout
brew-day: 2027-03-06 09:00
volume: 60 L
room: 20 C
units: {units}
language: {language}
dosing: in-bulk
yeast: {{expired: 2026-12, opened: yes}}
equipment:
  vessel: {{holds: 80 L, made-of: plastic}}
  pot: 60 L
  cleaner: percarbonate cleaner
  sanitiser: household bleach
  bottling-vessel: 70 L
bottles:
  - 20 x 330 ml one-way glass
  - 40 x 330 ml returnable glass
  - 60 x 500 ml returnable glass
  - 10 x 500 ml swing-top
  - 10 x 750 ml thick sparkling-wine glass
  - 12 x 1 L pet
  - 6 x 1.5 L pet
"""


@pytest.mark.parametrize(("units", "language"), [("us", "en-US"), ("metric", "en-GB")])
def test_it_is_printed_whole(run: Run, units: str, language: str):
    Path("27h.yaml").write_text(BATCH.format(units=units, language=language), encoding="utf-8")
    result = run("make", "27h.yaml", "--out", "paper")
    assert result.code == 0, result.err
    assert Path("paper/27H-sheets.pdf").exists()
