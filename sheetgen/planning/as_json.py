"""The plan for other programs: one explicit mapping, format "sheetgen-plan", version 1.

Comes in: a `Plan`, and a function that words a `Said` in English.  Goes out: a dict of plain values, in a
fixed order: numbers in the units that their keys name, dates as ISO 8601, sentences as {id, values,
text}.  The schema is `plan.schema.json` beside this file.  Within a version no key is renamed or gets a new
meaning; new ones may come. Left out: `Plan.sources`, which is what was read, not what is printed.
"""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.planning.json_amounts import (
    alcohol,
    bottles,
    carbonation,
    fermentation,
    quantities,
    what_ifs,
)
from sheetgen.planning.json_days import grounds, pace
from sheetgen.planning.json_events import events
from sheetgen.planning.json_pieces import (
    Json,
    Say,
    amount_or_none,
    each,
    each_said,
    named,
    plain,
    sentence_of,
)
from sheetgen.planning.plan import (
    Cleaning,
    Gate,
    KeepingPlan,
    LabelPlan,
    Line,
    Lists,
    Move,
    Plan,
    Safety,
    Sanitising,
    Step,
    Task,
    Tasting,
    Trouble,
    TroubleCard,
    When,
)
from sheetgen.problems import Problem, Said, said

FORMAT = "sheetgen-plan"
VERSION = 1

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
        "problems": [problem_json(problem, say) for problem in plan.problems],
        "quantities": quantities(plan.quantities),
        "alcohol": alcohol(plan.quantities),
        "allergens": list(plan.labels.allergens) if plan.labels.allergens_known else None,
        "carbonation": carbonation(plan.carbonation) if plan.carbonation else None,
        "what_ifs": what_ifs(plan.carbonation) if plan.carbonation else [],
        "bottles": bottles(plan.bottles),
        "pace": pace(plan.tempo),
        "tasks": [_task(task, say) for task in plan.tasks],
        "called_off": [_task(task, say) for task in plan.off],
        "dates": {name: _date_of(plan, task_id) for name, task_id in _DATES.items()},
        "keeping": _keeping(plan.keeping) if plan.keeping else None,
        "calendar": {"alarm_at": plan.alarm_at.isoformat("minutes") if plan.alarm_at else None},
        **events(plan),
        "away": [{"first": plain(first), "last": plain(last)} for first, last in plan.away],
        "gate": _gate(plan.gate, say),
        "gravity_band": each(plan.gravity_band, "day", "low", "expected", "high"),
        "fermentation": fermentation(plan.fermentation),
        "labels": _labels(plan.labels),
        "steps": [_step(step, say) for step in plan.steps],
        "bottling_steps": [_step(step, say) for step in plan.bottling_steps],
        "brew_minutes": plain(plan.brew_minutes),
        "lists": _lists(plan.lists, say),
        "cleaning": [_cleaning(row) for row in plan.lists.cleaning],
        "cautions": list(plan.cautions),
        "safety": _safety(plan.safety, say) if plan.safety else None,
        "tastings": [_tasting(one, say) for one in plan.tastings],
        "trouble": _trouble_card(plan.trouble, say) if plan.trouble else None,
        "program": {"version": plan.program, "rules_of": plain(plan.rules_of)},
    }


def stopped(problems: Iterable[Problem], say: Say) -> Json:
    """What stands in for a plan when there is none: the problems alone."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "problems": [problem_json(problem, say) for problem in problems],
    }


def title_of(task_id: str, say: Say) -> str:
    """A task in words: its own name, else its kind's ("rack" for rack-2, "add" for add-day-5), or its id."""
    stem = task_id.rstrip("0123456789").rstrip("-")
    for name in dict.fromkeys((task_id, stem, task_id.partition("-")[0])):
        try:
            title = say(said(f"task.{name}"))
        except LookupError:
            continue
        if title != f"task.{name}":
            return title
    return task_id


# Pieces that occur everywhere


def _when(when: When) -> Json:
    return named(when, "earliest", "expected", "latest")


# The parts of a plan


def _heading(plan: Plan) -> Json:
    return {
        "format": FORMAT,
        "version": VERSION,
        **named(plan, "printed", "revision", "units", "language", "paper"),
        "stocks": {
            "labels": plan.stock,
            "start_at": plan.start_at,
            "discs": plan.disc_stock,
            "discs_start_at": plan.discs_start_at,
            "tags": plan.tag_stock,
            "bands": plan.band_stock,
            "shift_mm": [plain(way) for way in plan.shift_mm],
            "bars_mm": [plain(way) for way in plan.bars_mm],
        },
        "batch": named(plan, "code", "name", "recipe", "drink", "brewer", "start", "boiled", "about"),
        "room": {
            "fermenting_low_c": plain(plan.room_c[0]),
            "fermenting_high_c": plain(plan.room_c[1]),
            **named(plan, "warm_place_c", "storing_c"),
        },
        "equipment": named(plan, "vessel_name", "vessel_l", "pot_l", "hydrometer_c"),
    }


def _assumption(key: str, sentence: Said, say: Say) -> Json:
    """`value` is the assumed value when the sentence states just one, else null; `values` has them all."""
    stated = sentence_of(sentence, say)
    values = list(stated["values"].values())
    value = values[0] if len(values) == 1 else None
    return {
        "what": key,
        "value": value,
        "why": stated["text"],
        "id": stated["id"],
        "values": stated["values"],
    }


