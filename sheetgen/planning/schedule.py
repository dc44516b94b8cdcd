"""The dates: earliest, expected and latest of everything from brew day to best before.

Comes in: a `Batch`, its gravities, the gate's verdict and today.  Goes out: tasks in order of their dates.
Day 0 is the day the yeast goes in.  Expected days move later only, to days that work; earliest days are walls
that nothing brings forward; the latest is when one should begin to worry.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from sheetgen.brewing import fermentation, rounding
from sheetgen.model import Batch, Keeping
from sheetgen.planning.life import Life, life_of
from sheetgen.planning.plan import Gate, Move, Task, When
from sheetgen.problems import Said, said
from sheetgen.records import record

LOOKS = (12, 24, 48)
MORNING, NIGHT = time(8, 0), time(22, 0)
EVENING = time(18, 0)
"""When the yeast is taken to go in, if no start is given."""
LEAST_WAIT_DAYS = 10
"""Bottles are never opened for drinking before this many days (common practice, no source)."""
SQUEEZE_DAYS, TEST_BOTTLE_DAYS = 4, 7
LATEST_AFTER_EXPECTED = 14
HOPS_BEFORE_TEST = 3
"""Hops free sugar: the first reading that counts is this many days after them (cautious judgement, no
source).
"""
HOPS_EARLIEST = 4
"""For a drink whose days do not speak of hops."""


@record
class Pace:
    """How long this batch takes: the room's factor for fermenting, days for strength, days of fizz in the
    warm place, the wait from filling to drinking, and the days between tests.
    """

    factor: float
    strength_ferment: float
    strength_bottle: float
    fizz: float
    gap: int

    def usual(self, days: float) -> int:
        """A usual time from its base days, rounded up."""
        return rounding.waiting_days((days + self.strength_ferment) * self.factor)

    def least(self, days: float) -> int:
        """A wall from its base days: warmth never shortens it, cold and strength lengthen it."""
        return rounding.waiting_days((days + self.strength_ferment) * max(1.0, self.factor))

    @property
    def wait(self) -> int:
        """Days from filling to the earliest drinking."""
        slow = max(1.0, self.fizz / fermentation.fizz_days(20.0))
        return rounding.waiting_days(max(float(LEAST_WAIT_DAYS), self.fizz) + self.strength_bottle * slow)


def pace_of(batch: Batch, original: float) -> Pace:
    """The pace from room, yeast and strength.  The cooler end of the room decides; rooms are checked
    before.
    """
    low, high = batch.recipe.yeast.celsius
    coldest, warmest = max(8.0, min(14.0, float(low))), min(40.0, max(30.0, float(high)))
    room = min(warmest, max(coldest, float(batch.room.fermenting[0])))
    warm = min(30.0, max(14.0, float(batch.room.warm_place)))
    ferment, bottle = fermentation.strength_days(original)
    gap = fermentation.gap_days(room, "ordinary", batch.actual.skin_seen)
    factor = fermentation.ferment_factor(room, coldest, warmest)
    return Pace(factor, ferment, bottle, fermentation.fizz_days(warm), max(gap, _drink_gap(batch)))


def _drink_gap(batch: Batch) -> int:
    return int(batch.recipe.drink.days.get("test-gap", 0))


@record
class _Planner:
    """The batch, its pace and life, and the two days that everything hangs on: pitching and today."""

    batch: Batch
    pace: Pace
    life: Life
    pitched: date
    today: date
    pitching: datetime | None = None

    def day(self, number: int) -> date:
        """The date of a day number."""
        return self.pitched + timedelta(days=number)

    def number(self, on: date) -> int:
        """The day number of a date."""
        return (on - self.pitched).days

    def base(self, name: str, usual: float = 0.0) -> float:
        """Base days of the drink; the usual ones where it has none of its own."""
        return float(self.batch.recipe.drink.days.get(name, usual))

    def find(self, wanted: date, hands_on: bool = True) -> tuple[date, tuple[Move, ...]]:
        """The first day that works, not before today once the batch is under way."""
        begun = has_begun(self.batch) or self.pitched < self.today
        if begun and wanted < self.today:
            day, _ = self.life.next_day(self.today, hands_on)
            return day, (Move(wanted, said("move.today", today=self.today)),)
        return self.life.next_day(wanted, hands_on)


def pitched_on(batch: Batch) -> date:
    """Day 0."""
    return batch.actual.pitched or batch.actual.brewed or batch.brew_day


def has_begun(batch: Batch) -> bool:
    """Whether anything that was entered shows that brew day is over."""
    actual = batch.actual
    later = (actual.brewed, actual.pitched, actual.original_gravity, actual.dry_hopped, actual.bottled)
    return any(fact is not None for fact in later) or bool(actual.readings or actual.added or actual.warmed)


def _task(
    plan: _Planner, task_id: str, when: When, hands_on: bool = True, moves: tuple[Move, ...] = ()
) -> Task:
    return Task(task_id, plan.number(when.expected), when, hands_on, "to-do", moves)


def _done(plan: _Planner, task_id: str, on: date, hands_on: bool = True) -> Task:
    return replace(_task(plan, task_id, When(on, on, on), hands_on), state="done")


def brew_task(plan: _Planner) -> Task:
    """Brew day stays where the file put it."""
    day = plan.batch.actual.brewed or plan.batch.brew_day
    if has_begun(plan.batch) or day < plan.today:
        return _done(plan, "brew", day)
    return _task(plan, "brew", When(day, day, day, (said("why.brew-day"),)))


def in_the_day(moment: datetime) -> datetime:
    """The moment itself, or the next morning if it falls into the night: nobody gets up to look at a
    bucket.
    """
    if moment.time() < MORNING:
        return datetime.combine(moment.date(), MORNING)
    if moment.time() >= NIGHT:
        return datetime.combine(moment.date() + timedelta(days=1), MORNING)
    return moment


def look_tasks(plan: _Planner) -> list[Task]:
    """Looks at 12, 24 and 48 hours; clock times when the start is known."""
    begins = plan.pitching or datetime.combine(plan.pitched, EVENING)
    tasks = []
    for hours in LOOKS:
        clock = in_the_day(begins + timedelta(hours=hours))
        on = clock.date()
        task = _task(plan, f"look-{hours}h", When(on, on, on, (said("why.look", hours=hours),)), False)
        clock_known = clock if plan.pitching else None
        tasks.append(replace(task, clock=clock_known, state="done" if on < plan.today else "to-do"))
    return tasks


def has_dry_hops(batch: Batch) -> bool:
    """Whether hops go into the fermenter."""
    return any(part.when.stage == "dry-hop" for part in batch.recipe.ingredients)


def _usual_why(plan: _Planner, sentence: str, days: int) -> Said:
    return said(sentence, days=days, celsius=float(plan.batch.room.fermenting[0]))


def hop_task(plan: _Planner) -> Task | None:
    """Hops go in from day 4, three days before the first test, and move with it while they are not in."""
    if not has_dry_hops(plan.batch):
        return None
    if plan.batch.actual.dry_hopped:
        return _done(plan, "dry-hop", plan.batch.actual.dry_hopped)
    earliest = plan.day(plan.pace.least(plan.base("hops-earliest", HOPS_EARLIEST)))
    first_test, _ = plan.life.next_day(plan.day(plan.pace.usual(plan.base("test-1"))))
    wanted = max(
        earliest, first_test - timedelta(days=int(plan.base("hops-before-test-1", HOPS_BEFORE_TEST)))
    )
    expected, moves = plan.find(wanted)
    latest = max(expected, plan.day(rounding.waiting_days(14 * max(1.0, plan.pace.factor))))
    why = (said("why.dry-hop", days=HOPS_BEFORE_TEST),)
    return _task(plan, "dry-hop", When(earliest, expected, latest, why), True, moves)


def extra_task(plan: _Planner) -> list[Task]:
    """What the recipe puts in on a given day of fermentation; once that day is past, it is taken as done."""
    tasks = []
    for number in sorted(
        {part.when.day for part in plan.batch.recipe.ingredients if part.when.stage == "day"}
    ):
        expected, moves = plan.life.next_day(plan.day(number))
        task = _task(plan, f"add-day-{number}", When(plan.day(number), expected, None), True, moves)
        tasks.append(replace(task, state="done" if expected < plan.today else "to-do"))
    return tasks


def hops_pending(batch: Batch) -> bool:
    """Whether the recipe's dry hops are not in yet, as far as the file says."""
    return has_dry_hops(batch) and batch.actual.dry_hopped is None and batch.actual.bottled is None


