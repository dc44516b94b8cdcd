"""Batches for events: such as can be met, and such as cannot."""

from __future__ import annotations

from datetime import date
from typing import Any

from .described import FEBRUARY, six


def party(on: str, **changes: Any) -> dict[str, Any]:
    """A batch for an event, with neither brew day nor volume of its own."""
    guests, name = changes.pop("guests", "18"), changes.pop("name", "supper")
    event = {"date": on, "name": name, "guests": guests}
    tree = {**six(**changes), "event": {key: value for key, value in event.items() if value}}
    kept = {key.replace("_", "-") for key in changes}
    return {key: value for key, value in tree.items() if key in kept or key not in ("brew-day", "volume")}


_TREES = (
    party("2027-06-12"),
    party("2027-06-12", bottles="20 x 500 ml pet, 9 x 1 L pet", name=""),
    {key: value for key, value in party("2027-06-12", guests="30").items() if key != "bottles"},
    party("2027-04-01"),
    party("2027-02-01"),
    party("2027-06-12", guests="999"),
    party("2027-06-12", guests="30", volume="12 L"),
    party("2028-06-12", brew_day="2027-03-06"),
    party("2027-04-10", brew_day="2027-03-20"),
    party("2027-04-01", room="17 C"),
    party("2027-04-14", room="14 C"),
    party("2027-03-22", room="17 C"),
    party("2027-05-02", recipe="lantern-shed-winter", room="20 C", brew_day="2027-02-20"),
    {**party("2027-03-20"), "event": [{"date": "2027-03-20"}, {"date": "2027-03-21"}]},
)
PARTIES = [
    *((tree, FEBRUARY) for tree in _TREES),
    (party("2027-03-20", actual={"brewed": "2027-03-06"}), date(2027, 3, 8)),
    (party("2027-04-20", actual={"brewed": "2027-03-06"}), date(2027, 3, 8)),
]
