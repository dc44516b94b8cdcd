"""The ruler page: what a printer does to the size and the place of what it prints, and what to write then.

Comes in: a `Plan`, or `Bare` where there is no batch, and `Words`.  Goes out: the view of
layouts/documents/ruler.layout.  It is the same page for every batch, and never corrected: it shows the bare
printer.
"""

from __future__ import annotations

from datetime import date

from sheetgen.planning.plan import Plan
from sheetgen.printing.views.common import View, foot, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import said
from sheetgen.records import record

CROSS_MM = 10.0
"""Of the cross in the upper left corner, from both edges: near enough that no stretch moves it by much."""
EDGES_MM = (5.0, 10.0, 12.0, 15.0)
EXAMPLE = (99.4, 99.7, 10.6, 9.2)
"""What somebody measured: the bars across and down, then the cross from the left and from the upper edge."""
FITTED_MM = (99.0, 101.0)
"""Bars outside of these are those of a page that was fitted to something."""
BAR_MM = 100
_NAMES = ("across", "down", "left", "top")
_FIELDS = ("pale", "hatch", "outline", "solid")
_LINES = ((0.3, False), (0.5, False), (0.5, True), (0.8, False), (1.5, False))
TYPES = ((8.0, 5.6, False), (10.5, 5.8, False), (10.5, 5.8, True), (13.5, 7.0, False))
_STEPS = 4


@record
class Bare:
    """A page without a batch: its paper, its language, and the day of printing."""

    paper: str
    language: str
    printed: date


def ruler(plan: Plan | Bare, words: Words) -> View:
    """What the ruler page shows."""
    title, low, high = words.say("ruler.title"), *FITTED_MM
    return frozen(
        title=title,
        paper=_paper(plan, words),
        subtitle=words.say("ruler.subtitle"),
        foot=_foot(plan, words, title),
        edges=tuple(frozen(mm=mm, says=words.say(said("ruler.mm", mm=_plain(words, mm)))) for mm in EDGES_MM),
        cross=CROSS_MM,
        steps=tuple(
            frozen(number=str(number), text=words.say(f"ruler.step.{number}"))
            for number in range(1, _STEPS + 1)
        ),
        ticks=tuple(_tick(mm) for mm in range(1, BAR_MM + 1)),
        fields=tuple(frozen(kind=kind, says=words.say(f"ruler.field.{kind}")) for kind in _FIELDS),
        lines=tuple(_line(weight, dots, words) for weight, dots in _LINES),
        seen=tuple(words.say(f"ruler.seen.{number}") for number in (1, 2)),
        about=(
            words.say(said("ruler.fitted", low=_plain(words, low), high=_plain(words, high))),
            words.say("ruler.frames"),
            words.say("ruler.nothing"),
        ),
        types=tuple(_type(points, step, grey, words) for points, step, grey in TYPES),
        heads=tuple(words.say(f"ruler.head.{name}") for name in ("measure", "example", "mine", "write")),
        rows=tuple(_row(name, measured, words) for name, measured in zip(_NAMES, EXAMPLE, strict=True)),
        in_file=words.say("ruler.in-file"),
        yaml=tuple(frozen(**{"in": depth, "text": text}) for depth, text in written(*EXAMPLE)),
    )


def written(across: float, down: float, left: float, top: float) -> tuple[tuple[int, str], ...]:
    """The lines of a batch file for what was measured in millimetres, each with its depth."""
    right, lower = CROSS_MM - left, CROSS_MM - top
    return (
        (0, "labels:"),
        (1, f"shift: {{right: {right:.1f} mm, down: {lower:.1f} mm}}"),
        (1, f"bars: {{across: {across:.1f} mm, down: {down:.1f} mm}}"),
    )


def _tick(mm: int) -> View:
    """One millimetre of both bars, as points of a square of 100 mm with its corner at the upper left."""
    tenth = mm % 10 == 0
    long = 0.05 if mm == BAR_MM else 0.035 if tenth else 0.025 if mm % 5 == 0 else 0.015
    way = mm / BAR_MM
    return frozen(
        way=way,
        long=long,
        across=f"{way:g},1 {way:g},{1 - long:g}",
        down=f"0,{1 - way:g} {long:g},{1 - way:g}",
        weight=0.5 if tenth else 0.25,
        says=str(mm) if tenth else "",
    )


def _paper(plan: Plan | Bare, words: Words) -> str:
    name = f"paper.{plan.paper.lower()}"
    return words.say(name) if words.has(name) else plan.paper


def _foot(plan: Plan | Bare, words: Words, title: str) -> View:
    if isinstance(plan, Plan):
        return foot(plan, words, title)
    right = words.say(said("ruler.printed", printed=plan.printed, paper=_paper(plan, words)))
    return frozen(left=title, page="", right=right)


def _plain(words: Words, number: float) -> str:
    return words.number(number, 0 if number.is_integer() else 1)


def _line(weight: float, dots: bool, words: Words) -> View:
    says = "ruler.dots" if dots else "ruler.line"
    return frozen(weight=weight, dots=dots, says=words.say(said(says, pt=words.number(weight, 1))))


def _type(points: float, step: float, grey: bool, words: Words) -> View:
    says = said("ruler.grey" if grey else "ruler.type", pt=_plain(words, points))
    return frozen(points=points, step=step, grey=grey, says=words.say(says))


def _row(name: str, measured: float, words: Words) -> View:
    return frozen(
        name=words.say(f"ruler.row.{name}"),
        example=words.say(said("ruler.mm", mm=words.number(measured, 1))),
        write=words.say(said(f"ruler.write.{name}", mm=words.number(CROSS_MM, 0))),
    )
