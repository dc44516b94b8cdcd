"""Label stocks: a paper, a grid, and a label's shape, read from `layouts/stocks/*.yaml`.

Comes in: the bytes of a file. Goes out: a `Stock`, or problems; stocks are known by their dimensions only.
All lengths are millimetres; left and top are the first label's distances from the edges of the paper.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen import nodes
from sheetgen.printing.fields import Fields
from sheetgen.problems import Problems, Span
from sheetgen.records import record

SAFE_MARGIN = 3.0
_SHAPES = ("square", "round")
_CUTS = ("none", "marks", "outline")


@record
class Stock:
    """A sheet of labels; `cut` is what is drawn for scissors: nothing, marks outside, or the outline."""

    name: str
    title: str
    paper: str
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float
    corner: float
    shape: str
    cut: str

    @property
    def round(self) -> bool:
        """Whether the labels are discs."""
        return self.shape == "round"

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    @property
    def edge_to_edge(self) -> bool:
        """Whether labels reach nearer to the paper's edge than home printers print."""
        return min(self.left, self.top) < SAFE_MARGIN

    def corners(self) -> Iterator[tuple[float, float]]:
        """Upper left corner of every label, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield self.left + column * self.across, self.top + row * self.down


def read(data: bytes, file: str, papers: dict[str, tuple[float, float]]) -> tuple[Stock | None, Problems]:
    """A stock from a YAML file; `papers` gives width and height of the known papers."""
    node, found = nodes.load(data, file)
    problems = Problems(found)
    if problems.stopped:
        return None, problems
    fields = Fields(node, problems, file)
    stock = _stock(fields, papers)
    fields.finish()
    if not problems.stopped and stock.paper not in papers:
        known = f"known are: {', '.join(papers)}"
        problems.stop(f'there is no paper "{stock.paper}"', Span(file, 1, 1), known)
    if not problems.stopped:
        _check(stock, papers[stock.paper], fields)
    return (None if problems.stopped else stock), problems


def _stock(fields: Fields, papers: dict[str, tuple[float, float]]) -> Stock:
    width, height = fields.number("width", least=5), fields.number("height", least=5)
    return Stock(
        name=fields.words("stock"),
        title=fields.words("title"),
        paper=fields.choice("paper", papers),
        columns=int(fields.number("columns", least=1, most=30)),
        rows=int(fields.number("rows", least=1, most=60)),
        width=width,
        height=height,
        left=fields.number("left"),
        top=fields.number("top"),
        across=fields.number("pitch-across", width),
        down=fields.number("pitch-down", height),
        corner=fields.number("corner", 0.0),
        shape=fields.choice("shape", _SHAPES, "square"),
        cut=fields.choice("cut", _CUTS, "none"),
    )


def _check(stock: Stock, size: tuple[float, float], fields: Fields) -> None:
    right = stock.left + (stock.columns - 1) * stock.across + stock.width
    lower = stock.top + (stock.rows - 1) * stock.down + stock.height
    for name, end, limit in (("width", right, size[0]), ("height", lower, size[1])):
        if end > limit + 0.05:
            found = f"the labels reach {end:.2f} mm, but the paper's {name} is {limit:g} mm"
            fields.problems.stop(found, fields.span, "measure left, top, pitch and label once more")
    overlap = (stock.columns > 1 and stock.across < stock.width) or (
        stock.rows > 1 and stock.down < stock.height
    )
    if overlap:
        fields.problems.stop(
            "the labels lie over each other", fields.span, "the pitch is at least the label's size"
        )
    if stock.round and abs(stock.width - stock.height) > 0.01:
        fields.problems.stop("a round label is as wide as it is high", fields.span)
