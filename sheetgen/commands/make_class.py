"""make, for a class: everybody's set, then what they share; all of it or nothing.

Comes in: a class file and options.  Goes out: files.  Each person is made, put aside under temporary names
and forgotten; the last step moves everything to its place.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from sheetgen import clock, report
from sheetgen.commands import calendars, classes, common, joint_labels, opening, show_class, writing
from sheetgen.commands.class_people import Made, Sheets, Wanted
from sheetgen.commands.class_run import everybody
from sheetgen.intake.classes import ClassFile, Person
from sheetgen.nodes import Entries, Text
from sheetgen.planning.class_json import class_json
from sheetgen.planning.class_plan import ClassPlan
from sheetgen.printing import set as printed_set
from sheetgen.printing.calendar_file import Event
from sheetgen.printing.draw import Info
from sheetgen.printing.joined import JoinedLabels, JoinedSheets
from sheetgen.problems import Problems

ROSTER = "roster"


def run(path: Path, options: argparse.Namespace) -> int:
    """Make one class."""
    order = classes.Order(options.today or clock.today(), _overrides(options), tuple(options.only or ()))
    found = classes.read(path, order, [Path(name) for name in options.readings])
    people, wrong = _chosen(found, options.person)
    for sentence in wrong:
        common.complain(sentence)
    if wrong:
        return common.USE
    folder = Path(options.out) if options.out else Path(f"class-{found.code}")
    with writing.Staging() as staging:
        run_of = _Run(found, order, options, folder, staging)
        try:
            return run_of.make(people)
        except writing.CannotWrite as reason:
            common.complain(str(reason))
            return common.USE


def _overrides(options: argparse.Namespace) -> dict[str, str]:
    given = {"paper": options.paper, "start-at": options.start_at}
    return {key: str(value) for key, value in given.items() if value is not None}


def _chosen(found: ClassFile, wanted: str | None) -> tuple[tuple[Person, ...], list[str]]:
    """Everybody, or the one who was named by name or code; else a sentence."""
    if wanted is None or found.problems.stopped:
        return found.people, []
    name = " ".join(wanted.split()).casefold()
    held = [one for one in found.people if name in (one.code.casefold(), one.name.casefold())]
    if len(held) == 1:
        return tuple(held), []
    if held:
        codes = " or ".join(one.code for one in held)
        return (), [f"--person: {len(held)} people are called {wanted[:40]}; write {codes}"]
    known = ", ".join(f"{one.code} {one.name}" for one in found.people[:30])
    return (), [f'--person: nobody in this class is "{wanted[:40]}"; there are {known}']


def _by_paper(people: Sequence[Person]) -> list[Person]:
    """In the order of printing: those of one paper together, so that it is changed once."""
    papers = [_paper_of(one) for one in people]
    return [
        one for _, one in sorted(zip(papers, people, strict=True), key=lambda each: papers.index(each[0]))
    ]


def _paper_of(person: Person) -> str:
    said = person.tree.get("paper") if isinstance(person.tree, Entries) else None
    return said.value.strip().lower() if isinstance(said, Text) else ""


@dataclass
class _Run:
    """One run: what has been made so far, and where it goes."""

    found: ClassFile
    order: classes.Order
    options: argparse.Namespace
    folder: Path
    staging: writing.Staging
    told: list[classes.About] = field(default_factory=list)
    made: list[Made] = field(default_factory=list)
    events: list[Event] = field(default_factory=list)
    lines: list[tuple[Path, str]] = field(default_factory=list)
    forbidden: list[Path] = field(default_factory=list)
    changed: dict[str, list[str]] = field(default_factory=dict)

    @property
    def alone(self) -> bool:
        """Whether one person is made, and nothing that is shared."""
        return self.options.person is not None

    @property
    def name(self) -> str:
        """What the files of the class begin with."""
        return f"class-{self.found.code}"

    def make(self, people: Sequence[Person]) -> int:
        """Everybody, then what is shared, then all files at once."""
        language, _paper, units = classes.customs(self.found, self.order)
        wanted = Wanted(self.order, language, units, joint=not self.alone)
        before = _earlier(self.folder / f"{self.name}-plan.json")
        joined = _Joined(self, before)
        for one in everybody(_by_paper(people), wanted):
            self._keep(one, joined)
        places = {one.code: place for place, one in enumerate(people)}
        self.made.sort(key=lambda one: places[one.code])
        self.told.sort(key=lambda one: places[one[0]])
        problems = classes.all_found(self.found, self.told)
        if self._is_stopped(problems):
            classes.tell(problems, self._path, self.found)
            common.err("nothing was written")
            return common.INPUT
        plan = classes.plan_of(self.found, [one.standing for one in self.made if one.standing], self.order)
        if not self.alone and plan.people:
            problems.extend(joined.finish(plan, problems))
            if self._is_stopped(problems):
                classes.tell(problems, self._path, self.found)
                common.err("nothing was written")
                return common.INPUT
        classes.tell(problems, self._path, self.found)
        return self._finish(plan, people)

    @property
    def _path(self) -> Path:
        return Path(self.options.files[0])

    def _is_stopped(self, problems: Problems) -> bool:
        """With --skip-bad, what stops single people stops nobody else."""
        if not self.options.skip_bad:
            return problems.stopped or not self.made
        return self.found.problems.stopped or not self.made

    def _keep(self, one: Made, joined: _Joined) -> None:
        """Put somebody's files aside, and their part of what is shared."""
        self.told.append((one.code, one.name, one.problems))
        if one.standing is None:
            return
        for ending, data in one.files:
            self.staging.add(writing.Output(self.folder / one.code / f"{one.code}-{ending}", data))
        if not one.may_label:
            self.forbidden.append(self.folder / one.code / f"{one.code}-labels.pdf")
        joined.add(one)
        self.events += one.events
        kept = tuple(replace(each, pages=()) for each in one.sheets)
        self.made.append(replace(one, files=(), sheets=kept, runs=(), events=(), problems=()))

    def _finish(self, plan: ClassPlan, people: Sequence[Person]) -> int:
        """Move everything to its place, and say what there is."""
        paths = self.staging.paths
        if not paths:
            common.complain("nothing to write: this class has none of those parts now")
            return common.USE
        foreign = [] if self.options.force else writing.strangers(paths)
        for path in foreign:
            common.complain(f"{path} was not written by this program; move it away, or say --force")
        if foreign:
            return common.USE
        self.staging.finish([path for path in self._obsolete(paths) if writing.is_ours(path)])
        self._tell(plan, people)
        if self.options.open:
            opening.open_set(paths)
        return common.FINE

    def _obsolete(self, paths: Sequence[Path]) -> Iterator[Path]:
        """What an earlier printing left that must not be used any more: labels, and what had changed then."""
        yield from self.forbidden
        if not self.alone and not self.order.only and self.folder.is_dir():
            old = joint_labels.older(self.folder, self.name)
            old += self.folder.glob(f"{self.name}-changed.pdf")
            yield from (one for one in old if one not in paths)

    def _tell(self, plan: ClassPlan, people: Sequence[Person]) -> None:
        own = [path for path in self.staging.paths if path.parent != self.folder]
        sets = common.count(len(self.made), "person", "people")
        if own:
            shown = report.harmless(str(own[0].parent if len(self.made) == 1 else self.folder))
            common.out(f"{shown}  {common.count(len(own), 'file')} of {sets}, a folder each")
        widest = max((len(str(path)) for path, _ in self.lines), default=0)
        for path, says in self.lines:
            common.out(f"{report.harmless(str(path)):<{widest}}  {says}")
        if not self.alone and any(one.stand != "to-brew" for one in plan.people):
            common.out()
            for line in show_class.stand_lines(plan, common.words_of(common.ENGLISH, plan.units)):
                common.out(line)
        missing = [one for one in people if one.code not in {each.code for each in self.made}]
        if missing:
            named = ", ".join(f"{one.code} {one.name}" for one in missing)
            common.err(f"nothing was made for {common.count(len(missing), 'person', 'people')}: {named}")