def problem_json(problem: Problem, say: Say) -> Json:
    """A finding: its level, its sentences and its place."""
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


def _task(task: Task, say: Say) -> Json:
    return {
        "id": task.id,
        "title": title_of(task.id, say),
        "day": task.day,
        **_when(task.when),
        **named(task, "hands_on", "state", "clock"),
        "because": each_said(task.when.because, say),
        "moved_because": [_move(move, say) for move in task.moves],
        **grounds(task, say),
    }


def _move(move: Move, say: Say) -> Json:
    cost = sentence_of(move.cost, say) if move.cost else None
    return {"was": plain(move.was), **sentence_of(move.because, say), "cost": cost}


def _date_of(plan: Plan, task_id: str) -> Json | None:
    """The days of a task; without a hydrometer a look stands in the place of a test."""
    found = task_id if plan.has(task_id) else task_id.replace("test-", "taste-")
    return _when(plan.task(found).when) if plan.has(found) else None


def _gate(gate: Gate, say: Say) -> Json:
    return {
        "state": gate.state,
        "because": each_said(gate.because, say),
        **named(
            gate, "next_date", "gap_days", "low", "high", "ceiling", "pet_only", "by_looks", "tests_ahead"
        ),
        "looks": each(gate.looks, "on", "clear", "sweet", "counts"),
        "readings": each(gate.readings, "on", "sg", "celsius", "assumed_celsius", "corrected", "counts"),
        "correction_strip": [
            {"celsius": plain(at), "add_thousandths": plain(add)} for at, add in gate.correction_strip
        ],
    }


def _labels(labels: LabelPlan) -> Json:
    days = ("filled", "filled_is", "not_before", "wait_days", "best_from", "best_to", "best_before")
    choices = [{"filled": plain(day), "not_before": plain(then)} for day, then in labels.fill_choices]
    return {"allowed": labels.allowed, **named(labels, *days), "fill_choices": choices}


def _keeping(kept: KeepingPlan) -> Json:
    return {
        **named(kept, "name", "stronger", "hoppier", "store_factor", "best_from"),
        "bottles": each(kept.bottles, "ml", "kind", "best_to", "best_before", "filled"),
        "tastings": [{"weeks": weeks, "on": plain(on)} for weeks, on in kept.tastings],
        "hot": each(kept.hot, "on", "celsius", "move_by", "gauge_bar", "with_air_bar", "begins"),
    }


def _step(step: Step, say: Say) -> Json:
    return {
        **sentence_of(step.said, say),
        "group": step.group,
        "amount": amount_or_none(step.amount),
        "note": sentence_of(step.note, say) if step.note else None,
        "write": amount_or_none(step.write),
        **named(step, "caution", "minutes", "clock", "left_min"),
        "instead": each_said(step.instead, say),
    }


def _lists(lists: Lists, say: Say) -> Json:
    return {
        "buy": [line_json(line, say) for line in lists.buy],
        "set_out": [line_json(line, say) for line in lists.set_out],
        "evening_before": [line_json(line, say) for line in lists.evening_before],
        "sanitising": _sanitising(lists.sanitising),
        "left_overs": [line_json(line, say) for line in lists.left_overs],
        "about_packs": each_said(lists.about_packs, say),
    }


def line_json(line: Line, say: Say) -> Json:
    """A line of a list."""
    note = sentence_of(line.note, say) if line.note else None
    return {
        **sentence_of(line.said, say),
        "amount": amount_or_none(line.amount),
        "by": plain(line.by),
        "note": note,
    }


def _sanitising(found: Sanitising) -> Json:
    doses = ("brew_day_l", "brew_day_dose", "bottling_day_l", "bottling_day_dose", "dose_unit")
    low, high = found.minutes
    doses_and_product = named(found, "product", *doses, "rinse")
    return {**doses_and_product, "minutes_low": plain(low), "minutes_high": plain(high)}


def _cleaning(row: Cleaning) -> Json:
    low, high = row.minutes
    return {
        **named(row, "day", "what", "product", "litres", "dose", "dose_unit"),
        "minutes_low": plain(low),
        "minutes_high": plain(high),
        **named(row, "rinse", "water", "soaks", "caution"),
        "parts": each(row.parts, "what", "litres"),
    }


def _trouble_card(card: TroubleCard, say: Say) -> Json:
    places = {"vessel": card.vessel, "bottles": card.bottles, "any_day": card.any_day}
    return {
        "facts": each_said(card.facts, say),
        **{name: [_trouble(one, say) for one in troubles] for name, troubles in places.items()},
    }


def _trouble(one: Trouble, say: Say) -> Json:
    return {
        "id": one.id,
        "when": sentence_of(one.when, say),
        "then": each_said(one.then, say),
        "caution": one.caution,
        "now": one.now,
    }


def _tasting(one: Tasting, say: Say) -> Json:
    return {**named(one, "on", "gas", "note", "next_on"), "says": sentence_of(one.says, say)}


def _safety(safety: Safety, say: Say) -> Json:
    return {"because": each_said(safety.because, say), "cautions": list(safety.cautions)}
