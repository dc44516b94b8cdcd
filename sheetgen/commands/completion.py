"""completion: what a shell offers when somebody presses the tabulator key.

Comes in: the words of a command line up to the one that is being typed, and the parser itself.  Goes out:
what may stand there: commands, options, choices, files of the kind that is wanted, names of recipes.
Each shell gets a few lines that ask this program, so a new option or recipe is offered as soon as it exists.
"""

from __future__ import annotations

import argparse
import contextlib
import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from sheetgen import catalogue
from sheetgen.commands import common
from sheetgen.records import record

OFFER = "offer"
SHELLS: Mapping[str, str] = {
    "bash": """# sheetgen in bash; in ~/.bashrc:  source <(sheetgen completion bash)
_sheetgen() {
    local IFS=$'\\n'
    COMPREPLY=($("$1" completion offer -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null))
    if [[ ${#COMPREPLY[@]} == 1 && ${COMPREPLY[0]} == */ ]]; then compopt -o nospace; fi
}
complete -o filenames -F _sheetgen sheetgen
""",
    "zsh": """#compdef sheetgen
# sheetgen in zsh; in ~/.zshrc, behind compinit:  source <(sheetgen completion zsh)
_sheetgen() {
    local each
    local -a whole begun
    for each in ${(f)"$(${words[1]} completion offer -- "${(@)words[2,CURRENT]}" 2>/dev/null)"}; do
        if [[ $each == */ ]]; then begun+=("$each"); else whole+=("$each"); fi
    done
    compadd -- $whole
    compadd -S '' -- $begun
}
compdef _sheetgen sheetgen
""",
    "fish": """# sheetgen in fish; in ~/.config/fish/config.fish:  sheetgen completion fish | source
function __sheetgen_offers
    set -l words (commandline -opc)
    set -l current (commandline -ct)
    set -l program $words[1]
    set -e words[1]
    $program completion offer -- $words "$current" 2>/dev/null
end
complete -c sheetgen -f -a '(__sheetgen_offers)'
""",
}
_MOST = 500

Names = Callable[[], Iterable[str]]
"""What may stand in a place, whatever has been typed of it so far."""


def run(options: argparse.Namespace) -> int:
    """Print a shell's lines; or, for those lines, what may stand at the end of the words."""
    if options.what != OFFER:
        common.out(SHELLS[options.what].rstrip("\n"))
        return common.FINE
    for offer in offers(options.whole, options.words):
        common.out(offer)
    return common.FINE


def offers(parser: argparse.ArgumentParser, words: Sequence[str]) -> list[str]:
    """What may stand in the place of the last word, which has been begun."""
    parted = [*words, ""] if words and words[-1] == "=" else [*words]
    *before, begun = [word for word in parted if word != "="] or [""]
    found = [*_offered(_place(parser, before), begun)]
    return sorted(dict.fromkeys(found))[:_MOST]


# Where one stands


@record
class _Place:
    """A place in a command line: whose options may come, and what is wanted there."""

    parser: argparse.ArgumentParser
    wanted: argparse.Action | None
    is_value: bool


def _place(parser: argparse.ArgumentParser, words: Sequence[str]) -> _Place:
    """The place behind these words."""
    places = [*_positionals(parser)]
    option: argparse.Action | None = None
    for word in words:
        if option is not None:
            option = None
        elif word.startswith("-") and len(word) > 1:
            known = _options(parser).get(word)
            option = known if known is not None and known.nargs != 0 else None
        elif places:
            taken = places[0]
            inner = taken.choices.get(word) if isinstance(taken.choices, dict) else None
            if isinstance(inner, argparse.ArgumentParser):
                parser, places = inner, [*_positionals(inner)]
            elif taken.nargs not in ("*", "+"):
                places = places[1:]
    if option is not None:
        return _Place(parser, option, True)
    return _Place(parser, places[0] if places else None, False)


