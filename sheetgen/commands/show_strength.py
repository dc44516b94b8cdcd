"""The tables of `show` that say how strong the drink is and how its gravity is expected to fall.

Comes in: a `Plan` and a language.  Goes out: rows of cells.
"""

from __future__ import annotations

from sheetgen.commands import common
from sheetgen.planning.additions import LATER_STAGES
from sheetgen.planning.band import is_test
from sheetgen.planning.plan import Band, GravityRange, Plan
from sheetgen.printing.words import Words

Row = tuple[str, ...]


def plain(text: str) -> str:
    """The text with ordinary spaces, for a terminal."""
    return text.replace("\u00a0", " ").replace("\u202f", " ")


def strengths(plan: Plan, words: Words) -> list[Row]:
    """Gravities, strength by three rules, drink units."""
    found = plan.quantities
    final = found.final_gravity
    measured = (
        f"  (measured {words.measure(found.measured_original, 'sg')})" if found.measured_original else ""
    )
    return [
        ("original gravity", words.measure(found.original_gravity, "sg") + measured),
        *_brew_day(plan, words),
        ("final gravity", f"{words.measure(final.low, 'sg')} to {words.measure(final.high, 'sg')}"),
        ("never bottle above", words.measure(found.ceiling_gravity, "sg")),
        *_percents(plan, words),
        *_drink_units(plan, words),
        *_sulphites(found.sulphites_mg_per_litre, words),
    ]


def _brew_day(plan: Plan, words: Words) -> list[Row]:
    """The gravity and the mark of brew day, where more goes in later."""
    found = plan.quantities
    litres, sg = words.measure(found.mark_l, "litres"), words.measure(found.brewed_gravity, "sg")
    if (litres, sg) == (words.measure(found.litres, "litres"), words.measure(found.original_gravity, "sg")):
        return []
    if not any(use.stage in LATER_STAGES for use in found.ingredients):
        return []
    return [("on brew day", plain(f"{sg} in {litres}; more goes in later"))]


def _sulphites(mg: float, words: Words) -> list[Row]:
    return [("sulphites", f"about {words.number(mg, 0)} mg a litre")] if mg > 0 else []


def _percents(plan: Plan, words: Words) -> list[Row]:
    """The strength that labels print, and the same by the two other rules."""
    found = plan.quantities
    balling, duty, quick, sugar = (
        words.measure(value, "percent")
        for value in (
            found.percent_by_volume,
            found.percent_duty,
            found.percent_quick,
            found.percent_from_priming,
        )
    )
    has_sugar = found.percent_from_priming > 0
    primed = f", {sugar} of it from the sugar in the bottle" if has_sugar else ""
    without = ", without that sugar" if has_sugar else ""
    ended = f"{words.measure(found.percent_final, 'sg')} {found.percent_final_is}"
    return [
        ("strength", plain(f"about {balling}{primed}; final gravity {ended}")),
        ("by other rules", plain(f"duty table {duty}, quick rule {quick}{without}")),
    ]


def _drink_units(plan: Plan, words: Words) -> list[Row]:
    """Drink units as the country of the paper's language counts them; nothing where we know of none."""
    country = {"GB": "UK"}.get(plan.language[-2:], plan.language[-2:])
    rows = [row for row in plan.quantities.drink_units if row.country == country]
    if not rows:
        return []
    sizes = (f"{words.number(row.units, 1)} in {words.measure(row.ml, 'bottle')}" for row in rows)
    return [(f"{rows[0].name}s", plain(", ".join(sizes)))]


def expected_readings(plan: Plan, words: Words) -> list[Row]:
    """What the hydrometer should show on the test days, today and at the end, and between what it may."""
    if plan.gate.by_looks:
        return []
    found, days = plan.fermentation, {row.day: row for row in plan.gravity_band}
    rows = [
        (plain(words.day(task.when.expected)), words.task(task.id), *_span(days[task.day], words))
        for task in plan.tasks
        if task.state != "done" and is_test(task) and task.day in days
    ]
    rows += [("today", "", *_span(found.expected_now, words))] if found.expected_now else []
    rows.append(("at the end", "", *_span(found.finish, words)))
    if not found.readings_used:
        return rows
    rate = round(found.vigour * 100)
    rested = common.count(found.readings_used, "reading")
    return [*rows, ("pace", "", f"{rate} % of the usual", f"by {rested}")]


def _span(found: Band | GravityRange, words: Words) -> Row:
    low, expected, high = (words.measure(value, "sg") for value in (found.low, found.expected, found.high))
    return (expected, f"{low} to {high}")
