"""Which form of a word goes with a number, as a language's file says it.

Comes in: the customs' list `plurals`, a rule for each form but the last.  Goes out: rules, and the place of
the form that a number takes.  A rule is made of conditions with spaces between: 1 is that number, 0-1.99 all
numbers from the one to the other, *1 the whole numbers that end in 1, and !*11 takes those out again that
end in 11.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sheetgen.records import record

_CONDITION = re.compile(
    r"(?P<but>!?)\*(?P<ending>\d{1,6})|(?P<low>\d{1,6}(?:\.\d{1,3})?)(?:-(?P<high>\d{1,6}(?:\.\d{1,3})?))?"
)


@record
class Rule:
    """The numbers that take one form: inside one of the ranges, or whole with one of the endings; never those
    with an ending of `but`.
    """

    ranges: tuple[tuple[float, float], ...]
    endings: tuple[str, ...] = ()
    but: tuple[str, ...] = ()

    def takes(self, number: float) -> bool:
        """Whether the number takes this form."""
        whole = str(int(number)) if float(number).is_integer() else ""
        if whole and whole.endswith(self.but or "-"):
            return False
        inside = any(low <= number <= high for low, high in self.ranges)
        return inside or bool(whole and self.endings and whole.endswith(self.endings))


def rule_of(text: str) -> Rule | None:
    """The rule that a text says; None if it says none."""
    found = [_CONDITION.fullmatch(part) for part in text.split()]
    matches = [match for match in found if match]
    if not matches or len(matches) < len(found):
        return None
    return Rule(
        tuple((float(one["low"]), float(one["high"] or one["low"])) for one in matches if one["low"]),
        tuple(one["ending"] for one in matches if one["ending"] and not one["but"]),
        tuple(one["ending"] for one in matches if one["ending"] and one["but"]),
    )


def form_of(number: float, rules: Sequence[Rule]) -> int:
    """The place of the form: that of the first rule which takes the number, else the last."""
    return next((place for place, rule in enumerate(rules) if rule.takes(number)), len(rules))
