"""Everything put together: one batch, planned.

Comes in: a `Batch`, today and the findings so far.  Goes out: `Plan`, or None when a stop was found.  The
order is the order of dependence: amounts, strength, water, gate, dates, bottles, sugar, rules, sheets.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from sheetgen.model import Assumption, Batch
from sheetgen.planning.after_safety import with_safety
from sheetgen.planning.alarms import ring_at
from sheetgen.planning.backwards import Settled, event_plans, settle
from sheetgen.planning.band import band_of
from sheetgen.planning.boil import bitterness_ibu
from sheetgen.planning.bottling import bottle_plan
from sheetgen.planning.bottling_steps import bottling_steps
from sheetgen.planning.brew_day import BrewDay
from sheetgen.planning.clashing import no_day_explained
from sheetgen.planning.cleaning import bottling_cleaning, brew_cleaning, cautions_of
from sheetgen.planning.event_tasks import with_events
from sheetgen.planning.event_ways import Recipes, missed_events
from sheetgen.planning.facts import Facts
from sheetgen.planning.forward import Runs, in_its_rooms
from sheetgen.planning.gear_needed import gear_of
from sheetgen.planning.hot_days import hot_stays, sentence_of, with_heat
from sheetgen.planning.keeping import agreeing, keeping_plan, percent_of
from sheetgen.planning.labelling import label_plan
from sheetgen.planning.life import NoDay, life_of
from sheetgen.planning.lists import make_lists
from sheetgen.planning.looking import gate_of
from sheetgen.planning.pack_choices import about_packs, pack_assumptions, pack_choices, pack_fills
from sheetgen.planning.plan import (
    Cleaning,
    KeepingPlan,
    LabelPlan,
    Lists,
    PackChoice,
    PackFill,
    Plan,
    Quantities,
    Safety,
    Step,
)
from sheetgen.planning.plan_events import EventPlan
from sheetgen.planning.planner import Pace, pitched_on
from sheetgen.planning.priming import priming
from sheetgen.planning.record_rules import FINE_SCALES_G
from sheetgen.planning.rules import findings
from sheetgen.planning.safety import safety_of
from sheetgen.planning.scaling import extra_litres, scale
from sheetgen.planning.schedule import schedule
from sheetgen.planning.sound import sound
from sheetgen.planning.steps import brew_steps, later_steps, pitching_of
from sheetgen.planning.strength import (
    alcohol_at_the_end,
    colour_ebc,
    drink_units,
    strength,
    swatch,
)
from sheetgen.planning.sulphites import mg_per_litre
from sheetgen.planning.tasting import tastings
from sheetgen.planning.troubles import trouble_card
from sheetgen.planning.waiting import with_costs
from sheetgen.planning.water_plan import water_plan
from sheetgen.planning.yeast_plan import YeastPlan, yeast_plan
from sheetgen.problems import Problem, Problems, said
from sheetgen.records import record


@record
class _Worked:
    """All results, before they are laid out as a plan; the last three come when nothing is stopped."""

    facts: Facts
    pace: Pace
    yeast: YeastPlan
    cleaning: tuple[Cleaning, ...]
    steps: tuple[Step, ...]
    assumptions: tuple[Assumption, ...]
    safety: Safety | None = None
    choices: tuple[PackChoice, ...] = ()
    fills: tuple[PackFill, ...] = ()

    @property
    def batch(self) -> Batch:
        """As it is written."""
        return self.facts.batch


def _yeast_states(batch: Batch) -> tuple[Assumption, ...]:
    """What the finish is reckoned with, where the recipe's yeast is not an ordinary one."""
    stated = batch.recipe.yeast.attenuation
    if stated is None or batch.recipe.drink.ferments_out:
        return ()
    sentence = said("assume.yeast-attenuation", low=100 * stated[0], high=100 * stated[1])
    return (Assumption("recipe", sentence),)


