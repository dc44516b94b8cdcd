"""The dates: earliest, expected and latest of everything from brew day to best before.

Comes in: a `Batch`, its gravities, the gate's verdict and today.  Goes out: tasks in order of their dates.
Day 0 is the day the yeast goes in.  `waits.py` and `after_filling.py` say what waits for what, `graph.py`
what days follow from it.  Expected days move later only, to days that work; earliest days are walls that
nothing brings forward; the latest is when one should begin to worry.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from sheetgen.model import Actual, Batch, Work
from sheetgen.planning.after_filling import filling_links, filling_steps
from sheetgen.planning.graph import START, Link, Step, expected_days
from sheetgen.planning.keeping import Way, percent_of, way_of
from sheetgen.planning.life import at_leisure, life_of
from sheetgen.planning.looking import look_steps
from sheetgen.planning.plan import PASSED, Gate, Task
from sheetgen.planning.planner import Pace, Planner, has_dry_hops, pace_of, pitched_on
from sheetgen.planning.tasting import tried_links, with_tried
from sheetgen.planning.timetable import expected_of, timetable
from sheetgen.planning.waits import Case, counted_days, waits_of
from sheetgen.planning.work import Dated, cold_since, work_of
from sheetgen.problems import said

LOOKS = (12, 24, 48)
MORNING, NIGHT = time(8, 0), time(22, 0)
EVENING = time(18, 0)
"""When the yeast is taken to go in, if no start is given."""


def in_the_day(moment: datetime) -> datetime:
    """The moment itself, or the next morning if it falls into the night: nobody gets up to look at a
    bucket.
    """
    if moment.time() < MORNING:
        return datetime.combine(moment.date(), MORNING)
    if moment.time() >= NIGHT:
        return datetime.combine(moment.date() + timedelta(days=1), MORNING)
    return moment


def _due(plan: Planner, hours: int) -> datetime:
    """So many hours after the yeast went in, in the night too."""
    begins = plan.pitching or datetime.combine(plan.pitched, EVENING)
    return begins + timedelta(hours=hours)


def look_clocks(plan: Planner) -> dict[str, datetime]:
    """When to look at 12, 24 and 48 hours, by the id of the task."""
    return {f"look-{hours}h": in_the_day(_due(plan, hours)) for hours in LOOKS}


def _look_links(plan: Planner) -> Iterator[Link]:
    """A look that would fall into the night says so."""
    for (name, clock), hours in zip(look_clocks(plan).items(), LOOKS, strict=True):
        day, due = plan.number(clock.date()), _due(plan, hours)
        why = said("why.look", hours=hours)
        if plan.pitching and clock != due:
            why = said("why.look-morning", hours=hours, due=due, at=clock)
        yield Link(START, name, why, day, most=day)


def _brew_step(plan: Planner) -> Step:
    """Brew day stays where the file put it."""
    day = plan.batch.actual.brewed or plan.batch.brew_day
    return Step("brew", "brewing", True, ("home", "vessel"), False, plan.number(day))


def _work_step(plan: Planner, one: Dated) -> Step:
    kind: Work = "looking" if one.quick else "adding" if one.id.startswith("add-") else "racking"
    return Step(one.id, kind, True, ("home",), True, plan.number(one.when.expected) if one.done else None)


def _hop_step(plan: Planner) -> Step | None:
    if not has_dry_hops(plan.batch):
        return None
    done = plan.batch.actual.dry_hopped
    return Step("dry-hop", "adding", True, ("home",), True, plan.number(done) if done else None)


def test_steps(plan: Planner, gate: Gate) -> tuple[Step, ...]:
    """Every test that was taken, then what is still to be read: two at least, and as many more as the gate
    needs to pass.
    """
    taken: list[int | None] = [plan.number(on) for on in counted_days(gate)]
    waits = gate.state not in PASSED and gate.next_date is not None
    wanted = max(2, len(taken) + (gate.tests_ahead if waits else 0))
    days = [*taken, *[None] * (wanted - len(taken))]
    return tuple(
        Step(f"test-{number}", "testing", True, ("home",), True, on) for number, on in enumerate(days, 1)
    )


def _cold_step(plan: Planner) -> Step | None:
    """Days in the cold, if they are wanted; bottles that are full without them need them no more."""
    batch, done = plan.batch, cold_since(plan.batch)
    if not batch.cold_days or (batch.actual.bottled and not done):
        return None
    return Step("cold-1", "looking", True, ("home",), True, plan.number(done) if done else None)


def _bottle_step(plan: Planner) -> Step:
    filled = plan.batch.actual.bottled
    day = plan.number(filled.on) if filled else None
    return Step("bottle", "bottling", True, ("home", "bottles"), True, day)


def case_of(plan: Planner, gate: Gate) -> Case:
    """What the rules look at."""
    tests = look_steps(plan, gate) if gate.by_looks else test_steps(plan, gate)
    return Case(plan, gate, work_of(plan.batch, plan.pace), tests, _hop_step(plan), _cold_step(plan))


def steps_of(case: Case) -> list[Step]:
    """All there is to do, in an order in which nothing waits for a later one."""
    plan = case.plan
    looks = [Step(f"look-{hours}h", "looking", False, ("home",), False) for hours in LOOKS]
    works = [_work_step(plan, one) for one in case.works]
    hops = [case.hops] if case.hops else []
    after = filling_steps(plan, case.gate.state == "pass-with-care")
    filled = [_bottle_step(plan), *with_tried(plan, after)]
    cold = [case.cold] if case.cold else []
    return [_brew_step(plan), *looks, *works, *hops, *case.tests, *cold, *filled]


def links_of(case: Case, steps: Sequence[Step], way: Way) -> list[Link]:
    """All the rules between them; `way`: how the drink keeps."""
    plan = case.plan
    after = [*filling_links(plan, steps, way), *tried_links(plan, steps)]
    return [*_look_links(plan), *waits_of(case), *after]


def usual_bottling(plan: Planner, gate: Gate) -> int:
    """The day on which it would be bottled if every day were free, and before anything was done or read."""
    actual = plan.batch.actual
    fresh = Actual(brewed=actual.brewed, pitched=actual.pitched, skin_seen=actual.skin_seen)
    free = at_leisure(replace(plan.batch, actual=fresh, taken=frozenset()))
    open_gate = replace(gate, state="not-yet", next_date=None, readings=(), looks=())
    case = case_of(Planner(free, plan.pace, life_of(free), plan.pitched, plan.pitched), open_gate)
    every = [*steps_of(case)]
    steps = every[: next(n for n, step in enumerate(every) if step.id == "bottle") + 1]
    return expected_days(steps, [*_look_links(case.plan), *waits_of(case)], (), lambda _step, day: day)[
        "bottle"
    ].day


# What is behind us


def _done(task: Task) -> Task:
    return replace(task, state="done")


def _past(tasks: Sequence[Task], today: date) -> list[Task]:
    """Taken as done once their day has passed, whether somebody said so or not."""
    return [_done(task) if task.when.expected < today else task for task in tasks]


def _is_behind(task: Task, tested: date) -> bool:
    return task.id.startswith(("look-", "add-day")) or task.when.expected <= tested


def _early_tasks(case: Case, tasks: Sequence[Task], first: Task, filled: bool) -> list[Task]:
    """Looks, work and hops.  Once a test was taken, everything before it is behind us."""
    hops = [task for task in tasks if task.id == "dry-hop"]
    others = _past([task for task in tasks if task.id != "dry-hop"], case.plan.today)
    early = [*others, *hops]
    if filled:
        return [_done(task) for task in early]
    if first.state != "done":
        return early
    return [_done(task) if _is_behind(task, first.when.expected) else task for task in early]


def _test_tasks(tests: Sequence[Task], filled: bool) -> list[Task]:
    """Of a batch in bottles the tests that were taken; none is to come."""
    return [task for task in tests if not filled or task.state == "done"]


def _with_states(case: Case, tasks: Sequence[Task]) -> list[Task]:
    """Mark what was done: what the file says, and what is taken as done."""
    today, place = case.plan.today, next(n for n, task in enumerate(tasks) if task.id == "bottle")
    brew, bottle, later = tasks[0], tasks[place], tasks[place + 1 :]
    last = place - (1 if case.cold else 0)
    first = last - len(case.tests)
    tests, cold = tasks[first:last], tasks[last:place]
    filled = bottle.state == "done"
    gone = case.plan.begun or brew.when.expected < today
    return [
        _done(brew) if gone else replace(brew, state="to-do"),
        *_early_tasks(case, tasks[1:first], tests[0], filled),
        *_test_tasks(tests, filled),
        *([_done(task) for task in cold] if filled else _past(cold, today)),
        bottle,
        *(_past(later, today) if filled else later),
    ]


def _with_next(tasks: list[Task]) -> list[Task]:
    """Mark the first hands-on task that is still to do, in the order of expected days."""
    ordered = sorted(tasks, key=lambda task: task.when.expected)
    found = next((task for task in ordered if task.hands_on and task.state == "to-do"), None)
    return [replace(task, state="next") if task is found else task for task in ordered]


def _prepared(
    batch: Batch, original: float, gate: Gate, today: date, pitching: datetime | None = None
) -> tuple[Case, list[Step], list[Link]]:
    """What is to do, and the rules between, with what they look at."""
    plan = Planner(batch, pace_of(batch, original), life_of(batch), pitched_on(batch), today, pitching)
    case, way = case_of(plan, gate), way_of(batch, percent_of(original, gate))
    steps = steps_of(case)
    return case, steps, links_of(case, steps, way)


def expected_dates(batch: Batch, original: float, gate: Gate, today: date) -> tuple[dict[str, date], Pace]:
    """The expected date of every task by its id, as `schedule` has it, and the pace: without reasons, and
    without earliest and latest days, for those who ask for many lives or brew days.

    Raises NoDay when no day within a year works.
    """
    case, steps, links = _prepared(batch, original, gate, today)
    found = expected_of(case, steps, links)
    return {step.id: case.plan.day(found[step.id].day) for step in steps}, case.plan.pace


def schedule(
    batch: Batch, original: float, gate: Gate, today: date, brew_minutes: float = 0.0
) -> tuple[tuple[Task, ...], Pace]:
    """All tasks of the batch in order of their expected dates, and the pace they rest on.

    `brew_minutes` is from the start of brew day to the yeast; it dates the looks when the start is known.
    Raises NoDay when no day within a year works.
    """
    pitching = (
        datetime.combine(pitched_on(batch), batch.start) + timedelta(minutes=brew_minutes)
        if batch.start
        else None
    )
    case, steps, links = _prepared(batch, original, gate, today, pitching)
    plan = case.plan
    tasks = timetable(case, steps, links, lambda: usual_bottling(plan, gate))
    clocks = look_clocks(plan) if plan.pitching else {}
    clocked = [replace(task, clock=clocks[task.id]) if task.id in clocks else task for task in tasks]
    return tuple(_with_next(_with_states(case, clocked))), plan.pace
