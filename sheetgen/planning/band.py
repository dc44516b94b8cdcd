"""How the gravity is expected to fall, day by day, and what readings say of it.

Comes in: a `Batch`, its gravities, readings and dates.  Goes out: `Band` rows and `Fermentation`.  The shape
is a published growth model's, the clock the schedule's, so band and dates agree.  Between fast and slow lie a
room 2 C warmer or colder, yeast 30 % faster or slower, and the range of the finish; readings narrow all
three.  Dates and gate are worked out before, and nothing here moves them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.brewing import alcohol, fermentation, gravity, vigour
from sheetgen.model import Batch
from sheetgen.planning.additions import is_later, litres_of
from sheetgen.planning.plan import Band, Fermentation, Gate, GateReading, GravityRange, Task
from sheetgen.planning.planner import has_begun, pitched_on
from sheetgen.planning.strength import Strength
from sheetgen.records import record

ROOM_C = 2.0
VIGOUR = 0.30
"""The band's edges: a room so much warmer or colder, yeast so much faster or slower (cautious judgement, no
source).
"""
FINISH_SPREADS = 4.0
"""The range of the finish holds so many standard deviations."""
LEAST_SPREAD_SG = 0.0003
MOST_DAYS = 400
"""A band is not drawn further."""
COLDEST_C, WARMEST_C = 8.0, 40.0
ABOVE_OG_SG = 0.001
_TASKS = {"day": "add-day", "rack": "rack"}
"""The task that brings what goes in at a stage, without its number."""


@record
class Course:
    """The expected course: gravities, the room's temperatures and the days to test 1 at them (slow, expected,
    fast), and the rates (likewise).  Before day `fed_on` only what went in on brew day ferments, from the
    gravity `first`.
    """

    original: float
    finish: GravityRange
    celsius: tuple[float, float, float]
    first_tests: tuple[float, float, float]
    vigours: tuple[float, float, float]
    first: float
    fed_on: int


def days_of_more(batch: Batch, tasks: Iterable[Task]) -> list[int]:
    """The days on which the recipe brings more sugar or water after brew day, in order."""
    more = [part.when for part in batch.recipe.ingredients if is_later(part) and litres_of(part.item, 1) > 0]
    names = {"dry-hop" if when.stage == "dry-hop" else f"{_TASKS[when.stage]}-{when.day}" for when in more}
    return sorted(task.day for task in tasks if task.id in names)


def first_test_day(batch: Batch, strongest: float, celsius: float) -> float:
    """Usual days to test 1 in a room of this temperature, before they are rounded up to a date."""
    strong, _ = fermentation.strength_days(strongest)
    room = min(WARMEST_C, max(COLDEST_C, celsius))
    factor = fermentation.ferment_factor(room, COLDEST_C, WARMEST_C)
    return max(1.0, (float(batch.recipe.drink.days["test-1"]) + strong) * factor)


def course_of(
    batch: Batch,
    found: Strength,
    known: vigour.Learned | None = None,
    doubt: float = 1.0,
    fed_on: int = 0,
) -> Course:
    """What is expected before any reading; or after those that `known` was learned from, with so much (1:
    all) of the doubt about the rate left.  `fed_on`: the day of the first later addition.
    """
    low, high = (float(end) for end in batch.room.fermenting)
    rooms = (low - ROOM_C * doubt, low, low + (high - low + ROOM_C) * doubt)
    slow, usual, fast = (first_test_day(batch, found.strongest, celsius) for celsius in rooms)
    rate, finish = (known.vigour, _narrowed(found.finish, known)) if known else (1.0, found.finish)
    rates = (rate * (1 - VIGOUR * doubt), rate, rate * (1 + VIGOUR * doubt))
    original, first = (min(gravity.HIGHEST_SG, max(1.0, sg)) for sg in (found.original, found.first))
    return Course(original, finish, rooms, (slow, usual, fast), rates, first, fed_on)


def _spread(finish: GravityRange) -> float:
    return max(LEAST_SPREAD_SG, (finish.high - finish.low) / FINISH_SPREADS)


def _narrowed(finish: GravityRange, known: vigour.Learned) -> GravityRange:
    """The finish after readings: never wider than it was, its middle where they put it."""
    middle = min(finish.high, max(finish.low, known.final))
    share = min(1.0, known.final_spread / _spread(finish))
    low = max(finish.low, middle - share * (finish.expected - finish.low))
    high = min(finish.high, middle + share * (finish.high - finish.expected))
    return GravityRange(low, middle, high)


def _end(course: Course, final: float) -> float:
    """A final gravity that the formulas know."""
    return min(course.original, max(gravity.LOWEST_SG, final))


def _before_more(course: Course) -> Course:
    """The same without what goes in later: the finish is higher or lower by as much as the wort."""
    share = (course.first - 1) / (course.original - 1) if course.original > 1 else 1.0
    low, expected, high = (
        1 + (end - 1) * share if end > 1 else end
        for end in (course.finish.low, course.finish.expected, course.finish.high)
    )
    return replace(course, original=course.first, finish=GravityRange(low, expected, high), fed_on=0)


def at(course: Course, day: float) -> GravityRange:
    """Lowest, expected and highest gravity on a day."""
    if day < course.fed_on:
        return at(_before_more(course), day)
    ends = (course.finish.high, course.finish.expected, course.finish.low)
    slow, expected, fast = (
        fermentation.gravity_on_day(course.original, _end(course, end), celsius, day, test, rate)
        for end, celsius, test, rate in zip(
            ends, course.celsius, course.first_tests, course.vigours, strict=True
        )
    )
    return GravityRange(min(fast, expected), expected, max(slow, expected))


def telling(batch: Batch, found: Strength, gate: Gate, more: Sequence[int] = ()) -> list[tuple[float, float]]:
    """The readings that speak of the rate, as (day, SG): after the last addition, and possible at all.

    `more`: the days of the recipe's own additions.
    """
    pitched = pitched_on(batch)
    fed = max((entry.on for entry in batch.actual.added), default=date.min)
    fed = max([fed, *(pitched + timedelta(days=day) for day in more)])
    lowest = alcohol.lowest_final(min(gravity.HIGHEST_SG, found.original))
    return [
        (float((reading.on - pitched).days), reading.corrected)
        for reading in gate.readings
        if reading.on > max(fed, pitched) and lowest <= reading.corrected <= found.original + ABOVE_OG_SG
    ]


def _learned(course: Course, readings: list[tuple[float, float]]) -> vigour.Learned:
    finish, usual = course.finish, course.celsius[1]
    final, tests = _end(course, finish.expected), course.first_tests
    expected = vigour.Course(course.original, final, _spread(finish), usual, tests[1])
    return vigour.learned(expected, readings)


def _now(course: Course, batch: Batch, today: date) -> GravityRange | None:
    day = (today - pitched_on(batch)).days
    if not has_begun(batch) or batch.actual.bottled or not 0 <= day <= MOST_DAYS:
        return None
    return at(course, day)


def is_test(task: Task) -> bool:
    """Whether the task is a test of the gate: of the gravity, or by looks."""
    return task.id.startswith(("test-", "taste-")) and task.id[-1:].isdigit()


def _last_day(tasks: Iterable[Task], readings: Iterable[GateReading], pitched: date) -> int:
    days = [task.day for task in tasks if task.id == "bottle" or is_test(task)]
    days += [(reading.on - pitched).days for reading in readings]
    return min(MOST_DAYS, max(days, default=0))


def band_of(
    batch: Batch, found: Strength, gate: Gate, tasks: Iterable[Task], today: date
) -> tuple[tuple[Band, ...], Fermentation]:
    """The band for every day to bottling, and what readings made of it."""
    listed = tuple(tasks)
    more = days_of_more(batch, listed)
    fed_on = more[0] if more else 0
    course, readings = course_of(batch, found, fed_on=fed_on), telling(batch, found, gate, more)
    if readings:
        known = _learned(course, readings)
        course = course_of(batch, found, known, known.spread / vigour.PRIOR_SPREAD, fed_on)
    slow, usual, fast = course.vigours
    rows = []
    for day in range(_last_day(listed, gate.readings, pitched_on(batch)) + 1):
        found_at = at(course, day)
        rows.append(Band(day, found_at.low, found_at.expected, found_at.high))
    now = _now(course, batch, today)
    return tuple(rows), Fermentation(usual, slow, fast, course.finish, now, len(readings))
