"""The bottling sheet: the gate, then sugar and filling; or why not yet, and what to do; or what was filled.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/bottling.layout.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from itertools import zip_longest

from sheetgen.planning.plan import BottleRow, Carbonation, Dose, Gate, GateReading, Plan, Rung, Step, Task
from sheetgen.printing import fonts
from sheetgen.printing.measures import TEASPOON_ML, rounded_up
from sheetgen.printing.views.common import View, amount_of, day_of, frozen, page, runs
from sheetgen.printing.words import THIN, Words
from sheetgen.problems import Said, said

TESTS = 5
_BODY_PT = 13.5
HELD_BACK = ("wait", "measure-again", "stuck")
_ROOM = {"a4": 233.0, "letter": 215.4}
_GATE_MM, _PASSED_MM, _SUGAR_MM, _OTHER_MM, _BULK_MM, _NUMBERS_MM = 98.0, 5.0, 40.6, 4.6, 3.5, 10.4
_HEAD_MM, _STEP_MM, _WRAP_MM, _NOTE_MM, _CARE_MM, _DAYS_MM, _STEP_WIDTH = 9.8, 6.6, 5.6, 4.7, 5.0, 33.5, 107.0
"""Heights at their least, as bottling.layout has them: filling day gets a side of its own if one cannot hold all."""
_RULER = (0.005, 0.004)
_STRIP_ROW, _STRIP_CELLS = 30, 60
_SUGAR_G_PER_ML = 0.852
"""A level spoon of table sugar: 4.26 g in 5 ml."""
_WEAK = 0.9
_LITRES = {"metric": 1.0, "us": 0.946352946, "uk": 0.56826125}
_REASONED = ("between", "below-range", "pass-expired")


def bottling(plan: Plan, words: Words) -> View:
    """What the bottling sheet shows."""
    filled = _is_filled(plan)
    held_back = not filled and plan.gate.state in HELD_BACK
    ready = not filled and not held_back
    first = plan.task("test-1").when.expected if plan.has("test-1") else plan.labels.filled
    bottle = plan.task("bottle").when
    last = bottle.expected if filled else bottle.latest or bottle.expected
    return frozen(
        page=page(plan, words, "bottling", (first, last)),
        subtitle=_subtitle(plan, words, filled, held_back),
        continued=words.say("bottling.continued"),
        gate=_gate(plan, words, ready),
        state=_state(plan, words) if held_back else None,
        sugar=_sugar(plan, words) if ready else None,
        fill=_fill(plan, words) if ready else None,
        filled=_filled(plan, words) if filled else None,
        strip=_strip(plan, words) if ready else None,
        two_sides=ready and _height(plan, words) > _ROOM.get(plan.paper.lower(), min(_ROOM.values())),
        otherwise=_otherwise(plan, words) if ready else None,
    )


def _is_filled(plan: Plan) -> bool:
    return plan.labels.filled_is == "actual"


def _subtitle(plan: Plan, words: Words, filled: bool, held_back: bool) -> tuple[View, ...]:
    if filled:
        return runs(words, said("bottling.subtitle-done", on=plan.labels.filled))
    if held_back:
        on = plan.gate.next_date
        return runs(words, said("bottling.subtitle-wait", on=on) if on else "bottling.subtitle-stop")
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


def _height(plan: Plan, words: Words) -> float:
    """The least height of everything on one side, in millimetres."""
    gas = plan.carbonation
    height = _GATE_MM + _NUMBERS_MM + (_WRAP_MM if plan.bottles.filled > _STRIP_ROW else 0)
    height += _PASSED_MM * len(_passed(plan.gate, words))
    height += _SUGAR_MM if gas else 0
    height += _OTHER_MM if gas and words.units != "metric" else 0
    height += _BULK_MM if gas and gas.dosing == "in-bulk" else 0
    steps = sum(_step_height(step, words) for step in plan.bottling_steps)
    cares = _CARE_MM * len(list(_cares(plan))) + _DAYS_MM
    return height + _HEAD_MM + max(steps, cares)


def _step_height(step: Step, words: Words) -> float:
    wraps = fonts.width_mm(words.say(step.said), _BODY_PT) > _STEP_WIDTH - (17 if step.amount else 0)
    notes = (step.note is not None) + (step.caution == "syrup")
    return _STEP_MM + wraps * _WRAP_MM + notes * _NOTE_MM


# --- the gate


def _gate(plan: Plan, words: Words, ready: bool) -> View:
    """The rule in words and as a ruler, the tests, and what a warm or cold sample means."""
    gate = plan.gate
    return frozen(
        title=words.say("bottling.gate"),
        number=words.measure(gate.high, "sg"),
        at_most=words.say("bottling.at-most"),
        rule=runs(words, said("bottling.rule", gap=gate.gap_days, high=gate.high)),
        hints=_hints(gate, words),
        ruler=_ruler(gate, words),
        heads=tuple(words.say(f"bottling.head.{name}") for name in _HEADS),
        corrections=not _is_passed(plan),
        unit=words.measured(20.0, "temperature")[1],
        tests=_tests(plan, words),
        notes=_notes(gate, words),
        passed=_passed(gate, words) if ready else (),
    )


_HEADS = ("reading", "temperature", "corrected", "sample", "write")


def _hints(gate: Gate, words: Words) -> tuple[View, ...]:
    """What else a reading can say, two in a row."""
    between = said("bottling.rule-between", high=gate.high, ceiling=gate.ceiling)
    texts = [
        words.say("bottling.rule-down"),
        words.say(between) if gate.ceiling > gate.high else "",
        words.say(said("bottling.rule-above", ceiling=gate.ceiling)),
        words.say("bottling.rule-point"),
    ]
    return tuple(frozen(left=left, right=right) for left, right in zip(texts[::2], texts[1::2], strict=True))


def _ruler(gate: Gate, words: Words) -> View:
    """Gravities along a scale, each range with its word."""
    start, end = gate.low - _RULER[0], gate.ceiling + _RULER[1]

    def at(gravity: float) -> float:
        return round((gravity - start) / (end - start), 4)

    under, wide = gate.low - 0.003, gate.ceiling - gate.high >= 0.0015
    numbers = [(under, "center"), (gate.low, "center"), (gate.high, "center" if wide else "right")]
    numbers += [(gate.ceiling, "center" if wide else "left")] if gate.ceiling > gate.high else []
    return frozen(
        under=at(under),
        low=at(gate.low),
        high=at(gate.high),
        ceiling=at(gate.ceiling),
        care=gate.ceiling > gate.high,
        middle=at((gate.low + gate.high) / 2),
        words=frozen(**{name: words.say(f"bottling.ruler.{name}") for name in ("low", "pass", "care", "wait")}),
        numbers=tuple(
            frozen(at=at(number), text=words.measure(number, "sg"), align=align, bold=number >= gate.high)
            for number, align in numbers
        ),
    )


def _tests(plan: Plan, words: Words) -> tuple[View, ...]:
    """Five lines: the readings that are in, then planned days, then room for more; beside them the strip."""
    readings = plan.gate.readings
    kept = readings[max(0, len(readings) - TESTS + 1) :]
    first = len(readings) - len(kept) + 1
    days = _planned_tests(plan)[: TESTS - len(kept)]
    rows: list[View] = [_read_test(number, one, words) for number, one in enumerate(kept, first)]
    for number in range(first + len(kept), first + TESTS):
        rows.append(_open_test(number, days.pop(0) if days else None, words))
    if _is_passed(plan):
        return tuple(frozen(**row, strip=None) for row in rows[: max(2, len(kept) + 1)])
    strip = [_correction(row, words) for row in plan.gate.correction_strip[:TESTS]]
    return tuple(frozen(**row, strip=beside) for row, beside in zip_longest(rows, strip))


def _is_passed(plan: Plan) -> bool:
    return _is_filled(plan) or plan.gate.state in {"pass", "pass-with-care"}


def _planned_tests(plan: Plan) -> list[date]:
    if _is_filled(plan):
        return []
    tasks = [task for task in plan.tasks if task.id.startswith("test-") and task.id != "test-bottle"]
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
        "name": words.task(f"test-{number}"), "date": day_of(words, reading.on),
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


def _notes(gate: Gate, words: Words) -> str:
    notes = []
    if any(not reading.counts for reading in gate.readings):
        notes.append(words.say("bottling.not-counted"))
    if any(reading.assumed_celsius for reading in gate.readings):
        notes.append(words.say("bottling.assumed-warmth"))
    return " ".join(notes)


def _passed(gate: Gate, words: Words) -> tuple[tuple[View, ...], ...]:
    """The gate's answer, if it is passed: one line, and with care a second."""
    if gate.state not in {"pass", "pass-with-care"}:
        return ()
    why = _why(gate, words)
    if gate.state == "pass":
        return (runs(words, said("bottling.passed", why=why)),)
    care = "bottling.care-plastic" if gate.pet_only else "bottling.care-glass"
    return runs(words, said("bottling.passed-care", why=why)), runs(words, care)


