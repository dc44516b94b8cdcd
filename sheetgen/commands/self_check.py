"""self-check: whether this computer has what it takes, before the evening on which the paper is wanted.

Comes in: nothing but the computer itself.  Goes out: one line for each thing that was looked at, and an exit
code; what is wrong comes with what to do.  Nothing is fetched from anywhere, and nothing is left behind.
"""

from __future__ import annotations

import argparse
import platform
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Literal

from sheetgen import RULES_OF, __version__, catalogue, clock, report
from sheetgen.commands import common
from sheetgen.records import record

Verdict = Literal["good", "look", "wrong"]


@record
class Finding:
    """One thing that was looked at: how it stands, what it is, and what to do about it."""

    verdict: Verdict
    what: str
    todo: str = ""


@record
class Here:
    """What the computer says of itself, so that tests may say otherwise."""

    today: date
    zone: str
    environment: Mapping[str, str]
    folder: Path


def run(options: argparse.Namespace) -> int:
    """Look at everything; 1 if something is wrong."""
    import os

    here = Here(options.today or clock.today(), clock.zone(), os.environ, Path.cwd())
    found = [finding for look in LOOKS for finding in look(here)]
    for finding in found:
        common.out(f"{finding.verdict:<5}  {report.harmless(finding.what)}")
        if finding.todo:
            common.out(f"       {report.harmless(finding.todo)}")
    wrong = sum(finding.verdict == "wrong" for finding in found)
    common.out()
    common.out(
        f"{common.count(wrong, 'thing')} to mend before anything is made" if wrong else "Ready to make."
    )
    return common.INPUT if wrong else common.FINE


# The program


def _program(_here: Here) -> Iterator[Finding]:
    python = platform.python_version()
    yield Finding("good", f"sheetgen {__version__}, its rules of {RULES_OF}, on Python {python}")


def _libraries(_here: Here) -> Iterator[Finding]:
    """Every library that is needed, and whether its version is one that was tried."""
    from importlib import metadata

    try:
        needed = metadata.requires("sheetgen") or []
    except metadata.PackageNotFoundError:
        yield Finding("look", "run from a checkout: the versions of libraries are not compared")
        return
    good = []
    for line in needed:
        name, limits, extra = _requirement(line)
        if extra:
            continue
        try:
            version = metadata.version(name)
        except metadata.PackageNotFoundError:
            yield Finding("wrong", f"the library {name} is missing", f"pip install '{name}{limits}'")
            continue
        if _within(version, limits):
            good.append(f"{name} {version}")
        else:
            todo = f"pip install '{name}{limits}'"
            yield Finding("wrong", f"{name} {version} is not a version that was tried", todo)
    if good:
        yield Finding("good", f"libraries: {', '.join(good)}")


def _requirement(line: str) -> tuple[str, str, bool]:
    """Name, limits, and whether it only belongs to an extra, from "jinja2<4,>=3.1; extra == 'test'"."""
    wanted, _semicolon, when = line.partition(";")
    name = wanted.strip()
    cut = min((name.index(sign) for sign in "<>=!~ [(" if sign in name), default=len(name))
    return name[:cut], name[cut:].strip(" ()"), "extra" in when


def _within(version: str, limits: str) -> bool:
    """Whether a version keeps limits such as ">=3.1.6,<4"."""
    for limit in filter(None, (each.strip() for each in limits.split(","))):
        sign = limit[:2] if limit[1:2] == "=" else limit[:1]
        one, other = _numbers(version), _numbers(limit[len(sign) :])
        width = max(len(one), len(other))
        one, other = one + (0,) * (width - len(one)), other + (0,) * (width - len(other))
        if not {">=": one >= other, "<": one < other, "==": one == other}.get(sign, True):
            return False
    return True


def _numbers(version: str) -> tuple[int, ...]:
    """The leading numbers of a version: 3.1.6rc1 is 3, 1, 6."""
    found = []
    for part in version.split("."):
        digits = part[: len(part) - len(part.lstrip("0123456789"))]
        if not digits:
            break
        found.append(int(digits))
    return tuple(found)


# What it ships


def _faces(_here: Here) -> Iterator[Finding]:
    """Every letter of every language is in the bundled faces."""
    from sheetgen.printing import fonts

    damaged = fonts.trouble()
    if damaged:
        yield Finding("wrong", common.in_english(damaged.message), common.in_english(damaged.fix))
        return
    signs = 0
    for language in catalogue.names("layouts/languages"):
        words = common.words_of(language)
        said = "".join(sorted(set("".join([*words.table.values(), *words.names.values()]))))
        unknown, signs = fonts.missing(said), signs + len(said)
        if unknown:
            named = " ".join(f"U+{ord(sign):04X}" for sign in unknown[:8])
            yield Finding(
                "wrong", f"the typeface lacks letters of {language}: {named}", "use another language"
            )
    known = ", ".join(catalogue.names("layouts/languages"))
    yield Finding("good", f"typeface: every letter of {known} is there")


