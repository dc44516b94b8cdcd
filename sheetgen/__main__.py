"""The program: reads the command line, runs one command, and turns every mishap into a sentence.

Exit codes: 0 fine; 1 the input must change; 2 the command cannot be carried out as given (an unknown option,
a file that is not there, a folder that cannot be written); 130 interrupted.
"""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
from collections.abc import Sequence
from datetime import date
from importlib import import_module
from typing import IO, Any, NoReturn

from sheetgen import __version__
from sheetgen.clock import ClockError
from sheetgen.commands.examples import EXAMPLES, examples_of

FINE, INPUT, USE, INTERRUPTED = 0, 1, 2, 130
_SELDOM = 50_000
FILES = ("batch", "member", "recipe", "drink", "season", "class", "people")
LISTS = ("recipes", "drinks", "layouts", "stocks", "papers", "languages")
_MODULES = {
    "new": "new",
    "make": "make",
    "check": "check",
    "show": "show",
    "suggest": "suggest",
    "list": "list_",
    "layout": "layout",
    "ruler": "ruler",
    "schema": "schema",
    "completion": "completion",
    "self-check": "self_check",
}
_REPORT = "please report it with your file (python -X dev -m sheetgen … tells more)"


class _Parser(argparse.ArgumentParser):
    """Wrong use is one sentence, and where to read more."""

    def error(self, message: str) -> NoReturn:
        self.exit(USE, f"{self.prog}: {message}\nTry: {self.prog} --help\n")


class _One(argparse.Action):
    """One file, or none."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        option_string: str | None = None,
    ) -> None:
        """Keep the file; more than one is wrong use."""
        del option_string
        if len(values) > 1:
            parser.error("name one file")
        setattr(namespace, self.dest, values)


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program; `argv` without its own name.  Returns the exit code; no mishap of people's raises."""
    usual = gc.get_threshold()
    gc.set_threshold(_SELDOM, *usual[1:])  # few rings of dead objects, and looking for them takes time
    atexit.register(gc.freeze)  # nor need the interpreter look for them when it goes
    try:
        for stream in (sys.stdout, sys.stderr):
            _forgiving(stream)
        code = _run(argv)
        if sys.stdout:
            sys.stdout.flush()
    except BrokenPipeError:
        _silence()
        return FINE
    except KeyboardInterrupt:
        _say("interrupted; files that were there before are as they were")
        return INTERRUPTED
    except OSError as fault:
        _silence()
        _say(f"cannot go on: {fault.strerror or 'the system refused'}")
        return USE
    except Exception as fault:
        if sys.flags.dev_mode:
            raise
        _say(f"a fault of this program, not of yours ({type(fault).__name__}: {str(fault)[:200]}); {_REPORT}")
        return USE
    finally:
        gc.set_threshold(*usual)
    return code


def _run(argv: Sequence[str] | None) -> int:
    try:
        options = _parser().parse_args(argv)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else USE
    module = import_module(f"sheetgen.commands.{_MODULES[options.command]}")
    failure = import_module("sheetgen.printing.words").WordsError
    try:
        if not getattr(options, "files", True) and not import_module("sheetgen.commands.found").settle(
            options
        ):
            return USE
        return int(module.run(options))
    except ClockError as fault:
        _say(str(fault))
        return USE
    except failure as fault:
        _say(f"a language file is incomplete: {fault}")
        return USE


def _parser() -> argparse.ArgumentParser:
    about = "Turns a short YAML description of a home-brewed batch into printable sheets."
    raw = argparse.RawDescriptionHelpFormatter
    parser = _Parser(
        prog="sheetgen", description=about, epilog=examples_of(""), formatter_class=raw, allow_abbrev=False
    )
    parser.add_argument("--version", action="version", version=f"sheetgen {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND", parser_class=_Parser)
    for name, (about, add_options) in _COMMANDS.items():
        foot = examples_of(name) if name in EXAMPLES else None
        command = commands.add_parser(name, help=about, epilog=foot, formatter_class=raw, allow_abbrev=False)
        add_options(command)
    commands.choices["completion"].set_defaults(whole=parser)
    return parser


