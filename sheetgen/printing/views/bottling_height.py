"""How high the bottling sheet is at its least, so that it takes one side wherever one holds all of it.

Comes in: the parts of its view, as words.  Goes out: millimetres, with the lines that wrap in this language.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sheetgen.printing import fonts
from sheetgen.printing.blocks import Run
from sheetgen.printing.vocabulary import leading
from sheetgen.printing.wrap import fitted, wrapped

_BODY, _NOTE, _SMALL, _TINY = 13.5, 12.0, 10.5, 8.0
"""Type sizes in points."""
_WHOLE, _WORDS, _BESIDE, _GAP, _NUMBER_GAP = 180.0, 135.0, 60.0, 1.2, 2.0
_RULE, _LEFT, _HINT, _HEAD, _AT_MOST = 136.0, 45.0, 60.0, 45.0, 19.0
_STEP, _STEP_NUMBER = 107.0, 92.0
"""Widths that words have, in millimetres, as bottling.layout has them."""
_STEP_MM, _NOTE_MM, _CARE_MM, _CARES_MM, _DAY_MM = 6.2, 4.5, 5.2, 8.3, 3.7
"""Heights of rows at their least, as bottling.layout has them."""

Parts = Mapping[str, Any]


def more_mm(text: object, points: float, room: float, bold: bool = False, floor: float = 0.0) -> float:
    """What words add to their row, in millimetres, by the lines after the first; `floor`: shrunk to it first.

    `text` is a text or the runs of a sentence, `points` its size, `room` its width in millimetres.
    """
    runs = _runs(text)
    setting = fitted(runs, points, bold, room, floor) if floor else wrapped(runs, points, bold, room)
    return max(0, len(setting.lines) - 1) * leading(setting.size)


def _runs(text: object) -> tuple[Run, ...]:
    if isinstance(text, str):
        return (Run(text),)
    found: Iterable[Parts] = text  # type: ignore[assignment]
    return tuple(Run(str(run["text"]), True if run["bold"] else None) for run in found)


def gate_wraps(gate: Parts) -> float:
    """What the rule, the hints and the notes of the gate add, in millimetres."""
    height = more_mm(gate["looks"]["rule"] if gate["looks"] else gate["rule"], _BODY, _RULE, floor=_NOTE)
    height += more_mm(gate["notes"], _SMALL, _WORDS)
    if gate["looks"]:
        hints = gate["looks"]["hints"]
        return height + sum(
            more_mm(hint, _NOTE, _WORDS, bold=not number) for number, hint in enumerate(hints)
        )
    if not gate["corrections"]:
        sizes = zip(gate["passed"], (_BODY, _SMALL), strict=False)
        return height + sum(more_mm(line, points, _WORDS) for line, points in sizes)
    height += sum(_hint(hint) for hint in gate["hints"])
    return height + more_mm(gate["sample"], _SMALL, _HEAD - _GAP)


def _hint(hint: Parts) -> float:
    left = more_mm(hint["left"], _SMALL, (_HINT if hint["right"] else _WORDS) - _GAP)
    return max(left, more_mm(hint["right"], _SMALL, _WORDS - _HINT))


def sugar_wraps(sugar: Parts) -> float:
    """What the lines under the ladder add, in millimetres."""
    if sugar["none"]:
        return more_mm(sugar["none"], _BODY, _WORDS)
    beside = 0.0 if sugar["bulk"] else more_mm(sugar["gas"], _SMALL, _LEFT - _GAP, floor=_TINY)
    return (
        max(beside, more_mm(sugar["small"], _SMALL, _WORDS))
        + more_mm(sugar["near"], _SMALL, _WHOLE, bold=True)
        + more_mm(sugar["pressure"], _SMALL, _WHOLE)
        + (0.0 if sugar["bulk"] else more_mm(sugar["vessel"], _SMALL, _LEFT - _GAP))
        + more_mm(sugar["teaspoons"], _SMALL, _LEFT - _GAP)
    )


def fill_mm(fill: Parts, strip: Parts | None, days: int) -> float:
    """The height of the steps, or of the cautions beside them with so many rows of filling days."""
    steps = sum(_step(step) for step in fill["steps"])
    cares = sum(_CARE_MM + more_mm(line, _NOTE, _BESIDE) for line in fill["care"])
    if strip is None:
        return max(steps, cares)
    title = more_mm(strip["title"], _SMALL, _BESIDE, bold=True)
    return max(steps, cares + _CARES_MM + title + _DAY_MM * days)


def _step(step: Parts) -> float:
    number = step["amount"]
    room = _STEP
    if number:
        room = _STEP_NUMBER - fonts.width_mm(str(number["value"]), _BODY, bold=True) - _NUMBER_GAP
    height = _STEP_MM + more_mm(step["text"], _BODY, room)
    if step["one_line"]:
        return height + _CARE_MM - 0.2
    height += _NOTE_MM + more_mm(step["note"], _SMALL, _STEP) if step["note"] else 0.0
    if step["caution"]:
        height += _CARE_MM - 0.2 + more_mm(step["caution"], _NOTE, _STEP, bold=True)
    return height
