"""A season, planned: several batches that share vessels, bottles, a warm place and one person's days.

Comes in: a `Season`, today, the findings so far, and what makes a batch anew once the season has decided its
vessel, its bottles and the days that are taken.  Goes out: `SeasonPlan`, or None when anything stops it.

Brew days stay where the file puts them.  Bottling days give way, later only, so that nobody brews and
bottles, or bottles twice, on one day.  Then vessels are shared out, and batches are filled in the order of
their bottling days from what is free by then.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from sheetgen.model import Batch, Bottles
from sheetgen.model.season import Season, SharedVessel
from sheetgen.planning import season_rules
from sheetgen.planning.assemble import plan_batch
from sheetgen.planning.cellar import stock_lines
from sheetgen.planning.plan import Plan
from sheetgen.planning.season_bottles import ToBuy, cellar_of, filled, to_buy
from sheetgen.planning.season_days import Settled
from sheetgen.planning.season_plan import CapUse, Drinking, Lane, SeasonPlan, Size, WarmDay
from sheetgen.planning.season_runs import Moves, settle
from sheetgen.planning.season_shop import trips
from sheetgen.problems import Problem, Problems, Said, said
from sheetgen.records import record


@record
class Given:
    """What the season decides for a batch: a shared vessel (None: it has one), the days on which another
    batch takes its bottling's place, and the bottles that are free (None: its own).
    """

    vessel: SharedVessel | None
    taken: frozenset[date]
    bottles: tuple[Bottles, ...] | None


Remake = Callable[[int, Given], Batch | None]


def plainly(batches: Sequence[Batch]) -> Remake:
    """Batches made anew without reading them again."""

    def remake(index: int, given: Given) -> Batch:
        batch = replace(batches[index], taken=given.taken)
        if given.bottles is not None:
            batch = replace(batch, bottles=given.bottles)
        if given.vessel is not None:
            gear = replace(batch.equipment, vessel_name=given.vessel.name, vessel=given.vessel.litres)
            batch = replace(batch, equipment=gear)
        return batch

    return remake


def plan_season(
    season: Season, today: date, problems: Problems, remake: Remake | None = None
) -> SeasonPlan | None:
    """Plan a season; findings are added to `problems`, and with a stop among them there is no plan."""
    settled = settle(season, today, problems)
    return plan_settled(season, settled, today, problems, remake) if settled else None


def plan_settled(
    season: Season, settled: Settled, today: date, problems: Problems, remake: Remake | None = None
) -> SeasonPlan | None:
    """Plan a season whose days and vessels are settled."""
    made = _Making(season, today, settled, remake or plainly(season.batches))
    made.run()
    shared = season_rules.findings(made.facts())
    problems.extend(shared)
    problems.extend(_without_repeats(made.problems))
    if problems.stopped or any(plan is None for plan in made.plans):
        return None
    return made.plan(tuple(shared), tuple(problems.in_order()))


# Bottles, one batch after another


class _Making:
    """Plans batch after batch in the order of bottling, from the bottles that are free by then."""

    def __init__(self, season: Season, today: date, settled: Settled, remake: Remake) -> None:
        self.season, self.today, self.settled, self.remake = season, today, settled, remake
        self.plans: list[Plan | None] = [None] * len(season.batches)
        self.problems: list[Problem] = []
        self.moves = Moves(season, settled.outlines)
        self.short: list[season_rules.Short] = []
        self.cellar = cellar_of(season.stock or (), season.drunk)

    def run(self) -> None:
        """Plan every batch."""
        days = self.settled.days
        for i in sorted(range(len(days)), key=lambda i: (days[i].bottled, days[i].brewed, i)):
            self.cellar.go_on_to(days[i].bottled)
            self._one(i)
        self.cellar.drink_up()

    def _one(self, i: int) -> None:
        batch = self.remake(i, self._given(i))
        if batch is None:
            return
        found = Problems()
        plan = plan_batch(batch, self.today, found, runs=self.moves.runs(i))
        for one in found:
            self.moves.follow(i, one)
        self.plans[i] = plan
        short = plan is not None and self._note_shortage(i, plan)
        self.problems.extend(one for one in found if not (short and _is_of_stock(one)))
        if plan is not None:
            self.cellar.fill(filled(plan))

    def _given(self, i: int) -> Given:
        outline, vessels = self.settled.outlines[i], self.season.vessels
        name = self.settled.bookings[i].vessel
        shared = next((one for one in vessels if one.name == name), None)
        mine = outline.batch.equipment.vessel
        return Given(shared if mine is None else None, self.settled.taken[i], self._bottles(i))

    def _bottles(self, i: int) -> tuple[Bottles, ...] | None:
        """The batch's rows with what is free of each; rows that the stock does not know stay its own."""
        outline = self.settled.outlines[i]
        if self.season.stock is None or outline.filled:
            return None
        free = dict(self.cellar.free)
        return tuple(
            replace(row, count=max(0, free.pop(_size(row), 0))) if _size(row) in self.cellar.totals else row
            for row in self._suitable(outline.batch)
        )

    def _suitable(self, batch: Batch) -> Sequence[Bottles]:
        """The batch's rows; where it takes any of the stock, those that are made for its drink."""
        any_of_it = [_size(row) for row in batch.bottles] == [_size(row) for row in self.season.stock or ()]
        if not batch.recipe.drink.primed or not any_of_it:
            return batch.bottles
        return [row for row in batch.bottles if row.kind.refuse is not None] or batch.bottles

    def _note_shortage(self, i: int, plan: Plan) -> bool:
        """Remember what is missing of the stock, and the first day on which enough of it is free."""
        if self.season.stock is None or self.settled.outlines[i].filled:
            return False
        sizes = [(way.ml, way.kind) for way in plan.bottles.more_ways]
        place = next((at for at, size in enumerate(sizes) if size in self.cellar.totals), None)
        if place is None:
            return False
        way, size = plan.bottles.more_ways[place], sizes[place]
        wanted = way.count + self.cellar.free.get(size, 0)
        until = plan.task("bottle").when.latest or self.settled.days[i].bottled
        enough = self.cellar.first_day(size, wanted, season_rules.a_year_after(self.settled.days[i].bottled))
        self.short.append(season_rules.Short(i, size, way.count, enough, until))
        return True

    # Put together

    def facts(self) -> season_rules.SeasonFacts:
        """What the rules look at."""
        return season_rules.SeasonFacts(
            self.season,
            self.today,
            self.settled.outlines,
            self.settled.days,
            self.settled.bookings,
            tuple(self.plans),
            tuple(self.short),
            self.caps(),
            self.warm(),
            self.corks(),
            tuple(self.moves.outlines),
        )

    def caps(self) -> tuple[CapUse, ...]:
        """Crown caps, batch by batch in the order of bottling."""
        return self._closures(self.season.caps, lambda plan: plan.bottles.crown_caps)

    def corks(self) -> tuple[CapUse, ...]:
        """Corks in the same way."""
        return self._closures(self.season.corks, lambda plan: plan.bottles.corks)

    def _closures(self, there: int | None, need_of: Callable[[Plan], int]) -> tuple[CapUse, ...]:
        """How many of a closure each batch takes of those that there are; none if they are not counted."""
        left, found = there, []
        if left is None:
            return ()
        for plan in self._by_bottling():
            if plan.task("bottle").state != "done" and need_of(plan):
                left -= need_of(plan)
                found.append(CapUse(plan.code, _bottled(plan), need_of(plan), left))
        return tuple(found)

    def warm(self) -> tuple[WarmDay, ...]:
        """Full bottles in the warm place, from the day of filling until they move to the cool."""
        steps: dict[date, int] = {}
        for plan in self._by_bottling():
            if plan.has("move-to-cool"):
                for on, change in (
                    (_bottled(plan), plan.bottles.numbered),
                    (plan.task("move-to-cool").when.expected, -plan.bottles.numbered),
                ):
                    steps[on] = steps.get(on, 0) + change
        total, found = 0, []
        for on in sorted(steps):
            total += steps[on]
            found.append(WarmDay(on, total))
        return tuple(found)

    def _by_bottling(self) -> list[Plan]:
        return sorted((plan for plan in self.plans if plan), key=lambda plan: (_bottled(plan), plan.code))

    def plan(self, warnings: tuple[Problem, ...], problems: tuple[Problem, ...]) -> SeasonPlan:
        """The whole season."""
        season, plans = self.season, tuple(plan for plan in self.plans if plan)
        sizes = dict.fromkeys([*self.cellar.totals, *(change.size for change in self.cellar.changes)])
        return SeasonPlan(
            name=season.name,
            printed=self.today,
            paper=season.paper,
            language=season.language,
            units=season.units,
            batches=plans,
            lanes=self._lanes(plans),
            stock=stock_lines(self.cellar, sizes) if season.stock is not None else (),
            warm=self.warm(),
            warm_holds=season.warm_bottles,
            caps=self.caps(),
            drink_first=tuple(self._drinking(plan) for plan in sorted(plans, key=_keeps) if not plan.safety),
            wishes=tuple(wish.batch.code for wish in season.wishes),
            warnings=warnings,
            problems=problems,
            corks=self.corks(),
            shopping=trips(plans, self.caps(), self.corks(), self._to_buy(plans)),
        )

    def _to_buy(self, plans: Sequence[Plan]) -> ToBuy:
        stock = self.season.stock
        return {} if stock is None else to_buy(plans, cellar_of(stock, self.season.drunk))

    def _lanes(self, plans: Sequence[Plan]) -> tuple[Lane, ...]:
        """The shared vessels in the order of the file, then those of single batches."""
        own = {plan.code: plan.vessel_l for plan in plans}
        litres = {one.name: float(one.litres) for one in self.season.vessels}
        shared = set(litres)
        for booking in self.settled.bookings:
            litres.setdefault(booking.vessel, own[booking.code])
        return tuple(
            Lane(
                name,
                size,
                tuple(
                    sorted(
                        (b for b in self.settled.bookings if b.vessel == name),
                        key=lambda b: (b.brewed, b.code),
                    )
                ),
                name in shared,
            )
            for name, size in litres.items()
        )

    def _drinking(self, plan: Plan) -> Drinking:
        labels = plan.labels
        return Drinking(
            plan.code,
            plan.name,
            plan.bottles.numbered,
            labels.not_before,
            labels.best_from,
            labels.best_to,
            labels.best_before,
            self.cellar.emptied.get(plan.code) if self.season.drunk else None,
        )


