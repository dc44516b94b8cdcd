"""Hostile, truncated and wrong input, end to end: a set or a sentence, soon, and nothing written on a stop.

Every file here goes through `check` and `make` as a person runs them.  A fault of the program would be told
as such; none may be.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from sheetgen.__main__ import main
from tests.intake.told import SIX

ROOT = Path(__file__).resolve().parents[1]
LONGEST_SECONDS = 20.0
"""A run takes a second or two; the wide limit tells only a hang, since test machines are busy."""
_STOP = re.compile(r"^(?:[^\n:]+:\d+:\d+|--[a-z-]+): stop: ", re.MULTILINE)


class Told(NamedTuple):
    """What a run gave."""

    code: int
    out: str
    err: str


def six(more: str = "", **other: str) -> str:
    """The six-line batch with other values (brew_day for brew-day) and more lines."""
    lines = SIX | {key.replace("_", "-"): value for key, value in other.items()}
    return "".join(f"{key}: {value}\n" for key, value in lines.items()) + more


RECIPE = """\
recipe-name: {name}
drink: ale
volume: {volume}
{more}ingredients:
{parts}yeast: {{what: dry ale yeast, pack: {pack}, range: {celsius}}}
"""
MALT = "  - {what: liquid malt extract, amount: 1.5 kg, when: off the heat, colour: 10}\n"
HOPS = "  - {{what: hops, amount: {amount}, when: {when}, alpha: {alpha}}}\n"


def recipe(parts: str = MALT, **other: str) -> dict[str, str]:
    """A recipe of one's own as the file rr.yaml."""
    values = {"name": "Own", "volume": "10 L", "more": "boil: 60 min\n", "pack": "11 g", "celsius": "16-24 C"}
    return {"rr.yaml": RECIPE.format(parts=parts, **(values | other))}


class Desk:
    """A folder to write hostile files into, and the two commands run on them."""

    def __init__(self, folder: Path, captured: pytest.CaptureFixture[str]) -> None:
        self.folder, self.captured, self.count = folder, captured, 0

    def run(self, *arguments: str) -> Told:
        """One run, which must end soon and in a sentence."""
        began = time.monotonic()
        code = main([*arguments, "--today", "2027-02-20"])
        took = time.monotonic() - began
        out, err = self.captured.readouterr()
        assert took < LONGEST_SECONDS, f"{took:.1f} s"
        assert "fault of this program" not in err, err
        assert "Traceback" not in out + err
        return Told(code, out, err)

    def put(self, text: str | bytes, beside: Mapping[str, str] | None = None) -> Path:
        """A batch file in a new folder, with other files beside it."""
        self.count += 1
        here = self.folder / str(self.count)
        for name, content in {"b.yaml": text, **(beside or {})}.items():
            path = here / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(
                content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
            )
        return here / "b.yaml"

    def judged(self, text: str | bytes, beside: Mapping[str, str] | None = None, make: bool = True) -> Told:
        """What check says; make must agree, and write all or nothing."""
        path = self.put(text, beside)
        checked = self.run("check", str(path))
        assert checked.code in (0, 1), checked.err
        assert (checked.code == 1) == bool(_STOP.search(checked.err)), checked.err
        if make:
            before = sorted(path.parent.rglob("*"))
            done = self.run("make", str(path), "--out", str(path.parent / "out"))
            assert done.code == checked.code, done.err
            made = set(path.parent.rglob("*")) - set(before)
            assert bool(made) == (done.code == 0)
        return checked


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "nobody"))
    return Desk(tmp_path, capsys)


