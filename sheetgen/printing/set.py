"""The set of a batch: which documents it has, laid out on their paper, and drawn.

Comes in: a `Plan`, `Words`, and the folder of the batch file (layouts beside it come before ours). Goes out:
`Laid`, pages with everything that does not fit or cannot be printed, without the PDF library; then `Drawn`,
the bytes.  A batch whose glass was sealed too early gets the safety sheet and nothing else; one that may not
be labelled gets no labels.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sheetgen import catalogue
from sheetgen.planning.class_plan import ClassPlan
from sheetgen.planning.plan import Plan
from sheetgen.planning.season_plan import SeasonPlan
from sheetgen.printing import flow, fonts, labels, paper, picture, stock
from sheetgen.printing.blocks import Block, Sheet, Sticker
from sheetgen.printing.labels import Feed, Run
from sheetgen.printing.marks import Page
from sheetgen.printing.paper import Paper
from sheetgen.printing.stock import Stock
from sheetgen.printing.views.common import dated
from sheetgen.printing.views.ruler import Bare
from sheetgen.printing.words import Words
from sheetgen.problems import Problems, did_you_mean, said
from sheetgen.records import record

if TYPE_CHECKING:
    from sheetgen.printing.layout import Layout

SHEETS = ("fridge", "shop", "brew", "bottling", "timeline")
USUAL_LABELS = ("labels", "discs")
LABELS = (*USUAL_LABELS, "tags", "bands")
"""What is printed on sheets to cut up or to peel off; the usual ones belong to every set."""
ASKED_FOR = ("record", "trouble", "why", "ruler")
"""Sheets that a set has only where they are asked for."""
EVERYTHING = "all"
USUAL = (*SHEETS, *USUAL_LABELS)
DOCUMENTS = (*SHEETS, *ASKED_FOR, *LABELS)
SAFETY = ("safety",)
SEASON = ("wall", "cellar", "shopping")
CLASS = ("who", "roster", "together")
_FOLDER = "layouts/documents"
_FEW = 3
MOST_PAGES = 100
_STOCKS = {
    "labels": ("stock", "plain", "label.title"),
    "discs": ("disc_stock", "caps-plain", "disc.title"),
    "tags": ("tag_stock", "tags-plain", "tag.title"),
    "bands": ("band_stock", "bands-plain", "band.title"),
}
"""Of each kind of label: where the plan says its stock, plain paper for it, and its title."""
_STARTS = {"labels": ("start_at", "start-at"), "discs": ("discs_start_at", "discs-start-at")}
"""Where the plan and the batch file say the first free label; the others begin a new sheet."""


@record
class Part:
    """One document of the set and its pages; `items` counts its labels, 0 for a sheet, `run` holds them."""

    name: str
    pages: tuple[Page, ...]
    items: int = 0
    run: Run | None = None


@record
class Laid:
    """A set laid out: the parts of the sheets file, those of the labels file, what is wrong, and what the two
    files are called inside.
    """

    sheets: tuple[Part, ...]
    labels: tuple[Part, ...]
    problems: Problems
    titles: tuple[str, str] = ("", "")


@record
class Drawn:
    """The bytes of the two files; None where the set has no such file."""

    sheets: bytes | None
    labels: bytes | None


def documents_of(plan: Plan, only: Iterable[str] = ()) -> tuple[str, ...]:
    """The documents of this batch, in order; `only` keeps those named, "all" is every one there is."""
    if plan.safety:
        return SAFETY
    named = set(only) or set(USUAL)
    wanted = set(DOCUMENTS) if EVERYTHING in named else named
    refused = () if plan.labels.allowed else LABELS
    return tuple(name for name in DOCUMENTS if name in wanted and name not in refused)


def own_documents(beside: Path | None = None) -> tuple[str, ...]:
    """The names of layouts that are people's own and none of ours; sheets have them on request."""
    ours = {path.stem for path in (catalogue.our_folder() / _FOLDER).glob("*.layout")}
    return tuple(name for name in catalogue.names(_FOLDER, beside, ".layout") if name not in ours)