def _work_out(settled: Settled, today: date) -> _Worked:
    written = settled.batch
    batch = sound(written, pitched_on(written))
    scaled = scale(batch)
    found = strength(batch, scaled)
    vessel_l, pot_l, assumed = gear_of(batch, scaled, found)
    water = water_plan(batch, scaled, pot_l)
    bottled = batch.actual.bottled
    gate = gate_of(batch, found, today, until=bottled.on if bottled else None)
    yeast = yeast_plan(batch, scaled.planned_l, found.calculated)
    clean = brew_cleaning(batch, vessel_l)
    day = BrewDay(batch, scaled, water, found, yeast, clean)
    steps = brew_steps(day)
    minutes = sum(step.minutes for step in steps)
    tasks, pace = schedule(batch, found.strongest, gate, today, minutes)
    litres = float(bottled.litres) if bottled and bottled.litres is not None else scaled.bottling_l
    gas = priming(batch, litres, gate.by_looks or (gate.state == "pass-with-care" and not gate.pet_only))
    bottles = bottle_plan(litres, batch.bottles, bottled, batch.fill, extra_litres(batch, scaled.litres), gas)
    events = event_plans(settled, pace, tasks, bottles)
    tasks = with_events(tasks, events, pitched_on(written), today)
    facts = Facts(
        written,
        today,
        scaled,
        found,
        water,
        pot_l,
        vessel_l,
        gas,
        bottles,
        gate,
        tasks,
        life_of(batch),
        pitching_of(steps),
        events,
        settled.counted_back,
        settled.in_season,
    )
    assumed = (
        *settled.assumptions,
        *pack_assumptions(batch, scaled, found, gas),
        *assumed,
        *_yeast_states(batch),
    )
    clean += bottling_cleaning(batch, vessel_l, sum(row.need for row in bottles.rows))
    return _Worked(facts, pace, yeast, clean, (*steps, *later_steps(day, tasks)), assumed)


def _quantities(worked: _Worked) -> Quantities:
    facts, batch = worked.facts, worked.batch
    scaled, found, gas = facts.scaled, facts.found, facts.gas
    strong = alcohol_at_the_end(found, facts.gate, gas.g_per_litre if gas else 0.0, batch.sugar)
    return Quantities(
        litres=scaled.litres,
        original_gravity=found.original,
        original_low=found.low,
        original_high=found.high,
        final_gravity=found.finish,
        ceiling_gravity=facts.gate.ceiling,
        percent_by_volume=strong.balling,
        percent_duty=strong.duty,
        percent_quick=strong.quick,
        percent_from_priming=strong.from_priming,
        percent_final=strong.final,
        percent_final_is=strong.final_is,
        drink_units=drink_units(strong.balling, (float(row.ml) for row in batch.bottles)),
        bitterness_ibu=bitterness_ibu(batch, scaled, facts.water.kettle_l),
        colour_ebc=colour_ebc(scaled),
        swatch=swatch(colour_ebc(scaled)),
        ingredients=scaled.uses,
        water=facts.water,
        yeast_packs=worked.yeast.packs,
        yeast_grams=worked.yeast.grams,
        yeast_pack_g=float(batch.recipe.yeast.pack),
        yeast_name=batch.recipe.yeast.name,
        loss_l=scaled.loss_l,
        bottling_l=scaled.bottling_l,
        measured_original=found.measured,
        yeast_low_g=worked.yeast.low_g,
        yeast_high_g=worked.yeast.high_g,
        yeast_factor=worked.yeast.factor,
        yeast_left_g=worked.yeast.left_g,
        sulphites_mg_per_litre=round(mg_per_litre(batch, scaled), 3),
        asked_l=scaled.asked_l,
        mark_l=scaled.mark_l,
        brewed_gravity=found.brewed,
        purchases=scaled.purchases,
        pack_choices=worked.choices,
        pack_fills=worked.fills,
    )


def _lists(worked: _Worked) -> Lists:
    facts = worked.facts
    about = tuple(about_packs(worked.batch, worked.choices, worked.fills))
    return make_lists(
        worked.batch,
        facts.scaled,
        facts.water,
        worked.yeast,
        facts.gas,
        facts.bottles,
        worked.cleaning,
        facts.today,
        facts.task("bottle").when.expected,
        about,
    )


