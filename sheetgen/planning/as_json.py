"""The plan for other programs: one explicit mapping, format "sheetgen-plan", version 1.

Comes in: a `Plan`, and a function that words a `Said` in English.  Goes out: a dict of plain values, in a
fixed order: numbers in the units that their keys name, dates as ISO 8601, sentences as {id, values,
text}.  The schema is `plan.schema.json` beside this file.  Within a version no key is renamed or gets a new
meaning; new ones may come. Left out: `Plan.sources`, which is what was read, not what is printed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any

from sheetgen.planning.plan import (
    Amount,
    BottlePlan,
    BottleRow,
    Carbonation,
    Gate,
    LabelPlan,
    Line,
    Lists,
    Plan,
    Quantities,
    Safety,
    Sanitising,
    Step,
    Task,
    When,
)
from sheetgen.problems import Problem, Said, said

FORMAT = "sheetgen-plan"
VERSION = 1
Say = Callable[[Said], str]
Json = dict[str, Any]

_DATES = {
    "brew_day": "brew",
    "first_test": "test-1",
    "second_test": "test-2",
    "bottling": "bottle",
    "earliest_drinking": "drink-from",
    "best_from": "best-from",
    "best_before": "best-before",
}


def as_json(plan: Plan, say: Say) -> Json:
    """The whole plan; `say` words a sentence in English."""
    return {
        **_heading(plan),
        "assumptions": [_assumption(key, sentence, say) for key, sentence in plan.assumptions],
        "problems": [_problem(problem, say) for problem in plan.problems],
        "quantities": _quantities(plan.quantities),
        "alcohol": _alcohol(plan.quantities),
        "allergens": list(plan.labels.allergens) if plan.labels.allergens_known else None,
        "carbonation": _carbonation(plan.carbonation) if plan.carbonation else None,
        "bottles": _bottles(plan.bottles),
        "tasks": [_task(task, say) for task in plan.tasks],
        "dates": {name: _date_of(plan, task_id) for name, task_id in _DATES.items()},
        "away": [{"first": _plain(first), "last": _plain(last)} for first, last in plan.away],
        "gate": _gate(plan.gate, say),
        "labels": _labels(plan.labels),
        "steps": [_step(step, say) for step in plan.steps],
        "bottling_steps": [_step(step, say) for step in plan.bottling_steps],
        "brew_minutes": _plain(plan.brew_minutes),
        "lists": _lists(plan.lists, say),
        "cautions": list(plan.cautions),
        "safety": _safety(plan.safety, say) if plan.safety else None,
    }


def stopped(problems: Iterable[Problem], say: Say) -> Json:
    """What stands in for a plan when there is none: the problems alone."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "problems": [_problem(problem, say) for problem in problems],
    }


def title_of(task_id: str, say: Say) -> str:
    """A task's name in words: its own, or that of its kind ("add" for add-day-5), or else its id."""
    for name in (task_id, task_id.partition("-")[0]):
        try:
            return say(said(f"task.{name}"))
        except LookupError:
            continue
    return task_id


# Pieces that occur everywhere


def _plain(value: Any) -> Any:
    """A value as JSON has it: dates as text, numbers without the dust of binary fractions."""
    if isinstance(value, date):
        return value.isoformat()
    return round(value, 6) if isinstance(value, float) else value


def _named(record: object, *names: str) -> Json:
    """The attributes of a record that go out under their own names."""
    return {name: _plain(getattr(record, name)) for name in names}


def _each(records: Iterable[object], *names: str) -> list[Json]:
    return [_named(record, *names) for record in records]


def _said(sentence: Said, say: Say) -> Json:
    values = {name: _plain(value) for name, value in sorted(sentence.values.items())}
    return {"id": sentence.id, "values": values, "text": say(sentence)}


def _each_said(sentences: Iterable[Said], say: Say) -> list[Json]:
    return [_said(sentence, say) for sentence in sentences]


def _amount(amount: Amount | None) -> Json | None:
    return _named(amount, "value", "unit") if amount else None


def _when(when: When) -> Json:
    return _named(when, "earliest", "expected", "latest")


# The parts of a plan


def _heading(plan: Plan) -> Json:
    return {
        "format": FORMAT,
        "version": VERSION,
        **_named(plan, "printed", "revision", "units", "language", "paper"),
        "stocks": {
            "labels": plan.stock,
            "start_at": plan.start_at,
            "discs": plan.disc_stock,
            "discs_start_at": plan.discs_start_at,
        },
        "batch": _named(plan, "code", "name", "recipe", "drink", "brewer", "start", "boiled", "about"),
        "room": {
            "fermenting_low_c": _plain(plan.room_c[0]),
            "fermenting_high_c": _plain(plan.room_c[1]),
            **_named(plan, "warm_place_c", "storing_c"),
        },
        "equipment": _named(plan, "vessel_name", "vessel_l", "pot_l", "hydrometer_c"),
    }


def _assumption(key: str, sentence: Said, say: Say) -> Json:
    """`value` is the assumed value when the sentence states just one, else null; `values` has them all."""
    stated = _said(sentence, say)
    values = list(stated["values"].values())
    value = values[0] if len(values) == 1 else None
    return {
        "what": key,
        "value": value,
        "why": stated["text"],
        "id": stated["id"],
        "values": stated["values"],
    }


def _problem(problem: Problem, say: Say) -> Json:
    span = problem.span
    return {
        "level": problem.level,
        "text": _worded(problem.message, say),
        "fix": _worded(problem.fix, say),
        "id": problem.message.id if isinstance(problem.message, Said) else None,
        "path": list(problem.path),
        "file": span.file if span else None,
        "line": span.line if span else None,
        "column": span.column if span else None,
    }


