"""layout: copies of ours for people to change, a check of what they made, the manual of it all."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

from sheetgen import catalogue, report
from sheetgen.commands import common, trials, writing
from sheetgen.problems import did_you_mean

FOLDERS = {
    "layouts/documents": ".layout",
    "layouts/stocks": ".yaml",
    "layouts/papers": ".yaml",
    "layouts/languages": ".yaml",
}
"""Where what people may change lies, and how its files end."""
_ABOUT = {
    "layouts/documents": "the layout {name}. It is used instead of ours. To change a part of it only, write"
    " `extends: {name}` below `layout:` and keep no more than the blocks that you change.",
    "layouts/stocks": "the label stock {name}. Give it a name of its own, in it and as the file's name.",
    "layouts/papers": "the paper {name}. Give it a name of its own, in it and as the file's name.",
    "layouts/languages": "the language {name}. It is used instead of ours. What stays as it is may go: write"
    " `extends: en-GB` and keep the lines that you change.",
}


def run(options: argparse.Namespace) -> int:
    """Do one of the three."""
    if options.what == "copy":
        return copy(options)
    if options.what == "check":
        return check(options)
    from sheetgen.commands import manuals  # brings what draws; the others do without

    return manuals.write(Path(options.out), options.force)


# Copies


def copy(options: argparse.Namespace) -> int:
    """Copy a file of ours to where the program finds it before ours."""
    found = _ours(options.name)
    if found is None:
        common.complain(f'there is no layout of ours called "{options.name[:60]}"; {_hint(options.name)}')
        return common.USE
    folder, source = found
    base = Path(options.to) if options.to else catalogue.user_folder()
    if base is None or "\0" in str(base) or (base.exists() and not base.is_dir()):
        common.complain("there is no folder for it; name one with --to")
        return common.USE
    target = base / folder / source.name
    if target.exists() and not options.force:
        common.complain(f"{target} is there already; move it away, or say --force")
        return common.USE
    text = _with_comment(source.read_text(encoding="utf-8"), folder, source.stem)
    try:
        writing.write_all([writing.Output(target, text.encode())])
    except writing.CannotWrite as reason:
        common.complain(str(reason))
        return common.USE
    common.out(f"{target}    a copy of ours; then: sheetgen layout check {target}")
    return common.FINE


def _ours(name: str) -> tuple[str, Path] | None:
    """The folder and the file of ours with that name."""
    if not catalogue.is_name(name):
        return None
    places = (
        (folder, catalogue.our_folder() / folder / f"{name}{suffix}") for folder, suffix in FOLDERS.items()
    )
    return next(((folder, path) for folder, path in places if path.is_file()), None)


def _hint(name: str) -> str:
    known = [
        path.stem
        for folder, suffix in FOLDERS.items()
        for path in (catalogue.our_folder() / folder).glob(f"*{suffix}")
    ]
    return did_you_mean(name, known) or f"there are {', '.join(sorted(known))}"


def _with_comment(text: str, folder: str, name: str) -> str:
    """The text with a line that says what it is: in the head of a layout, else at its top."""
    said = f"A copy of sheetgen's own: {_ABOUT[folder].format(name=name)}"
    if folder != "layouts/documents":
        return f"# {said}\n{text}"
    if text.startswith("---\n"):
        return f"---\n# {said}\n{text[4:]}"
    return f"{{#- A copy of sheetgen's own: the part {name}, which layouts share. -#}}\n{text}"


# Checks


def check(options: argparse.Namespace) -> int:
    """Try layouts with a short, a usual and a long batch, in all languages, on both papers."""
    wanted = [*_wanted(options.names)]
    for sentence in (one for one in wanted if isinstance(one, str)):
        common.complain(sentence)
    if any(isinstance(one, str) for one in wanted):
        return common.USE
    tried = [one for one in wanted if not isinstance(one, str)]
    if not tried:
        common.err("no layouts of your own were found; ours are checked")
        tried = [*_all_of_ours()]
    return common.INPUT if sum(map(_try, tried)) else common.FINE


def _wanted(names: list[str]) -> Iterator[trials.Subject | str]:
    """What is to be checked; a sentence for each name that is nothing of the kind."""
    for name in names:
        yield _of_file(Path(name)) if Path(name).suffix in FOLDERS.values() else _of_name(name)
    if not names:
        yield from _own(Path.cwd())


def _of_file(path: Path) -> trials.Subject | str:
    """A file by its path: it must lie in a folder in which the program would find it."""
    shown = report.harmless(str(path))
    if not path.is_file():
        return f"there is no file {shown}"
    folder = f"layouts/{path.resolve().parent.name}"
    if FOLDERS.get(folder) != path.suffix or not catalogue.is_name(path.stem):
        kinds = ", ".join(f"{name}/NAME{suffix}" for name, suffix in FOLDERS.items())
        return f"{shown} is not where the program would find it; it belongs into one of {kinds}"
    above = path.resolve().parent.parent
    return trials.Subject(folder, path.stem, above.parent if above.name == "layouts" else above, path)


def _of_name(name: str) -> trials.Subject | str:
    """The nearest file of that name."""
    for folder, suffix in FOLDERS.items():
        path = catalogue.find(folder, name, Path.cwd(), suffix)
        if path:
            return trials.Subject(folder, name, Path.cwd(), path)
    return f'there is no layout called "{report.harmless(name[:60])}"; {_hint(name)}'


def _own(beside: Path) -> Iterator[trials.Subject]:
    """Everything in the person's folder and beside us that is not ours."""
    for folder, suffix in FOLDERS.items():
        ours = (catalogue.our_folder() / folder).resolve()
        for name in catalogue.names(folder, beside, suffix):
            path = catalogue.find(folder, name, beside, suffix)
            if path and path.resolve().parent != ours:
                yield trials.Subject(folder, name, beside, path)


def _all_of_ours() -> Iterator[trials.Subject]:
    for folder, suffix in FOLDERS.items():
        for name in catalogue.names(folder, None, suffix):
            path = catalogue.find(folder, name, None, suffix)
            if path:
                yield trials.Subject(folder, name, None, path)


def _try(subject: trials.Subject) -> bool:
    """Try one file and tell what was found; True if something is wrong."""
    result = trials.tried(subject)
    shown = report.harmless(str(subject.path))
    common.tell(result.problems.in_order(), subject.path)
    stops = len(result.problems.of("stop"))
    how = f"tried with {', '.join(result.batches)}; {', '.join(result.languages)}; {', '.join(result.papers)}"
    common.out(f"{shown}: {common.count(stops, 'problem') if stops else 'fine'}, {how}")
    return bool(stops)
