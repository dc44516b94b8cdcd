"""Where data files are looked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen import catalogue


@pytest.mark.parametrize(
    "name", ["../x", "a/b", "a\\b", "A", "", ".", "..", "x.yaml", "-a", "a--b", "a" * 61, "ä", "a\n"]
)
def test_names_that_could_walk_out_are_no_names(name: str) -> None:
    assert not catalogue.is_name(name)
    assert catalogue.find("recipes", name) is None


@pytest.mark.parametrize("name", ["a", "27a", "copper-lane-amber", "en-GB"])
def test_names(name: str) -> None:
    assert catalogue.is_name(name)


def test_the_nearest_file_wins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    own = tmp_path / "config" / "sheetgen" / "recipes" / "towrope-mild.yaml"
    near = tmp_path / "here" / "towrope-mild.yaml"
    assert (
        catalogue.find("recipes", "towrope-mild", near.parent)
        == catalogue.our_folder() / "recipes/towrope-mild.yaml"
    )
    for path in (own, near):
        path.parent.mkdir(parents=True)
        path.write_text("recipe-name: X\n", encoding="utf-8")
        assert catalogue.find("recipes", "towrope-mild", near.parent) == path
    assert len(catalogue.layers("recipes", "towrope-mild", near.parent)) == 3


def test_a_changed_file_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "x.yaml"
    path.write_text("a: 1\n", encoding="utf-8")
    first = catalogue.load(path)
    assert catalogue.load(path) is first
    path.write_text("a: 12\n", encoding="utf-8")
    assert catalogue.load(path).text == "a: 12\n"


def test_a_file_that_is_too_long_or_no_file_is_told(tmp_path: Path) -> None:
    long = tmp_path / "long.yaml"
    long.write_bytes(b"#" * (catalogue.MAX_BYTES + 1))
    for path in (long, tmp_path, tmp_path / "none.yaml"):
        data, problems = catalogue.read_bytes(path)
        assert data is None
        assert [problem.level for problem in problems] == ["stop"]


def test_text_that_is_not_utf8_is_told(tmp_path: Path) -> None:
    path = tmp_path / "x.yaml"
    path.write_bytes(b"\xff\xfe")
    assert catalogue.read_text(path)[0] is None


def test_a_missing_table_is_a_problem(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(catalogue, "our_folder", lambda: tmp_path)
    assert catalogue.overlaid("recipes/pantry", "ingredients").problems
