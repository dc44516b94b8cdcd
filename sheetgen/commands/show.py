"""show: the plan in the terminal, as tables that end in one sentence; or, with --json, for other programs."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from sheetgen import clock, report
from sheetgen.commands import common, show_events, show_gas
from sheetgen.commands.make import json_bytes
from sheetgen.commands.show_gate import gate_rows
from sheetgen.commands.show_strength import Row, expected_readings, strengths
from sheetgen.commands.show_strength import plain as _plain
from sheetgen.commands.show_timeline import Look, look_of_terminal, timeline
from sheetgen.commands.show_why import why_lines
from sheetgen.planning.as_json import stopped
from sheetgen.planning.band import is_test
from sheetgen.planning.bottling import enough_bottles, spares_missing
from sheetgen.planning.plan import (
    Move,
    PackChoice,
    Plan,
    Purchase,
    Remedies,
    Task,
    WaterPlan,
)
from sheetgen.planning.scaling import MOST_BATCH_L
from sheetgen.planning.yeast_plan import OPENED_DAYS
from sheetgen.printing.views.common import dated
from sheetgen.printing.views.safety import reason_of
from sheetgen.printing.views.shop import caps_and_labels
from sheetgen.printing.words import Words
from sheetgen.problems import Problems, Said

_AMOUNTS = {"g": "mass", "ml": "ml", "piece": "number"}
_DO_FIRST = {
    "stuck": "do not bottle; warm it, swirl it closed, then ",
    "measure-again": "a fresh sample without bubbles, ",
}
_NOT_POSSIBLE = {
    "litres": "no batch of 1 to 100 L",
    "vessel": "too full for the vessel",
    "strength": "too strong",
}


def run(options: argparse.Namespace) -> int:
    """Show one batch; 1 if it is stopped."""
    wrong = common.unusable(options.files)
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    path = Path(options.files[0])
    if common.is_season(path) or common.is_class(path):
        return _run_several(path, options)
    loaded = common.load(path, options.today or clock.today())
    common.tell(loaded.problems, path, units=loaded.units)
    if loaded.plan is None or not loaded.good:
        if options.json:
            print_json(stopped_bytes(loaded.problems))
        return common.INPUT
    if options.json:
        print_json(json_bytes(loaded.plan))
    elif options.why:
        for line in why_lines(loaded.plan, common.words_of(common.ENGLISH, loaded.plan.units)):
            common.out(line)
    else:
        words = common.words_of(common.ENGLISH, loaded.plan.units)
        for line in lines(loaded.plan, words, look_of_terminal()):
            common.out(line)
    return common.FINE


def _run_several(path: Path, options: argparse.Namespace) -> int:
    from sheetgen.commands import show_class, show_season

    return show_season.run(path, options) if common.is_season(path) else show_class.run(path, options)


def stopped_bytes(problems: Problems) -> bytes:
    """What stands in for a plan that was stopped."""
    text = json.dumps(stopped(problems, common.in_english), indent=1, ensure_ascii=False)
    return text.encode("utf-8", "replace") + b"\n"


def print_json(data: bytes) -> None:
    """UTF-8, whatever the terminal's own encoding is."""
    buffer = getattr(sys.stdout, "buffer", None)
    if buffer is None:
        common.out(data.decode().rstrip("\n"))
    else:
        sys.stdout.flush()
        buffer.write(data)
        buffer.flush()


def lines(plan: Plan, words: Words, look: Look) -> Iterator[str]:
    """The whole plan in lines, the sentence about what is next at the end."""
    words = dated(plan, words)
    if plan.safety:
        yield from _unsafe(plan, words, look)
        return
    yield " · ".join(part for part in (plan.code, plan.name, _litres(plan, words), plan.brewer) if part)
    yield from ("", "Timeline", *timeline(plan, words, look))
    yield from headed(
        ("Days", _days(plan, words)),
        ("Events", show_events.event_rows(plan, words)),
        ("Ingredients", _ingredients(plan, words)),
        ("Packs", _purchases(plan, words)),
        ("Ways to use whole packs", _pack_choices(plan, words)),
        ("Water", _water(plan, words)),
        ("Strength", strengths(plan, words)),
        ("Sugar", show_gas.sugar_rows(plan.carbonation, words)),
        ("Pressure", show_gas.pressure_rows(plan.carbonation, words)),
        ("What if", show_gas.what_if_rows(plan.carbonation, words)),
        ("Bottles", _bottles(plan, words)),
        ("Keeping", _keeping(plan, words)),
        ("Cleaning", _cleaning(plan, words)),
        ("Expected readings", expected_readings(plan, words)),
        ("Gate", gate_rows(plan, words)),
    )
    yield ""
    yield next_step(plan, words)


