"""What waits for what until the bottles are full: one small function for each rule, named as a sentence.

Comes in: a `Case`: the batch's pace and life, its gate, and what is to be done.  Goes out: links of the
graph, in days.  The base days are the drink's own (`recipes/drinks/*.yaml`); room and strength change them
by the pace.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date

from sheetgen.brewing import rounding
from sheetgen.brewing.gate import PASS_DAYS
from sheetgen.brewing.looks import LOOKS_APART_DAYS, LOOKS_FIRST_DAY
from sheetgen.planning.graph import START, Link, Stay, Step
from sheetgen.planning.plan import PASSED, Gate
from sheetgen.planning.planner import Planner
from sheetgen.planning.rooms import settled_day
from sheetgen.planning.work import Dated
from sheetgen.problems import said
from sheetgen.records import record

HOPS_BEFORE_TEST = 3
"""Hops free sugar, and so does anything else that feeds or wakes yeast: the first reading that counts is so
many days after it (cautious judgement, no source).
"""
HOPS_EARLIEST, HOPS_LATEST = 4, 14
"""For a drink whose days do not speak of hops: not before the foam has fallen, and without worry until then
(common practice, no source).
"""
HOPS_LONGEST_DAYS = 10
"""Longer in the fermenter they can taste of grass (common practice, no source)."""
LATEST_AFTER_USUAL = 14
"""So long after its usual day, bottling is no worry yet (common practice, no source)."""


@record
class Case:
    """What the rules look at: `tests` are all of them, those that were taken with their day; `hops` and
    `cold` (days in the cold) None if there are none.
    """

    plan: Planner
    gate: Gate
    works: tuple[Dated, ...]
    tests: tuple[Step, ...]
    hops: Step | None
    cold: Step | None = None

    def walled(self, name: str, otherwise: float = 0.0) -> int:
        """A wall of the drink in days: warmth never brings it forward."""
        return self.plan.pace.least(self.plan.base(name, otherwise))

    def usual(self, name: str) -> int:
        """A usual day of the drink."""
        return self.plan.pace.usual(self.plan.base(name))

    @property
    def celsius(self) -> float:
        """The fermenting room, at its cooler end."""
        return float(self.plan.batch.room.fermenting[0])

    @property
    def gap(self) -> int:
        """Days that are planned between two readings: the drink's, never under what the gate asks."""
        return max(self.plan.pace.gap, rounding.waiting_days(self.plan.base("test-2-gap")))

    @property
    def usual_last(self) -> int:
        """The usual day of the second of two tests."""
        if self.gate.by_looks:
            return LOOKS_FIRST_DAY + LOOKS_APART_DAYS
        return self.usual("test-1") + self.gap

    @property
    def fed(self) -> list[str]:
        """The ids of all that feeds or wakes the yeast."""
        return [one.id for one in self.works if one.feeds] + (["dry-hop"] if self.hops else [])

    @property
    def gate_asks(self) -> int | None:
        """The day number on which the gate wants the next reading, if that is still to come."""
        asked = self.gate.next_date
        return self.plan.number(asked) if asked and asked > self.plan.today else None


def counted_days(gate: Gate) -> list[date]:
    """Days with a reading that counts, in order."""
    return sorted({reading.on for reading in gate.readings if reading.counts})


def hops_wait_until_the_foam_has_fallen(case: Case) -> Iterator[Link]:
    """And are no worry for two weeks; cold and strength make both longer."""
    if case.hops:
        least = case.walled("hops-earliest", HOPS_EARLIEST)
        yield Link(START, "dry-hop", said("why.hops-foam", days=least), least)
        latest = case.plan.pace.least(HOPS_LATEST)
        yield Link(START, "dry-hop", said("why.hops-latest", days=latest), most=latest)


def hops_go_in_shortly_before_the_first_reading(case: Case) -> Iterator[Link]:
    """They are counted back from the day on which the first reading would fall."""
    if case.hops:
        before = int(case.plan.base("hops-before-test-1", HOPS_BEFORE_TEST))
        first, _ = case.plan.life.next_day(case.plan.day(case.usual("test-1")))
        why = said("why.dry-hop", days=HOPS_BEFORE_TEST)
        yield Link(START, "dry-hop", why, usual=case.plan.number(first) - before)


def the_first_reading_has_its_wall_and_its_usual_day(case: Case) -> Iterator[Link]:
    """Day 7 at the earliest, whatever the warmth."""
    least, usual = case.walled("test-1-earliest"), case.usual("test-1")
    yield Link(START, "test-1", said("why.test-wall", days=least), least)
    yield Link(START, "test-1", said("why.test-1", days=usual, celsius=case.celsius), usual=usual)