def _add_make(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "files",
        nargs="*",
        metavar="FILE",
        help="batch or season files, or one class (YAML); without one: the only one in this folder",
    )
    parser.add_argument(
        "--only", type=_names, metavar="PARTS", help="only these parts, such as fridge,labels"
    )
    parser.add_argument(
        "--out", metavar="DIR", help="write into this folder (without it: one named after the batch)"
    )
    parser.add_argument(
        "--start-at", type=_count, metavar="N", help="first free label of a part-used sheet, from 1"
    )
    parser.add_argument("--paper", type=_paper, metavar="A4|Letter", help="paper, whatever the file says")
    parser.add_argument(
        "--replaces",
        action="append",
        default=[],
        metavar="PLAN",
        help="the -plan.json of the last calendar that was taken in: days that are gone are cancelled",
    )
    parser.add_argument(
        "--calendar", metavar="FILE.ics", help="also the dates of all these batches in one calendar file"
    )
    parser.add_argument(
        "--joint-labels",
        metavar="all|CODES",
        help="for a season: also the labels of these batches (28A,28C) on sheets they share",
    )
    parser.add_argument("--open", action="store_true", help="then show the sheets on the screen")
    parser.add_argument(
        "--watch", action="store_true", help="make it again whenever a file is saved, until Ctrl-C"
    )
    _add_class(parser)
    parser.add_argument(
        "--force", action="store_true", help="also overwrite files that this program did not write"
    )
    _add_today(parser)


def _add_class(parser: argparse.ArgumentParser) -> None:
    only = parser.add_argument_group("for a class")
    only.add_argument("--person", metavar="NAME", help="this person's set alone, by name or code")
    only.add_argument(
        "--readings",
        action="append",
        default=[],
        metavar="TABLE.csv",
        help="what was read since: name, date, gravity",
    )
    only.add_argument(
        "--skip-bad", action="store_true", help="make everybody else's set where some cannot be made"
    )
    only.add_argument(
        "--copies", type=_copies, default=1, metavar="N", help="so many sets of each in the joint file"
    )
    only.add_argument("--one-sided", action="store_true", help="no blank pages that keep sheets apart")
    only.add_argument(
        "--new-sheet",
        action="store_true",
        help="begin everybody's labels on a new sheet",
    )


def _add_check(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="*", metavar="FILE", help="batch or season files, or one class (YAML)")
    _add_today(parser)


def _add_show(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "files", nargs="*", action=_One, metavar="FILE", help="a batch, season or class (YAML)"
    )
    parser.add_argument("--json", action="store_true", help="the plan for other programs")
    parser.add_argument(
        "--why", action="store_true", help="for each day the chain of reasons that leads to it"
    )
    _add_today(parser)


def _add_suggest(parser: argparse.ArgumentParser) -> None:
    parser.description = (
        "Finds brew days for the wishes of a season. Nothing better exists, unless it says\n"
        "after 700,000 looks at a day (two seconds' work) that something better may."
    )
    parser.add_argument("files", nargs=1, metavar="FILE", help="a season file (YAML)")
    parser.add_argument("--json", action="store_true", help="for programs")
    _add_today(parser)


