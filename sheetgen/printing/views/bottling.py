"""The bottling sheet: the gate, then sugar and filling; or why not yet, and what to do; or what was filled.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/bottling.layout.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date

from sheetgen.planning.plan import BottleRow, Plan, Step, Task, Tasting
from sheetgen.printing import fonts
from sheetgen.printing.views.bottling_height import fill_mm, gate_wraps, sugar_wraps
from sheetgen.printing.views.common import View, amount_of, day_of, foot, frozen, page, runs
from sheetgen.printing.views.gate import (
    HELD_BACK,
    TESTS,
    gate_part,
    is_filled,
    is_passed,
    not_yet,
    otherwise,
    passed,
)
from sheetgen.printing.views.sugar import PRESSURE_MM, sugar, sugar_height
from sheetgen.printing.words import THIN, Words
from sheetgen.problems import said

_WARN_PT, _SMALL_PT, _FOOT_PT = 12.0, 10.5, 8.0
_ROOM = {"a4": 234.4, "letter": 216.8}
_GATE_MM, _RULER_MM, _TEST_MM, _NOTES_MM = 94.5, 18.4, 9.0, 6.2
_NUMBERS_MM, _ROW_MM, _LOW_ROW_MM = 3.4, 7.0, 6.0
_HEAD_MM, _WRAP_MM = 9.6, 5.6
"""Heights at their least, as bottling.layout has them: if one side cannot hold all, filling day has one."""
_SUBTITLE_MM, _FOOT_MM, _STEP_WIDTH, _TEXT_MM = 5.2, 4.0, 107.0, 174.0
_ONE_SIDE = ((5, 7), (5, 6), (5, 5), (5, 4), (4, 5), (4, 4), (4, 3))
"""Lines for tests and rows of filling days that one side may have, the best first: spare ones give way."""
_LAST_SIDE = ((3, 5), (3, 4), (3, 3))
_FEW_SIZES = 3
"""One spare line: two readings, and one more; rather than a page to turn with wet hands for a few sizes."""
_STRIP_ROW, _STRIP_CELLS = 30, 60
_SPARE_MM = 0.5
MOST_TASTED = 4
"""The newest of the bottles that were tried: the older ones have had their effect."""
_FAR_DAYS = 300
"""From so many days on a day of the same name could be meant that comes sooner."""


def bottling(plan: Plan, words: Words) -> View:
    """What the bottling sheet shows."""
    filled = is_filled(plan)
    held_back = not filled and plan.gate.state in HELD_BACK
    ready = not filled and not held_back
    test = "taste-1" if plan.gate.by_looks else "test-1"
    first = plan.task(test).when.expected if plan.has(test) else plan.labels.filled
    bottle = plan.task("bottle").when
    last = bottle.expected if filled else bottle.latest or bottle.expected
    side = _side(plan, words) if ready else None
    return frozen(
        page=page(plan, words, "bottling", (first, last)),
        subtitle=_subtitle(plan, words, filled, held_back),
        continued=words.say("bottling.continued"),
        gate=gate_part(plan, words, side[0] if side else TESTS),
        state=not_yet(plan, words) if held_back else None,
        sugar=sugar(plan, words, side is None or side[2]) if ready else None,
        fill=_fill(plan, words) if ready else None,
        filled=_filled(plan, words) if filled else None,
        strip=_strip(plan, words, side[1] if side else 0) if ready else None,
        two_sides=ready and side is None,
        otherwise=otherwise(plan, words)
        if ready and not is_passed(plan) and not plan.gate.by_looks
        else None,
    )


def _subtitle(plan: Plan, words: Words, filled: bool, held_back: bool) -> tuple[View, ...]:
    if filled:
        return runs(words, said("bottling.subtitle-done", on=plan.labels.filled))
    if held_back:
        on = plan.gate.next_date
        again = "bottling.subtitle-look" if plan.gate.by_looks else "bottling.subtitle-wait"
        return runs(words, said(again, on=on) if on else "bottling.subtitle-stop")
    when = plan.task("bottle").when
    named = "bottling.subtitle-until" if when.latest else "bottling.subtitle"
    return (
        *runs(words, said(named, on=when.expected, until=when.latest or when.expected)),
        *_absences(plan, words, when.latest or when.expected),
    )


def _absences(plan: Plan, words: Words, until: date) -> Iterator[View]:
    """The first absence that still lies before the last day for bottling."""
    ahead = [(first, last) for first, last in plan.away if last >= plan.printed and first <= until]
    for first, last in ahead[:1]:
        text = words.say(said("bottling.away", first=first, last=last))
        yield frozen(text=f" · {text}", bold=False, struck=False)


def _side(plan: Plan, words: Words) -> tuple[int, int, bool] | None:
    """Lines for tests, rows of filling days, and whether the pressure is said, with which all stands on one
    side; None if it takes two.  The pressure gives way last.
    """
    room = _ROOM.get(plan.paper.lower(), min(_ROOM.values()))
    passed = is_passed(plan)
    sides = [(tests, days) for tests, days in _ONE_SIDE if tests == TESTS or not passed]
    tried = [(*side, said_too) for said_too in (True, False) for side in sides]
    if not passed and len({row.ml for row in plan.bottles.rows}) <= _FEW_SIZES:
        tried += [(*side, False) for side in _LAST_SIDE]
    fill, strip = _fill(plan, words), _strip(plan, words, 0)
    sugars = {said_too: _sugar_mm(plan, words, said_too) for said_too in (True, False)}
    rest = _rest_mm(plan, words)

    def height(tests: int, days: int, said_too: bool) -> float:
        return rest + _TEST_MM * tests + sugars[said_too] + fill_mm(fill, strip, days)

    return next((one for one in tried if height(*one) <= room), None)


def _rest_mm(plan: Plan, words: Words) -> float:
    """The least height of what has neither lines for tests, nor sugar, nor steps, in millimetres."""
    gate = gate_part(plan, words)
    height = _GATE_MM - _TEST_MM * TESTS + gate_wraps(gate) + _strip_height(plan.bottles.numbered)
    height += _NOTES_MM if gate["notes"] else 0
    if is_passed(plan):
        shown = max(2, len(plan.gate.readings))
        height -= _RULER_MM + _TEST_MM * (TESTS - shown) - _WRAP_MM * (len(passed(plan.gate, words)) - 1)
    height += _SUBTITLE_MM if _subtitle_wraps(plan, words) else 0
    height += _FOOT_MM if _foot_wraps(plan, words) else 0
    return height + _HEAD_MM


def _sugar_mm(plan: Plan, words: Words, with_pressure: bool) -> float:
    """Of the doses and the ladder, with every line that wraps."""
    gas, shown = plan.carbonation, sugar(plan, words, with_pressure)
    if gas is None or shown is None:
        return 0.0
    return sugar_height(gas, words) + sugar_wraps(shown) + (PRESSURE_MM if shown["pressure"] else 0)


def _strip_height(count: int) -> float:
    """Of the numbers to cross off."""
    boxes = len(_numbers(count))
    return _NUMBERS_MM + math.ceil(boxes / _number_columns(count)) * (
        _ROW_MM if boxes <= _STRIP_ROW else _LOW_ROW_MM
    )


def _foot_wraps(plan: Plan, words: Words) -> bool:
    """Whether a long name makes the last line of the sheet two."""
    last = foot(plan, words, words.say("bottling.title"))
    return fonts.width_mm(" ".join(str(part) for part in last.values()), _FOOT_PT) > _TEXT_MM


def _subtitle_wraps(plan: Plan, words: Words) -> bool:
    """Whether the name at the right leaves the subtitle one line."""
    texts = [str(run["text"]) for run in _subtitle(plan, words, filled=False, held_back=False)]
    return fonts.width_mm("".join([*texts, plan.name]), _SMALL_PT, bold=True) > _TEXT_MM


# --- fill


def _fill(plan: Plan, words: Words) -> View:
    return frozen(
        title=words.say("bottling.fill"),
        steps=tuple(_step(step, words) for step in plan.bottling_steps),
        care_title=words.say("bottling.care"),
        care=tuple(words.say(f"bottling.care.{name}") for name in _cares(plan)),
        numbers=_numbers(plan.bottles.numbered),
        number_columns=_number_columns(plan.bottles.numbered),
    )


def _has_caution(step: Step) -> bool:
    """Whether a caution stands with the step itself; that of the glass stands beside all of them."""
    return step.caution is not None and step.caution != "bottle-glass"


def _step(step: Step, words: Words) -> View:
    return frozen(
        text=runs(words, step.said),
        amount=amount_of(words, step.amount),
        note=words.say(step.note) if step.note else "",
        caution=words.say(f"caution.{step.caution}") if _has_caution(step) else "",
        one_line=_is_one_line(step, words),
    )


def _is_one_line(step: Step, words: Words) -> bool:
    """Whether note and caution are so short that they share a line."""
    if not step.note or not _has_caution(step):
        return False
    caution = words.say(f"caution.{step.caution}")
    wide = fonts.width_mm(f"{words.say(step.note)}. ", _WARN_PT)
    return wide + fonts.width_mm(caution, _WARN_PT, bold=True) <= _STEP_WIDTH - _SPARE_MM


KEPT_UNDER_C = 25.0
"""As the caution says; a warmer place is for the fizz alone."""


def _cares(plan: Plan) -> Iterator[str]:
    """What belongs to this batch's bottles, the gravest first."""
    filled = [row for row in plan.bottles.rows if row.fill]
    if plan.carbonation is not None:
        yield from ("sweet", "eye", "twice")
    else:
        yield from ("sweet", "cloudy")
        yield from ["corks"] if plan.bottles.corks else []
    yield from ["glass"] if any(row.glass for row in filled) else []
    yield from ["plastic"] if any(row.kind == "pet" for row in filled) else []
    yield from ["bleach"] if any(row.caution == "bleach" for row in plan.lists.cleaning) else []
    yield from ("sediment", "warm-later" if plan.warm_place_c > KEPT_UNDER_C else "warm")
    yield from ["hard"] if plan.carbonation is not None else []