def counted_days(gate: Gate) -> list[date]:
    """Days with a reading that counts, in order."""
    return sorted({reading.on for reading in gate.readings if reading.counts})


def first_test(plan: _Planner, gate: Gate, after: Iterable[Task]) -> Task:
    """Gravity test 1: never before day 7, nor within three days of anything that feeds the yeast."""
    counted = counted_days(gate)
    if counted:
        return _done(plan, "test-1", counted[0])
    fed = [task.when for task in after if task.id == "dry-hop" or task.id.startswith("add-day")]
    rest = timedelta(days=HOPS_BEFORE_TEST)
    earliest = max(
        [plan.day(plan.pace.least(plan.base("test-1-earliest"))), *(when.earliest + rest for when in fed)]
    )
    days = plan.pace.usual(plan.base("test-1"))
    wanted = max([earliest, plan.day(days), *(when.expected + rest for when in fed)])
    if gate.next_date and gate.next_date > plan.today:
        wanted = max(wanted, gate.next_date)
    expected, moves = plan.find(wanted)
    return _task(
        plan, "test-1", When(earliest, expected, None, (_usual_why(plan, "why.test-1", days),)), True, moves
    )


def second_test(plan: _Planner, gate: Gate, first: Task) -> Task:
    """Gravity test 2: at least the gap later."""
    counted = counted_days(gate)
    gap = timedelta(days=plan.pace.gap)
    if len(counted) > 1:
        return _done(plan, "test-2", counted[1])
    earliest = first.when.earliest + gap
    usual = max(plan.pace.gap, rounding.waiting_days(plan.base("test-2-gap")))
    wanted = first.when.expected + timedelta(days=usual)
    if gate.next_date and counted:
        wanted = first.when.expected + gap
        wanted = max(wanted, gate.next_date) if gate.next_date > plan.today else wanted
    expected, moves = plan.find(wanted)
    why = (said("why.test-2", days=plan.pace.gap),)
    return _task(plan, "test-2", When(earliest, expected, None, why), True, moves)