def cautions_for(batch: Batch, steps: tuple[Step, ...], cleaning: tuple[Cleaning, ...]) -> tuple[str, ...]:
    """Ids of the cautions that belong to this batch: those of its steps first, then the standing ones."""
    names = [step.caution for step in steps if step.caution]
    names += cautions_of(cleaning)
    names += ["pressure"] if batch.recipe.drink.primed else []
    names += list(batch.recipe.drink.cautions)
    return tuple(dict.fromkeys([*names, "alcohol", "home-made"]))


def _start(batch: Batch) -> datetime | None:
    return datetime.combine(batch.actual.brewed or batch.brew_day, batch.start) if batch.start else None


def _bottling(worked: _Worked, kept: KeepingPlan) -> tuple[Step, ...]:
    facts = worked.facts
    bottle = facts.task("bottle")
    cool = next((task for task in facts.tasks if task.id == "move-to-cool"), bottle).when.expected
    room = worked.batch.room
    warm = (float(room.storing if facts.gas is None else room.warm_place), cool)
    weighed = worked.batch.dosing == "weight"
    fine = not weighed or worked.batch.equipment.scales <= FINE_SCALES_G + 1e-9
    cleaning = tuple(row for row in worked.cleaning if row.day == "bottling")
    hot = sentence_of(kept.hot[0]) if kept.hot else None
    return bottling_steps(facts.bottles, facts.gas, cleaning, warm, fine, hot)


def _kept(worked: _Worked) -> KeepingPlan:
    facts, filled = worked.facts, worked.facts.task("bottle").when.expected
    percent = percent_of(facts.found.strongest, facts.gate)
    kept = keeping_plan(worked.batch, worked.pace, percent, filled, facts.life, facts.bottles)
    return replace(kept, hot=hot_stays(worked.batch, facts.tasks, facts.gas, facts.life, facts.today))


def _labels(worked: _Worked, kept: KeepingPlan) -> LabelPlan:
    facts = worked.facts
    unsafe = worked.safety is not None
    return label_plan(
        worked.batch,
        facts.gate,
        facts.task("bottle"),
        worked.pace,
        unsafe,
        mg_per_litre(worked.batch, facts.scaled),
        kept,
    )


def _paper(batch: Batch) -> dict[str, Any]:
    """What the file says of paper and words."""
    return {
        "units": batch.units,
        "language": batch.language,
        "paper": batch.paper,
        "stock": batch.labels.stock,
        "disc_stock": batch.labels.discs,
        "start_at": batch.labels.start_at,
        "discs_start_at": batch.labels.discs_start_at,
        "tag_stock": batch.labels.tags,
        "band_stock": batch.labels.bands,
        "shift_mm": batch.labels.shift_mm,
        "bars_mm": batch.labels.bars_mm,
    }


def _plan(worked: _Worked, problems: Problems) -> Plan:
    facts, batch = worked.facts, worked.batch
    recipe, room, lists = batch.recipe, batch.room, _lists(worked)
    kept = _kept(worked)
    labels = _labels(worked, kept)
    band, fermentation = band_of(batch, facts.found, facts.gate, facts.tasks, facts.today)
    return Plan(
        code=batch.code,
        name=recipe.name,
        recipe=recipe.id,
        drink=recipe.drink.id,
        brewer=batch.brewer,
        **_paper(batch),
        printed=facts.today,
        revision=batch.actual.facts,
        start=_start(batch),
        room_c=(float(room.fermenting[0]), float(room.fermenting[1])),
        warm_place_c=float(room.warm_place),
        storing_c=float(room.storing),
        vessel_name=batch.equipment.vessel_name,
        vessel_l=facts.vessel_l,
        pot_l=facts.pot_l,
        hydrometer_c=float(batch.equipment.hydrometer.calibrated),
        boiled=bool(recipe.boil_minutes),
        about=recipe.about,
        assumptions=tuple((entry.key, entry.said) for entry in worked.assumptions),
        problems=tuple(problems.in_order()),
        quantities=_quantities(worked),
        carbonation=facts.gas,
        bottles=facts.bottles,
        tasks=with_heat(agreeing(facts.tasks, labels), kept.hot, pitched_on(batch)),
        gate=facts.gate,
        gravity_band=band,
        fermentation=fermentation,
        labels=labels,
        steps=worked.steps,
        bottling_steps=_bottling(worked, kept),
        lists=lists,
        away=batch.away,
        cautions=cautions_for(batch, worked.steps, worked.cleaning),
        safety=worked.safety,
        brew_minutes=sum(step.minutes for step in worked.steps),
        sources=batch.sources,
        alarm_at=ring_at(batch.alarms),
        tempo=worked.pace.tempo,
        keeping=kept,
    )