def _number_columns(count: int) -> int:
    if count <= _STRIP_ROW:
        return max(1, count)
    return math.ceil(count / 2) if count <= _STRIP_CELLS else 12


def _numbers(count: int) -> tuple[str, ...]:
    """Numbers to cross off, or from 61 bottles on ranges of them."""
    if count <= _STRIP_CELLS:
        return tuple(str(number) for number in range(1, count + 1))
    step = 5 if count <= 5 * 36 else math.ceil(count / 36 / 10) * 10
    return tuple(f"{first}–{min(first + step - 1, count)}" for first in range(1, count + 1, step))


def _strip(plan: Plan, words: Words, count: int) -> View:
    """Other filling days, and what each makes of the labels; as pairs in so many rows, or all in one."""
    days = tuple(
        frozen(on=_weekday_and_day(day, words), until=words.day(until, "day-month", column=True))
        for day, until in plan.labels.fill_choices[:14]
    )
    return frozen(
        title=words.say(said("bottling.strip-title", wait=plan.labels.wait_days)),
        filled=words.say("bottling.strip-filled"),
        not_before=words.say("bottling.strip-wait"),
        days=days,
        rows=tuple(zip(days[:count], days[count : 2 * count], strict=False)),
    )


def _weekday_and_day(day: date, words: Words) -> str:
    """A day without its month, for a narrow column."""
    parts = words.column_parts(day)
    return f"{parts['weekday']}{THIN}{parts['day']}"