def a_reading_waits_for_the_yeast_to_settle(case: Case) -> Iterator[Link]:
    """Three days after anything that feeds or wakes it."""
    why = said("why.test-fed", days=HOPS_BEFORE_TEST)
    yield from (Link(name, "test-1", why, HOPS_BEFORE_TEST) for name in case.fed)


def a_reading_waits_for_a_warmer_room_to_have_its_effect(case: Case) -> Iterator[Link]:
    """A rise of 2 C wakes the yeast like anything else."""
    name, rest = ("taste-1", LOOKS_FIRST_DAY) if case.gate.by_looks else ("test-1", HOPS_BEFORE_TEST)
    plan, first = case.plan, LOOKS_FIRST_DAY if case.gate.by_looks else case.usual("test-1")
    settled = settled_day(plan.batch, plan.pace, plan.pitched, first, rest)
    if settled is not None:
        yield Link(START, name, said("why.test-warmer", days=rest), settled)


def readings_lie_apart(case: Case) -> Iterator[Link]:
    """The second follows the first by what the gate asks, usually by a little more."""
    if len(case.tests) > 1:
        yield Link(
            "test-1", "test-2", said("why.test-2", days=case.plan.pace.gap), case.plan.pace.gap, case.gap
        )


def the_gate_names_the_day_of_the_next_reading(case: Case) -> Iterator[Link]:
    """What was read so far says when to read again."""
    waiting = next((test for test in case.tests if test.on is None), None)
    if waiting is None:
        return
    if waiting in case.tests[2:] and case.gate.next_date:
        yield Link(START, waiting.id, case.gate.because[0], case.plan.number(case.gate.next_date))
    elif case.gate_asks is not None:
        yield Link(START, waiting.id, said("why.gate-asks"), case.gate_asks)


def a_further_reading_follows_the_last(case: Case) -> Iterator[Link]:
    """Third and later ones are never before the one that was taken, and lie apart while both are to come."""
    for before, after in zip(case.tests[1:], case.tests[2:], strict=False):
        gap = case.plan.pace.gap if before.on is None else 0
        yield Link(before.id, after.id, said("why.test-2", days=gap) if gap else said("why.test-after"), gap)


def a_look_waits_three_weeks(case: Case) -> Iterator[Link]:
    """Without a hydrometer: counted from the yeast, and anew from all that feeds or wakes it."""
    why = said("why.taste-1", days=LOOKS_FIRST_DAY)
    yield from (Link(name, "taste-1", why, LOOKS_FIRST_DAY) for name in (START, *case.fed))


def looks_lie_apart(case: Case) -> Iterator[Link]:
    """A look on the next day would see the same.  After a look that was taken the gate names the day: it
    counts from the first of those that were good.
    """
    why = said("why.taste-2", days=LOOKS_APART_DAYS)
    for before, after in zip(case.tests, case.tests[1:], strict=False):
        apart, asked = LOOKS_APART_DAYS, case.gate.next_date
        if before.on is not None and asked is not None:
            apart = max(0, case.plan.number(asked) - before.on)
        yield Link(before.id, after.id, why, apart)


def bottling_has_its_wall(case: Case) -> Iterator[Link]:
    """Day 10 at the earliest, whatever the warmth."""
    least = case.walled("bottle-earliest")
    yield Link(START, "bottle", said("why.bottle-wall", days=least), least)


def bottling_waits_for_the_last_reading(case: Case) -> Iterator[Link]:
    """On the same day it may be bottled, if the reading is taken first and passes."""
    passed = case.gate.state in PASSED
    why = said("why.bottle-passed" if passed else "why.bottle-test")
    yield Link(case.tests[-1].id, "bottle", why, 0)


def bottling_has_its_usual_day(case: Case) -> Iterator[Link]:
    """A gate that passed sooner than usual brings it forward by as much."""
    usual, last = case.usual("bottle"), case.tests[-1]
    if case.gate.state in PASSED and last.on is not None:
        rests = max(0, usual - case.usual_last)
        if last.on + rests < usual:
            yield Link(last.id, "bottle", said("why.bottle-passed"), usual=rests)
            return
    yield Link(START, "bottle", said("why.bottle", days=usual, celsius=case.celsius), usual=usual)


