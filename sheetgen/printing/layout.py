"""Layout files: a YAML head, and a Jinja2 body that a view fills.

Comes in: the bytes of a layout, a way to find the parts it includes, and a view (mappings, tuples, strings,
numbers). Goes out: blocks and problems. A body is not trusted: it sees the view and nothing else, calls no
methods, and is stopped when it repeats or writes without end. This is the only module that uses the
template library.
"""

from __future__ import annotations

import re
import traceback
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from jinja2 import FunctionLoader, StrictUndefined, Template
from jinja2 import nodes as ast
from jinja2.environment import TemplateModule
from jinja2.exceptions import (
    SecurityError,
    TemplateError,
    TemplateNotFound,
    TemplateSyntaxError,
    UndefinedError,
)
from jinja2.lexer import TokenStream
from jinja2.runtime import LoopContext, Undefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Namespace
from markupsafe import Markup

from sheetgen import nodes
from sheetgen.printing import markup
from sheetgen.printing.blocks import Block
from sheetgen.printing.fields import Fields
from sheetgen.printing.vocabulary import ROOTS
from sheetgen.problems import Problems, Span, did_you_mean
from sheetgen.records import record

NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,60}\Z")
MOST_BYTES = 128 * 1024
MOST_STEPS = 20_000
MOST_CHARACTERS = 1_000_000
MOST_NUMBERS = 500
MOST_CODES = 100
FILTERS = ("length", "first", "last", "default", "d", "int", "float", "abs", "escape", "e")
_TAG = re.compile(r"<([A-Za-z][\w-]*)")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_UNDEFINED = re.compile(r"'([^']{1,60})' is undefined")
_MISUSED = (TypeError, ValueError, ArithmeticError, LookupError, AttributeError)
_UNREADABLE = (TemplateError, RecursionError, MemoryError, SyntaxError, *_MISUSED)
"""Whatever a strange template may raise while it is compiled or filled."""
Raw = tuple[int, str, str]
"""What the lexer tells of a token: its line, its kind and its words."""
Find = Callable[[str], "tuple[str, bytes] | None"]
"""From the name of a layout or part to the file's name for messages and its bytes; None if there is none."""
Load = Callable[[str], "tuple[str, str, Callable[[], bool]]"]
"""From the name of a layout or part to its body, its file's name and whether it is still the same."""


@dataclass
class _Budget:
    """What one filling may still do."""

    steps: int = MOST_STEPS
    characters: int = MOST_CHARACTERS


_budget: ContextVar[_Budget | None] = ContextVar("budget", default=None)


def _stamped(tokens: Iterable[Raw], name: str) -> Iterator[Raw]:
    """The same tokens, with template and line in every start tag of the words between them."""
    for first, kind, words in tokens:
        tags = kind == "data" and "<" in words
        yield first, kind, _with_stamps(words, name, first) if tags else words


def _with_stamps(words: str, name: str, first: int) -> str:
    lines = enumerate(words.split("\n"), start=first)
    return "\n".join(_TAG.sub(_stamper(f"{name}:{line}"), text) for line, text in lines)


def _stamper(stamp: str) -> Callable[[re.Match[str]], str]:
    return lambda tag: f'{tag[0]} {markup.STAMP}="{stamp}"'


