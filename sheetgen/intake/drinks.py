"""Drink files: from a name to `model.Drink`.

Comes in: a name, looked up beside the batch, in the person's own folder and among ours.  Goes out: the drink
(None when anything stops it), and all problems of its file.  A file may make its gate stricter than what its
ingredients ask for, never looser.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from types import MappingProxyType

from sheetgen import catalogue
from sheetgen.intake import drink_tables
from sheetgen.intake.forms import Desk, Form, Place, read_form
from sheetgen.intake.pantry import keepings
from sheetgen.model import Drink, DrinkGate, Job
from sheetgen.problems import Problem
from sheetgen.units import Celsius, Gravity, Volumes

HIGHEST_DRY, HIGHEST_STILL, LOWEST_DRY = 1.000, 0.998, 0.980
"""What a drink whose sugar can ferment out may read when it is bottled: with sugar in the bottle, still; and
the lowest that it can read at all.
"""
MOST_LOST = 0.3
WARMEST_REST_C = 24.0
"""Warmer than this, yeast is no longer at rest (cautious judgement, no source)."""
FIRST_DAYS = MappingProxyType({"test-1-earliest": 7, "bottle-earliest": 10})


def drink(name: str, beside: Path | None = None) -> tuple[Drink | None, tuple[Problem, ...]]:
    """A kind of drink by name, and what is wrong with its file."""
    path = catalogue.find("recipes/drinks", name, beside)
    if path is None:
        known = ", ".join(catalogue.names("recipes/drinks", beside))
        return None, (Problem("stop", f'there is no drink "{name}"', None, f"known are: {known}"),)
    found = catalogue.load(path)
    desk = Desk(date.min, beside)
    desk.problems.extend(found.problems)
    if found.node is None:
        return None, tuple(desk.problems)
    form = read_form(found.node, drink_tables.DRINK, Place(desk, (f"drink {name}",), "", found.node.span))
    if not desk.problems.stopped:
        _check(form, name, desk)
    return None if desk.problems.stopped else _drink(form, beside), tuple(desk.problems)


def _check(form: Form, name: str, desk: Desk) -> None:
    if form.get("drink") != name:
        form.place_of("drink").stop(f"this file is called {name}", f"write drink: {name}")
    if form.get("keeping") not in keepings(desk.beside):
        known = f"known are: {', '.join(keepings(desk.beside))}"
        form.place_of("keeping").stop(f'no way of keeping is called "{form.get("keeping")}"', known)
    if not form.get("primed") and not form.get("ferments-out"):
        form.place_of("primed").stop(
            "a still drink must ferment out: what is sweet and closed can still burst",
            "write ferments-out: yes, or primed: yes",
        )
    if form.get("primed") and not form.get("target"):
        form.place.stop("target: is missing: the usual gas", "write target: 2.4 volumes")
    if not form.get("primed") and form.said("target"):
        form.place_of("target").stop("a still drink gets no gas", "delete target:, or write primed: yes")
    _check_days(form)
    _check_gate(form)
    _check_jobs(form)


def _check_days(form: Form) -> None:
    """The walls that hold for every drink."""
    days = form.get("days")
    for key, least in FIRST_DAYS.items():
        if days.get(key) < least:
            days.place_of(key).stop(f"{key}: is never before day {least}", f"write {least}")


def _check_gate(form: Form) -> None:
    """The limits of the gate: only for what ferments out, and never looser than that."""
    gate = form.get("gate")
    if gate is None:
        return
    low, high = gate.get("low"), gate.get("high")
    if (low is not None or high is not None) and not form.get("ferments-out"):
        gate.place.stop(
            "the end of this drink is worked out from its ingredients", "leave low: and high: out"
        )
        return
    most = HIGHEST_DRY if form.get("primed") else HIGHEST_STILL
    if high is not None and not LOWEST_DRY < high <= most:
        gate.place_of("high").stop(
            f"a drink like this is never bottled above {most:.3f}", f"write {most:.3f}"
        )
    if low is not None and not LOWEST_DRY <= low < (high if high is not None else most):
        gate.place_of("low").stop("low: is the lowest usual reading, under high:", "write 0.985, for example")


def _check_jobs(form: Form) -> None:
    lost = 0.0
    for job in form.lists("jobs"):
        lost += job.get("loses") / 100 * len(job.lists("days"))
        days = job.lists("days")
        if not days:
            job.place.stop("this job has no day", "write days: [28, 70]")
        elif days != sorted(set(days)):
            fix = f"write days: [{', '.join(map(str, sorted(set(days))))}]"
            job.place_of("days").stop("the days of a job stand in their order, each once", fix)
        _check_warmth(job)
    if lost > MOST_LOST:
        form.place_of("jobs").stop("these jobs leave more than 30 % of the batch behind", "check each loses:")


def _check_warmth(job: Form) -> None:
    """Standing it warmer wakes the yeast, so no reading counts before it has settled; nothing else is tied
    to a temperature.
    """
    to, below = job.get("to"), job.get("below")
    if job.get("do") != "warm":
        if to is not None or below is not None:
            job.place.stop("below: and to: belong to the job warm", "leave them out")
        return
    if to is None:
        job.place.stop("how warm it stands is missing", "write to: 18-20 C")
    elif to[1] > WARMEST_REST_C or (below is not None and below > to[1]):
        job.place_of("to").stop(
            f"this is warmer than {WARMEST_REST_C:.0f} C, or cooler than below:", "write to: 18-20 C"
        )
    if not job.get("wakes"):
        job.place.stop("what stands warmer wakes its yeast", "write wakes: yes")
    if job.get("loses"):
        job.place_of("loses").stop("what stands warmer leaves nothing behind", "leave loses: out")


def _drink(form: Form, beside: Path | None) -> Drink:
    low, high = form.get("pitch")
    days = {each.key: form.get("days").get(each.key) for each in drink_tables.DAYS.fields}
    usual = form.get("gravity")
    return Drink(
        id=form.get("drink"),
        primed=form.get("primed"),
        ferments_out=form.get("ferments-out"),
        target=Volumes(form.get("target")),
        pitch=(Celsius(low), Celsius(high)),
        vessel_full=form.get("vessel-full") / 100,
        days=MappingProxyType({key: value for key, value in days.items() if value is not None}),
        keeping=keepings(beside)[form.get("keeping")],
        cautions=tuple(form.lists("cautions")),
        gate=_gate(form.get("gate")),
        gravity=(Gravity(usual[0]), Gravity(usual[1])) if usual else None,
        wait_days=int(form.get("wait") or 0),
        jobs=tuple(_job(job) for job in form.lists("jobs")),
        cold_days=int(form.get("cold-days")),
        smells=tuple(form.lists("smells")),
    )


def _gate(form: Form | None) -> DrinkGate:
    if form is None:
        return DrinkGate()
    return DrinkGate(int(form.get("gap") or 0), form.get("low"), form.get("high"))


def _job(form: Form) -> Job:
    below, to = form.get("below"), form.get("to")
    return Job(
        what=form.get("do"),
        days=tuple(form.lists("days")),
        minutes=float(form.get("minutes")),
        wakes=form.get("wakes"),
        loses=form.get("loses") / 100,
        quick=form.get("quick"),
        paced=form.get("paced"),
        apart=int(form.get("apart") or 0),
        may_wait=form.get("may-wait"),
        rest=int(form.get("rest") or 0),
        below=None if below is None else Celsius(below),
        to=(Celsius(to[0]), Celsius(to[1])) if to else None,
    )
