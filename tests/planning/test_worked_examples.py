"""Three whole batches worked out by hand, in tests/reference/worked-*.md: each line, and the plan beside it.

A line reads `- name = arithmetic = value unit (source) -> place in the plan, another place`.  A name is
the value as it is written on its own line, so that a wrong digit anywhere breaks what follows.  Value,
arithmetic and plan agree to half of the last written digit.
"""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sheetgen.intake import read_batch
from sheetgen.planning import plan_batch
from sheetgen.planning.as_json import as_json

FOLDER = Path(__file__).resolve().parents[1] / "reference"
SHEETS = sorted(path.stem.removeprefix("worked-") for path in FOLDER.glob("worked-*.md"))
DUST = 1e-9
LINE = re.compile(
    r"- (?P<name>\w+)(?: = (?P<sum>.+))? = (?P<value>-?\d[\d.]*(?:-\d\d-\d\d)?)(?: [^(]*)? \((?P<source>.+)\)"
    r"(?: -> (?P<places>.+))?"
)

Value = float | date


@dataclass(frozen=True)
class Line:
    """One line of a worked example."""

    name: str
    sum: str | None
    value: Value
    half_digit: float
    places: tuple[str, ...]


def text_of(sheet: str) -> str:
    return (FOLDER / f"worked-{sheet}.md").read_text(encoding="utf-8")


def read_line(text: str) -> Line:
    found = LINE.fullmatch(text)
    assert found, f"not a line of arithmetic: {text}"
    written = found["value"]
    places = tuple(found["places"].split(", ")) if found["places"] else ()
    if "-" in written[1:]:
        return Line(found["name"], found["sum"], date.fromisoformat(written), 0.0, places)
    exponent = Decimal(written).as_tuple().exponent
    assert isinstance(exponent, int)
    return Line(found["name"], found["sum"], float(written), 0.5 * 10.0**exponent + DUST, places)


@cache
def lines_of(sheet: str) -> tuple[Line, ...]:
    return tuple(read_line(line) for line in text_of(sheet).splitlines() if line.startswith("- "))


# A pocket calculator

