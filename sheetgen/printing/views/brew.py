"""The brew sheet: numbered steps, the check before leaving the kitchen, the looks, the tag.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/brew.layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import groupby

from sheetgen.planning.plan import Amount, Plan, Step, Task
from sheetgen.printing import fonts, measures
from sheetgen.printing.views.common import View, amount_of, capital, cautions_of, frozen, page, runs
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

CHECKS = 8
CAUTION_PT = 12.0
NOTE_MM = 135.0
BESIDE_BLANK_MM = 87.0
_LATER = "group.later"
_LAST_LOOK_H = 72.0
"""The end of the first days, of which the sheet keeps a record; nobody is called to it."""


def brew(plan: Plan, words: Words) -> View:
    """What the brew sheet shows."""
    day = plan.task("brew").when.expected
    return frozen(
        page=page(plan, words, "brew", (day, day)),
        subtitle=runs(words, _subtitle(plan, words)),
        continued=words.say("brew.continued"),
        groups=tuple(_groups(plan, [step for step in plan.steps if step.group != _LATER], words)),
        later=tuple(
            _groups(plan, [step for step in plan.steps if step.group == _LATER], words, _before(plan))
        ),
        cautions=cautions_of(plan, words, "brew", {step.caution or "" for step in plan.steps}),
        check=_check(plan, words),
        looks=_looks(plan, words),
    )


def _subtitle(plan: Plan, words: Words) -> Said:
    low, high = plan.room_c
    room = words.measure(low, "temperature")
    if high > low:
        room = words.say(said("brew.room", low=low, high=high))
    day = plan.task("brew").when.expected
    return said("brew.subtitle-at" if plan.start else "brew.subtitle", on=day, at=plan.start or day,
                time=words.measure(plan.brew_minutes, "duration"), room=room)  # fmt: skip


def _before(plan: Plan) -> int:
    """How many steps brew day itself has."""
    return sum(step.group != _LATER for step in plan.steps)


def _groups(plan: Plan, listed: list[Step], words: Words, number: int = 0) -> Iterator[View]:
    """Steps under their headings, numbered on from a number."""
    for name, steps in groupby(listed, key=lambda step: step.group):
        views = []
        for step in steps:
            number += 1
            views.append(_step(step, number, words, plan.start))
        yield frozen(title=words.say(name if words.has(name) else f"group.{name}"), steps=tuple(views))


def _step(step: Step, number: int, words: Words, start: datetime | None) -> View:
    left = None
    if step.left_min is not None:
        left = said("brew.left", minutes=step.left_min) if step.left_min else said("brew.left-end")
    caution = f"caution.{step.caution}" if step.caution else ""
    note = words.say(step.note) if step.note else ""
    head = words.say(f"{caution}.head") if caution else ""
    says = words.say(f"{caution}.says") if caution else ""
    return frozen(
        number=str(number),
        clock=words.clock(step.clock) if step.clock else "",
        left=words.say(left) if left else _other_day(step, start, words),
        text=capital(words.say(step.said)),
        amount=amount_of(words, step.amount),
        note=note,
        head=head,
        says=says,
        one_line=bool(note and head)
        and _caution_mm(f"{note}. {says}", head) <= (BESIDE_BLANK_MM if step.write else NOTE_MM),
        write=_write(step.write, words),
        instead=", ".join(words.say(way) for way in step.instead),
    )


def _other_day(step: Step, start: datetime | None, words: Words) -> str:
    """The date under the clock, once midnight is past."""
    past = step.clock is not None and start is not None and step.clock.date() > start.date()
    return words.day(step.clock.date()) if past and step.clock else ""


def _caution_mm(regular: str, bold: str) -> float:
    """Width of a line with a caution in millimetres."""
    return fonts.width_mm(regular, CAUTION_PT) + fonts.width_mm(f" {bold}", CAUTION_PT, bold=True)


def _write(amount: Amount | None, words: Words) -> View | None:
    """A blank with the expected value beside it, in both systems."""
    if amount is None:
        return None
    quantity = words.quantity(amount.value, measures.OF_AMOUNT[amount.unit])
    mine = words.measure(amount.value, measures.OF_AMOUNT[amount.unit])
    return frozen(unit=quantity.unit, expected="|".join(text for text in (mine, quantity.other) if text))


def _check(plan: Plan, words: Words) -> View:
    lines = [
        words.say(
            said(f"brew.check.{number}", code=plan.code, vessel=plan.vessel_name, celsius=plan.room_c[0])
        )
        for number in range(1, CHECKS + 1)
    ]
    half = CHECKS // 2
    rows = zip(lines[:half], lines[half:], strict=True)
    return frozen(
        title=words.say("brew.check"), rows=tuple(frozen(left=left, right=right) for left, right in rows)
    )


def _looks(plan: Plan, words: Words) -> View:
    """Days 0 to 3: the looks, and one more line for the day after the last of them."""
    looks = [task for task in plan.tasks if task.id.startswith("look-")]
    rows = [(_hours(task), task.clock) for task in looks]
    rows += [
        (_LAST_LOOK_H, clock and clock + timedelta(hours=_LAST_LOOK_H - hours)) for hours, clock in rows[-1:]
    ]
    return frozen(
        title=words.say("brew.looks"),
        rows=tuple(_look(hours, clock, words) for hours, clock in rows),
        foam=words.say("brew.look-foam"),
        unit=words.measured(20.0, "temperature")[1],
    )


def _hours(task: Task) -> float:
    return float(task.id.removeprefix("look-").removesuffix("h"))


def _look(hours: float, clock: datetime | None, words: Words) -> View:
    if clock is None:
        return frozen(at=words.say(said("brew.look", hours=hours)))
    return frozen(at=f"{words.day(clock.date())} {words.clock(clock)}")
