"""make: the whole set of one or more batches, all of it or nothing."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from sheetgen import clock, report
from sheetgen.commands import calendars, class_options, common, make_season, opening, writing
from sheetgen.commands.make_season import Shared
from sheetgen.planning.as_json import as_json
from sheetgen.planning.plan import Plan
from sheetgen.printing import set as printed_set
from sheetgen.printing.set import Laid
from sheetgen.problems import did_you_mean
from sheetgen.records import record

OTHER = ("calendar", "plan", "roster")
SHARED = "shared"
"""The pages that the batches of a season share; they have no name of their own for --only."""
PARTS = (*printed_set.DOCUMENTS, *OTHER, printed_set.EVERYTHING)


@record
class _Set:
    """One batch on its way to paper: what was read, what was laid out, and where it goes."""

    loaded: common.Loaded
    plan: Plan
    laid: Laid
    folder: Path


def run(options: argparse.Namespace) -> int:
    """Make the sets of all files; nothing is written before all of them are found good."""
    if options.watch:
        from sheetgen.commands import watch

        return watch.run(options)
    wrong = [
        *common.unusable([*options.files, *options.replaces]),
        *_unknown_parts(options.only or (), options.files),
        *_no_folder(options.out),
        *_no_calendar(options.calendar),
    ]
    classes = [Path(name) for name in options.files if not wrong and common.is_class(Path(name))]
    wrong += class_options.unfit(options, classes)
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    if classes:
        from sheetgen.commands import make_class

        return make_class.run(classes[0], options)
    sets = _read_all(options)
    if sets is None:
        common.err("nothing was written")
        return common.INPUT
    seasons = [one for one in sets if isinstance(one, Shared)]
    replaced, unfit = calendars.read_replaced(
        options.replaces, _plans(sets), [one.plan.name for one in seasons]
    )
    wrong = make_season.wrong_codes(options, seasons)
    for sentence in (*wrong, *unfit):
        common.complain(sentence)
    if wrong or unfit:
        common.err("nothing was written")
        return common.USE if wrong else common.INPUT
    return _write(sets, replaced, options)


def _unknown_parts(names: Sequence[str], files: Sequence[str]) -> list[str]:
    own = {name for file in files for name in printed_set.own_documents(Path(file).parent)}
    unknown = [name for name in names if name not in PARTS and name not in own]
    return [f'--only: there is no part "{name[:40]}"; {_hint(name)}' for name in unknown]


def _no_folder(out: str | None) -> list[str]:
    """A sentence if a file stands where the folder is to be."""
    if out is None or (out and "\0" not in out and (Path(out).is_dir() or not Path(out).exists())):
        return []
    return [f'--out: "{out[:100]}" is not a folder; name one, or one that is still to be made']


def _no_calendar(name: str | None) -> list[str]:
    """A sentence if the joint calendar cannot be a file of that name."""
    if name is None or ("\0" not in name and name.endswith(".ics") and not Path(name).is_dir()):
        return []
    return [f'--calendar: "{name[:100]}" is not the name of a calendar file; write dates.ics, for example']


def _hint(name: str) -> str:
    return did_you_mean(name, PARTS) or f"parts are {', '.join(PARTS)}"


def _read_all(options: argparse.Namespace) -> list[_Set | Shared] | None:
    """Every batch planned and laid out, its problems told; None if one of them is stopped."""
    today = options.today or clock.today()
    made = [one for name in options.files for one in _read(Path(name), today, options)]
    twice = _twice([found for found in made if isinstance(found, _Set)])
    for sentence in twice:
        common.complain(sentence)
    found = [one for one in made if one]
    return None if twice or len(found) < len(made) else found


def _read(path: Path, today: date, options: argparse.Namespace) -> list[_Set | Shared | None]:
    """The set of a batch, or those of a season's batches and what they share; None for what is stopped."""
    if common.is_season(path):
        return _read_season(path, today, options)
    return [_read_batch(path, today, options)]


