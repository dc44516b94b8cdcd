"""Files: all or none, whatever fails, and never over somebody else's."""

from __future__ import annotations

import contextlib
import errno
import os
from pathlib import Path

import pytest

from sheetgen.commands.writing import CannotWrite, Output, is_ours, strangers, write_all

PDF = b"%PDF-1.7 /Producer (sheetgen)"
ICS = b"BEGIN:VCALENDAR\r\nPRODID:-//sheetgen//batch calendar 1//EN\r\n"
PLAN = b'{\n "format": "sheetgen-plan"\n}'
NAMES = ("27A-sheets.pdf", "27A-labels.pdf", "27A-calendar.ics", "27A-plan.json")


def outputs(folder: Path, tag: bytes = b"new") -> list[Output]:
    return [
        Output(folder / name, data + tag) for name, data in zip(NAMES, (PDF, PDF, ICS, PLAN), strict=True)
    ]


def picture(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, with its bytes."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_new_folder_gets_everything(tmp_path: Path):
    write_all(outputs(tmp_path / "a" / "b"))
    assert sorted(picture(tmp_path)) == sorted(f"a/b/{name}" for name in NAMES)


def test_files_have_ordinary_rights(tmp_path: Path):
    write_all(outputs(tmp_path))
    (tmp_path / "plain").touch()
    assert (tmp_path / NAMES[0]).stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_obsolete_files_go(tmp_path: Path):
    write_all(outputs(tmp_path))
    write_all(outputs(tmp_path, b"2")[:1], obsolete=[tmp_path / NAMES[1]])
    assert sorted(picture(tmp_path)) == sorted(name for name in NAMES if name != NAMES[1])


CALLS = ["os.open", "os.fsync", "pathlib.Path.replace", "pathlib.Path.mkdir"]


@pytest.mark.parametrize("before", ["nothing", "an older set"])
@pytest.mark.parametrize("links", [True, False], ids=["links", "no links"])
@pytest.mark.parametrize(
    "fault", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()], ids=str
)
@pytest.mark.parametrize("nth", range(1, 5))
@pytest.mark.parametrize("call", CALLS)
def test_a_failure_at_any_step_leaves_everything_as_it_was(
    tmp_path, monkeypatch, call, nth, fault, links, before
):
    folder = tmp_path / "27A"
    if before != "nothing":
        write_all(outputs(folder, b"old"))
    was = picture(tmp_path)
    if not links:
        monkeypatch.setattr("pathlib.Path.hardlink_to", _refuses)
    failed = _fail_at(monkeypatch, call, nth, fault)
    try:
        write_all(outputs(folder), obsolete=[folder / NAMES[1]] if before != "nothing" and nth == 1 else [])
    except (CannotWrite, KeyboardInterrupt):
        assert failed
        monkeypatch.undo()
        assert picture(tmp_path) == was
        assert folder.exists() == (before != "nothing")
    assert not [name for name in picture(tmp_path) if name.endswith((".part", ".kept"))]


@pytest.mark.parametrize("fault", [OSError(errno.EIO, "Input/output error"), KeyboardInterrupt()], ids=str)
@pytest.mark.parametrize("nth", range(1, 6))
def test_a_failure_while_tidying_up_leaves_the_old_set_or_the_new_one(tmp_path, monkeypatch, nth, fault):
    write_all(outputs(tmp_path, b"old"))
    was = picture(tmp_path)
    _fail_at(monkeypatch, "pathlib.Path.unlink", nth, fault)
    with contextlib.suppress(CannotWrite, KeyboardInterrupt):
        write_all(outputs(tmp_path)[:3], obsolete=[tmp_path / NAMES[3]])
    now = {name: data for name, data in picture(tmp_path).items() if not name.startswith(".")}
    assert now in (was, {output.path.name: output.data for output in outputs(tmp_path)[:3]})


def _refuses(*_args):
    raise OSError(errno.EPERM, "Operation not permitted")


def _fail_at(monkeypatch, call: str, nth: int, fault: BaseException) -> list[int]:
    """Make the nth use of that call raise, once; later uses work again (they undo)."""
    module, name = call.rsplit(".", 1)
    owner = Path if module == "pathlib.Path" else os
    real, count, failed = getattr(owner, name), [], []

    def broken(*args, **kwargs):
        count.append(1)
        if len(count) == nth and not (name == "open" and str(args[0]) == os.devnull):
            failed.append(nth)
            raise fault
        return real(*args, **kwargs)

    monkeypatch.setattr(owner, name, broken)
    return failed


def test_the_sentence_names_the_folder_not_the_temporary_file(tmp_path, monkeypatch):
    def full(path, *_args):
        raise OSError(errno.ENOSPC, "No space left on device", str(path))

    monkeypatch.setattr(os, "open", full)
    with pytest.raises(CannotWrite, match=r"nothing was written: .*27A: No space left on device") as caught:
        write_all(outputs(tmp_path / "27A"))
    assert ".part" not in str(caught.value)


def test_a_file_where_the_folder_should_be(tmp_path):
    (tmp_path / "27A").write_text("mine")
    with pytest.raises(CannotWrite, match="27A"):
        write_all(outputs(tmp_path / "27A"))
    assert picture(tmp_path) == {"27A": b"mine"}


@pytest.mark.parametrize(
    "data", [b"", b"%PDF-1.4 a form of the tax office", b"BEGIN:VCALENDAR", b"{}", b"\xff" * 99]
)
@pytest.mark.parametrize("name", NAMES)
def test_files_without_our_mark_are_strangers(tmp_path, name, data):
    path = tmp_path / name
    path.write_bytes(data)
    assert strangers([path, tmp_path / "none.pdf"]) == [path]


def test_our_own_files_are_known_again(tmp_path):
    write_all(outputs(tmp_path))
    assert all(is_ours(tmp_path / name) for name in NAMES)
    assert strangers([tmp_path / name for name in NAMES]) == []


def test_folders_and_dangling_links_are_strangers(tmp_path):
    (tmp_path / NAMES[0]).mkdir()
    (tmp_path / NAMES[1]).symlink_to(tmp_path / "nowhere")
    assert len(strangers([tmp_path / NAMES[0], tmp_path / NAMES[1]])) == 2


def test_a_link_is_replaced_and_never_followed(tmp_path):
    outside = tmp_path / "outside.pdf"
    outside.write_bytes(PDF)
    folder = tmp_path / "27A"
    folder.mkdir()
    (folder / NAMES[0]).symlink_to(outside)
    write_all(outputs(folder))
    assert outside.read_bytes() == PDF
    assert not (folder / NAMES[0]).is_symlink()
