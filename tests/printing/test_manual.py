"""The manual of layouts: elements with samples that work, attributes, and the names of each document."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from sheetgen.commands import manuals
from sheetgen.printing import flow, labels, picture
from sheetgen.printing import set as printed_set
from sheetgen.printing.attributes import Attribute
from sheetgen.printing.samples import SAMPLES
from sheetgen.printing.vocabulary import ELEMENTS

from .bench import A4, LAYOUTS, fill, the_stock

LOGO = LAYOUTS / "trials" / "logo.png"


@pytest.fixture(scope="module")
def told() -> str:
    data, problems = manuals.made()
    assert [*problems] == []
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    return " ".join(text.replace("\xa0", " ").split())


def test_every_element_has_a_sample_that_holds_it() -> None:
    assert [*SAMPLES] == [*ELEMENTS]
    assert [name for name, sample in SAMPLES.items() if f"<{name}" not in sample] == []


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sample_can_be_laid_out_as_it_stands(name: str, tmp_path: Path) -> None:
    place = tmp_path / "layouts" / "documents"
    place.mkdir(parents=True)
    (place / "logo.png").write_bytes(LOGO.read_bytes())
    whole = SAMPLES[name].lstrip().startswith(("<sheet", "<sticker"))
    kind = "labels" if name == "sticker" else "sheets"
    body = SAMPLES[name] if whole else f"<sheet>{SAMPLES[name]}</sheet>"
    made, problems = fill(body, kind=kind, pictures=lambda _file, file: picture.read(place, file))
    assert [*problems] == []
    if kind == "labels":
        _, found = labels.pages(made, the_stock("plain-a4"), A4, labels.Feed())
    else:
        _, found = flow.pages(made, A4)
    assert [*found] == []


def test_every_attribute_stands_in_it_with_its_values(told: str) -> None:
    for name, element in ELEMENTS.items():
        assert " ".join(f"<{name}> {element.help}".replace("`", "").split(".")[0].split()) in told.replace(
            "`", ""
        )
        for key, (_item, said) in element.attributes.items():
            assert isinstance(said, Attribute)
            assert f"{key} " in told
            assert ", ".join(said.choices) in told


def test_every_name_that_our_own_layouts_use_stands_in_it(told: str) -> None:
    for document, name in (
        ("fridge", "rows[].verb"),
        ("bottling", "gate.number"),
        ("labels", "bottles[].name"),
    ):
        assert f"{name} words" in told, document
    for name in printed_set.DOCUMENTS:
        assert f"{name}: {printed_set.about_layout(name)[0]}" in told
    assert "Blocks that a layout which extends it may replace: head, foot, next, rows, gate, end" in told


def test_a_layout_written_from_the_manual_alone_works(tmp_path: Path) -> None:
    """Elements and names as the manual lists them, put together by somebody who saw nothing else."""
    place = tmp_path / "layouts" / "documents"
    place.mkdir(parents=True)
    (place / "tag.layout").write_text(
        "---\nlayout: tag\ntitle: A tag for the handle\nview: fridge\n---\n"
        '<sheet title="Tag">\n<frame kind="write">\n'
        '<line h="12" size="title" weight="bold"><text>{{ page.code }}</text>'
        '<text at="right" align="right">{{ page.size }}</text></line>\n'
        "{% for row in rows %}{% if not row.done %}\n"
        '<line h="9"><tick state="{{ row.tick }}"/><date weekday="{{ row.date.weekday }}" '
        ' day="{{ row.date.day }}" month="{{ row.date.month }}"/><text at="words">{{ row.verb }}</text>'
        "</line>\n"
        '{% endif %}{% endfor %}\n<space h="4"/></frame>\n</sheet>\n',
        encoding="utf-8",
    )
    from .sample_plan import PLAN, words

    laid = printed_set.lay_out(PLAN, words(), tmp_path, ["tag"])
    assert [*laid.problems] == []
    assert [part.name for part in laid.sheets] == ["tag"]
