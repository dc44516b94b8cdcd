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
    {"readings": [{"on": "2027-03-19", "sg": f"{sg} at 20 C"} for sg in ("1.012", "1.014")]},
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
PASSED = [{"on": f"2027-03-{n}", "sg": "1.012 at 20 C"} for n in (17, 20)]
FULL = {"brewed": "2027-03-06", "readings": PASSED, "bottled": {"on": "2027-03-20"}}


def told(recipe: str = "copper-lane-amber", bottles: str = PET, **actual: Any) -> dict[str, Any]:
    """A batch that was bottled on 20 March after the gate had passed, and what else happened to it."""
    return six(recipe=recipe, bottles=bottles, actual={**FULL, **actual})


def tried(*rows: tuple[str, str], **actual: Any) -> dict[str, Any]:
    """... of which bottles were tried, by day of spring, such as ("04-03", "flat")."""
    return told(tasted=[{"on": f"2027-{on}", "gas": gas} for on, gas in rows], **actual)


BEFORE = {"brewed": "2027-03-06", "bottled": {"on": "2027-03-05"}}
LATE_SUGAR = [{"on": "2027-03-25", "what": "table sugar", "amount": "20 g"}]
LOWER = [*PASSED, {"on": "2027-03-28", "sg": "1.004 at 20 C"}]
HOPPED = ("2027-03-05", "2027-03-08", "2027-03-22")
SOON = [{"on": f"2027-03-{n}", "sg": "1.012 at 20 C"} for n in (13, 15)]
CONTRADICTORY: list[Told] = [
    (told(readings=SOON, bottled={"on": "2027-03-15"}), day("4-1")),
    (told(pitched="2027-03-05"), day("4-1")),
    (six(actual={"brewed": "2027-03-06", "readings": PASSED, "seen": "skin"}), day("4-1")),
    (told(pitched="2027-03-08"), day("4-1")),
    (six(actual=BEFORE), day("4-1")),
    *((told("slipway-nine-pale", **{"dry-hopped": on}), day("4-1")) for on in HOPPED),
    (told(**{"dry-hopped": "2027-03-12"}), day("4-1")),
    (told(readings=LOWER), day("4-1")),
    (six(actual={"brewed": "2027-03-06", "tasted": [{"on": "2027-03-20", "gas": "lively"}]}), day("4-1")),
    (tried(("03-18", "right")), day("4-1")),
    (told(added=[{**LATE_SUGAR[0], "on": "2027-03-20"}]), day("4-1")),
    (told(added=LATE_SUGAR), day("4-1")),
    (told(bottled={"on": "2027-03-20", "litres": "9", "bottles": {"500 ml": "22"}}), day("4-1")),
    (told(bottled={"on": "2027-03-20", "litres": "11", "bottles": {"500 ml": "16"}}), day("4-1")),
]
TRIED: list[Told] = [
    (tried(("03-27", "flat")), day("3-27")),
    (tried(("03-27", "little"), ("04-05", "little")), day("4-6")),
    (tried(("04-05", "flat"), ("04-20", "flat")), day("4-21")),
    (tried(("04-05", "flat")), day("4-6")),
    (tried(("04-05", "right"), ("04-20", "lively")), day("4-21")),
    ({**tried(("04-20", "flat")), "recipe": "plot-eleven-bramble"}, day("4-21")),
]
HAPPENED: list[Told] = [*LOOKED, *CONTRADICTORY, *TRIED]
