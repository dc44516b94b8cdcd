"""Layouts of people's own: one block changed, another stock, a logo; found beside the batch."""

from __future__ import annotations

import io
import re
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image as Pillow
from pypdf import PdfReader

from sheetgen.printing import draw, picture
from sheetgen.printing import set as printed_set
from sheetgen.printing.marks import Raster, Words
from sheetgen.printing.set import Laid

from .bench import INFO
from .sample_plan import PLAN, words

HEAD = "---\nlayout: fridge\nextends: fridge\n---\n"


def laid(folder: Path, body: str, head: str = HEAD, name: str = "fridge") -> Laid:
    place = folder / "layouts" / "documents"
    place.mkdir(parents=True, exist_ok=True)
    (place / f"{name}.layout").write_text(head + body, encoding="utf-8")
    return printed_set.lay_out(PLAN, words(), folder, [name])


def text_of(found: Laid) -> list[str]:
    return [
        mark.text
        for part in found.sheets
        for page in part.pages
        for mark in page.marks
        if isinstance(mark, Words)
    ]


def png(width: int = 60, height: int = 30, mode: str = "RGBA", kind: str = "PNG") -> bytes:
    out = io.BytesIO()
    Pillow.new(mode, (width, height)).save(out, kind)
    return out.getvalue()


def test_one_block_is_changed_and_the_rest_stays_ours(tmp_path: Path) -> None:
    body = "{% block gate %}<line><text>Ask Tilda: {{ gate.number }}</text></line>{{ super() }}{% endblock %}"
    changed = laid(tmp_path, body)
    assert [*changed.problems] == []
    ours = text_of(printed_set.lay_out(PLAN, words(), None, ["fridge"]))
    added = [text for text in text_of(changed) if text not in ours]
    assert added == [f"Ask Tilda: {next(text for text in ours if re.fullmatch(r'1[.]0[0-9]+', text))}"]
    assert set(ours) <= set(text_of(changed))


def test_the_persons_folder_may_lie_between_and_change_another_block(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    laid(
        tmp_path / "config" / "sheetgen",
        "{% block end %}<line><text>of the person</text></line>{% endblock %}",
    )
    found = laid(tmp_path / "batch", "{% block rows %}<line><text>of the batch</text></line>{% endblock %}")
    assert [*found.problems] == []
    assert {"of the person", "of the batch"} <= set(text_of(found))


def test_a_fault_in_the_layout_below_is_told_with_the_file_below(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    laid(tmp_path / "config" / "sheetgen", "\n{% block end %}<lin/>{% endblock %}")
    found = laid(tmp_path / "batch", "{% block rows %}{% endblock %}")
    (problem,) = found.problems
    assert problem.span is not None
    assert (problem.span.file, problem.span.line) == ("layouts/documents/fridge.layout, 1 below", 6)


def test_a_logo_stands_on_the_page_and_is_read_aloud(tmp_path: Path) -> None:
    (tmp_path / "layouts" / "documents").mkdir(parents=True)
    (tmp_path / "layouts" / "documents" / "logo.png").write_bytes(png())
    shown = "<picture file='logo.png' height='10' at='right' align='right' says='a boat'/>"
    body = f"{{% block end %}}<line h='20'>{shown}</line>{{% endblock %}}"
    found = laid(tmp_path, body)
    assert [*found.problems] == []
    pages = found.sheets[0].pages
    (mark,) = [mark for mark in pages[0].marks if isinstance(mark, Raster)]
    assert (round(mark.x + mark.width, 3), mark.width, mark.height) == (195.0, 20.0, 10.0)
    assert (mark.tag[-1].role, mark.tag[-1].says) == ("Figure", "a boat")
    pdf = draw.pdf(pages, INFO)
    assert len(PdfReader(io.BytesIO(pdf)).pages[0].images) == 1
    assert pdf == draw.pdf(pages, INFO)


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


BOMB = b"\x89PNG\r\n\x1a\n" + b"".join(
    [
        chunk(b"IHDR", struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)),
        chunk(b"IDAT", zlib.compress(b"\0" * 99)),
    ]
)
CHATTER = png()[:33] + chunk(b"zTXt", b"a\0\0" + zlib.compress(b"\0" * 90_000_000)) + png()[33:]


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("../logo.png", png(), "in the layout's own folder"),
        ("/etc/passwd", png(), "in the layout's own folder"),
        ("https://boats.example/logo.png", png(), "in the layout's own folder"),
        ("logo.svg", b"<svg/>", "in the layout's own folder"),
        ("gone.png", None, "a file gone.png beside the layout"),
        ("logo.png", b"GIF89a" + bytes(50), "that can be read"),
        ("logo.png", png()[:60], "that can be read"),
        ("logo.png", b"", "that can be read"),
        ("logo.png", BOMB, "a picture of at most 4000 pixels a side"),
        ("logo.png", png(4000, 1001, "L"), "a picture of at most 4000 pixels a side"),
        ("logo.png", CHATTER, "that can be read"),
        ("logo.png", png() + bytes(picture.MOST_BYTES), "at most 1 MB"),
        ("logo.png", png(30, 30, kind="TIFF"), "that can be read"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_picture_that_is_none_of_the_folder_or_none_at_all_is_refused(
    tmp_path: Path, name: str, data: bytes | None, said: str
) -> None:
    place = tmp_path / "layouts" / "documents"
    place.mkdir(parents=True)
    if data is not None:
        (place / "logo.png").write_bytes(data)
    body = f'{{% block end %}}<line h="20"><picture file="{name}"/></line>{{% endblock %}}'
    (problem,) = laid(tmp_path, body).problems
    assert said in str(problem.message)
    assert str(problem.span) == "fridge.layout:5:38"


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    place = tmp_path / "in"
    place.mkdir()
    (tmp_path / "secret.png").write_bytes(png())
    (place / "logo.png").symlink_to(tmp_path / "secret.png")
    with pytest.raises(ValueError, match="not a link out of it"):
        picture.read(place, "logo.png")


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA", "LA"])
def test_every_sort_of_picture_is_made_ready_for_paper(tmp_path: Path, mode: str) -> None:
    (tmp_path / "logo.png").write_bytes(png(2000, 900, mode))
    image = picture.read(tmp_path, "logo.png")
    assert (image.width, image.height) == (700, 315)
    assert len(image.data) < 20_000


def test_a_photograph_stays_small(tmp_path: Path) -> None:
    out = io.BytesIO()
    Pillow.effect_noise((1200, 1200), 90).convert("RGB").save(out, "JPEG", quality=60)
    (tmp_path / "logo.jpg").write_bytes(out.getvalue())
    image = picture.read(tmp_path, "logo.jpg")
    assert image.data.startswith(b"\xff\xd8")
    assert len(image.data) < 400_000
