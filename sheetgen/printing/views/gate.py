"""The gate on the bottling sheet: the rule, the ruler, the tests, what else the numbers may say, and not yet.

Comes in: a `Plan` and `Words`.  Goes out: parts of the view of layouts/documents/bottling.layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import accumulate, zip_longest

from sheetgen.planning.band import is_test
from sheetgen.planning.plan import PASSED, Gate, GateReading, Plan
from sheetgen.printing import fonts
from sheetgen.printing.views.common import View, day_of, frozen, in_a_row, runs, sentence
from sheetgen.printing.views.looks import looks_part
from sheetgen.printing.words import Words
from sheetgen.problems import said

TESTS = 5
FINISH_TEST_DAYS = 4
"""The finish test takes three to four days (common practice, no source)."""
HELD_BACK = ("wait", "measure-again", "stuck")
_RULER = (0.005, 0.004)
"""The least that the ruler shows under the range and over the ceiling."""
_RULER_MM, _RULER_PT, _RULER_GAP_MM, _ROUNDS = 135.0, 10.5, 1.6, 12
_BESIDE_MM = 1.1
"""So far right of its place a label is drawn that is aligned at its left."""
_RANGES = ("low", "pass", "care", "wait")
_REASONED = (
    *("between", "below-range", "pass-expired", "came-back"),
    *("need-second-look", "cloudy-or-sweet", "pass-expired-look"),
)


def is_filled(plan: Plan) -> bool:
    """Whether the bottles are filled."""
    return plan.labels.filled_is == "actual"


def is_passed(plan: Plan) -> bool:
    """Whether the gate is behind us."""
    return is_filled(plan) or plan.gate.state in PASSED


def gate_part(plan: Plan, words: Words, tests: int = TESTS) -> View:
    """The rule in words and as a ruler, so many lines for tests, and what a warm or cold sample means."""
    gate = plan.gate
    return frozen(
        title=words.say("bottling.gate"),
        number=words.measure(gate.high, "sg"),
        at_most=words.say("bottling.at-most"),
        rule=runs(words, said(f"bottling.rule{_still(plan)}", gap=gate.gap_days, high=gate.high)),
        hints=_hints(gate, words, _still(plan)),
        ruler=_ruler(gate, words),
        heads=tuple(words.say(f"bottling.head.{name}") for name in _HEADS),
        corrections=not is_passed(plan),
        sample=words.say("bottling.sample"),
        unit=words.measured(20.0, "temperature")[1],
        tests=test_rows(plan, words, tests),
        notes=gate_notes(gate, words),
        passed=() if is_filled(plan) else passed(gate, words),
        looks=looks_part(plan, words, tests) if gate.by_looks else None,
    )


_HEADS = ("reading", "temperature", "corrected", "sample", "write")


def _still(plan: Plan) -> str:
    """The end of the ids of sentences that a still drink has of its own."""
    return "" if plan.carbonation else "-still"


def _hints(gate: Gate, words: Words, still: str) -> tuple[View, ...]:
    """What else a reading can say, two in a row."""
    between = said("bottling.rule-between", high=gate.high, ceiling=gate.ceiling)
    left = [
        words.say(said(f"bottling.rule-down{still}", gap=gate.gap_days)),
        words.say(said("bottling.rule-above", ceiling=gate.ceiling)),
    ]
    right = [words.say(between)] if gate.ceiling > gate.high else []
    right.append(words.say("bottling.rule-point"))
    return tuple(frozen(left=one, right=two) for one, two in zip_longest(left, right, fillvalue=""))


def _ruler(gate: Gate, words: Words) -> View:
    """Gravities along a scale, each range with its word: the scale is as long as its words ask for."""
    named = [(name, words.say(f"bottling.ruler.{name}")) for name in _RANGES]
    wide = {name: fonts.width_mm(text, _RULER_PT, name == "pass") for name, text in named}
    start, end = _scale(gate, wide)

    def at(gravity: float) -> float:
        return round((gravity - start) / (end - start), 4)

    under, apart = gate.low - 0.003, gate.ceiling - gate.high >= 0.0015
    numbers = [(under, "center"), (gate.low, "center"), (gate.high, "center" if apart else "right")]
    numbers += [(gate.ceiling, "center" if apart else "left")] if gate.ceiling > gate.high else []
    care = gate.ceiling > gate.high
    ideal = {
        "low": _BESIDE_MM,
        "pass": at((gate.low + gate.high) / 2) * _RULER_MM - wide["pass"] / 2,
        "care": at(gate.ceiling) * _RULER_MM - wide["care"],
        "wait": at(gate.ceiling) * _RULER_MM + _RULER_GAP_MM,
    }
    shown = [one for one in named if care or one[0] != "care"]
    lefts = _apart([(ideal[name], wide[name]) for name, _text in shown])
    return frozen(
        under=at(under),
        low=at(gate.low),
        high=at(gate.high),
        ceiling=at(gate.ceiling),
        care=care,
        words=tuple(
            frozen(at=round((left - _BESIDE_MM) / _RULER_MM, 4), text=text, bold=name == "pass")
            for left, (name, text) in zip(lefts, shown, strict=True)
        ),
        numbers=tuple(
            frozen(at=at(number), text=words.measure(number, "sg"), align=align, bold=number >= gate.high)
            for number, align in numbers
        ),
    )


def _scale(gate: Gate, wide: dict[str, float]) -> tuple[float, float]:
    """Where the scale starts and ends: its outer ranges are as wide as their words, in any language."""
    before, after = _RULER
    low_share = (wide["low"] + _RULER_GAP_MM) / _RULER_MM
    wait_share = (wide["wait"] + 2 * _RULER_GAP_MM) / _RULER_MM
    inner = gate.ceiling - gate.low
    for _ in range(_ROUNDS):
        whole = before + inner + after
        before, after = max(before, low_share * whole), max(after, wait_share * whole)
    return gate.low - before, gate.ceiling + after


def _apart(words: list[tuple[float, float]]) -> list[float]:
    """Left edges of words of these wished edges and widths, pushed to the left until none touch."""
    found: list[float] = []
    limit = _RULER_MM
    for left, width in reversed(words):
        found.insert(0, min(left, limit - width))
        limit = found[0] - _RULER_GAP_MM
    return found


def test_rows(plan: Plan, words: Words, count: int) -> tuple[View, ...]:
    """The readings that are in, then planned days, then room for more; beside them the strip."""
    readings = plan.gate.readings
    kept = readings[max(0, len(readings) - count + 1) :]
    numbers = list(accumulate(int(one.counts) for one in readings))
    last = numbers[-1] if numbers else 0
    days = _planned_tests(plan)[: count - len(kept)]
    open_days = zip_longest(range(last + 1, last + 1 + count - len(kept)), days)
    rows = [_read_test(number, one, words) for number, one in zip(numbers[-len(kept) :], kept, strict=False)]
    rows += [_open_test(number, day, words) for number, day in open_days]
    if is_passed(plan):
        return tuple(frozen(**row, strip=None) for row in rows[: max(2, len(kept))])
    strip = [_correction(row, words) for row in _nearest(plan, count)]
    return tuple(frozen(**row, strip=beside) for row, beside in zip_longest(rows, strip))


def _nearest(plan: Plan, count: int) -> list[tuple[float, float]]:
    """So many rows of the strip; the ones farthest from the room's warmth go first."""
    room = sum(plan.room_c) / 2
    rows = sorted(plan.gate.correction_strip, key=lambda row: abs(row[0] - room))[:count]
    return sorted(rows)