def _unsafe(plan: Plan, words: Words, look: Look) -> Iterator[str]:
    """What was done, why nobody touches a bottle, and the safety sheet's days; nothing about drinking."""
    yield " · ".join(part for part in (plan.code, plan.name, _litres(plan, words), plan.brewer) if part)
    yield from ("", "Timeline", *timeline(plan, words, look))
    because = plan.safety.because if plan.safety else ()
    yield from headed(
        ("Days", _days(plan, words)),
        ("What happened", [(_plain(reason_of(one, words)),) for one in because]),
        ("Gate, when the bottles were filled", gate_rows(plan, words)),
    )
    yield ""
    yield next_step(plan, words)


def headed(*tables: tuple[str, Sequence[Row]]) -> Iterator[str]:
    """Tables under their titles, an empty line above each; a table without rows is left out."""
    for title, rows in tables:
        if rows:
            yield from ("", title, *aligned(rows))


def aligned(rows: Sequence[Row], gap: int = 2) -> Iterator[str]:
    """Rows as a table: every column as wide as its widest cell; a row of one cell is a sentence."""
    columns = max(len(row) for row in rows)
    wide = [row for row in rows if len(row) > 1] or rows
    widths = [max(report.width_of(row[at]) if at < len(row) else 0 for row in wide) for at in range(columns)]
    for row in rows:
        cells = [cell + " " * (widths[at] - report.width_of(cell) + gap) for at, cell in enumerate(row)]
        yield f"  {''.join(cells)}".rstrip()


def next_step(plan: Plan, words: Words) -> str:
    """What now, when, why: one sentence."""
    if plan.safety:
        reasons = [reason_of(reason, words).rstrip(".") for reason in plan.safety.because[:1]]
        return _plain(f"Now: read the safety sheet before anybody touches a bottle{_in_brackets(reasons)}.")
    task = next((task for task in plan.tasks if task.state == "next"), None)
    if task is None:
        return f"Nothing is left to do; best until {words.day(plan.labels.best_before, 'full-date')}."
    when = f"{words.task(task.id)}, {words.day(task.when.expected, 'long-date')}"
    return _plain(f"Next: {_DO_FIRST.get(plan.gate.state, '')}{when}{_why_now(plan, task, words)}")


def _why_now(plan: Plan, task: Task, words: Words) -> str:
    """The gate's own reason where it holds the batch back, or lets it pass with care; else the task's."""
    test = is_test(task) and plan.gate.state in _DO_FIRST
    careful = task.id == "bottle" and plan.gate.state in ("pass-with-care", "by-looks")
    if not (test or careful):
        return _why(task, words)
    return f"{_in_brackets([words.say(reason) for reason in plan.gate.because[:1]])}."


def _why(task: Task, words: Words) -> str:
    reasons = [words.say(move.because) for move in task.moves[-1:]] or [
        words.say(reason) for reason in task.when.because[:1]
    ]
    return f"{_in_brackets(reasons)}."


def _in_brackets(reasons: Sequence[str]) -> str:
    """The first reason, whatever its grammar."""
    return f" ({reasons[0].rstrip('.')})" if reasons else ""


def _litres(plan: Plan, words: Words) -> str:
    return _plain(words.measure(plan.quantities.litres, "litres"))


# The tables


def _days(plan: Plan, words: Words) -> list[Row]:
    head = ("", "", "day", "earliest", "expected", "latest")
    return [head, *(row for task in plan.tasks for row in _day(task, words))]


def _day(task: Task, words: Words) -> Iterator[Row]:
    """A task in its columns; what moved says why in a line below."""
    sign = {"done": "x", "next": ">"}.get(task.state, " ")
    days = [_date(day, words) if day else "any later day" for day in (task.first_day, task.when.expected)]
    latest = _date(task.when.latest, words) if task.when.latest else "any later day"
    hours = task.id.removeprefix("look-") if task.id.startswith("look-") else ""
    clock = words.clock(task.clock) if task.clock else hours
    yield sign, f"{words.task(task.id)} {clock}".rstrip(), _number(task), *days, latest
    for move in task.moves[-1:]:
        yield (_plain(f"     {_moved(move, words)}"),)


