"""Layout files: a YAML head, and a Jinja2 body that a view fills.

Comes in: the bytes of a layout, a way to find the parts it includes, and a view (mappings, tuples, strings,
numbers). Goes out: blocks and problems. A body is not trusted: it sees the view and nothing else, calls no
methods, and is stopped when it repeats or writes without end (`sandbox`).  This and the sandbox are the only
modules that use the template library.
"""

from __future__ import annotations

import re
import traceback
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from typing import Any

from jinja2 import Template
from jinja2 import nodes as ast
from jinja2.exceptions import TemplateError, TemplateNotFound, TemplateSyntaxError, UndefinedError

from sheetgen.printing import heads, markup, sandbox
from sheetgen.printing.blocks import Block
from sheetgen.printing.heads import NAME, Head
from sheetgen.printing.picture import Pictures, no_pictures
from sheetgen.printing.sandbox import FILTERS, Budget, Environment, Load, budget_left
from sheetgen.problems import Problems, Span, did_you_mean
from sheetgen.records import record

MOST_LAYERS = 5
_QUOTED = re.compile(r"['`\"]([^'`\"\n]{1,60})['`\"]")
TAGS = (
    "if",
    "elif",
    "else",
    "endif",
    "for",
    "endfor",
    "set",
    "endset",
    "block",
    "endblock",
    "macro",
    "endmacro",
)
"""Words of the template language that people mistype."""
_UNDEFINED = re.compile(r"'([^']{1,60})' is undefined")
_MISUSED = (TypeError, ValueError, ArithmeticError, LookupError, AttributeError)
_UNREADABLE = (TemplateError, RecursionError, MemoryError, SyntaxError, *_MISUSED)
"""Whatever a strange template may raise while it is compiled or filled."""
Find = Callable[[str], "tuple[str, bytes] | None"]
"""From the name of a layout or part to the file's name for messages and its bytes; None if there is none."""
Below = Callable[[str, int], "tuple[str, bytes] | None"]
"""The same for a layout that another extends: the n-th file of that name, the nearest being 0."""


@record
class Layout:
    """A layout, compiled; `default` is its paper or stock, `view` the document whose names it uses."""

    name: str
    title: str
    kind: str
    default: str
    view: str
    template: Template = field(repr=False)
    files: Mapping[str, tuple[str, tuple[str, ...]]] = field(repr=False, default_factory=dict)

    def where(self, stamp: str, near: str) -> Span:
        """The place in a layout file of a stamp, or of the words that matter in the tag that begins there."""
        name, line, column = [*stamp.rsplit(":", 2), "", ""][:3]
        file, lines = self.files.get(name, self.files[self.name])
        number, first = (int(part) if part.isdigit() else 1 for part in (line, column))
        if near.startswith("<"):
            return Span(file, number, first, len(near))
        tag = "\n".join(lines[number - 1 : number + 20])[first - 1 :]
        found = re.search(rf"(?<![\w-]){re.escape(near)}", tag[: tag.find(">") + 1 or None]) if near else None
        before = tag[: found.start()].split("\n") if found else [""]
        start = len(before[-1]) + (first if len(before) == 1 else 1)
        return Span(file, number + len(before) - 1, start, max(len(near), 1))


@record
class _Source:
    """One layout of a chain in which each extends the next; `name` is what the template library calls it."""

    name: str
    file: str
    body: str
    head: Head


def read(file: str, data: bytes, find: Find, below: Below | None = None) -> tuple[Layout | None, Problems]:
    """A layout from its file; `find` gives the parts it includes, `below` the layout it extends."""
    problems = Problems()
    chain = _chain(file, data, below or (lambda name, _nth: find(name)), problems)
    if not chain or problems.stopped:
        return None, problems
    head = chain[0].head
    files = {source.name: (source.file, tuple(source.body.split("\n"))) for source in chain}
    environment = sandbox.environment().reading(_loader(chain, find, files))
    try:
        templates = [environment.get_template(source.name) for source in chain]
        _check_blocks(chain, templates, environment, problems)
        made = Layout(
            head.name, head.title or head.name, head.kind, head.default, head.view, templates[0], files
        )
    except TemplateSyntaxError as error:
        _syntax(error, files, file, problems)
    except _UNREADABLE as error:
        problems.stop(f"this layout cannot be read: {_reason(error)}", Span(file, 1, 1))
    else:
        return (None if problems.stopped else made), problems
    return None, problems