def lay_out(plan: Plan, words: Words, beside: Path | None = None, only: Iterable[str] = ()) -> Laid:
    """Every page of the set, and every problem of the paper."""
    desk = _Desk(plan, dated(plan, words), beside)
    names = documents_of(plan, only)
    own = [name for name in only if not plan.safety and name in own_documents(beside)]
    sheets = desk.sheets([*(name for name in names if name not in LABELS), *own])
    stickers = tuple(part for name in names if name in LABELS for part in desk.labels(name))
    titles = [words.say(said(f"set.{kind}", code=plan.code, name=plan.name)) for kind in ("sheets", "labels")]
    return Laid(sheets, stickers, desk.problems, (titles[0], titles[1]))


def draw(laid: Laid, plan: Plan) -> Drawn:
    """The PDF files of a set without stops."""
    from sheetgen.printing import draw as drawing

    def pdf(parts: Sequence[Part], title: str) -> bytes | None:
        pages = [page for part in parts for page in part.pages]
        source = (f"{plan.code}-source.yaml", source_of(plan))
        info = drawing.Info(title, plan.language, plan.recipe, plan.printed, source)
        return drawing.pdf(pages, info) if pages else None

    return Drawn(pdf(laid.sheets, laid.titles[0]), pdf(laid.labels, laid.titles[1]))


def source_of(plan: Plan) -> bytes:
    """All files that the set was made from, each under its name: enough to make it again."""
    parts = [f"# {name}\n{text.rstrip()}\n" for name, text in plan.sources]
    return "---\n".join(parts).encode("utf-8", "replace")


def lay_out_season(season: SeasonPlan, words: Words, beside: Path | None = None) -> Laid:
    """The pages that all batches of a season share: the wall calendar, and what to drink first."""
    desk = _Desk(season, words, beside)
    return Laid(desk.sheets(SEASON), (), desk.problems)


def draw_season(laid: Laid, season: SeasonPlan, title: str) -> bytes | None:
    """The PDF file of a season's pages."""
    return _drawn(laid, title, season, season.name)


def lay_out_ruler(bare: Bare, words: Words) -> Laid:
    """The ruler page, without a batch."""
    desk = _Desk(bare, words, None)
    return Laid(desk.sheets(("ruler",)), (), desk.problems)


def draw_ruler(laid: Laid, bare: Bare) -> bytes | None:
    """The PDF file of the ruler page alone."""
    return _drawn(laid, laid.sheets[0].pages[0].bookmark, bare, bare.paper)


def _drawn(laid: Laid, title: str, of: SeasonPlan | ClassPlan | Bare, subject: str) -> bytes | None:
    """The PDF file of pages that belong to no single batch."""
    from sheetgen.printing import draw as drawing

    pages = [page for part in laid.sheets for page in part.pages]
    info = drawing.Info(title, of.language, subject, of.printed)
    return drawing.pdf(pages, info) if pages else None


def view_of(plan: Plan, words: Words, name: str) -> dict[str, object]:
    """What the layout of a document sees of a batch."""
    desk = _Desk(plan, dated(plan, words), None)
    return _view_of(name)(plan, desk.words, *([desk.stock(name)] if name in LABELS else []))


def about_layout(name: str) -> tuple[str, tuple[str, ...]]:
    """The title of a layout of ours, and the names of its blocks."""
    found = _Desk(None, None, None).layout(name)
    return (found.title, tuple(found.template.blocks)) if found else ("", ())


def paper_of(name: str) -> Paper | None:
    """A paper of ours."""
    return _Desk(None, None, None).paper(name)


def lay_out_class(found: ClassPlan, words: Words, beside: Path | None = None) -> Laid:
    """The coach's pages of a class: who is where, the roster, what is bought together."""
    desk = _Desk(found, words, beside)
    begun = any(one.stand != "to-brew" for one in found.people)
    return Laid(desk.sheets(CLASS if begun else CLASS[1:]), (), desk.problems)


def draw_class(laid: Laid, found: ClassPlan, title: str) -> bytes | None:
    """The PDF file of a class's own pages."""
    return _drawn(laid, title, found, found.code)


