"""An impossible plan, explained: a smallest set of its rules that cannot all be kept.

Comes in: a `Batch`, its strength, its gate and today; perhaps a day by which something is wanted.  Goes out:
one sentence for each rule that clashes.  The rules are those of the schedule, and the days that life takes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch
from sheetgen.planning.clash import Closed, Rule, clash, not_after
from sheetgen.planning.facts import Facts
from sheetgen.planning.graph import START, Link, Step, expected_days
from sheetgen.planning.keeping import percent_of, way_of
from sheetgen.planning.life import HORIZON_DAYS, Life, NoDay, at_leisure, life_of
from sheetgen.planning.looking import gate_of
from sheetgen.planning.plan import Gate
from sheetgen.planning.planner import Planner, pace_of, pitched_on
from sheetgen.planning.scaling import scale
from sheetgen.planning.schedule import case_of, links_of, steps_of
from sheetgen.planning.sound import sound
from sheetgen.planning.strength import strength
from sheetgen.planning.timetable import waits_for_word
from sheetgen.planning.ways_to_a_day import no_day
from sheetgen.problems import Problem, Said, said


def clashing(
    batch: Batch,
    original: float,
    gate: Gate,
    today: date,
    until: date,
    wanted: tuple[str, date, Said] | None = None,
) -> tuple[Said, ...]:
    """Why there is no day up to `until` for something, or none for a task by the day it is wanted: rules that
    cannot all be kept, and could without any one of them.  () if all can be kept.

    `wanted`: the id of a task, the last day for it, and what wants it.  Usual gaps count as rules: it is the
    plan that is explained.  Of several such sets it is the one that lies earliest in the batch.
    """
    leisure = at_leisure(batch)
    plan = Planner(leisure, pace_of(leisure, original), life_of(leisure), pitched_on(batch), today)
    case = case_of(plan, gate)
    last = plan.number(until)
    every = steps_of(case)
    links = links_of(case, every, way_of(leisure, percent_of(original, gate)))
    steps, links = _within(every, links, last, wanted[0] if wanted else "")
    rules: list[Rule] = [*reversed(links), *_from_today(plan, steps), *_closed(plan, life_of(batch))]
    if wanted:
        task, day, because = wanted
        rules.append(not_after(task, plan.number(day), because))
    named = clash(steps, rules, last)
    waits = [rule for rule in links if rule in named]
    return tuple(_sentence(rule) for rule in [*waits, *(rule for rule in named if rule not in waits)])


def _within(
    every: Sequence[Step], links: Sequence[Link], last: int, wanted: str
) -> tuple[list[Step], list[Link]]:
    """The steps that somebody has to do, and the one that is wanted, as far as they fall within the days that
    are looked at; and the links between them.
    """
    usual = list(_usual_links(links))
    days = expected_days(every, usual, (), lambda _step, day: day)
    steps = [step for step in every if days[step.id].day <= last and (step.kind or step.id == wanted)]
    names = {START, *(step.id for step in steps)}
    return steps, [link for link in usual if {link.before, link.after} <= names]


def _sentence(rule: Rule) -> Said:
    if isinstance(rule, Link) and rule.most is None:
        return said("why.clash-wait", task=rule.after, why=(rule.because,))
    return rule.because


def _usual_links(links: Sequence[Link]) -> Iterator[Link]:
    for link in links:
        if link.wait is not None:
            yield Link(link.before, link.after, link.because, link.wait)


def _from_today(plan: Planner, steps: Sequence[Step]) -> Iterator[Link]:
    """What is still to do is not done yesterday."""
    if plan.begun:
        day = plan.number(plan.today)
        why = said("move.today", today=plan.today)
        yield from (Link(START, step.id, why, day) for step in steps if waits_for_word(step))


def _closed(plan: Planner, life: Life) -> Iterator[Closed]:
    """Each absence for itself, and what comes round again: weekdays, weeks in turn and shifts."""

    def closing(because: Said, closes: Callable[[Step, date], bool]) -> Closed:
        return Closed(
            because,
            lambda step, day: bool(step.kind) and step.movable and closes(step, plan.day(day)),
        )

    free = replace(life, away=())
    if life.days or life.shifts:
        yield closing(said("why.clash-days"), lambda step, on: not free.works(on, step.kind or "looking"))
    for first, last in life.away:
        yield closing(
            said("why.clash-away", first=first, last=last),
            lambda _step, on, first=first, last=last: first <= on <= last,  # type: ignore[misc]
        )


def no_day_explained(batch: Batch, today: date, found: NoDay) -> Iterator[Problem]:
    """The stop of a life that leaves no day for something, with its ways out; and as a note what clashes."""
    yield no_day(batch, today, found)
    heard = sound(batch, pitched_on(batch))
    strong, until = strength(heard, scale(heard)), found.args[0] + timedelta(days=HORIZON_DAYS)
    try:
        gate = gate_of(heard, strong, today)
        rules = clashing(heard, strong.strongest, gate, today, until)
    except NoDay:  # a job of the drink itself finds no day: that is all there is to say
        return
    yield from _noted(batch, rules)


def clash_with(facts: Facts, chill: date, on: date) -> Iterator[Problem]:
    """What makes a batch too late for an event whose bottles have to be ready by `chill`, as a note."""
    wanted = ("drink-from", chill, said("why.clash-event", on=on, ready=chill))
    until = chill + timedelta(days=HORIZON_DAYS)
    strongest, batch = facts.found.strongest, sound(facts.batch, pitched_on(facts.batch))
    yield from _noted(batch, clashing(batch, strongest, facts.gate, facts.today, until, wanted))


def _noted(batch: Batch, rules: tuple[Said, ...]) -> Iterator[Problem]:
    if rules:
        yield Problem("note", said("note.clash", rules=rules), None, "", (f"batch {batch.code}",))