# --- filled


def _filled(plan: Plan, words: Words) -> View:
    """What was filled, and the days that follow from it."""
    rows = [row for row in plan.bottles.rows if row.fill]
    after = [task for task in plan.tasks if words.has(f"bottling.then.{_kind(task)}")]
    return frozen(
        title=words.say("bottling.filled"),
        rows=tuple(_filled_row(row, plan, words) for row in rows),
        total=str(plan.bottles.filled),
        all=words.say("bottling.filled-all"),
        then=words.say("bottling.then"),
        days=tuple(_after(task, plan, words) for task in after),
        tasted_title=words.say("bottling.tasted"),
        tasted=tuple(_tasted(one, words) for one in plan.tastings[-MOST_TASTED:]),
    )


def _tasted(one: Tasting, words: Words) -> View:
    """The day, the gas and the note of a bottle that was tried, and what it says of the others."""
    found = words.say(f"bottling.tasted.{one.gas}")
    noted = f"{found}; {one.note}" if one.note else found
    return frozen(date=day_of(words, one.on), text=noted, says=words.say(one.says))


def _filled_row(row: BottleRow, plan: Plan, words: Words) -> View:
    first, last = row.numbers
    numbers = said("bottling.filled-range" if last > first else "bottling.filled-one", first=first, last=last)
    gas = plan.carbonation
    grams = next((dose.grams_each for dose in gas.sizes if dose.ml == row.ml), None) if gas else None
    each = gas is not None and gas.dosing != "in-bulk"
    return frozen(
        count=str(row.fill),
        text=words.say(said("bottling.filled-row", ml=row.ml, kind=row.kind)),
        numbers=words.say(numbers),
        sugar=words.say(said("bottling.filled-sugar", grams=grams)) if grams and each else "",
    )


def _kind(task: Task) -> str:
    """The task's id without the number of a further bottle: try-2 is a try."""
    return "try" if task.id.startswith("try-") else task.id


def _after(task: Task, plan: Plan, words: Words) -> View:
    on, says = task.when.expected, words.say(said(f"bottling.then.{_kind(task)}", celsius=plan.storing_c))
    if (on - plan.labels.filled).days > _FAR_DAYS or (words.home_year and words.home_year != on.year):
        says = words.say(said("bottling.then.in-year", says=says, year=str(on.year)))
    return frozen(
        date=day_of(words, on),
        text=says,
        done=task.state == "done",
    )
