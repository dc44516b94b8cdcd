"""The slips that people make when they write a file, and what they are told."""

from __future__ import annotations

from typing import Any

import pytest
import yaml

from sheetgen.nodes import Entries, Items, Node, load, reading
from sheetgen.problems import Problem, Span

JARGON = (
    "scalar",
    "mapping",
    "token",
    "block",
    "sequence",
    "flow",
    "anchor",
    "alias",
    "yaml",
    "indicator",
    "node",
)


@pytest.fixture(params=["CBaseLoader", "BaseLoader"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Either parser of the library: the fast one, and the one that is always there."""
    if not hasattr(yaml, request.param):
        pytest.skip("the library was built without its fast parser")
    monkeypatch.setattr(reading, "_LOADER", getattr(yaml, request.param))
    return str(request.param)


def problems_of(text: str | bytes) -> list[Problem]:
    return load(text.encode() if isinstance(text, str) else text, "f")[1]


def plain(node: Node | None) -> Any:
    """The tree as plain lists and dictionaries of text."""
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    if isinstance(node, Entries):
        return {entry.key.value: plain(entry.value) for entry in node.entries}
    return node.value if node else None


# Text, place, sentence, what to type, and the tree where the meaning is plain.

SLIPS: list[tuple[str, tuple[int, int], str, str, Any]] = [
    (
        "bottles: {0,5 L brown glass: 24}\n",
        (1, 11),
        "a comma here separates; it is not a decimal comma",
        "write 0.5 L brown glass",
        ...,
    ),
    ("room: {fermenting: 19,5 C}\n", (1, 20), "a comma here separates", "write 19.5 C", ...),
    ("sizes: [0,5 L, 1 L]\n", (1, 9), "a comma here separates", "write 0.5 L", ...),
    ("bottles: {500 ml:24}\n", (1, 11), "a space is missing after the colon", "write 500 ml: 24", ...),
    ("readings: [sg:1.012]\n", (1, 12), "a space is missing after the colon", "write sg: 1.012", ...),
    (
        "batch:27A\nroom: 19 C\n",
        (1, 1),
        "a space is missing after the colon",
        "write batch: 27A",
        {"batch": "27A", "room": "19 C"},
    ),
    (
        "room: 19 C\nbatch:27A\n",
        (2, 1),
        "a space is missing",
        "write batch: 27A",
        {"room": "19 C", "batch": "27A"},
    ),
    ("batch:27A\n", (1, 1), "a space is missing", "write batch: 27A", ...),
    ("water:\n  tap:12 C\n  fridge:4 C\n", (2, 3), "a space is missing", "write tap: 12 C", ...),
    (
        "name: !important\n",
        (1, 7),
        'a value cannot begin with ! here: a leading "!" names a kind of value',
        'put quotation marks round it: "!important"',
        {"name": "!important"},
    ),
    ("name: !!str x\n", (1, 7), "a value cannot begin with !", '"!!str x"', {"name": "!!str x"}),
    ("name: *star\n", (1, 7), "a value cannot begin with *", '"*star"', {"name": "*star"}),
    ("name: * star *\n", (1, 7), "a value cannot begin with *", '"* star *"', {"name": "* star *"}),
    ("name: &x y\n", (1, 7), "a value cannot begin with &", '"&x y"', {"name": "&x y"}),
    ("brewer: @imke\n", (1, 9), "a value cannot begin with @", '"@imke"', {"brewer": "@imke"}),
    ("a: {brewer: @imke, b: c}\n", (1, 13), "a value cannot begin with @", '"@imke"', ...),
    ("name: `x`\n", (1, 7), "a value cannot begin with `", '"`x`"', {"name": "`x`"}),
    ("name: > 5 days\n", (1, 7), "a value cannot begin with >", '"> 5 days"', None),
    (
        "brewer: 'O'Neil'\nb: c\n",
        (1, 9),
        "the text 'O' ends here, but the line goes on",
        """put the other kind of quotation marks round it, or none: "O'Neil\"""",
        {"brewer": "O'Neil", "b": "c"},
    ),
    (
        "a: {n: 'O'Neil', b: c}\n",
        (1, 8),
        "the text 'O' ends here",
        '"O\'Neil"',
        {"a": {"n": "O'Neil", "b": "c"}},
    ),
    (
        "name: Ann: first\nb: c\n",
        (1, 7),
        "this value has a colon in it, which reads as a second name",
        'put quotation marks round it: "Ann: first"',
        {"name": "Ann: first", "b": "c"},
    ),
    ("a: {b: c: d}\n", (1, 9), "a second colon for one entry inside { }", "put a comma", None),
    (
        "water:\n\ttap: 12 C\n",
        (2, 1),
        "a tab stands here, where only spaces count",
        "type spaces instead",
        None,
    ),
    ("batch:\t27A\n", (1, 7), "a tab stands here", "type spaces", None),
    (
        "bottles: {500 ml: 26\nroom: 19 C\n",
        (1, 10),
        "the { that begins here has no }",
        "write } after the last entry",
        {"bottles": {"500 ml": "26"}, "room": "19 C"},
    ),
    ("days: [sat, sun\nroom: 19 C\n", (1, 7), "the [ that begins here has no ]", "write ]", ...),
    ("bottles: {500 ml: 26}}\n", (1, 22), "this } closes nothing", "take it away", ...),
    (
        "name: 'Ann\nb: c\n",
        (1, 7),
        "the quotation mark ' that begins here is never closed",
        "",
        {"name": "Ann", "b": "c"},
    ),
    ("batch: 27A\n  room: 19 C\n", (2, 3), "this line begins further in than line 1", "same column", None),
    ("a:\n  b: 1\n c: 2\n", (3, 2), "this line does not begin in the same column", "with spaces", None),
    ("hello there\nbatch: 27A\n", (1, 1), '"hello there" is neither a name with a value', "a colon", None),
    ("hello\n", (1, 1), "a name and a colon are missing here", "such as batch: 27A", ...),
    (": x\n", (1, 1), "a name is missing before the colon", "write the name", None),
    ("days: - sat\n", (1, 7), 'a "-" here begins a list after a name', "on lines of its own", None),
    (
        "a: 1\nb: 2\na: 3\n",
        (3, 1),
        '"a" was already said on line 1',
        "keep one of the two",
        {"a": "1", "b": "2"},
    ),
    ("a: {b: 1, b: 2}\n", (1, 11), '"b" was already said on line 1', "keep one", {"a": {"b": "1"}}),
    ("cafe\u0301: 1\ncafé: 2\n", (2, 1), '"café" was already said on line 1', "keep one", ...),
    ("a: 1\n---\nb: 2\n", (2, 1), "a second document begins here", "keep one document", {"a": "1"}),
    ('a: "x\\0y"\n', (1, 4), "an invisible character (U+0000) stands here", "type the text without it", ...),
    ('a: "x\\ty"\n', (1, 4), "an invisible character (U+0009)", "type the text", ...),
    ("a: x\x07y\n", (1, 5), "an invisible character (U+0007) stands here", "delete it", None),
    ("a: x\u202ey\n", (1, 5), "an invisible character (U+202E)", "delete it", None),
    ("a: " + "e" + "\u0301" * 30 + "\n", (1, 4), "too many marks stand on one letter", "take them away", ...),
    ("", (1, 1), "this file is empty", "write batch: 27A", None),
    ("# only a remark\n", (1, 1), "this file is empty", "write batch: 27A", None),
    ("---\n", (1, 1), "this file is empty", "write batch: 27A", None),
]