OPERATORS: dict[type, Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
KEYS: dict[str, Callable[..., float]] = {
    "ln": math.log,
    "exp": math.exp,
    "sqrt": math.sqrt,
    "floor": lambda value: math.floor(value + DUST),
    "ceil": lambda value: math.ceil(value - DUST),
    "min": min,
    "max": max,
}


def number(node: ast.expr, known: dict[str, Value]) -> float:
    """The value of an expression made of numbers, known names, + - * / ^ and the calculator's keys."""
    match node:
        case ast.Constant(value=int() | float() as value):
            return value
        case ast.Name(id=name):
            value = known[name]
            assert not isinstance(value, date), f"{name} is a date"
            return value
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -number(inner, known)
        case ast.BinOp(left=left, op=op, right=right):
            return OPERATORS[type(op)](number(left, known), number(right, known))
        case ast.Call(func=ast.Name(id=key), args=args, keywords=[]):
            return KEYS[key](*(number(each, known) for each in args))
    raise ValueError(f"no calculator does {ast.dump(node)}")


def worked_out(text: str, known: dict[str, Value]) -> Value:
    """An expression's value: a number, or a date and so many days."""
    first, _, days = text.partition(" + ")
    if re.fullmatch(r"\d{4}-\d\d-\d\d", first):
        start: Value | None = date.fromisoformat(first)
    else:
        start = known.get(first)
    if isinstance(start, date):
        return start + timedelta(days=number(parsed(days), known))
    return number(parsed(text), known)


def parsed(text: str) -> ast.expr:
    return ast.parse(text.replace("^", "**"), mode="eval").body


# The plan


def block(sheet: str, kind: str) -> str:
    (found,) = re.findall(rf"```yaml {kind}\n(.*?)```", text_of(sheet), re.DOTALL)
    return str(found)


@pytest.fixture(scope="module")
def plans(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """Each sheet's plan as `show --json` prints it, from the two files written out in the sheet."""
    made = {}
    for sheet in SHEETS:
        folder = tmp_path_factory.mktemp(sheet)
        recipe, batch = block(sheet, "recipe"), block(sheet, "batch")
        (name,) = re.findall(r"^recipe: (.+)$", batch, re.MULTILINE)
        (folder / f"{name}.yaml").write_text(recipe, encoding="utf-8")
        (folder / "batch.yaml").write_text(batch, encoding="utf-8")
        (today,) = re.findall(r"^Today is (\S+)\.$", text_of(sheet), re.MULTILINE)
        found, problems = read_batch(folder / "batch.yaml", date.fromisoformat(today))
        assert found is not None, [str(each.message) for each in problems]
        plan = plan_batch(found, date.fromisoformat(today), problems)
        assert plan is not None, [str(each.message) for each in problems.of("stop")]
        made[sheet] = as_json(plan, lambda sentence: sentence.id)
    return made


def at(plan: Any, place: str) -> Any:
    """The value at a place such as a.b[0].c, a[ml=500].b or tasks[dry-hop].expected."""
    for name, inside in re.findall(r"(\w+)(?:\[([^\]]+)\])?", place):
        plan = plan[name]
        if inside:
            plan = plan[int(inside)] if inside.isdigit() else one_of(plan, inside)
    return plan


def one_of(rows: list[dict[str, Any]], which: str) -> dict[str, Any]:
    key, _, wanted = which.rpartition("=")
    (found,) = [row for row in rows if f"{row[key or 'id']:g}" == wanted] if key else [
        row for row in rows if row["id"] == wanted
    ]  # fmt: skip
    return found


CASES = [(sheet, line) for sheet in SHEETS for line in lines_of(sheet)]
NAMES = [f"{sheet}-{line.name}" for sheet, line in CASES]


@pytest.mark.parametrize(("sheet", "line"), CASES, ids=NAMES)
def test_a_line_is_worked_out_right(sheet: str, line: Line):
    known: dict[str, Value] = {}
    for each in lines_of(sheet):
        if each is line:
            break
        known[each.name] = each.value
    assert line.name not in known
    if line.sum is None:
        return
    found = worked_out(line.sum, known)
    if isinstance(line.value, date) or isinstance(found, date):
        assert found == line.value
    else:
        assert abs(found - line.value) <= line.half_digit, found


@pytest.mark.parametrize(
    ("sheet", "line", "place"),
    [(sheet, line, place) for sheet, line in CASES for place in line.places],
    ids=[f"{sheet}-{line.name}-{place}" for sheet, line in CASES for place in line.places],
)
def test_the_plan_says_the_same(sheet: str, line: Line, place: str, plans: dict[str, Any]):
    found = at(plans[sheet], place)
    if isinstance(line.value, date):
        assert found == line.value.isoformat()
    else:
        assert abs(found - line.value) <= line.half_digit, (found, line.value)


def test_every_example_covers_a_batch_from_end_to_end():
    """Each has lines for every part of a plan; boiled hops and heat only where there are any."""
    parts = ("quantities.original_gravity", "quantities.final_gravity.", "quantities.ceiling", "alcohol.duty")
    parts += (
        "quantities.percent",
        "quantities.water.",
        "quantities.yeast",
        "quantities.loss",
        "carbonation.",
    )
    parts += (
        "carbonation.pressures",
        "bottles.rows",
        "bottles.caps",
        "lists.sanitising",
        "dates.",
        "labels.",
    )
    for sheet in SHEETS:
        places = [place for line in lines_of(sheet) for place in line.places]
        assert len(places) >= 40
        for part in parts:
            assert any(place.startswith(part) for place in places), (sheet, part)


@pytest.mark.parametrize(
    "text", ["__import__('os')", "a.b", "[1]", "1 if 2 else 3", "'1'", "open(1)", "lambda: 1", "1 % 2"]
)
def test_the_calculator_does_sums_and_nothing_else(text: str):
    with pytest.raises((ValueError, KeyError)):
        number(parsed(text), {})