def _read_season(path: Path, today: date, options: argparse.Namespace) -> list[_Set | Shared | None]:
    from sheetgen.commands import seasons

    loaded = seasons.load(path, today, _overrides(options))
    laid, shared = seasons.lay_out(loaded, options.only or ()), seasons.lay_out_shared(loaded)
    seasons.tell(loaded)
    if loaded.plan is None or shared is None or not loaded.good:
        return [None]
    folder = Path(options.out) if options.out else Path(seasons.prefix(loaded.plan))
    sets = [
        _Set(one, one.plan, pages, folder)
        for one, pages in zip(loaded.batches, laid, strict=True)
        if one.plan is not None
    ]
    return [*sets, make_season.shared(loaded.plan, shared, folder, [one.laid for one in sets])]


def _read_batch(path: Path, today: date, options: argparse.Namespace) -> _Set | None:
    loaded = common.load(path, today, _overrides(options))
    plan, laid = loaded.plan, common.lay_out(loaded, options.only or ())
    common.tell(loaded.problems, path, units=loaded.units)
    if plan is None or laid is None or loaded.problems.stopped:
        return None
    return _Set(loaded, plan, laid, Path(options.out) if options.out else Path(plan.code))


def _overrides(options: argparse.Namespace) -> dict[str, str]:
    """What the command line says instead of the batch file."""
    given = {"paper": options.paper, "start-at": options.start_at}
    return {key: str(value) for key, value in given.items() if value is not None}


def _twice(sets: Sequence[_Set]) -> list[str]:
    """A sentence for every file whose code another one has already."""
    first: dict[str, Path] = {}
    told = []
    for one in sets:
        other = first.setdefault(one.plan.code, one.loaded.path)
        if other is not one.loaded.path:
            told.append(
                f"{other} and {one.loaded.path} are both batch {one.plan.code}; give one another code"
            )
    return told


# Writing


def _write(sets: Sequence[_Set | Shared], replaced: calendars.Replaced, options: argparse.Namespace) -> int:
    only, force = options.only or (), options.force
    groups = [
        _outputs(one, only, replaced)
        if isinstance(one, _Set)
        else make_season.outputs(one, replaced, options)
        for one in sets
    ]
    joint = _joint(_plans(sets), replaced, options.calendar)
    flat = [*(output for group in groups for output, _ in group), *joint]
    gone = [
        _obsolete(one) if isinstance(one, _Set) else make_season.obsolete(one, flat, options) for one in sets
    ]
    if not flat:
        common.complain("nothing to write: this batch has none of those parts now")
        return common.USE
    foreign = [] if force else writing.strangers([output.path for output in flat])
    for path in foreign:
        common.complain(f"{path} was not written by this program; move it away, or say --force")
    if foreign:
        return common.USE
    try:
        writing.write_all(flat, [path for paths in gone for path in paths])
    except writing.CannotWrite as reason:
        common.complain(str(reason))
        return common.USE
    for one, group, old in zip(sets, groups, gone, strict=True):
        if isinstance(one, _Set):
            _tell(one, group, old)
        else:
            make_season.tell(group, old)
    for output in joint:
        dates = common.count(len(_plans(sets)), "batch", "batches")
        common.out(f"{report.harmless(str(output.path))}  the dates of {dates}")
    if options.open:
        opening.open_set([output.path for output in flat])
    return common.FINE


def _plans(sets: Sequence[_Set | Shared]) -> list[Plan]:
    return [one.plan for one in sets if isinstance(one, _Set)]


def _joint(plans: Sequence[Plan], replaced: calendars.Replaced, name: str | None) -> list[writing.Output]:
    """The calendar of all batches in one file, if one was asked for."""
    return [writing.Output(Path(name), calendars.calendar_of(plans, replaced, shared=True))] if name else []


def _outputs(
    one: _Set, only: Sequence[str], replaced: calendars.Replaced
) -> list[tuple[writing.Output, str]]:
    """The files of one set, finished in memory, each with what is in it."""
    plan, drawn = one.plan, printed_set.draw(one.laid, one.plan)
    made: list[tuple[str, bytes | None]] = [("sheets.pdf", drawn.sheets), ("labels.pdf", drawn.labels)]
    if _wanted("calendar", only):
        made.append(("calendar.ics", calendars.calendar_of([plan], replaced)))
    if _wanted("plan", only):
        made.append(("plan.json", json_bytes(plan)))
    paths = [(one.folder / f"{plan.code}-{name}", data) for name, data in made]
    return [(writing.Output(path, data), _contents(path, one)) for path, data in paths if data is not None]