def bottling_waits_until_all_has_settled(case: Case) -> Iterator[Link]:
    """After a racking the drink comes to rest."""
    for one in case.works:
        if one.rest:
            yield Link(one.id, "bottle", said("why.bottle-rest", days=one.rest), one.rest)


def the_cold_follows_the_last_reading(case: Case) -> Iterator[Link]:
    """In the cold any drink stands still, so nothing could be read there."""
    if case.cold:
        yield Link(case.tests[-1].id, case.cold.id, said("why.cold"), 0)


def bottling_waits_for_the_days_in_the_cold(case: Case) -> Iterator[Link]:
    """So that yeast and haze sink."""
    if case.cold:
        days = case.plan.batch.cold_days
        yield Link(case.cold.id, "bottle", said("why.bottle-cold", days=days), days)


def work_keeps_its_days(case: Case) -> Iterator[Link]:
    """A drink's jobs, and what the recipe puts in on a day."""
    for one in case.works:
        yield from one.links


Rule = Callable[[Case], Iterator[Link]]

FIRST: tuple[Rule, ...] = (
    work_keeps_its_days,
    hops_wait_until_the_foam_has_fallen,
    hops_go_in_shortly_before_the_first_reading,
)
READINGS: tuple[Rule, ...] = (
    the_first_reading_has_its_wall_and_its_usual_day,
    a_reading_waits_for_the_yeast_to_settle,
    a_reading_waits_for_a_warmer_room_to_have_its_effect,
    readings_lie_apart,
    the_gate_names_the_day_of_the_next_reading,
    a_further_reading_follows_the_last,
)
LOOKS: tuple[Rule, ...] = (
    a_look_waits_three_weeks,
    a_reading_waits_for_a_warmer_room_to_have_its_effect,
    looks_lie_apart,
    the_gate_names_the_day_of_the_next_reading,
)
BOTTLING: tuple[Rule, ...] = (
    bottling_has_its_usual_day,
    bottling_has_its_wall,
    bottling_waits_for_the_last_reading,
    bottling_waits_until_all_has_settled,
    the_cold_follows_the_last_reading,
    bottling_waits_for_the_days_in_the_cold,
)
"""Of two rules that ask for the same day, the first is named."""


def waits_of(case: Case) -> list[Link]:
    """Every link, in the order of the rules."""
    tests = LOOKS if case.gate.by_looks else READINGS
    return [link for rule in (*FIRST, *tests, *BOTTLING) for link in rule(case)]


def stays_of(case: Case) -> tuple[Stay, ...]:
    """What moves with bottling: hops, and the last reading, while they are still to do."""
    hops = [Stay("dry-hop", "bottle", HOPS_LONGEST_DAYS, said("move.hops-stay", days=HOPS_LONGEST_DAYS))]
    last = Stay(case.tests[-1].id, "bottle", PASS_DAYS, said("move.pass-lasts", days=PASS_DAYS))
    return (*(hops if case.hops else []), last)


def worry(case: Case, expected: int, usual_day: Callable[[], int]) -> Link:
    """The last day for bottling without worry: the drink's own, or two weeks after the usual day; never after
    one to which life has put it.  `usual_day` is worked out only where bottling is expected so late that it
    matters.
    """
    latest = case.walled("bottle-latest")
    if latest < expected + LATEST_AFTER_USUAL and latest < (later := usual_day() + LATEST_AFTER_USUAL):
        return Link(START, "bottle", said("why.bottle-two-weeks", days=LATEST_AFTER_USUAL), most=later)
    return Link(START, "bottle", said("why.bottle-latest", days=latest), most=latest)


SLOW_GAP_DAYS = 4
"""Readings are so far apart in a cold room."""


def way_to_bottling(case: Case, stay: Stay) -> tuple[list[Step], list[Link]]:
    """The shortest way from what has to stay close to bottling, with readings as far apart as cold asks."""
    gap, why = max(SLOW_GAP_DAYS, case.gap), stay.because
    end = [Step("bottle", "bottling")]
    ends = [0]
    if case.cold:
        end, ends = [replace(case.cold, on=None), *end], [0, case.plan.batch.cold_days]
    steps, gaps = [Step(stay.before, "testing"), *end], [0, *ends]
    if stay.before == "dry-hop":
        steps = [Step("dry-hop", "adding"), Step("test-1", "testing"), Step("test-2", "testing"), *end]
        gaps = [0, HOPS_BEFORE_TEST, gap, *ends]
    befores = [START, *(step.id for step in steps)]
    return steps, [
        Link(before, step.id, why, days) for before, step, days in zip(befores, steps, gaps, strict=False)
    ]
