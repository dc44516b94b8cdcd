"""Shop and gather: what to buy, what to set out, what to do the evening before.

Comes in: a `Batch` and what was worked out for it.  Goes out: `Lists`, each line with its number and its day.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from types import MappingProxyType

from sheetgen.model import Batch
from sheetgen.planning.cleaning import sanitising_of
from sheetgen.planning.dosing import sugar_to_buy
from sheetgen.planning.packs import Mix
from sheetgen.planning.plan import (
    Amount,
    BottlePlan,
    Carbonation,
    Cleaning,
    Line,
    Lists,
    Purchase,
    WaterPlan,
)
from sheetgen.planning.planner import pitched_on
from sheetgen.planning.scaling import Scaled
from sheetgen.planning.yeast_plan import OPENED_DAYS, YeastPlan
from sheetgen.problems import Said, said

SHOP_DAYS_BEFORE = 3
LEAST_LEFT = 0.005
"""A smaller share of a pack than this is not worth a word."""


def measured(value: float, unit: str) -> Amount:
    """An amount as lists have it: litres from one litre on."""
    if unit == "ml" and value >= 1000:
        return Amount(value / 1000, "L")
    return Amount(value, "g" if unit == "g" else "ml" if unit == "ml" else "piece")


def _purchase(bought: Purchase, by: date) -> Line:
    amount = measured(bought.amount, bought.unit)
    if not bought.pack_mix:
        return Line(said("buy.loose", name=bought.name), amount, by)
    return Line(said("buy.pack", name=bought.name), amount, by, packs_of(bought))


def packs_of(bought: Purchase) -> Said:
    """Which packs; of one size, also what is left."""
    return packs_said(bought.pack_mix, bought.left, bought.unit)


def packs_said(mix: Mix, left: float, unit: str) -> Said:
    """Which packs, one at least; of one size, also what is left of them."""
    if len(mix) > 1:
        values = {f"n{at}": number for at, (number, _) in enumerate(mix, 1)}
        sizes = {f"size{at}": size for at, (_, size) in enumerate(mix, 1)}
        return Said(f"buy.mix-{len(mix)}-{unit}", MappingProxyType({**values, **sizes}))
    [(packs, pack)] = mix
    note = "buy.left-over" if _is_worth_keeping(mix, left) else "buy.nothing-left"
    return said(f"{note}-{unit}", left=left, packs=packs, pack=pack)


def _worth_keeping(bought: Purchase) -> bool:
    """Whether what is left is more than what sticks to the pack."""
    return _is_worth_keeping(bought.pack_mix, bought.left)


def _is_worth_keeping(mix: Mix, left: float) -> bool:
    return bool(mix) and left > LEAST_LEFT * min(size for _, size in mix)


def left_overs(batch: Batch, bought: Sequence[Purchase], yeast: YeastPlan) -> tuple[Line, ...]:
    """What is left of opened packs, how it keeps, and until when, counted from brew day."""
    opened = batch.actual.brewed or batch.brew_day
    lines = tuple(_left(each, opened) for each in bought if _worth_keeping(each))
    return (*lines, _left_yeast(batch, yeast)) if yeast.left_g > 0 else lines


def _left_yeast(batch: Batch, yeast: YeastPlan) -> Line:
    """The rest of a sachet that was opened when the yeast went in."""
    until = pitched_on(batch) + timedelta(days=OPENED_DAYS)
    name = said("left.name", name=batch.recipe.yeast.name)
    return Line(name, Amount(yeast.left_g, "g"), until, said("left.yeast"))


def _left(bought: Purchase, opened: date) -> Line:
    until = opened + timedelta(days=bought.keeps_days) if bought.keeps_days else None
    how = said(f"left.{bought.keeps_how or 'label'}")
    return Line(said("left.name", name=bought.name), measured(bought.left, bought.unit), until, how)


def _buy_yeast(batch: Batch, yeast: YeastPlan, by: date) -> Line:
    """What goes in, and a sachet to spare: the one cheap insurance."""
    packs, pack_g = yeast.packs, float(batch.recipe.yeast.pack)
    note = said("buy.yeast.note", packs=packs, pack=pack_g)
    if yeast.packs > yeast.fresh_packs:
        note = said("buy.yeast.note-weak", packs=packs, fresh=yeast.fresh_packs)
    return Line(said("buy.yeast", name=batch.recipe.yeast.name), Amount(packs + 1, "piece"), by, note)


def buy_lines(
    batch: Batch,
    scaled: Scaled,
    yeast: YeastPlan,
    gas: Carbonation | None,
    bottles: BottlePlan,
    today: date,
    bottling: date,
) -> tuple[Line, ...]:
    """What to buy, ingredients first, then yeast, sugar, caps, and bottles: they may come until bottling."""
    by = max(batch.brew_day - timedelta(days=SHOP_DAYS_BEFORE), min(today, batch.brew_day))
    lines = [_purchase(bought, by) for bought in scaled.purchases]
    lines.append(_buy_yeast(batch, yeast, by))
    if gas is not None and gas.total_g > 0:
        sentence = said("buy.pieces" if gas.piece_g else "buy.priming", sugar=gas.sugar)
        lines.append(Line(sentence, sugar_to_buy(gas, bottles), by))
    if gas is not None and gas.syrup is not None:
        lines.append(Line(said("buy.syringe"), Amount(1, "piece"), by))
    if bottles.crown_caps:
        lines.append(Line(said("buy.caps"), Amount(bottles.crown_caps, "piece"), by))
    if bottles.corks:
        lines.append(Line(said("buy.corks"), Amount(bottles.corks, "piece"), by))
    sound = said("buy.bottles.note" if batch.recipe.drink.primed else "buy.bottles.still")
    lines += [
        Line(
            said("buy.bottles", ml=row.ml, kind=row.kind),
            Amount(row.short, "piece"),
            max(by, bottling),
            sound,
        )
        for row in bottles.rows
        if row.short
    ]
    return tuple(lines)


def set_out(batch: Batch, scaled: Scaled, water: WaterPlan) -> tuple[Line, ...]:
    """The table, in order of use."""
    names = ["set-out.sanitiser", "set-out.vessel"]
    names += ["set-out.scales"]
    names += ["set-out.pot"] if water.kettle_l else []
    bagged = any(use.role == "grain" or use.stage == "dry-hop" for use in scaled.uses)
    names += ["set-out.bag"] if bagged else []
    names += ["set-out.spoon", "set-out.jug", "set-out.thermometer"]
    names += ["set-out.hydrometer"] if batch.equipment.has_hydrometer else []
    names += ["set-out.scissors"]
    capped = any(row.kind.cap == "crown" for row in batch.bottles)
    corked = any(row.kind.cap == "cork" for row in batch.bottles)
    tools = "set-out.bottling-corker" if corked else "set-out.bottling"
    names += ["set-out.bottling-capper" if capped else tools]
    return tuple(Line(said(name)) for name in names)


def evening_before(batch: Batch, water: WaterPlan) -> tuple[Line, ...]:
    """Cold water and ice, if any is wanted; a true hydrometer; water without chlorine."""
    evening = batch.brew_day - timedelta(days=1)
    instrument = batch.equipment.hydrometer
    shows = said("evening.hydrometer", celsius=float(instrument.calibrated), sg=float(instrument.in_water))
    cold = Line(said("evening.fridge-water"), Amount(water.fridge_l, "L"), evening)
    wet = (Line(said("evening.chlorine"), by=evening),) if water.kettle_l or water.tap_l else ()
    ice = Line(said("evening.ice"), Amount(1000 * water.ice_kg, "g"), evening)
    frozen = (ice,) if water.ice_kg > 0 else ()
    tried = (Line(shows, by=evening),) if batch.equipment.has_hydrometer else ()
    return (*((cold,) if water.fridge_l > 0 else ()), *frozen, *tried, *wet)


def make_lists(
    batch: Batch,
    scaled: Scaled,
    water: WaterPlan,
    yeast: YeastPlan,
    gas: Carbonation | None,
    bottles: BottlePlan,
    cleaning: tuple[Cleaning, ...],
    today: date,
    bottling: date,
    about_packs: tuple[Said, ...] = (),
) -> Lists:
    """All the lists."""
    return Lists(
        buy=buy_lines(batch, scaled, yeast, gas, bottles, today, bottling),
        set_out=set_out(batch, scaled, water),
        evening_before=evening_before(batch, water),
        sanitising=sanitising_of(cleaning),
        cleaning=cleaning,
        left_overs=left_overs(batch, scaled.purchases, yeast),
        about_packs=about_packs,
    )
