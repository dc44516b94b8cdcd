"""Batches to which something happened, so that everything that can be said of it is said once."""

from __future__ import annotations

from datetime import date
from typing import Any

from .described import FEBRUARY, day, six

Told = tuple[dict[str, Any], date]

ODD_READINGS: list[dict[str, Any]] = [
    {"og": "1.039 at 20 C"},
    {"og": "1.045 at 20 C"},
    {"og": "1.046 at 20 C"},
    {"og": "1.060 at 20 C"},
    {"og": "1.030 at 20 C"},
    {"readings": [{"on": "2027-03-07", "sg": "1.050 at 20 C"}, {"on": "2027-03-09", "sg": "0.985 at 20 C"}]},
    {"readings": [{"on": "2027-03-08", "sg": "1.020 at 20 C"}, {"on": "2027-03-09", "sg": "1.024 at 20 C"}]},
    {"readings": [{"on": "2027-03-19", "sg": "1.022 at 20 C"}]},
]

NONE = {"hydrometer": "none"}
PET = "30 x 500 ml pet"


def looked(*rows: tuple[str, str, str], **actual: Any) -> dict[str, Any]:
    """A batch without a hydrometer, looked at by day of spring, such as ("03-27", "yes", "no"): clear, and
    not sweet.
    """
    looks = [{"on": f"2027-{on}", "clear": clear, "sweet": sweet} for on, clear, sweet in rows]
    return six(equipment=NONE, bottles=PET, actual={"brewed": "2027-03-06", "looks": looks, **actual})


GOOD = (("03-27", "yes", "no"), ("03-30", "yes", "no"))
LOOKED: list[Told] = [
    (six(equipment=NONE, bottles=PET), FEBRUARY),
    (six(equipment=NONE, bottles=PET, carbonation="2.3 volumes"), FEBRUARY),
    (six(equipment=NONE, bottles="30 x 500 ml swing-top"), FEBRUARY),
    (six(equipment=NONE, bottles=PET, room="16 C"), FEBRUARY),
    (looked(*GOOD), day("3-30")),
    (looked(*GOOD), day("4-14")),
    (looked(GOOD[0], ("03-30", "no", "yes")), day("3-30")),
    (looked(*GOOD, readings=[{"on": "2027-03-27", "sg": "1.012 at 20 C"}]), day("3-30")),
    ({**looked(*GOOD), "equipment": {"hydrometer": "20 C"}}, day("3-30")),
]
HAPPENED: list[Told] = [*LOOKED]
