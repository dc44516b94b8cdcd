"""Pages as a photocopier leaves them, read back by a program that knows neither our words nor our numbers.

Run: python tests/ocr/read_back.py.  Needs pdftoppm (poppler-utils) and tesseract (tesseract-ocr); says so and
fails when one is missing.  Each page is drawn in pure black and white at 200 dots an inch and read whole, and
in quarters.  What must be found stands in the plan's JSON, written out here by other code than the program's:
the next day, the gate's number, the sugar for a bottle and all dates.  No word list is given, and the
reader's own dictionaries are switched off.  Then errors are planted, one wrong figure at a time on paper, and
each must be missed.  Ends with `N passed, N failed`.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from sheetgen.commands import common
from sheetgen.planning.as_json import as_json
from sheetgen.printing import draw
from sheetgen.printing.marks import Page, Words

EXAMPLES = Path(__file__).resolve().parents[2] / "recipes" / "examples"
TODAY = date(2027, 2, 20)
DPI = "200"
READER = ("--dpi", DPI, "-l", "eng", "-c", "load_system_dawg=0", "-c", "load_freq_dawg=0")
ON_THE_DOOR = ("brew", "test-1", "test-2", "bottle", "test-bottle", "move-to-cool", "drink-from")
LISTED = 10  # so many days of filling stand on either paper
BATCHES = {"A4": ("27a.yaml", {"language": "en-GB"}), "Letter": ("27a.yaml", {"language": "en-US"})}
PLANTED = {"fridge": ("18", "19"), "bottling": ("1.013", "1.018"), "labels": ("7 April", "1 April")}


def main() -> int:
    """Read everything back; 0 if all that must be found was found, and nothing that must not."""
    missing = [name for name in ("pdftoppm", "tesseract") if not shutil.which(name)]
    if missing:
        sys.stderr.write(f"cannot read pages back without {' and '.join(missing)}: install them first\n")
        return 1
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(os.cpu_count()) as readers:
        results = [*readers.map(lambda case: tried(*case, Path(folder)), cases())]
    faults = [sentence for sentences in results for sentence in sentences]
    sys.stderr.write("".join(f"{sentence}\n" for sentence in faults))
    sys.stdout.write(f"{sum(not found for found in results)} passed, {sum(map(bool, results))} failed\n")
    return 1 if faults else 0


Case = tuple[str, Page, Sequence[str], str]
"""Name, page, what must be found on it, and of that what must not be found (planted)."""


def cases() -> Iterator[Case]:
    """Every page of every batch, and the first batch's once more with an error planted in each."""
    for paper, (file, others) in BATCHES.items():
        loaded = common.load(EXAMPLES / file, TODAY, {"paper": paper, **others})
        laid = common.lay_out(loaded)
        assert laid is not None
        assert loaded.plan is not None
        words = Written(as_json(loaded.plan, common.in_english), month_first=others["language"] == "en-US")
        pages = {part.name: part.pages[0] for part in (*laid.sheets, *laid.labels)}
        for name, (right, wrong) in PLANTED.items():
            wanted = getattr(words, name)()
            yield f"{name} on {paper}", pages[name], wanted, ""
            if paper == "A4":
                lost = next(text for text in wanted if re.search(rf"(?<!\d){right}(?!\d)", text))
                yield f"{name} with {wrong} planted", planted(pages[name], right, wrong), wanted, lost


def planted(page: Page, right: str, wrong: str) -> Page:
    """The page with one thing wrong wherever it stands."""
    pattern = re.compile(rf"(?<![\d.]){re.escape(right)}(?!\d)".replace(r"\ ", r"\s"))
    marks = [
        replace(mark, text=pattern.sub(wrong, mark.text)) if isinstance(mark, Words) else mark
        for mark in page.marks
    ]
    assert marks != [*page.marks], f"there is no {right} on this page"
    return replace(page, marks=tuple(marks))


def tried(name: str, page: Page, wanted: Sequence[str], lost: str, folder: Path) -> list[str]:
    """What is wrong with one page, as sentences."""
    read = read_back(page, folder / re.sub(r"\W+", "-", name))
    unread = [text for text in wanted if not stands_in(text, read)]
    if lost:
        return [] if lost in unread else [f"{name}: {lost!r} was read, but it does not stand there"]
    return [f"{name}: {text!r} was not read" for text in unread]


def stands_in(text: str, read: Sequence[str]) -> bool:
    """Whether a text was read exactly, whatever the space between its figures and words."""
    joined = re.escape(re.sub(r"\s", "", text))
    pattern = re.compile(rf"{'(?<![0-9.])' if text[0].isdigit() else ''}{joined}(?!\d)")
    return any(pattern.search(once) for once in read)