def _chain(file: str, data: bytes, below: Below, problems: Problems) -> list[_Source]:
    """The layout and those below it, each extended by the one before."""
    raw, names = [(file, data)], [file.removesuffix(".layout")]
    while (wanted := heads.extends(raw[-1][1])) and len(raw) <= MOST_LAYERS:
        found = below(wanted, names.count(wanted))
        if found is None or len(raw) == MOST_LAYERS:
            what = f"extends more than {MOST_LAYERS - 1} others" if found else f'extends "{wanted}"'
            said = f"this layout {what}" + ("" if found else ", but there is no such layout below it")
            problems.stop(said, _extending(*raw[-1]), "sheetgen list layouts names those there are")
            return []
        raw, names = [*raw, found], [*names, wanted]
    chain: list[_Source] = []
    for number, (name, content) in reversed([*enumerate(raw)]):
        try:
            head_text, body = heads.parted(content)
        except ValueError as error:
            problems.stop(f"this layout cannot be read: {error}", Span(name, 1, 1))
            return []
        head = heads.read(head_text, name, problems, chain[0].head if chain else None)
        if chain:
            body = f'{{% extends "{chain[0].name}" %}}{body}'
        chain.insert(0, _Source(f"below{number}" if number else head.name, name, body, head))
    return chain


def _extending(file: str, data: bytes) -> Span:
    lines = data.decode("utf-8-sig", "replace").split("\n")
    number = next((index for index, line in enumerate(lines) if line.startswith("extends:")), 0)
    return Span(file, number + 1, 1, max(1, len(lines[number].rstrip())))


_BESIDE_BLOCKS = (
    *(ast.Extends, ast.Block, ast.Import, ast.FromImport),
    *(ast.Macro, ast.Assign, ast.AssignBlock),
)


def _check_blocks(
    chain: list[_Source], templates: list[Template], environment: Environment, problems: Problems
) -> None:
    """A stop for what a layout that extends another says in vain: other blocks, and words beside blocks."""
    for index, source in enumerate(chain[:-1]):
        known = sorted({name for template in templates[index + 1 :] for name in template.blocks})
        for block in environment.parse(source.body, source.name, source.file).find_all(ast.Block):
            if block.name not in known:
                fix = did_you_mean(block.name, known) or f"its blocks are {', '.join(known) or 'none'}"
                said = f'"{source.head.extends}" has no block `{block.name}`'
                problems.stop(said, _place(source, block.lineno, block.name), fix)
        for node in environment.parse(source.body, source.name, source.file).body:
            if not isinstance(node, _BESIDE_BLOCKS) and not _is_white(node):
                problems.stop(
                    "what stands outside a block is never printed in a layout that extends another",
                    _place(source, _first_line(node), ""),
                    f"put it inside {{% block ... %}}: {', '.join(known)}",
                )
                break


def _first_line(node: ast.Node) -> int:
    """The line of the first thing that a piece of a template would print."""
    parts = [part for part in getattr(node, "nodes", ()) if not _is_white(ast.Output([part]))]
    if not parts or not isinstance(parts[0], ast.TemplateData):
        return node.lineno
    text = parts[0].data
    return parts[0].lineno + text[: len(text) - len(text.lstrip())].count("\n")


def _is_white(node: ast.Node) -> bool:
    return isinstance(node, ast.Output) and all(
        isinstance(part, ast.TemplateData) and not part.data.strip() for part in node.nodes
    )