def _number(task: Task) -> str:
    """The day's number; what stands before day 0 has none."""
    return str(task.day) if task.day >= 0 else "–"


def _moved(move: Move, words: Words) -> str:
    """Where it stood, why it moved, and what that costs."""
    cost = f"; {words.say(move.cost)}" if move.cost else ""
    return f"was {_date(move.was, words)}: {words.say(move.because)}{cost}"


def _date(day: date, words: Words) -> str:
    return _plain(words.day(day))


def _ingredients(plan: Plan, words: Words) -> list[Row]:
    rows: list[Row] = []
    for use in plan.quantities.ingredients:
        kind = _AMOUNTS.get(use.unit, "number")
        rows.append((_plain(words.measure(use.amount, kind)), use.name))
    found = plan.quantities
    low, high = (words.measure(grams, "mass") for grams in (found.yeast_low_g, found.yeast_high_g))
    usual = f"{low} to {high} is usual" if low != high else f"{low} is usual"
    return [*rows, (_plain(words.measure(found.yeast_grams, "mass")), found.yeast_name, _plain(usual))]


def _purchases(plan: Plan, words: Words) -> list[Row]:
    """What to buy, in packs, with what is left and how long it keeps."""
    rows = [_purchase(bought, words) for bought in plan.quantities.purchases if bought.pack_mix]
    found = plan.quantities
    sachets = f"{found.yeast_packs} × {words.measure(found.yeast_pack_g, 'mass')}"
    left = words.measure(found.yeast_left_g, "mass")
    keeps = f"keeps {OPENED_DAYS} days, cold" if found.yeast_left_g else ""
    spare = f"{left} left over, and one to spare" if found.yeast_left_g else "and one to spare"
    return [*rows, (_plain(sachets), found.yeast_name, _plain(spare), keeps)]


def _purchase(bought: Purchase, words: Words) -> Row:
    kind = _AMOUNTS.get(bought.unit, "number")
    mix = " + ".join(f"{packs} × {words.measure(size, kind)}" for packs, size in bought.pack_mix)
    left = f"{words.measure(bought.left, kind)} left over" if bought.left > 0 else ""
    keeps = f"keeps {bought.keeps_days} days, {bought.keeps_how}" if left and bought.keeps_days else ""
    return (_plain(mix), bought.name, _plain(left), keeps)


def _pack_choices(plan: Plan, words: Words) -> list[Row]:
    """The three ways side by side; the one that is planned has a sign."""
    rows: list[Row] = [("", "", "litres", "gravity", "strength", "packs", "left over", "fills")]
    rows += [_pack_choice(choice, words) for choice in plan.quantities.pack_choices]
    return rows if len(rows) > 1 else []


def _pack_choice(choice: PackChoice, words: Words) -> Row:
    left = [words.measure(choice.left_g, "mass")] if choice.left_g else []
    left += [words.measure(choice.left_ml, "ml")] if choice.left_ml else []
    return (
        ">" if choice.chosen else "",
        choice.way,
        _plain(words.measure(choice.litres, "litres")),
        words.measure(choice.original_gravity, "sg"),
        _plain(words.measure(choice.percent_by_volume, "percent")),
        str(choice.packs),
        _plain(" + ".join(left) or "–"),
        _fills(choice),
    )


def _fills(choice: PackChoice) -> str:
    """How many bottles, or why it cannot be: too many or too few litres, or more in them than they are."""
    if choice.stopped_by == "litres" and choice.way != "volume-follows" and choice.litres <= MOST_BATCH_L:
        return "more goes in than its litres"
    return _NOT_POSSIBLE.get(choice.stopped_by or "", common.count(choice.bottles, "bottle"))


def _water(plan: Plan, words: Words) -> list[Row]:
    water = plan.quantities.water
    held = (("hot", water.kettle_l), ("from the fridge", water.fridge_l), ("from the tap", water.tap_l))
    rows: list[Row] = [(_plain(words.measure(litres, "litres")), name) for name, litres in held if litres > 0]
    if water.ice_kg:
        rows.append((_plain(words.measure(1000 * water.ice_kg, "mass")), "of clean ice"))
    mixed = words.measure(water.mixed_c, "temperature")
    spread = words.measure(water.plus_minus_c, "degrees")
    rows.append((_plain(mixed), _plain(f"in the {plan.vessel_name or 'vessel'}, give or take {spread}")))
    return [*rows, *_cooled(water, words), *_boil(plan, words), *_ways(water.remedies, words)]


