"""show and check, for a class: everybody with their days, and where they stand, as tables in the terminal.

Comes in: a class file, or a `ClassPlan` and words.  Goes out: lines.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from sheetgen import clock
from sheetgen.commands import classes, common
from sheetgen.commands.show import headed, print_json, stopped_bytes
from sheetgen.commands.show_strength import Row
from sheetgen.commands.show_strength import plain as _plain
from sheetgen.planning.class_plan import ClassPlan, Joint, Standing
from sheetgen.printing.words import Words

STANDS = {
    "unsafe": "filled too early: give them the safety sheet now",
    "stuck": "stuck: do not bottle",
    "may-bottle": "may bottle",
    "measure-again": "measure again",
    "wait": "wait",
    "to-test": "not yet tested",
    "to-brew": "not yet brewed",
    "in-bottles": "in bottles",
}
_UNITS = {"g": "mass", "ml": "ml", "piece": "number"}


def run(path: Path, options: argparse.Namespace) -> int:
    """Show one class; 1 if anybody is stopped."""
    order = classes.Order(options.today or clock.today(), {})
    loaded = classes.load(path, order, lay_out=False, keep=options.json)
    classes.tell(loaded.problems, path, loaded.file)
    if loaded.plan is None or loaded.problems.stopped:
        if options.json:
            print_json(stopped_bytes(loaded.problems))
        return common.INPUT
    if options.json:
        print_json(classes.json_bytes(loaded.plan, loaded.problems, loaded.texts))
    else:
        for line in lines(loaded.plan, common.words_of(common.ENGLISH, loaded.plan.units)):
            common.out(line)
    return common.FINE


def lines(found: ClassPlan, words: Words) -> Iterator[str]:
    """The whole class in lines."""
    title = f"Class {found.code} · {common.count(len(found.people), 'person', 'people')}"
    yield f"{title} · {found.coach}" if found.coach else title
    yield from headed(
        ("Days", _days(found, words)), ("Bought together", [_joint(one, words) for one in found.shopping])
    )
    yield ""
    yield from stand_lines(found, words)


def stand_lines(found: ClassPlan, words: Words) -> Iterator[str]:
    """Where everybody stands, who needs the coach first at the top."""
    yield "Who is where, the next to look after first"
    ordered = sorted(found.people, key=lambda one: one.turn)
    yield from list(headed(("", [_stand(one, words) for one in ordered])))[2:]


def _day(day: date | None, words: Words) -> str:
    return _plain(words.day(day, "date")) if day else "–"


def _days(found: ClassPlan, words: Words) -> list[Row]:
    rows: list[Row] = [("", "", "litres", "brew", "first test", "bottle", "drink from")]
    for one in found.people:
        days = [
            _day(one.on("brew"), words),
            _day(one.on("test-1") or one.on("taste-1"), words),
            _day(one.on("bottle"), words),
            _day(one.on("drink-from"), words),
        ]
        rows.append((one.code, one.name, _plain(words.measure(one.litres, "litres")), *days))
    return rows


def _joint(one: Joint, words: Words) -> Row:
    kind = _UNITS[one.unit]
    packs = " and ".join(
        f"{number} x {_plain(words.measure(size, kind if one.kind != 'yeast' else 'mass'))}"
        for number, size in one.packs
    )
    left = f"{_plain(words.measure(one.left, kind))} left" if one.packs and one.left else ""
    left = f"{one.spare} of them to spare" if one.spare else left
    name = "crown caps" if one.kind == "caps" else one.name
    return (_plain(words.measure(one.amount, kind)), name, packs or "loose", left)


def _stand(one: Standing, words: Words) -> Row:
    read = f"{words.measure(one.read[1], 'sg')} on {_day(one.read[0], words)}" if one.read else ""
    coming = f"{words.task(one.next.id)}, {_day(one.next.on, words)}" if one.next else "nothing left to do"
    urgent = one.stand in ("unsafe", "stuck")
    why = "; ".join(_plain(words.say(reason)).rstrip(".") for reason in one.because[:1])
    told = f"{STANDS[one.stand]}{f' ({why})' if why and one.read and one.stand != 'in-bottles' else ''}"
    return (one.code, one.name, told, read, "" if urgent else _plain(coming))