def _actions(parser: argparse.ArgumentParser) -> list[argparse.Action]:
    return parser._actions  # noqa: SLF001  the library has no other way to ask for them


def _options(parser: argparse.ArgumentParser) -> dict[str, argparse.Action]:
    return {name: action for action in _actions(parser) for name in action.option_strings}


def _positionals(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    return (action for action in _actions(parser) if not action.option_strings)


# What may stand there


def _offered(place: _Place, begun: str) -> Iterator[str]:
    if place.wanted is not None and (place.is_value or not begun.startswith("-")):
        yield from _values(place.wanted, begun)
    if not place.is_value and (begun.startswith("-") or place.wanted is None):
        yield from (name for name in _options(place.parser) if name.startswith(begun) and name[:2] == "--")


def _values(action: argparse.Action, begun: str) -> Iterator[str]:
    """Values of an option or a place: its choices, or what its name in the help stands for."""
    if action.choices is not None:
        yield from (str(each) for each in action.choices if str(each).startswith(begun) and each != OFFER)
        return
    name = action.metavar if isinstance(action.metavar, str) else ""
    endings = FILES.get(name)
    if endings is not None:
        yield from _paths(begun, endings)
    names = NAMED.get(action.dest) or NAMED.get(name)
    if names is not None:
        head, comma, last = begun.rpartition(",") if name in LISTED else ("", "", begun)
        yield from (f"{head}{comma}{each}" for each in names() if each.startswith(last))


def _paths(begun: str, endings: tuple[str, ...]) -> Iterator[str]:
    """Files of these kinds, and folders on the way to others."""
    _folder, _slash, stem = begun.rpartition("/")
    head = begun[: len(begun) - len(stem)]
    place = Path(os.path.expanduser(head)) if head else Path()  # noqa: PTH111  "~/" stays as it is typed
    with contextlib.suppress(OSError, ValueError):
        for path in sorted(place.iterdir()):
            if not path.name.startswith(stem) or (path.name.startswith(".") and not stem):
                continue
            if path.is_dir():
                yield f"{head}{path.name}/"
            elif path.name.endswith(endings):
                yield f"{head}{path.name}"


def _parts() -> Iterable[str]:
    from sheetgen.commands.make import PARTS

    return PARTS


def _recipes() -> Iterable[str]:
    from sheetgen.intake.recipes import names

    return names(Path.cwd())


def _of(*folders: str, suffix: str = ".yaml") -> Names:
    """Names of data files, ours and those beside."""

    def names() -> Iterable[str]:
        return (name for folder in folders for name in catalogue.names(folder, Path.cwd(), suffix))

    return names


def _layouts() -> Iterable[str]:
    kinds = _of("layouts/stocks", "layouts/papers", "layouts/languages")
    return (*_of("layouts/documents", suffix=".layout")(), *kinds())


_YAML = (".yaml", ".yml")
FILES: Mapping[str, tuple[str, ...]] = {
    "FILE": _YAML,
    "FILE.yaml": _YAML,
    "DIR": (),
    "PLAN": (".json",),
    "TABLE.csv": (".csv",),
    "FILE.ics": (".ics",),
    "FILE.pdf": (".pdf",),
    "NAME|FILE": (".layout", ".yaml"),
}
"""What a place takes, by the name that stands for it in the help: files with these endings, and folders."""
NAMED: Mapping[str, Names] = {
    "only": _parts,
    "paper": lambda: ("A4", "Letter"),
    "language": _of("layouts/languages"),
    "recipe": _recipes,
    "name": _layouts,
    "names": _layouts,
}
"""What a place takes, by the name of the option: names of ours and of the person's."""
LISTED = ("PARTS",)
"""Names in the help for what may be several, with commas between."""
FREE = ("DATE", "N", "NAME", "DAY", "LITRES", "DEGREES", "BOTTLES", "CODE", "all|CODES")
"""Names in the help for what nobody but the person knows."""
