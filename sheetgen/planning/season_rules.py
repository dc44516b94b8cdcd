"""What must not be in a season, and what is inconvenient: one small function for each rule, named as a
sentence.

Comes in: `SeasonFacts`.  Goes out: findings.  A *stop* is what cannot be done: two batches in one vessel.
What can be done, but not well, is a *warning*: two brew days on one day, too few bottles, a small warm place.
Each names the first day that would do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta

from sheetgen.model.season import Season
from sheetgen.planning import lanes
from sheetgen.planning.forward import Days
from sheetgen.planning.life import HORIZON_DAYS
from sheetgen.planning.outline import Outline
from sheetgen.planning.plan import Plan
from sheetgen.planning.season_days import Settled
from sheetgen.planning.season_plan import Booking, CapUse, Size, WarmDay
from sheetgen.planning.season_ways import Way, ways_out
from sheetgen.problems import Level, Problem, Said, SaidValue, said
from sheetgen.records import record


@record
class Short:
    """A batch (by its place) that lacks so many bottles of a size; the first day on which they are free, and
    the latest day without worry for bottling it.
    """

    place: int
    size: Size
    count: int
    enough: date | None
    until: date


@record
class SeasonFacts:
    """Everything that the rules of a season may look at; all tuples are in the order of the file.

    `moved`: the outlines with the brew days that batches are told to take for reasons of their own.
    """

    season: Season
    today: date
    outlines: tuple[Outline, ...]
    days: tuple[Days, ...]
    bookings: tuple[Booking, ...]
    plans: tuple[Plan | None, ...]
    short: tuple[Short, ...]
    caps: tuple[CapUse, ...]
    warm: tuple[WarmDay, ...]
    corks: tuple[CapUse, ...] = ()
    moved: tuple[Outline, ...] = ()

    @property
    def told_to_move(self) -> frozenset[int]:
        """The places of batches that are told another brew day already."""
        pairs = enumerate(zip(self.outlines, self.moved, strict=False))
        return frozenset(
            place for place, (mine, moved) in pairs if mine.batch.brew_day != moved.batch.brew_day
        )

    def taken(self, but: int) -> frozenset[date]:
        """Days on which something is brewed or bottled, without one batch's own."""
        if self.season.two_on_a_day:
            return frozenset()
        others = [found for i, found in enumerate(self.days) if i != but]
        return frozenset(day for found in others for day in (found.brewed, found.bottled))


def a_year_after(day: date) -> date:
    """How far ahead is looked."""
    return day + timedelta(days=HORIZON_DAYS)


def _finding(outline: Outline, level: Level, message: Said, key: str, fix: Said | str = "") -> Problem:
    batch = outline.batch
    span = batch.where.get(key) or batch.where.get("batch")
    return Problem(level, message, span, fix, (f"batch {batch.code}", key))


def two_batches_never_share_a_vessel(facts: SeasonFacts) -> Iterator[Problem]:
    """One waits until the vessel is empty and clean; what was done already is told, and never stopped."""
    begun = frozenset(place for place, outline in enumerate(facts.outlines) if outline.begun)
    found = lanes.clashes(facts.bookings, begun)
    ways = _ways(facts, [place for place, _ in found if place not in begun])
    for place, other in found:
        its = facts.bookings[other]
        values: dict[str, SaidValue] = {"vessel": its.vessel, "code": its.code, "first": its.brewed}
        message = said("stop.vessel-taken", **values, last=its.busy_until)
        if place in begun:
            fix = "fix.vessel-was-taken-filled" if facts.outlines[other].filled else "fix.vessel-was-taken"
            yield _finding(facts.outlines[place], "warn", message, "actual", said(fix, code=its.code))
        else:
            yield _finding(facts.outlines[place], "stop", message, "brew-day", _in_words(ways[place]))


def _ways(facts: SeasonFacts, leaving: Sequence[int]) -> dict[int, Way]:
    """A way for each; who has to leave that day anyhow is told one day for both."""
    moved = facts.told_to_move
    settled = Settled(facts.moved or facts.outlines, facts.days, (), facts.bookings)
    found = {place: Way(facts.moved[place].batch.brew_day, "") for place in moved}
    return found | ways_out(facts.season, settled, [place for place in leaving if place not in moved])