class _Environment(ImmutableSandboxedEnvironment):
    """The sandbox: names of views, numbers, and a bounded number of steps and characters."""

    intercepted_binops = frozenset(["+", "-", "*", "/", "//", "%", "**"])

    def __init__(self) -> None:
        super().__init__(
            optimized=False,
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            finalize=_written,
            auto_reload=False,
        )
        self.filters = {name: self.filters[name] for name in FILTERS} | {"round": _rounded}
        self.globals = {"range": _numbers}
        self._codes: dict[tuple[str, str | None, str | None], Any] = {}

    def reading(self, load: Load) -> _Environment:
        """The same environment, with another way to find what a layout includes."""
        return self.overlay(loader=FunctionLoader(load))

    def compile(self, source: Any, name: Any = None, filename: Any = None, *rest: Any, **named: Any) -> Any:
        """The code of a layout or a part, compiled once a process, whoever includes it."""
        key = (source, name, filename)
        if key not in self._codes:
            if len(self._codes) >= MOST_CODES:
                self._codes.clear()
            self._codes[key] = super().compile(source, name, filename, *rest, **named)
        return self._codes[key]

    def _tokenize(self, source: str, name: Any, filename: Any = None, state: Any = None) -> TokenStream:
        """The tokens of a template, their start tags stamped."""
        tokens = _stamped(self.lexer.tokeniter(source, name, filename, state), name or "")
        return TokenStream(self.lexer.wrap(tokens, name, filename), name, filename)

    def _generate(self, source: ast.Template, *rest: Any, **named: Any) -> str:
        """Compile, with a counted step at the start of every loop's body and every macro."""
        every = tuple(source.find_all(ast.Node))  # the compiler asks three times more: walk the tree once
        vars(source)["find_all"] = lambda kinds: (node for node in every if isinstance(node, kinds))
        found: list[Any] = list(source.find_all((ast.Concat, ast.For, ast.Macro, ast.CallBlock)))
        for node in found:
            if isinstance(node, ast.Concat):
                raise TemplateSyntaxError("`~` is not known; write the values side by side", node.lineno)
            step = ast.Call(ast.EnvironmentAttribute("step"), [], [], None, None)
            node.body.insert(0, ast.Output([step]).set_environment(self).set_lineno(node.lineno))
        return super()._generate(source, *rest, **named)

    @staticmethod
    def step() -> str:
        """Count one step."""
        budget = _budget.get()
        if budget is not None:
            budget.steps -= 1
            if budget.steps < 0:
                raise SecurityError(f"the layout repeats more than {MOST_STEPS} times")
        return ""

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """Sums of plain, small numbers only."""
        for value in (left, right):
            if isinstance(value, Undefined):
                str(value)
            if not isinstance(value, int | float) or abs(value) > 1e9:
                raise SecurityError(f"`{operator}` works on numbers only, up to 1e9")
        if operator == "**":
            raise SecurityError("`**` is not known here")
        return super().call_binop(context, operator, left, right)

    def getattr(self, obj: Any, attribute: str) -> Any:
        """`view.name` is the mapping's item; loops, modules and namespaces keep their own names."""
        if isinstance(obj, Mapping):
            return obj[attribute] if attribute in obj else self._unknown(obj, attribute)
        if isinstance(obj, LoopContext | TemplateModule | Namespace | Undefined):
            return super().getattr(obj, attribute)
        raise SecurityError(f"`.{attribute}` can be read from a part of the view only")

    def getitem(self, obj: Any, argument: Any) -> Any:
        """`view["name"]`, or the n-th of a list."""
        if isinstance(obj, Mapping):
            return obj[argument] if argument in obj else self._unknown(obj, str(argument))
        if isinstance(obj, tuple | list) and isinstance(argument, int):
            return (
                obj[argument]
                if -len(obj) <= argument < len(obj)
                else self.undefined(f"there is no item {argument}")
            )
        if isinstance(obj, Undefined):
            return super().getitem(obj, argument)
        raise SecurityError("[ ] reads from a part of the view or a list only")

    def _unknown(self, obj: Mapping[str, Any], name: str) -> Undefined:
        near = did_you_mean(name, [str(key) for key in obj])
        return self.undefined(f"`{name}` is not in this part of the view" + (f"; {near}" if near else ""))


@cache
def _environment() -> _Environment:
    return _Environment()


def _numbers(start: int, stop: int | None = None) -> range:
    """`range` for templates, at most 500 long."""
    numbers = range(start) if stop is None else range(start, stop)
    if len(numbers) > MOST_NUMBERS:
        raise SecurityError(f"range is limited to {MOST_NUMBERS} numbers")
    return numbers


def _rounded(value: float, digits: int = 0) -> float:
    """`round` for templates, to at most nine digits."""
    return round(float(value), max(0, min(9, int(digits))))


def _written(value: Any) -> Any:
    """What a `{{ }}` writes: words, plain numbers, yes and no; nothing else has a printed form."""
    if isinstance(value, Undefined):
        str(value)
    if isinstance(value, bool):
        value = "yes" if value else "no"
    elif isinstance(value, int | float):
        value = f"{value:.6f}".rstrip("0").rstrip(".")
    elif isinstance(value, str) and not isinstance(value, Markup):
        value = _CONTROL.sub("\N{REPLACEMENT CHARACTER}", unicodedata.normalize("NFC", value))
    elif not isinstance(value, Markup):
        raise SecurityError("an empty value or a whole part of the view cannot be printed")
    budget = _budget.get()
    if budget is not None:
        budget.characters -= len(value)
        if budget.characters < 0:
            raise SecurityError(f"the layout writes more than {MOST_CHARACTERS} characters")
    return value


@record
class Layout:
    """A layout, compiled; `default` is the paper or the stock it names, "" if none."""

    name: str
    title: str
    kind: str
    default: str
    template: Template = field(repr=False)
    files: Mapping[str, tuple[str, tuple[str, ...]]] = field(repr=False, default_factory=dict)

    def where(self, stamp: str, near: str) -> Span:
        """The place in a layout file of a stamp and of the words that matter there."""
        name, _, line = stamp.rpartition(":")
        file, lines = self.files.get(name, self.files[self.name])
        number = int(line) if line.isdigit() else 1
        text = lines[number - 1] if 0 < number <= len(lines) else ""
        column = text.find(near) + 1 if near else 0
        return Span(file, number, max(column, 1), max(len(near), 1))