EXAMPLES = sorted((ROOT / "recipes" / "examples").glob("*.yaml"))
RECIPES = sorted((ROOT / "recipes").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_batch_file_that_breaks_off_anywhere(desk: Desk, path: Path):
    data = path.read_bytes()
    for end in range(0, len(data), 7):
        desk.judged(data[:end], make=end % 10 == 0)


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_a_recipe_that_breaks_off_anywhere(desk: Desk, path: Path):
    data = path.read_text(encoding="utf-8")
    for end in range(0, len(data), 35):
        desk.judged(six(recipe="rr"), {"rr.yaml": data[:end]}, make=end % 10 == 0)


MANY_READINGS = ", ".join(f"{{on: 2027-03-{7 + n % 24:02}, sg: 1.0{10 + n % 30}}}" for n in range(1000))
FAR = "actual: {brewed: 2027-03-06, readings: [{on: 2100-01-01, sg: 1.012 at 18 C}]}"
STOPS = {
    "bottles of 1e9": six(bottles="{500 ml pet: 1000000000}"),
    "bottles of 0": six(bottles="{500 ml pet: 0}"),
    "900 bottles": six(volume="100 L", bottles="9999 x 100 ml pet"),
    "500 rows of bottles": six(bottles=f"[{', '.join(['1 x 500 ml pet'] * 500)}]"),
    "1000 readings": six(f"actual: {{brewed: 2027-03-06, readings: [{MANY_READINGS}]}}"),
    "a reading of another age": six(FAR),
    "2000 days away": six(f"away: [{', '.join(['2027-03-13'] * 2000)}]"),
    "2000 wrong days": six(f"away: [{'x, ' * 900}]"),
    "200000 days in a text": six(f"my-days: {'sat,' * 200_000}"),
    "always away": six("away: [2027-03-08..2100-12-31]"),
    "always at work": six("my-days: {testing: wed}\nshifts: {from: 2027-03-03, turns: [on 1, off 6]}"),
    "a round of 5000 turns": six(f"shifts: {{from: 2027-03-03, turns: [{'on 1, off 1, ' * 2500}]}}"),
    "a turn of 1e9 days": six("shifts: {from: 2027-03-03, turns: [on 1000000000, off 1]}"),
    "every 1e9 weeks": six("my-days: {days: sat, every: 1000000000 weeks, from: 2027-03-06}"),
    "holidays of a country of 5000 letters": six(f"public-holidays: {'x' * 5000}"),
    "volume 0": six(volume="0 L"),
    "volume -1": six(volume="-1 L"),
    "volume 1e9": six(volume="1000000000 L"),
    "volume of 5000 digits": six(volume="9" * 5000 + " L"),
    "honey without end": six(
        "actual: {brewed: 2027-01-06, added: [{on: 2027-01-08, what: honey, amount: 900000 kg}]}"
    ),
    "start-at 9999": six("labels: {stock: a4-2x7, start-at: 9999}"),
    "discs-start-at 9999": six("labels: {discs-start-at: 9999}"),
    "labels that are too small": six("labels: {stock: round-24-a4}"),
    "a brewer of 150 W": six(f"brewer: {'W' * 150}"),
    "a brewer of 2000 letters": six(f"brewer: {'w' * 2000}"),
    "500000 marks on a letter": six("brewer: e" + "\u0301" * 500_000),
    "a file of names": "".join(f"k{number}: 1\n" for number in range(90_000)),
    "aliases": "a: &a [x, x]\nb: &b [*a, *a]\n" + six(),
    "depth": six("actual: " + "{a: " * 3000),
    "1 MiB and more": six() + "#" * 1_048_576,
    "1 MiB of dashes": "- " * 500_000,
    "an invisible mark": six('brewer: "a\\u202eb"'),
    "a NUL": six('brewer: "a\\0b"'),
    "a path as recipe": six(recipe="../../../etc/passwd"),
    "a path as code": six(batch="../x"),
    "a path as stock": six("labels: {stock: ../../x}"),
    "a path as language": six("language: ../en-GB"),
    "999 guests": six("event: {date: 2027-06-12, guests: 999, drinks-each: 9 x 1 L}").replace(
        "volume: 12 L\n", ""
    ),
    "90 events": six(f"event: [{', '.join('{date: 2027-06-12}' for _ in range(90))}]"),
    "an event of yesterday": six("event: {date: 2027-02-19}"),
    "the year 9999": six(brew_day="9999-12-31"),
    "29 February 2027": six(brew_day="2027-02-29"),
    "no code, no name": six(batch="''", recipe="''"),
}


@pytest.mark.parametrize("text", STOPS.values(), ids=list(STOPS))
def test_stopped_with_its_place(desk: Desk, text: str):
    assert desk.judged(text).code == 1


FINE = {
    "the last day there is": six(brew_day="2100-12-31"),
    "a leap day": six(brew_day="2028-02-29 23:59"),
    "an event on the last day there is": six("event: {date: 2100-12-31}"),
    "new year's eve": six(brew_day="2027-12-31"),
    "forgotten for years": six(brew_day="2019-01-01"),
    "forgotten for two months": six(brew_day="2026-12-18"),
    "away for months": six("away: [2027-03-12..2027-09-30]"),
    "holidays without end": six("holidays: [2000-01-01..2100-12-31]\nmy-days: sat"),
    "public holidays of 80 years": six("public-holidays: GB-SCT", brew_day="2100-12-31"),
    "every other day away": six(
        f"away: [{', '.join(f'2027-{4 + n // 14:02}-{1 + n % 14 * 2:02}' for n in range(99))}]"
    ),
    "80 days away": six(f"away: [{', '.join(f'2028-{1 + n // 20:02}-{1 + n % 20:02}' for n in range(80))}]"),
    "markup as a name": six("brewer: '<b>{{ 7 * 7 }}</b> &amp; {% raw %}'"),
    "combining marks": six("brewer: " + "e\u0301" * 30),
    "as JSON": '{"batch": "27A", "recipe": "copper-lane-amber", "brew-day": "2027-03-06", "volume": "12 L", '
    '"room": "19 C", "bottles": {"500 ml returnable glass": "26"}}',
}


@pytest.mark.parametrize("text", FINE.values(), ids=list(FINE))
def test_odd_but_sound(desk: Desk, text: str):
    assert desk.judged(text).code == 0


@pytest.mark.parametrize(
    ("beside", "code"),
    [
        (recipe("  []\n"), 1),
        (recipe(MALT * 201), 1),
        (recipe(MALT * 8), 1),  # stronger than 1.110
        (recipe(MALT + HOPS.format(amount="20 g", when="30 min before the end", alpha="5 %"), more=""), 1),
        (recipe(MALT + HOPS.format(amount="20 g", when="30 min before the end", alpha="100 %")), 1),
        (recipe(MALT + HOPS.format(amount="1 kg", when="dry hop", alpha="5 %")), 0),
        (
            recipe(MALT + HOPS.format(amount="13 kg", when="dry hop", alpha="5 %")),
            1,
        ),  # they soak up all of it
        (recipe(MALT + HOPS.format(amount="14 kg", when="dry hop", alpha="5 %")), 1),
        (recipe("  - {what: liquid malt extract, amount: 1 g, when: off the heat}\n"), 0),
        (recipe(celsius="-5-60 C"), 1),
        (recipe(celsius="4-42 C"), 0),
        (recipe(pack="2100 g"), 1),
        (recipe(volume="0.1 L"), 1),
        (recipe(more="carbonation: 10 volumes\n"), 1),
        (recipe(name="W" * 150), 1),
        (recipe(name="''"), 1),
        (recipe(name="Ale \N{BEER MUG}"), 1),
    ],
)
def test_recipes_at_their_limits(desk: Desk, beside: dict[str, str], code: int):
    assert desk.judged(six(recipe="rr", volume="10 L"), beside).code == code


@pytest.mark.parametrize(
    ("line", "column", "shown"),
    [
        ("brewer: Ann \N{BEER MUG}", 13, "U+1F37A"),
        ('brewer: "Ann \N{BEER MUG}"', 14, "U+1F37A"),
        ("brewer: \u5c71", 9, "U+5C71"),
        ("equipment: {vessel: {name: \u05d0, holds: 15 L}}", 28, "U+05D0"),
    ],
)
def test_a_character_that_no_typeface_has_is_named_where_it_stands(
    desk: Desk, line: str, column: int, shown: str
):
    told = desk.judged(six(line)).err
    assert f"b.yaml:7:{column}: stop: no typeface of ours has this character" in told
    assert shown in told
    assert told.count("stop:") == 1


def test_a_text_without_room_is_told_once_where_it_stands(desk: Desk):
    told = desk.judged(six(f"brewer: {'W' * 150}")).err
    assert "b.yaml:7:9: stop: this text finds no room on paper" in told
    assert told.count("stop:") == 1


def test_of_very_many_findings_the_first_are_told(desk: Desk):
    told = desk.judged(six(f"away: [{'x, ' * 900}]")).err
    assert told.count("stop:") == 100
    assert "more findings are not listed; correct these first" in told


NUMBERS = st.sampled_from(
    ["0", "-1", "1e9", "999999999", "0.0001", "100", "4", "60", "½", "nan", "1.2", "2100"]
)
STRANGE = st.sampled_from(
    ["\0", "\u202e", "\N{BEER MUG}", "A" * 300, "../..", "*x", "{{", "]", "\t", " #", ": "]
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(path=st.sampled_from([*EXAMPLES, *RECIPES]), data=st.data())
@example(path=EXAMPLES[0], data=None)
def test_mutations(desk: Desk, path: Path, data: st.DataObject | None):
    text = path.read_text(encoding="utf-8")
    for _ in range(data.draw(st.integers(1, 4)) if data else 0):
        assert data is not None
        places = [found.span() for found in re.finditer(r"\d+(?:\.\d+)?", text)] or [(0, 0)]
        if data.draw(st.booleans()):
            start, end = data.draw(st.sampled_from(places))
            text = text[:start] + data.draw(NUMBERS) + text[end:]
        else:
            at = data.draw(st.integers(0, len(text)))
            text = text[:at] + data.draw(STRANGE) + text[at:]
    if path in RECIPES:
        desk.judged(six(recipe="rr"), {"rr.yaml": text})
    else:
        desk.judged(text)


HEAD = "---\nlayout: fridge\ntitle: Fridge sheet\npaper: a4\n---\n"
SHEET = '<sheet title="x">{}</sheet>'
NASTY = {
    "classes": "{{ ''.__class__.__mro__ }}",
    "globals": "{{ range.__globals__ }}",
    "loop": "{% for i in range(3) %}{{ loop.__class__ }}{% endfor %}",
    "macro": "{% macro m() %}{% endmacro %}{{ m.__globals__ }}",
    "format": "{{ '{0.__class__}'.format(page) }}",
    "attr": "{{ page | attr('__class__') }}",
    "a long string": "{{ 'a' * 1000000000 }}",
    "a power": "{{ 9 ** 9 ** 9 ** 9 }}",
    "loops": "{% for i in range(500) %}{% for j in range(500) %}{% for k in range(500) %}x"
    "{% endfor %}{% endfor %}{% endfor %}",
    "itself": "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
    "doubling": "{% set a %}" + "x" * 1000 + "{% endset %}" + "{% set a %}{{ a }}{{ a }}{% endset %}" * 40,
    "calls": "".join(
        f"{{% macro m{n} () %}}{{{{ m{n - 1}() }}}}{{{{ m{n - 1}() }}}}{{% endmacro %}}"
        for n in range(40, 0, -1)
    )
    + "{% macro m0() %}x{% endmacro %}{{ m40() }}",
    "a file": "{% include '/etc/passwd' %}",
    "a file above": "{% include '../../../etc/passwd' %}",
    "itself included": "{% include 'fridge' %}",
    "sheets": '</sheet>{% for i in range(100) %}{% for j in range(100) %}<sheet title="x"></sheet>'
    '{% endfor %}{% endfor %}<sheet title="y">',
    "lines": '{% for i in range(100) %}{% for j in range(100) %}<line h="5"><text>a</text></line>'
    "{% endfor %}{% endfor %}",
    "parentheses": "{{ " + "(" * 3000 + "1" + ")" * 3000 + " }}",
    "an entity": "&xxe;",
}


@pytest.mark.parametrize("body", NASTY.values(), ids=list(NASTY))
def test_a_layout_that_came_by_mail_sees_its_view_and_ends_soon(desk: Desk, body: str):
    told = desk.judged(six(), {"layouts/documents/fridge.layout": HEAD + SHEET.format(body)})
    assert told.code == 1
    assert "root:" not in told.err


TABLES = {
    "a bottle": ("recipes/pantry/bottles.yaml", "pantry: bottles\nentries:\n  mug: {pressure: yes}\n"),
    "a sanitiser": (
        "recipes/pantry/sanitisers.yaml",
        "pantry: sanitisers\nentries:\n  no-rinse acid: {dos: 1}\n",
    ),
    "an attenuation": (
        "recipes/pantry/ingredients.yaml",
        "pantry: ingredients\nentries:\n  hopped liquid malt extract: {attenuation: 68-297 %}\n",
    ),
    "a drink": ("recipes/drinks/ale.yaml", "drink: ale\nkeeping: never\n"),
    "a stock": ("layouts/stocks/plain-a4.yaml", "stock: plain-a4\npaper: ''\n"),
    "a paper": ("layouts/papers/a4.yaml", "paper: a4\nwidth: 1e308\n"),
}


@pytest.mark.parametrize(("name", "text"), TABLES.values(), ids=list(TABLES))
def test_a_table_of_ones_own_that_is_wrong_is_never_passed_over(desk: Desk, name: str, text: str):
    told = desk.judged(six(), {name: text})
    assert told.code == 1
    assert f"{Path(name).name}:" in told.err


WATCHED = """
import os, sys
opened, other = set(), []

def watch(event, arguments):
    if event == "open" and isinstance(arguments[0], str | bytes):
        opened.add(os.path.abspath(os.fsdecode(arguments[0])))
    elif event.partition(".")[0] in ("socket", "urllib", "http", "ftplib", "smtplib"):
        other.append(event)
    elif event in ("subprocess.Popen", "os.system", "os.exec", "os.fork", "os.posix_spawn"):
        other.append(event)

from sheetgen.__main__ import main
sys.addaudithook(watch)
code = main(sys.argv[1:])
print("\\n".join(["", "opened:", *sorted(opened)]))
print("other:", other, code)
"""


def test_files_are_opened_in_the_expected_places_only_and_nothing_goes_out(desk: Desk):
    hostile = "{% include '/etc/hostname' %}{% include '../../../../etc/hostname' %}"
    path = desk.put(six(recipe="rr"), {**recipe(), "layouts/documents/timeline.layout": HEAD + hostile})
    command = [sys.executable, "-c", WATCHED, "make", str(path), "--out", "out", "--today", "2027-02-20"]
    home = {"HOME": str(desk.folder / "home"), "XDG_CONFIG_HOME": str(desk.folder / "nobody")}
    env = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1", **home}
    for more in ([], ["--only", "fridge,labels,calendar,plan"]):
        done = subprocess.run([*command, *more], cwd=desk.folder, env=env, capture_output=True, text=True)
        opened = done.stdout.partition("opened:\n")[2].partition("other:")[0].splitlines()
        assert f"other: [] {0 if more else 1}" in done.stdout, done.stdout + done.stderr
        ours = (
            str(ROOT),
            str(desk.folder),
            sys.prefix,
            sys.base_prefix,
            "/usr/share/zoneinfo",
            "/usr/lib",
            "/dev/",
        )
        assert [name for name in opened if not name.startswith(ours)] == []
        assert len(opened) > 10
    assert sorted(made.name for made in (desk.folder / "out").iterdir()) == [
        *("27A-calendar.ics", "27A-labels.pdf", "27A-plan.json", "27A-sheets.pdf"),
    ]


MEASURED = """
import sys
from sheetgen.__main__ import main
for path in sys.argv[1:]:
    main(["check", path, "--today", "2027-02-20"])
status = dict(line.split(":", 1) for line in open("/proc/self/status"))
print(status["VmHWM"].split()[0])
"""


@pytest.mark.skipif(sys.platform != "linux", reason="other systems count memory in other units")
def test_memory_stays_small(desk: Desk):
    texts = [
        STOPS["a file of names"],
        STOPS["2000 wrong days"],
        six(volume="50 L", bottles="480 x 100 ml pet"),
    ]
    layout = {"layouts/documents/fridge.layout": HEAD + SHEET.format(NASTY["lines"])}
    paths = [*(desk.put(text) for text in texts), desk.put(six(), layout)]
    command = [sys.executable, "-c", MEASURED, *map(str, paths)]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=True)
    used = int(done.stdout.split()[-1])
    assert used < 300 * 1024, used
