"""The sheets that are printed only when asked for: on every paper nothing is cut, covered or too small."""

from __future__ import annotations

import pytest

from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Words as Printed
from sheetgen.printing.marks import outside, overlaps

from .asked_for import BATCHES, the_pages, the_plan
from .golden import held_against_golden
from .sample_plan import LANGUAGES

DOCUMENTS = printed_set.ASKED_FOR
MARGIN = 12.0
LEAST_PT = {"record": 8.0, "trouble": 10.5, "why": 10.0, "ruler": 8.0}
MOST_PAGES = {"record": 2, "trouble": 2, "why": 3, "ruler": 1}
OTHERS = sorted({path.stem for path in LANGUAGES.glob("*.yaml")} - {"en-GB", "en-US"})
HUNG = [
    *(("A4", "", ""), ("Letter", "us", ""), ("Letter", "metric", "")),
    *(("A4", "metric", language) for language in OTHERS),
]


@pytest.mark.parametrize("document", DOCUMENTS)
@pytest.mark.parametrize("name", BATCHES)
def test_nothing_leaves_the_margins_or_covers_anything(document: str, name: str):
    for paper, units, language in HUNG:
        pages = the_pages(document, name, paper, units, language)
        assert 1 <= len(pages) <= MOST_PAGES[document]
        for page in pages:
            assert [mark.text for mark in outside(page, MARGIN)] == []
            assert overlaps(page.marks) == []


@pytest.mark.parametrize("document", DOCUMENTS)
@pytest.mark.parametrize("name", BATCHES)
def test_no_word_is_smaller_than_its_place_allows(document: str, name: str):
    footed = 14.0
    for page in the_pages(document, name):
        above = [m for m in page.marks if isinstance(m, Printed) and m.y < page.height - footed - 12]
        assert [m.text for m in above if m.size < LEAST_PT[document]] == []


@pytest.mark.parametrize("document", DOCUMENTS)
def test_the_usual_set_comes_without_them(document: str):
    plan = the_plan("27b")
    assert document not in printed_set.documents_of(plan)
    assert document in printed_set.documents_of(plan, [document])
    assert document in printed_set.documents_of(plan, [printed_set.EVERYTHING])
    assert {*printed_set.USUAL} < {*printed_set.documents_of(plan, [printed_set.EVERYTHING])}


@pytest.mark.parametrize("document", DOCUMENTS)
@pytest.mark.parametrize(
    ("name", "paper"), [("27b", "A4"), ("27t", "A4"), ("27e", "Letter"), ("looks", "A4")]
)
def test_the_words_of_every_page_are_the_golden_ones(document: str, name: str, paper: str):
    held_against_golden(f"{document}-{name}-{paper.lower()}", the_pages(document, name, paper))
