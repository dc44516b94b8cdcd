"""Batches with keys that change nothing: for the tests of sentences."""

from __future__ import annotations

from datetime import date
from typing import Any

from .described import FEBRUARY, six

_GEAR = {"equipment": {"boil-off": "2 L", "pot": "9 L", "scales": "1 g"}, "holidays": ["2027-03-26"]}
_WATER = {"tap": "12 C", "fridge": "12 C", "fridge-space": "6 L", "altitude": "-100 m", "ice": "50 g"}
_BREWED = {"brewed": "2027-03-06"}
_DONE = [{"on": "2027-03-14", "what": "rack"}]
_BOTTLED = {"on": "2027-03-20", "litres": "11"}

SAYS_MORE_THAN_IS_USED: list[tuple[dict[str, Any], date]] = [
    (six(recipe="plot-eleven-cider", dosing="teaspoons", fill="in-order", water=_WATER, **_GEAR), FEBRUARY),
    (six(water=_WATER, yeast={"expired": "2028-01"}), FEBRUARY),
    (six(recipe="plot-eleven-bramble", volume="10 L", sugar="dextrose"), FEBRUARY),
    (six(recipe="told", volume="5 L"), FEBRUARY),
    (six(actual={**_BREWED, "done": _DONE, "finish-test": "1.036 at 20 C"}), date(2027, 3, 18)),
    (six(actual={**_BREWED, "warmed": [{"on": "2027-03-14", "to": "21 C"}]}), date(2027, 3, 18)),
    (six(room={"fermenting": "12 C", "warm-place": "20 C"}, actual=_BREWED), date(2027, 3, 18)),
    (
        six(room={"fermenting": "20 C", "warm-place": "9 C"}, actual={**_BREWED, "bottled": _BOTTLED}),
        date(2027, 3, 21),
    ),
]
"""`told` is a mead whose yeast states what it attenuates."""

TOLD = """\
recipe-name: Told
drink: mead
volume: 5 L
ingredients:
  - {what: honey, amount: 1.2 kg, when: into the vessel}
yeast: {what: wine yeast, pack: 5 g, range: 15-24 C, attenuation: 75-80 %}
"""