def _parted(data: bytes) -> tuple[str, str]:
    """Head and body as text; the body keeps its line numbers by empty lines in place of the head."""
    if len(data) > MOST_BYTES:
        raise ValueError(f"a layout is at most {MOST_BYTES // 1024} KB long")
    text = data.decode("utf-8-sig").replace("\r\n", "\n")
    lines = text.split("\n")
    if lines[0].strip() != "---":
        return "", text
    ends = [index for index, line in enumerate(lines) if index and line.strip() == "---"]
    if not ends:
        return "", text
    end = ends[0]
    return "\n".join(["", *lines[1:end]]), "\n".join([""] * (end + 1) + lines[end + 1 :])


def _read_head(head: str, file: str, problems: Problems) -> tuple[str, str, str, str]:
    node, found = nodes.load(head.encode(), file)
    problems.extend(found)
    fields = Fields(node, problems, file)
    name, title = fields.words("layout"), fields.words("title", "")
    kind = fields.choice("kind", ROOTS, "sheets")
    default = fields.words("stock" if kind == "labels" else "paper", "")
    fields.finish()
    return name, title or name, kind, default


def read(file: str, data: bytes, find: Find) -> tuple[Layout | None, Problems]:
    """A layout from its file; `find` gives the parts it includes by name.  Compile once, fill often."""
    problems = Problems()
    try:
        head, body = _parted(data)
    except ValueError as error:
        problems.stop(f"this layout cannot be read: {error}", Span(file, 1, 1))
        return None, problems
    name, title, kind, default = _read_head(head, file, problems)
    if name and not NAME.match(name):
        problems.stop(f"a layout's name is small letters, digits and hyphens, not {name!r}", Span(file, 2, 1))
    if problems.stopped:
        return None, problems
    files = {name: (file, tuple(body.split("\n")))}
    environment = _environment().reading(_loader(name, file, body, find, files))
    try:
        return Layout(name, title, kind, default, environment.get_template(name), files), problems
    except TemplateSyntaxError as error:
        _syntax(error, files, file, problems)
    except _UNREADABLE as error:
        problems.stop(f"this layout cannot be read: {_reason(error)}", Span(file, 1, 1))
    return None, problems


def _loader(
    name: str, file: str, body: str, find: Find, files: dict[str, tuple[str, tuple[str, ...]]]
) -> Load:
    def load(wanted: str) -> tuple[str, str, Callable[[], bool]]:
        if wanted == name:
            return body, file, lambda: True
        found = find(wanted) if NAME.match(wanted) else None
        if found is None:
            raise TemplateNotFound(wanted)
        text = _parted(found[1])[1]
        files[wanted] = (found[0], tuple(text.split("\n")))
        return text, found[0], lambda: True

    return load


def _syntax(
    error: TemplateSyntaxError,
    files: Mapping[str, tuple[str, tuple[str, ...]]],
    file: str,
    problems: Problems,
) -> None:
    place = files.get(error.name or "", (file, ()))[0]
    problems.stop(f"the template cannot be read: {error.message}", Span(place, error.lineno, 1))


def fill(layout: Layout, view: Mapping[str, Any]) -> tuple[tuple[Block, ...], Problems]:
    """The blocks that a layout makes of a view."""
    text, problems = write(layout, view)
    if problems.stopped:
        return (), problems
    blocks, found = markup.read(text, layout.kind, layout.where)
    return blocks, found


def write(layout: Layout, view: Mapping[str, Any]) -> tuple[str, Problems]:
    """The filled text of a layout, as it is before it is read as blocks."""
    problems, token = Problems(), _budget.set(_Budget())
    try:
        return layout.template.render(view), problems
    except TemplateSyntaxError as error:
        _syntax(error, layout.files, layout.files[layout.name][0], problems)
    except TemplateNotFound as error:
        found = f'there is no layout or part called "{error.message}"'
        problems.stop(
            found, _line(error, layout), "names are small letters, digits and hyphens, without a folder"
        )
    except _UNREADABLE as error:
        problems.stop(
            f"the template stopped: {_reason(error)}", _line(error, layout), _suggestion(error, view)
        )
    finally:
        _budget.reset(token)
    return "", problems


def _reason(error: BaseException) -> str:
    if isinstance(error, RecursionError):
        return "it is nested too deeply, or calls itself without end"
    return str(getattr(error, "message", None) or error)


def _suggestion(error: BaseException, view: Mapping[str, Any]) -> str:
    match = _UNDEFINED.search(str(error)) if isinstance(error, UndefinedError) else None
    return did_you_mean(match[1], view) if match else ""


def _line(error: BaseException, layout: Layout) -> Span:
    """Where in which layout file an error arose: the innermost frame of a template."""
    known = {file for file, _ in layout.files.values()}
    frames = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename in known]
    file = layout.files[layout.name][0]
    return Span(frames[-1].filename, frames[-1].lineno or 1, 1) if frames else Span(file, 1, 1)
