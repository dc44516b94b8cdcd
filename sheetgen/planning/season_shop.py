"""One shopping list for a season: what all batches need, in whole packs, trip by trip.

Comes in: plans of batches, and what the season has of caps and corks.  Goes out: `Trip`s.  What is left of a
pack goes into a later batch, if it keeps until that is brewed: the pantry says for how long, and of what it
does not know nothing is kept.  A batch that was brewed needs nothing but what its bottling lacks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from sheetgen.planning.lists import LEAST_LEFT, measured, packs_of
from sheetgen.planning.packs import cover, left_over, number_of, total
from sheetgen.planning.plan import Amount, Line, Plan, Purchase
from sheetgen.planning.season_bottles import ToBuy
from sheetgen.planning.season_plan import CapUse, Size, Trip
from sheetgen.problems import said

_ONE_TRIP = timedelta(days=4)
"""Batches whose things are wanted so close together are bought for at once (own choice)."""
_LATE = ("dry-hop", "rack")
_ONCE = ("buy.syringe",)
_BEFORE_BREWING = ("buy.priming", "buy.pieces", "buy.syringe", "buy.caps", "buy.corks")


@dataclass
class _Rest:
    """What is left of a pack, and the last day on which it may go in."""

    amount: float
    until: date


def _what(bought: Purchase) -> tuple[str, ...]:
    """What may stand in for one another: not two hops, nor a dark malt for a pale one."""
    return bought.id, bought.name, bought.unit


class _Kitchen:
    """What is at home: rests of packs by what they are, a spare sachet of each yeast, tools."""

    def __init__(self) -> None:
        self.rests: dict[tuple[str, ...], list[_Rest]] = {}
        self.has: set[object] = set()

    def take(self, bought: Purchase, on: date) -> float:
        """Take of the rests what may go in on a day, what spoils first before the others."""
        wanted, taken = bought.amount, 0.0
        for rest in sorted(self.rests.get(_what(bought), []), key=lambda one: one.until):
            part = min(rest.amount, wanted - taken) if on <= rest.until else 0.0
            rest.amount, taken = rest.amount - part, taken + part
        return round(taken, 6)

    def keep(self, bought: Purchase, left: float, opened: date) -> None:
        """Keep what is left of packs that are opened on a day."""
        if bought.keeps_days and left > LEAST_LEFT * min(bought.sizes, default=0.0):
            until = opened + timedelta(days=bought.keeps_days)
            self.rests.setdefault(_what(bought), []).append(_Rest(left, until))


def trips(
    plans: Sequence[Plan], caps: Sequence[CapUse], corks: Sequence[CapUse], bottles: ToBuy
) -> tuple[Trip, ...]:
    """The whole season's shopping, the first trip first; `caps`, `corks` and `bottles` as they are counted
    over time.
    """
    plans = [_with_bottles(plan, bottles) for plan in plans]
    short = {"buy.caps": _lacking(caps), "buy.corks": _lacking(corks)}
    days: dict[date, list[Plan]] = {}
    by = date.min
    for plan in sorted(plans, key=lambda plan: (_wanted(plan), plan.code)):
        if plan.task("bottle").state != "done" and plan.lists.buy:
            by = by if days and _wanted(plan) <= by + _ONE_TRIP else _wanted(plan)
            days.setdefault(by, []).append(plan)
    kitchen, found = _Kitchen(), []
    for by in sorted(days):
        lines = _lines(days[by], by, kitchen, short)
        if lines:
            found.append(Trip(by, tuple(plan.code for plan in days[by]), lines))
    return tuple(found)


def _with_bottles(plan: Plan, bottles: ToBuy) -> Plan:
    """The plan with the bottles that are really bought for it: those of the stock are counted over time."""
    counted = {size: number for (code, size), number in bottles.items() if code == plan.code}
    lines = [line for line in plan.lists.buy if not _is_counted(line, counted)]
    by = max(_wanted(plan), plan.task("bottle").when.expected)
    sound = said("buy.bottles.note" if plan.carbonation else "buy.bottles.still")
    lines += [
        Line(said("buy.bottles", ml=ml, kind=kind), Amount(number, "piece"), by, sound)
        for (ml, kind), number in counted.items()
        if number
    ]
    return replace(plan, lists=replace(plan.lists, buy=tuple(lines)))


def _is_counted(line: Line, counted: Mapping[Size, int]) -> bool:
    values = line.said.values
    return line.said.id == "buy.bottles" and (values["ml"], values["kind"]) in counted


def _wanted(plan: Plan) -> date:
    """The day by which the batch's things are at home."""
    return (plan.lists.buy[0].by if plan.lists.buy else None) or plan.printed


def _lacking(uses: Sequence[CapUse]) -> Mapping[str, int]:
    """How many closures each batch lacks."""
    return {use.code: max(0, min(use.need, -use.left)) for use in uses}