class _Desk:
    """Lays out the documents of one plan, collecting problems."""

    def __init__(self, plan: Any, words: Any, beside: Path | None) -> None:
        self.plan, self.words, self.beside = plan, words, beside
        self.problems = Problems()
        self.folders: dict[str, Path] = {}
        trouble = fonts.trouble()
        if trouble:
            self.problems.add(trouble)

    def sheets(self, names: Sequence[str]) -> tuple[Part, ...]:
        """The sheets, numbered through, and which pages belong to which document."""
        found = self.paper(self.plan.paper.lower())
        filled = [(name, self.fill(name)) for name in names]
        whole = [block for _name, blocks in filled for block in blocks if isinstance(block, Sheet)]
        if found is None or not whole:
            return ()
        pages, problems = flow.pages(whole[:MOST_PAGES], found)
        self.problems.extend(problems)
        if len(pages) > MOST_PAGES or len(whole) > MOST_PAGES:
            self.problems.stop(f"these layouts make more than {MOST_PAGES} pages", whole[-1].span)
        return _shared_out([(name, len(blocks)) for name, blocks in filled], pages)

    def labels(self, name: str) -> list[Part]:
        """One kind of labels on its stock; none when the batch has nothing to put them on."""
        chosen = self.stock(name)
        if chosen is None:
            return []
        stickers = [block for block in self.fill(name, chosen) if isinstance(block, Sticker)]
        on = self.paper(chosen.paper)
        if not stickers or on is None or not self.starts_on(chosen, name):
            return []
        feed, problems = self.feed(name), Problems()
        if chosen.edge_to_edge:
            problems.add(labels.near_the_edge(chosen))
        run = Run(tuple(labels.slots(stickers, chosen, problems)), chosen, on, feed)
        pages = labels.sheets(run.slots, chosen, on, feed)
        self.problems.extend(_first_few(problems, name))
        if problems.stopped and getattr(self.plan, _STOCKS[name][0]):
            key = "stock" if name == "labels" else name
            found = f"the {name} do not find room on {chosen.title}"
            self.problems.stop(found, None, "choose another of: sheetgen list stocks", ("labels", key))
        return [Part(name, pages, len(run.slots), run)]

    def starts_on(self, chosen: Stock, name: str) -> bool:
        """Whether the first free label is one of the sheet's."""
        start, key = self.feed(name).start_at, _STARTS.get(name, ("", ""))[1]
        if not 1 <= start <= chosen.count:
            found = f"the first free label must be from 1 to {chosen.count}, not {start}"
            self.problems.stop(found, None, f"write {key}: 1", ("labels", key))
        return 1 <= start <= chosen.count

    def feed(self, name: str) -> Feed:
        """Where labels begin on the first sheet, and what its margin says."""
        start = getattr(self.plan, _STARTS[name][0]) if name in _STARTS else 1
        across, down = self.plan.bars_mm
        return Feed(
            start_at=start,
            shift=self.plan.shift_mm,
            stretch=(100 / across, 100 / down),
            advice=self.words.say("label.margin"),
            bookmark=self.words.say(_STOCKS[name][2]),
        )

    def fill(self, name: str, *more: object) -> tuple[Block, ...]:
        """The blocks of one document."""
        from sheetgen.printing import layout  # brings the template library, which `show` does without

        found = self.layout(name)
        if found is None:
            return ()
        if not self.has_view(found, name):
            return ()
        view = _view_of(found.view or name)(self.plan, self.words, *more)
        blocks, problems = layout.fill(found, view, self.picture)
        self.problems.extend(problems)
        return blocks

    def has_view(self, found: Layout, name: str) -> bool:
        """Whether a layout's names are those of a document; one with a name of its own says `view:`."""
        possible = LABELS if name in LABELS else (*SHEETS, *ASKED_FOR)
        mine = name in (*DOCUMENTS, *SAFETY, *SEASON, *CLASS) and found.view in ("", name)
        right = mine or (found.view in possible and (found.kind == "labels") == (name in LABELS))
        if not right:
            said = (
                f'the layout {name} must say whose names it uses: "{found.view}" is no document of its kind'
            )
            fix = did_you_mean(found.view, possible) or f"write `view:` and one of {', '.join(possible)}"
            self.problems.stop(said, found.where(f"{found.name}:2:1", ""), fix, (name,))
        return right

    def layout(self, name: str) -> Layout | None:
        """A layout of that name."""
        from sheetgen.printing import layout

        found = self.find(name)
        if found is None:
            self.problems.stop(f"the layout {name} is missing", None, "install the program again")
            return None
        read, problems = layout.read(*found, self.find, self.below)
        self.problems.extend(problems)
        return read

    def find(self, name: str) -> tuple[str, bytes] | None:
        """A layout's or a part's file name and bytes."""
        path = catalogue.find(_FOLDER, name, self.beside, ".layout")
        return self._taken(path, path.name) if path else None

    def below(self, name: str, number: int) -> tuple[str, bytes] | None:
        """The file and the bytes of the n-th layout of that name, the nearest being 0."""
        paths = catalogue.layers(_FOLDER, name, self.beside, ".layout")[number:]
        shown = [path.name if not number else f"{_FOLDER}/{path.name}, {number} below" for path in paths[:1]]
        return self._taken(paths[0], shown[0]) if paths else None

    def _taken(self, path: Path, shown: str) -> tuple[str, bytes] | None:
        data = catalogue.read_bytes(path)[0]
        self.folders[shown] = path.parent
        return (shown, data) if data is not None else None

    def picture(self, file: str, name: str) -> picture.Image:
        """A picture that stands beside a layout's file."""
        return picture.read(self.folders[file], name)

    def paper(self, name: str) -> Paper | None:
        """A paper of that name."""
        data = self.data("layouts/papers", name, "paper")
        if data is None:
            return None
        found, problems = paper.read(data, f"{name}.yaml")
        self.problems.extend(problems)
        return found

    def stock(self, name: str) -> Stock | None:
        """The stock for one kind of labels."""
        where, plain, _title = _STOCKS[name]
        wanted = getattr(self.plan, where) or f"{plain}-{self.plan.paper.lower()}"
        data = self.data("layouts/stocks", wanted, "stock")
        if data is None:
            return None
        found, problems = stock.read(data, f"{wanted}.yaml", self.sizes())
        self.problems.extend(problems)
        return found

    def sizes(self) -> dict[str, tuple[float, float]]:
        """Width and height of every known paper."""
        papers = [self.paper(name) for name in catalogue.names("layouts/papers", self.beside)]
        return {found.name: (found.width, found.height) for found in papers if found}

    def data(self, folder: str, name: str, what: str) -> bytes | None:
        """The bytes of a data file; a stop if there is none of that name."""
        path = catalogue.find(folder, name, self.beside)
        if path is None:
            known = ", ".join(catalogue.names(folder, self.beside))
            self.problems.stop(f'there is no {what} "{name}"', None, f"known are: {known}")
            return None
        data, problems = catalogue.read_bytes(path)
        self.problems.extend(problems)
        return data