def _cooled(water: WaterPlan, words: Words) -> Iterator[Row]:
    """The bath before the mix and the wait after it, as planned."""
    if water.cool_pot_to_c is not None:
        pot = words.measure(water.cool_pot_to_c, "temperature")
        minutes = words.measure(water.cool_minutes or 0.0, "duration")
        yield _plain(pot), _plain(f"the pot before that, about {minutes} in cold water")
    if water.wait_minutes:
        pitched = words.measure(water.pitch_c, "temperature")
        minutes = words.measure(water.wait_minutes, "duration")
        yield _plain(pitched), _plain(f"for the yeast, after about {minutes} of waiting")


def _boil(plan: Plan, words: Words) -> Iterator[Row]:
    """Steam and the gravity of the pot, for boiled recipes."""
    water = plan.quantities.water
    if water.pot_gravity is not None:
        yield _plain(words.measure(water.boiled_off_l, "litres")), "of the hot boils away"
        yield words.measure(water.pot_gravity, "sg"), "in the pot, over the whole boil"


def _ways(ways: Remedies | None, words: Words) -> Iterator[Row]:
    """Ice, bath and wait beside each other: what each would do alone."""
    if ways is None:
        return
    yield _plain(words.measure(ways.unaided_c, "temperature")), "with hot and cold water alone; from there,"
    for amount, text, celsius in _each_way(ways, words):
        yield _plain(amount), _plain(f"{text} alone: {words.measure(celsius, 'temperature')}")


def _each_way(ways: Remedies, words: Words) -> Iterator[tuple[str, str, float]]:
    if ways.ice:
        yield words.measure(1000 * ways.ice.kg, "mass"), "of clean ice", ways.ice.mixed_c
    if ways.bath:
        pot = words.measure(ways.bath.pot_c, "temperature")
        minutes = words.measure(ways.bath.minutes, "duration")
        yield minutes, f"in a bath (the pot to {pot})", ways.bath.mixed_c
    if ways.wait:
        yield words.measure(ways.wait.minutes, "duration"), "of waiting", ways.wait.comes_to_c


def _bottles(plan: Plan, words: Words) -> list[Row]:
    rows: list[Row] = [("", "have", "fill", "number", "prepare", "short")]
    for row in plan.bottles.rows:
        size = _plain(f"{words.measure(row.ml, 'bottle')} {row.kind}")
        first, last = row.numbers
        numbers = "–" if not row.fill else str(first) if first == last else f"{first}–{last}"
        rows.append((size, str(row.have), str(row.fill), numbers, str(row.need), str(row.short or "–")))
    return [*rows, *((_plain(words.say(one)),) for one in _about_bottles(plan))]


def _about_bottles(plan: Plan) -> Iterator[Said]:
    """What the rows do not say: caps and labels, what is left over, what is short."""
    bottles = plan.bottles
    yield caps_and_labels(bottles)
    yield from (step.said for step in plan.bottling_steps if step.said.id.startswith("bottle-step.rest"))
    if bottles.more_ways:
        on = plan.task("bottle").when.expected
        yield enough_bottles(bottles.more_ways, on, spares_missing(bottles))


def _keeping(plan: Plan, words: Words) -> list[Row]:
    """Until when each kind of bottle is at its best and good, and when to taste."""
    kept = plan.keeping
    if kept is None:
        return []
    rows: list[Row] = [("", "at its best", "best before")]
    for one in kept.bottles:
        size = _plain(f"{words.measure(one.ml, 'bottle')} {one.kind}")
        best = f"{_date(kept.best_from, words)} to {_date(one.best_to, words)}"
        rows += [(size, best, _plain(words.day(one.best_before, "full-date")))] if one.filled else []
    days = ", ".join(_date(on, words) for _weeks, on in kept.tastings)
    return [*rows, (f"taste, and write it down: {days}",)] if days else rows


def _cleaning(plan: Plan, words: Words) -> list[Row]:
    return [
        (
            "brew day" if row.day == "brew" else "bottling day",
            _plain(words.measure(row.dose, _AMOUNTS.get(row.dose_unit, "number"))),
            row.product,
            _plain(f"in {words.measure(row.litres, 'litres')} of {row.water} water"),
        )
        for row in plan.lists.cleaning
    ]
