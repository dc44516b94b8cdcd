"""The why-page: every number with its sum and its source, the sources those of the code, and the what-ifs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import sheetgen
from sheetgen.commands import common
from sheetgen.printing.views.why import why

from .asked_for import BATCHES, the_pages, the_plan
from .golden import page_text

WORDS = common.words_of("en-GB")
FORMULAS = "\n".join(
    re.sub(r"\s+", " ", path.read_text(encoding="utf-8"))
    for folder in ("brewing", "planning")
    for path in (Path(sheetgen.__file__).parent / folder).glob("*.py")
)
NAMED = (
    *("Balling", "Tabarie", "OIML R22", "HMRC Excise Notice 226", "Tinseth", "Palmer, How to Brew"),
    *("D. A. Morey", "IAPWS-95", "IAPWS-IF97", "Marine Chemistry 2 (1974)", "A Primer on Priming (1995)"),
    *("J. Inst. Brew. 100 (1994)", "common practice, no source", "autious judgement", "toichiometry"),
    *("definition", "Henry"),
)


def text_of(name: str) -> str:
    joined = "\n".join(page_text(page) for page in the_pages("why", name))
    return re.sub(r"\s+", " ", joined.replace(" | ", " "))


def test_every_source_on_paper_is_named_in_the_code():
    said = " ".join(text for key, text in WORDS.table.items() if key.startswith("how.source."))
    for source in NAMED:
        assert source.lower() in FORMULAS.lower(), source
    left = said
    for source in sorted(NAMED, key=len, reverse=True):
        left = re.sub(re.escape(source), "", left, flags=re.IGNORECASE)
    assert {*re.findall(r"\b(?!How)[A-Z][a-z]{3,}", left)} <= {"Weiss", "Hibberd", "Ramirez", "Tinseth"}


@pytest.mark.parametrize("name", BATCHES)
def test_every_number_says_how_it_is_rounded_and_where_it_is_from(name: str):
    for group in why(the_plan(name), WORDS)["groups"]:
        for row in group["rows"]:
            assert row["source"].startswith("Rounded ")
            assert "Source: " in row["source"]


def test_what_if_is_what_the_engine_worked_out():
    gas, text = the_plan("27b").carbonation, text_of("27b")
    assert gas is not None
    found = {one.id: one for one in gas.what_ifs}
    for celsius in ("cooler", "warmer"):
        assert f"three-degrees-{celsius}" in found
    assert found["three-degrees-warmer"].volumes < found["three-degrees-cooler"].volumes
    for one in gas.what_ifs:
        for bar in (one.bar_20, one.bar_30):
            assert WORDS.measure(bar, "bar").replace("\u202f", " ") in text


def test_it_says_which_program_and_which_rules_made_it():
    assert sheetgen.__version__ in text_of("27b")
    assert WORDS.day(the_plan("27b").rules_of, "full-date").replace("\u00a0", " ") in text_of("27b")


def test_a_still_drink_has_no_gas():
    assert "The gas" not in text_of("27t")
    assert "What if" not in text_of("27t")
