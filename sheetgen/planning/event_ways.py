"""What would meet an event that this batch misses: worked out by planning it again, never canned.

Comes in: the batch as it was settled, the day on which bottles must go into the fridge, and other recipes.
Goes out: sentences, each of a change that was planned whole and found in time; the last names the first day
on which the drink, as it stands, could be on the table.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sheetgen.model import Batch, Recipe
from sheetgen.planning.backwards import Settled
from sheetgen.planning.clashing import clash_with
from sheetgen.planning.event_days import CHILL_DAYS, chill_day
from sheetgen.planning.event_rules import called, under_way
from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.forward import Days, Forward
from sheetgen.planning.life import HORIZON_DAYS, life_of
from sheetgen.planning.plan_events import EventPlan
from sheetgen.problems import Problem, Said, SaidValue, said
from sheetgen.records import record
from sheetgen.units import Celsius

WARMEST_PLACE = 25
"""Bottles are not kept warmer than this to hurry them (common practice, no source)."""
LEAST_SHARE = 60
"""Percent of its malt and sugar that a recipe keeps at least when it is made weaker; less is another drink
(cautious judgement, no source).
"""
WEAKENED = ("extract", "sugar", "honey", "grain")
MOST_RECIPES = 3
MOST_PROVED = 6
"""So many other recipes are planned whole."""

Recipes = Callable[[], Iterable[Recipe]]
Prove = Callable[[Batch], EventPlan | None]
"""Plans a batch whole; the event if it is met and nothing stops the batch."""


@record
class Missed:
    """A batch that misses an event, on the brew day that it has: what every way out starts from."""

    batch: Batch
    target: date
    brew_by: Days | None
    today: date
    prove: Prove

    def run(self, batch: Batch) -> Days | None:
        """The changed batch, run forward from the same brew day."""
        return Forward(batch, self.today).from_day(batch.brew_day)

    def meets(self, batch: Batch) -> bool:
        """Whether the changed batch is ready in time."""
        run = self.run(batch)
        return run is not None and run.ready <= self.target


def ways_to_meet(missed: Missed, recipes: Recipes) -> tuple[Said, ...]:
    """Every way that was found, the smallest change first."""
    found = [_earlier(missed), _weaker(missed), *_warmer(missed), *_other_recipes(missed, recipes)]
    return tuple(each for each in [*found, _another_date(missed)] if each)


def _earlier(missed: Missed) -> Said | None:
    """An earlier brew day, if one is still to come."""
    if missed.brew_by is None:
        return None
    event = missed.prove(replace(missed.batch, brew_day=missed.brew_by.brewed))
    return said("way.brew-by", on=missed.brew_by.brewed) if event else None


def thinner(batch: Batch, percent: int) -> Batch:
    """The batch with so many percent of what brings its strength; juice and fruit stay as they are."""
    parts = tuple(
        replace(part, amount=part.amount * percent / 100) if part.item.role in WEAKENED else part
        for part in batch.recipe.ingredients
    )
    return replace(batch, recipe=replace(batch.recipe, ingredients=parts), whole_packs="exact")


def _weaker(missed: Missed) -> Said | None:
    """The least that must be left out, in percent; strength asks for time in the vessel and in the bottle."""
    if not any(part.item.role in WEAKENED and part.item.points for part in missed.batch.recipe.ingredients):
        return None
    shares = range(1, 101 - LEAST_SHARE)  # percent left out
    least = _first(shares, lambda percent: missed.meets(thinner(missed.batch, 100 - percent)))
    if least is None:
        return None
    changed = thinner(missed.batch, 100 - least)
    event, gravity = missed.prove(changed), Forward(changed, missed.today).strength.calculated
    usual = changed.recipe.drink.gravity
    if event is None or (usual and gravity < usual[0]):
        return None
    return said("way.weaker", percent=float(least), sg=gravity, on=event.ready)


def _first(choices: Sequence[int], passes: Callable[[int], bool]) -> int | None:
    """The first that passes, where all after it do so too."""
    place = bisect_left(choices, True, key=passes)
    return choices[place] if place < len(choices) else None


def _warmer(missed: Missed) -> Iterator[Said]:
    """A warmer place for the bottles, or a warmer room within the yeast's range, or both."""
    places = [(_bottles_at, "way.warm-place", WARMEST_PLACE)] if missed.batch.recipe.drink.primed else []
    highest = min(int(missed.batch.recipe.yeast.celsius[1]), WARMEST_PLACE)
    places.append((_room_at, "way.room", highest))
    alone = [way for change, name, most in places if (way := _heated(missed, change, name, most))]
    yield from alone
    if not alone and len(places) > 1 and (both := _heated(missed, _both_at, "way.both", highest)):
        yield both


