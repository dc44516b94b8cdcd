"""What is installed with the program: versions, licences, and that the page about them is true."""

from __future__ import annotations

import re
import tomllib
from importlib import metadata, resources
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Supply")[2].partition("\n## ")[0]
ROWS = re.findall(r"^\| ([\w-]+) \| ([\d.]+) \| (.+) \| ([\w.-]+) \|$", PAGE, re.MULTILINE)
FREE = {"MIT", "MIT-CMU", "BSD-2-Clause", "BSD-3-Clause", "BSD", "Apache-2.0", "PSF-2.0"}
"""Licences that let anyone use, change and pass on, with their notice."""


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def required(name: str) -> set[str]:
    """What that library brings on this Python, its extras left out."""
    lines = [line for line in metadata.requires(name) or () if "extra ==" not in line]
    return {plain(re.match(r"[\w.-]+", line).group()) for line in lines}


def everything_installed() -> set[str]:
    found: set[str] = set()
    left = {row[0] for row in ROWS}
    while left:
        found |= left
        left = {name for each in left for name in required(each)} - found
    return found


def test_the_page_names_every_library_with_the_lowest_version_that_is_allowed():
    wanted = {re.match(r"[\w-]+", line).group(): re.search(r">=([\d.]+)", line).group(1) for line in lines()}
    assert {name: version for name, version, _, _ in ROWS} == wanted


def lines() -> list[str]:
    return PROJECT["dependencies"]


def test_no_library_may_be_newer_than_what_was_tried():
    assert all(re.search(r",<\d", line) for line in lines())


def test_what_is_installed_is_within_those_bounds():
    for name, lowest, _, _ in ROWS:
        have = tuple(int(part) for part in re.findall(r"\d+", metadata.version(name))[:3])
        assert have >= tuple(int(part) for part in lowest.split("."))


def test_what_the_libraries_bring_is_named_as_well():
    missing = [name for name in everything_installed() if not re.search(rf"\b{re.escape(name)}\b", PAGE)]
    assert missing == []


@pytest.mark.parametrize("name", sorted(everything_installed()))
def test_every_licence_is_a_free_one_and_is_what_the_page_says(name: str):
    about = metadata.metadata(name)
    said = about.get("License-Expression") or about.get("License") or ""
    classes = " ".join(about.get_all("Classifier", []))
    families = {family for family in ("MIT", "BSD", "Apache", "PSF") if family in f"{said} {classes}"}
    assert families, said[:80]
    listed = re.search(rf"^\| {name} \|.*\| ([\w.-]+) \|$", PAGE, re.MULTILINE)
    if listed:
        assert listed.group(1) in FREE
        assert listed.group(1).partition("-")[0] in families


def test_every_file_that_is_not_ours_has_its_licence_beside_it():
    fonts = ROOT / "layouts" / "fonts"
    assert "SIL OPEN FONT LICENSE" in (fonts / "OFL.txt").read_text(encoding="utf-8").upper()
    assert {path.suffix for path in fonts.iterdir()} == {".ttf", ".txt", ".json"}
    others = [
        path
        for folder in ("sheetgen", "layouts", "recipes")
        for path in (ROOT / folder).rglob("*")
        if path.suffix in {".ttf", ".otf", ".woff", ".jpg", ".svg", ".so", ".js"} and path.parent != fonts
    ]
    assert others == []


def test_other_programs_may_rely_on_our_types():
    assert resources.files("sheetgen").joinpath("py.typed").is_file()