def _first_few(problems: Problems, name: str) -> Problems:
    """Everything but stops, and of those the first few: what is wrong with one label is wrong with all."""
    stops = problems.of("stop")
    kept = Problems(problem for problem in problems if problem not in stops[_FEW:])
    if len(stops) > _FEW:
        more = f"{len(stops) - _FEW} more of the {name} have trouble of that kind"
        kept.stop(more, stops[-1].span, "choose a larger stock, or shorter words")
    return kept


_MODULES = {"discs": "labels", "bands": "tags"}


def _view_of(name: str) -> Callable[..., dict[str, object]]:
    """The view of a document: the function of its name, in the module of its name or of its elder sister."""
    module = _MODULES.get(name, name)
    found: Callable[..., dict[str, object]] = getattr(
        import_module(f"sheetgen.printing.views.{module}"), name
    )
    return found


def _shared_out(counts: Sequence[tuple[str, int]], pages: Sequence[Page]) -> tuple[Part, ...]:
    """Pages to documents: a page with a bookmark begins the next sheet."""
    owners = [name for name, sheets in counts for _ in range(sheets)]
    held: dict[str, list[Page]] = {name: [] for name in owners}
    number = -1
    for page in pages:
        number += 1 if page.bookmark or number < 0 else 0
        held[owners[min(number, len(owners) - 1)]].append(page)
    return tuple(Part(name, tuple(found)) for name, found in held.items())
