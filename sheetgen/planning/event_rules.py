"""Rules of the days that a batch is brewed for; each is named as a sentence.

Comes in: `Facts`, and for an event that is missed what would meet it.  Goes out: findings.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.guests import MOST_L, kept_back, too_much
from sheetgen.planning.plan_events import EventPlan
from sheetgen.planning.planner import has_begun
from sheetgen.problems import Problem, Said, SaidValue, said


def under_way(facts: Facts) -> bool:
    """Whether the batch is brewed, as far as the file or the calendar says."""
    return has_begun(facts.batch) or facts.batch.brew_day < facts.today


def called(event: EventPlan) -> tuple[Said, ...]:
    """What the event is called in a sentence."""
    return (said("event.named", name=event.name) if event.name else said("event.unnamed"),)


def an_event_in_the_past_is_a_stop(facts: Facts) -> Iterator[Problem]:
    """Nobody brews for yesterday; for a batch that is brewed the day is simply over."""
    for number, event in enumerate(facts.events):
        if event.on < facts.today and not under_way(facts):
            message = said("stop.event-past", what=called(event), on=event.on)
            yield finding(facts, "stop", message, f"event.{number}", said("fix.event-past"))


def more_guests_than_a_batch_serves_are_a_stop(facts: Facts) -> Iterator[Problem]:
    """A batch is at most 100 litres."""
    if facts.batch.events and facts.counted_back and too_much(facts.batch):
        message = said("stop.event-volume", guests=sum(event.guests or 0 for event in facts.events))
        yield finding(facts, "stop", message, "event", said("fix.event-volume", litres=MOST_L))


def an_event_that_a_brewed_batch_misses_is_a_warning(facts: Facts) -> Iterator[Problem]:
    """What is brewed is brewed; the sentence says when it is ready."""
    for number, event in enumerate(facts.events):
        if under_way(facts) and not event.met and event.on >= facts.today:
            message = said("warn.event-late", what=called(event), on=event.on, ready=event.ready)
            yield finding(facts, "warn", message, f"event.{number}", said("fix.event-late"))


def guests_get_what_they_drink(facts: Facts) -> Iterator[Problem]:
    """The volume of the file may be too little for them, beside what is kept back."""
    thirst = sum(event.drinks_ml for event in facts.events)
    if not thirst or not facts.bottles.rows:
        return
    filled = facts.batch.actual.bottled is not None
    largest = max(row.ml for row in facts.bottles.rows)
    ready = sum(row.fill * row.ml for row in facts.bottles.rows) if filled else 1000 * facts.scaled.bottling_l
    free = ready - (0 if filled else kept_back(facts.batch) * largest)
    if round(free) < round(thirst):
        values: dict[str, SaidValue] = {"wanted": thirst / 1000, "litres": max(0.0, free / 1000)}
        guests = sum(event.guests or 0 for event in facts.events)
        yield finding(facts, "warn", said("warn.event-short", guests=guests, **values), "event")


def an_event_after_best_before_is_named(facts: Facts) -> Iterator[Problem]:
    """It only fades from then on."""
    best = facts.task("best-before").when.expected
    for number, event in enumerate(facts.events):
        if event.on > best:
            message = said("warn.event-stale", what=called(event), on=event.on, best=best)
            yield finding(facts, "warn", message, f"event.{number}")


def an_event_that_is_met_has_a_margin(facts: Facts) -> Iterator[Problem]:
    """How much may slip, and by when to brew at the latest."""
    for number, event in enumerate(facts.events):
        if event.met and event.on >= facts.today:
            message = said("note.event", what=called(event), on=event.on, days=event.margin_days)
            yield finding(facts, "note", message, f"event.{number}", _brew_by(event))


def _brew_by(event: EventPlan) -> Said | str:
    if event.brew_by is None:
        return ""
    if event.spare_try_by is None:
        return said("fix.event-brew-by", brew=event.brew_by)
    return said("fix.event-spare", brew=event.brew_by, spare=event.spare_try_by)


EVENT_RULES = (
    an_event_in_the_past_is_a_stop,
    more_guests_than_a_batch_serves_are_a_stop,
    an_event_that_a_brewed_batch_misses_is_a_warning,
    guests_get_what_they_drink,
    an_event_after_best_before_is_named,
    an_event_that_is_met_has_a_margin,
)
