"""new: a first batch file from six answers; on a terminal they are asked for, and each is tried at once.

Comes in: options, and what a person types.  Goes out: one file that `make` accepts as it is, never over
another one; nothing, if the person leaves in the middle.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import shlex
import sys
from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path

from sheetgen import catalogue, clock, report
from sheetgen.commands import common, new_answers, new_file, writing
from sheetgen.commands.new_answers import Desk, Trial
from sheetgen.intake.recipes import names, read_recipe
from sheetgen.problems import Problem, did_you_mean

_QUESTIONS = {
    "recipe": "What is to be brewed? A name from the list, or its number",
    "brew-day": "On which day? Year-month-day; with a time (… 10:00) the brew sheet has a clock",
    "volume": "How much? Litres in the bucket, or bottles to be filled: 24 x 500 ml",
    "room": "How warm is it where the bucket will stand? 15-20 C if day and night differ",
    "bottles": "Which empty bottles are there? Count, size and kind",
    "batch": "Which code is to stand on pages and labels? 2 to 4 characters",
}
"""In the order in which they are asked."""
SCHEMA = "batch.schema.json"
"""The file beside a batch that its first line names."""
_ENDINGS = (".yaml", ".yml")
_NOT_WRITTEN = "nothing was written"


def run(options: argparse.Namespace) -> int:
    """Ask, try, write, and say what to type next."""
    given = _given(options)
    name = options.file or (f"{given['batch'].lower()}.yaml" if given.get("batch") else None)
    wrong = [*_unreadable(given), *_unusable_name(name), *_unknown_language(options.language)]
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    today = options.today or clock.today()
    desk = Desk(Path(options.file or "batch.yaml"), today, named=bool(options.file))
    start = new_answers.tried(new_answers.filled(given, desk), desk)
    if start.loaded.problems.stopped:
        return _refused(start)
    answers = _asked(given, desk) if _somebody_there(options) else new_answers.filled(given, desk)
    return _write(answers, given, Desk(desk.at(answers["batch"]), today), options)


def _given(options: argparse.Namespace) -> dict[str, str]:
    """What the command line says, by the keys of a batch."""
    keys = (*new_file.ASKED, *new_file.EXTRA)
    said = {key: getattr(options, key.replace("-", "_")) for key in keys}
    return {key: value.strip() for key, value in said.items() if value is not None}


def _unreadable(given: Mapping[str, str]) -> list[str]:
    """A sentence for every answer that cannot stand on a line of a file."""
    return [f"--{key} has no value that can be read" for key, value in given.items() if not _is_line(value)]


def _is_line(value: str) -> bool:
    return bool(value) and not any(ord(sign) < 32 or 0xD800 <= ord(sign) <= 0xDFFF for sign in value)


def _unusable_name(name: str | None) -> list[str]:
    """A sentence if the file cannot be written under that name."""
    if name is None:
        return []
    path, shown = Path(name), name[:100]
    if "\0" in name or path.suffix not in _ENDINGS:
        return [f'"{shown}" is not the name of a batch file; write {path.stem[:40] or "27a"}.yaml']
    if os.path.lexists(path):
        return [f"{shown} is there already, and stays as it is; write another name"]
    return [] if path.parent.is_dir() else [f"there is no folder {str(path.parent)[:100]}; make it first"]


def _unknown_language(language: str | None) -> list[str]:
    known = catalogue.names("layouts/languages")
    if language is None or language.strip() in known:
        return []
    hint = did_you_mean(language, known) or f"there are {', '.join(known)}"
    return [f'--language: there is no language "{language[:40]}"; {hint}']


def _somebody_there(options: argparse.Namespace) -> bool:
    """Whether a person sits at a terminal and wants to be asked."""
    streams = (sys.stdin, sys.stdout)
    return not options.no_questions and all(stream is not None and stream.isatty() for stream in streams)


# Asking


def _asked(given: Mapping[str, str], desk: Desk) -> dict[str, str]:
    """An answer to every question that no option has answered."""
    _listen()
    answers = dict(given)
    open_keys = [key for key in _QUESTIONS if key not in given]
    if open_keys:
        common.out("Enter takes the answer in brackets; Ctrl-C leaves, and nothing is written.")
    for key in open_keys:
        answers[key] = _answer(key, answers, desk)
    return new_answers.filled(answers, desk)


def _listen() -> None:
    """Lines can be edited while they are typed, and a strange letter is no accident."""
    with contextlib.suppress(ImportError):
        import readline  # noqa: F401  it is enough that it is there
    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="replace")


def _answer(key: str, answers: Mapping[str, str], desk: Desk) -> str:
    """What the person says to one question: the first answer that nothing stops, and that is meant."""
    common.out()
    known = names(desk.folder) if key == "recipe" else []
    _show_recipes(known, desk)
    usual = new_answers.filled(answers, desk)[key]
    before = new_answers.tried(new_answers.filled(answers, desk), desk)
    while True:
        common.out(_QUESTIONS[key])
        said = _typed(f"[{usual}]: ")
        answer = _by_number(said, known) or usual
        if not said:
            return usual
        trial = _trial(key, answer, answers, desk)
        found = new_answers.new_findings(trial, before)
        for problem in found:
            common.out(_shown(problem, trial))
        if not found:
            return answer
        if not found.stopped:
            usual, before = answer, trial


def _trial(key: str, answer: str, answers: Mapping[str, str], desk: Desk) -> Trial:
    """The batch with that answer; the questions that come later get their usual answers."""
    trial = new_answers.tried(new_answers.filled({**answers, key: answer}, desk), desk)
    path = desk.at(answer)
    if key == "batch" and trial.batch and os.path.lexists(path):
        trial.loaded.problems.stop(f"{path} is there already, and stays as it is", None, "write another code")
    return trial


def _typed(prompt: str) -> str:
    """A line that a person types; who ends the input leaves."""
    letters = getattr(sys.stdout, "encoding", None)
    try:
        line = input(common.in_letters_of(letters, prompt))
    except EOFError:
        common.out()
        raise KeyboardInterrupt from None
    return "".join(sign for sign in line if _is_line(sign)).strip()


def _by_number(said: str, known: list[str]) -> str:
    """The recipe that a number stands for, else the answer itself."""
    number = int(said) if said.isascii() and said.isdigit() and len(said) < 4 else 0
    return known[number - 1] if 1 <= number <= len(known) else said


def _show_recipes(known: list[str], desk: Desk) -> None:
    widest = max((len(name) for name in known), default=0)
    for number, name in enumerate(known, 1):
        recipe, _problems = read_recipe(name, desk.folder)
        about = recipe.about if recipe else "(this file cannot be read)"
        common.out(f"{number:>3}  {name:<{widest}}  {report.harmless(about)}")


def _shown(problem: Problem, trial: Trial) -> str:
    """A finding without its place, since there is no file yet."""
    say = partial(common.in_english, units=trial.loaded.units)
    return report.text_of(replace(problem, span=None, path=()), say, lambda _name: None)


# Writing


def _refused(trial: Trial) -> int:
    """Options that make no batch."""
    for problem in trial.loaded.problems.of("stop"):
        common.err(_shown(problem, trial))
    common.err(_NOT_WRITTEN)
    return common.INPUT


def _write(
    answers: Mapping[str, str], given: Mapping[str, str], desk: Desk, options: argparse.Namespace
) -> int:
    first = new_answers.tried(answers, desk)
    if first.loaded.plan is None:
        return _refused(first)
    words = common.words_of(first.loaded.plan.language, first.loaded.plan.units)
    name = "" if options.no_schema else SCHEMA
    text = new_file.commented(answers, desk.path, first.loaded.plan, words, name)
    whole = new_answers.tried_text(text, desk)
    common.lay_out(whole.loaded)
    if not whole.loaded.good:
        return _refused(whole)
    schema = desk.folder / SCHEMA
    fresh = bool(name) and not os.path.lexists(schema)
    outputs = [writing.Output(desk.path, text.encode("utf-8"))]
    if fresh:
        outputs.append(writing.Output(schema, _schema_beside(desk.folder)))
    if os.path.lexists(desk.path):
        common.complain(f"{desk.path} is there already, and stays as it is; name another file")
        return common.USE
    try:
        writing.write_all(outputs)
    except writing.CannotWrite as reason:
        common.complain(str(reason))
        return common.USE
    _tell(answers, given, desk.path, whole)
    if fresh:
        common.out(f"({SCHEMA} is for editors that help with such files; it may be deleted.)")
    common.out(f"Now type: sheetgen make {shlex.quote(str(desk.path))}")
    return common.FINE


def _schema_beside(folder: Path) -> bytes:
    """What an editor needs to know of batch files; recipes of that folder are known to it."""
    from sheetgen.commands import schema

    return f"{schema.text_of('batch', folder)}\n".encode()


def _tell(answers: Mapping[str, str], given: Mapping[str, str], path: Path, trial: Trial) -> None:
    """What was chosen, what is unusual about it, and what to type next."""
    common.out()
    common.out(f"{report.harmless(str(path))} says:")
    for key in (*new_file.ASKED, *new_file.EXTRA):
        if answers.get(key):
            common.out(f"  {key + ':':<10} {report.harmless(answers[key])}")
    for problem in trial.loaded.problems.of("warn"):
        common.out(_shown(problem, trial))
    if not set(new_file.ASKED) <= set(given):
        common.out("Everything else is usual; change in the file what is not so at your home.")
