"""layout manual: the vocabulary of layouts as a PDF, printed from the vocabulary itself.

Comes in: where to write it. Goes out: the file.  What a document's view holds is shown from the batches that
`layout check` tries layouts with.
"""

from __future__ import annotations

from pathlib import Path

from sheetgen import catalogue
from sheetgen.commands import common, trials, writing
from sheetgen.printing import flow, manual
from sheetgen.printing import set as printed_set
from sheetgen.printing.blocks import Sheet
from sheetgen.printing.manual import Document
from sheetgen.printing.picture import Image
from sheetgen.problems import Problems

LIVES = ("usual", "longest", "bottled", "shortest")


def write(target: Path, force: bool) -> int:
    """Write the manual; a file that is not ours stays without `force`."""
    if target.is_dir() or "\0" in str(target):
        common.complain(f"{target} is not the name of a file; write layout-manual.pdf, for example")
        return common.USE
    if not force and writing.strangers([target]):
        common.complain(f"{target} was not written by this program; move it away, or say --force")
        return common.USE
    data, problems = made()
    if problems.stopped:
        raise RuntimeError(f"the manual does not hold: {[*problems]}")
    try:
        writing.write_all([writing.Output(target, data)])
    except writing.CannotWrite as reason:
        common.complain(str(reason))
        return common.USE
    common.out(f"{target}    every element with a sample, every name of every document")
    return common.FINE


def made() -> tuple[bytes, Problems]:
    """The manual's bytes, and what is wrong with it."""
    from sheetgen.printing import draw

    sheets, problems = manual.sheets([_document(name) for name in printed_set.DOCUMENTS], _logo)
    paper = printed_set.paper_of("a4")
    if paper is None:
        return b"", problems
    pages, found = flow.pages([sheet for sheet in sheets if isinstance(sheet, Sheet)], paper)
    problems.extend(found)
    info = draw.Info("sheetgen: the manual of layouts", "en-GB", "layouts", trials.TODAY)
    return b"" if problems.stopped else draw.pdf(pages, info), problems


def _document(name: str) -> Document:
    words = common.words_of(common.ENGLISH)
    views = tuple(printed_set.view_of(trials.plan(life), words, name) for life in LIVES)
    title, blocks = printed_set.about_layout(name)
    return Document(name, title, blocks, views)


def _logo(_file: str, _name: str) -> Image:
    """The sample's picture."""
    from sheetgen.printing import picture

    return picture.read(catalogue.our_folder() / "layouts" / "trials", "logo.png")
