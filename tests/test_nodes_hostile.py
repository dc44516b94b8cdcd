"""Files that are not ours, or meant to hurt: refused in a sentence, and quickly."""

from __future__ import annotations

import random
import time

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from sheetgen.nodes import load, reading

MIB = 1024 * 1024


@pytest.mark.parametrize(
    ("data", "place", "message"),
    [
        ("a: 1\n".encode("utf-16"), (1, 1), "UTF-16"),
        ("a: 1\n".encode("utf-16-be"), (1, 1), "UTF-16"),
        (
            "a: 1\nname: Jörg\n".encode("latin-1"),
            (2, 8),
            'a character here, perhaps "ö", is not saved as UTF-8',
        ),
        (b"a: \xff\xfe\n", (1, 4), "is not saved as UTF-8"),
        (b"a: \xed\xa0\x80\n", (1, 4), "is not saved as UTF-8"),
        (b"#" * (MIB + 1), (1, 1), "at most 1 MiB is read"),
        (b"[" * 30 + b"]" * 30, (1, 21), "more than 20 deep"),
        (b"a: 1\n" * 15_000, (10_000, 4), "more than 20000 values"),
    ],
    ids=["utf-16", "utf-16-be", "latin-1", "no text", "surrogate", "too long", "too deep", "too many"],
)
def test_a_file_that_is_not_ours_is_refused(data: bytes, place: tuple[int, int], message: str) -> None:
    node, problems = load(data, "f")
    assert node is None
    assert [problem.level for problem in problems] == ["stop"]
    assert message in str(problems[0].message)
    span = problems[0].span
    assert span is not None
    assert (span.line, span.column) == place


HOSTILE = {
    "brackets": b"[" * MIB,
    "braces on lines": b"{\n" * (MIB // 2),
    "dashes": b"- " * (MIB // 2),
    "question marks": b"? " * (MIB // 2),
    "one long text": b"a: " + b"x" * (MIB - 3),
    "an open quote": b'a: "' + b"x" * (MIB - 4),
    "remarks": b"a: x #y\n" * (MIB // 8),
    "one name": b"a: 1\n" * (MIB // 5),
    "empty lines, then a slip": b"a: 1\n" + b"\n" * (MIB - 100) + b"  b: 1\n",
    "piled-up marks": ("a: a" + "\u0301\u0316" * (MIB // 4 - 10)).encode(),
    "billion laughs": b"a: &a [x]\n" + b"".join(b"b%d: &b%d [*a,*a,*a]\n" % (n, n) for n in range(2000)),
    "commas": b"a: [" + b"1," * (MIB // 2 - 4),
    "tabs": b"\tx\n" * (MIB // 3),
    "slips": b"a: @x\n" * (MIB // 6),
    "colons": b":" * MIB,
    "noise": random.Random(1).randbytes(MIB),
}


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_file_is_refused_without_hanging(data: bytes) -> None:
    """Half a second at most; the wide limit tells only work that grows with the square of the file."""
    began = time.process_time()
    problems = load(data, "f")[1]
    assert time.process_time() - began < 20
    assert len(problems) <= reading.MAX_PROBLEMS + 1


PIECES = [
    "a",
    "b: ",
    ": ",
    "{",
    "}",
    "[",
    "]",
    ", ",
    "- ",
    "\n",
    "\n  ",
    "'",
    '"',
    "#2",
    " #",
    "&x ",
    "*x",
    "!t ",
    "@",
    ">",
    "%",
    "\\",
    "\t",
    "0,5 L",
    "k:v",
    "---\n",
    "? ",
    "ü",
    "\u0301",
    "\x85",
    "\x00",
]


@given(
    data=st.binary(max_size=200)
    | st.lists(st.sampled_from(PIECES), max_size=40).map(lambda p: "".join(p).encode())
)
@example(data=b'a: "\\ud800"')
@example(data=b"%YAML 9\n---\na: b\n")
@example(data=b"%TAG ! x\n--- !a b")
@example(data=b"...")
@example(data=b"a: b\n...\nc")
def test_any_bytes_give_a_tree_or_a_problem(data: bytes) -> None:
    for loader in (getattr(yaml, "CBaseLoader", yaml.BaseLoader), yaml.BaseLoader):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(reading, "_LOADER", loader)
            node, problems = load(data, "f")
        assert node is not None or any(problem.level == "stop" for problem in problems)
        for problem in problems:
            assert problem.fix
            assert problem.span is not None
            assert problem.span.line >= 1
            assert problem.span.column >= 1
            assert problem.span.length >= 1