def _heated(missed: Missed, change: Callable[[Batch, int], Batch], name: str, warmest: int) -> Said | None:
    """The least whole degree that is in time; every warmer one is too."""
    degrees = range(int(min(missed.batch.room.fermenting[0], missed.batch.room.warm_place)) + 1, warmest + 1)
    celsius = _first(degrees, lambda celsius: missed.meets(change(missed.batch, celsius)))
    event = missed.prove(change(missed.batch, celsius)) if celsius is not None else None
    return said(name, celsius=float(celsius), on=event.ready) if event and celsius else None


def _bottles_at(batch: Batch, celsius: int) -> Batch:
    room = batch.room
    return replace(batch, room=replace(room, warm_place=Celsius(max(room.warm_place, celsius))))


def _room_at(batch: Batch, celsius: int) -> Batch:
    low, high = batch.room.fermenting
    warmer = (Celsius(max(low, celsius)), Celsius(max(high, celsius)))
    return replace(batch, room=replace(batch.room, fermenting=warmer))


def _both_at(batch: Batch, celsius: int) -> Batch:
    return _room_at(_bottles_at(batch, celsius), celsius)


def _other_recipes(missed: Missed, recipes: Recipes) -> Iterator[Said]:
    """At most three others that would be ready, those of the same drink first, then the soonest."""
    own, found = missed.batch.recipe, []
    for recipe in recipes():
        run = missed.run(replace(missed.batch, recipe=recipe)) if recipe.id != own.id else None
        if run and run.ready <= missed.target:
            found.append((recipe.drink.id != own.drink.id, run.ready, recipe.id, recipe))
    proved = 0
    for _, _, _, recipe in sorted(found, key=lambda each: each[:3])[:MOST_PROVED]:
        event = missed.prove(replace(missed.batch, recipe=recipe)) if proved < MOST_RECIPES else None
        if event:
            proved += 1
            yield said("way.recipe", name=recipe.name, recipe=recipe.id, on=event.ready)


def _another_date(missed: Missed) -> Said | None:
    """The first day of an event that this batch meets, as it stands."""
    run, life = missed.run(missed.batch), life_of(missed.batch)
    if run is None:
        return None
    days = (run.ready + timedelta(days=CHILL_DAYS + more) for more in range(HORIZON_DAYS))
    first = next((day for day in days if chill_day(life, day) >= run.ready), None)
    return said("way.another-date", on=first, brew=missed.batch.brew_day) if first else None


def missed_events(settled: Settled, facts: Facts, recipes: Recipes | None, prove: Prove) -> Iterator[Problem]:
    """A stop for each event to come that a batch, not yet brewed, is too late for; for the first of them with
    what would meet it, unless `recipes` is None.
    """
    late = [number for number, event in enumerate(facts.events) if not event.met and event.on >= facts.today]
    for number in late if not under_way(facts) else ():
        ways: tuple[Said, ...] = ()
        if recipes and number == late[0]:
            batch = replace(settled.batch, events=(settled.batch.events[number],))
            limits = settled.limits[number]
            ways = ways_to_meet(Missed(batch, limits.chill, limits.brew_by, facts.today, prove), recipes)
        yield _stop(facts, number, ways)
        if recipes and number == late[0]:
            yield from clash_with(facts, settled.limits[number].chill, facts.events[number].on)


def _stop(facts: Facts, number: int, ways: tuple[Said, ...]) -> Problem:
    event = facts.events[number]
    values: dict[str, SaidValue] = {"what": called(event), "on": event.on, "ready": event.ready}
    fix = said("fix.event", ways=ways) if ways else said("fix.event-none")
    return finding(facts, "stop", said("stop.event", **values), f"event.{number}", fix)
