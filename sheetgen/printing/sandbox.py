"""The sandbox in which layouts are filled: names of views, numbers, and bounded steps and characters.

Comes in: the text of a layout. Goes out: the environment of the template library that compiles it; every
start tag of the layout's own words is stamped with its place, so that what comes of it knows where it was
written.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from typing import Any

from jinja2 import FunctionLoader, StrictUndefined
from jinja2 import nodes as ast
from jinja2.environment import TemplateModule
from jinja2.exceptions import SecurityError, TemplateSyntaxError
from jinja2.lexer import TokenStream
from jinja2.runtime import LoopContext, Undefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Namespace
from markupsafe import Markup

from sheetgen.printing import markup
from sheetgen.problems import did_you_mean

MOST_STEPS = 20_000
MOST_CHARACTERS = 1_000_000
MOST_NUMBERS = 500
MOST_CODES = 100
FILTERS = ("length", "first", "last", "default", "d", "int", "float", "abs", "escape", "e")
_TAG = re.compile(r"<([A-Za-z][\w-]*)")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
Raw = tuple[int, str, str]
"""What the lexer tells of a token: its line, its kind and its words."""
Load = Callable[[str], "tuple[str, str, Callable[[], bool]]"]
"""From the name of a layout or part to its body, its file's name and whether it is still the same."""


@dataclass
class Budget:
    """What one filling may still do."""

    steps: int = MOST_STEPS
    characters: int = MOST_CHARACTERS


budget_left: ContextVar[Budget | None] = ContextVar("budget", default=None)


def _stamped(tokens: Iterable[Raw], name: str, source: str) -> Iterator[Raw]:
    """The same tokens, with template, line and column in every start tag of the words between them."""
    starts, at = [0, *(found.end() for found in re.finditer("\n", source))], 0

    def stamp(tag: re.Match[str]) -> str:
        place = at + tag.start()
        line = bisect_right(starts, place)
        return f'{tag[0]} {markup.STAMP}="{name}:{line}:{place - starts[line - 1] + 1}"'

    for first, kind, words in tokens:
        at = max(at, source.find(words, at))
        yield first, kind, _TAG.sub(stamp, words) if kind == "data" and "<" in words else words
        at += len(words)


class Environment(ImmutableSandboxedEnvironment):
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

    def reading(self, load: Load) -> Environment:
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
        tokens = _stamped(self.lexer.tokeniter(source, name, filename, state), name or "", source)
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
        budget = budget_left.get()
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
def environment() -> Environment:
    """The one environment of this process; `reading` gives it the files of one layout."""
    return Environment()


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
    budget = budget_left.get()
    if budget is not None:
        budget.characters -= len(value)
        if budget.characters < 0:
            raise SecurityError(f"the layout writes more than {MOST_CHARACTERS} characters")
    return value