class _Joined:
    """What everybody shares, growing with each of them."""

    def __init__(self, run_of: _Run, before: Mapping[str, Mapping[str, str]]) -> None:
        self.run, self.before, options = run_of, before, run_of.options
        info = Info(run_of.name, run_of.found.language, run_of.found.code, run_of.order.today)
        self.sheets = JoinedSheets(info, options.copies, options.one_sided)
        self.changed = JoinedSheets(info, options.copies, options.one_sided)
        self.labels = JoinedLabels(info, options.new_sheet)

    def add(self, one: Made) -> None:
        """Somebody's pages and labels."""
        if self.run.alone:
            return
        who = f"{one.code} {one.name}"
        self.sheets.add([page for each in one.sheets for page in each.pages], who)
        for kind, labels in one.runs:
            self.labels.add(kind, labels, who)
        if one.code in self.before:
            again = [each for each in one.sheets if self._differs(one.code, each)]
            self.changed.add([page for each in again for page in each.pages], who)
            if again:
                self.run.changed[who] = [each.name for each in again]

    def _differs(self, code: str, each: Sheets) -> bool:
        """Whether a sheet that is still needed says something else than the last one that was printed."""
        return each.needed and self.before[code].get(each.name) != each.print

    def finish(self, plan: ClassPlan, problems: Problems) -> Problems:
        """The files of the class; what is wrong with its own pages comes back."""
        run_of = self.run
        self._put("sheets.pdf", self.sheets.close(), f"{_pages(self.sheets.count)} in the order of printing")
        if run_of.changed:
            sheets = sum(len(names) for names in run_of.changed.values())
            about = f"{_pages(self.changed.count)}: the {common.count(sheets, 'sheet')} that changed"
            self._put("changed.pdf", self.changed.close(), about)
        for each in self.labels.close():
            self._put(joint_labels.ending(each), each.data, joint_labels.says(each))
        return self._own(plan, problems)

    def _own(self, plan: ClassPlan, problems: Problems) -> Problems:
        """The coach's pages, calendar and plan."""
        run_of, only = self.run, self.run.order.only
        found = Problems()
        if not only or ROSTER in only:
            laid = printed_set.lay_out_class(plan, common.words_of(plan.language, plan.units), run_of.folder)
            found = laid.problems
            pages = sum(len(part.pages) for part in laid.sheets)
            if not found.stopped:
                drawn = printed_set.draw_class(laid, plan, f"{run_of.name}-{ROSTER}")
                named = ", ".join(part.name for part in laid.sheets)
                self._put(f"{ROSTER}.pdf", drawn, f"{_pages(pages)}: {named}")
        if not only or "calendar" in only:
            data = calendars.coachs_calendar(run_of.name, run_of.events, plan.printed, plan.language)
            self._put("calendar.ics", data, common.count(len(run_of.events), "date"))
        if not only:
            self._put("plan.json", _plan_bytes(run_of, plan, problems), "the class, for other programs")
        return found

    def _put(self, ending: str, data: bytes | None, says: str) -> None:
        if data is not None:
            path = self.run.folder / f"{self.run.name}-{ending}"
            self.run.staging.add(writing.Output(path, data))
            self.run.lines.append((path, says))


def _pages(count: int) -> str:
    return common.count(count, "page")


# What was printed last


def _plan_bytes(run_of: _Run, plan: ClassPlan, problems: Problems) -> bytes:
    """The class for other programs, with a print of every sheet, so that the next run knows what changed."""
    prints = {one.code: {each.name: each.print for each in one.sheets} for one in run_of.made}
    return classes.dumped(class_json(plan, problems, common.in_english, prints))


def _earlier(path: Path) -> Mapping[str, Mapping[str, str]]:
    """The prints of the sheets of an earlier run, by codes; nothing where there is none that can be read."""
    try:
        if not writing.is_ours(path):
            return {}
        held = json.loads(path.read_bytes())
        people = {one["code"]: one["sheets"] for one in held["people"]}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return {}
    return {
        code: sheets for code, sheets in people.items() if isinstance(code, str) and isinstance(sheets, dict)
    }
