"""Shop and gather: what to buy, what to set out, what to do the evening before.

Comes in: a `Batch` and what was worked out for it.  Goes out: `Lists`, each line with its number and its day.
"""

from __future__ import annotations

from datetime import date, timedelta

from sheetgen.brewing import rounding
from sheetgen.model import Batch
from sheetgen.planning.plan import Amount, BottlePlan, Carbonation, Line, Lists, Sanitising, Use, WaterPlan
from sheetgen.planning.scaling import Scaled
from sheetgen.planning.yeast_plan import YeastPlan
from sheetgen.problems import said

SHOP_DAYS_BEFORE = 3
BREW_DAY_LITRES = (4.0, 5.0)
BOTTLING_DAY_LITRES = (5.0, 8.0)
SMALL_BATCH = 10.0
"""Litres of sanitiser for both days, for batches up to and over this size (common practice, no source)."""


SANITISER_CAUTIONS = {
    "no-rinse acid": "acid",
    "iodine type": "iodine",
    "household bleach": "bleach",
    "percarbonate cleaner": "percarbonate",
    "sulphite": "sulphite",
}


def sanitiser_caution(product: str) -> tuple[str, ...]:
    """The caution that belongs to a sanitiser, if we know one."""
    caution = SANITISER_CAUTIONS.get(product)
    return (caution,) if caution else ()


def sanitising(batch: Batch, litres: float) -> Sanitising:
    """Doses for brew day and bottling day; the product's label always wins."""
    product, size = batch.equipment.sanitiser, litres > SMALL_BATCH
    brew, bottle = BREW_DAY_LITRES[size], BOTTLING_DAY_LITRES[size]
    return Sanitising(
        product.id,
        brew,
        rounding.down_to(product.dose * brew, 0.5),
        bottle,
        rounding.down_to(product.dose * bottle, 0.5),
        product.dose_unit,
        product.minutes,
        product.rinse,
    )


def _amount(use: Use) -> Amount:
    if use.unit == "ml" and use.amount >= 1000:
        return Amount(use.amount / 1000, "L")
    return Amount(use.amount, "g" if use.unit == "g" else "ml" if use.unit == "ml" else "piece")


def _buy_use(use: Use, by: date) -> Line:
    if use.packs is None or use.pack is None:
        return Line(said("buy.loose", name=use.name), _amount(use), by)
    note_id = "buy.left-over" if use.left > 0.005 * use.pack else "buy.nothing-left"
    kind = "ml" if use.unit == "ml" else "g"
    note = said(f"{note_id}-{kind}", left=use.left, packs=use.packs, pack=use.pack)
    return Line(said("buy.pack", name=use.name), _amount(use), by, note)


def _merged(uses: tuple[Use, ...]) -> list[Use]:
    """One line for an ingredient that goes in at several times, in whole packs for the sum."""
    rows: dict[tuple[str, str], list[Use]] = {}
    for use in uses:
        rows.setdefault((use.id, use.name), []).append(use)
    return [_sum(group) if len(group) > 1 else group[0] for group in rows.values()]


def _sum(group: list[Use]) -> Use:
    from dataclasses import replace

    from sheetgen.planning.scaling import packs_to_buy

    amount = round(sum(use.amount for use in group), 6)
    packs, left = packs_to_buy(amount, group[0].pack)
    return replace(group[0], amount=amount, packs=packs, left=left)


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
) -> tuple[Line, ...]:
    """What to buy, ingredients first, then yeast, sugar, caps and bottles."""
    by = max(batch.brew_day - timedelta(days=SHOP_DAYS_BEFORE), min(today, batch.brew_day))
    lines = [_buy_use(use, by) for use in _merged(scaled.uses)]
    lines.append(_buy_yeast(batch, yeast, by))
    if gas is not None and gas.total_g > 0:
        lines.append(
            Line(said("buy.priming", sugar=gas.sugar), Amount(rounding.up_to(gas.total_g, 5.0), "g"), by)
        )
    if bottles.crown_caps:
        lines.append(Line(said("buy.caps"), Amount(bottles.crown_caps, "piece"), by))
    lines += [
        Line(
            said("buy.bottles", ml=row.ml, kind=row.kind),
            Amount(row.short, "piece"),
            by,
            said("buy.bottles.note"),
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
    names += ["set-out.spoon", "set-out.jug", "set-out.thermometer", "set-out.hydrometer", "set-out.scissors"]
    capped = any(row.kind.cap == "crown" for row in batch.bottles)
    names += ["set-out.bottling-capper" if capped else "set-out.bottling"]
    return tuple(Line(said(name)) for name in names)


def evening_before(batch: Batch, water: WaterPlan) -> tuple[Line, ...]:
    """Cold water, if any is wanted; a true hydrometer; water without chlorine."""
    evening = batch.brew_day - timedelta(days=1)
    instrument = batch.equipment.hydrometer
    shows = said("evening.hydrometer", celsius=float(instrument.calibrated), sg=float(instrument.in_water))
    cold = Line(said("evening.fridge-water"), Amount(water.fridge_l, "L"), evening)
    wet = (Line(said("evening.chlorine"), by=evening),) if water.kettle_l or water.tap_l else ()
    return (*((cold,) if water.fridge_l > 0 else ()), Line(shows, by=evening), *wet)


def make_lists(
    batch: Batch,
    scaled: Scaled,
    water: WaterPlan,
    yeast: YeastPlan,
    gas: Carbonation | None,
    bottles: BottlePlan,
    today: date,
) -> Lists:
    """All four lists."""
    return Lists(
        buy=buy_lines(batch, scaled, yeast, gas, bottles, today),
        set_out=set_out(batch, scaled, water),
        evening_before=evening_before(batch, water),
        sanitising=sanitising(batch, scaled.planned_l),
    )
