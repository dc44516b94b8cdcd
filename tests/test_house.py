"""The house rules, read off the code itself: who may import whom, how long things are, what is documented."""

from __future__ import annotations

import ast
import re
import statistics
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "sheetgen"
FILES = sorted(PACKAGE.rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))

# What each part of the house may import of ours.  A part is the longest prefix of a module's name found here.
MAY_IMPORT: dict[str, set[str]] = {
    "": set(),
    "records": set(),
    "problems": set(),
    "units": {"records", "problems"},
    "model": {"records", "units", "problems"},
    "slips": {"problems"},
    "nodes": {"records", "slips", "problems"},
    "catalogue": {"records", "nodes", "problems"},
    "report": {"problems"},
    "clock": set(),
    "brewing": set(),
    "intake": {"records", "problems", "units", "model", "catalogue", "nodes"},
    "planning": {"", "records", "problems", "units", "model", "brewing"},  # "": the program's version
    "printing": {"records", "problems", "units", "model", "nodes", "printing.measures"},
    "printing.measures": {
        "brewing"
    },  # rounding alone: how a quantity rounds stands once, where doses are made
    "printing.views": {
        *("records", "problems", "units", "model", "printing", "printing.measures", "planning"),
    },
    "printing.set": {"records", "problems", "catalogue", "printing", "printing.views", "planning"},
    "commands": {
        *("", "records", "problems", "report", "clock", "catalogue", "nodes", "model", "units"),
        *("intake", "planning", "printing", "printing.views", "printing.set"),
    },
    "__main__": {"", "clock", "commands"},
}

# The one place for each big library.
ONLY_IMPORTER = {
    "yaml": {"nodes"},
    "pint": {"units"},
    "jinja2": {"printing.layout", "printing.sandbox"},
    "markupsafe": {"printing.sandbox"},
    "reportlab": {"printing.ink"},  # square codes; the tests also draw with it, to compare
    "PIL": {"printing.picture"},
    "icalendar": {"printing.calendar_file"},
    "holidays": {"intake.public_holidays"},
    "argparse": {"commands", "__main__"},
    "subprocess": {"commands.opening"},  # --open: the one other program that is ever started
}
NEVER_IMPORTED = ("requests", "urllib.request", "socket", "pickle", "http", "ctypes", "pypdf")


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def module_of(path: Path) -> str:
    """The module's name below sheetgen, "" for the package itself."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def part_of(module: str) -> str:
    """The part of the house that a module belongs to."""
    parts = module.split(".")
    prefixes = [".".join(parts[:length]) for length in range(len(parts), 0, -1)]
    return next((prefix for prefix in prefixes if prefix in MAY_IMPORT), "")


def imports_of(path: Path) -> Iterator[tuple[str, int]]:
    """Every module that a file imports, with its line; those for type checking only are left out."""
    hidden = {
        id(inner) for node in ast.walk(tree_of(path)) if _type_checking(node) for inner in ast.walk(node)
    }
    for node in ast.walk(tree_of(path)):
        if id(node) in hidden:
            continue
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from _from(node, path)


def _from(node: ast.ImportFrom, path: Path) -> Iterator[tuple[str, int]]:
    base = node.module or ""
    if node.level:
        near = path.parents[node.level - 1].relative_to(ROOT).parts
        base = ".".join([*near, *([base] if base else [])])
    for alias in node.names:
        whole = f"{base}.{alias.name}"
        is_module = base.startswith("sheetgen") and any(
            (ROOT / f"{whole.replace('.', '/')}{ending}").exists() for ending in (".py", "/__init__.py")
        )
        yield (whole if is_module else base), node.lineno


def _type_checking(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def functions_of(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (
        node for node in ast.walk(tree_of(path)) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    )


def length_of(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    return (node.end_lineno or node.lineno) - node.lineno + 1


def test_every_part_of_the_house_is_known():
    unknown = {module_of(path) for path in FILES if not part_of(module_of(path)) and module_of(path)}
    assert unknown == set()


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_imports_follow_the_table(path: Path):
    me = part_of(module_of(path))
    allowed = MAY_IMPORT[me] | {me}
    wrong = [
        f"line {line}: {name}"
        for name, line in imports_of(path)
        if name.partition(".")[0] == "sheetgen"
        and part_of(name.removeprefix("sheetgen").lstrip(".")) not in allowed
    ]
    assert wrong == []


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_each_big_library_has_one_importer(path: Path):
    me = module_of(path)
    wrong = [
        f"line {line}: {name}"
        for name, line in imports_of(path)
        for owners in [ONLY_IMPORTER.get(name.partition(".")[0])]
        if owners is not None and not any(me == owner or me.startswith(f"{owner}.") for owner in owners)
    ]
    assert wrong == []


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_nothing_reaches_out_of_the_program(path: Path):
    names = [name for name, _line in imports_of(path)]
    assert [
        name for name in names if any(name == bad or name.startswith(f"{bad}.") for bad in NEVER_IMPORTED)
    ] == []


def test_brewing_stands_on_the_standard_library_alone():
    ours = [path for path in FILES if module_of(path).startswith("brewing")]
    foreign = {
        name.partition(".")[0]
        for path in ours
        for name, _line in imports_of(path)
        if name.partition(".")[0] not in {*sys.stdlib_module_names, "sheetgen"}
    }
    assert ours
    assert foreign == set()


def _calls(path: Path, *names: str) -> list[int]:
    return [
        node.lineno
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call) and ast.unparse(node.func).endswith(names)
    ]


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_only_the_clock_knows_today(path: Path):
    if module_of(path) != "clock":
        assert (
            _calls(path, "date.today", "datetime.now", "datetime.today", "datetime.utcnow", "time.time") == []
        )


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_only_commands_print(path: Path):
    if part_of(module_of(path)) not in ("commands", "__main__"):
        text = path.read_text(encoding="utf-8")
        prints = [
            node for node in ast.walk(tree_of(path)) if isinstance(node, ast.Name) and node.id == "print"
        ]
        assert prints == []
        assert not re.search(r"\bsys\.(stdout|stderr|exit)\b", text)


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_no_code_comes_out_of_data(path: Path):
    bare = [
        node.lineno
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in ("eval", "exec", "compile")
    ]
    assert bare == []


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_files_are_short(path: Path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_functions_are_short(path: Path):
    assert [(node.name, length_of(node)) for node in functions_of(path) if length_of(node) > 50] == []


def test_the_usual_function_is_very_short():
    assert statistics.median(length_of(node) for path in FILES for node in functions_of(path)) <= 8


# The rules of planning are functions whose names are their sentences.
_SPEAK_FOR_THEMSELVES: set[str] = set()


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_public_names_are_explained(path: Path):
    if path.stat().st_size == 0:
        return
    tree = tree_of(path)
    assert ast.get_docstring(tree), "a module says what comes in and what goes out"
    if module_of(path) not in _SPEAK_FOR_THEMSELVES:
        assert list(_unexplained(tree.body)) == []


def _unexplained(body: list[ast.stmt]) -> Iterator[str]:
    """Public functions, and public classes with more than fields, that have no docstring."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            plain = isinstance(node, ast.ClassDef) and all(
                isinstance(part, ast.AnnAssign) for part in node.body
            )
            overload = any(
                isinstance(mark, ast.Name) and mark.id == "overload" for mark in node.decorator_list
            )
            if not ast.get_docstring(node) and not plain and not overload:
                yield node.name
            if isinstance(node, ast.ClassDef):
                yield from (f"{node.name}.{name}" for name in _unexplained(node.body))


