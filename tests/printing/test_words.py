"""Languages: every sentence is there, says the same facts in the same numbers, and is short."""

from __future__ import annotations

import re
import statistics
from datetime import date, datetime
from pathlib import Path

import pytest

from sheetgen import nodes
from sheetgen.printing import languages, measures
from sheetgen.printing.words import FIRM, THIN, Words, WordsError, faults_of
from sheetgen.problems import said

from .sample_plan import LANGUAGES, tree_of, words

ALL = sorted(file.stem for file in LANGUAGES.glob("*.yaml"))
SOURCES = Path(languages.__file__).resolve().parents[1]
ENGLISH = words(sample=False)
DAY = date(2027, 12, 11)
MOST_WORDS, USUAL_WORDS = 20, 12
BRITISH = re.compile(r"\b\w*(anitis|asteuris|colour|litre|mould|grey|vapour|fibre)\w*", re.IGNORECASE)


def _with(sentence: str, units: str = "", language: str = "en-GB") -> Words:
    top, _problems = nodes.load(f"sentences:\n  it: {sentence!r}\n".encode(), "it.yaml")
    assert top is not None
    node = nodes.overlay(tree_of(LANGUAGES / f"{language}.yaml"), top)
    found, problems = languages.read(node, units, lambda name: tree_of(LANGUAGES / f"{name}.yaml"))
    assert found is not None, [*problems]
    return found


def _said(sentence: str, units: str = "", language: str = "en-GB", **values: str | float | date) -> str:
    spoken = _with(sentence, units, language).say(said("it", **values))
    return spoken.replace(THIN, " ").replace(FIRM, " ")


@pytest.mark.parametrize(
    ("kind", "value", "metric", "us"),
    [
        ("temperature", 19.0, "19 °C", "66 °F"),
        ("temperature", 20.5, "21 °C", "69 °F"),
        ("litres", 6.0, "6 L", "1.6 US gal"),
        ("litres", 1.5, "1.5 L", "1.6 US qt"),
        ("litres", 11.3, "11.25 L", "3 US gal"),
        ("litres", 45.3, "45.5 L", "12 US gal"),
        ("mass", 9.44, "9.4 g", "0.35 oz"),
        ("mass", 43.6, "44 g", "1.5 oz"),
        ("mass", 203.0, "205 g", "7.2 oz"),
        ("mass", 1496.0, "1.5 kg", "3 lb 4¾ oz"),
        ("mass", 453.6, "455 g", "1 lb"),
        ("mass", 0.4, "0.4 g", "0.01 oz"),
        ("mass", 0.2, "0.2 g", "0.2 g"),
        ("mass", 2.9, "2.9 g", "0.1 oz"),
        ("near-temperature", 27.7778, "27.78 °C", "82 °F"),
        ("gas", 2.996, "3 volumes", "3 volumes"),
        ("most-gas", 2.9912, "3 volumes", "3 volumes"),
        ("most-gas", 3.0004, "3 volumes", "3 volumes"),
        ("most-gas", 3.0006, "3.01 volumes", "3.01 volumes"),
        ("dose", 3.09, "3.0 g", "3.0 g"),
        ("dose", 2.05, "2.0 g", "2.0 g"),
        ("bulk-sugar", 67.9, "67 g", "2.35 oz"),
        ("ml", 7.5, "7.5 ml", "1½ tsp"),
        ("ml", 15.0, "15 ml", "1 US tbsp"),
        ("ml", 200.0, "200 ml", "6.8 US fl oz"),
        ("bottle", 330.0, "330 ml", "330 ml"),
        ("bottle", 1500.0, "1.5 L", "1.5 L"),
        ("sg", 1.01, "1.010", "1.010"),
        ("sg", 0.001, "0.001", "0.001"),
        ("percent", 4.94, "4.9 %", "4.9 %"),
        ("volumes", 2.0, "2 volumes", "2 volumes"),
        ("bar", 6.61, "6.7 bar", "96 psi"),
        ("minutes", 20.0, "20 minutes", "20 minutes"),
        ("days", 1.0, "1 day", "1 day"),
        ("millimetres", 25.4, "25 mm", "1 in"),
        ("teaspoons", 0.99, "¾ tsp", "¾ tsp"),
        ("number", 0.5, "0.5", "0.5"),
    ],
)
def test_numbers_are_rounded_by_their_kind(kind: str, value: float, metric: str, us: str):
    assert _said(f"{{x:{kind}}}", "metric", x=value) == metric
    assert _said(f"{{x:{kind}}}", "us", x=value) == us


