"""ruler: the page by which a printer is measured, without a batch.

Comes in: paper, language, where to write it.  Goes out: one PDF of one page.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from sheetgen import catalogue, clock
from sheetgen.commands import common, writing
from sheetgen.intake.customs import customs_of
from sheetgen.printing import set as printed_set
from sheetgen.printing.views.ruler import Bare
from sheetgen.problems import did_you_mean


def run(options: argparse.Namespace) -> int:
    """Write the page; a file that is not ours stays without `--force`."""
    target, known = Path(options.out), catalogue.names("layouts/languages")
    wrong = _wrong(target, options)
    if options.language not in known:
        hint = did_you_mean(options.language, known) or f"there are {', '.join(known)}"
        wrong = f'--language: there is no language "{options.language[:40]}"; {hint}'
    if wrong:
        common.complain(wrong)
        return common.USE
    paper = options.paper or _usual_paper(options.language)
    data = made(Bare(paper, options.language, options.today or clock.today()))
    try:
        writing.write_all([writing.Output(target, data)])
    except writing.CannotWrite as reason:
        common.complain(str(reason))
        return common.USE
    common.out(f"{target}  1 page: print it at actual size, on {paper}, and measure")
    return common.FINE


def _wrong(target: Path, options: argparse.Namespace) -> str:
    """A sentence if nothing can be written there."""
    if target.is_dir() or "\0" in str(target) or target.suffix != ".pdf":
        return f'--out: "{str(target)[:100]}" is not the name of a PDF file; write ruler.pdf, for example'
    if not options.force and writing.strangers([target]):
        return f"{target} was not written by this program; move it away, or say --force"
    return ""


def _usual_paper(language: str) -> str:
    return "Letter" if customs_of(language, None).get("paper") == "letter" else "A4"


def made(bare: Bare) -> bytes:
    """The page's bytes."""
    laid = printed_set.lay_out_ruler(bare, common.words_of(bare.language))
    if laid.problems.stopped or not laid.sheets:
        raise RuntimeError(f"the ruler page does not hold: {[*laid.problems]}")
    return printed_set.draw_ruler(laid, bare) or b""