def _why(gate: Gate, words: Words) -> str:
    return "; ".join(words.say(reason) for reason in gate.because)


def _otherwise(plan: Plan, words: Words) -> View:
    """What the numbers can say instead, and what to do then."""
    gate = plan.gate
    names = ["down", "up", *(["between"] if gate.ceiling > gate.high else []), "above", "under"]
    values = {"high": gate.high, "ceiling": gate.ceiling, "under": gate.low - 0.003}
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


# --- not yet


def _state(plan: Plan, words: Words) -> View:
    """Why not yet, the next day, and what to do until then."""
    gate = plan.gate
    why = _why(gate, words)
    stuck = gate.state == "stuck"
    on = gate.next_date
    return frozen(
        title=words.say(f"bottling.state.{gate.state}"),
        why=f"{why[:1].upper()}{why[1:]}." if why else "",
        next=runs(words, said("bottling.next", on=on)) if on else (),
        nothing=words.say("bottling.then-sheet"),
        heading=words.say("bottling.do"),
        steps=tuple(_numbered(f"bottling.do.{_reason(gate)}", on or plan.printed, words)),
        finish=words.say("bottling.finish") if stuck else "",
        finish_steps=tuple(_numbered("bottling.finish", plan.printed, words)) if stuck else (),
    )


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


