"""What to do when it goes otherwise, with this batch's own numbers: the entries of the trouble card.

Comes in: the batch and its plan.  Goes out: `TroubleCard`.  One small function a trouble, each None where it
cannot happen any more, or not to this drink.  What is advised is common practice, no source; what burst or
gushes follows the safety sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sheetgen.brewing.fermentation import SKIN_GAP_DAYS
from sheetgen.model import Batch
from sheetgen.planning.band import is_test
from sheetgen.planning.plan import Plan, Trouble, TroubleCard
from sheetgen.problems import Said, said
from sheetgen.records import record

MOST_CAUTIONS = 6


@record
class _Case:
    """A batch, its plan, and what most troubles ask of them."""

    batch: Batch
    plan: Plan

    @property
    def bottled(self) -> bool:
        return self.plan.labels.filled_is == "actual"

    @property
    def primed(self) -> bool:
        return self.plan.carbonation is not None

    @property
    def kind(self) -> str:
        """The end of the ids of sentences that differ: by looks, still, dry, or sweet enough to stay so."""
        if self.plan.gate.by_looks:
            return "-looks"
        if not self.primed:
            return "-still"
        return "-dry" if self.batch.recipe.drink.ferments_out else ""

    @property
    def yeast(self) -> dict[str, float]:
        low, high = self.batch.recipe.yeast.celsius
        return {"low": float(low), "high": float(high)}


def _trouble(name: str, when: Said, *then: Said, caution: str | None = None, now: bool = False) -> Trouble:
    return Trouble(name, when, then, caution, now)


# --- in the vessel


def _not_started(case: _Case) -> Trouble | None:
    """Nothing moves a day after the yeast went in."""
    plan = case.plan
    if any(one.counts for one in plan.gate.readings) or not plan.has("look-48h"):
        return None
    on, later = (plan.task(f"look-{hours}h").when.expected for hours in (24, 48))
    read = "trouble.not-started.looks" if plan.gate.by_looks else "trouble.not-started.read"
    return _trouble(
        "not-started",
        said("trouble.not-started", on=on),
        said("trouble.not-started.seal"),
        said("trouble.not-started.wait", later=later, **case.yeast),
        said(read, sg=plan.quantities.brewed_gravity or plan.quantities.original_gravity),
        said("trouble.not-started.foul"),
    )


def _foam(_case: _Case) -> Trouble:
    return _trouble(
        "foam",
        said("trouble.foam"),
        said("trouble.foam.hose"),
        said("trouble.foam.wash"),
        caution="airlock",
    )


def _warm(case: _Case) -> Trouble:
    when = said("trouble.warm", **case.yeast)
    return _trouble("warm", when, said("trouble.warm.tub"), said("trouble.warm.taste"))


def _cold(case: _Case) -> Trouble:
    when = said("trouble.cold", **case.yeast)
    again = "trouble.cold.looks" if case.plan.gate.by_looks else "trouble.cold.count"
    return _trouble("cold", when, said("trouble.cold.carry", **case.yeast), said(again))


def _above(case: _Case) -> Trouble:
    """Not finished: the number is above the ceiling, or it is cloudy or sweet."""
    gate = case.plan.gate
    now = gate.state == "wait" and bool(gate.readings or gate.looks)
    when = said(f"trouble.above{'-looks' if gate.by_looks else ''}", sg=gate.ceiling)
    return _trouble("above", when, said(f"trouble.above.why{case.kind}"),
                    said(f"trouble.above.again{'-looks' if gate.by_looks else ''}", gap=gate.gap_days),
                    now=now)  # fmt: skip


def _stuck(case: _Case) -> Trouble | None:
    """The same number twice, and above the ceiling."""
    gate = case.plan.gate
    if gate.by_looks:
        return None
    return _trouble(
        "stuck",
        said("trouble.stuck", sg=gate.ceiling),
        said("trouble.stuck.warm"),
        said("trouble.stuck.finish"),
        now=gate.state == "stuck",
    )


def _skin(case: _Case) -> Trouble:
    thin = "trouble.skin.looks" if case.plan.gate.by_looks else "trouble.skin.thin"
    gap = max(SKIN_GAP_DAYS, case.plan.gate.gap_days)
    return _trouble("skin", said("trouble.skin"), said(thin, gap=gap), caution="mould")


def _smell(case: _Case) -> Trouble | None:
    """The smells that this kind of drink knows."""
    named = case.batch.recipe.drink.smells
    sentences = tuple(said(f"trouble.smell.{name}", **case.yeast) for name in named)
    return _trouble("smell", said("trouble.smell"), *sentences) if sentences else None


# --- in bottles


def _gush(case: _Case) -> Trouble | None:
    if not case.primed:
        return None
    sheet = said("trouble.gush.sheet")
    return _trouble("gush", said("trouble.gush"), said("trouble.gush.cool"), sheet, caution="opening")


def _flat(case: _Case) -> Trouble | None:
    plan = case.plan
    if not case.primed:
        return None
    on = plan.labels.not_before
    place = said("trouble.flat.place", celsius=plan.warm_place_c)
    return _trouble("flat", said("trouble.flat", on=on), place, said("trouble.flat.cap"),
                    caution="sugar-again")  # fmt: skip


def _burst(case: _Case) -> Trouble | None:
    if not case.primed:
        return None
    steps = (said("trouble.burst.cool"), said("trouble.burst.open"), said("trouble.burst.freezer"))
    return _trouble("burst", said("trouble.burst"), *steps, caution="burst")


def _prickles(case: _Case) -> Trouble | None:
    """A still drink that works again under its cork."""
    if case.primed:
        return None
    again = said("trouble.prickles.again", gap=case.plan.gate.gap_days)
    return _trouble("prickles", said("trouble.prickles"), said("trouble.prickles.cool"), again,
                    caution="opening")  # fmt: skip


# --- any day


def _missed(case: _Case) -> Trouble:
    plan = case.plan
    if case.bottled:
        harmless = said("trouble.missed.bottled", on=plan.labels.not_before)
        return _trouble("missed", said("trouble.missed"), harmless)
    return _trouble("missed", said("trouble.missed"), *_late(case), said("trouble.missed.print"))


def _late(case: _Case) -> Iterator[Said]:
    """What each kind of day says to being late."""
    plan = case.plan
    looks = "-looks" if plan.gate.by_looks else ""
    yield said(f"trouble.missed.test{looks}", gap=plan.gate.gap_days)
    if any(task.id.startswith("dry-hop") and task.state != "done" for task in plan.tasks):
        yield said("trouble.missed.hops")
    latest = plan.task("bottle").when.latest
    if latest:
        yield said("trouble.missed.bottle", until=latest)


def _burn(case: _Case) -> Trouble | None:
    return None if case.bottled else _trouble("burn", said("trouble.burn"), said("trouble.burn.help"),
                                              caution="burn")  # fmt: skip


IN_THE_VESSEL: tuple[Callable[[_Case], Trouble | None], ...] = (
    *(_not_started, _foam, _above, _stuck),
    *(_warm, _cold, _skin, _smell),
)
IN_BOTTLES: tuple[Callable[[_Case], Trouble | None], ...] = (_burst, _gush, _flat, _prickles)
ANY_DAY: tuple[Callable[[_Case], Trouble | None], ...] = (_missed, _burn)


def trouble_card(batch: Batch, plan: Plan) -> TroubleCard:
    """The card of a batch: its own numbers, then what may go wrong from now on."""
    case = _Case(batch, plan)

    def found(rules: tuple[Callable[[_Case], Trouble | None], ...]) -> tuple[Trouble, ...]:
        return tuple(trouble for rule in rules if (trouble := rule(case)))

    return TroubleCard(
        facts=tuple(_facts(case)),
        vessel=() if case.bottled else found(IN_THE_VESSEL),
        bottles=found(IN_BOTTLES),
        any_day=found(ANY_DAY),
    )


def _facts(case: _Case) -> Iterator[Said]:
    """The numbers that most questions ask for."""
    plan, gate = case.plan, case.plan.gate
    if case.bottled:
        yield said("trouble.fact.filled", on=plan.labels.filled, until=plan.labels.not_before)
        if case.primed:
            yield said("trouble.fact.places", warm=plan.warm_place_c, cool=plan.storing_c)
        return
    if gate.by_looks:
        yield said("trouble.fact.looks", gap=gate.gap_days)
    elif gate.ceiling > gate.high:
        yield said("trouble.fact.gate-two", high=gate.high, ceiling=gate.ceiling, gap=gate.gap_days)
    else:
        yield said("trouble.fact.gate", high=gate.high, gap=gate.gap_days)
    coolest, warmest = plan.room_c
    room = "trouble.fact.rooms" if warmest > coolest else "trouble.fact.room"
    yield said(room, room=coolest, warmest=warmest, **case.yeast)
    tests = [task for task in plan.tasks if is_test(task) and task.state != "done"]
    if tests:
        yield said("trouble.fact.days", test=tests[0].when.expected, bottle=plan.task("bottle").when.expected)
    else:
        yield said("trouble.fact.bottle", bottle=plan.task("bottle").when.expected)
