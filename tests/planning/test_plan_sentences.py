"""Every sentence that planning says is in the language file, and can be worded with the values that it is
given.
"""

from __future__ import annotations

import ast
import dataclasses
import re
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest

import sheetgen.planning
from sheetgen import catalogue
from sheetgen.brewing import gate
from sheetgen.intake.drink_tables import SMELLS, WORK
from sheetgen.model import KeptHow, WholePacks
from sheetgen.planning.gatekeeping import CAREFUL
from sheetgen.printing import languages
from sheetgen.printing.words import Blank, Words, parts_of
from sheetgen.problems import Said

from .described import FEBRUARY, RECIPES, day, example, planned, six
from .happenings import HAPPENED, ODD_READINGS
from .odd_batches import SAYS_MORE_THAN_IS_USED, TOLD
from .parties import PARTIES
from .seasons import RESTS, SAYING
from .seasons import planned as planned_season

SOURCES = sorted(Path(sheetgen.planning.__path__[0]).glob("*.py"))
KINDS = (
    "doubt|assume|why|move|cost|gate|group|step|buy|set-out|evening|bottle-step|stop|fix|warn|note|safety|shop|left"
    r"|packs|taste|trouble|way|hot|event(?=\.(?:un)?named)"
)
SENTENCE = re.compile(rf"(?:{KINDS})\.[a-z0-9][a-z0-9.-]*[a-z0-9]")
UNITS = ("metric", "us", "uk")
LANGUAGES = catalogue.names("layouts/languages")


def _tree(name: str) -> Any:
    path = catalogue.find("layouts/languages", name)
    return catalogue.load(path).node if path else None


@cache
def words_of(language: str, units: str) -> Words:
    words, problems = languages.read(_tree(language), units, _tree)
    assert words is not None, list(problems)
    return words


# What the sources say


def constants() -> Iterator[tuple[str, str]]:
    """Every piece of text in planning that looks like the id of a sentence, with the file that holds it."""
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Constant)
                and isinstance(node.value, str)
                and SENTENCE.fullmatch(node.value)
            ):
                yield node.value, path.name


def spelled_out() -> set[str]:
    """The ids in the sources, those that are put together among them."""
    together = {"buy.left-over", "buy.nothing-left"}
    found = {name for name, _ in constants()} - together
    found |= {f"step.{what}{end}" for what in WORK for end in ("", ".note")}
    found |= {f"{name}-{unit}" for name in together for unit in ("g", "ml", "piece")}
    rests = ("buy.after-left", "buy.left-enough")
    found |= {f"{name}-{unit}" for name in rests for unit in ("g", "ml", "piece")}
    found |= {f"buy.mix-{sizes}-{unit}" for sizes in (2, 3, 4) for unit in ("g", "ml", "piece")}
    found |= {f"left.{how}" for how in (*get_args(KeptHow), "label")}
    found |= {f"packs.{way}" for way in get_args(WholePacks)} | {
        f"packs.fill-{how}{ways}" for how in ("", "sized-") for ways in (1, 2)
    }
    found |= {f"trouble.smell.{name}" for name in SMELLS}
    found |= {f"trouble.above.why-{kind}" for kind in ("dry", "still", "looks")}
    found |= {f"trouble.{name}-looks" for name in ("above", "above.again", "missed.test")}
    found |= {f"taste.{gas}-early" for gas in ("flat", "little")}
    found |= {f"gate.{reason}-care" for reason in CAREFUL}
    return found | {f"gate.{reason}" for reason in get_args(gate.Reason)}


def calls() -> Iterator[tuple[str, set[str]]]:
    """Every said("id", name=...) whose values are all named at the call."""
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (
                isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "said"
            ):
                continue
            name = node.args[0]
            if isinstance(name, ast.Constant) and all(keyword.arg for keyword in node.keywords):
                yield name.value, {str(keyword.arg) for keyword in node.keywords}


def blanks(pattern: str) -> set[str]:
    found = {part.name for _, part in parts_of(pattern) if isinstance(part, Blank)}
    return {name for name in found if not name[0].isdigit()}


def test_every_sentence_of_planning_is_in_the_language():
    assert len(spelled_out()) > 120
    assert spelled_out() - set(words_of("en-GB", "metric").table) == set()


