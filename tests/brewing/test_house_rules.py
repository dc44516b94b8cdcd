"""What every formula promises: its range, its source, its size, and nothing imported from outside."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

import pytest

import sheetgen.brewing

FOLDER = Path(sheetgen.brewing.__file__).parent
NAMES = [module.name for module in pkgutil.iter_modules([str(FOLDER)])]


def public_functions() -> Iterator[tuple[str, Callable[..., object]]]:
    for name in NAMES:
        module = importlib.import_module(f"sheetgen.brewing.{name}")
        for function_name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not function_name.startswith("_"):
                yield f"{name}.{function_name}", function


FUNCTIONS = dict(public_functions())


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_says_range_and_source(name: str) -> None:
    text = (inspect.getdoc(FUNCTIONS[name]) or "").lower()
    assert "range" in text
    assert "source" in text


def functions_of(tree: ast.AST) -> list[ast.FunctionDef]:
    return [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]


def lines_of_code(function: ast.FunctionDef) -> int:
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_functions_are_small() -> None:
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in FOLDER.glob("*.py")]
    functions = [function for tree in trees for function in functions_of(tree)]
    assert median(lines_of_code(function) for function in functions) <= 8
    assert all((function.end_lineno or 0) - function.lineno < 50 for function in functions)


def imported(tree: ast.AST) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((0, alias.name) for alias in node.names)
        if isinstance(node, ast.ImportFrom):
            yield node.level, node.module or ""


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.stem)
def test_nothing_but_the_standard_library(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    for level, module in imported(ast.parse(text)):
        assert level == 1 or module.split(".")[0] in sys.stdlib_module_names, module
