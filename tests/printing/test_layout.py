"""Layout files: heads, includes, and a sandbox that ends every mischief with a line of the layout."""

from __future__ import annotations

import time
from types import MappingProxyType

import pytest

from sheetgen.printing import layout
from sheetgen.problems import Problems

from .bench import blocks, fill, only


def text_of(body: str, view: dict[str, object] | None = None) -> str:
    (sheet,) = blocks(f"<sheet><line><text>{body}</text></line></sheet>", view)
    return "".join(run.words for run in sheet.content[0].content[0].content)


def problems_of(body: str, view: dict[str, object] | None = None) -> Problems:
    made, problems = fill(body, view)
    assert made == ()
    return problems


def test_a_view_is_mappings_lists_words_and_numbers() -> None:
    view = MappingProxyType({"row": MappingProxyType({"items": "four", "at": 1 / 3}), "list": ("a", "b")})
    assert (
        text_of("{{ row.items }} {{ row.at }} {{ list[1] }} {{ list|length }}", view) == "four 0.333333 b 2"
    )  # type: ignore[arg-type]


def test_what_people_wrote_can_only_become_words() -> None:
    name = '</text><code value="x"/><b>&amp;"\' {{ 1 }}'
    assert text_of("{{ name }}", {"name": name}) == name
    (sheet,) = blocks('<sheet title="{{ name }}"/>', {"name": name})
    assert sheet.title == name


def test_combining_marks_are_composed_and_control_characters_shown() -> None:
    assert text_of("{{ name }}", {"name": "e\u0301\x07\ud800"}) == "é\ufffd\ufffd"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (
            "\n\n{{ nmae }}",
            "page.layout:7 the template stopped: 'nmae' is undefined | did you mean \"name\"?",
        ),
        (
            "\n{{ row.nmu }}",
            'page.layout:6 the template stopped: `nmu` is not in this part of the view; did you mean "num"?',
        ),
        ("\n\n\n{% if nope %}{% endif %}", "page.layout:8 the template stopped: 'nope' is undefined"),
        ("\n{{ row }}", "page.layout:6 the template stopped: an empty value or a whole part of the view"),
        ("\n{{ row.nil }}", "page.layout:6 the template stopped: an empty value"),
        ("{% include 'gone' %}", 'page.layout:5 there is no layout or part called "gone"'),
        ("\n{% include '../page' %}", 'page.layout:6 there is no layout or part called "../page"'),
        ("{% include '/etc/passwd' %}", 'there is no layout or part called "/etc/passwd"'),
        ("\n{% if %}", "page.layout:6 the template cannot be read"),
        ("\n{{ name|nosuch }}", "page.layout:6 the template cannot be read: No filter named 'nosuch'"),
        ("{{ 1 / 0 }}", "page.layout:5 the template stopped: division by zero"),
        ("{{ row.list[7] }}", "there is no item 7"),
    ],
)
def test_errors_carry_the_line_of_the_layout(body: str, said: str) -> None:
    view: dict[str, object] = {"name": "Tilda", "row": {"num": 1, "nil": None, "list": (1, 2)}}
    assert said in only(problems_of(body, view))


def test_errors_in_a_part_carry_the_line_of_the_part() -> None:
    parts = {"head": "{% macro row(x) %}\n<sheet>\n<lime/>{{ x.y }}</sheet>{% endmacro %}"}
    body = "{% import 'head' as head %}\n{{ head.row(view) }}"
    assert only(fill(body, {"view": {"y": ""}}, parts=parts)[1]).startswith(
        "head.layout:3 unknown element <lime>"
    )
    assert only(fill(body, {"view": {}}, parts=parts)[1]).startswith(
        "head.layout:3 the template stopped: `y` is not"
    )


MISCHIEF = [
    "{{ ''.__class__.__mro__ }}",
    "{{ row.__class__ }}",
    "{{ name.upper() }}",
    "{{ name.format(1) }}",
    "{{ row.list.append(1) }}",
    "{{ row|attr('items') }}",
    "{{ self.__init__ }}",
    "{{ lipsum() }}",
    "{{ cycler('a') }}",
    "{{ 'a' * 1000000000 }}",
    "{{ 'a' * 10 }}",
    "{{ '%1000000000d' % 1 }}",
    "{{ [1] * 1000000000 }}",
    "{{ 9 ** 9 ** 9 ** 9 }}",
    "{{ name + name }}",
    "{{ name ~ name }}",
    "{{ name|center(1000000000) }}",
    "{{ range(1000000000) }}",
    "{% set a = 999999999 %}" + "{% set a = a * a %}" * 60 + "{{ a }}",
    "{% set a %}aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa{% endset %}" + "{% set a %}{{ a }}{{ a }}{% endset %}" * 40,
    "{% for a in range(500) %}" * 3 + "{% endfor %}" * 3,
    "{% macro a() %}{{ a() }}{% endmacro %}{{ a() }}",
    "{{ 1.5|round(99999999, 'ceil') }}",
    "{% for a in range(2) %}" * 40 + "{% endfor %}" * 40,
    "{{ " + "(" * 5000 + "1" + ")" * 5000 + " }}",
    "{{ " + "-" * 5000 + "1 }}",
    "{{ row[1:2] }}",
    "{% for a in 5 %}{% endfor %}",
    "{{ 'x'() }}",
    "{% for a in range(3) recursive %}{{ loop(range(3)) }}{% endfor %}",
    "".join(
        f"{{% macro m{n}() %}}{{{{ m{n + 1}() }}}}{{{{ m{n + 1}() }}}}{{% endmacro %}}" for n in range(40)
    )
    + "{% macro m40() %}{% endmacro %}{{ m0() }}",
    "{% for a in range(400) %}{% for b in range(100) %}{{ name }}{% endfor %}{% endfor %}",
]


@pytest.mark.parametrize("body", MISCHIEF)
def test_mischief_is_stopped_quickly_and_with_a_line(body: str) -> None:
    began = time.perf_counter()
    (problem,) = problems_of(body, {"name": "Tilda" * 100, "row": {"list": (1, 2)}})
    assert problem.level == "stop"
    assert problem.span is not None
    assert problem.span.file == "page.layout"
    assert time.perf_counter() - began < 20


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"---\nlayout: page\nkind: sheet\n---\n", 'did you mean "sheets"?'),
        (b"---\nlayout: page\ncolour: blue\n---\n", "page.layout:3 unknown name `colour`"),
        (b"---\nlayout: ../page\n---\n", "a layout's name is small letters"),
        (b"---\ntitle: a\n---\n<sheet/>", "`layout` is missing"),
        (b"\xff\xfe", "page.layout:1 this layout cannot be read"),
        (b"---\nlayout: page\n---\n" + b" " * 200_000, "at most 128 KB"),
    ],
)
def test_a_wrong_head_is_a_problem(data: bytes, said: str) -> None:
    read, problems = layout.read("page.layout", data, lambda _: None)
    assert read is None
    assert said in only(problems)


def test_filling_twice_compiles_once() -> None:
    read, _ = layout.read("a.layout", b"---\nlayout: a\n---\n<sheet title='{{ x }}'/>", lambda _: None)
    assert read is not None
    titles = [layout.fill(read, {"x": word})[0][0].title for word in ("one", "two")]  # type: ignore[attr-defined]
    assert titles == ["one", "two"]