def _worded(message: str | Said, say: Say) -> str:
    return message if isinstance(message, str) else say(message)


def _quantities(found: Quantities) -> Json:
    uses = ("id", "name", "role", "amount", "unit", "packs", "pack", "left", "stage", "minutes", "day")
    water = ("kettle_l", "fridge_l", "tap_l", "mixed_c", "plus_minus_c", "cool_pot_to_c", "cool_minutes")
    return {
        **_named(found, "litres", "original_gravity", "original_low", "original_high", "measured_original"),
        "final_gravity": _named(found.final_gravity, "low", "expected", "high"),
        **_named(found, "ceiling_gravity", "percent_by_volume", "bitterness_ibu", "colour_ebc"),
        "ingredients": _each(found.ingredients, *uses),
        "water": _named(found.water, *water, "wait_minutes", "boiled_off_l", "pot_gravity"),
        **_named(found, "yeast_name", "yeast_packs", "yeast_grams", "yeast_pack_g", "loss_l", "bottling_l"),
    }


def _alcohol(found: Quantities) -> Json:
    """Percent by volume: by Balling's relation, by the duty factor, and what the sugar in the bottle adds."""
    return {
        "balling": _plain(found.percent_by_volume),
        "duty": _plain(found.percent_duty),
        "from_priming": _plain(found.percent_from_priming),
    }


def _carbonation(gas: Carbonation) -> Json:
    size = ("ml", "kind", "count", "grams_each", "grams_exact", "teaspoons_each", "volumes_upper")
    return {
        **_named(
            gas,
            "target_volumes",
            "warmest_c",
            "residual_volumes",
            "sugar",
            "dosing",
            "g_per_litre",
            "total_g",
        ),
        **_named(gas, "syrup_water_ml", "limit_volumes", "warn_volumes", "weakest", "highest_volumes"),
        "one_point_volumes": _plain(gas.one_point_volumes),
        "pressures": _each(gas.pressures, "celsius", "gauge_bar", "with_air_bar"),
        "sizes": _each(gas.sizes, *size),
        "ladder": _each(gas.ladder, "litres", "grams"),
    }


def _bottles(bottles: BottlePlan) -> Json:
    """Totals, and the rows in the order in which they are filled."""
    return {
        "need": sum(row.need for row in bottles.rows),
        "have": sum(row.have for row in bottles.rows),
        "short": sum(row.short for row in bottles.rows),
        "caps": bottles.crown_caps,
        **_named(
            bottles, "filled", "spares", "labels", "last_ml", "unhoused_l", "more_needed", "test_bottle"
        ),
        "rows": [_bottle_row(row) for row in bottles.rows],
    }


def _bottle_row(row: BottleRow) -> Json:
    first, last = row.numbers
    plain = _named(row, "ml", "kind", "glass", "have", "fill", "need", "short", "what_for")
    return {**plain, "first_number": first, "last_number": last}


def _task(task: Task, say: Say) -> Json:
    return {
        "id": task.id,
        "title": title_of(task.id, say),
        "day": task.day,
        **_when(task.when),
        **_named(task, "hands_on", "state", "clock"),
        "because": _each_said(task.when.because, say),
        "moved_because": [{"was": _plain(move.was), **_said(move.because, say)} for move in task.moves],
    }


def _date_of(plan: Plan, task_id: str) -> Json | None:
    return _when(plan.task(task_id).when) if plan.has(task_id) else None


def _gate(gate: Gate, say: Say) -> Json:
    return {
        "state": gate.state,
        "because": _each_said(gate.because, say),
        **_named(gate, "next_date", "gap_days", "low", "high", "ceiling", "pet_only"),
        "readings": _each(gate.readings, "on", "sg", "celsius", "assumed_celsius", "corrected", "counts"),
        "correction_strip": [
            {"celsius": _plain(at), "add_thousandths": _plain(add)} for at, add in gate.correction_strip
        ],
    }


def _labels(labels: LabelPlan) -> Json:
    days = ("filled", "filled_is", "not_before", "wait_days", "best_from", "best_to", "best_before")
    choices = [{"filled": _plain(day), "not_before": _plain(then)} for day, then in labels.fill_choices]
    return {"allowed": labels.allowed, **_named(labels, *days), "fill_choices": choices}


def _step(step: Step, say: Say) -> Json:
    return {
        **_said(step.said, say),
        "group": step.group,
        "amount": _amount(step.amount),
        "note": _said(step.note, say) if step.note else None,
        "write": _amount(step.write),
        **_named(step, "caution", "minutes", "clock", "left_min"),
    }


def _lists(lists: Lists, say: Say) -> Json:
    return {
        "buy": [_line(line, say) for line in lists.buy],
        "set_out": [_line(line, say) for line in lists.set_out],
        "evening_before": [_line(line, say) for line in lists.evening_before],
        "sanitising": _sanitising(lists.sanitising),
    }


def _line(line: Line, say: Say) -> Json:
    note = _said(line.note, say) if line.note else None
    return {**_said(line.said, say), "amount": _amount(line.amount), "by": _plain(line.by), "note": note}


def _sanitising(found: Sanitising) -> Json:
    doses = ("brew_day_l", "brew_day_dose", "bottling_day_l", "bottling_day_dose", "dose_unit")
    low, high = found.minutes
    plain = _named(found, "product", *doses, "rinse")
    return {**plain, "minutes_low": _plain(low), "minutes_high": _plain(high)}


def _safety(safety: Safety, say: Say) -> Json:
    return {"because": _each_said(safety.because, say), "cautions": list(safety.cautions)}