def test_every_blank_is_filled_at_the_call():
    table, seen = words_of("en-GB", "metric").table, 0
    for name, values in calls():
        seen += 1
        assert blanks(table[name]) <= values, f"{name} needs {blanks(table[name])} and gets {values}"
    assert seen > 60


# Sentences that share their values with others, or whose sheet says a part of them beside it.
SHARED = {"why.bottle-passed", "why.bottle", "why.test-1", "bottle-step.sanitise"}


def test_no_value_is_given_that_no_sentence_uses():
    table = words_of("en-GB", "metric").table
    spare = {name: values - blanks(table[name]) for name, values in calls() if name not in SHARED}
    assert {name: values for name, values in spare.items() if values} == {}


# What plans say


def saids(value: Any) -> Iterator[Said]:
    """Every sentence inside a value."""
    if isinstance(value, Said):
        yield value
        for held in value.values.values():
            yield from saids(held if isinstance(held, tuple) else ())
    elif dataclasses.is_dataclass(value):
        for each in dataclasses.fields(value):
            yield from saids(getattr(value, each.name))
    elif isinstance(value, tuple | list):
        for item in value:
            yield from saids(item)


READINGS = [{"on": "2027-03-17", "sg": "1.012 at 20 C"}, {"on": "2027-03-20", "sg": "1.012"}]
CARE = [{"on": f"2027-03-{n}", "sg": "1.014 at 20 C"} for n in (17, 20, 23)]
WILD = [{"on": f"2027-03-{n}", "sg": "1.006 at 20 C"} for n in (17, 20, 27)]
YEAST = [{"opened": "yes", **date} for date in ({}, {"expired": "2026-12"}, {"expired": "2020-12"})]
YEAST += [{"expired": "2026-12"}]
RISE = ["17 C", {"from": "2027-03-14", "at": "20 C"}]
FALL = ["20 C", {"from": "2027-04-01", "at": "10 C"}]
HEAT = ["12 C", {"from": "2027-06-01", "at": "33 C"}]
VARIED: list[tuple[dict[str, Any], date]] = [
    *SAYS_MORE_THAN_IS_USED,
    *((example(name), FEBRUARY) for name in ("27a", "27b")),
    (example("27c"), day("3-27")),
    *((six(recipe=path.stem), FEBRUARY) for path in RECIPES.glob("*.yaml")),
    *HAPPENED,
    (six(room="13 C"), FEBRUARY),
    (six(recipe="slipway-nine-pale", away=["2027-03-18..2027-04-09"]), FEBRUARY),
    (
        six(**{"my-days": ["sat"]}, away=[str(day("3-13") + timedelta(weeks=n)) for n in range(60)]),
        FEBRUARY,
    ),
    (
        six(
            recipe="plot-eleven-cider",
            volume="10 L",
            packs={"apple juice": "1.5 L"},
            **{"whole-packs": "strength-follows"},
        ),
        FEBRUARY,
    ),
    (six(room="33 C"), FEBRUARY),
    (six(room={"fermenting": RISE, "warm-place": FALL, "storing": HEAT}), FEBRUARY),
    (six(recipe="plot-eleven-bramble", room={"fermenting": "20 C", "storing": HEAT}), FEBRUARY),
    (six(room={"fermenting": "20 C", "storing": ["20 C", {"from": "2027-06-01", "at": "42 C"}]}), FEBRUARY),
    (six(room="15-26 C", bottles="9 x 500 ml brown glass"), FEBRUARY),
    (six(carbonation="5 volumes"), FEBRUARY),
    (six(carbonation="3.3 volumes"), FEBRUARY),
    (six(carbonation="0.5 volumes", dosing="in-bulk"), FEBRUARY),
    (six(bottles="40 x 500 ml jar"), FEBRUARY),
    (six(volume="90 L", bottles="900 x 100 ml pet"), FEBRUARY),
    (six(bottles="2 x 1 L pet, 12 x 500 ml returnable glass"), FEBRUARY),
    (six(bottles="7 x 1.5 L pet"), FEBRUARY),
    (six(bottles="40 x 330 ml pet", dosing="in-bulk"), FEBRUARY),
    *((six(bottles="40 x 330 ml pet", dosing=way), FEBRUARY) for way in ("syrup", "pieces", "teaspoons")),
    (six(bottles="40 x 330 ml pet", equipment={"scales": "0.1 g"}), FEBRUARY),
    (six(bottles="40 x 330 ml pet", dosing="pieces") | {"sugar-piece": "1 g"}, FEBRUARY),
    (six(bottles="40 x 330 ml pet", carbonation="0.5 volumes"), FEBRUARY),
    *(
        (six(recipe="plot-eleven-bramble", volume="10 L", bottles=bottles, **cleaned), FEBRUARY)
        for bottles in ("9 x 750 ml wine bottle", "8 x 750 ml wine bottle, 9 x 500 ml returnable glass")
        for cleaned in ({}, {"equipment": {"cleaner": "percarbonate cleaner"}})
    ),
    (six(volume="24 x 500 ml", actual={"litres": "12"}), date(2027, 3, 8)),
    (six(equipment={"vessel": "12 L", "pot": "2.6 L"}), FEBRUARY),
    (six(equipment={"vessel": "14 L", "pot": "2.5 L"}), FEBRUARY),
    (six(water={"tap": "45 C", "fridge": "44 C"}, room="24 C"), FEBRUARY),
    (six(water={"tap": "28 C", "fridge-space": "0.1 L"}, room="18 C"), FEBRUARY),
    (six(recipe="plot-eleven-cider", room="14 C"), FEBRUARY),
    (six(away=["2027-03-05..2027-03-12"]), FEBRUARY),
    (six(away=["2027-03-08..2027-05-12"], **{"my-days": ["sat"]}), FEBRUARY),
    (six(away=["2027-03-10..2029-01-01"]), FEBRUARY),
    (six(shifts={"from": "2027-03-01", "turns": ["work 19", "off 9"]}), FEBRUARY),
    (six(**{"my-days": {"testing": {"days": ["wed"], "every": "2 weeks", "from": "2027-03-10"}}}), FEBRUARY),
    (six(away=["2027-03-17"]), FEBRUARY),
    (
        six(
            shifts={"from": "2027-03-17", "to": "2028-03-24", "turns": ["work 1", "off 6"]},
            **{"my-days": {"testing": ["wed"]}},
        ),
        FEBRUARY,
    ),
    (six(volume="20 L"), date(2027, 4, 1)),
    (six(recipe="odd"), FEBRUARY),
    (six(recipe="own", equipment={"sanitiser": "household bleach"}), FEBRUARY),
    *((six(yeast=state), FEBRUARY) for state in YEAST),
    (six(equipment={"cleaner": "percarbonate cleaner", "sanitiser": "household bleach"}), FEBRUARY),
    (six(equipment={"cleaner": "sulphite", "sanitiser": "percarbonate cleaner"}), FEBRUARY),
    (six(water={"fridge-space": "0.1 L"}, bottles="1 x 5 L pet, 60 x 330 ml pet"), FEBRUARY),
    (six(water={"tap": "28 C", "fridge-space": "0.1 L"}, room="22 C"), FEBRUARY),
    (six(water={"tap": "25 C", "fridge-space": "none", "ice": "300 g"}, room="20 C"), FEBRUARY),
    (six(water={"tap": "17 C", "fridge-space": "none"}, room="18 C"), FEBRUARY),
    (six(water={"tap": "17 C", "fridge-space": "none", "ice": "1 kg"}, room="18 C"), FEBRUARY),
    (six(water={"tap": "4 C", "fridge-space": "none"}, equipment={"pot": "3 L"}), FEBRUARY),
    (six(water={"tap": "24 C", "fridge-space": "none"}, room="18 C", brew_day="2027-03-06 16:00"), FEBRUARY),
    (six(recipe="plot-eleven-cider", room="33 C"), FEBRUARY),
    (
        six(
            recipe="slipway-nine-pale",
            volume="50 L",
            water={"tap": "24 C", "fridge-space": "none"},
            brew_day="2027-03-06 23:30",
        ),
        FEBRUARY,
    ),
    (six(bottles="40 x 500 ml one-way glass", actual={"readings": CARE}), date(2027, 3, 24)),
    (six(bottles="40 x 500 ml returnable glass", actual={"readings": WILD}), date(2027, 3, 28)),
    (six(actual={"og": "1.030", "readings": READINGS}), date(2027, 3, 20)),
    (six(actual={"litres": "4"}), date(2027, 3, 6)),
    *((six(actual={"brewed": "2027-03-06", **odd}), date(2027, 3, 21)) for odd in ODD_READINGS),
    (six(recipe="slipway-nine-pale", actual={"og": "1.0305 at 20 C"}), date(2027, 3, 7)),
    (six(recipe="slipway-nine-pale", actual={"og": "1.0645 at 20 C"}), date(2027, 3, 7)),
    (six(actual={"brewed": "2027-03-06", "litres": "4"}), date(2027, 3, 6)),
    (six(recipe="strong", volume="12 L"), FEBRUARY),
    (six(actual={"readings": [{**one, "sg": "1.014 at 20 C"} for one in READINGS]}), date(2027, 3, 21)),
    (six(actual={"readings": [{**one, "sg": "1.020 at 20 C"} for one in READINGS]}), date(2027, 3, 21)),
    (six(actual={"readings": [{**one, "sg": "1.004 at 20 C"} for one in READINGS]}), date(2027, 3, 21)),
    (six(actual={"readings": READINGS}), date(2027, 5, 21)),
    *((six(recipe="strong", yeast=state), FEBRUARY) for state in YEAST),
    (six(carbonation="7 volumes"), FEBRUARY),
    (six(volume="1 L"), FEBRUARY),
    (six(recipe="wet", volume="10 L"), FEBRUARY),
    (six(recipe="wet", volume="10 L", actual={"brewed": "2027-03-06"}), date(2027, 3, 8)),
    (
        six(actual={"bottled": {"on": "2027-03-27", "litres": "30", "bottles": {"500 ml": "60"}}}),
        date(2027, 4, 1),
    ),
    (six(water={"tap": "29 C", "fridge-space": "0.1 L"}, room="29 C"), FEBRUARY),
    (six(equipment={"hydrometer": {"calibrated": "50 C"}}), FEBRUARY),
    (six(equipment={"hydrometer": {"in-water": "1.019"}}), FEBRUARY),
    (six(equipment={"scales": "1 g", "bottling-vessel": "5 L"}), FEBRUARY),
    (six(sugar="dextrose", dosing="teaspoons"), FEBRUARY),
    (six(dosing="teaspoons"), FEBRUARY),
    (six(dosing="syrup"), FEBRUARY),
    (six(dosing="pieces"), FEBRUARY),
    (six(dosing="pieces", bottles="40 x 250 ml pet, 40 x 330 ml pet, 40 x 500 ml pet"), FEBRUARY),
    (six(dosing="pieces", carbonation="0.9 volumes", bottles="9 x 100 ml pet"), FEBRUARY),
    ({**six(dosing="pieces", bottles="9 x 100 ml pet"), "sugar-piece": "20 g"}, FEBRUARY),
    (
        {**six(dosing="pieces", bottles="9 x 5 L pet", carbonation="1.0 volumes"), "sugar-piece": "20 g"},
        FEBRUARY,
    ),
    ({**six(dosing="pieces", bottles="9 x 100 ml pet, 9 x 5 L pet"), "sugar-piece": "20 g"}, FEBRUARY),
    (six(carbonation="3.2 volumes", bottles="9 x 500 ml one-way glass, 9 x 1 L pet"), FEBRUARY),
    (
        six(room="22 C", carbonation="3.425 volumes", dosing="teaspoons", bottles="20 x 1 L pet"),
        FEBRUARY,
    ),
    (six(dosing="teaspoons", bottles="99 x 100 ml pet"), FEBRUARY),
    (six(dosing="pieces", carbonation="2.0 volumes"), FEBRUARY),
    (six(actual={"readings": [{"on": "2027-03-16", "sg": "1.012 at 41 C"}]}), date(2027, 3, 17)),
    (six(actual={"readings": [{"on": "2027-03-05", "sg": "1.042 at 20 C"}]}), date(2027, 3, 17)),
    (six(recipe="slipway-nine-pale", actual={"readings": READINGS}), date(2027, 3, 20)),
    (six(away=["2027-03-20..2027-04-10"], actual={"readings": READINGS}), date(2027, 3, 20)),
    (six(bottles="40 x 500 ml pet", actual={"readings": CARE}), date(2027, 3, 24)),
    (six(bottles="40 x 500 ml returnable glass", actual={"readings": CARE}), date(2027, 3, 24)),
    (six(recipe="slipway-nine-pale", actual={"dry-hopped": "2027-03-09"}), date(2027, 3, 12)),
    (six(recipe="ferry-steps-mead", volume="5 L", away=["2027-04-05..2027-05-20"]), FEBRUARY),
    (six(recipe="plot-eleven-bramble", volume="10 L"), date(2027, 5, 1)),
    (six(recipe="weak", volume="10 L"), FEBRUARY),
    (six(recipe="plot-eleven-bramble", volume="10 L", bottles="8 x 750 ml wine bottle"), FEBRUARY),
    (
        six(
            bottles="40 x 500 ml jar",
            actual={"bottled": {"on": "2027-03-10", "litres": "3", "bottles": {"500 ml": "20"}}},
        ),
        date(2027, 3, 11),
    ),
    (six(recipe="sizes"), FEBRUARY),
    (six(recipe="sizes", **{"whole-packs": "strength-follows"}), FEBRUARY),
    (six(recipe="own", **{"whole-packs": "volume-follows"}), FEBRUARY),
    (six(packs={"hopped liquid malt extract": "25 kg"}, **{"whole-packs": "volume-follows"}), FEBRUARY),
    (six(volume="14 L", **{"whole-packs": "volume-follows"}), FEBRUARY),
    (six(volume="9 L", **{"whole-packs": "strength-follows"}), FEBRUARY),
    (six(volume="15 L", **{"whole-packs": "strength-follows"}), FEBRUARY),
    (six(volume="24 x 500 ml"), FEBRUARY),
    (six(volume="12 x 500 ml"), FEBRUARY),
    (six(volume="12 x 500 ml", recipe="sizes"), FEBRUARY),
    (six(volume="44 x 500 ml", recipe="sizes"), FEBRUARY),
    (six(volume="12 x 500 ml", recipe="wet"), FEBRUARY),
    (six(volume="300 x 330 ml"), FEBRUARY),
    # no spare one is missing: the free one of another row is spare
    (six(bottles="7 x 1.5 L pet, 1 x 2 L pet, 1 x 3 L pet"), FEBRUARY),
    (six(bottles="20 x 500 ml returnable glass, 2 x 2 L returnable glass"), FEBRUARY),
    (six(bottles="2 x 1 L pet, 12 x 500 ml returnable glass, 2 x 5 L returnable glass"), FEBRUARY),
    (six(recipe="later"), FEBRUARY),
    (
        six(
            recipe="ferry-steps-lager",
            room="15 C",
            actual={"readings": READINGS, "done": [{"on": "2027-03-14", "what": "cold"}]},
        )
        | {"cold-days": "2"},
        date(2027, 3, 24),
    ),
    (six(recipe="later", actual={"brewed": "2027-03-06", "og": "1.050 at 20 C"}), date(2027, 3, 6)),
    (six(recipe="dry", volume="10 L", bottles="14 x 750 ml wine"), FEBRUARY),
    (
        six(volume="8 L", equipment={"vessel": "10 L"}, **{"whole-packs": "volume-follows"}),
        FEBRUARY,
    ),
    *PARTIES,
]