def _place(source: _Source, line: int, word: str) -> Span:
    lines = source.body.split("\n")
    text = lines[line - 1] if 0 < line <= len(lines) else ""
    return Span(source.file, line, max(1, text.find(word) + 1), max(1, len(word)))


def _loader(chain: list[_Source], find: Find, files: dict[str, tuple[str, tuple[str, ...]]]) -> Load:
    held = {source.name: source for source in chain}

    def load(wanted: str) -> tuple[str, str, Callable[[], bool]]:
        if wanted in held:
            return held[wanted].body, held[wanted].file, lambda: True
        found = find(wanted) if NAME.match(wanted) else None
        if found is None:
            raise TemplateNotFound(wanted)
        text = heads.parted(found[1])[1]
        files[wanted] = (found[0], tuple(text.split("\n")))
        return text, found[0], lambda: True

    return load


def _syntax(
    error: TemplateSyntaxError,
    files: Mapping[str, tuple[str, tuple[str, ...]]],
    file: str,
    problems: Problems,
) -> None:
    place, lines = files.get(error.name or "", (file, ()))
    message = error.message or "it is not complete"
    word = (_QUOTED.findall(message) or [""])[-1]
    fix = did_you_mean(word, FILTERS if "filter" in message else TAGS)
    problems.stop(f"the template cannot be read: {message}", _spot(place, lines, error.lineno, word), fix)


def _spot(file: str, lines: Sequence[str], line: int, word: str) -> Span:
    """The place of a word in a line of a layout; of the first `{` there if the line does not hold it."""
    text = lines[line - 1] if 0 < line <= len(lines) else ""
    found = re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text) if word else None
    column = found.start() if found else max(0, text.find("{"))
    return Span(file, line, column + 1, len(word) if found else 1)


def fill(
    layout: Layout, view: Mapping[str, Any], pictures: Pictures = no_pictures
) -> tuple[tuple[Block, ...], Problems]:
    """The blocks that a layout makes of a view; `pictures` opens those that it names."""
    text, problems = write(layout, view)
    if problems.stopped:
        return (), problems
    blocks, found = markup.read(text, layout.kind, layout.where, pictures)
    return blocks, found


def write(layout: Layout, view: Mapping[str, Any]) -> tuple[str, Problems]:
    """The filled text of a layout, as it is before it is read as blocks."""
    problems, token = Problems(), budget_left.set(Budget())
    try:
        return layout.template.render(view), problems
    except TemplateSyntaxError as error:
        _syntax(error, layout.files, layout.files[layout.name][0], problems)
    except TemplateNotFound as error:
        found = f'there is no layout or part called "{error.message}"'
        problems.stop(
            found,
            _line(error, layout, str(error.message)),
            "names are small letters, digits and hyphens, without a folder",
        )
    except _UNREADABLE as error:
        problems.stop(
            f"the template stopped: {_reason(error)}", _line(error, layout), _suggestion(error, view)
        )
    finally:
        budget_left.reset(token)
    return "", problems


def _reason(error: BaseException) -> str:
    if isinstance(error, RecursionError):
        return "it is nested too deeply, or calls itself without end"
    return str(getattr(error, "message", None) or error)


def _suggestion(error: BaseException, view: Mapping[str, Any]) -> str:
    match = _UNDEFINED.search(str(error)) if isinstance(error, UndefinedError) else None
    return did_you_mean(match[1], view) if match else ""


def _line(error: BaseException, layout: Layout, word: str = "") -> Span:
    """Where in which layout file an error arose: the innermost frame of a template."""
    known = dict(layout.files.values())
    frames = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename in known]
    if not frames:
        return Span(layout.files[layout.name][0], 1, 1)
    last, names = frames[-1], [word, *_QUOTED.findall(_reason(error))]
    return _spot(last.filename, known[last.filename], last.lineno or 1, next(filter(None, names), ""))
