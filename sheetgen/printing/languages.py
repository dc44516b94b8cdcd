"""Language files: from a tree of nodes to `Words`.

Comes in: the tree of layouts/languages/NAME.yaml, and a function that gives the tree of another language by
its name (a language may say `extends: en-GB` and then only what differs). Goes out: `Words`, or None, and
what is wrong, as problems with their place.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator
from types import MappingProxyType

from sheetgen.nodes import Entries, Items, Node, Text, overlay
from sheetgen.printing.measures import SYSTEMS
from sheetgen.printing.plurals import Rule, rule_of
from sheetgen.printing.words import (
    CLOCK_PARTS,
    DATE_KINDS,
    DATE_PARTS,
    Blank,
    Customs,
    Words,
    faults_of,
    parts_of,
)
from sheetgen.problems import Problems, Span, did_you_mean

Find = Callable[[str], Node | None]
_SECTIONS = ("language", "name", "extends", "format", "customs", "names", "words", "sentences", "cautions")
_CUSTOMS = (
    "weekdays", "weekdays-long", "months", "months-long", "day-number", "first-day-number", "dates",
    "first-weekday", "month-first", "clock", "halves-of-day", "decimal-mark", "plurals", "unit-names",
    "paper", "units", "drink-units",
)  # fmt: skip
_CAUTION = ("where", "head", "says")
_DEEPEST = 4


def read(node: Node | None, units: str, find: Find) -> tuple[Words | None, Problems]:
    """The language of a tree, in a system of units ("" for the language's own)."""
    problems = Problems()
    whole = _extended(node, find, problems)
    if whole is None:
        return None, problems
    reader = _Reader(problems)
    words = reader.words(whole, units)
    return (None if problems.stopped else words), problems


def _extended(node: Node | None, find: Find, problems: Problems) -> Entries | None:
    """The tree laid over the language that it extends, and so on down."""
    for _depth in range(_DEEPEST):
        if not isinstance(node, Entries):
            problems.stop("a language file is made of names and values", node.span if node else None)
            return None
        base = node.get("extends")
        if not isinstance(base, Text):
            return node
        below = find(base.value)
        if below is None:
            problems.stop(f'there is no language "{base.value}"', base.span, "name one of layouts/languages")
            return None
        node = overlay(below, Entries(tuple(e for e in node.entries if e.key.value != "extends"), node.span))
    problems.stop("languages extend one another too deep or in a circle", node.span if node else None)
    return None


class _Reader:
    """Reads the parts of one language; every slip is a problem, and reading goes on."""

    def __init__(self, problems: Problems) -> None:
        self.problems = problems

    def words(self, tree: Entries, units: str) -> Words:
        """The whole language."""
        self.known(tree, _SECTIONS, "a part of a language file")
        custom = self.customs(self.entries(tree, "customs"))
        cautions = self.entries(tree, "cautions")
        table = {**self.table(tree, "words"), **self.table(tree, "sentences")}
        held = {entry.key.value: self.caution(entry.value, entry.key.span) for entry in cautions.entries}
        for name, caution in held.items():
            parts = {part: caution.get(part, "") for part in ("head", "says")}
            table[f"caution.{name}"] = " ".join(text for text in parts.values() if text)
            table.update({f"caution.{name}.{part}": text for part, text in parts.items()})
        return Words(
            language=self.text(tree, "language"),
            name=self.text(tree, "name"),
            customs=custom,
            table=MappingProxyType(table),
            cautions=MappingProxyType(held),
            units=units or custom.units,
            names=MappingProxyType(
                self.plain(names) if isinstance(names := tree.get("names"), Entries) else {}
            ),
        )

    def customs(self, tree: Entries) -> Customs:
        """Days, months, marks and defaults."""
        self.known(tree, _CUSTOMS, "a custom")
        weekdays_long = self.names(tree, "weekdays-long", 7)
        dates = self.entries(tree, "dates")
        numbers = tuple(self.form(tree, name, ("n",)) for name in ("first-day-number", "day-number"))
        self.known(dates, DATE_KINDS, "a form of dates")
        units = self.text(tree, "units")
        if units not in SYSTEMS:
            self.problems.stop(f"units are {', '.join(SYSTEMS)}", tree.span)
        first = self.text(tree, "first-weekday")
        return Customs(
            weekdays=self.names(tree, "weekdays", 7),
            weekdays_long=weekdays_long,
            months=self.names(tree, "months", 12),
            months_long=self.names(tree, "months-long", 12),
            day_numbers=numbers,
            dates={form: self.form(dates, form, DATE_PARTS) for form in DATE_KINDS if form != "weekday"},
            first_weekday=weekdays_long.index(first) if first in weekdays_long else 0,
            month_first=self.text(tree, "month-first") == "yes",
            clock=self.form(tree, "clock", CLOCK_PARTS),
            halves_of_day=self.names(tree, "halves-of-day", 2),
            decimal_mark=self.text(tree, "decimal-mark"),
            plurals=tuple(self.plurals(tree)),
            unit_names=MappingProxyType(self.plain(self.entries(tree, "unit-names"))),
            paper=self.text(tree, "paper"),
            units=units,
            drink_units=self.text(tree, "drink-units"),
        )

    def plurals(self, tree: Entries) -> Iterator[Rule]:
        """The rules of which form goes with which number."""
        found = tree.get("plurals")
        if not isinstance(found, Items):
            self.problems.stop('"plurals" must be a list of rules', tree.span)
            return
        for one in found.items:
            rule = rule_of(one.value) if isinstance(one, Text) else None
            if rule:
                yield rule
            else:
                self.problems.stop(
                    "a rule of plurals is made of numbers such as 1, 0-1.99, *1 or !*11", one.span
                )

    def caution(self, node: Node, span: Span) -> MappingProxyType[str, str]:
        """One caution: where it stands, its first words, the rest."""
        if not isinstance(node, Entries):
            self.problems.stop("a caution has the parts where, head and says", span)
            return MappingProxyType({})
        self.known(node, _CAUTION, "a part of a caution")
        texts = self.plain(node)
        for part in ("head", "says"):
            self.pattern(texts.get(part, ""), span)
        return MappingProxyType(texts)

    def table(self, tree: Entries, section: str) -> dict[str, str]:
        """The sentences of a section by id, each looked through."""
        found = self.entries(tree, section)
        for entry in found.entries:
            if isinstance(entry.value, Text):
                self.pattern(entry.value.value, entry.value.span)
        return self.plain(found)

    def pattern(self, pattern: str, span: Span) -> None:
        """Says what is wrong with a pattern."""
        for fault in faults_of(pattern):
            self.problems.stop(fault, span)

    def plain(self, tree: Entries) -> dict[str, str]:
        """Names and texts; anything else is a problem."""
        found: dict[str, str] = {}
        for entry in tree.entries:
            if isinstance(entry.value, Text):
                found[entry.key.value] = entry.value.value
            else:
                self.problems.stop(f"{entry.key.value} must be words", entry.key.span)
        return found

    def known(self, tree: Entries, names: tuple[str, ...], what: str) -> None:
        """Every name must be one of these."""
        for entry in tree.entries:
            if entry.key.value not in names:
                hint = did_you_mean(entry.key.value, names)
                self.problems.stop(f'"{entry.key.value}" is not {what}', entry.key.span, hint)

    def entries(self, tree: Entries, name: str) -> Entries:
        """The names and values under a name; empty, and a problem, if there are none."""
        found = tree.get(name)
        if isinstance(found, Entries):
            return found
        self.problems.stop(f'"{name}" is missing, or is not made of names and values', tree.span)
        return Entries((), tree.span)

    def text(self, tree: Entries, name: str) -> str:
        """The text under a name; "" and a problem if there is none."""
        found = tree.get(name)
        if isinstance(found, Text):
            return found.value
        self.problems.stop(f'"{name}" is missing', tree.span)
        return ""

    def form(self, tree: Entries, name: str, blanks: Collection[str]) -> str:
        """The text under a name, with these blanks and no others."""
        text = self.text(tree, name)
        if set(re.findall(r"\{[^{}]*\}|[{}]", text)) <= {f"{{{blank}}}" for blank in blanks}:
            return text
        self.problems.stop(f'"{name}" may hold {", ".join(f"{{{blank}}}" for blank in blanks)}', tree.span)
        return ""

    def names(self, tree: Entries, name: str, count: int) -> tuple[str, ...]:
        """So many names in a list; numbered stand-ins, and a problem, if there are not."""
        found = tree.get(name)
        items = found.items if isinstance(found, Items) else ()
        texts = tuple(one.value for one in items if isinstance(one, Text))
        if len(texts) == count:
            return texts
        self.problems.stop(f'"{name}" must be a list of {count} names', tree.span)
        return tuple(str(number) for number in range(1, count + 1))


def differences(mine: Words, original: Words) -> Iterator[str]:
    """What a translation lacks, has too much, or says with other blanks or numbers than its original."""
    for sentence_id in sorted(original.table.keys() - mine.table.keys()):
        yield f"{mine.language}: no sentence {sentence_id}"
    for sentence_id in sorted(mine.table.keys() - original.table.keys()):
        yield f"{mine.language}: {sentence_id} is not a sentence of {original.language}"
    for sentence_id in sorted(mine.table.keys() & original.table.keys()):
        facts = [_facts(each.table[sentence_id], each.customs.decimal_mark) for each in (mine, original)]
        if facts[0] != facts[1]:
            yield f"{mine.language}: {sentence_id} has other blanks or numbers than in {original.language}"


def _facts(pattern: str, mark: str) -> tuple[list[str], list[str]]:
    """The blanks of a pattern (the forms of a choice aside) and the numbers in its words, with a point."""
    blanks, numbers = set(), list[str]()
    for _voice, part in parts_of(pattern):
        if isinstance(part, Blank):
            blanks.add(f"{part.name}:{'|' if '|' in part.kind else part.kind}")
        else:
            numbers += re.findall(rf"[0-9]+(?:{re.escape(mark)}[0-9]+)?", part)
    return sorted(blanks), sorted(number.replace(mark, ".") for number in numbers)
