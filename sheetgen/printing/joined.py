"""Everybody's pages in one file, in the order of printing; everybody's labels on shared sheets.

Comes in: pages and runs of labels, one person after the other.  Goes out: the bytes of files.  What was added
is drawn at once and forgotten.  These files are for the printer: unlike everybody's own they are not tagged
for listening.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from sheetgen.printing.draw import Book, Info
from sheetgen.printing.labels import Run, Slot, sheet
from sheetgen.printing.marks import Page
from sheetgen.records import record


class JoinedSheets:
    """One set after the other, each as often as wanted; printed on both sides, no sheet is two people's."""

    def __init__(self, info: Info, copies: int = 1, one_sided: bool = False) -> None:
        self._book, self._copies, self._one_sided = Book(info, tagged=False), copies, one_sided

    @property
    def count(self) -> int:
        """How many pages there are."""
        return self._book.count

    def add(self, pages: Sequence[Page], who: str) -> None:
        """Somebody's pages; the bookmark with the name stands before those of the sheets."""
        for copy in range(self._copies if pages else 0):
            for number, page in enumerate(pages):
                first = number == 0 and copy == 0
                self._book.add(
                    page if copy == 0 else replace(page, bookmark=""), who if first else "", level=1
                )
            if len(pages) % 2 and not self._one_sided:
                self._book.add(Page(pages[-1].width, pages[-1].height, ()))

    def close(self) -> bytes | None:
        """The bytes; None if there is no page."""
        return self._book.close() if self._book.count else None


@record
class JoinedFile:
    """A file of labels: what they are ("labels", "discs"), the name of their sheets, and how many."""

    kind: str
    stock: str
    data: bytes
    pages: int
    labels: int


@dataclass
class _Stack:
    """The sheets of one stock: the book, the labels of the sheet that is not full, who begins on it."""

    run: Run
    book: Book
    waiting: list[Slot] = field(default_factory=list)
    begin: list[str] = field(default_factory=list)
    count: int = 0


class JoinedLabels:
    """Labels of several people on sheets that they share, a file for each sort of sheet."""

    def __init__(self, info: Info, new_sheet: bool = False) -> None:
        self._info, self._new_sheet = info, new_sheet
        self._stacks: dict[tuple[str, str], _Stack] = {}

    def add(self, kind: str, run: Run, who: str) -> None:
        """Somebody's labels, from where the last one's ended, or on a new sheet."""
        key = (kind, run.stock.name)
        stack = self._stacks.get(key)
        if stack is None:
            stack = self._stacks[key] = _Stack(run, Book(self._info, tagged=False))
            stack.waiting = [()] * (run.feed.start_at - 1)
        elif self._new_sheet and stack.waiting:
            self._print(stack)
        stack.begin.append(who)
        stack.count += len(run.slots)
        for slot in run.slots:
            stack.waiting.append(slot)
            if len(stack.waiting) == run.stock.count:
                self._print(stack)

    def _print(self, stack: _Stack) -> None:
        """Draw a sheet; its bookmark names those whose labels begin on it."""
        run = stack.run
        made = sheet(stack.waiting, run.stock, run.paper, run.feed, 1)
        stack.book.add(replace(made, bookmark=", ".join(stack.begin)))
        stack.waiting, stack.begin = [], []

    def close(self) -> Iterator[JoinedFile]:
        """The files, finished one after the other."""
        for (kind, stock), stack in self._stacks.items():
            if stack.waiting:
                self._print(stack)
            yield JoinedFile(kind, stock, stack.book.close(), stack.book.count, stack.count)
