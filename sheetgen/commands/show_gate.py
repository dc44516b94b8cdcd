"""The gate as `show` tells of it: its state, why, what was read, and what it takes to pass.

Comes in: a `Plan` and `Words`.  Goes out: rows of a table.
"""

from __future__ import annotations

from datetime import date

from sheetgen.commands.show_strength import Row, plain
from sheetgen.planning.plan import GateLook, Plan
from sheetgen.printing.views.safety import reason_of
from sheetgen.printing.words import Words

_GATES = {
    "not-yet": "not yet tested",
    "wait": "wait, it is not steady yet",
    "measure-again": "measure again",
    "pass": "passed",
    "pass-with-care": "passed, with care",
    "stuck": "stuck: do not bottle",
    "by-looks": "passed by looks, for plastic bottles only",
}


def gate_rows(plan: Plan, words: Words) -> list[Row]:
    """Its state and why, what was read or seen, and what it takes to pass while that is still open."""
    gate, filled = plan.gate, plan.labels.filled_is == "actual"
    rows: list[Row] = [("state", _GATES[gate.state])]
    rows += [
        ("", plain(reason_of(reason, words) if filled else words.say(reason))) for reason in gate.because
    ]
    rows += [
        (
            _day(reading.on, words),
            f"{words.measure(reading.corrected, 'sg')}{'' if reading.counts else ', too early to count'}",
        )
        for reading in gate.readings
    ]
    if gate.next_date and gate.state != "not-yet":
        rows.append(("next test", _day(gate.next_date, words)))
    rows += [(_day(look.on, words), _looked(look)) for look in gate.looks]
    if filled:
        return rows
    days, high = words.measure(gate.gap_days, "days"), words.measure(gate.high, "sg")
    limit = f"the same number twice, {days} apart, at most {high}"
    limit = f"clear and not sweet, twice, {days} apart" if gate.by_looks else limit
    return [*rows, ("to pass", plain(limit))]


def _looked(look: GateLook) -> str:
    seen = f"{'clear' if look.clear else 'cloudy'}, {'sweet' if look.sweet else 'not sweet'}"
    return seen if look.counts else f"{seen}, too early to count"


def _day(day: date, words: Words) -> str:
    return plain(words.day(day))
