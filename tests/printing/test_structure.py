"""Tagged PDF: who hears the page gets its words, once, in the order of the page, each as what it is."""

from __future__ import annotations

import io
import re
from datetime import date
from typing import Any

import pytest
from pypdf import PdfReader

from sheetgen.printing import draw, flow, ink, labels
from sheetgen.printing.marks import Page, Words
from sheetgen.printing.views.labels import labels as label_view

from . import bottling_plans as t
from .bench import A4, INFO, blocks, the_paper, the_stock

SHEET = """
<sheet title="Brew sheet" overflow="continue" continued="Brew sheet, continued">
  <head>
    <line h="10" weight="bold"><text>Brew sheet</text><text at="right" align="right">27A</text></line>
  </head>
  <foot><line h="6" size="tiny"><text>a foot</text></line></foot>
  <line h="9" weight="bold"><text>Warm</text></line>
  <line><tick state="done"/><text>Boil the <b>water</b>, slowly</text></line>
  <line size="small"><text>no lid</text></line>
  <line><tick/><text>Stir</text><number value="3" unit="min"/></line>
  <space h="5"/>
  <line><text>Cut it out</text><code value="27A amber" at="right"/></line>
  <space h="30"/>
  <cells columns="2" height="8">
    <cell><line weight="bold"><text>day</text></line></cell>
    <cell><line weight="bold"><text>SG</text></line></cell>
    <cell><line><text>12</text></line></cell><cell><line><text>1.012</text></line></cell>
  </cells>
  <space h="190"/><line><text>overleaf</text></line>
</sheet>
"""


def pages_of(body: str) -> tuple[Page, ...]:
    made, problems = flow.pages(blocks(body), A4)
    assert not len(problems), [*problems]
    return made


def read(pages: tuple[Page, ...]) -> PdfReader:
    return PdfReader(io.BytesIO(draw.pdf(pages, INFO)), strict=True)


def pieces(reader: PdfReader) -> dict[tuple[int, int], str]:
    """The words of every bracketed piece, by page and number, as the page's operators have them."""
    found = {}
    for number, page in enumerate(reader.pages):
        content = page.get_contents()
        assert content is not None
        text = content.get_data().decode("latin-1")
        assert len(re.findall(r"\bB(?:DC|MC)\b", text)) == len(re.findall(r"\bEMC\b", text))
        for bracket in re.finditer(r"/(\w+) <</MCID (\d+)>> BDC(.*?)EMC", text, re.DOTALL):
            found[number, int(bracket[2])] = bracket[1]
            assert "BDC" not in bracket[3]
            assert "BMC" not in bracket[3]
    return found


def walked(reader: PdfReader) -> list[tuple[tuple[str, ...], str, tuple[int, int] | None]]:
    """Way, what is said instead, and piece of every leaf of the tree, in reading order."""
    numbers = {page.indirect_reference.idnum: index for index, page in enumerate(reader.pages)}
    found: list[Any] = []

    def walk(element: Any, way: tuple[str, ...], page: Any) -> None:
        element = element.get_object()
        page = element.get("/Pg", page) if not isinstance(element, int) else page
        way = (*way, str(element["/S"])[1:])
        kids = element["/K"]
        for kid in kids if isinstance(kids, list) else [kids]:
            kid = kid.get_object()
            if isinstance(kid, int):
                found.append(
                    (way, element.get("/Alt", ""), (numbers[element.raw_get("/Pg").idnum], int(kid)))
                )
            elif kid.get("/Type") == "/MCR":
                found.append(
                    (way, element.get("/Alt", ""), (numbers[kid.raw_get("/Pg").idnum], int(kid["/MCID"])))
                )
            else:
                assert kid["/P"].get_object() == element
                walk(kid, way, page)

    root = reader.trailer["/Root"]["/StructTreeRoot"]
    for kid in root["/K"]:
        walk(kid, (), None)
    return found


def test_every_element_is_what_the_layout_makes_of_it() -> None:
    reader = read(pages_of(SHEET))
    ways = [("/".join(way[2:]), said) for way, said, _ in walked(reader)]
    assert list(dict.fromkeys(ways)) == [
        ("H1", ""),
        ("H2", ""),
        ("L/LI/Lbl", "☑"),
        ("L/LI/LBody", ""),
        ("L/LI/Lbl", "☐"),
        ("P", ""),
        ("P/Figure", "27A amber"),
        ("Table/TR/TH", ""),
        ("Table/TR/TD", ""),
    ]
    assert {way[:2] for way, _, _ in walked(reader)} == {("Document", "Sect")}


def test_each_piece_stands_in_the_tree_once_and_in_the_order_of_the_pages() -> None:
    reader = read(pages_of(SHEET))
    listed = [piece for _, _, piece in walked(reader)]
    assert sorted(listed) == listed
    assert listed == sorted(pieces(reader))
    numbers = reader.trailer["/Root"]["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    for index, page in enumerate(reader.pages):
        assert page["/StructParents"] == numbers[2 * index] == index
        assert page["/Tabs"] == "/S"
        assert len(numbers[2 * index + 1].get_object()) == sum(place == index for place, _ in listed)


def test_heads_of_further_pages_and_all_feet_are_decoration() -> None:
    pages = pages_of(SHEET)
    untagged = [
        mark.text for page in pages for mark in page.marks if isinstance(mark, Words) and not mark.tag
    ]
    assert untagged == ["a foot", "Brew sheet", "27A", "Brew sheet, continued", "a foot"]


def test_words_that_stand_apart_are_heard_apart_and_joined_ones_joined() -> None:
    page = pages_of(SHEET)[0]
    shown = [mark.text for mark in ink.spaced(page.marks) if isinstance(mark, Words)]
    at = shown.index("3 ")
    assert shown[at : at + 2] == ["3 ", "min"]
    assert "".join(shown[shown.index("Boil the ") :][:3]) == "Boil the water, slowly"


def test_the_document_says_that_it_is_tagged_and_in_which_language() -> None:
    root = read(pages_of(SHEET)).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"].value
    assert root["/Lang"] == INFO.language
    assert root["/StructTreeRoot"]["/K"][0].get_object()["/Alt"] == INFO.title


@pytest.mark.parametrize("name", ["plain-a4", "a4-3x7"])
def test_every_label_is_a_part_of_its_own(name: str) -> None:
    stock = the_stock(name)
    stickers = t.stickers("labels", label_view(t.PLAN, t.ENGLISH, stock))
    made, problems = labels.pages(stickers, stock, the_paper(stock.paper), labels.Feed())
    assert not problems.stopped
    sections = {
        mark.tag[0].number for page in made for mark in page.marks if isinstance(mark, Words) and mark.tag
    }
    assert len(sections) == sum(sticker.copies for sticker in stickers)


def test_the_tree_costs_little_and_is_the_same_each_time() -> None:
    pages = pages_of(SHEET * 8)
    first, second = (draw.pdf(pages, INFO) for _ in range(2))
    assert first == second
    assert len(first) < 60_000
    assert INFO.created == date(2027, 3, 10)
