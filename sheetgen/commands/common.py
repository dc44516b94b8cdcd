"""What the commands share: reading and planning a file, language data, and telling people about it.

Results go to stdout, problems to stderr.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from functools import cache, partial
from pathlib import Path
from types import MappingProxyType
from typing import TextIO

from sheetgen import catalogue, report
from sheetgen.commands import places
from sheetgen.nodes import Entries, Node
from sheetgen.planning.plan import Plan
from sheetgen.printing.set import Laid
from sheetgen.printing.words import Words, WordsError
from sheetgen.problems import Problem, Problems, Said
from sheetgen.records import record

FINE, INPUT, USE = 0, 1, 2
ENGLISH = "en-GB"
MOST_TOLD = 100
NO_FILES: Mapping[str, Path] = MappingProxyType({})
_FOLDERS = (
    *("recipes", "recipes/drinks", "recipes/pantry"),
    *("layouts/documents", "layouts/stocks", "layouts/papers", "layouts/languages"),
)


@record
class Loaded:
    """A batch file, its plan (None: it was stopped) and everything found on the way."""

    path: Path
    plan: Plan | None
    problems: Problems
    written: places.Written = places.NOTHING
    units: str = ""

    @property
    def good(self) -> bool:
        """Whether it may be printed."""
        return self.plan is not None and not self.problems.stopped


def load(path: Path, today: date, overrides: Mapping[str, str] | None = None) -> Loaded:
    """Read and plan one batch file; `overrides` are keys of the batch with other values: paper, Letter."""
    from sheetgen.intake import read_batch, usable_recipes
    from sheetgen.planning import plan_batch

    batch, problems = read_batch(path, today, dict(overrides or {}))
    if batch is None or problems.stopped:
        return Loaded(path, None, problems, units=batch.units if batch else "")
    written = places.written_in(path, batch)
    problems.extend(places.unprintable(written))
    plan = plan_batch(batch, today, problems, lambda: usable_recipes(path.parent))
    return Loaded(path, None if problems.stopped else plan, problems, written, batch.units)


def is_season(path: Path) -> bool:
    """Whether the file is a season, by its keys; everything else is taken for a batch."""
    node = catalogue.load(path).node
    return isinstance(node, Entries) and node.entry("season") is not None and node.entry("batch") is None


def is_class(path: Path) -> bool:
    """Whether the file is a class, by its keys."""
    node = catalogue.load(path).node
    return isinstance(node, Entries) and node.entry("class") is not None and node.entry("batch") is None


def lay_out(loaded: Loaded, only: Sequence[str] = ()) -> Laid | None:
    """The pages of a batch, None if it has no plan; what is wrong with them is added to its problems."""
    from sheetgen.printing import set as printed_set

    plan = loaded.plan
    if plan is None:
        return None
    laid = printed_set.lay_out(plan, words_of(plan.language, plan.units), loaded.path.parent, only)
    loaded.problems.extend(places.pointed(laid.problems, loaded.written))
    return laid


def unusable(names: Iterable[str]) -> list[str]:
    """A sentence for each name that is not a file which can be opened."""
    return [sentence for name in names if (sentence := _unusable(name))]


def _unusable(name: str) -> str:
    path = Path(name)
    shown = report.harmless(name)
    try:
        if path.is_dir():
            return f"{shown} is a folder; name a batch file in it"
        if not path.exists():
            return f"there is no file {shown}"
        if not path.is_file():
            return f"{shown} is not a file with text"
        with path.open("rb"):
            return ""
    except (OSError, ValueError) as fault:
        return f"{shown} cannot be opened: {getattr(fault, 'strerror', None) or 'the name is not possible'}"


# Languages


@cache
def words_of(language: str, units: str = "") -> Words:
    """A language of ours or of the person; WordsError if it is missing or damaged."""
    from sheetgen.printing import languages

    words, problems = languages.read(_language(language), units, _language)
    if words is None:
        told = "; ".join(str(problem.message) for problem in problems.of("stop")[:3])
        raise WordsError(f"{language} cannot be used: {told}")
    return words


def _language(name: str) -> Node | None:
    path = catalogue.find("layouts/languages", name)
    return catalogue.load(path).node if path else None


def in_english(message: str | Said, units: str = "") -> str:
    """A message or a fix in English, metric or in other units; one without words by its id and values."""
    if isinstance(message, str):
        return message
    try:
        return words_of(ENGLISH, units).say(message)
    except WordsError:
        values = ", ".join(f"{name} {value}" for name, value in sorted(message.values.items()))
        return f"{message.id} ({values})" if values else message.id


# Telling


def out(text: str = "") -> None:
    """A line of results."""
    _write(sys.stdout, text)


def err(text: str) -> None:
    """A line about what is wrong or how it goes."""
    _write(sys.stderr, text)


def _write(stream: TextIO | None, text: str) -> None:
    """A line, if there is anything to write it to."""
    if stream:
        stream.write(f"{in_letters_of(getattr(stream, 'encoding', None), text)}\n")


_PLAINER = str.maketrans(
    {"·": "-", "–": "-", "—": "-", "×": "x", "°": "", "…": "...", "’": "'", "½": "1/2", "−": "-"}
    | dict.fromkeys("“”", '"')
    | dict.fromkeys("\u00a0\u202f", " ")
)


def in_letters_of(encoding: str | None, text: str) -> str:
    """The text, with plainer signs for those that a terminal with this encoding cannot show."""
    try:
        text.encode(encoding or "utf-8")
    except (UnicodeEncodeError, LookupError):
        return text.translate(_PLAINER)
    return text


def complain(sentence: str) -> None:
    """A sentence about wrong use."""
    err(f"sheetgen: {report.harmless(sentence)}")


def tell(
    problems: Iterable[Problem], path: Path, files: Mapping[str, Path] = NO_FILES, units: str = ""
) -> None:
    """All findings, each with its place, its line and what to type; of very many the first.

    `files`: other files that it may be about, by the names in their places; `units`: the batch's.
    """

    def lines(name: str) -> list[str] | None:
        other = files.get(name)
        return lines_of(other.name, other) if other else lines_of(name, path)

    found, source = list(problems), cache(lines)
    say = partial(in_english, units=units)
    for problem in found[:MOST_TOLD]:
        if problem.level == "note" and not problem.span and not problem.fix:
            err(_on_one_line(problem, say))
        else:
            err(report.text_of(problem, say, source))
    if len(found) > MOST_TOLD:
        err(f"{len(found) - MOST_TOLD} more findings are not listed; correct these first")


def _on_one_line(note: Problem, say: Callable[[str | Said], str]) -> str:
    """An assumption: its sentence, and the key that would say otherwise."""
    key = f" [{report.harmless(note.path[-1])}]" if note.path else ""
    return f"note: {report.harmless(say(note.message))}{key}"


def lines_of(name: str, path: Path) -> list[str] | None:
    """The lines of the batch file or of a data file near it, by its bare name; None if there is none."""
    text = next((text for place in _places(name, path) if (text := catalogue.read_text(place)[0])), None)
    return text.splitlines() if text is not None else None


def _places(name: str, path: Path) -> list[Path]:
    if name in {path.name, str(path)}:
        return [path]
    stem, _dot, suffix = name.rpartition(".")
    found = [catalogue.find(folder, stem, path.parent, f".{suffix}") for folder in _FOLDERS]
    return [place for place in found if place]


def count(number: int, one: str, many: str = "") -> str:
    """A number with its noun: 1 page, 2 pages."""
    return f"{number} {one if number == 1 else many or f'{one}s'}"