def more_test(plan: _Planner, gate: Gate) -> Task | None:
    """A further test, when two were taken and the gate still waits."""
    counted = counted_days(gate)
    if len(counted) < 2 or gate.state in ("pass", "pass-with-care") or gate.next_date is None:
        return None
    expected, moves = plan.find(gate.next_date)
    number = len(counted) + 1
    return _task(plan, f"test-{number}", When(gate.next_date, expected, None, gate.because), True, moves)


def bottle_task(plan: _Planner, gate: Gate, last_test: Task) -> Task:
    """Bottling, if the gate is passed: never before day 10 and never before the last test."""
    if plan.batch.actual.bottled:
        return _done(plan, "bottle", plan.batch.actual.bottled.on)
    passed = gate.state in ("pass", "pass-with-care")
    wall = plan.day(plan.pace.least(plan.base("bottle-earliest")))
    earliest = max(wall, last_test.when.earliest)
    days = plan.pace.usual(plan.base("bottle"))
    wanted = (
        max(wall, last_test.when.expected) if passed else max(wall, plan.day(days), last_test.when.expected)
    )
    expected, moves = plan.find(wanted)
    base_latest = plan.day(plan.pace.least(plan.base("bottle-latest")))
    latest = max(base_latest, expected + timedelta(days=LATEST_AFTER_EXPECTED))
    why = _usual_why(plan, "why.bottle-passed" if passed else "why.bottle", days)
    return _task(plan, "bottle", When(earliest, expected, latest, (why,)), True, moves)


def _after(plan: _Planner, bottle: Task, task_id: str, days: int, why: Said, hands_on: bool) -> Task:
    """A task so many days after filling; its range is bottling's, shifted."""
    wait = timedelta(days=days)
    earliest, latest = bottle.when.earliest + wait, bottle.when.latest
    expected, moves = (
        plan.life.next_day(bottle.when.expected + wait, False)
        if hands_on
        else (bottle.when.expected + wait, ())
    )
    latest = None if latest is None else max(expected, latest + wait)
    task = _task(plan, task_id, When(earliest, expected, latest, (why,)), hands_on, moves)
    filled = plan.batch.actual.bottled is not None
    return replace(task, state="done" if filled and expected < plan.today else "to-do")


def keeping_of(batch: Batch) -> Keeping:
    """How the drink keeps: the recipe's class, else the drink's."""
    return batch.recipe.keeping or batch.recipe.drink.keeping


