"""What the pages of a class share: their last line, names that fit their column, amounts in words.

Comes in: a `ClassPlan` and `Words`.  Goes out: views and texts.
"""

from __future__ import annotations

from datetime import date

from sheetgen.planning.class_plan import ClassPlan, Share, Standing
from sheetgen.printing import fonts
from sheetgen.printing.blocks import PAGE, PAGES
from sheetgen.printing.views.common import View, frozen
from sheetgen.printing.words import Words
from sheetgen.problems import said

SMALL = 10.5


def head(found: ClassPlan, words: Words, name: str) -> View:
    """Title, line under it and last line of one of the pages."""
    title = words.say(f"{name}.title")
    paper_id = f"paper.{found.paper.lower()}"
    paper = words.say(paper_id) if words.has(paper_id) else found.paper
    return frozen(
        title=title,
        code=found.code,
        subtitle=words.say(f"{name}.subtitle"),
        coach=found.coach,
        continued=words.say(f"{name}.continued"),
        foot=frozen(
            left=words.say(said("class.foot", code=found.code, sheet=title)),
            page=words.say(said("foot.page", page=PAGE, pages=PAGES)),
            right=words.say(said("wall.foot", printed=found.printed, paper=paper)),
        ),
    )


def called(one: Standing | Share) -> str:
    """Somebody's code and name."""
    return f"{one.code} {one.name}"


def fitted(text: str, width: float, size: float = SMALL, bold: bool = False) -> str:
    """The text, cut where it would leave its column of so many millimetres: the code stands first."""
    if fonts.width_mm(text, size, bold) <= width:
        return text
    while text and fonts.width_mm(f"{text}…", size, bold) > width:
        text = text[:-1]
    return f"{text.rstrip()}…"


def short_day(day: date, words: Words) -> str:
    """A day with its weekday."""
    return words.day(day, "date")