def _planned_tests(plan: Plan) -> list[date]:
    if is_filled(plan):
        return []
    tasks = [task for task in plan.tasks if is_test(task)]
    days = [task.when.expected for task in tasks if task.state != "done"]
    waits = plan.gate.state in HELD_BACK and plan.gate.next_date
    return days or ([plan.gate.next_date] if waits and plan.gate.next_date else [])


def _open_test(number: int, on: date | None, words: Words) -> dict[str, object]:
    return {
        "name": words.task(f"test-{number}"), "date": day_of(words, on) if on else None,
        "done": False, "counts": True, "sg": "", "celsius": "", "corrected": "",
    }  # fmt: skip


def _read_test(number: int, reading: GateReading, words: Words) -> dict[str, object]:
    doubt = "?" if reading.assumed_celsius else ""
    return {
        "name": words.task(f"test-{number}" if reading.counts else "test"), "date": day_of(words, reading.on),
        "done": True, "counts": reading.counts, "sg": words.measure(reading.sg, "sg"),
        "celsius": words.measured(reading.celsius, "temperature")[0] + doubt,
        "corrected": words.measure(reading.corrected, "sg"),
    }  # fmt: skip


def _correction(row: tuple[float, float], words: Words) -> View:
    """What a sample of that temperature makes of a reading: `row` is in degrees C and thousandths."""
    celsius, thousandths = row
    value = words.number(abs(thousandths) / 1000, 4)
    way = "same" if not thousandths else "less" if thousandths < 0 else "more"
    return frozen(
        at=words.measure(celsius, "temperature"),
        write=words.say(said(f"bottling.strip.{way}", value=value)),
    )