@pytest.mark.parametrize(
    ("text", "place", "message", "fix", "meant"), SLIPS, ids=[slip[0][:20] for slip in SLIPS]
)
def test_a_slip_is_explained(
    text: str, place: tuple[int, int], message: str, fix: str, meant: Any, parser: str
) -> None:
    node, problems = load(text.encode(), "f")
    first = problems[0]
    assert first.level == "stop"
    assert message in str(first.message)
    assert fix in str(first.fix)
    assert first.span is not None
    assert (first.span.line, first.span.column) == place
    assert not any(word in f"{first.message} {first.fix}".lower() for word in JARGON)
    assert meant is ... or plain(node) == meant


def test_all_slips_of_a_file_are_found_at_once(parser: str) -> None:
    text = "batch:27A\nbrewer: @imke\nname: 'O'Neil'\nroom: 19 C\nroom: 20 C\nbottles: {0,5 L: 24\n"
    node, problems = load(text.encode(), "f")
    assert sorted(problem.span.line for problem in problems if problem.span) == [1, 2, 3, 5, 6, 6]
    assert isinstance(node, Entries)
    assert node.names()[:4] == ["batch", "brewer", "name", "room"]


def test_text_lost_as_a_remark_is_noted(parser: str) -> None:
    node, problems = load(b"vessel: bucket #2\n", "f")
    assert plain(node) == {"vessel": "bucket"}
    assert [(problem.level, problem.span) for problem in problems] == [("note", Span("f", 1, 16, 2))]
    assert problems[0].message == '"#2" is left out: what follows " #" is taken as a remark'


@pytest.mark.parametrize(
    "text",
    [
        "vessel: bucket # the blue one\n",
        "vessel: bucket#2\n",
        "vessel: 'bucket #2'\n",
        'vessel: "bucket #2"\n',
        "#!a remark on its own line\nvessel: bucket\n",
        "  #2 also\nvessel: bucket\n",
        "vessel: bucket ####\n",
        "notes: |\n  bucket #2\n",
        "link: https://example.org/a#b\n",
        "start: 12:30\n",
        "days: [1,2,3]\n",
        "bottles: {1 L pet: 6, 500 ml returnable glass: 18}\n",
        "away: [2027-03-13..2027-03-16,2027-04-01]\n",
        "a: {b: 1,c: 2}\n",
    ],
)
def test_what_is_right_is_left_alone(text: str, parser: str) -> None:
    assert problems_of(text) == []