# --- sugar


def _sugar(plan: Plan, words: Words) -> View | None:
    """Sugar for each size of bottle and for the whole vessel; the way this batch goes stands first."""
    gas = plan.carbonation
    if gas is None:
        return None
    bulk = gas.dosing == "in-bulk"
    doses = _sizes(gas)
    shown = {"title": words.say("bottling.sugar"), "bulk": bulk}
    if gas.total_g <= 0:
        return frozen(**shown, none=words.say("bottling.sugar-none"))
    return frozen(
        **shown,
        none="",
        gas=words.say(said("bottling.gas", sugar=gas.sugar, target=gas.target_volumes)),
        each=words.say("bottling.each-or" if bulk else "bottling.each"),
        teaspoons=words.say("bottling.teaspoons") if any(dose.teaspoons_each for dose in doses) else "",
        sizes=tuple(_dose(dose, doses, plan, words) for dose in doses),
        vessel=words.say(f"bottling.vessel-{words.units}"),
        there=words.say("bottling.there" if bulk else "bottling.there-or"),
        rungs=tuple(_rung(rung, index, plan, words) for index, rung in enumerate(gas.ladder)),
        small=_small(gas, doses, words),
    )


def _sizes(gas: Carbonation) -> list[Dose]:
    """One dose for each size: kinds of one size share it, and have spoons only if all of them may."""
    found: dict[float, Dose] = {}
    for dose in gas.sizes:
        known = found.get(dose.ml)
        if known is None or dose.teaspoons_each is None:
            found[dose.ml] = dose
    return [found[ml] for ml in sorted(found)]


def _column(index: int, count: int, widest: float) -> float:
    """The left edge of a column among so many between the words and the right edge."""
    return round(60 + index * min(widest, 135 / count), 3)


def _dose(dose: Dose, doses: list[Dose], plan: Plan, words: Words) -> View:
    filled: dict[float, int] = {}
    for row in plan.bottles.rows:
        filled[row.ml] = filled.get(row.ml, 0) + row.fill
    main = max(doses, key=lambda one: filled.get(one.ml, 0))
    grams, unit = words.measured(dose.grams_each, "dose")
    spoons = dose.teaspoons_each
    return frozen(
        at=_column(doses.index(dose), len(doses), 40.0),
        size=words.measure(dose.ml, "bottle"),
        grams=grams,
        unit=unit,
        spoons=words.say(said("bottling.spoon", count=spoons)) if spoons else "",
        main=dose is main,
    )


def _rung(rung: Rung, index: int, plan: Plan, words: Words) -> View:
    """One step of the ladder, in the vessel's measure rounded up: the safe side."""
    gas = plan.carbonation
    ladder = gas.ladder if gas else ()
    nearest = min(ladder, key=lambda one: abs(one.litres - plan.quantities.bottling_l))
    volume = rounded_up(rung.litres / _LITRES[words.units], 0.05 if words.units == "metric" else 0.1)
    value, unit = words.measured(rung.grams, "bulk-sugar")
    other = words.measure(rung.grams, "bulk-sugar", "metric") if words.units != "metric" else ""
    return frozen(
        at=_column(index, len(ladder), 135 / 7),
        volume=words.number(volume, 2),
        grams=value,
        unit=unit,
        other=other,
        main=rung is nearest,
    )