# Machine paths, private keys, and marks of unfinished work have no place in what is published.
_UNWANTED = re.compile(
    r"/(?:work|tmp|root|home)/[a-z]|[A-Z]:\\\\Users|\.\./shared|design/(?:house|files|paper|trade|decisions)"
    r"|\b(?:TODO|FIXME|XXX|HACK)\b|BEGIN [A-Z ]*PRIVATE KEY"
)
_PUBLISHED = [".py", ".yaml", ".layout", ".md", ".toml", ".json", ".txt", ".csv", ".cfg"]


def _published() -> list[Path]:
    found = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    names = found.stdout.splitlines() if found.returncode == 0 else []
    paths = [ROOT / name for name in names] or [*FILES, *TESTS]
    return [path for path in paths if path.suffix in _PUBLISHED and path.is_file()]


def test_no_machine_paths_and_no_loose_ends():
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:80]}"
        for path in _published()
        if path != Path(__file__).resolve()
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1)
        if _UNWANTED.search(line)
    ]
    assert found == []


def test_the_top_of_the_project_holds_what_it_should():
    known = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "pyproject.toml", ".gitignore"}
    known |= {".ci", "sheetgen", "layouts", "recipes", "tests"}
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    if listed.returncode:
        pytest.skip("this is not a checkout")
    assert {name.partition("/")[0] for name in listed.stdout.splitlines()} - known == set()


def test_help_and_version_load_nothing_heavy():
    heavy = ("yaml", "reportlab", "jinja2", "pint", "icalendar")
    for option in ("--help", "--version"):
        code = (
            "import sys; from sheetgen.__main__ import main; main([sys.argv[1]]);"
            f"print([name for name in {heavy} if name in sys.modules], file=sys.stderr)"
        )
        done = subprocess.run(
            [sys.executable, "-c", code, option], cwd=ROOT, capture_output=True, text=True, check=True
        )
        assert done.stderr.strip() == "[]"
