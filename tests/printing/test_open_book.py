"""Twenty questions about each drink, answered by the text of the page on which a reader would look."""

from __future__ import annotations

import io
from datetime import date
from functools import cache
from pathlib import Path
from types import MappingProxyType

import pypdf
import pytest
import yaml

from sheetgen import catalogue
from sheetgen.commands import common
from sheetgen.printing import set as printed_set

EXAMPLES = catalogue.our_folder() / "recipes" / "examples"
BATCHES = MappingProxyType(
    {"ale": "27a", "wheat": "27e", "cider": "27m", "mead": "27r", "wine": "27t", "ginger": "27p"}
)
TITLES = MappingProxyType(
    {"fridge": "Fridge sheet", "shop": "Shop and gather", "brew": "Brew sheet", "bottling": "Bottling sheet"}
)
LEAST = 20
QUESTIONS = yaml.safe_load(Path(__file__).with_name("open_book.yaml").read_text(encoding="utf-8"))


@cache
def printed(batch: str) -> dict[str, str]:
    """The text of each document of a batch as programs read it from the PDF, without its spaces."""
    plan = common.load(EXAMPLES / f"{batch}.yaml", date(2027, 2, 20)).plan
    assert plan is not None
    laid = printed_set.lay_out(plan, common.words_of(plan.language, plan.units), EXAMPLES)
    drawn = printed_set.draw(laid, plan)
    assert drawn.sheets is not None
    assert drawn.labels is not None
    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(drawn.sheets)).pages]
    found = {name: _bare("".join(page for page in pages if title in page)) for name, title in TITLES.items()}
    return found | {"labels": _bare(pypdf.PdfReader(io.BytesIO(drawn.labels)).pages[0].extract_text())}


def _bare(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("drink", BATCHES)
def test_questions_are_answered_by_the_page_where_one_looks(drink: str) -> None:
    pages, asked = printed(BATCHES[drink]), [question for question in QUESTIONS if drink in question]
    silent = [one["ask"] for one in asked if _bare(str(one[drink])) not in pages[one["page"]]]
    assert silent == []
    assert len({one["ask"] for one in asked}) >= LEAST