def _wanted(part: str, only: Sequence[str]) -> bool:
    """Whether a part is asked for: by its name, with all others, or because none is named."""
    return not only or part in only or printed_set.EVERYTHING in only


def json_bytes(plan: Plan) -> bytes:
    """plan.json as it is written and shown."""
    text = json.dumps(as_json(plan, common.in_english), indent=1, ensure_ascii=False, allow_nan=False)
    return text.encode("utf-8", "replace") + b"\n"


def _obsolete(one: _Set) -> list[Path]:
    """Labels from an earlier printing that must not be used any more."""
    forbidden = one.plan.safety is not None or not one.plan.labels.allowed
    path = one.folder / f"{one.plan.code}-labels.pdf"
    return [path] if forbidden and writing.is_ours(path) else []


# Telling


def _tell(one: _Set, outputs: Sequence[tuple[writing.Output, str]], obsolete: Sequence[Path]) -> None:
    widest = max((len(str(output.path)) for output, _ in outputs), default=0)
    for output, about in outputs:
        common.out(f"{report.harmless(str(output.path)):<{widest}}  {about}".rstrip())
    for path in obsolete:
        common.out(f"{report.harmless(str(path))} was taken away: this batch may not be labelled now")
    instruction = _instruction(one)
    if instruction:
        common.out(instruction)


def _contents(path: Path, one: _Set) -> str:
    if path.name.endswith("-sheets.pdf"):
        return _pages(one.laid.sheets)
    if path.name.endswith("-labels.pdf"):
        return _pages(one.laid.labels)
    if path.suffix == ".ics":
        return common.count(calendars.count_of(one.plan), "date")
    return "the plan, for other programs"


def _pages(parts: Sequence[printed_set.Part]) -> str:
    total = common.count(sum(len(part.pages) for part in parts), "page")
    named = [f"{part.items} {part.name}" if part.items else part.name for part in parts]
    return f"{total}: {', '.join(named)}"


def _instruction(one: _Set) -> str:
    """The last line: what to print when."""
    if one.plan.safety:
        return "Print this page now, and read it before anybody touches a bottle."
    steps = [*_sheet_steps(one)]
    if one.laid.labels:
        steps.append(
            "the labels on bottling day" if one.plan.labels.filled_is == "planned" else "the labels now"
        )
    return f"Print {_listed(steps)}." if steps else ""


def _sheet_steps(one: _Set) -> Iterator[str]:
    """Pages by the day they are needed: the first now, the others before brewing or bottling."""
    held: dict[str, list[int]] = {}
    number = 0
    for part in one.laid.sheets:
        for _page in part.pages:
            number += 1
            held.setdefault("now" if number == 1 else _needed(part.name, one.plan), []).append(number)
    for when, numbers in held.items():
        if when:
            yield f"{_range(numbers)} {when}"


def _needed(name: str, plan: Plan) -> str:
    """When a sheet is needed: all before brewing; then bottling before bottling; "" once its day is over."""
    done = {task.id for task in plan.tasks if task.state == "done"}
    if "brew" not in done:
        return f"before brew day ({_day(plan, 'brew')})"
    if name in ("shop", "brew") or (name == "bottling" and "bottle" in done):
        return ""
    return f"before bottling day ({_day(plan, 'bottle')})" if name == "bottling" else "now"


def _day(plan: Plan, task_id: str) -> str:
    return (
        common.words_of(common.ENGLISH)
        .day(plan.task(task_id).when.expected, "long-date")
        .replace("\u00a0", " ")
    )


def _range(numbers: Sequence[int]) -> str:
    """Page numbers in words: page 1, pages 2-4, pages 2-3 and 5."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    shown = [str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs]
    return f"{'page' if len(numbers) == 1 else 'pages'} {_listed(shown)}"


def _listed(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else "".join(parts)
