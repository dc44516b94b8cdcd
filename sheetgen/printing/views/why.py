"""The why-page: each number of the set with its sum, what went in, how it is rounded, and where it is from.

Comes in: a `Plan` and `Words`.  Goes out: the view of layouts/documents/why.layout.  Nothing is worked out
here: one small function a number takes it, and what went into it, from the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sheetgen.planning.plan import Carbonation, Plan, WhatIf
from sheetgen.printing.views.common import View, capital, frozen, page, runs
from sheetgen.printing.words import Words
from sheetgen.problems import Said, SaidValue, said
from sheetgen.records import record

IF_AT_C = (20.0, 30.0)
"""The temperatures of the what-ifs, as planning has them."""


@record
class Sum:
    """One number: its id, its value and the kind of it, how it came about, its rounding and its sources."""

    id: str
    value: SaidValue
    kind: str
    how: Said
    rounded: str
    sources: tuple[str, ...]


# --- the drink


def _original(plan: Plan) -> Sum:
    found = plan.quantities
    how = said("how.original.how", litres=found.litres)
    return Sum("original", found.original_gravity, "sg", how, "sg", ("points",))


def _finish(plan: Plan) -> Sum:
    dry = "-dry" if _ferments_out(plan) else ""
    how = said(f"how.finish.how{dry}", low=plan.gate.low)
    return Sum("finish", plan.gate.high, "sg", how, "sg-down", ("practice",))


def _ferments_out(plan: Plan) -> bool:
    return plan.gate.ceiling <= plan.gate.high


def _ceiling(plan: Plan) -> Sum | None:
    if _ferments_out(plan):
        return None
    how = said("how.ceiling.how", high=plan.gate.high, og=plan.quantities.original_gravity)
    return Sum("ceiling", plan.gate.ceiling, "sg", how, "sg-down", ("judgement",))


def _strength(plan: Plan) -> Sum:
    found = plan.quantities
    primed = "-primed" if plan.carbonation and found.percent_from_priming > 0 else ""
    how = said(
        f"how.strength.how{primed}",
        og=found.measured_original or found.original_gravity,
        final=found.percent_final,
        more=found.percent_from_priming,
    )
    return Sum("strength", found.percent_by_volume, "percent", how, "tenth", ("balling",))


def _duty(plan: Plan) -> Sum:
    how = said("how.duty.how", quick=plan.quantities.percent_quick)
    return Sum("duty", plan.quantities.percent_duty, "percent", how, "tenth", ("duty",))


def _bitterness(plan: Plan) -> Sum | None:
    found = plan.quantities.bitterness_ibu
    return None if found is None else Sum("bitterness", round(found), "number", said("how.bitterness.how"),
                                          "whole", ("tinseth",))  # fmt: skip


def _colour(plan: Plan) -> Sum | None:
    found = plan.quantities.colour_ebc
    return None if found is None else Sum("colour", round(found), "number", said("how.colour.how"),
                                          "whole", ("morey",))  # fmt: skip


def _yeast(plan: Plan) -> Sum | None:
    found = plan.quantities
    if not found.yeast_high_g:
        return None
    how = said("how.yeast.how", low=found.yeast_low_g, high=found.yeast_high_g, pack=found.yeast_pack_g)
    return Sum("yeast", found.yeast_grams, "mass", how, "weighed", ("practice",))


def _mix(plan: Plan) -> Sum | None:
    water = plan.quantities.water
    if not water.kettle_l or not water.fridge_l + water.tap_l:
        return None
    how = said("how.mix.how", hot=water.kettle_l, cold=water.fridge_l + water.tap_l, by=water.plus_minus_c)
    return Sum("mix", water.mixed_c, "temperature", how, "whole", ("heat",))


def _bottling(plan: Plan) -> Sum:
    found = plan.quantities
    how = said("how.litres.how", litres=found.litres, loss=found.loss_l)
    return Sum("litres", found.bottling_l, "litres", how, "down", ("practice",))


# --- the days


def _first_test(plan: Plan) -> Sum | None:
    if plan.gate.by_looks or plan.tempo is None or not plan.has("test-1"):
        return None
    task = plan.task("test-1")
    how = said("how.test.how", day=task.day, factor=round(plan.tempo.ferment_factor, 2),
               more=plan.tempo.strength_ferment_days)  # fmt: skip
    return Sum("test", task.when.expected, "date", how, "day-up", ("practice",))


def _gap(plan: Plan) -> Sum:
    return Sum("gap", plan.gate.gap_days, "days", said("how.gap.how"), "day-up", ("judgement",))


def _band(plan: Plan) -> Sum | None:
    if plan.gate.by_looks or not plan.gravity_band:
        return None
    row = plan.gravity_band[-1]
    how = said("how.band.how", day=row.day, low=row.low, high=row.high)
    return Sum("band", row.expected, "sg", how, "sg", ("growth", "practice"))


def _not_before(plan: Plan) -> Sum:
    named = "how.not-before.how" if plan.carbonation else "how.not-before.how-still"
    how = said(named, on=plan.labels.filled, wait=plan.labels.wait_days)
    return Sum("not-before", plan.labels.not_before, "date", how, "day-up", ("practice",))


def _best_before(plan: Plan) -> Sum:
    how = said("how.best-before.how", celsius=plan.storing_c)
    return Sum("best-before", plan.labels.best_before, "full-date", how, "day-down", ("practice",))


# --- the gas


def _residual(_plan: Plan, gas: Carbonation) -> Sum:
    how = said("how.residual.how", celsius=gas.warmest_c)
    return Sum("residual", gas.residual_volumes, "gas", how, "hundredth", ("weiss",))


def _sugar(_plan: Plan, gas: Carbonation) -> Sum:
    how = said("how.sugar.how", target=gas.target_volumes, residual=gas.residual_volumes, sugar=gas.sugar)
    return Sum("sugar", gas.g_per_litre, "dose", how, "dose", ("hibberd",))


def _each(_plan: Plan, gas: Carbonation) -> Sum | None:
    if not gas.sizes or gas.dosing == "in-bulk":
        return None
    size = max(gas.sizes, key=lambda dose: dose.count)
    return Sum("each", size.grams_each, "dose", said("how.each.how", ml=size.ml), "dose", ("points",))


def _most(_plan: Plan, gas: Carbonation) -> Sum:
    how = said("how.most.how", kind=gas.weakest, warn=gas.warn_volumes, limit=gas.limit_volumes)
    return Sum("most", gas.highest_volumes, "most-gas", how, "hundredth-up", ("sucrose", "practice"))


def _pressure(_plan: Plan, gas: Carbonation) -> Sum | None:
    at = next((one for one in gas.pressures if one.celsius == IF_AT_C[0]), None)
    if at is None:
        return None
    how = said("how.pressure.how", air=max(0.0, at.with_air_bar))
    return Sum("pressure", max(0.0, at.gauge_bar), "bar", how, "up", ("henry",))


DRINK: tuple[Callable[[Plan], Sum | None], ...] = (
    *(_original, _finish, _ceiling, _strength, _duty, _bitterness, _colour),
    *(_yeast, _mix, _bottling),
)
DAYS: tuple[Callable[[Plan], Sum | None], ...] = (_first_test, _gap, _band, _not_before, _best_before)
GAS: tuple[Callable[[Plan, Carbonation], Sum | None], ...] = (_residual, _sugar, _each, _most, _pressure)


def why(plan: Plan, words: Words) -> View:
    """What the why-page shows."""
    begins, gas = plan.task("brew").when.expected, plan.carbonation
    found = {
        "drink": [rule(plan) for rule in DRINK],
        "days": [rule(plan) for rule in DAYS],
        "gas": [rule(plan, gas) for rule in GAS] if gas else [],
    }
    return frozen(
        page=page(plan, words, "how", (begins, plan.labels.best_to)),
        subtitle=runs(words, said("how.subtitle", version=plan.program, on=plan.rules_of)),
        continued=words.say("how.continued"),
        groups=tuple(
            frozen(title=words.say(f"how.{name}"), rows=tuple(_row(one, words) for one in sums if one))
            for name, sums in found.items()
            if any(sums)
        ),
        what_if=_what_ifs(gas, words) if gas and gas.what_ifs else None,
    )


def _row(one: Sum, words: Words) -> View:
    sources = "; ".join(words.say(f"how.source.{name}") for name in one.sources)
    return frozen(
        name=words.say(f"how.{one.id}"),
        value=words.value(one.value, one.kind),
        how=words.say(one.how),
        source=words.say(said("how.rounded", how=words.say(f"how.round.{one.rounded}"), source=sources)),
    )


# --- what if


def _what_ifs(gas: Carbonation, words: Words) -> View:
    tightest = gas.what_ifs[0]
    return frozen(
        title=words.say("how.if"),
        about=words.say(said("how.if.about", kind=tightest.kind, limit=tightest.limit_volumes)),
        heads=(words.say("how.if.gas"), *(words.measure(celsius, "temperature") for celsius in IF_AT_C)),
        rows=tuple(_if_rows(gas.what_ifs, words)),
    )


def _if_rows(what_ifs: tuple[WhatIf, ...], words: Words) -> Iterator[View]:
    for one in what_ifs:
        yield frozen(
            name=capital(words.say(f"how.if.{one.id}")),
            gas=words.measured(one.volumes, "most-gas")[0],
            at_20=words.measure(max(0.0, one.bar_20), "bar"),
            at_30=words.measure(max(0.0, one.bar_30), "bar"),
            verdict=words.say(f"how.if.{one.verdict}"),
            bad=one.verdict == "refuse",
        )