def _that_matter(batch: Batch) -> Iterator[Assumption]:
    """What was assumed, without what a still drink has no use for: sugar and a warm place for its bottles."""
    for entry in batch.assumptions:
        if batch.recipe.drink.primed or entry.key not in ("sugar", "dosing", "room.warm-place"):
            yield entry


def _note_assumptions(problems: Problems, batch: Batch, assumptions: tuple[Assumption, ...]) -> None:
    for entry in assumptions:
        problems.add(Problem("note", entry.said, None, "", (f"batch {batch.code}", entry.key)))


def _meets(batch: Batch, today: date) -> EventPlan | None:
    """The batch's first event, if nothing stops the batch on its brew day and it meets it."""
    problems = Problems()
    found = _checked(Settled(batch), today, problems, None)
    return found[1].facts.events[0] if found and not problems.stopped else None


def plan_batch(
    batch: Batch, today: date, problems: Problems, recipes: Recipes | None = None, runs: Runs | None = None
) -> Plan | None:
    """Plan one batch; findings are added to `problems`, and with a stop among them there is no plan.

    `recipes` are read when an event is missed: which of them would meet it?  None asks for no way out at all.
    `runs`: what comes of another brew day in the season of the batch.
    """
    return _planned(replace(settle(batch, today), in_season=runs), today, problems, recipes)


def _checked(
    settled: Settled, today: date, problems: Problems, recipes: Recipes | None
) -> tuple[Batch, _Worked] | None:
    """The batch in its rooms, worked out and held against every rule; None where no day works for it."""
    batch = settled.batch
    try:
        batch = in_its_rooms(batch, today)
        settled = replace(settled, batch=batch)
        worked = _work_out(settled, today)
        safety = safety_of(batch, worked.facts.gate, worked.facts.gas)
        problems.extend(findings(worked.facts, safety is not None))
        if safety is None:
            problems.extend(missed_events(settled, worked.facts, recipes, lambda tried: _meets(tried, today)))
    except NoDay as error:
        problems.extend(no_day_explained(batch, today, error))
        return None
    return batch, replace(worked, safety=safety)


def _planned(settled: Settled, today: date, problems: Problems, recipes: Recipes | None) -> Plan | None:
    checked = _checked(settled, today, problems, recipes)
    if checked is None:
        return None
    batch, begun = checked
    facts, assumptions = begun.facts, (*_that_matter(batch), *begun.assumptions)
    _note_assumptions(problems, batch, assumptions)
    if problems.stopped:
        return None
    heard = sound(batch, pitched_on(batch))
    costed = with_costs(facts.tasks, heard, facts.found.strongest, facts.gate, today)
    worked = replace(
        begun,
        facts=replace(facts, tasks=costed),
        assumptions=assumptions,
        choices=pack_choices(batch, facts.gas),
        fills=pack_fills(batch),
    )
    plan = replace(_plan(worked, problems), events=facts.events, brew_day_is=settled.day_is)
    plan = replace(plan, tastings=tastings(batch, begun.pace))
    if plan.safety is None:
        return replace(plan, trouble=trouble_card(batch, plan))
    tasks, off = with_safety(plan.tasks, batch, today)
    return replace(plan, tasks=tasks, off=off, events=(), keeping=None)
