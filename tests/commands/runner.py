"""What the tests of the commands share: a batch, one that is stopped, and the result of a run."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

SIX_LINES = """batch: 27A
recipe: copper-lane-amber
brew-day: 2027-03-06
volume: 12 L
room: 19 C
bottles: {500 ml returnable glass: 26}
"""
STOPPED = SIX_LINES.replace("room: 19 C", "room: 8 C")


class Result(NamedTuple):
    """What a run gave."""

    code: int
    out: str
    err: str


Run = Callable[..., Result]

TOO_EARLY = """actual:
  brewed: 2027-03-06
  og: 1.042 at 24 C
  readings: [{on: 2027-03-12, sg: 1.025 at 18 C}]
  bottled: {on: 2027-03-13, litres: 11.0, bottles: {500 ml: 22}}
"""