def gate_notes(gate: Gate, words: Words) -> str:
    """What the marks on readings mean; "" if there are none."""
    notes = []
    if any(not look.counts for look in gate.looks):
        notes.append(words.say("bottling.not-counted-look"))
    if any(not reading.counts for reading in gate.readings):
        notes.append(words.say("bottling.not-counted"))
    if any(reading.assumed_celsius for reading in gate.readings):
        notes.append(words.say("bottling.assumed-warmth"))
    return " ".join(notes)


def passed(gate: Gate, words: Words) -> tuple[tuple[View, ...], ...]:
    """The gate's answer, if it is passed: one line, and with care a second."""
    if gate.state not in PASSED:
        return ()
    if gate.state == "by-looks":
        return (runs(words, said("bottling.looks.passed", why=_why(gate, words))),)
    if gate.state == "pass":
        return (runs(words, said("bottling.passed", why=_why(gate, words))),)
    care = "bottling.care-plastic" if gate.pet_only else "bottling.care-glass"
    return runs(words, "bottling.passed-care"), runs(words, care)


def _why(gate: Gate, words: Words) -> str:
    return in_a_row(words, (words.say(reason) for reason in gate.because)) if gate.because else ""


def otherwise(plan: Plan, words: Words) -> View:
    """What the numbers can say instead, and what to do then."""
    gate = plan.gate
    names = ["down", "up", *(["between"] if gate.ceiling > gate.high else []), "above", "under"]
    values = {"high": gate.high, "ceiling": gate.ceiling, "under": gate.low - 0.003, "gap": gate.gap_days}
    return frozen(
        title=words.say("bottling.if"),
        rows=tuple(
            frozen(
                when=words.say(said(f"bottling.if.{name}", **values)),
                then=words.say(said(f"bottling.if.{name}.then", **values)),
            )
            for name in names
        ),
    )


def not_yet(plan: Plan, words: Words) -> View:
    """Why not yet, the next day, and what to do until then."""
    gate = plan.gate
    why = _why(gate, words)
    stuck = gate.state == "stuck"
    on = gate.next_date
    return frozen(
        title=words.say(f"bottling.state.{gate.state}"),
        why=sentence(why),
        next=runs(words, said(f"bottling.next{'-look' if gate.by_looks else ''}", on=on)) if on else (),
        nothing="" if stuck else words.say("bottling.then-sheet"),
        heading=words.say("bottling.do"),
        steps=tuple(_numbered(f"bottling.do.{_reason(gate)}", on or plan.printed, words)),
        finish=words.say("bottling.finish") if stuck else "",
        finish_steps=tuple(_finish(on or plan.printed, words)) if stuck else (),
    )


def _finish(begins: date, words: Words) -> Iterator[str]:
    """The finish test, begun on the day of the reading that did not move, and read some days later."""
    return _numbered("bottling.finish", begins + timedelta(days=FINISH_TEST_DAYS), words)


def _reason(gate: Gate) -> str:
    """What the instructions hang on: the gate's reason if it has its own, else its state."""
    reasons = [reason.id.removeprefix("gate.") for reason in gate.because]
    return next((reason for reason in reasons if reason in _REASONED), gate.state)


def _numbered(stem: str, on: date, words: Words) -> Iterator[str]:
    """The sentences stem.1, stem.2 and so on, as far as they go."""
    number = 1
    while words.has(f"{stem}.{number}"):
        yield words.say(said(f"{stem}.{number}", on=on))
        number += 1