SIZES = """\
recipe-name: Sizes
drink: ale
volume: 12 L
ingredients:
  - {what: liquid malt extract, amount: 1.5 kg, pack: 1.5 kg, when: into the vessel}
  - {what: table sugar, amount: 150 g, pack: 1 kg, when: into the vessel}
  - {what: hops, called: two, amount: 150 g, pack: [100 g, 50 g], when: into the vessel}
  - {what: hops, called: three, amount: 160 g, pack: [100 g, 50 g, 10 g], when: into the vessel}
  - {what: hops, called: four, amount: 165 g, pack: [100 g, 50 g, 10 g, 5 g], when: into the vessel}
  - {what: water, called: two ml, amount: 1.5 L, pack: [1 L, 500 ml], when: into the vessel}
  - {what: water, called: three ml, amount: 1.6 L, pack: [1 L, 500 ml, 100 ml], when: into the vessel}
  - {what: water, called: four ml, amount: 1.65 L, pack: [1 L, 500 ml, 100 ml, 50 ml], when: into the vessel}
  - {what: water, called: a large can, amount: 1 L, pack: 5 L, when: into the vessel}
  - {what: lemon, amount: 3 pieces, pack: [2 pieces, 1 piece], when: into the vessel}
  - what: lemon
    called: three n
    amount: 7 pieces
    pack: [4 pieces, 2 pieces, 1 piece]
    when: into the vessel
  - what: lemon
    called: four n
    amount: 15 pieces
    pack: [8 pieces, 4 pieces, 2 pieces, 1 piece]
    when: into the vessel
  - {what: vanilla pod, amount: 2 pieces, pack: 3 pieces, when: into the vessel}
  - {what: sulphite tablet, amount: 2 pieces, pack: 2 pieces, when: into the vessel}
  - {what: crystal malt, amount: 100 g, pack: 500 g, when: into the pot}
  - {what: hops, called: left, amount: 10 g, pack: 50 g, when: into the vessel}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""
OWN = """\
recipe-name: Own
drink: ale
volume: 12 L
boil: 30 min
ingredients:
  - {what: liquid malt extract, amount: 1.5 kg, when: into the pot}
  - {what: hops, amount: 20 g, when: 20 min before the end, alpha: 5 %}
  - {what: hops, amount: 20 g, when: off the heat}
  - {what: isinglass, amount: 20 ml, pack: 50 ml, when: day 5}
  - {what: wine tannin, amount: 2 g, when: into the vessel}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""