def read_back(page: Page, stem: Path) -> list[str]:
    """The page's words, without spaces, as the reader sees them: scattered, in lines, and by quarters."""
    pdf = stem.with_suffix(".pdf")
    pdf.write_bytes(draw.pdf([page], draw.Info("read me", "en-GB", "", TODAY)))
    shown = ["pdftoppm", "-mono", "-r", DPI, "-singlefile"]
    subprocess.run([*shown, str(pdf), str(stem)], check=True, capture_output=True)
    wide, high = (round(length / 25.4 * int(DPI) / 2) for length in (page.width, page.height))
    for number, (x, y) in enumerate(((0, 0), (wide, 0), (0, high), (wide, high))):
        quarter = ["-x", str(x), "-y", str(y), "-W", str(wide), "-H", str(high)]
        subprocess.run([*shown, *quarter, str(pdf), f"{stem}-{number}"], check=True, capture_output=True)
    whole = f"{stem}.pbm"
    return [in_rows(whole), in_lines(whole), *(in_lines(f"{stem}-{number}.pbm") for number in range(4))]


def reader(picture: str, *options: str) -> str:
    """What the reader writes of a picture."""
    alone = {**os.environ, "OMP_THREAD_LIMIT": "1"}
    command = ["tesseract", picture, "-", *READER, *options]
    return subprocess.run(command, check=True, capture_output=True, text=True, env=alone).stdout


def in_lines(picture: str) -> str:
    """The words of a picture taken for one block of lines."""
    return "\n".join(re.sub(r"\s", "", line) for line in reader(picture, "--psm", "6").splitlines())


def in_rows(picture: str) -> str:
    """The words of a picture taken for words here and there, put into rows by their height."""
    table = [line.split("\t") for line in reader(picture, "--psm", "11", "tsv").splitlines()[1:]]
    words = sorted(
        (int(top) + int(height) / 2, int(left), text)
        for *_, left, top, _width, height, _sure, text in table
        if text.strip()
    )
    rows: list[list[tuple[float, int, str]]] = []
    for word in words:
        if rows and word[0] - rows[-1][0][0] < 12:
            rows[-1].append(word)
        else:
            rows.append([word])
    return "\n".join("".join(text for _, _, text in sorted(row, key=lambda word: word[1])) for row in rows)


class Written:
    """What a plan's JSON says, written as paper should have it."""

    def __init__(self, plan: dict[str, Any], month_first: bool) -> None:
        self.plan, self.month_first = plan, month_first
        self.tasks = {task["id"]: task["expected"] for task in plan["tasks"]}

    def day(self, iso: str, form: str = "%b", weekday: bool = False) -> str:
        """A day: Sat 6 Mar, or Sat Mar 6."""
        when = date.fromisoformat(iso)
        month = when.strftime(form)
        shown = f"{month} {when.day}" if self.month_first else f"{when.day} {month}"
        return when.strftime("%a ") + shown if weekday else shown

    def best(self) -> list[str]:
        """First and last day of the best time."""
        return [self.day(self.plan["labels"][name]) for name in ("best_from", "best_to")]

    def fridge(self) -> list[str]:
        """The next day large, every row's date, the gate's number, the last day of the best time."""
        rows = [self.day(self.tasks[name], weekday=True) for name in ON_THE_DOOR]
        waits = self.day(self.plan["dates"]["bottling"]["latest"], weekday=True)
        hero = self.day(self.tasks["brew"], "%B", weekday=True)
        return [hero, *rows, waits, *self.best(), f"{self.plan['gate']['high']:.3f}"]

    def bottling(self) -> list[str]:
        """Its day, the days of the tests, gate and ceiling, sugar a bottle, days of filling and opening."""
        choices = self.plan["labels"]["fill_choices"][:LISTED]
        filled = [f"{date.fromisoformat(one['filled']):%a} {int(one['filled'][8:])}" for one in choices]
        pairs = [day + self.day(one["not_before"]) for day, one in zip(filled, choices, strict=True)]
        sugar = [f"{size['given_g']:.1f} g" for size in self.plan["carbonation"]["sizes"]]
        tests = [self.day(self.tasks[name], weekday=True) for name in ("test-1", "test-2")]
        hero = self.day(self.tasks["bottle"], "%B", weekday=True)
        limits = [f"{self.plan['gate'][name]:.3f}" for name in ("high", "ceiling")]
        return [hero, *tests, *limits, *sugar, *pairs]

    def labels(self) -> list[str]:
        """Not before, filled, best and best before."""
        days = self.plan["labels"]
        dated = [
            f"{self.day(days[name], weekday=True)} {days[name][:4]}" for name in ("filled", "best_before")
        ]
        return [self.day(days["not_before"], "%B", weekday=True), *dated, *self.best()]


if __name__ == "__main__":
    sys.exit(main())