def _lines(
    plans: Sequence[Plan], by: date, kitchen: _Kitchen, short: Mapping[str, Mapping[str, int]]
) -> tuple[Line, ...]:
    """One trip: ingredients, yeast, then what bottling asks for."""
    brewing = [plan for plan in plans if plan.task("brew").state != "done"]
    found = [_purchase(*each, kitchen, by) for each in _together(brewing)]
    found += _yeasts(brewing, kitchen, by)
    return (*found, *_added_up([line for plan in plans for line in _further(plan, kitchen, short)]))


def _together(plans: Sequence[Plan]) -> Iterator[tuple[Purchase, date, date]]:
    """What is bought, the same of several batches in one, the day on which it is opened, and the last on
    which some goes in.
    """
    found: dict[tuple[object, ...], tuple[Purchase | None, date, date]] = {}
    for plan in plans:
        on = plan.task("brew").when.expected
        for one in plan.quantities.purchases:
            key = (*_what(one), one.sizes)
            other, first, last = found.get(key, (None, on, on))
            amount = round(one.amount + (other.amount if other else 0.0), 6)
            found[key] = (replace(one, amount=amount), min(first, on), max(last, _last_day(one, plan)))
    yield from ((one, first, last) for one, first, last in found.values() if one)


def _last_day(bought: Purchase, plan: Plan) -> date:
    """The last day on which some of it goes in."""
    brewed, bottled = (plan.task(name).when.expected for name in ("brew", "bottle"))
    mine = [use for use in plan.quantities.ingredients if (use.id, use.name) == (bought.id, bought.name)]
    if any(use.stage in _LATE for use in mine):
        return bottled
    return brewed + timedelta(days=max((use.day or 0 for use in mine if use.stage == "day"), default=0))


def _purchase(bought: Purchase, opened: date, last: date, kitchen: _Kitchen, by: date) -> Line:
    """An ingredient: rests first, whole packs for what they lack."""
    amount = measured(bought.amount, bought.unit)
    if not bought.sizes:
        return Line(said("buy.loose", name=bought.name), amount, by)
    taken = kitchen.take(bought, last)
    mix = cover(round(bought.amount - taken, 6), bought.sizes)
    left = left_over(mix, round(bought.amount - taken, 6))
    kitchen.keep(bought, left, opened)
    new = replace(bought, pack_mix=mix, packs=number_of(mix), bought=total(mix), left=left)
    if not mix:
        note = said(f"buy.left-enough-{bought.unit}", used=taken)
    elif taken:
        note = said(f"buy.after-left-{bought.unit}", used=taken, packs=(packs_of(new),))
    else:
        note = packs_of(new)
    return Line(said("buy.pack", name=bought.name), amount if mix else None, by, note)


def _yeasts(plans: Sequence[Plan], kitchen: _Kitchen, by: date) -> Iterator[Line]:
    """Sachets: with the first a spare one, which stays for the later ones."""
    wanted: dict[tuple[str, float], int] = {}
    for plan in plans:
        found = plan.quantities
        key = (found.yeast_name, found.yeast_pack_g)
        wanted[key] = wanted.get(key, 0) + found.yeast_packs
    for (name, pack), packs in wanted.items():
        spare = (name, pack) in kitchen.has
        note = said("buy.yeast.note-spare" if spare else "buy.yeast.note", packs=packs, pack=pack)
        yield Line(said("buy.yeast", name=name), Amount(packs + (not spare), "piece"), by, note)
        kitchen.has.add((name, pack))


def _further(plan: Plan, kitchen: _Kitchen, short: Mapping[str, Mapping[str, int]]) -> Iterator[Line]:
    """Sugar and a syringe before brewing; bottles always; closures as far as they are lacking."""
    brewed = plan.task("brew").state == "done"
    for line in plan.lists.buy:
        kind = line.said.id
        if kind in short and plan.code in short[kind]:
            if short[kind][plan.code]:
                yield replace(line, amount=Amount(short[kind][plan.code], "piece"))
        elif kind == "buy.bottles" or (kind in _BEFORE_BREWING and not brewed):
            if kind not in _ONCE or kind not in kitchen.has:
                yield line
            kitchen.has.add(kind)


def _added_up(lines: Sequence[Line]) -> list[Line]:
    """The same thing by the same day is one line."""
    found: dict[tuple[object, ...], Line] = {}
    for line in lines:
        key = (line.said, line.by, line.amount.unit if line.amount else "")
        other = found.get(key)
        both = other.amount.value if other and other.amount else 0.0
        amount = replace(line.amount, value=line.amount.value + both) if line.amount else None
        found[key] = replace(line, amount=amount if line.said.id not in _ONCE else line.amount)
    return list(found.values())