def test_uk_units_keep_celsius_and_say_whose_pint_it_is():
    assert (
        _said("{a:litres}, {b:litres}, {c:temperature}", "uk", a=2.0, b=20.0, c=19.0)
        == "3.5 UK pt, 4.4 UK gal, 19 °C"
    )


@pytest.mark.parametrize("grams", [0.1, 0.29, 2.05, 3.0999, 6.18, 11.96])
def test_a_dose_is_never_more_than_the_exact_one(grams: float):
    assert float(measures.dose(grams, "metric").figures) <= grams + 1e-9
    assert float(measures.bulk_sugar(grams * 20, "us").figures) * measures.OUNCE_G <= grams * 20 + 1e-9


@pytest.mark.parametrize(
    ("kind", "british", "american"),
    [
        ("date", "Sat 11 Dec", "Sat Dec 11"),
        ("long-date", "Sat 11 December", "Sat December 11"),
        ("full-date", "Sat 11 Dec 2027", "Sat Dec 11 2027"),
        ("day-month", "11 Dec", "Dec 11"),
        ("weekday", "Saturday", "Saturday"),
    ],
)
def test_dates_follow_the_language(kind: str, british: str, american: str):
    assert _said(f"{{on:{kind}}}", on=DAY) == british
    assert _said(f"{{on:{kind}}}", language="en-US", on=DAY) == american


def test_clock_times_follow_the_language():
    evening, night = datetime(2027, 3, 6, 23, 5), datetime(2027, 3, 7, 0, 5)  # noqa: DTZ001
    assert [_said("{at:clock}", at=moment) for moment in (evening, night)] == ["23:05", "0:05"]
    assert [_said("{at:clock}", language="en-US", at=one) for one in (evening, night)] == [
        "11:05 pm",
        "12:05 am",
    ]


def test_dates_and_quantities_do_not_break():
    spoken = _with("by {on:date} {g:mass} {n:days}").say(said("it", on=DAY, g=45.0, n=2))
    assert spoken == f"by Sat{FIRM}11{FIRM}Dec 45{THIN}g 2{FIRM}days"


def test_blanks_choose_between_one_and_many():
    assert _said("{n} {n:bottle|bottles}", n=1) == "1 bottle"
    assert _said("{n} {n:bottle|bottles}", n=22) == "22 bottles"


def test_a_blank_may_be_filled_in_the_language():
    assert (_said("{25:temperature}", "metric"), _said("{25:temperature}", "us")) == ("25 °C", "77 °F")


def test_voices_are_marked_in_the_pattern_and_never_in_a_value():
    spoken = _with("was ~{was}~, *now* {why}").runs(said("it", was="Thu", why="a*b~c"))
    assert [tuple(run) for run in spoken] == [
        ("was ", ""), ("Thu", "~"), (", ", ""), ("now", "*"), (" a*b~c", "")]  # fmt: skip


def test_quantities_come_with_the_other_system():
    assert tuple(words("en-GB").quantity(1500.0, "mass")) == ("1.5", "kg", f"3 lb 5{THIN}oz")
    assert tuple(words("en-US").quantity(6.0, "litres")) == ("1.6", "US gal", f"6{THIN}L")
    assert words("en-GB").quantity(10.0, "min").other == ""


def test_names_of_ours_are_worded_and_names_of_others_stay():
    assert _said("{kind:container-id}", kind="pet") == "plastic (PET)"
    assert _said("{task:task-id}", task="add-day-3") == ENGLISH.say("task.add-day")
    assert _said("{name:ingredient}", name="Aunt Ida’s hops") == "Aunt Ida’s hops"


@pytest.mark.parametrize("wrong", ["{x:mas}", "{x", "{X}", "a *b"])
def test_a_broken_pattern_is_found(wrong: str):
    assert [*faults_of(wrong)]


