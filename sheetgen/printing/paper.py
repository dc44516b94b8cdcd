"""Papers: a name and a size, read from `layouts/papers/*.yaml`.

Comes in: the bytes of a file. Goes out: a `Paper`, or problems.
"""

from __future__ import annotations

from sheetgen import nodes
from sheetgen.printing.fields import Fields
from sheetgen.problems import Problems
from sheetgen.records import record


@record
class Paper:
    """A sheet of paper; width and height in millimetres, upright."""

    name: str
    title: str
    width: float
    height: float


def read(data: bytes, file: str) -> tuple[Paper | None, Problems]:
    """A paper from a YAML file: `paper`, `title`, `width` and `height` in millimetres."""
    node, found = nodes.load(data, file)
    problems = Problems(found)
    if problems.stopped:
        return None, problems
    fields = Fields(node, problems, file)
    paper = Paper(
        fields.words("paper"),
        fields.words("title"),
        fields.number("width", least=100, most=500),
        fields.number("height", least=100, most=500),
    )
    fields.finish()
    return (None if problems.stopped else paper), problems
