"""Trying a layout: with the shortest, a usual and the longest batch, in every language, on both papers.

Comes in: one file of layouts. Goes out: what is wrong, each fault once, with the batch, language and paper
that showed it first.  The batches lie in `layouts/trials`, with recipes of their own.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

from sheetgen import catalogue
from sheetgen.commands import common
from sheetgen.planning.class_plan import ClassPlan
from sheetgen.planning.plan import Plan
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.printing import set as printed_set
from sheetgen.printing.set import CLASS, LABELS, SAFETY, SEASON, USUAL_LABELS, Laid
from sheetgen.printing.words import Words
from sheetgen.problems import Problems
from sheetgen.records import record

BATCHES = ("shortest", "usual", "longest")
PAPERS = ("A4", "Letter")
TODAY = date(2027, 2, 20)
_UNSAFE = ("unsafe",)
_SEASON_FILE = "recipes/examples/season-2028/season.yaml"
_CLASS_FILE = "recipes/examples/class-29/class.yaml"
_CLASS_DAY = date(2029, 3, 22)


@record
class Subject:
    """What is tried: folder and name by which the program finds it, where it looks first, the file."""

    folder: str
    name: str
    beside: Path | None
    path: Path


@record
class Result:
    """What was wrong, and what it was tried with."""

    problems: Problems
    batches: tuple[str, ...]
    languages: tuple[str, ...]
    papers: tuple[str, ...]


def tried(subject: Subject) -> Result:
    """Try one file in every way that concerns it."""
    languages = catalogue.names("layouts/languages", subject.beside)
    papers: tuple[str, ...] = PAPERS
    names: tuple[str, ...] = printed_set.DOCUMENTS
    if subject.folder == "layouts/languages":
        languages = (subject.name,)
    elif subject.folder == "layouts/papers":
        papers, names = (subject.name,), tuple(name for name in names if name not in LABELS)
    elif subject.folder == "layouts/stocks":
        names = USUAL_LABELS
    elif not _is_part(subject.path):
        names = (subject.name,)
    batches = _batches(names)
    found = Problems()
    for batch in batches:
        for paper in papers:
            for language in languages:
                where = f"the {batch} batch, {language}, {paper}"
                _keep(_laid(subject, batch, paper, language, names).problems, where, found)
    return Result(found, batches, languages, papers)


def _batches(names: tuple[str, ...]) -> tuple[str, ...]:
    """What these documents are tried with."""
    shared = "season" if names[0] in SEASON else "class" if names[0] in CLASS else ""
    return _UNSAFE if names == SAFETY else (shared,) if shared else BATCHES


def _is_part(path: Path) -> bool:
    """Whether the file is a piece that layouts share: it has no head."""
    text = catalogue.read_text(path)[0]
    return path.suffix == ".layout" and text is not None and not text.startswith("---")


def _keep(problems: Problems, where: str, found: Problems) -> None:
    """Add what is new: a fault that other batches have shown stays told once."""
    known = {(problem.message, problem.span) for problem in found}
    for problem in problems:
        if problem.level != "note" and (problem.message, problem.span) not in known:
            found.add(replace(problem, path=(where, *problem.path)))


def _laid(subject: Subject, batch: str, paper: str, language: str, names: tuple[str, ...]) -> Laid:
    words = common.words_of(language)
    if names[0] in SEASON:
        season = replace(_season(), paper=paper, language=language)
        return printed_set.lay_out_season(season, words, subject.beside)
    if names[0] in CLASS:
        of_class = replace(_class(), paper=paper, language=language)
        return printed_set.lay_out_class(of_class, words, subject.beside)
    changed = replace(plan(batch), paper=paper, language=language)
    laid = [_one(changed, words, subject, name) for name in names]
    return Laid((), (), Problems(problem for one in laid for problem in one.problems))


def _one(plan: Plan, words: Words, subject: Subject, name: str) -> Laid:
    """One document of a batch, on the stock that is tried."""
    if subject.folder == "layouts/stocks":
        if _is_round(subject.path) != (name == "discs"):
            return Laid((), (), Problems())
        plan = replace(plan, stock=subject.name, disc_stock=subject.name)
    return printed_set.lay_out(plan, words, subject.beside, [name])


def _is_round(path: Path) -> bool:
    """Whether a stock is one of discs."""
    text = catalogue.read_text(path)[0] or ""
    return any(line.split("#")[0].split() == ["shape:", "round"] for line in text.splitlines())


@cache
def plan(batch: str) -> Plan:
    """A batch of ours, planned; what it says of papers and languages is laid over it later."""
    loaded = common.load(catalogue.our_folder() / "layouts" / "trials" / f"{batch}.yaml", TODAY)
    if loaded.plan is None:
        raise RuntimeError(f"a batch of ours cannot be planned: {[*loaded.problems.of('stop')]}")
    return loaded.plan


@cache
def _season() -> SeasonPlan:
    from sheetgen.commands import seasons

    loaded = seasons.load(catalogue.our_folder() / _SEASON_FILE, TODAY)
    if loaded.plan is None:
        raise RuntimeError(f"a season of ours cannot be planned: {[*loaded.problems.of('stop')]}")
    return loaded.plan


@cache
def _class() -> ClassPlan:
    from sheetgen.commands import classes

    order = classes.Order(_CLASS_DAY, {})
    loaded = classes.load(catalogue.our_folder() / _CLASS_FILE, order, lay_out=False)
    if loaded.plan is None:
        raise RuntimeError(f"a class of ours cannot be planned: {[*loaded.problems.of('stop')]}")
    return loaded.plan