@pytest.mark.parametrize("value", ["many", ""])
def test_a_value_of_another_kind_is_an_error(value: str):
    with pytest.raises(WordsError):
        _said("{x:mass}", x=value)


def test_nothing_is_printed_for_an_unknown_id_or_an_empty_blank():
    with pytest.raises(WordsError):
        ENGLISH.say("no.such.sentence")
    with pytest.raises(WordsError):
        ENGLISH.say("fridge.note.day")


def test_a_wrong_language_file_is_told_with_its_place():
    text = b"language: xx\nname: X\nextends: en-GB\nword: {}\nsentences:\n  a.b: 'this {x:gram}'\n"
    node, _problems = nodes.load(text, "xx.yaml")
    found, problems = languages.read(node, "", lambda name: tree_of(LANGUAGES / f"{name}.yaml"))
    told = [(str(problem.span), str(problem.message), str(problem.fix)) for problem in problems]
    assert found is None
    assert told == [
        ("xx.yaml:4:1", '"word" is not a part of a language file', 'did you mean "words"?'),
        ("xx.yaml:6:8", '"gram" is not a kind of blank', ""),
    ]


def test_languages_that_extend_one_another_are_refused():
    node, _problems = nodes.load(b"language: xx\nname: X\nextends: xx\n", "xx.yaml")
    found, problems = languages.read(node, "", lambda _name: node)
    assert found is None
    assert problems.stopped


@pytest.mark.parametrize("language", ALL)
def test_every_language_has_every_sentence_with_the_same_facts(language: str):
    assert [*languages.differences(words(language, sample=False), ENGLISH)] == []


@pytest.mark.parametrize("language", ALL)
def test_sentences_are_short(language: str):
    spoken = words(language, sample=False)
    lengths = {}
    for sentence_id, pattern in spoken.table.items():
        for sentence in re.split(r"(?<=[.?!]) ", pattern):
            lengths[sentence_id, sentence] = len(re.findall(r"\{[^}]*\}|[\w’-]+", sentence))
    assert {key: count for key, count in lengths.items() if count > MOST_WORDS} == {}
    assert statistics.mean(lengths.values()) <= USUAL_WORDS


def test_american_words_are_spelled_so():
    american = words("en-US", sample=False)
    plain = {key: re.sub(r"\{[^}]*\}", "", pattern) for key, pattern in american.table.items()}
    assert {key: text for key, text in plain.items() if BRITISH.search(text)} == {}


def test_every_sentence_that_the_program_says_exists():
    pattern = re.compile(r'\b[sS]aid\(\s*"([a-z0-9-]+\.[a-z0-9.-]+)"|\bsay\(\s*"([a-z0-9-]+\.[a-z0-9.-]+)"')
    ids = {
        match[1] or match[2] for file in SOURCES.rglob("*.py") for match in pattern.finditer(file.read_text())
    }
    assert sorted(found for found in ids if not ENGLISH.has(found)) == []


@pytest.mark.parametrize("language", ALL)
def test_cautions_stand_at_the_same_places_in_every_language(language: str):
    places = {name: caution["where"] for name, caution in words(language, sample=False).cautions.items()}
    assert places == {name: caution["where"] for name, caution in ENGLISH.cautions.items()}


COUNTED_BY_ITS_COLUMN = {"bottling.piece"}
"""Units whose number stands in bold before them."""


@pytest.mark.parametrize("language", ALL)
def test_what_is_counted_has_its_number(language: str):
    """A blank that only chooses between one and many is not a number: that has a blank of its own."""
    lost = {
        (sentence_id, match[1])
        for sentence_id, pattern in words(language, sample=False).table.items()
        for match in re.finditer(r"\{(\w+):[^}|]*\|[^}]*\}", pattern)
        if not re.search(r"\{" + match[1] + r"(:[\w-]+)?\}", pattern)
    }
    assert {sentence_id for sentence_id, _ in lost} == COUNTED_BY_ITS_COLUMN


def test_every_caution_says_where_it_stands():
    places = {"brew", "bottling", "shop", "label", "trouble", "safety"}
    for name, caution in ENGLISH.cautions.items():
        assert set(caution["where"].split()) <= places, name
        assert caution["head"].endswith("."), name
        assert not caution["says"] or caution["says"].endswith((".", "?")), name