def _size(row: Bottles) -> Size:
    return (float(row.ml), row.kind.id)


_OF_STOCK = ("warn.few-bottles", "warn.few-bottles-of", "warn.no-full-bottle")


def _is_of_stock(found: Problem) -> bool:
    """Whether a batch says of itself what the season says of its stock."""
    return isinstance(found.message, Said) and found.message.id in _OF_STOCK


def _bottled(plan: Plan) -> date:
    return plan.task("bottle").when.expected


def _keeps(plan: Plan) -> tuple[date, date, str]:
    return plan.labels.best_before, plan.labels.best_from, plan.code


def _without_repeats(found: Sequence[Problem]) -> list[Problem]:
    """Findings of all batches; what is assumed for several alike is told once, for the season."""
    notes: dict[tuple[object, ...], list[Problem]] = {}
    for one in found:
        if one.level == "note":
            notes.setdefault((one.message, one.fix, one.span, one.path[-1:]), []).append(one)
    kept = [one for one in found if one.level != "note"]
    for alike in notes.values():
        first = alike[0]
        kept.append(first if len(alike) == 1 else replace(first, path=("season", *first.path[1:])))
    return kept


def not_planned(season: Season) -> Problem | None:
    """A note about wishes: they have no day yet."""
    if not season.wishes:
        return None
    message = said("note.wishes", n=len(season.wishes))
    return Problem(
        "note", message, season.where.get("wishes"), said("fix.wishes"), (f"season {season.name}",)
    )