def _data(_here: Here) -> Iterator[Finding]:
    """Every recipe, drink and sheet of labels that this program or this person has can be read."""
    from sheetgen.intake.recipes import recipes
    from sheetgen.printing import set as printed_set

    read = recipes(Path.cwd())
    broken = [name for name, recipe, problems in read if recipe is None or problems.stopped]
    for name in broken:
        yield Finding(
            "look",
            f"the recipe {name} cannot be used",
            f"sheetgen check says why of a batch with recipe: {name}",
        )
    stocks = catalogue.names("layouts/stocks", Path.cwd())
    papers = [name for name in catalogue.names("layouts/papers") if printed_set.paper_of(name)]
    yield Finding(
        "good",
        f"{common.count(len(read) - len(broken), 'recipe')}, {common.count(len(stocks), 'sheet')} of labels, "
        f"papers {', '.join(papers)}",
    )


# The computer


def _paper(here: Here) -> Iterator[Finding]:
    """Which paper people use where this computer thinks it is."""
    said = next((here.environment[name] for name in _PAPER_SAYS if here.environment.get(name)), "")
    country = said.partition(".")[0].partition("_")[2][:2].upper()
    if country in _LETTER_COUNTRIES:
        yield Finding(
            "look",
            f"this computer is set up for {said}, where printers hold Letter",
            "write language: en-US or paper: Letter in a batch; without them the sheets are A4",
        )
    else:
        where = f"set up for {said}" if country else "not set up for any country"
        yield Finding("good", f"paper: A4 unless a batch says otherwise (this computer is {where})")


_PAPER_SAYS = ("LC_ALL", "LC_PAPER", "LANG")
_LETTER_COUNTRIES = frozenset(
    ("US", "CA", "MX", "PH", "CL", "CO", "CR", "GT", "NI", "PA", "SV", "VE", "DO", "PR")
)


def _printer(_here: Here) -> Iterator[Finding]:
    yield Finding(
        "look",
        "printers shrink and shift; only a ruler can tell",
        "sheetgen ruler writes a page: print it at actual size and measure its bars, once for every printer",
    )


def _rights(here: Here) -> Iterator[Finding]:
    """A file can be written where one is, and taken away again."""
    import tempfile

    shown = str(here.folder)
    try:
        with tempfile.TemporaryFile(dir=here.folder) as probe:
            probe.write(b"sheetgen")
            probe.flush()
    except OSError as fault:
        reason = fault.strerror or "the system refused"
        yield Finding(
            "wrong",
            f"nothing can be written in {shown}: {reason}",
            "go to a folder of your own, or use --out",
        )
        return
    yield Finding("good", f"files can be written in {shown}")
    own = catalogue.user_folder()
    if own is not None and own.exists() and not _readable(own):
        yield Finding("wrong", f"your own folder {own} cannot be read", "check its rights")


def _readable(folder: Path) -> bool:
    try:
        return any(True for _ in folder.iterdir()) or True
    except OSError:
        return False


def _time(here: Here) -> Iterator[Finding]:
    """Every date on paper is counted from today: a wrong clock prints wrong dates."""
    known = date.fromisoformat(RULES_OF)
    shown = here.today.strftime("%A %d %B %Y")
    if here.today < known:
        yield Finding("wrong", f"the clock says {shown}, before this program was made", "set the clock")
    elif here.today.year > known.year + _OLD_YEARS:
        yield Finding(
            "look",
            f"the clock says {shown}: {here.today.year - known.year} years after the rules of this program",
            "set the clock if that is wrong; else look for a newer sheetgen",
        )
    elif not here.zone:
        yield Finding("look", f"today is {shown}; the time zone is not known", "set it, if the day is wrong")
    else:
        yield Finding("good", f"today is {shown} ({here.zone})")


_OLD_YEARS = 5


def _screen(_here: Here) -> Iterator[Finding]:
    """Whether the terminal can show our letters."""
    letters = getattr(sys.stdout, "encoding", None) or "ascii"
    shown = common.in_letters_of(letters, "½ °C …")
    if shown == "½ °C …":
        yield Finding("good", f"the terminal shows every letter ({letters})")
    else:
        yield Finding("look", f"the terminal shows plainer letters ({letters}); paper is not touched by that")


Look = Callable[[Here], Iterator[Finding]]
LOOKS: Sequence[Look] = (_program, _libraries, _faces, _data, _paper, _printer, _rights, _time, _screen)
"""Everything that is looked at, in this order."""
