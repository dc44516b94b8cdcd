"""Twenty wrong layouts: each is told with its file, its true line and column, and what to type."""

from __future__ import annotations

import pytest

from sheetgen.printing import layout

from .bench import fill

VIEW = {
    "page": {"title": "Fridge sheet", "code": "27A"},
    "rows": ({"verb": "Brew"},),
    "gate": {"number": "1.013"},
}
WRONG = [
    # body, from line 5 on; line:column of the fault; words of the message; what to type
    ("<sheet>\n  <lin h='5'/>\n</sheet>", "6:3", "unknown element <lin>", 'did you mean "line"?'),
    ("<sheet><line/>  <spcae/></sheet>", "5:17", "unknown element <spcae>", 'did you mean "space"?'),
    ("<sheet>\n<line\n  heigth='9'/></sheet>", "7:3", "no attribute `heigth`", 'did you mean "weight"?'),
    ("<sheet><line/><line hh='9'/></sheet>", "5:21", "<line> has no attribute `hh`", 'did you mean "h"?'),
    ('<sheet><line size="bdy"/></sheet>', "5:14", 'size="bdy"', 'did you mean "body"?'),
    (
        '<sheet><line>\n <text at="datse">a</text></line></sheet>',
        "6:8",
        'at="datse"',
        'did you mean "dates"?',
    ),
    ('<sheet><line weight="blod"/></sheet>', "5:14", "expected one of regular, bold", 'did you mean "bold"?'),
    ('<sheet><frame kind="stopp"/></sheet>', "5:15", "expected one of next", 'did you mean "stop"?'),
    ('<sheet><line h="5 mm"/></sheet>', "5:14", "expected a plain number", ""),
    ("<sheet><tick/></sheet>", "5:8", "<tick> cannot stand in <sheet>", "<sheet> may hold: head"),
    ("<sheet>\n\n words</sheet>", "5:1", "words cannot stand directly in <sheet>", ""),
    (
        "<sheet><line><text><i>a</i></text></line></sheet>",
        "5:20",
        "<i> cannot stand inside words",
        "inside words: b, r",
    ),
    ("<sheet><line></sheet>", "5:8", "the elements do not close as they opened", "look at the tags"),
    ("<sheet>\n{{ pgae.title }}</sheet>", "6:4", "'pgae' is undefined", 'did you mean "page"?'),
    ("<sheet title='{{ page.titel }}'/>", "5:23", "`titel` is not in this part", 'did you mean "title"?'),
    ("{% for row in rwos %}{% endfor %}", "5:15", "'rwos' is undefined", 'did you mean "rows"?'),
    ("\n {% fro row in rows %}{% endfor %}", "6:5", "unknown tag 'fro'", 'did you mean "for"?'),
    ("{{ gate.number|lenght }}", "5:16", "No filter named 'lenght'", 'did you mean "length"?'),
    ("<sheet>\n{% if page %}</sheet>", "6:4", "the template cannot be read", ""),
    ("{% include 'prats' %}", "5:13", 'no layout or part called "prats"', "names are small letters"),
    ('<sheet><line><picture file="../logo.png"/></line></sheet>', "5:23", "expected no picture", ""),
]


@pytest.mark.parametrize(("body", "place", "said", "fix"), WRONG)
def test_a_wrong_layout_is_told_with_its_place_and_what_to_type(
    body: str, place: str, said: str, fix: str
) -> None:
    _, problems = fill(body, VIEW)
    found = [problem for problem in problems if problem.level == "stop"]
    assert len(found) == 1, found
    assert str(found[0].span) == f"page.layout:{place}"
    assert said in str(found[0].message)
    told = f"{found[0].message} {found[0].fix}" if "not in this part" in said else str(found[0].fix)
    assert fix in told


def test_all_faults_of_a_layout_are_told_at_once() -> None:
    _, problems = fill("<sheet>\n<lin/>\n<line hh='1'/>\n<space h='x'/></sheet>", VIEW)
    assert [problem.span.line for problem in problems if problem.span] == [6, 7, 8]


EXTENDING = b"---\nlayout: door\nextends: fridge\n---\n"
BASE = b"---\nlayout: fridge\n---\n<sheet>{% block rows %}<line/>{% endblock %}</sheet>"


@pytest.mark.parametrize(
    ("body", "place", "said", "fix"),
    [
        ("{% block rosw %}{% endblock %}", "5:10", "has no block `rosw`", 'did you mean "rows"?'),
        ("\n<line/>", "6:1", "what stands outside a block is never printed", "put it inside"),
        ("{% block rows %}<lin/>{% endblock %}", "5:17", "unknown element <lin>", 'did you mean "line"?'),
    ],
)
def test_what_is_wrong_with_an_extending_layout_is_told_in_its_own_file(
    body: str, place: str, said: str, fix: str
) -> None:
    def below(name: str, number: int) -> tuple[str, bytes] | None:
        return ("fridge.layout, 1 below", BASE) if name == "fridge" and not number else None

    read, problems = layout.read("door.layout", EXTENDING + body.encode(), lambda _: None, below)
    if read is not None:
        problems = layout.fill(read, {})[1]
    (problem,) = problems
    assert str(problem.span) == f"door.layout:{place}"
    assert said in str(problem.message)
    assert fix in str(problem.fix)


@pytest.mark.parametrize(
    ("head", "said"),
    [
        (b"---\nlayout: door\nextends: frigde\n---\n", 'extends "frigde", but there is no such layout'),
        (b"---\nlayout: loop\nextends: loop\n---\n", "extends more than 4 others"),
        (b"---\nlayout: door\nextends: ../etc\n---\n", "a layout's name is small letters"),
    ],
)
def test_a_chain_of_layouts_has_an_end(head: bytes, said: str) -> None:
    def below(name: str, _number: int) -> tuple[str, bytes] | None:
        return ("loop.layout", head) if name == "loop" else None

    read, problems = layout.read("door.layout", head, lambda _: None, below)
    assert read is None
    assert any(said in str(problem.message) for problem in problems)