def _small(gas: Carbonation, doses: list[Dose], words: Words) -> str:
    weak = [words.say(one) for one in (_weak_spoon(gas, dose) for dose in doses) if one]
    return " ".join([words.say("bottling.smaller"), *weak[:1]])


def _weak_spoon(gas: Carbonation, dose: Dose) -> Said | None:
    """What a spoon makes, where it falls more than a tenth short."""
    if not dose.teaspoons_each or not dose.grams_exact:
        return None
    share = dose.teaspoons_each * TEASPOON_ML["metric"] * _SUGAR_G_PER_ML / dose.grams_exact
    if share >= _WEAK:
        return None
    volumes = gas.residual_volumes + (gas.target_volumes - gas.residual_volumes) * share
    return said("bottling.weak-spoon", count=dose.teaspoons_each, ml=dose.ml, gas=volumes)


# --- fill


def _fill(plan: Plan, words: Words) -> View:
    return frozen(
        title=words.say("bottling.fill"),
        steps=tuple(_step(step, words) for step in plan.bottling_steps),
        care_title=words.say("bottling.care"),
        care=tuple(words.say(f"bottling.care.{name}") for name in _cares(plan)),
        cross=words.say("bottling.cross"),
        numbers=_numbers(plan.bottles.filled),
        number_columns=_number_columns(plan.bottles.filled),
    )


def _step(step: Step, words: Words) -> View:
    syrup = step.caution == "syrup"
    return frozen(
        text=runs(words, step.said),
        amount=amount_of(words, step.amount),
        note=words.say(step.note) if step.note else "",
        caution=words.say("caution.hot-syrup") if syrup else "",
    )


def _cares(plan: Plan) -> Iterator[str]:
    """What belongs to this batch's bottles, the gravest first."""
    filled = [row for row in plan.bottles.rows if row.fill]
    if plan.carbonation is not None:
        yield from ("sweet", "eye", "twice")
    yield from ["glass"] if any(row.glass for row in filled) else []
    yield from ["plastic"] if any(row.kind == "pet" for row in filled) else []
    yield from ["bleach"] if "bleach" in plan.lists.sanitising.product else []
    yield from ("sediment", "warm")
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


def _strip(plan: Plan, words: Words) -> View:
    """Other filling days, and what each makes of the labels."""
    return frozen(
        title=words.say("bottling.strip-title"),
        filled=words.say("bottling.strip-filled"),
        not_before=words.say("bottling.strip-wait"),
        days=tuple(
            frozen(on=_weekday_and_day(day, words), until=words.day(until, "day-month"))
            for day, until in plan.labels.fill_choices[:14]
        ),
    )


def _weekday_and_day(day: date, words: Words) -> str:
    """A day without its month, for a narrow column."""
    parts = words.date_parts(day)
    return f"{parts['weekday']}{THIN}{parts['day']}"


# --- filled


def _filled(plan: Plan, words: Words) -> View:
    """What was filled, and the days that follow from it."""
    rows = [row for row in plan.bottles.rows if row.fill]
    after = [task for task in plan.tasks if words.has(f"bottling.then.{task.id}")]
    return frozen(
        title=words.say("bottling.filled"),
        rows=tuple(_filled_row(row, plan, words) for row in rows),
        total=str(plan.bottles.filled),
        all=words.say("bottling.filled-all"),
        then=words.say("bottling.then"),
        days=tuple(_after(task, plan, words) for task in after),
    )


def _filled_row(row: BottleRow, plan: Plan, words: Words) -> View:
    first, last = row.numbers
    numbers = said("bottling.filled-range" if last > first else "bottling.filled-one", first=first, last=last)
    gas = plan.carbonation
    grams = next((dose.grams_each for dose in gas.sizes if dose.ml == row.ml), None) if gas else None
    return frozen(
        count=str(row.fill),
        text=words.say(said("bottling.filled-row", ml=row.ml, kind=row.kind)),
        numbers=words.say(numbers),
        sugar=words.measure(grams, "dose") if grams and gas and gas.dosing != "in-bulk" else "",
    )


def _after(task: Task, plan: Plan, words: Words) -> View:
    return frozen(
        date=day_of(words, task.when.expected),
        text=words.say(said(f"bottling.then.{task.id}", celsius=plan.storing_c)),
        done=task.state == "done",
    )
