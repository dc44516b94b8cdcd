"""layout: copies of ours, and a check that tries what people made of them with short and long batches."""

from __future__ import annotations

from pathlib import Path

import pytest

from .runner import Run

DOOR = """---
layout: door
title: For the cellar door
view: fridge
---
<sheet title="Door">
  <line h="20" size="title" weight="bold"><text>{{ hero.date }}</text></line>
  {% for row in rows %}
  <line h="9"><tick/><text at="dates">{{ row.date.day }} {{ row.date.month }}: {{ row.verb }}</text></line>
  {% endfor %}
</sheet>
"""


def put(folder: Path, name: str, text: str) -> Path:
    path = folder / "layouts" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("name", "file", "first"),
    [
        ("fridge", "documents/fridge.layout", "---\n# A copy of sheetgen"),
        ("parts", "documents/parts.layout", "{#- A copy of sheetgen"),
        ("a4-2x4", "stocks/a4-2x4.yaml", "# A copy of sheetgen"),
        ("letter", "papers/letter.yaml", "# A copy of sheetgen"),
        ("en-US", "languages/en-US.yaml", "# A copy of sheetgen"),
    ],
)
def test_a_copy_says_what_it_is_and_is_used_instead_of_ours(
    run: Run, folder: Path, name: str, file: str, first: str
) -> None:
    done = run("layout", "copy", name, "--to", ".")
    copied = folder / "layouts" / file
    assert (done.code, done.err) == (0, "")
    assert str(copied.relative_to(folder)) in done.out
    assert copied.read_text(encoding="utf-8").startswith(first)
    if copied.suffix == ".layout":
        assert run("make", "27a.yaml", "--only", "fridge").code == 0


def test_without_a_folder_the_copy_goes_to_the_persons_own(run: Run, folder: Path) -> None:
    assert run("layout", "copy", "shop").code == 0
    assert (folder / "nobody" / "sheetgen" / "layouts" / "documents" / "shop.layout").is_file()


def test_a_copy_never_goes_over_what_is_there_unless_told_to(run: Run, folder: Path) -> None:
    there = put(folder, "documents/fridge.layout", "mine")
    refused = run("layout", "copy", "fridge", "--to", ".")
    assert (refused.code, there.read_text()) == (2, "mine")
    assert "is there already; move it away, or say --force" in refused.err
    assert run("layout", "copy", "fridge", "--to", ".", "--force").code == 0
    assert there.read_text() != "mine"


@pytest.mark.parametrize("name", ["frigde", "../fridge", "", "x" * 500])
def test_what_is_not_ours_cannot_be_copied(run: Run, name: str) -> None:
    done = run("layout", "copy", name)
    assert done.code == 2
    assert "there is no layout of ours called" in done.err


def test_ours_hold_every_batch_in_every_language_on_both_papers(run: Run) -> None:
    names = ["fridge", "labels", "safety", "cellar"]  # all of them: .ci/run
    done = run("layout", "check", *names)
    assert (done.code, done.err) == (0, "")
    assert done.out.count(": fine, tried with ") == len(names)
    assert "tried with shortest, usual, longest; " in done.out


def test_what_is_wrong_is_told_with_file_line_column_and_what_to_type(run: Run, folder: Path) -> None:
    put(
        folder,
        "documents/fridge.layout",
        "---\nlayout: fridge\nextends: fridge\n---\n{% block gate %}\n"
        "  <line><text>{{ gate.nubmer }}</text></line>\n"
        "{% endblock %}\n{% block next %}<lin/>{% endblock %}\n",
    )
    done = run("layout", "check")
    assert done.code == 1
    assert (
        "fridge.layout:6:23: stop: the template stopped: `nubmer` is not in this part of the view" in done.err
    )
    assert 'did you mean "number"?' in done.err
    assert "in the shortest batch, de, A4" in done.err
    assert "fridge.layout: 1 problem, tried with" in done.out


def test_what_only_the_longest_batch_shows_is_told_too(run: Run, folder: Path) -> None:
    path = put(folder, "documents/door.layout", DOOR.replace("{{ hero.date }}", "<b>{{ page.name }}</b>"))
    path.write_text(path.read_text().replace("<text><b>", '<text lines="1"><b>'), encoding="utf-8")
    done = run("layout", "check", str(path))
    assert done.code == 1
    assert "door.layout:7:43: stop:" in done.err
    assert "does not fit" in done.err
    assert "in the longest batch, " in done.err
    assert "the shortest batch" not in done.err


def test_a_document_of_ones_own_is_checked_and_made_by_its_name(run: Run, folder: Path) -> None:
    path = put(folder, "documents/door.layout", DOOR)
    assert run("layout", "check", "door").code == 0
    assert run("layout", "check", str(path)).code == 0
    done = run("make", "27a.yaml", "--only", "fridge,door")
    assert done.code == 0
    assert "2 pages: fridge, door" in done.out
    assert run("make", "27a.yaml", "--only", "dor").code == 2


@pytest.mark.parametrize(
    ("view", "said"),
    [("", "write `view:` and one of"), ("frigde", 'did you mean "fridge"?'), ("labels", "view")],
)
def test_a_document_of_ones_own_says_whose_names_it_uses(
    run: Run, folder: Path, view: str, said: str
) -> None:
    text = DOOR.replace("view: fridge\n", f"view: {view}\n" if view else "")
    put(folder, "documents/door.layout", text)
    done = run("layout", "check", "door")
    assert done.code == 1
    assert "the layout door must say whose names it uses" in done.err
    assert said in done.err


def test_a_stock_of_ones_own_is_tried_with_labels(run: Run, folder: Path) -> None:
    stock = "stock: mine\ntitle: my labels\npaper: a4\ncolumns: 2\nrows: 3\nwidth: 95\n"
    stock += "height: {}\nleft: 8\ntop: 12\n"
    put(folder, "stocks/mine.yaml", stock.format(80))
    assert run("layout", "check", "mine").code == 0
    put(folder, "stocks/mine.yaml", stock.format(9))
    done = run("layout", "check")
    assert done.code == 1
    assert "do not find room on my labels" in done.err


def test_a_file_where_the_program_would_not_find_it_is_wrong_use(run: Run, folder: Path) -> None:
    (folder / "door.layout").write_text(DOOR, encoding="utf-8")
    done = run("layout", "check", "door.layout")
    assert done.code == 2
    assert "is not where the program would find it" in done.err
    assert run("layout", "check", "gone.layout").code == 2
    assert run("layout", "check", "frigde").code == 2