def _in_words(way: Way) -> Said:
    if way.on and way.vessel:
        return said("fix.brew-then-or-vessel", on=way.on, vessel=way.vessel)
    if way.vessel:
        return said("fix.other-vessel", vessel=way.vessel)
    return said("fix.brew-then", on=way.on) if way.on else said("fix.more-vessels")


def nobody_brews_twice_on_a_day(facts: SeasonFacts) -> Iterator[Problem]:
    """It can be done, and is a long day."""
    first: dict[date, int] = {}
    for place, outline in enumerate(facts.outlines):
        day = facts.days[place].brewed
        other = first.setdefault(day, place)
        if other == place or facts.season.two_on_a_day or outline.begun:
            continue
        mine = facts.bookings[place]
        lane = [one for i, one in enumerate(facts.bookings) if i != place and one.vessel == mine.vessel]
        on = lanes.first_free_day(outline, lane, facts.taken(place), day, facts.season.cleaning)
        message = said("warn.two-brews", on=day, code=facts.outlines[other].batch.code)
        fix = said("fix.two-brews", on=on) if on else ""
        yield _finding(outline, "warn", message, "brew-day", fix)


def bottles_may_run_short(facts: SeasonFacts) -> Iterator[Problem]:
    """Beer waits for bottles: the first day on which there are enough is named."""
    for one in facts.short:
        outline, (ml, kind) = facts.outlines[one.place], one.size
        message = said("warn.stock", n=one.count, ml=ml, kind=kind, on=facts.days[one.place].bottled)
        fix: Said | str = said("fix.stock-never")
        if one.enough:
            late = one.enough > one.until
            fix = said("fix.stock-late" if late else "fix.stock", on=one.enough, until=one.until)
        yield _finding(outline, "warn", message, "bottles", fix)


def caps_may_run_out(facts: SeasonFacts) -> Iterator[Problem]:
    """The first batch that lacks caps, and how many are missing up to the end."""
    yield from _run_out(facts, facts.caps, "warn.caps")


def corks_may_run_out(facts: SeasonFacts) -> Iterator[Problem]:
    """The same for corks."""
    yield from _run_out(facts, facts.corks, "warn.corks")


def _run_out(facts: SeasonFacts, uses: Sequence[CapUse], sentence: str) -> Iterator[Problem]:
    lacking = [use for use in uses if use.left < 0]
    if lacking:
        outline = next(one for one in facts.outlines if one.batch.code == lacking[0].code)
        yield _finding(outline, "warn", said(sentence, n=-lacking[-1].left, on=lacking[0].on), "bottles")


def the_warm_place_holds_so_many(facts: SeasonFacts) -> Iterator[Problem]:
    """A batch that finds no room there waits, or stands elsewhere."""
    holds = facts.season.warm_bottles
    if holds is None:
        return
    crowded = {step.on: step.bottles for step in facts.warm if step.bottles > holds}
    for place, plan in enumerate(facts.plans):
        if plan is None or facts.outlines[place].filled or not plan.has("move-to-cool"):
            continue
        on = facts.days[place].bottled
        if on in crowded:
            free = _room_again(facts.warm, plan, holds)
            fix = said("fix.warm-place-full", on=free) if free else said("fix.warm-place-small")
            message = said("warn.warm-place-full", n=crowded[on], holds=holds, on=on)
            yield _finding(facts.outlines[place], "warn", message, "room", fix)


def _room_again(steps: tuple[WarmDay, ...], plan: Plan, holds: int) -> date | None:
    """The first day after its bottling on which the batch finds room beside the others; None if it never
    does.
    """
    filled, moves = (plan.task(name).when.expected for name in ("bottle", "move-to-cool"))
    for step in steps:
        mine = plan.bottles.numbered if filled <= step.on < moves else 0
        if step.on > filled and step.bottles - mine + plan.bottles.numbered <= holds:
            return step.on
    return None


Rule = Callable[[SeasonFacts], Iterable[Problem]]

RULES: tuple[Rule, ...] = (
    two_batches_never_share_a_vessel,
    nobody_brews_twice_on_a_day,
    bottles_may_run_short,
    caps_may_run_out,
    corks_may_run_out,
    the_warm_place_holds_so_many,
)


def findings(facts: SeasonFacts) -> list[Problem]:
    """What every rule finds, in the order of the rules."""
    return [problem for rule in RULES for problem in rule(facts)]