ODD = """\
recipe-name: Odd
drink: ale
volume: 12 L
ingredients:
  - {what: liquid malt extract, amount: 1.5 kg, when: into the vessel}
  - {what: carrageen, amount: 50 g, when: into the vessel}
  - {what: isinglass, amount: 200 ml, when: into the vessel}
  - {what: sulphite tablet, amount: 20 pieces, when: into the vessel}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""


LATER = """\
recipe-name: Later
drink: ale
volume: 12 L
ingredients:
  - {what: liquid malt extract, amount: 1.7 kg, when: off the heat}
  - {what: honey, amount: 1 kg, when: day 4}
yeast: {what: dry ale yeast, pack: 11 g, range: 16-24 C}
"""
DRY = """\
recipe-name: Dry
drink: country-wine
volume: 10 L
ingredients:
  - {what: raspberries, amount: 11.1 kg, when: day 2}
yeast: {what: dry wine yeast, pack: 5 g, range: 12-28 C, kind: wine}
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a recipe of one's own."""
    found = tmp_path_factory.mktemp("own")
    (found / "own.yaml").write_text(OWN, encoding="utf-8")
    (found / "rests.yaml").write_text(RESTS, encoding="utf-8")
    (found / "told.yaml").write_text(TOLD, encoding="utf-8")
    (found / "weak.yaml").write_text(OWN.replace("1.5 kg", "0.5 kg"), encoding="utf-8")
    (found / "odd.yaml").write_text(ODD, encoding="utf-8")
    strong = OWN.replace("1.5 kg", "4.8 kg").replace("16-24 C", "16-24 C, attenuation: 75-80 %")
    (found / "strong.yaml").write_text(strong, encoding="utf-8")
    (found / "later.yaml").write_text(LATER, encoding="utf-8")
    (found / "dry.yaml").write_text(DRY, encoding="utf-8")
    (found / "sizes.yaml").write_text(SIZES, encoding="utf-8")
    wet = OWN.replace("amount: 20 g, when: off the heat", "amount: 2 kg, when: dry hop")
    (found / "wet.yaml").write_text(wet, encoding="utf-8")
    return found


@pytest.fixture(scope="module")
def all_said(folder: Path) -> frozenset[Said]:
    """Every different sentence of the plans above, and of the seasons."""

    def each() -> Iterator[Said]:
        for tree, today in VARIED:
            plan, problems = planned(tree, today, folder)
            yield from saids(plan)
            yield from saids(list(problems))
        for tree in SAYING:
            season, problems, _ = planned_season(tree, folder)
            yield from saids(season)
            yield from saids(list(problems))

    return frozenset(each())


def test_every_sentence_can_be_worded_in_every_language(all_said: frozenset[Said]):
    """One test for all of them: the plans take longer than the words."""
    for language in LANGUAGES:
        for units in UNITS:
            words = words_of(language, units)
            for sentence in all_said:
                text = words.say(sentence)
                assert text
                assert not re.search(r"[{}]|\bnan\b|None", text), text


def test_the_plans_above_say_all_there_is(all_said: frozenset[Said]):
    said_here = {sentence.id for sentence in all_said}
    assert said_here <= spelled_out() | {
        name for name in words_of("en-GB", "metric").table if name.startswith("assume.")
    }
    never = {
        name for name in spelled_out() - said_here if not name.startswith(("gate.", "assume.", "group."))
    }
    assert never == set()