def best_days(batch: Batch, pace: Pace, keeping: Keeping) -> tuple[int, int, int]:
    """Days from filling to best from, best until and best before.  Warm storage halves the last, a cold one
    adds half; plastic bottles end it after four months (common practice, no source).
    """
    storing = float(batch.room.storing)
    factor = 0.5 if storing >= 25 else 1.5 if storing <= 8 else 1.0
    months = keeping.months * factor
    if any(row.kind.id == "pet" for row in batch.bottles):
        months = min(months, 4.0)
    before = round(months * 30.4)
    start = max(pace.wait, round(keeping.from_weeks * 7))
    before = max(before, start)
    return start, min(before, max(start, round(keeping.peak_weeks[1] * 7))), before


def first_look(plan: _Planner, bottle: Task, with_care: bool) -> list[Task]:
    """Day four: press the plastic bottle; without one, after a pass with care, open a glass one."""
    if any(row.kind.id == "pet" for row in plan.batch.bottles):
        return [_after(plan, bottle, "squeeze", SQUEEZE_DAYS, said("why.squeeze"), True)]
    if with_care:
        return [_after(plan, bottle, "early-bottle", SQUEEZE_DAYS, said("why.early-bottle"), True)]
    return []


def bottle_tasks(plan: _Planner, bottle: Task, keeping: Keeping, with_care: bool) -> list[Task]:
    """From the first look at a bottle to best before."""
    pace, primed = plan.pace, plan.batch.recipe.drink.primed
    fizz = rounding.waiting_days(pace.fizz)
    start, _, before = best_days(plan.batch, pace, keeping)
    warm = float(plan.batch.room.warm_place)
    in_between = [
        *first_look(plan, bottle, with_care),
        _after(plan, bottle, "test-bottle", TEST_BOTTLE_DAYS, said("why.test-bottle"), True),
        _after(plan, bottle, "move-to-cool", fizz, said("why.move-to-cool", days=fizz, celsius=warm), True),
    ]
    return [
        *(in_between if primed else []),
        _after(plan, bottle, "drink-from", pace.wait, said("why.drink-from", days=pace.wait), False),
        _after(plan, bottle, "best-from", start, said("why.best-from"), False),
        _after(plan, bottle, "best-before", before, said("why.best-before"), False),
    ]


def _with_next(tasks: list[Task]) -> list[Task]:
    """Mark the first hands-on task that is still to do, in the order of expected days."""
    ordered = sorted(tasks, key=lambda task: task.when.expected)
    found = next((task for task in ordered if task.hands_on and task.state == "to-do"), None)
    return [replace(task, state="next") if task is found else task for task in ordered]


def _finish_looks(tasks: list[Task], test: Task) -> list[Task]:
    """Once a test was taken, everything before it is behind us."""
    if test.state != "done":
        return tasks
    early = ("look-", "add-day")
    return [replace(task, state="done") if task.id.startswith(early) else task for task in tasks]


def schedule(
    batch: Batch, original: float, gate: Gate, today: date, brew_minutes: float = 0.0
) -> tuple[tuple[Task, ...], Pace]:
    """All tasks of the batch in order of their expected dates, and the pace they rest on.

    `brew_minutes` is from the start of brew day to the yeast; it dates the looks when the start is known.
    Raises NoDay when no day within a year works.
    """
    pitched = pitched_on(batch)
    pitching = (
        datetime.combine(pitched, batch.start) + timedelta(minutes=brew_minutes) if batch.start else None
    )
    plan = _Planner(batch, pace_of(batch, original), life_of(batch), pitched, today, pitching)
    hops = hop_task(plan)
    early = [*look_tasks(plan), *extra_task(plan), *([hops] if hops else [])]
    one = first_test(plan, gate, early)
    two = second_test(plan, gate, one)
    three = more_test(plan, gate)
    bottle = bottle_task(plan, gate, three or two)
    if bottle.state == "done":
        one, two, three = replace(one, state="done"), replace(two, state="done"), None
    tests = [one, two, *([three] if three else [])]
    later = bottle_tasks(plan, bottle, keeping_of(batch), gate.state == "pass-with-care")
    tasks = [brew_task(plan), *_finish_looks(early, one), *tests, bottle, *later]
    return tuple(_with_next(tasks)), plan.pace
