"""The batch file that `new` writes: six lines that are answers, and remarks that tell what else may be said.

Comes in: answers, and the plan that they make.  Goes out: the file's text, its remarks in the language of the
paper.
"""

from __future__ import annotations

import json
import shlex
from collections.abc import Iterator, Mapping
from datetime import timedelta
from pathlib import Path

from sheetgen.planning.plan import Plan
from sheetgen.printing.words import Words
from sheetgen.problems import Said, said

ASKED = ("batch", "recipe", "brew-day", "volume", "room", "bottles")
"""The six keys, in the order in which they stand in the file."""
EXTRA = ("brewer", "language")
"""Keys that are only written if they were given."""
_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 -")
_WIDTH = 100


def bare(answers: Mapping[str, str]) -> str:
    """The answers alone, one line each."""
    return "".join(f"{key}: {_written(key, answers[key])}\n" for key in (*ASKED, *EXTRA) if answers.get(key))


def _written(key: str, value: str) -> str:
    """A value as it stands in the file: what people say freely in quotes, unless it is of plain letters."""
    free = key == "brewer" and not (set(value) <= _PLAIN and value[:1].isalpha())
    return json.dumps(value, ensure_ascii=False) if free else value


def commented(answers: Mapping[str, str], path: Path, plan: Plan, words: Words, schema: str = "") -> str:
    """The whole file; `schema` is the name of the one beside it, for editors that know this first line."""
    lines = [*([f"# yaml-language-server: $schema={schema}"] if schema else []), *_head(path, words)]
    for key in ASKED:
        lines += ["", *_remarks(words, said(f"starter.{key}", name=plan.name)), *_line(key, answers)]
    extra = [line for key in EXTRA for line in _line(key, answers)]
    lines += [*([""] if extra else []), *extra]
    lines += ["", *_remarks(words, said("starter.more"))]
    wishes = {key: value for key, value in _wishes(plan).items() if not answers.get(key)}
    shown = {key: f"#{key}: {value}" for key, value in wishes.items()}
    widest = max(len(line) for line in shown.values())
    lines += [f"{line:<{widest}}  # {words.say(f'starter.on.{key}')}" for key, line in shown.items()]
    lines += ["", *_remarks(words, said("starter.later")), *_happenings(plan)]
    return "\n".join(lines) + "\n"


def _head(path: Path, words: Words) -> Iterator[str]:
    yield from _remarks(words, said("starter.head"))
    yield from _remarks(words, said("starter.then"))
    name = shlex.quote(path.name)
    yield f"#   sheetgen check {name}"
    yield f"#   sheetgen make {name}"


def _line(key: str, answers: Mapping[str, str]) -> list[str]:
    return [f"{key}: {_written(key, answers[key])}"] if answers.get(key) else []


def _remarks(words: Words, what: Said) -> list[str]:
    """A sentence as lines of remarks, none of them wide."""
    import textwrap

    return [f"# {line}" for line in textwrap.wrap(words.say(what), _WIDTH)]


def _wishes(plan: Plan) -> dict[str, str]:
    """Keys that many will want, with values that would do for this batch."""
    brew = plan.task("brew").when.expected
    pot = f", pot: {plan.pot_l:g} L" if plan.pot_l else ""
    sheet = "letter-2x5" if plan.paper == "Letter" else "a4-2x7"
    return {
        "brewer": "Imke",
        "my-days": "[sat, sun]",
        "away": f"[{brew + timedelta(days=8)}..{brew + timedelta(days=12)}]",
        "equipment": f"{{vessel: {plan.vessel_l:g} L{pot}}}",
        "labels": f"{{stock: {sheet}, start-at: 4}}",
        "language": "de" if plan.language != "de" else "en-GB",
        "paper": plan.paper,
    }


def _happenings(plan: Plan) -> Iterator[str]:
    """What will have happened two weeks on, as it is then written down."""
    brew = plan.task("brew").when.expected
    first = plan.task("test-1").when.expected if plan.has("test-1") else brew + timedelta(days=11)
    gravity, high = plan.quantities.original_gravity, plan.gate.high
    yield "#actual:"
    yield f"#  brewed: {brew}"
    yield f"#  og: {gravity:.3f} at 20 C"
    yield f"#  readings: [{{on: {first}, sg: {high:.3f} at 20 C}}]"