def _add_list(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", nargs="?", choices=LISTS, help="what to list (without it: everything)")


def _add_layout(parser: argparse.ArgumentParser) -> None:
    what = parser.add_subparsers(dest="what", required=True, metavar="WHAT", parser_class=_Parser)
    copy = what.add_parser("copy", help="copy a layout, stock, paper or language of ours", allow_abbrev=False)
    copy.add_argument("name", metavar="NAME", help="its name, such as fridge, a4-2x4 or en-GB")
    copy.add_argument("--to", metavar="DIR", help="the folder of your batches (without it: your own for all)")
    copy.add_argument("--force", action="store_true", help="also over a file that is there already")
    check = what.add_parser("check", help="try layouts with short and long batches", allow_abbrev=False)
    check.add_argument("names", nargs="*", metavar="NAME|FILE", help="without one: everything of your own")
    manual = what.add_parser("manual", help="write the manual of all elements as a PDF", allow_abbrev=False)
    manual.add_argument("--out", metavar="FILE.pdf", default="layout-manual.pdf", help="where to write it")
    manual.add_argument("--force", action="store_true", help="also over a file that is not ours")


def _add_ruler(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--paper", type=_paper, metavar="A4|Letter", help="paper (without it: the language's)"
    )
    parser.add_argument("--language", metavar="NAME", default="en-GB", help="one of: sheetgen list languages")
    parser.add_argument("--out", metavar="FILE.pdf", default="ruler.pdf", help="where to write it")
    parser.add_argument("--force", action="store_true", help="also over a file that is not ours")
    _add_today(parser)


def _add_schema(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("kind", nargs="?", choices=FILES, default="batch", help="(without it: batch)")


def _add_completion(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", choices=("bash", "zsh", "fish", "offer"), metavar="bash|zsh|fish")
    parser.add_argument("words", nargs="*", help=argparse.SUPPRESS)


def _add_self_check(parser: argparse.ArgumentParser) -> None:
    _add_today(parser)


def _add_new(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", nargs="?", metavar="FILE.yaml", help="what to write (without it: the code, such as 27a.yaml)"
    )
    parser.add_argument("--recipe", metavar="NAME", help="what is brewed; see sheetgen list recipes")
    parser.add_argument("--brew-day", metavar="DAY", help="2027-03-06, or with a time: '2027-03-06 10:00'")
    parser.add_argument("--volume", metavar="LITRES", help="'12 L', or bottles to fill: '24 x 500 ml'")
    parser.add_argument("--room", metavar="DEGREES", help="where the bucket stands: '19 C' or '15-20 C'")
    parser.add_argument("--bottles", metavar="BOTTLES", help="'24 x 500 ml one-way glass'")
    parser.add_argument("--batch", metavar="CODE", help="the code on pages and labels: 27A")
    parser.add_argument("--brewer", metavar="NAME", help="who brews")
    parser.add_argument("--language", metavar="LANGUAGE", help="of the paper, and of remarks in the file")
    parser.add_argument(
        "--no-questions", action="store_true", help="take the usual answer to all that no option says"
    )
    parser.add_argument(
        "--no-schema", action="store_true", help="no batch.schema.json beside it, which is for editors"
    )
    _add_today(parser)


def _add_today(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--today", type=_day, metavar="DATE", help="take this for today, such as 2027-02-20")


_COMMANDS = {
    "new": ("write a first batch file, from six answers", _add_new),
    "make": ("write the set: sheets, labels, calendar, plan", _add_make),
    "check": ("say what is wrong, unusual or assumed", _add_check),
    "show": ("print the plan in the terminal", _add_show),
    "suggest": ("find brew days for the wishes of a season", _add_suggest),
    "list": ("name what there is to choose from", _add_list),
    "layout": ("copy, check and look up layouts of your own", _add_layout),
    "ruler": ("write a page to measure your printer by", _add_ruler),
    "schema": ("print the JSON Schema of a kind of file, for editors", _add_schema),
    "completion": ("print what a shell needs to complete words", _add_completion),
    "self-check": ("whether this computer has what it takes", _add_self_check),
}


def _day(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or len(text) != len("2027-02-20") or not 2000 <= day.year <= 2199:
        raise argparse.ArgumentTypeError(f'"{text[:40]}" is not a date; write it as 2027-02-20')
    return day


def _count(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or not 1 <= len(text) <= 3 or int(text) < 1:
        raise argparse.ArgumentTypeError(f'"{text[:40]}" is not a count of labels; write 1, 2, 3 …')
    return int(text)


def _copies(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or not 1 <= len(text) <= 2 or int(text) < 1:
        raise argparse.ArgumentTypeError(f'"{text[:40]}" is not a number of copies; write 1 to 99')
    return int(text)


def _paper(text: str) -> str:
    papers = {"a4": "A4", "letter": "Letter"}
    if text.lower() not in papers:
        raise argparse.ArgumentTypeError(f'"{text[:40]}" is not a paper; write A4 or Letter')
    return papers[text.lower()]


def _names(text: str) -> tuple[str, ...]:
    names = tuple(dict.fromkeys(name.strip().lower() for name in text.split(",") if name.strip()))
    if not names:
        raise argparse.ArgumentTypeError("name at least one part, such as fridge,labels")
    return names


def _forgiving(stream: IO[str] | None) -> None:
    """A character that the terminal cannot show becomes a question mark, not an error."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure:
        reconfigure(errors="replace")


def _silence() -> None:
    """Nobody reads any more: keep the interpreter from complaining about it at its end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.__stdout__):
        try:
            if stream:
                os.dup2(nowhere, stream.fileno())
        except (OSError, ValueError):
            continue


def _say(sentence: str) -> None:
    if sys.stderr:
        sys.stderr.write(f"sheetgen: {sentence}\n")


if __name__ == "__main__":
    sys.exit(main())
