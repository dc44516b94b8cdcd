"""The corpus of wrong files: each a right file with one slip, and what is said about it.

`slips.txt` has a line for each; the right files lie beside it.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sheetgen import catalogue
from sheetgen.intake import read_batch_bytes, usable_recipes
from sheetgen.intake.classes import read_class, read_person
from sheetgen.intake.recipes import recipe_file
from sheetgen.intake.season import read_season
from sheetgen.planning import plan_batch
from sheetgen.planning.season import plan_season
from sheetgen.problems import Problem, Problems, Said, Span, Suggestion

HERE = Path(__file__).resolve().parent
TODAY = {"filled.yaml": date(2027, 3, 28), "class.yaml": date(2029, 2, 1), "people.csv": date(2029, 2, 1)}
BASES = (
    *("six.yaml", "full.yaml", "filled.yaml", "event.yaml", "recipe.yaml"),
    *("season.yaml", "class.yaml", "people.csv"),
)
_WHAT_STOPS = ("stop", "warn")


@dataclass(frozen=True)
class Slip:
    """A right file with one slip: `line` is where it stands in the wrong file."""

    base: str
    right: str
    wrong: str
    line: int
    text: str

    @property
    def id(self) -> str:
        return f"{self.base}: {self.right} => {self.wrong}"[:90]


@cache
def right_text(base: str) -> str:
    """The right file."""
    return (HERE / base).read_text(encoding="utf-8")


def corpus() -> list[Slip]:
    """Every slip, in the order of the file."""
    return list(_slips((HERE / "slips.txt").read_text(encoding="utf-8").splitlines()))


def _slips(lines: Sequence[str]) -> Iterator[Slip]:
    base = ""
    for line in lines:
        if line.startswith("[") and "=>" not in line:
            base = line.strip("[]")
        elif " =>" in line and not line.startswith("#"):
            right, _, wrong = line.partition(" =>")
            place = re.search(r" @(\d+)\Z", wrong)
            wrong = wrong[: place.start()] if place else wrong
            yield _slip(base, _plain(right), _plain(wrong.removeprefix(" ")), place[1] if place else "")


def _plain(text: str) -> str:
    return text.replace("\\n", "\n").replace("\\t", "\t")


def _slip(base: str, right: str, wrong: str, at: str) -> Slip:
    whole = right_text(base)
    assert right in whole, (base, right)
    text = whole.replace(right, wrong, 1)
    first = next((n for n, (a, b) in enumerate(zip(whole, text, strict=False)) if a != b), len(text))
    return Slip(base, right, wrong, int(at) if at else text.count("\n", 0, first) + 1, text)


def found(base: str, text: str) -> list[Problem]:
    """Everything that would have to be changed in a file in place of `base`, in order."""
    today = TODAY.get(base, date(2027, 2, 20))
    if base == "recipe.yaml":
        problems = recipe_file(catalogue.document(text.encode(), base), "my-brown", None).problems
    elif base in ("season.yaml", "class.yaml", "people.csv"):
        problems = _together(base, text, today)
    else:
        batch, problems = read_batch_bytes(text.encode(), base, today)
        if batch is not None:
            plan_batch(batch, today, problems, usable_recipes)
    return [one for one in problems if one.level in _WHAT_STOPS]


def _together(base: str, text: str, today: date) -> Problems:
    with TemporaryDirectory() as folder:
        for name in ("class.yaml", "people.csv", "season.yaml"):
            shutil.copy(HERE / name, folder)
        (Path(folder) / base).write_text(text, encoding="utf-8", newline="")
        return _season(Path(folder), today) if base == "season.yaml" else _class(Path(folder), today)


def _season(folder: Path, today: date) -> Problems:
    read = read_season(folder / "season.yaml", today)
    if read.season is not None:
        plan_season(read.season, today, read.problems)
    return read.problems


def _class(folder: Path, today: date) -> Problems:
    read = read_class(folder / "class.yaml", today)
    problems = Problems(read.problems)
    for person in read.people:
        problems.extend(person.wrong)
        problems.extend(read_person(person, today)[1])
    return problems


@cache
def _right_findings(base: str) -> frozenset[str]:
    return frozenset(_words(one) for one in found(base, right_text(base)))


def new(base: str, text: str) -> list[Problem]:
    """What is said of a file and not of the right one."""
    return [one for one in found(base, text) if _words(one) not in _right_findings(base)]


def _words(problem: Problem) -> str:
    said = problem.message
    return said if isinstance(said, str) else f"{said.id} {dict(said.values)}"


def applied(text: str, suggestion: Suggestion) -> str:
    """The file with a suggestion carried out."""
    lines = text.split("\n")
    at: Span = suggestion.span
    line = lines[at.line - 1]
    start = at.column - 1
    lines[at.line - 1] = line[:start] + suggestion.text + line[start + at.length :]
    return "\n".join(lines)


def mended(base: str, text: str, rounds: int = 3) -> str | None:
    """The file after suggestions, one problem after another, if it is then as good as the right one."""
    wrong = new(base, text)
    if not wrong:
        return text
    ways = dict.fromkeys(way for problem in wrong for way in problem.suggestions)
    for way in ways if rounds else ():
        found = mended(base, applied(text, way), rounds - 1)
        if found is not None:
            return found
    return None


def fix_of(problem: Problem) -> str:
    """What a problem says to type, in the letters of the screen."""
    return problem.fix if isinstance(problem.fix, str) else _in_words(problem.fix)


def _in_words(fix: Said) -> str:
    from sheetgen.commands.common import in_english

    return in_english(fix)
